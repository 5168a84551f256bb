package orders

import (
	"slices"

	"ribband/core/engine"
	"ribband/core/pack"
)

// What is ordered was promised, whatever is sold by now: an option that the book no longer sells, or of which none is
// left, stays in the boat that has it. Nobody can add one to it, and who gives it up does not get it back.

// keeping is an engine by which an order can be changed: what its boat has and nobody else can choose any more is sold
// to it, up to the number that it has. Most orders have nothing of that, and keep the engine of the book.
func keeping(e *engine.Engine, o *Order) (*engine.Engine, error) {
	// as the book has the boat today: what clashes there alone because it has ended is found by its counts
	a, err := e.Answer(o.Quote().Spec)
	if err != nil {
		return nil, err
	}
	p := e.Pack
	for i, n := range a.Build.State.Counts {
		// an option that is not made for the hull is another matter: it has neither price nor figures there
		if n == 0 || !e.Pack.Made(i, a.Hull) || e.Pack.Offered(i, a.Hull) {
			continue
		}
		// a pack is read by many at once, and is never changed in place
		if p == e.Pack {
			changed := *e.Pack
			p, changed.Options, changed.Left = &changed, slices.Clone(p.Options), slices.Clone(p.Left)
		}
		p.Options[i].Sale, p.Options[i].Most = nil, n
		p.Left = slices.DeleteFunc(p.Left, func(l pack.Left) bool { return l.Option == i })
	}
	if p == e.Pack {
		return e, nil
	}
	return engine.CompileIn(p, e.Language())
}

// Package takeoff measures what a boat takes of a material where no formula can: by a cut layout, or by the wire of a circuit.
//
// The amounts that formulas give are composed when the book is published, see [pack.Form]; this package does not price them, that is the
// work of core/cost, nor lay them out on a sheet. Its sources are those of packages cutting and wiring, whose limits and cautions hold.
package takeoff

import (
	"errors"
	"fmt"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// Takeoffs are the cuts and circuits of a pack, ready to be measured on a boat.
type Takeoffs struct {
	pack     *pack.Pack
	circuits *figures.Circuits
	cuts     []cut
	rules    wiring.Rules
}

// New prepares a pack. It has no cuts without the trade.
func New(p *pack.Pack) *Takeoffs {
	return &Takeoffs{pack: p, circuits: figures.NewCircuits(p), cuts: compileCuts(p), rules: wiring.DefaultRules()}
}

// Amount is what a boat takes of a material, in its unit. The error says what of the boat cannot be measured, and the remedy.
type Amount func(st *formula.State) (float64, error)

// Of is the amount of a need.
func (t *Takeoffs) Of(n *pack.Need) Amount {
	switch {
	case n.Cut != nil:
		return func(st *formula.State) (float64, error) { return t.stock(st, n.Cut) }
	case n.Wire != nil:
		return func(st *formula.State) (float64, error) { return t.wire(st, n.Wire) }
	}
	amount := n.Amount.Number()
	return func(st *formula.State) (float64, error) { return amount(st), nil }
}

// Reads is what the amount of a need depends on.
func Reads(p *pack.Pack, n *pack.Need) formula.Reads {
	r := n.Amount.Reads()
	if n.Cut != nil {
		for _, piece := range p.Trade.Cuts[n.Cut.Cut].Pieces {
			r = r.With(piece.WidthMm.Reads()).With(piece.LengthMm.Reads()).With(piece.Count.Reads())
		}
	}
	if n.Wire != nil {
		r = r.With(figures.ReadsOf(&p.Circuits[n.Wire.Circuit]))
	}
	return r
}

// wire is both conductors of a circuit in m where its size is that of the cable, with the slack of their ends, as [wiring.Sheet] counts them.
// A circuit that no single conductor carries takes none: the loom says so, and such a boat is not built.
func (t *Takeoffs) wire(st *formula.State, n *pack.WireNeed) (float64, error) {
	c, ch, ok, err := t.Circuit(st, n.Circuit)
	switch {
	case errors.Is(err, wiring.ErrTooMuch) || err == nil && !ok:
		return 0, nil
	case err != nil:
		return 0, err
	case n.Thickest && ch.Metric.Section > n.UpTo:
		return 0, fmt.Errorf("sizing circuit %q: it needs a cable of %g mm², and the thickest under wires: has %g mm²; list a thicker one, split the load or shorten the run", c.Name, ch.Metric.Section, n.UpTo)
	case !(n.Above < ch.Metric.Section && ch.Metric.Section <= n.UpTo):
		return 0, nil
	}
	return 2 * (c.Length + t.rules.Slack), nil
}

// Circuit sizes a circuit as a boat has it; false where the boat is without it.
func (t *Takeoffs) Circuit(st *formula.State, i int) (wiring.Circuit, wiring.Choice, bool, error) {
	c, ok := t.circuits.At(st, i)
	if !ok {
		return c, wiring.Choice{}, false, nil
	}
	ch, err := wiring.Size(c, t.rules)
	return c, ch, err == nil, err
}

// Cable is the material of a section in mm²: that of the smallest listed cable that is not thinner; false where there is none.
func (t *Takeoffs) Cable(section float64) (*pack.Material, bool) {
	for _, w := range t.pack.Trade.Wires {
		if w.MM2 >= section {
			return &t.pack.Trade.Materials[w.Material], true
		}
	}
	return nil, false
}

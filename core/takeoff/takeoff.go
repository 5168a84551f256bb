// Package takeoff measures what a boat takes of a material where no formula can: by a cut layout, or by what a circuit
// needs.
//
// The amounts that formulas give are composed when the book is published, see [Form]; this package does not price
// them, that is the work of core/cost, nor lay them out on a sheet. Its sources are those of packages cutting and
// wiring, whose limits and cautions hold.
package takeoff

import (
	"errors"

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
}

// New prepares a pack. It has no cuts without the costs.
func New(p *pack.Pack) *Takeoffs {
	return &Takeoffs{pack: p, circuits: figures.NewCircuits(p), cuts: compileCuts(p)}
}

// Amount is what a boat takes: the index of the material and how much of it, in its unit. Nothing is taken of any where
// it is -1. The error says what of the boat cannot be measured, and the remedy.
type Amount func(st *formula.State) (index int, amount float64, err error)

// Of is the amount of a line: by a layout, by the size of a circuit, or by its formula. Which of them is settled once,
// not for each boat.
func (t *Takeoffs) Of(n *pack.BOMLine) Amount {
	index := n.Index
	switch {
	case n.Cut != nil:
		return func(st *formula.State) (int, float64, error) {
			v, err := t.stock(st, n.Cut)
			return index, v, err
		}
	case n.Circuit != nil:
		return func(st *formula.State) (int, float64, error) { return t.ofCircuit(st, n.Circuit) }
	}
	amount := n.Amount.Number()
	return func(st *formula.State) (int, float64, error) { return index, amount(st), nil }
}

// Reads is what the amount of a need depends on.
func Reads(p *pack.Pack, n *pack.BOMLine) formula.Reads {
	r := n.Amount.Reads()
	if n.Cut != nil {
		for _, x := range p.Costs.Cuts[n.Cut.Cut].Pieces {
			r = r.With(x.WidthMm.Reads()).With(x.LengthMm.Reads()).With(x.AllowanceMm.Reads()).With(x.Count.Reads())
			r.HullID = r.HullID || x.Panels != nil
		}
	}
	if n.Circuit != nil {
		r = r.With(figures.ReadsOf(&p.Circuits[n.Circuit.Circuit]))
	}
	return r
}

// ofCircuit is what a boat takes of a circuit: all conductors in m with the slack of their ends, as
// [wiring.Sizer.Sheet] counts them; fuses, holders and switches by the count of the circuit. Main circuits that nothing
// kept is large enough for take nothing: their figures refuse the boat. So do circuits that no single conductor
// carries: the loom says so, and such a boat is not built.
func (t *Takeoffs) ofCircuit(st *formula.State, n *pack.CircuitAmount) (int, float64, error) {
	s, count, err := t.circuits.Sized(st, n.Circuit)
	main := figures.ReadsCircuit(&t.pack.Circuits[n.Circuit])
	switch {
	case err == nil && count == 0, errors.Is(err, wiring.ErrTooMuch), main &&
		(errors.Is(err, wiring.ErrNoCable) || errors.Is(err, wiring.ErrNoFuse)):
		return -1, 0, nil
	case err != nil:
		return -1, 0, err
	}
	kept := &t.pack.Costs.Kept
	switch n.Part {
	case pack.Wire:
		return kept.Cables[s.CableAt], float64(count) * t.circuits.Sizer.Metres(&s), nil
	case pack.Holder:
		return kept.Holders[s.FuseAt], float64(count), nil
	case pack.Spare:
		return kept.Fuses[s.FuseAt], 1, nil
	case pack.Switch:
		_, at, err := t.circuits.Sizer.Switch(&s)
		if err != nil {
			return -1, 0, err
		}
		return kept.Switches[at], float64(count), nil
	}
	return kept.Fuses[s.FuseAt], float64(count), nil
}

// Circuit sizes a circuit as a boat has it, and says how many alike there are: 0 where the boat is without it.
func (t *Takeoffs) Circuit(st *formula.State, i int) (wiring.Sized, int, error) {
	return t.circuits.Sized(st, i)
}

// At is a circuit as a boat has it, whether it can be sized or not.
func (t *Takeoffs) At(st *formula.State, i int) wiring.Circuit {
	c, _ := t.circuits.At(st, i)
	return c
}

// Sizer is what the circuits are sized by.
func (t *Takeoffs) Sizer() *wiring.Sizer { return t.circuits.Sizer }

// Cable is the material of the cable of a circuit, as it is bought; nil where the yard lists none.
func (t *Takeoffs) Cable(s *wiring.Sized) *pack.Material {
	return t.material(t.pack.Costs.Kept.Cables, s.CableAt)
}

// Fuse is the material of the fuse of a circuit; nil where the yard lists none.
func (t *Takeoffs) Fuse(s *wiring.Sized) *pack.Material {
	return t.material(t.pack.Costs.Kept.Fuses, s.FuseAt)
}

// material is what the yard keeps in a size that was chosen; -1 is none of them.
func (t *Takeoffs) material(list []int, at int) *pack.Material {
	if at < 0 {
		return nil
	}
	return &t.pack.Costs.Materials[list[at]]
}

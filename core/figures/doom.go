package figures

import (
	"math"
	"slices"
	"sync"

	"ribband/core/bank"
	"ribband/core/formula"
	"ribband/core/hull"
)

// doom says that a module can compute nothing on any of the boats whose figures lie within a box.
type doom func(box *formula.Box) bool

// Doomed says, of the boats between the limits that [Figures.Bounds] found, that some module can compute nothing on any
// of them. It needs what [Figures.Dooming] names among the figures bounded.
func (f *Figures) Doomed(box *formula.Box) bool {
	return slices.ContainsFunc(f.order, func(s step) bool {
		return s.module != nil && s.module.doomed != nil &&
			s.module.doomed(box)
	})
}

// Dooming is what [Figures.Doomed] needs to have bounded; nothing where no module of the book may be doomed.
func (f *Figures) Dooming() (r formula.Reads) {
	for _, s := range f.order {
		if s.module == nil || s.module.doomed == nil {
			continue
		}
		for _, id := range s.module.module.needs {
			r.Figures = append(r.Figures, f.parts.givens[id])
		}
	}
	return r.With(formula.Reads{})
}

// least is the displacement of the lightest boat of a box, with its growth and persons, kg.
func (n *parts) least() func(box *formula.Box) float64 {
	kg := n.givens[MassKg]
	persons, asked := n.uses[UsePersons]
	return func(box *formula.Box) float64 {
		mass := float64(box.Figures[kg].Lo * (1 + GrowthShare))
		if asked {
			mass += float64(box.Use[persons].Lo * (PersonKg + StoresKg))
		}
		return mass
	}
}

// apart is what rounding may make of a displacement that is summed up in another order.
const apart = 1 + 1e-9

// sinking dooms boats of which the lightest weighs more than its hull carries with the sheer dry, wherever their masses
// are.
func sinking(n *parts) doom {
	most, least := make([]func() float64, len(n.lines)), n.least()
	for i := range n.lines {
		most[i] = sync.OnceValue(func() float64 { // few ask
			h, err := n.lines[i]()
			if err != nil {
				return math.Inf(1)
			}
			return h.MostDry() * hull.SaltWater
		})
	}
	return func(box *formula.Box) bool { return least(box) > most[box.HullID]()*apart }
}

// overTrial dooms boats with a bank and a motor of which the lightest is too heavy for the trial of its hull to hold.
func overTrial(n *parts) doom {
	// The bank, the motor and the displacement are bounded each by itself; a box in which the lightest boat is too
	// heavy for the trial holds no boat that has a range.
	least := n.least()
	// without any, nothing is computed and nothing fails
	needed := []int{n.givens[BankV], n.givens[BankKWh], n.givens[MotorKW]}
	return func(box *formula.Box) bool {
		t := n.pack.Hulls[box.HullID].Trial
		return t != nil && least(box) > bank.MostOfTrial*t.DisplacementKg*apart &&
			!slices.ContainsFunc(needed, func(i int) bool { return !(box.Figures[i].Lo > 0) })
	}
}

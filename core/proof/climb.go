package proof

import (
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
)

// climbTries bounds the search for each boat on the way: one that needs more is passed over.
const climbTries = 12

// climb looks for a boat that breaks a rule over figures which many slots carry together, a freeboard: no single slot does it. From the standard build it goes through the slots and takes of each the
// option with which the rule comes nearest to being broken, among boats that keep the other rules. It proves nothing where it finds none. Source: coordinate ascent, a textbook method.
func (p *prover) climb(r, hull int, use []float64) *formula.State {
	free := p.ruled(r, pack.Rule{Need: program(formula.Step{Op: formula.True})})
	condition := reversed(&p.pack.Rules[r]).Need
	broken := condition.Truth()
	b := free.Complete(hull, use, free.NewChoices(), fit.DefaultTries)
	for slot := range p.pack.Slots {
		if !valid(b) || broken(b.State) {
			break
		}
		b = p.steepest(free, b, slot, condition)
	}
	if !valid(b) || !broken(b.State) {
		return nil
	}
	return b.State
}

// steepest is the valid boat, of those that differ in one option of a slot, in which a condition is nearest to hold.
func (p *prover) steepest(f *fit.Fit, from *fit.Build, slot int, condition formula.Program) *fit.Build {
	best, most := from, condition.Margin(from.State)
	def := &p.pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		n := from.State.Counts[o]
		if !f.Made(o, from.State.HullID) || n > 0 && !def.Several || n >= p.pack.Options[o].Most {
			continue
		}
		b := f.Change(from, f.With(from, o, p.pack.Options[o].Most), climbTries)
		if m := condition.Margin(b.State); valid(b) && m > most {
			best, most = b, m
		}
	}
	if def.Least == 0 && !def.Several && from.State.Slots[slot] > 0 {
		b := f.Change(from, f.Without(from, slot), climbTries)
		if m := condition.Margin(b.State); valid(b) && m > most {
			best = b
		}
	}
	return best
}

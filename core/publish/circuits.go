package publish

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
)

// Limits of the search for a boat with a circuit that is not protected.
const (
	mostCombinations = 4000 // of the slots that a circuit reads, on a hull; beyond it every pair of options is tried
	mendingTries     = 40   // to complete such a boat
)

// circuitSearch looks for boats with a circuit that cannot be sized or is not protected, or whose wire or fuse nothing
// takes.
type circuitSearch struct {
	engine *engine.Engine
	// resolve what a circuit reads to options: a figure on the way counts with what it is made of
	figures *figures.Figures
	book    *book.Book
	// circuits: one boat that breaks a circuit is enough for its owner to go by
	reported map[int]bool
	// of the hull that is looked at, from which the others are made
	standard *fit.Build
	// boats of that hull, by the options that were settled
	looked      map[string]bool
	diagnostics []book.Diagnostic
}

// circuitDiagnostics looks at the standard build of each hull, at it with every single option put into its slot, and
// with all combinations of what the size of each circuit follows from. Each circuit is reported once, on the first such
// boat. A boat that clashes is passed over: it is not built. An option on which no circuit depends is passed over, too:
// the circuits are those of the standard build then, and a boat for each such option of a large book takes hours.
func circuitDiagnostics(e *engine.Engine, b *book.Book) []book.Diagnostic {
	if len(b.Circuits) == 0 {
		return nil
	}
	figs, err := figures.Compile(e.Pack)
	if err != nil {
		return []book.Diagnostic{{Position: b.Edition.Name.At, Message: err.Error(), Advice: "see the place named"}}
	}
	s := circuitSearch{engine: e, figures: figs, book: b, reported: map[int]bool{}}
	// each hull by itself: its length is in the cables, its motor in the loads
	decisive := s.decisive()
	for h := range b.Hulls {
		s.looked = map[string]bool{}
		s.standard = e.Fit.Complete(h, e.StandardUse(), e.Fit.NewChoices(), 1)
		s.look(h, nil)
		for o := range e.Pack.Options {
			if decisive[e.Pack.Options[o].Slot] && e.Pack.Made(o, h) {
				s.look(h, []int{o})
			}
		}
		// the sizes of a circuit follow from few slots, whose combinations can all be tried
		for c := range e.Pack.Circuits {
			s.combinations(h, s.alternatives(h, c))
		}
	}
	return s.diagnostics
}

// decisive are the slots on whose contents the circuits depend: those that a circuit reads, also by way of figures,
// those with an option that takes wire, fuse or switch of one, and those that open or close such a slot.
func (s *circuitSearch) decisive() []bool {
	p := s.engine.Pack
	// whole slots, since an option takes the place of another
	found := make([]bool, len(p.Slots))
	// whose own conditions are still to be read
	var open []int
	add := func(slot int) {
		if !found[slot] {
			found[slot] = true
			open = append(open, slot)
		}
	}
	read := func(r formula.Reads) {
		r = s.figures.Resolve(r)
		for _, o := range r.Options {
			add(p.Options[o].Slot)
		}
		for _, slot := range r.Slots {
			add(slot)
		}
	}
	for c := range p.Circuits {
		read(figures.ReadsOf(&p.Circuits[c]))
	}
	for o := range p.Options {
		if slices.ContainsFunc(p.Costs.Options[o].Materials,
			func(m pack.BOMLine) bool { return m.Circuit != nil }) {
			add(p.Options[o].Slot)
		}
	}
	// a slot that closes takes its options with it
	for len(open) > 0 {
		slot := open[0]
		open = open[1:]
		read(p.Slots[slot].When.Reads())
	}
	return found
}

// look completes the standard build with some options in their slots, and judges its circuits.
func (s *circuitSearch) look(hull int, options []int) {
	// circuits read the same slots, so that one boat comes up for several of them
	key := fmt.Sprint(options)
	if s.looked[key] {
		return
	}
	s.looked[key] = true
	e, with := s.engine, ""
	c, tries := e.Fit.NewChoices(), 1
	for _, o := range options {
		c.Counts[o], c.Settled[e.Pack.Options[o].Slot] = 1, true
		with += ", " + e.Pack.Options[o].ID
	}
	// options that clash with each other may be mended by another slot; of a single one the standard build tells
	if len(options) > 1 {
		tries = mendingTries
	}
	build := e.Fit.CompleteFrom(s.standard, c, tries)
	// it is not built; of the standard build itself clashes are reported elsewhere, and its circuits all the same
	if len(options) > 0 && len(build.Clashes) > 0 {
		return
	}
	// the message names the boat, so that the owner can put it together on the page
	if with != "" {
		with = " with " + strings.TrimPrefix(with, ", ")
	}
	for _, f := range e.CircuitFaults(build) {
		if !s.reported[f.Index] {
			s.reported[f.Index] = true
			s.diagnostics = append(s.diagnostics, book.Diagnostic{Position: circuitAt(&s.book.Circuits[f.Index], f),
				Message: fmt.Sprintf("on %s%s: %v", s.book.Hulls[hull].ID, with, f.Err),
				Advice:  cmp.Or(f.Advice, "change the formula, or say in when: that the boat is without the circuit")})
		}
	}
}

// alternatives are the options made for a hull that a circuit reads, slot by slot. Each slot may besides hold what the
// standard build has.
func (s *circuitSearch) alternatives(hull, circuit int) (slots [][]int) {
	bySlot := map[int][]int{}
	// what the formulas of the circuit read, also by way of figures
	for _, o := range s.figures.Resolve(figures.ReadsOf(&s.engine.Pack.Circuits[circuit])).Options {
		if slot := s.engine.Pack.Options[o].Slot; s.engine.Pack.Made(o, hull) {
			bySlot[slot] = append(bySlot[slot], o)
		}
	}
	for slot := range s.engine.Pack.Slots {
		if list := bySlot[slot]; len(list) > 0 {
			slices.Sort(list)
			slots = append(slots, slices.Compact(list))
		}
	}
	return slots
}

// combinations looks at all of them, or at every pair where they are too many.
func (s *circuitSearch) combinations(hull int, slots [][]int) {
	// capped, since the product of many slots overflows
	all := 1
	for _, list := range slots {
		all = min(all*(len(list)+1), mostCombinations+1)
	}
	if all <= mostCombinations {
		s.fill(hull, slots, nil)
		return
	}
	// a circuit is mostly broken by two things at once, the largest load and the weakest supply
	for i := range slots {
		for j := range i {
			s.fill(hull, [][]int{slots[j], slots[i]}, nil)
		}
	}
}

// fill goes through the rest of the slots: each as the standard build has it, or with one of its options.
func (s *circuitSearch) fill(hull int, slots [][]int, chosen []int) {
	if len(slots) == 0 {
		s.look(hull, chosen)
		return
	}
	s.fill(hull, slots[1:], chosen)
	for _, o := range slots[0] {
		s.fill(hull, slots[1:], append(chosen[:len(chosen):len(chosen)], o))
	}
}

// circuitAt is where the number stands with which a circuit cannot be sized. The load is asked first, since most other
// numbers follow from it.
func circuitAt(c *book.Circuit, f engine.CircuitFault) book.Position {
	// written so that what is no number is not good
	good := func(v float64) bool { return v > 0 && formula.Finite(v) }
	switch {
	case !good(f.Circuit.Load):
		return c.Amps.At
	case !good(f.Circuit.Length):
		return c.LengthM.At
	case !good(f.Circuit.Volts):
		return c.Volts.At
	case f.Circuit.Peak != 0 && !(f.Circuit.Peak >= f.Circuit.Volts):
		return c.PeakV.At
	case !c.FaultA.Empty() && !good(f.Circuit.Fault):
		return c.FaultA.At
	}
	return c.At
}

package engine

import (
	"errors"
	"fmt"

	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// Sized is a circuit of the pack on a boat.
type Sized struct {
	Index int // in the pack
	wiring.Sized
	Count int // how many alike
}

// SizedCircuits are the circuits of a boat, and the faults of those that cannot be sized, with their places in the
// book. It is for desks with build sheets: see [pack.Sheets]. AWG sizes stand beside the metric ones, since the looms
// of boats for America are bought by them.
func (e *Engine) SizedCircuits(b *fit.Build) (list []Sized, faults []msg.Message) {
	for i := range e.Pack.Circuits {
		s, n, err := e.Takeoffs.Circuit(b.State, i)
		if err != nil {
			faults = append(faults, msg.New("engine.circuit-fault",
				msg.Text("at", e.Pack.Where(e.Pack.Work.Runs[i].At.Circuit)), msg.Words("fault", msg.Of(err))))
		} else if n > 0 {
			e.Takeoffs.Sizer().AWG(&s)
			list = append(list, Sized{i, s, n})
		}
	}
	return list, faults
}

// CircuitFault is a circuit that cannot be Sized on a boat or whose wire or fuse is not bought with it, and why. It is
// for the checker of books, and in English.
type CircuitFault struct {
	Index   int
	Circuit wiring.Circuit
	Err     error
	Advice  string // where a formula is not to blame
}

// CircuitFaults are the circuits that cannot be Sized on a boat, or whose wire or fuse is not bought with it, in the
// order of the book.
func (e *Engine) CircuitFaults(b *fit.Build) (faults []CircuitFault) {
	taken := e.takenParts(b)
	for i := range e.Pack.Circuits {
		if f := e.circuitFault(b, i, taken); f.Err != nil {
			faults = append(faults, f)
		}
	}
	return faults
}

// circuitFault asks in the order in which a fault hides the next: can it be sized, is it safe as bought, is it bought
// at all. A book without stock says what is computed and buys nothing.
func (e *Engine) circuitFault(b *fit.Build, i int, taken map[pack.CircuitAmount]bool) CircuitFault {
	f := CircuitFault{Index: i, Circuit: e.Takeoffs.At(b.State, i)}
	s, n, err := e.Takeoffs.Circuit(b.State, i)
	switch {
	// more current than the thickest cable in stock carries, alone or side by side as the book allows
	case errors.Is(err, wiring.ErrTooMuch), errors.Is(err, wiring.ErrNoCable):
		f.Advice = "or let conductors lie side by side by parallel:, or forbid the boat by a rule"
	case errors.Is(err, wiring.ErrNoFuse):
		f.Advice = "or forbid the boat by a rule"
	}
	if f.Err = err; err != nil || n == 0 {
		return f
	}
	if f.Err = unsafe(&s); f.Err != nil {
		return f
	}
	if stock := &e.Pack.Stock; len(stock.Sections) > 0 && !taken[pack.CircuitAmount{Circuit: i, Part: pack.Wire}] {
		f.Err = fmt.Errorf("the boat has the circuit %q, and nothing in it takes the wire", f.Circuit.Name)
		f.Advice = "let what has the circuit take its wire, or say in when: that the boat is without the circuit"
	} else if len(stock.Fuses) > 0 && !taken[pack.CircuitAmount{Circuit: i, Part: pack.Fuse}] {
		f.Err = fmt.Errorf("the boat has the circuit %q, and nothing in it takes the fuse", f.Circuit.Name)
		f.Advice = "let what has the circuit take its fuse, or say in when: that the boat is without the circuit"
	} else if taken[pack.CircuitAmount{Circuit: i, Part: pack.Switch}] {
		_, _, f.Err = e.Takeoffs.Sizer().Switch(&s)
	}
	return f
}

// unsafe says what a circuit as bought does not keep: load ≤ fuse ≤ what the cable carries, voltage and fault current
// of the fuse, drop, and a cable no thinner than computed. [wiring.Sizer] chooses so; whoever checks a book asks again.
// A billionth of the drop is granted to the division of floats.
func unsafe(s *wiring.Sized) error {
	c := &s.Computed.Circuit
	fail := func(format string, args ...any) error {
		return fmt.Errorf("protecting circuit %q: %s", c.Name, fmt.Sprintf(format, args...))
	}
	switch highest := max(c.Volts, c.Peak); {
	case s.Fuse.Amps < c.Load:
		return fail("its fuse of %g A is below the load of %.4g A", s.Fuse.Amps, c.Load)
	case s.Fuse.Amps > float64(s.Cable.Ampacity):
		return fail("its cable carries %d A, less than the fuse of %g A", s.Cable.Ampacity, s.Fuse.Amps)
	case s.Fuse.Volts > 0 && s.Fuse.Volts < highest:
		return fail("its fuse is for %g V, and it has up to %.4g V", s.Fuse.Volts, highest)
	case s.Fuse.KiloAmps > 0 && 1000*s.Fuse.KiloAmps < c.Fault:
		return fail("its fuse interrupts %g kA, and the fault current is %.3g kA", s.Fuse.KiloAmps, c.Fault/1000)
	case s.Cable.Drop > s.Computed.AllowedDrop*(1+1e-9):
		return fail("it loses %.3g V, and %.3g V are allowed", s.Cable.Drop, s.Computed.AllowedDrop)
	case s.Cable.Copper() < s.Computed.Metric.Copper():
		return fail("its cable has %g mm2, and %g mm2 were computed", s.Cable.Copper(), s.Computed.Metric.Copper())
	}
	return nil
}

// takenParts are the parts of circuits that something in a boat takes. An option counts however many of it there are.
func (e *Engine) takenParts(b *fit.Build) map[pack.CircuitAmount]bool {
	taken := map[pack.CircuitAmount]bool{}
	take := func(item *pack.BillOfMaterials) {
		for i := range item.Materials {
			if c := item.Materials[i].Circuit; c != nil {
				taken[*c] = true
			}
		}
	}
	for o, n := range b.State.Counts {
		if n > 0 {
			take(&e.Pack.Costs.Options[o])
		}
	}
	take(&e.Pack.Costs.Hulls[b.State.HullID])
	return taken
}

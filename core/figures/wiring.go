package figures

import (
	"errors"
	"fmt"

	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// wires sizes the main cable: the circuit with the function drive, the thickest of them where there are more.
//
// It reads the circuits of the book. Both figures are zero on a boat without such a circuit. The other circuits are sized on request, for the
// loom sheet: see [Circuits].
//
// Formula: the standard section in mm² that carries the current and keeps the drop and the fuse within what is allowed; the standard fuse in A
// from 1.25 times the current. Valid: steady currents up to 480 A. Source: package wiring (ABYC E-11, 33 CFR 183.425 and 183.455); its
// caution belongs beside the figures.
var wires = module{
	name:    "wiring",
	outputs: []string{"main_mm2", "main_fuse_a"},
	reads:   func(p *pack.Pack) formula.Reads { return CircuitReads(p, "wiring.main_mm2") },
	prepare: prepareWires,
}

// loom weighs the copper of all circuits. It stands apart from the main cable, so that rules over that do not follow from every lamp.
//
// It reads the circuits of the book; one that cannot be sized is left out, as on the loom sheet, which says why. The buyer's desk has not the
// circuits for it: see [OnTrade].
//
// Formula, Valid and Source: as [wiring.Sheet]: copper of both wires of each circuit with their slack, without insulation.
var loom = module{
	name:    "wiring",
	outputs: []string{"copper_kg"},
	reads:   func(p *pack.Pack) formula.Reads { return CircuitReads(p, "wiring.copper_kg") },
	prepare: prepareLoom,
}

// OnTrade says whether a computed figure is known on the show's and the yard's desk alone. No formula, rule or place may read it.
func OnTrade(computed string) bool { return computed == "wiring.copper_kg" }

func prepareLoom(p *pack.Pack, _ *names) (solver, error) {
	circuits, rules := NewCircuits(p), wiring.DefaultRules()
	return func(st *formula.State, out []float64) error {
		out[0] = 0
		for i := range p.Circuits {
			if c, ok := circuits.At(st, i); ok {
				if ch, err := wiring.Size(c, rules); err == nil {
					out[0] += ch.Copper(rules)
				}
			}
		}
		return nil
	}, nil
}

// ReadsCircuit says whether a buyer's figures follow from a circuit.
func ReadsCircuit(c *pack.Circuit) bool { return c.Function == wiring.Drive }

// CircuitReads is what a figure of the wiring depends on.
func CircuitReads(p *pack.Pack, computed string) (r formula.Reads) {
	for i := range p.Circuits {
		if c := &p.Circuits[i]; OnTrade(computed) || ReadsCircuit(c) {
			r = r.With(ReadsOf(c))
		}
	}
	return r
}

// ReadsOf is what the size of a circuit depends on.
func ReadsOf(c *pack.Circuit) (r formula.Reads) {
	for _, f := range []formula.Program{c.When, c.Amps, c.Volts, c.Peak, c.Length} {
		r = r.With(f.Reads())
	}
	return r
}

func prepareWires(p *pack.Pack, _ *names) (solver, error) {
	circuits := NewCircuits(p)
	var drives []int
	for i := range p.Circuits {
		if ReadsCircuit(&p.Circuits[i]) {
			drives = append(drives, i)
		}
	}
	rules := wiring.DefaultRules()
	return func(st *formula.State, out []float64) error {
		clear(out)
		for _, i := range drives {
			c, ok := circuits.At(st, i)
			if !ok {
				continue
			}
			ch, err := wiring.Size(c, rules)
			switch {
			case errors.Is(err, wiring.ErrTooMuch):
				return errors.New("The motor would take more current than one cable carries. Choose a bank of higher voltage, or a smaller motor.")
			case err != nil:
				return fmt.Errorf("The main cable cannot be computed: %w.", err)
			}
			out[0], out[1] = max(out[0], ch.Metric.Section), max(out[1], ch.Fuse)
		}
		return nil
	}, nil
}

// Circuits are a pack's circuits, ready to be looked at on a boat.
type Circuits struct {
	pack *pack.Pack
	list []circuit
}

type circuit struct {
	when                      formula.TruthFunc // nil: always
	amps, volts, peak, length formula.NumberFunc
}

// NewCircuits prepares the circuits of a pack.
func NewCircuits(p *pack.Pack) *Circuits {
	c := &Circuits{pack: p, list: make([]circuit, len(p.Circuits))}
	for i := range p.Circuits {
		in := &p.Circuits[i]
		c.list[i] = circuit{amps: in.Amps.Number(), volts: in.Volts.Number(), length: in.Length.Number()}
		if !in.When.Empty() {
			c.list[i].when = in.When.Truth()
		}
		if !in.Peak.Empty() {
			c.list[i].peak = in.Peak.Number()
		}
	}
	return c
}

// At is a circuit as a boat has it; false where the boat is without it.
func (c *Circuits) At(st *formula.State, i int) (wiring.Circuit, bool) {
	f, in := &c.list[i], &c.pack.Circuits[i]
	if f.when != nil && !f.when(st) {
		return wiring.Circuit{}, false
	}
	w := wiring.Circuit{Name: in.Title, Function: in.Function, Load: f.amps(st), Length: f.length(st), Volts: f.volts(st), Critical: in.Critical,
		EngineSpace: in.EngineSpace, Insulation: in.Insulation, From: in.From, To: in.To}
	if f.peak != nil {
		w.Peak = f.peak(st)
	}
	return w, true
}

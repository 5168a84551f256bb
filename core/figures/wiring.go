package figures

import (
	"errors"
	"fmt"
	"math"

	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// mainCable sizes the main cable: the circuit with the function drive, the thickest where there are more.
//
// It reads the circuits of the book and what the yard keeps for them. The figures are those of what is bought: the
// section of each conductor in mm², how many lie side by side in each pole, and the fuse in A, beside that which was
// computed; zero on a boat without such a circuit. The other circuits are sized on request, for the loom sheet: see
// [Circuits].
//
// Formula: the cable that carries the current and as much as its fuse, and keeps the drop within what is allowed; the
// fuse kept that is not below 1.25 times the current. Valid: steady currents that the cables and fuses kept are large
// enough for. Source: [wiring.Sizer.Size] (ABYC E-11, 33 CFR 183.425 and 183.455); its caution belongs beside the
// figures.
var mainCable = module{
	name:    "wiring",
	outputs: []string{"main_mm2", "main_conductors", "main_fuse_a", "main_fuse_computed_a"},
	reads:   func(p *pack.Pack) formula.Reads { return CircuitReads(p, "wiring.main_mm2") },
	prepare: prepareMainCable,
}

// bankLeads sizes the leads of the bank and its strings, whose largest fuse it gives, A. It stands apart from the main
// cable, so that rules over that do not follow from the thruster and the charger.
//
// Formula, Valid and Source: as mainCable.
var bankLeads = module{
	name:    "wiring",
	outputs: []string{"bank_fuse_a"},
	reads:   func(p *pack.Pack) formula.Reads { return CircuitReads(p, "wiring.bank_fuse_a") },
	prepare: prepareBankLeads,
}

// loom weighs the copper of all circuits. It stands apart from the main cable, so that rules over that do not follow
// from every lamp.
//
// It reads the circuits of the book; one that cannot be sized is left out, as on the loom sheet, which says why. The
// buyer's pack has not the circuits for it: see [YardOnly].
//
// Formula, Valid and Source: as [wiring.Sizer.Sheet]: copper of all wires of each circuit with their slack, without
// insulation.
var loom = module{
	name:    "wiring",
	outputs: []string{"copper_kg"},
	reads:   func(p *pack.Pack) formula.Reads { return CircuitReads(p, "wiring.copper_kg") },
	prepare: prepareLoom,
}

// YardOnly says whether a computed figure follows from what the costs hold, so that no buyer knows it. No formula, rule
// or place may read it.
func YardOnly(computed string) bool { return computed == "wiring.copper_kg" }

func prepareLoom(p *pack.Pack, _ *names) (solver, error) {
	circuits := NewCircuits(p)
	return func(st *formula.State, out []float64) error {
		out[0] = 0
		for i := range p.Circuits {
			if s, n, err := circuits.Sized(st, i); err == nil && n > 0 {
				out[0] += float64(n) * circuits.Sizer.Copper(&s)
			}
		}
		return nil
	}, nil
}

// ReadsCircuit says whether a buyer's figures follow from a circuit.
func ReadsCircuit(c *pack.Circuit) bool {
	return c.Function == wiring.Drive || c.Function == wiring.BatteryLead
}

// CircuitReads is what a figure of the wiring depends on.
func CircuitReads(p *pack.Pack, computed string) (r formula.Reads) {
	function := wiring.Drive
	if computed == "wiring.bank_fuse_a" {
		function = wiring.BatteryLead
	}
	for i := range p.Circuits {
		if c := &p.Circuits[i]; YardOnly(computed) || c.Function == function {
			r = r.With(ReadsOf(c))
		}
	}
	return r
}

// ReadsOf is what the size of a circuit depends on.
func ReadsOf(c *pack.Circuit) (r formula.Reads) {
	for _, f := range []formula.Program{c.When, c.Amps, c.Volts, c.Peak, c.Length, c.Count, c.Fault} {
		r = r.With(f.Reads())
	}
	return r
}

func prepareMainCable(p *pack.Pack, _ *names) (solver, error) {
	return eachOf(p, wiring.Drive, func(s *wiring.Sized, out []float64) {
		if s.Cable.Copper() > out[0]*out[1] {
			out[0], out[1], out[2], out[3] = s.Cable.Section, float64(s.Cable.Conductors), s.Fuse.Amps, s.Computed.Fuse
		}
	}), nil
}

func prepareBankLeads(p *pack.Pack, _ *names) (solver, error) {
	return eachOf(p, wiring.BatteryLead, func(s *wiring.Sized, out []float64) {
		out[0] = max(out[0], s.Fuse.Amps)
	}), nil
}

// eachOf sizes the circuits of a function that a boat has.
func eachOf(p *pack.Pack, function wiring.Function, take func(s *wiring.Sized, out []float64)) solver {
	circuits := NewCircuits(p)
	var list []int
	for i := range p.Circuits {
		if p.Circuits[i].Function == function {
			list = append(list, i)
		}
	}
	return func(st *formula.State, out []float64) error {
		clear(out)
		for _, i := range list {
			s, n, err := circuits.Sized(st, i)
			if err != nil {
				clear(out)
				return tooStrong(function, err)
			}
			if n > 0 {
				take(&s, out)
			}
		}
		return nil
	}
}

// tooStrong says in a buyer's words why a main circuit cannot be built.
func tooStrong(f wiring.Function, err error) error {
	switch {
	case !errors.Is(err, wiring.ErrTooMuch) && !errors.Is(err, wiring.ErrNoCable) && !errors.Is(err, wiring.ErrNoFuse):
		return fmt.Errorf("The main cable cannot be computed: %w.", err)
	case f == wiring.BatteryLead:
		return errors.New("Motor, thruster and house together would take more current than the cables and fuses of this bank carry. Choose a larger bank, or a smaller motor.")
	}
	return errors.New("The motor would take more current than its cable and fuse carry. Choose a bank of higher voltage, or a smaller motor.")
}

// Circuits are a pack's circuits, ready to be looked at on a boat.
type Circuits struct {
	Sizer *wiring.Sizer // by the yard's rules, from what it keeps
	pack  *pack.Pack
	list  []circuit
}

type circuit struct {
	when                                    formula.TruthFunc // nil: always
	amps, volts, peak, length, count, fault formula.NumberFunc
}

// NewCircuits prepares the circuits of a pack.
func NewCircuits(p *pack.Pack) *Circuits {
	c := &Circuits{Sizer: wiring.NewSizer(wiring.DefaultRules(), p.Stock), pack: p,
		list: make([]circuit, len(p.Circuits))}
	for i := range p.Circuits {
		in := &p.Circuits[i]
		c.list[i] = circuit{amps: in.Amps.Number(), volts: in.Volts.Number(), length: in.Length.Number()}
		if !in.When.Empty() {
			c.list[i].when = in.When.Truth()
		}
		for _, f := range []struct {
			from formula.Program
			to   *formula.NumberFunc
		}{{in.Peak, &c.list[i].peak}, {in.Count, &c.list[i].count}, {in.Fault, &c.list[i].fault}} {
			if !f.from.Empty() {
				*f.to = f.from.Number()
			}
		}
	}
	return c
}

// At is a circuit as a boat has it, and how many alike there are: 0 where the boat is without it.
func (c *Circuits) At(st *formula.State, i int) (w wiring.Circuit, count float64) {
	f, in := &c.list[i], &c.pack.Circuits[i]
	if f.when != nil && !f.when(st) {
		return wiring.Circuit{}, 0
	}
	w = wiring.Circuit{Name: in.Title, Function: in.Function, Load: f.amps(st), Length: f.length(st),
		Volts: f.volts(st), Critical: in.Critical,
		EngineSpace: in.EngineSpace, Insulation: in.Insulation, Bundled: in.Bundled, Parallel: in.Parallel}
	if work := c.pack.Work; work != nil {
		w.From, w.To = work.Runs[i].From, work.Runs[i].To
	}
	if f.peak != nil {
		w.Peak = f.peak(st)
	}
	if f.fault != nil {
		w.Fault = f.fault(st)
	}
	if f.count == nil {
		return w, 1
	}
	return w, f.count(st)
}

// MostAlike is how many circuits may be alike.
const MostAlike = 50

// Sized sizes a circuit as a boat has it, and says how many alike there are: 0 where the boat is without it.
func (c *Circuits) Sized(st *formula.State, i int) (wiring.Sized, int, error) {
	w, n := c.At(st, i)
	if n == 0 {
		return wiring.Sized{}, 0, nil
	}
	if !(n > 0 && n <= MostAlike) || n != math.Trunc(n) {
		return wiring.Sized{}, 0, fmt.Errorf("sizing circuit %q: there are %v of it; let the count be a whole number from 0 to %d", w.Name, n, MostAlike)
	}
	if c.list[i].fault != nil && !(w.Fault > 0) {
		return wiring.Sized{}, 0, fmt.Errorf("sizing circuit %q: the fault current of its source is %v A; give what it feeds into a short circuit", w.Name, w.Fault)
	}
	s, err := c.Sizer.Size(w)
	return s, int(n), err
}

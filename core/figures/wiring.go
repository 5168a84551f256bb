package figures

import (
	"errors"
	"fmt"
	"math"

	"ribband/core/formula"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// The main cable, the leads of the bank and the loom.
const (
	WiringMainSection      ID = "wiring.main_mm2"
	WiringMainConductors   ID = "wiring.main_conductors"
	WiringMainFuse         ID = "wiring.main_fuse_a"
	WiringMainFuseComputed ID = "wiring.main_fuse_computed_a"
	WiringBankFuse         ID = "wiring.bank_fuse_a"
	WiringCopper           ID = "wiring.copper_kg"
)

// Why the main circuits of a boat cannot be built.
const (
	MotorOverloaded formula.FaultCode = "motor-overloaded" // for the cables and fuses that the yard keeps
	BankOverloaded  formula.FaultCode = "bank-overloaded"  // its leads
	CableNotSized   formula.FaultCode = "cable-not-sized"  // with its cause
)

// mainCable sizes the main cable: the circuit with the function drive, the thickest where there are more.
//
// The figures are those of what is bought: the section of each conductor in mm², how many lie side by side in each
// pole, and the fuse in A, beside that which was computed; zero on a boat without such a circuit. The other circuits
// are sized on request, for the loom sheet: see [Circuits].
//
// Formula: the cable that carries the current and as much as its fuse, and keeps the drop within what is allowed; the
// fuse kept that is not below 1.25 times the current. Valid: steady currents that the cables and fuses kept are large
// enough for. Source: [wiring.Sizer.Size] (ABYC E-11, 33 CFR 183.425 and 183.455); its caution belongs beside the
// figures.
var mainCable = module{
	name:    "wiring",
	reads:   readsOfCircuits(func(c *pack.Circuit) bool { return c.Function == string(wiring.Drive) }),
	prepare: prepareMainCable,
	outputs: []Definition{
		{ID: WiringMainSection, Unit: "mm2"},
		{ID: WiringMainConductors, Unit: "each"},
		{ID: WiringMainFuse, Unit: "A"},
		{ID: WiringMainFuseComputed, Unit: "A"},
	},
}

// bankLeads sizes the leads of the bank and its strings, whose largest fuse it gives, A. It stands apart from the main
// cable, so that rules over that do not follow from the thruster and the charger.
//
// Formula, Valid and Source: as mainCable.
var bankLeads = module{
	name:    "wiring",
	reads:   readsOfCircuits(func(c *pack.Circuit) bool { return c.Function == string(wiring.BatteryLead) }),
	prepare: prepareBankLeads,
	outputs: []Definition{{ID: WiringBankFuse, Unit: "A"}},
}

// loom weighs the copper of all circuits. It stands apart from the main cable, so that rules over that do not follow
// from every lamp. A circuit that cannot be sized is left out, as on the loom sheet, which says why. The buyer's pack
// has not the circuits for it: see [YardOnly].
//
// Formula, Valid and Source: as [wiring.Sizer.Sheet]: copper of all wires of each circuit with their slack, without
// insulation.
var loom = module{
	name:    "wiring",
	reads:   readsOfCircuits(func(*pack.Circuit) bool { return true }),
	prepare: prepareLoom,
	outputs: []Definition{{ID: WiringCopper, Unit: "kg", YardOnly: true}},
}

// prepareLoom makes the solver of the loom: all circuits in the order of the book, each as often as the boat has it.
func prepareLoom(n *parts) (solver, error) {
	circuits := n.circuits()
	return func(b *boat, out *results) formula.Fault {
		copper := 0.0
		for i := range n.pack.Circuits {
			if s, n, err := circuits.Sized(b.State, i); err == nil && n > 0 {
				copper += float64(float64(n) * circuits.Sizer.Copper(&s))
			}
		}
		out.set(WiringCopper, copper)
		return formula.Fault{}
	}, nil
}

// ReadsCircuit says whether a buyer's figures follow from a circuit.
func ReadsCircuit(c *pack.Circuit) bool {
	f := wiring.Function(c.Function)
	return f == wiring.Drive || f == wiring.BatteryLead
}

// CircuitReads is what a figure depends on that follows from circuits; false for another.
func CircuitReads(p *pack.Pack, id ID) (formula.Reads, bool) {
	for _, m := range []*module{&mainCable, &bankLeads, &loom} {
		for _, d := range m.outputs {
			if d.ID == id {
				return m.reads(p), true
			}
		}
	}
	return formula.Reads{}, false
}

// readsOfCircuits is what those circuits depend on that are meant.
func readsOfCircuits(meant func(*pack.Circuit) bool) func(p *pack.Pack) formula.Reads {
	return func(p *pack.Pack) (r formula.Reads) {
		for i := range p.Circuits {
			if c := &p.Circuits[i]; meant(c) {
				r = r.With(ReadsOf(c))
			}
		}
		return r
	}
}

// ReadsOf is what the size of a circuit depends on.
func ReadsOf(c *pack.Circuit) (r formula.Reads) {
	for _, f := range []formula.Program{c.When, c.Amps, c.Volts, c.Peak, c.Length, c.Count, c.Fault} {
		r = r.With(f.Reads())
	}
	return r
}

// prepareMainCable makes the solver of the main cable: of several circuits to motors the one with the most copper
// counts, so that a rule over the cable covers them all.
func prepareMainCable(n *parts) (solver, error) {
	sized := n.eachOf(wiring.Drive)
	return func(b *boat, out *results) formula.Fault {
		copper := 0.0
		return sized(b.State, func(s *wiring.Sized) {
			if s.Cable.Copper() > copper {
				copper = s.Cable.Copper()
				out.set(WiringMainSection, s.Cable.Section)
				out.set(WiringMainConductors, float64(s.Cable.Conductors))
				out.set(WiringMainFuse, s.Fuse.Amps)
				out.set(WiringMainFuseComputed, s.Computed.Fuse)
			}
		})
	}, nil
}

// prepareBankLeads makes the solver of the leads: the largest fuse among them, zero
// where a boat has none.
func prepareBankLeads(n *parts) (solver, error) {
	sized := n.eachOf(wiring.BatteryLead)
	return func(b *boat, out *results) formula.Fault {
		most := 0.0
		fault := sized(b.State, func(s *wiring.Sized) { most = max(most, s.Fuse.Amps) })
		out.set(WiringBankFuse, most)
		return fault
	}, nil
}

// eachOf visits the circuits of a function that a boat has, sized, as long as they can be.
func (n *parts) eachOf(function wiring.Function) func(*formula.State, func(s *wiring.Sized)) formula.Fault {
	circuits := n.circuits()
	var list []int
	for i := range n.pack.Circuits {
		if n.pack.Circuits[i].Function == string(function) {
			list = append(list, i)
		}
	}
	return func(st *formula.State, visit func(s *wiring.Sized)) formula.Fault {
		for _, i := range list {
			s, n, err := circuits.Sized(st, i)
			if err != nil {
				return tooStrong(function, err)
			}
			if n > 0 {
				visit(&s)
			}
		}
		return formula.Fault{}
	}
}

// tooStrong says why a main circuit cannot be built.
func tooStrong(f wiring.Function, err error) formula.Fault {
	switch {
	case !errors.Is(err, wiring.ErrTooMuch) && !errors.Is(err, wiring.ErrNoCable) && !errors.Is(err, wiring.ErrNoFuse):
		return formula.Fault{Code: CableNotSized, Cause: msg.Of(err)}
	case f == wiring.BatteryLead:
		return formula.Fault{Code: BankOverloaded}
	}
	return formula.Fault{Code: MotorOverloaded}
}

// Circuits are a pack's circuits, ready to be looked at on a boat.
type Circuits struct {
	Sizer *wiring.Sizer // by the yard's rules, from what it keeps
	pack  *pack.Pack
	list  []circuit
}

// circuit is one with its formulas made ready to run; those that the book leaves out are nil.
type circuit struct {
	when                                    formula.TruthFunc // nil: always
	amps, volts, peak, length, count, fault formula.NumberFunc
}

// stockOf is what the yard keeps, as package wiring takes it.
func stockOf(s *pack.Stock) wiring.Stock {
	out := wiring.Stock{Sections: s.Sections, Switches: s.Switches}
	for _, f := range s.Fuses {
		out.Fuses = append(out.Fuses, wiring.FuseSize(f))
	}
	return out
}

// NewCircuits prepares the circuits of a pack.
func NewCircuits(p *pack.Pack) *Circuits {
	c := &Circuits{Sizer: wiring.NewSizer(wiring.DefaultRules(), stockOf(&p.Stock)), pack: p,
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
	w = wiring.Circuit{Name: in.Title, Function: wiring.Function(in.Function), Load: f.amps(st), Length: f.length(st),
		Volts: f.volts(st), Critical: in.Critical,
		EngineSpace: in.EngineSpace, Insulation: wiring.Rating(in.Insulation), Bundled: in.Bundled,
		Parallel: in.Parallel}
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
		return wiring.Sized{}, 0, fmt.Errorf("sizing circuit %q: there are %v of it; let the count be a whole number "+
			"from 0 to %d", w.Name, n, MostAlike)
	}
	if c.list[i].fault != nil && !(w.Fault > 0) {
		return wiring.Sized{}, 0, fmt.Errorf("sizing circuit %q: the fault current of its source is %v A; give what "+
			"it feeds into a short circuit", w.Name, w.Fault)
	}
	s, err := c.Sizer.Size(w)
	return s, int(n), err
}

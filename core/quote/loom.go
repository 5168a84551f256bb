package quote

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"ribband/core/drawing"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// LoomPart is the loom of a boat: every wire, what the loom takes, and the caution that belongs beside it. What its
// circuits were sized by stands in [YardSheet.Circuits].
type LoomPart struct {
	Wires     []WirePart    `json:"wires"`
	Rolls     []RollPart    `json:"rolls"`
	Terminals []ArticlePart `json:"terminals"`
	Fuses     []ArticlePart `json:"fuses"`
	Length    float64       `json:"length_m"`
	Copper    float64       `json:"copper_kg"`
	Faults    []string      `json:"faults,omitempty"` // circuits that could not be sized, with the reason
	Caution   string        `json:"caution"`
	sheet     wiring.Loom
}

// WirePart is one conductor from end to end.
type WirePart struct {
	Circuit   string  `json:"circuit"`
	Function  string  `json:"function"`
	Pole      string  `json:"pole"` // + or -
	Colour    string  `json:"colour"`
	Section   float64 `json:"mm2"`
	Length    float64 `json:"length_m"`
	From      string  `json:"from"`
	To        string  `json:"to"`
	Terminal  string  `json:"terminal"`
	Fuse      float64 `json:"fuse_a,omitempty"` // at the first positive wire of a circuit
	FusePlace string  `json:"fuse_place,omitempty"`
	Copper    float64 `json:"copper_kg"`
}

// CircuitPart is a circuit of a boat, what is bought for it, and what both follow from; or several circuits alike.
type CircuitPart struct {
	ID         string    `json:"id"`
	Title      string    `json:"title"`
	Count      int       `json:"count"` // how many alike; all else is of one
	Load       float64   `json:"load_a"`
	Cable      CablePart `json:"cable"`
	Fuse       FusePart  `json:"fuse"`
	Drop       float64   `json:"drop"` // V, of the cable bought, to the load and back
	Share      float64   `json:"drop_percent"`
	Allowed    float64   `json:"allowed_drop"`
	Needed     float64   `json:"needed_circular_mils"`
	Volts      float64   `json:"volts_v"`
	Peak       float64   `json:"peak_v,omitempty"`
	OneWay     float64   `json:"one_way_m"`
	Insulation int       `json:"insulation_c"`
	Engine     bool      `json:"engine_space,omitempty"`
	Notes      []string  `json:"notes,omitempty"`
	At         string    `json:"at"`
	LoadTrace  Trace     `json:"load"`
	VoltsTrace Trace     `json:"volts"`
	OneWayFrom Trace     `json:"one_way"`
}

// CablePart is the cable of a circuit. Sections in mm² are those of one pole.
type CablePart struct {
	Computed float64 `json:"computed_mm2"`
	// the gauge that does as well, in one conductor or in as many as computed
	AWG        string  `json:"computed_awg,omitempty"`
	Bought     float64 `json:"bought_mm2"`
	Conductors int     `json:"conductors"` // of the cable bought, side by side in each pole
	AllowedA   int     `json:"allowed_a"`  // what they carry where they run
	Material   string  `json:"material,omitempty"`
	Title      string  `json:"title,omitempty"`
	Decides    string  `json:"decided_by"`
}

// FusePart is the fuse of a circuit. Fault is the most that its source feeds into a short circuit, an estimate.
type FusePart struct {
	Computed float64 `json:"computed_a"`
	Bought   float64 `json:"bought_a"`
	Volts    float64 `json:"up_to_v,omitempty"`
	KiloAmps float64 `json:"interrupts_ka,omitempty"`
	FaultKA  float64 `json:"fault_ka,omitempty"`
	Material string  `json:"material,omitempty"`
	Title    string  `json:"title,omitempty"`
}

// RollPart is how much wire of a size and colour the loom takes. Cable is the yard's of that size.
type RollPart struct {
	Cable   string  `json:"cable,omitempty"`
	Colour  string  `json:"colour"`
	Section float64 `json:"mm2"`
	Length  float64 `json:"length_m"`
	Copper  float64 `json:"copper_kg"`
}

// ArticlePart is how many of an article the loom takes.
type ArticlePart struct {
	Article string `json:"article"`
	Count   int    `json:"count"`
}

// sized is a circuit of the pack on a boat.
type sized struct {
	index int
	wiring.Sized
	count int
}

// sizedCircuits are the circuits of a boat, and the faults of those that cannot be sized, with their places in the
// book.
func (e *Engine) sizedCircuits(b *fit.Build) (list []sized, faults []string) {
	for i := range e.Pack.Circuits {
		s, n, err := e.takeoffs.Circuit(b.State, i)
		if err != nil {
			faults = append(faults, fmt.Sprintf("%s: %v", e.Pack.Trade.Sources[e.Pack.Circuits[i].At.Circuit], err))
		} else if n > 0 {
			e.takeoffs.Sizer().AWG(&s)
			list = append(list, sized{i, s, n})
		}
	}
	return list, faults
}

// Loom lists the wires of every circuit of a boat; nil where the book has none, and on the buyer's desk. A circuit that
// cannot be sized is a fault of the part, with its place in the book; the others stay.
func (e *Engine) Loom(b *fit.Build) *LoomPart {
	if e.Pack.Trade == nil || len(e.Pack.Circuits) == 0 {
		return nil
	}
	part := &LoomPart{Caution: wiring.Caution}
	var list []sized
	list, part.Faults = e.sizedCircuits(b)
	var err error
	if part.sheet, err = e.takeoffs.Sizer().Sheet(each(list)); err != nil {
		part.Faults = append(part.Faults, err.Error())
		return part
	}
	part.Length, part.Copper = rounded(part.sheet.Length, 2), rounded(part.sheet.Copper, 3)
	for _, w := range part.sheet.Wires {
		p := WirePart{w.Circuit, string(w.Function), "-", w.Colour, w.MM2, rounded(w.Length, 2), w.Ends[0].Place,
			w.Ends[1].Place, w.Ends[0].Terminal,
			w.Fuse, w.Place, rounded(w.Copper, 3)}
		if w.Positive {
			p.Pole = "+"
		}
		part.Wires = append(part.Wires, p)
	}
	for _, r := range part.sheet.Rolls {
		part.Rolls = append(part.Rolls, RollPart{e.cable(list, r.MM2), r.Colour, r.MM2, rounded(r.Length, 2),
			rounded(r.Copper, 3)})
	}
	for _, n := range part.sheet.Terminals {
		part.Terminals = append(part.Terminals, ArticlePart{n.Article, n.N})
	}
	for _, n := range part.sheet.Fuses {
		part.Fuses = append(part.Fuses, ArticlePart{n.Article, n.N})
	}
	return part
}

// each are the circuits one by one; several alike are numbered.
func each(list []sized) (out []wiring.Circuit) {
	for _, s := range list {
		c := s.Computed.Circuit
		for i := range s.count {
			one := c
			if s.count > 1 {
				one.Name = fmt.Sprintf("%s %d", c.Name, i+1)
			}
			out = append(out, one)
		}
	}
	return out
}

// cable is the title of the yard's cable of a section; empty where it lists none.
func (e *Engine) cable(list []sized, section float64) string {
	for i := range list {
		if m := e.takeoffs.Cable(&list[i].Sized); m != nil && list[i].Cable.Section == section {
			return m.Title
		}
	}
	return ""
}

// Circuits are the circuits of a boat in the order of the book; none on the buyer's desk.
func (e *Engine) Circuits(b *fit.Build) (parts []CircuitPart) {
	if e.Pack.Trade == nil {
		return nil
	}
	list, _ := e.sizedCircuits(b)
	for i := range list {
		parts = append(parts, e.circuitPart(b, &list[i]))
	}
	return parts
}

func (e *Engine) circuitPart(b *fit.Build, s *sized) CircuitPart {
	in, ch, c := &e.Pack.Circuits[s.index], &s.Computed, &s.Computed.Circuit
	part := CircuitPart{ID: in.ID, Title: c.Name, Count: s.count, Load: rounded(c.Load, 2),
		Drop: rounded(s.Cable.Drop, 3), Share: rounded(100*s.Cable.Share, 2),
		Allowed: rounded(ch.AllowedDrop, 3), Needed: rounded(ch.NeededCM, 0), Volts: rounded(c.Volts, 2),
		Peak: rounded(c.Peak, 2), OneWay: rounded(c.Length, 2),
		Insulation: int(c.Insulation), Engine: c.EngineSpace, Notes: ch.Notes,
		At: e.Pack.Trade.Sources[in.At.Circuit].String(), LoadTrace: e.Unfold(b, in.At.Amps),
		VoltsTrace: e.Unfold(b, in.At.Volts), OneWayFrom: e.Unfold(b, in.At.Length)}
	part.Cable = CablePart{Computed: ch.Metric.Copper(), Bought: s.Cable.Copper(), Conductors: s.Cable.Conductors,
		AllowedA: s.Cable.Ampacity, Decides: s.Cable.Decides}
	if ch.AWG.Conductors > 0 {
		part.Cable.AWG = ch.AWG.Gauge.String()
	}
	if m := e.takeoffs.Cable(&s.Sized); m != nil {
		part.Cable.Material, part.Cable.Title = m.ID, m.Title
	}
	part.Fuse = FusePart{Computed: ch.Fuse, Bought: s.Fuse.Amps, Volts: s.Fuse.Volts, KiloAmps: s.Fuse.KiloAmps,
		FaultKA: rounded(c.Fault/1000, 2)}
	if m := e.takeoffs.Fuse(&s.Sized); m != nil {
		part.Fuse.Material, part.Fuse.Title = m.ID, m.Title
	}
	return part
}

// rounded is a number as [measure.Decimal] writes it.
func rounded(v float64, digits int) float64 {
	step := math.Pow10(digits)
	return math.Round(v*step) / step
}

// CircuitFault is a circuit that cannot be sized on a boat or whose wire or fuse is not bought with it, and why.
type CircuitFault struct {
	Index   int
	Circuit wiring.Circuit
	Err     error
	Advice  string // where a formula is not to blame
}

// CircuitFaults are the circuits that cannot be sized on a boat, or whose wire or fuse is not bought with it, in the
// order of the book.
func (e *Engine) CircuitFaults(b *fit.Build) (faults []CircuitFault) {
	for i := range e.Pack.Circuits {
		if f := e.circuitFault(b, i); f.Err != nil {
			faults = append(faults, f)
		}
	}
	return faults
}

func (e *Engine) circuitFault(b *fit.Build, i int) CircuitFault {
	f := CircuitFault{Index: i, Circuit: e.takeoffs.At(b.State, i)}
	s, n, err := e.takeoffs.Circuit(b.State, i)
	switch {
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
	if stock := &e.Pack.Stock; len(stock.Sections) > 0 && !e.taken(b, i, pack.Wire) {
		f.Err = fmt.Errorf("the boat has the circuit %q, and nothing in it takes the wire", f.Circuit.Name)
		f.Advice = "let what has the circuit take its wire, or say in when: that the boat is without the circuit"
	} else if len(stock.Fuses) > 0 && !e.taken(b, i, pack.Fuse) {
		f.Err = fmt.Errorf("the boat has the circuit %q, and nothing in it takes the fuse", f.Circuit.Name)
		f.Advice = "let what has the circuit take its fuse, or say in when: that the boat is without the circuit"
	} else if e.taken(b, i, pack.Switch) {
		_, _, f.Err = e.takeoffs.Sizer().Switch(&s)
	}
	return f
}

// unsafe says what a circuit as bought does not keep: load ≤ fuse ≤ what the cable carries, voltage and fault current
// of the fuse, drop, and a cable no thinner than computed. [wiring.Sizer] chooses so; whoever checks a book asks again.
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

// taken says whether something in a boat takes a part of a circuit.
func (e *Engine) taken(b *fit.Build, circuit int, part pack.Part) bool {
	takes := func(item *pack.Item) bool {
		return slices.ContainsFunc(item.Materials, func(n pack.Need) bool {
			return n.Circuit != nil && *n.Circuit == pack.CircuitNeed{Circuit: circuit, Part: part}
		})
	}
	for o, n := range b.State.Counts {
		if n > 0 && takes(&e.Pack.Trade.Options[o]) {
			return true
		}
	}
	return takes(&e.Pack.Trade.Hulls[b.State.HullID])
}

// LoomPictures draw the loom, one for each voltage: what runs at 12 V does not hang on the bank.
func (e *Engine) LoomPictures(b *fit.Build, f drawing.Format) (list []Picture, err error) {
	part := e.Loom(b)
	if part == nil {
		return nil, nil
	}
	var volts []float64
	at := map[float64][]wiring.Circuit{}
	for _, s := range part.sheet.Sized {
		c := s.Computed.Circuit
		if at[c.Volts] == nil {
			volts = append(volts, c.Volts)
		}
		at[c.Volts] = append(at[c.Volts], c)
	}
	for i, v := range volts {
		loom, err := e.takeoffs.Sizer().Sheet(at[v])
		if err != nil {
			return nil, fmt.Errorf("drawing: %w", err)
		}
		in := drawing.LoomSheet{Name: e.Pack.Hulls[b.State.HullID].Title, Loom: loom,
			Bank: fmt.Sprintf("%g V", rounded(v, 1))}
		p, err := picture(fmt.Sprintf("loom-%d", i+1), fmt.Sprintf("The loom at %g V", rounded(v, 1)), in, f)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, nil
}

package quote

import (
	"fmt"
	"math"
	"slices"

	"ribband/core/drawing"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// LoomPart is the loom of a boat: every wire, what it was sized by, what the loom takes, and the caution that belongs beside it.
type LoomPart struct {
	Wires     []WirePart    `json:"wires"`
	Circuits  []CircuitPart `json:"circuits"`
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
	AWG       string  `json:"awg"`
	Section   float64 `json:"mm2"`
	Length    float64 `json:"length_m"`
	From      string  `json:"from"`
	To        string  `json:"to"`
	Terminal  string  `json:"terminal"`
	Fuse      float64 `json:"fuse_a,omitempty"`
	FusePlace string  `json:"fuse_place,omitempty"`
	Copper    float64 `json:"copper_kg"`
}

// CircuitPart is what a circuit was sized by. The drop is that of the AWG size, to the load and back.
type CircuitPart struct {
	ID         string   `json:"id"`
	Circuit    string   `json:"circuit"`
	Load       float64  `json:"load_a"`
	Volts      float64  `json:"volts_v"`
	Peak       float64  `json:"peak_v,omitempty"`
	OneWay     float64  `json:"one_way_m"`
	Drop       float64  `json:"drop_v"`
	Share      float64  `json:"drop_percent"`
	Allowed    float64  `json:"allowed_drop_v"`
	Needed     float64  `json:"needed_circular_mils"`
	Ampacity   int      `json:"ampacity_a"` // of the AWG size, where it runs
	Insulation int      `json:"insulation_c"`
	Decides    string   `json:"decided_by"`
	Fuse       float64  `json:"fuse_a"`
	MostFuse   float64  `json:"largest_fuse_a"`
	Notes      []string `json:"notes,omitempty"`
	At         string   `json:"at"`
	LoadTrace  Trace    `json:"load"`
	VoltsTrace Trace    `json:"volts"`
	OneWayFrom Trace    `json:"one_way"`
}

// RollPart is how much wire of a size and colour the loom takes. Cable is the yard's of that size.
type RollPart struct {
	Cable   string  `json:"cable,omitempty"`
	Colour  string  `json:"colour"`
	AWG     string  `json:"awg"`
	Section float64 `json:"mm2"`
	Length  float64 `json:"length_m"`
	Copper  float64 `json:"copper_kg"`
}

// ArticlePart is how many of an article the loom takes.
type ArticlePart struct {
	Article string `json:"article"`
	Count   int    `json:"count"`
}

// Loom sizes every circuit of a boat; nil where the book has none, and on the buyer's desk. A circuit that cannot be sized is a fault of
// the part, with its place in the book; the others stay.
func (e *Engine) Loom(b *fit.Build) *LoomPart {
	if e.Pack.Trade == nil || len(e.Pack.Circuits) == 0 {
		return nil
	}
	part := &LoomPart{Caution: wiring.Caution}
	var sized []wiring.Circuit
	var from []int
	for i := range e.Pack.Circuits {
		c, _, ok, err := e.takeoffs.Circuit(b.State, i)
		if err != nil {
			part.Faults = append(part.Faults, fmt.Sprintf("%s: %v", e.Pack.Trade.Sources[e.Pack.Circuits[i].At.Circuit], err))
		} else if ok {
			sized, from = append(sized, c), append(from, i)
		}
	}
	var err error
	if part.sheet, err = wiring.Sheet(sized, wiring.DefaultRules()); err != nil {
		part.Faults = append(part.Faults, err.Error())
		return part
	}
	part.Length, part.Copper = rounded(part.sheet.Length, 2), rounded(part.sheet.Copper, 3)
	for j, ch := range part.sheet.Choices {
		part.Circuits = append(part.Circuits, e.circuitPart(b, from[j], ch))
	}
	for _, w := range part.sheet.Wires {
		p := WirePart{w.Circuit, string(w.Function), "-", w.Colour, w.AWG.String(), w.MM2, rounded(w.Length, 2), w.Ends[0].Place, w.Ends[1].Place, w.Ends[0].Terminal,
			w.Fuse, w.Place, rounded(w.Copper, 3)}
		if w.Positive {
			p.Pole = "+"
		}
		part.Wires = append(part.Wires, p)
	}
	for _, r := range part.sheet.Rolls {
		part.Rolls = append(part.Rolls, RollPart{e.cable(r.MM2), r.Colour, r.AWG.String(), r.MM2, rounded(r.Length, 2), rounded(r.Copper, 3)})
	}
	for _, n := range part.sheet.Terminals {
		part.Terminals = append(part.Terminals, ArticlePart{n.Article, n.N})
	}
	for _, n := range part.sheet.Fuses {
		part.Fuses = append(part.Fuses, ArticlePart{n.Article, n.N})
	}
	return part
}

// cable is the title of the yard's cable of a section; empty where it lists none.
func (e *Engine) cable(section float64) string {
	if m, ok := e.takeoffs.Cable(section); ok {
		return m.Title
	}
	return ""
}

func (e *Engine) circuitPart(b *fit.Build, i int, ch wiring.Choice) CircuitPart {
	in, c := &e.Pack.Circuits[i], ch.Circuit
	return CircuitPart{ID: in.ID, Circuit: c.Name, Load: rounded(c.Load, 2), Volts: rounded(c.Volts, 2), Peak: rounded(c.Peak, 2), OneWay: rounded(c.Length, 2),
		Drop: rounded(ch.AWG.Drop, 3), Share: rounded(100*ch.AWG.Share, 2), Allowed: rounded(ch.AllowedDrop, 3), Needed: rounded(ch.NeededCM, 0), Ampacity: ch.AWG.Ampacity,
		Insulation: int(c.Insulation), Decides: ch.AWG.Decides, Fuse: ch.Fuse, MostFuse: ch.AWG.MostFuse, Notes: ch.Notes,
		At: e.Pack.Trade.Sources[in.At.Circuit].String(), LoadTrace: e.Unfold(b, in.At.Amps), VoltsTrace: e.Unfold(b, in.At.Volts), OneWayFrom: e.Unfold(b, in.At.Length)}
}

// rounded is a number as [measure.Decimal] writes it.
func rounded(v float64, digits int) float64 {
	step := math.Pow10(digits)
	return math.Round(v*step) / step
}

// CircuitFault is a circuit that cannot be sized on a boat or whose wire is not bought with it, and why.
type CircuitFault struct {
	Index   int
	Circuit wiring.Circuit
	Err     error
	Advice  string // where a formula is not to blame
}

// CircuitFaults are the circuits that cannot be sized on a boat, or whose wire is not bought with it, in the order of the book.
func (e *Engine) CircuitFaults(b *fit.Build) (faults []CircuitFault) {
	for i := range e.Pack.Circuits {
		c, ch, ok, err := e.takeoffs.Circuit(b.State, i)
		f := CircuitFault{Index: i, Circuit: c, Err: err}
		if ok && len(e.Pack.Trade.Wires) > 0 {
			if _, listed := e.takeoffs.Cable(ch.Metric.Section); !listed {
				f.Err = fmt.Errorf("sizing circuit %q: it needs a cable of %g mm², and the book lists none as thick", c.Name, ch.Metric.Section)
				f.Advice = "add a thicker cable to wires:, split the load or shorten the run"
			} else if !e.taken(b, i) {
				f.Err = fmt.Errorf("the boat has the circuit %q, and nothing in it takes the wire", c.Name)
				f.Advice = "let what has the circuit take its wire, or say in when: that the boat is without the circuit"
			}
		}
		if f.Err != nil {
			faults = append(faults, f)
		}
	}
	return faults
}

// taken says whether something in a boat takes the wire of a circuit.
func (e *Engine) taken(b *fit.Build, circuit int) bool {
	takes := func(item *pack.Item) bool {
		return slices.ContainsFunc(item.Materials, func(n pack.Need) bool { return n.Wire != nil && n.Wire.Circuit == circuit })
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
	for _, ch := range part.sheet.Choices {
		v := ch.Circuit.Volts
		if at[v] == nil {
			volts = append(volts, v)
		}
		at[v] = append(at[v], ch.Circuit)
	}
	for i, v := range volts {
		loom, err := wiring.Sheet(at[v], wiring.DefaultRules())
		if err != nil {
			return nil, fmt.Errorf("drawing: %w", err)
		}
		in := drawing.LoomSheet{Name: e.Pack.Hulls[b.State.HullID].Title, Loom: loom, Bank: fmt.Sprintf("%g V", rounded(v, 1))}
		p, err := picture(fmt.Sprintf("loom-%d", i+1), fmt.Sprintf("The loom at %g V", rounded(v, 1)), in, f)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, nil
}

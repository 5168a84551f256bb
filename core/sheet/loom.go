package sheet

import (
	"fmt"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// LoomPart is the loom of a boat: every wire, what the loom takes, and the caution that belongs beside it. What its
// circuits were sized by stands in [Yard.Circuits].
type LoomPart struct {
	// each conductor by itself, in the order of the circuits
	Wires []WirePart `json:"wires"`
	// thinnest first, then by colour
	Rolls []RollPart `json:"rolls"`
	// by name, of both ends of the wires
	Terminals []ArticlePart `json:"terminals"`
	Fuses     []ArticlePart `json:"fuses"` // smallest first
	// m, of all conductors with the slack of their ends
	Length float64 `json:"length_m"`
	// kg, of all conductors without insulation
	Copper  float64     `json:"copper_kg"`
	Faults  []string    `json:"faults,omitempty"` // circuits that could not be sized, with the reason
	Caution msg.Message `json:"caution"`
	sheet   wiring.Loom
}

// WirePart is one conductor from end to end.
type WirePart struct {
	ID string `json:"circuit_id"` // of its circuit, the same for several alike
	// title; several alike are numbered
	Circuit string `json:"circuit"`
	// what runs on it, which decides its colour
	Function msg.Message `json:"function"`
	Pole     string      `json:"pole"` // + or -
	Colour   msg.Message `json:"colour"`
	Section  float64     `json:"mm2"` // mm² of copper
	// m, with the slack of its ends
	Length float64 `json:"length_m"`
	// what it is fastened to
	From msg.Message `json:"from"`
	To   msg.Message `json:"to"`
	// what is crimped on at its first end
	Terminal msg.Message `json:"terminal"`
	// A; stands at the first positive wire of a circuit alone
	Fuse float64 `json:"fuse_a,omitempty"`
	// where the fuse goes
	FusePlace msg.Message `json:"fuse_place,omitzero"`
	Copper    float64     `json:"copper_kg"` // kg
	// file:line:column of its circuit
	At string `json:"at"`
}

// CircuitPart is a circuit of a boat, what is bought for it, and what both follow from; or several circuits alike.
type CircuitPart struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Count int    `json:"count"` // how many alike; all else is of one
	// A, the most that it takes for long
	Load  float64   `json:"load_a"`
	Cable CablePart `json:"cable"`
	Fuse  FusePart  `json:"fuse"`
	// V, of the cable bought, to the load and back
	Drop float64 `json:"drop"`
	// mΩ, of the cable bought, to the load and back
	Loop float64 `json:"loop_mohm"`
	// percent of the nominal voltage
	Share float64 `json:"drop_percent"`
	// V, to the load and back
	Allowed float64 `json:"allowed_drop"`
	// circular mils: the section that keeps the drop as allowed
	Needed float64 `json:"needed_circular_mils"`
	Volts  float64 `json:"volts_v"` // V, nominal
	// V, the highest while charging; 0 where it is the nominal one
	Peak float64 `json:"peak_v,omitempty"`
	// m, from the source to the load
	OneWay float64 `json:"one_way_m"`
	// °C that the insulation stands
	Insulation int  `json:"insulation_c"`
	Engine     bool `json:"engine_space,omitempty"`
	// what somebody who installs it must know
	Notes []msg.Message `json:"notes,omitempty"`
	// file:line:column of the circuit
	At string `json:"at"`
	// what load, voltage and length follow from
	LoadTrace  engine.Trace `json:"load"`
	VoltsTrace engine.Trace `json:"volts"`
	OneWayFrom engine.Trace `json:"one_way"`
}

// CablePart is the cable of a circuit. Sections in mm² are those of one pole.
type CablePart struct {
	// mm², as computed without regard to what is kept
	Computed float64 `json:"computed_mm2"`
	// the gauge that does as well, in one conductor or in as many as computed
	AWG string `json:"computed_awg,omitempty"`
	// mm², of what the yard keeps
	Bought     float64 `json:"bought_mm2"`
	Conductors int     `json:"conductors"` // of the cable bought, side by side in each pole
	// A that its conductors carry together where they run
	AllowedA int    `json:"allowed_a"`
	Material string `json:"material,omitempty"`
	Title    string `json:"title,omitempty"`
	// why it is not thinner: what it carries, or what it loses
	Decides msg.Message `json:"decided_by"`
}

// FusePart is the fuse of a circuit. Fault is the most that its source feeds into a short circuit, an estimate.
type FusePart struct {
	// A, as computed without regard to what is kept
	Computed float64 `json:"computed_a"`
	// A, of what the yard keeps
	Bought float64 `json:"bought_a"`
	// V that it can break
	Volts float64 `json:"up_to_v,omitempty"`
	// kA that it can break
	KiloAmps float64 `json:"interrupts_ka,omitempty"`
	// kA that may flow at its place
	FaultKA  float64 `json:"fault_ka,omitempty"`
	Material string  `json:"material,omitempty"`
	Title    string  `json:"title,omitempty"`
}

// RollPart is how much wire of a size and colour the loom takes. Cable is the yard's of that size.
type RollPart struct {
	Cable   string      `json:"cable,omitempty"`
	Colour  msg.Message `json:"colour"`
	Section float64     `json:"mm2"`       // mm²
	Length  float64     `json:"length_m"`  // m
	Copper  float64     `json:"copper_kg"` // kg
}

// ArticlePart is how many of an article the loom takes.
type ArticlePart struct {
	Article msg.Message `json:"article"`
	Count   int         `json:"count"`
}

// Loom lists the wires of every circuit of a boat; nil where the book has none, and on desks without build sheets. A
// circuit that cannot be sized is a fault of the part, with its place in the book; the others stay.
func Loom(e *engine.Engine, b *fit.Build) *LoomPart {
	if !e.Pack.Can(pack.Sheets) || len(e.Pack.Circuits) == 0 {
		return nil
	}
	part := &LoomPart{Caution: wiring.Caution}
	var list []engine.Sized
	// whoever builds the loom needs the other wires while somebody mends the book
	list, faults := e.SizedCircuits(b)
	part.Faults = e.Language().Texts(faults)
	var err error
	circuits, of := each(e, list)
	if part.sheet, err = e.Takeoffs.Sizer().Sheet(circuits); err != nil {
		part.Faults = append(part.Faults, e.Text(msg.Of(err)))
		return part
	}
	part.Length, part.Copper = measure.Round(part.sheet.Length, 2), measure.Round(part.sheet.Copper, 3)
	for _, w := range part.sheet.Wires {
		index := of[w.Circuit]
		p := WirePart{ID: e.Pack.Circuits[index].ID, At: e.Pack.Where(e.Pack.Work.Runs[index].At.Circuit),
			Circuit: w.Circuit, Function: w.Function.Words(), Pole: "-", Colour: w.Colour.Words(),
			Section: w.MM2, Length: measure.Round(w.Length, 2), From: w.Ends[0].Place, To: w.Ends[1].Place,
			Terminal: w.Ends[0].Terminal.Words(), Fuse: w.Fuse, FusePlace: w.Place, Copper: measure.Round(w.Copper, 3)}
		if w.Positive {
			p.Pole = "+"
		}
		part.Wires = append(part.Wires, p)
	}
	for _, r := range part.sheet.Rolls {
		part.Rolls = append(part.Rolls, RollPart{Cable: cable(e, list, r.MM2), Colour: r.Colour.Words(), Section: r.MM2,
			Length: measure.Round(r.Length, 2), Copper: measure.Round(r.Copper, 3)})
	}
	for _, n := range part.sheet.Terminals {
		part.Terminals = append(part.Terminals, ArticlePart{n.Article, n.N})
	}
	for _, n := range part.sheet.Fuses {
		part.Fuses = append(part.Fuses, ArticlePart{n.Article, n.N})
	}
	return part
}

// each are the circuits one by one, as they are wired: the loom counts no circuit twice; several alike are numbered.
// Of says which circuit of the book is behind a name.
func each(e *engine.Engine, list []engine.Sized) (out []wiring.Circuit, of map[string]int) {
	of = map[string]int{}
	for _, s := range list {
		c := s.Computed.Circuit
		for i := range s.Count {
			one := c
			if s.Count > 1 {
				one.Name = e.Say("sheet.numbered", msg.Text("title", c.Name), msg.Count("n", i+1))
			}
			out = append(out, one)
			of[one.Name] = s.Index
		}
	}
	return out, of
}

// cable is the title of the yard's cable of a section; empty where it lists none.
func cable(e *engine.Engine, list []engine.Sized, section float64) string {
	for i := range list {
		if m := e.Takeoffs.Cable(&list[i].Sized); m != nil && list[i].Cable.Section == section {
			return m.Title
		}
	}
	return ""
}

// Circuits are the circuits of a boat in the order of the book; none on desks without build sheets.
func Circuits(e *engine.Engine, b *fit.Build) (parts []CircuitPart) {
	if !e.Pack.Can(pack.Sheets) {
		return nil
	}
	list, _ := e.SizedCircuits(b)
	for i := range list {
		parts = append(parts, circuitPart(e, b, &list[i]))
	}
	return parts
}

// circuitPart states a circuit as it was sized for the boat, in the digits in which an electrician reads it.
func circuitPart(e *engine.Engine, b *fit.Build, s *engine.Sized) CircuitPart {
	in, ch, c := &e.Pack.Circuits[s.Index], &s.Computed, &s.Computed.Circuit
	at := &e.Pack.Work.Runs[s.Index].At
	part := CircuitPart{ID: in.ID, Title: c.Name, Count: s.Count, Load: measure.Round(c.Load, 2),
		Drop: measure.Round(s.Cable.Drop, 3), Loop: loop(s.Cable.Drop, c.Load),
		Share: measure.Round(100*s.Cable.Share, 2), Allowed: measure.Round(ch.AllowedDrop, 3),
		Needed: measure.Round(ch.NeededCM, 0),
		Volts:  measure.Round(c.Volts, 2), Peak: measure.Round(c.Peak, 2), OneWay: measure.Round(c.Length, 2),
		Insulation: int(c.Insulation), Engine: c.EngineSpace, Notes: ch.Notes,
		At: e.Pack.Where(at.Circuit), LoadTrace: e.Unfold(b, at.Amps),
		VoltsTrace: e.Unfold(b, at.Volts), OneWayFrom: e.Unfold(b, at.Length)}
	part.Cable = CablePart{Computed: ch.Metric.Copper(), Bought: s.Cable.Copper(), Conductors: s.Cable.Conductors,
		AllowedA: s.Cable.Ampacity, Decides: s.Cable.Decides}
	// no gauge does as well where the section is beyond the largest
	if ch.AWG.Conductors > 0 {
		part.Cable.AWG = ch.AWG.Gauge.String()
	}
	if m := e.Takeoffs.Cable(&s.Sized); m != nil {
		part.Cable.Material, part.Cable.Title = m.ID, m.Title
	}
	part.Fuse = FusePart{Computed: ch.Fuse, Bought: s.Fuse.Amps, Volts: s.Fuse.Volts, KiloAmps: s.Fuse.KiloAmps,
		FaultKA: measure.Round(c.Fault/1000, 2)}
	if m := e.Takeoffs.Fuse(&s.Sized); m != nil {
		part.Fuse.Material, part.Fuse.Title = m.ID, m.Title
	}
	return part
}

// loop is the resistance of both conductors of a circuit one after the other, mΩ, without ends and fuse: what a meter
// shows between their first ends while the others are joined. It follows from the drop that the cable was bought by.
//
// Formula: R = U / I. Source: Ohm's law.
func loop(drop, load float64) float64 {
	if !(load > 0) {
		return 0
	}
	return measure.Round(1000*drop/load, 1)
}

// LoomPictures draw the loom, one for each voltage: what runs at 12 V does not hang on the bank.
func LoomPictures(e *engine.Engine, b *fit.Build, f drawing.Format) (list []look.Picture, err error) {
	looms, err := byVoltage(e, b)
	if err != nil {
		return nil, err
	}
	for i, in := range looms {
		p, err := look.Draw(e, fmt.Sprintf("loom-%d", i+1), e.Say("sheet.loom-at", msg.Text("volts", in.Bank)), in, f)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, nil
}

// boardPictures draw the boards of the looms, of each voltage at which circuits run together.
func boardPictures(e *engine.Engine, b *fit.Build) (list []look.Picture, err error) {
	looms, err := byVoltage(e, b)
	if err != nil {
		return nil, err
	}
	for i, in := range looms {
		// alone a circuit is pulled through the boat, and tied to nothing
		together, most := map[string]int{}, 0
		for _, w := range in.Loom.Wires {
			if w.Positive {
				from := e.Text(w.Ends[0].Place)
				together[from]++
				most = max(most, together[from])
			}
		}
		if most < 2 {
			continue
		}
		// by the number of its schematic, so that the two are laid beside each other
		p, err := look.Draw(e, fmt.Sprintf("loom-board-%d", i+1), e.Say("sheet.board-at", msg.Text("volts", in.Bank)),
			drawing.LoomBoard{Name: in.Name, Loom: in.Loom}, drawing.Format{})
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, nil
}

// byVoltage are the looms of a boat, in the order of the circuits that first have their voltage, which stands for the
// bank.
func byVoltage(e *engine.Engine, b *fit.Build) (list []drawing.LoomSheet, err error) {
	part := Loom(e, b)
	if part == nil {
		return nil, nil
	}
	var voltages []float64
	at := map[float64][]wiring.Circuit{}
	for _, s := range part.sheet.Sized {
		c := s.Computed.Circuit
		if at[c.Volts] == nil {
			voltages = append(voltages, c.Volts)
		}
		at[c.Volts] = append(at[c.Volts], c)
	}
	for _, v := range voltages {
		loom, err := e.Takeoffs.Sizer().Sheet(at[v])
		if err != nil {
			return nil, fmt.Errorf("drawing: %w", err)
		}
		list = append(list, drawing.LoomSheet{Name: e.Pack.Hulls[b.State.HullID].Title, Loom: loom,
			Bank: e.Say("sheet.volts", msg.Number("volts", measure.Round(v, 1), msg.Exact))})
	}
	return list, nil
}

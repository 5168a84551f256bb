package wiring

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ribband/core/msg"
)

// CopperDensity is in kg per mm² and m: 8.89 g/cm³.
//
// Source: international annealed copper standard, from memory.
const CopperDensity = 8.89e-3

// Wire is a line of the loom sheet: one conductor from end to end.
type Wire struct {
	Circuit  string
	Function Function
	Positive bool
	Colour   Colour
	MM2      float64 // section of the cable bought
	Length   float64 // m, with its slack
	Ends     [2]End
	Fuse     float64     // A, at the first positive wire of a circuit; 0 at the others
	Place    msg.Message // where the fuse goes
	Copper   float64     // kg
}

// End is where a wire ends and in what.
type End struct {
	Place    msg.Message // a text of the book, or where such wires begin
	Terminal Terminal
}

// Roll is how much wire of one size and colour the loom takes.
type Roll struct {
	Colour Colour
	MM2    float64
	Length float64 // m
	Copper float64 // kg
}

// Count is how many of an article the loom takes.
type Count struct {
	Article msg.Message
	N       int
}

// Loom is the loom sheet of a boat.
type Loom struct {
	Sized     []Sized
	Wires     []Wire
	Rolls     []Roll  // thinnest first, then by colour
	Terminals []Count // by name
	Fuses     []Count // smallest first
	Length    float64 // m of wire in all
	Copper    float64 // kg in all
	Caution   msg.Message
}

// Sheet makes the loom sheet: the wires of each circuit in the order of the circuits, in the cable that is bought, two
// for each conductor of a pole.
//
// Formula: wire length = length one way + slack; copper mass = S×L×8.89×10⁻³, in kg with S in mm² and L in m.
// Valid: as [Size]; names of circuits differ. Mass is of the copper alone, without insulation.
// Source: sizes as [Sizer.Size]; slack and terminals: common practice, no source.
func (z *Sizer) Sheet(circuits []Circuit) (Loom, error) {
	loom := Loom{Caution: Caution}
	seen := map[string]bool{}
	for i, c := range circuits {
		s, err := z.Size(c)
		if err != nil {
			return Loom{}, fmt.Errorf("making the loom sheet, circuit %d of %d: %w", i+1, len(circuits), err)
		}
		if seen[c.Name] {
			return Loom{}, fmt.Errorf("making the loom sheet, circuit %d of %d: the name %q is there twice; give each "+
				"circuit its own", i+1, len(circuits), c.Name)
		}
		seen[c.Name] = true
		z.AWG(&s)
		loom.Sized = append(loom.Sized, s)
		for n := range s.Cable.Conductors {
			loom.Wires = append(loom.Wires, z.wire(&s, true, n == 0), z.wire(&s, false, n == 0))
		}
	}
	loom.total()
	return loom, nil
}

func (z *Sizer) wire(s *Sized, positive, fused bool) Wire {
	c := &s.Computed.Circuit
	colours, _ := ColoursOf(c.Function) // Size has checked it
	w := Wire{Circuit: c.Name, Function: c.Function, Positive: positive, Colour: colours.Negative, MM2: s.Cable.Section,
		Length: c.Length + z.rules.Slack}
	from := msg.New("wiring.bus-bar")
	if c.Function == BatteryLead {
		from = msg.New("wiring.negative-terminal")
	}
	if positive {
		from, w.Colour = msg.New("wiring.fuse-block"), colours.Positive
		if c.From != "" {
			from = msg.Plain(c.From)
		}
		if fused {
			w.Fuse, w.Place = s.Fuse.Amps, PlaceOf(c.Sheathed, c.Function == BatteryLead).When
		}
	}
	w.Copper = w.MM2 * w.Length * CopperDensity
	terminal := TerminalOf(w.MM2)
	w.Ends = [2]End{{from, terminal}, {msg.Plain(cmp.Or(c.To, c.Name)), terminal}}
	return w
}

// Metres is the length in m of all wires of a circuit, with the slack of their ends.
//
// Formula, Valid and Source: as [Sizer.Sheet].
func (z *Sizer) Metres(s *Sized) float64 {
	return 2 * float64(s.Cable.Conductors) * (s.Computed.Circuit.Length + z.rules.Slack)
}

// Copper is the mass of copper in all wires of a circuit, kg.
//
// Formula, Valid and Source: as [Sizer.Sheet].
func (z *Sizer) Copper(s *Sized) float64 { return s.Cable.Section * z.Metres(s) * CopperDensity }

// Terminal is the end of a wire by its kind: crimp-red, crimp-blue, crimp-yellow, or a lug with its section in mm².
type Terminal string

// Words name a terminal.
func (t Terminal) Words() msg.Message {
	if section, lug := strings.CutPrefix(string(t), "lug-"); lug {
		return msg.New("wiring.lug", msg.Text("section", section))
	}
	return msg.New("wiring.crimp", msg.Choice("ring", string(t)))
}

// TerminalOf is the usual crimped end of a wire of a section in mm².
//
// Valid: from 0.5 mm².
// Source: common practice, no source: insulated crimp rings in red, blue and yellow up to 6 mm², tinned lugs above.
func TerminalOf(section float64) Terminal {
	switch {
	case section <= 1:
		return "crimp-red"
	case section <= 2.5:
		return "crimp-blue"
	case section <= 6:
		return "crimp-yellow"
	}
	return Terminal(fmt.Sprintf("lug-%g", section))
}

// total adds up rolls, terminals, fuses, length and copper.
func (l *Loom) total() {
	terminals, sizes := map[Terminal]int{}, map[float64]int{}
	for _, w := range l.Wires {
		l.Length += w.Length
		l.Copper += w.Copper
		for _, e := range w.Ends {
			terminals[e.Terminal]++
		}
		if w.Fuse > 0 {
			sizes[w.Fuse]++
		}
		i := slices.IndexFunc(l.Rolls, func(r Roll) bool { return r.Colour == w.Colour && r.MM2 == w.MM2 })
		if i < 0 {
			i = len(l.Rolls)
			l.Rolls = append(l.Rolls, Roll{Colour: w.Colour, MM2: w.MM2})
		}
		l.Rolls[i].Length += w.Length
		l.Rolls[i].Copper += w.Copper
	}
	slices.SortStableFunc(l.Rolls, func(a, b Roll) int {
		return cmp.Or(cmp.Compare(a.MM2, b.MM2), cmp.Compare(a.Colour, b.Colour))
	})
	for _, t := range sortedKeys(terminals) {
		l.Terminals = append(l.Terminals, Count{t.Words(), terminals[t]})
	}
	for _, amps := range sortedKeys(sizes) {
		l.Fuses = append(l.Fuses, Count{msg.New("wiring.fuse", msg.Number("amps", amps, msg.Exact)), sizes[amps]})
	}
}

func sortedKeys[K cmp.Ordered](m map[K]int) []K {
	var keys []K
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

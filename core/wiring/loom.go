package wiring

import (
	"cmp"
	"fmt"
	"slices"
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
	Colour   string
	AWG      Gauge
	MM2      float64 // standard section
	Length   float64 // m, with its slack
	Ends     [2]End
	Fuse     float64 // A, at the positive wire; 0 at the negative one
	Place    string  // where the fuse goes
	Copper   float64 // kg
}

// End is where a wire ends and in what.
type End struct{ Place, Terminal string }

// Roll is how much wire of one size and colour the loom takes.
type Roll struct {
	Colour string
	AWG    Gauge
	MM2    float64
	Length float64 // m
	Copper float64 // kg
}

// Count is how many of an article the loom takes.
type Count struct {
	Article string
	N       int
}

// Loom is the loom sheet of a boat.
type Loom struct {
	Choices   []Choice
	Wires     []Wire
	Rolls     []Roll  // thinnest first, then by colour
	Terminals []Count // by name
	Fuses     []Count // smallest first
	Length    float64 // m of wire in all
	Copper    float64 // kg in all
	Caution   string
}

// Sheet makes the loom sheet: two wires for each circuit, in the order of the circuits.
//
// Formula: wire length = length one way + slack; copper mass = S×L×8.89×10⁻³, in kg with S in mm² and L in m.
// Valid: as [Size]; names of circuits differ. Mass is of the copper alone, without insulation.
// Source: sizes as [Size]; slack and terminals: common practice, no source.
func Sheet(circuits []Circuit, r Rules) (Loom, error) {
	loom := Loom{Caution: Caution}
	seen := map[string]bool{}
	for i, c := range circuits {
		ch, err := Size(c, r)
		if err != nil {
			return Loom{}, fmt.Errorf("making the loom sheet, circuit %d of %d: %w", i+1, len(circuits), err)
		}
		if seen[c.Name] {
			return Loom{}, fmt.Errorf("making the loom sheet, circuit %d of %d: the name %q is there twice; give each circuit its own", i+1, len(circuits), c.Name)
		}
		seen[c.Name] = true
		loom.Choices = append(loom.Choices, ch)
		loom.Wires = append(loom.Wires, wire(ch, r, true), wire(ch, r, false))
	}
	loom.total()
	return loom, nil
}

func wire(ch Choice, r Rules, positive bool) Wire {
	c := ch.Circuit
	colours, _ := ColoursOf(c.Function) // Size has checked it
	w := Wire{Circuit: c.Name, Function: c.Function, Positive: positive, Colour: colours.Negative, Length: c.Length + r.Slack}
	w.AWG, w.MM2 = ch.AWG.Gauge, ch.Metric.Section
	from := "negative bus bar"
	_, gauge := ch.conductor(r)
	if positive {
		from = cmp.Or(c.From, "fuse block")
		w.Colour, w.Fuse = colours.Positive, ch.Fuse
		w.Place = PlaceOf(c.Sheathed, c.Function == MainFeed || c.Function == Drive).When
	}
	w.Copper = ch.Copper(r) / 2
	terminal := Terminal(gauge)
	w.Ends = [2]End{{from, terminal}, {cmp.Or(c.To, c.Name), terminal}}
	return w
}

// conductor is the section, mm², and the size that is installed.
func (ch Choice) conductor(r Rules) (section float64, size Gauge) {
	if r.Metric {
		return ch.Metric.Section, ch.Metric.Gauge
	}
	return ch.AWG.Gauge.Area(), ch.AWG.Gauge
}

// Copper is the mass of copper in both wires of a circuit, kg.
//
// Formula, Valid and Source: as [Sheet].
func (ch Choice) Copper(r Rules) float64 {
	section, _ := ch.conductor(r)
	return 2 * section * (ch.Circuit.Length + r.Slack) * CopperDensity
}

// Terminal is the usual crimped end of a wire of a gauge.
//
// Valid: AWG 18 to 4/0.
// Source: common practice, no source: insulated crimp rings in red, blue and yellow up to AWG 10, tinned lugs above.
func Terminal(g Gauge) string {
	switch {
	case g >= 18:
		return "crimp ring, red (AWG 22-18)"
	case g >= 14:
		return "crimp ring, blue (AWG 16-14)"
	case g >= 10:
		return "crimp ring, yellow (AWG 12-10)"
	}
	return "tinned lug, AWG " + g.String() + ", with heat-shrink sleeve"
}

// total adds up rolls, terminals, fuses, length and copper.
func (l *Loom) total() {
	terminals, sizes := map[string]int{}, map[float64]int{}
	for _, w := range l.Wires {
		l.Length += w.Length
		l.Copper += w.Copper
		for _, e := range w.Ends {
			terminals[e.Terminal]++
		}
		if w.Positive {
			sizes[w.Fuse]++
		}
		i := slices.IndexFunc(l.Rolls, func(r Roll) bool { return r.Colour == w.Colour && r.AWG == w.AWG && r.MM2 == w.MM2 })
		if i < 0 {
			i = len(l.Rolls)
			l.Rolls = append(l.Rolls, Roll{Colour: w.Colour, AWG: w.AWG, MM2: w.MM2})
		}
		l.Rolls[i].Length += w.Length
		l.Rolls[i].Copper += w.Copper
	}
	slices.SortStableFunc(l.Rolls, func(a, b Roll) int {
		return cmp.Or(cmp.Compare(b.AWG, a.AWG), cmp.Compare(a.MM2, b.MM2), cmp.Compare(a.Colour, b.Colour))
	})
	for _, name := range sortedKeys(terminals) {
		l.Terminals = append(l.Terminals, Count{name, terminals[name]})
	}
	for _, amps := range sortedKeys(sizes) {
		l.Fuses = append(l.Fuses, Count{fmt.Sprintf("fuse %v A", amps), sizes[amps]})
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

package pack

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ribband/core/formula"
	"ribband/core/laminate"
	"ribband/core/wiring"
)

// Takeoff is how an amount was measured: the form and its parts in the form's order, for the yard's sheet. The amount
// itself is composed of them.
type Takeoff struct {
	Form  string            `json:"form"`
	Parts []formula.Program `json:"parts"`
}

// CutNeed measures by a cut layout on one of its stocks: the metres of it where the material is kept in metres, else
// the square metres.
type CutNeed struct {
	Cut    int  `json:"cut"`
	Stock  int  `json:"stock"`
	Metres bool `json:"metres,omitempty"`
}

// CircuitNeed is what a boat takes of a circuit, in the size that it has there.
type CircuitNeed struct {
	Circuit int  `json:"circuit"`
	Part    Part `json:"part"`
}

// Part is of what a circuit is made.
type Part string

// The parts of a circuit. A spare is one more fuse, whatever the circuit's count.
const (
	Wire   Part = "wire"
	Fuse   Part = "fuse"
	Holder Part = "holder"
	Switch Part = "switch"
	Spare  Part = "spare"
)

// Form is a way to measure a material in numbers: a formula of its parts, which stand in it as use fields do in others.
type Form struct {
	Word    string
	Unit    string     // of the material
	Parts   []string   // keys, in order
	Default []*float64 // of parts that may be left out; nil for those that may not
	amount  formula.Program
}

// Forms are the ways to measure in numbers, each by the formula of package laminate that it is named after.
//
// Formula: foam m³ = A×T/1000; timber m³ = T×W×L×n/10⁶; tube m = n×(2×H + W - (4 - pi)×r + 8×c²/(3×W)) + straight
// lengths; coat l = A×n/cover; gelcoat kg = A×wet thickness×density. Areas in m², T, W of timber and wet thickness in
// mm, lengths in m, cover in m²/l by coat. Valid and source: [laminate.NewCushion], [laminate.NewTimber],
// [laminate.NewFrame], [laminate.NewPaint], [laminate.NewGelcoat]. Waste stands with the material.
var Forms = []Form{
	form("foam", "m3", "area_m2 thickness_mm", "u0 u1 * n1000 /"),
	form("timber", "m3", "thickness_mm width_mm length_m count=1", "u0 u1 * u2 * u3 * n1000 / n1000 /"),
	form("tube", "m", "hoops width_m height_m straight_m=0 crown_m=0 radius_m=0",
		fmt.Sprintf("u0 n2 u2 * u1 + n%v u5 * - n8 u4 * u4 * n3 u1 * / + * u3 +", 4-math.Pi)),
	form("coat", "l", "area_m2 coats cover_m2_l", "u0 u1 * u2 /"),
	form("gelcoat", "kg", "area_m2 wet_mm", fmt.Sprintf("u0 u1 * n%v *", laminate.GelcoatDensity)),
}

// form makes a form of its parts, of which some have a number that they are where nothing is said.
func form(word, unit, parts, amount string) Form {
	f := Form{Word: word, Unit: unit}
	for _, p := range strings.Fields(parts) {
		key, value, optional := strings.Cut(p, "=")
		f.Parts = append(f.Parts, key)
		var standard *float64
		if optional {
			v, err := strconv.ParseFloat(value, 64)
			if err != nil {
				panic(err) // the table above is wrong
			}
			standard = &v
		}
		f.Default = append(f.Default, standard)
	}
	p, err := formula.Parse(amount)
	if err != nil {
		panic(err)
	}
	f.amount = p
	return f
}

// FormOf finds a form by its word.
func FormOf(word string) (*Form, bool) {
	i := slices.IndexFunc(Forms, func(f Form) bool { return f.Word == word })
	if i < 0 {
		return nil, false
	}
	return &Forms[i], true
}

// Compose makes the amount of its parts, as one formula. It fails where they are not as many numbers as the form has
// parts.
func (f *Form) Compose(parts []formula.Program) (formula.Program, error) {
	if len(parts) != len(f.Parts) {
		return formula.Program{}, fmt.Errorf("measuring %s: %d parts, want %d", f.Word, len(parts), len(f.Parts))
	}
	var steps []formula.Step
	for _, s := range f.amount.Steps() {
		if s.Op == formula.Use {
			steps = append(steps, parts[s.Index].Steps()...)
		} else {
			steps = append(steps, s)
		}
	}
	return formula.New(steps)
}

// Text writes the composed formula, given how the parts are written.
func (f *Form) Text(parts []string) string {
	var put []string
	for i, p := range parts {
		if strings.ContainsAny(p, " +-*/<>=?") {
			p = "(" + p + ")"
		}
		put = append(put, fmt.Sprintf("use.part%d", i), p)
	}
	return strings.NewReplacer(put...).Replace(f.amount.Infix(formula.Words{Use: func(i int) string { return fmt.Sprintf("part%d", i) }}))
}

// material checks what an item takes of a material: a formula, a cut or a circuit, and no two of them.
func (c *checker) material(t *Trade, n *Need) {
	if n.Circuit == nil || n.Index != -1 {
		c.index("material", n.Index, len(t.Materials))
	}
	c.index("source", n.At, len(t.Sources))
	c.index("operation", n.Taker, len(t.Operations)+1)
	ways := 0
	if !n.Amount.Empty() {
		ways++
		c.program("a quantity", n.Amount, formula.Number, false)
	}
	if n.Cut != nil {
		ways++
		c.index("cut", n.Cut.Cut, len(t.Cuts))
		if c.err == nil {
			c.index("stock of cut "+t.Cuts[n.Cut.Cut].ID, n.Cut.Stock, len(t.Cuts[n.Cut.Cut].Stocks))
		}
	}
	if n.Circuit != nil {
		ways++
		c.index("circuit", n.Circuit.Circuit, len(c.pack.Circuits))
		c.part(n.Circuit.Part)
	}
	if ways == 0 {
		c.fail("a quantity has no formula, cut or circuit")
	}
	if ways > 1 {
		c.fail("a quantity is measured in %d ways", ways)
	}
	if n.Takeoff != nil {
		c.takeoff(t, n)
	}
}

func (c *checker) takeoff(t *Trade, n *Need) {
	f, ok := FormOf(n.Takeoff.Form)
	if !ok || len(n.Takeoff.Parts) != len(f.Parts) {
		c.fail("a quantity is measured as %.40q with %d parts", n.Takeoff.Form, len(n.Takeoff.Parts))
	} else if c.err == nil && t.Materials[n.Index].Unit != f.Unit {
		c.fail("the material %s is measured as %s and not kept in %s", t.Materials[n.Index].ID, f.Word, f.Unit)
	}
	for _, p := range n.Takeoff.Parts {
		c.program("a part of a quantity", p, formula.Number, false)
	}
}

// part checks that the stock has what is taken of a circuit.
func (c *checker) part(p Part) {
	s := &c.pack.Stock
	kept, known := map[Part]int{Wire: len(s.Sections), Fuse: len(s.Fuses), Holder: len(s.Fuses), Spare: len(s.Fuses),
		Switch: len(s.Switches)}[p]
	if !known || kept == 0 {
		c.fail("the stock has nothing for the part %.40q of a circuit", p)
	}
}

// stock checks the sizes of what the yard keeps.
func (c *checker) stock(s *wiring.Stock) {
	ordered := func(what, unit string, list []float64) {
		last := 0.0
		for _, v := range list {
			if !(v > last) || !formula.Finite(v) {
				c.fail("a %s of %v %s stands behind one of %v %s", what, v, unit, last, unit)
			}
			last = v
		}
	}
	ordered("cable", "mm2", s.Sections)
	ordered("battery switch", "A", s.Switches)
	last := 0.0
	for _, f := range s.Fuses {
		if !(f.Amps > 0 && f.Amps >= last) || !formula.Finite(f.Amps) {
			c.fail("a fuse of %v A stands behind one of %v A", f.Amps, last)
		}
		last = f.Amps
		for _, v := range []float64{f.Volts, f.KiloAmps} {
			if !(v > 0) || !formula.Finite(v) {
				c.fail("a fuse of %v A is for %v V and %v kA", f.Amps, f.Volts, f.KiloAmps)
			}
		}
	}
}

// kept checks the materials of what the yard keeps.
func (c *checker) kept(t *Trade) {
	s := &c.pack.Stock
	for _, list := range []struct {
		what  string
		kept  []int
		sizes int
		least int
	}{{"cable", t.Kept.Cables, len(s.Sections), 0}, {"fuse", t.Kept.Fuses, len(s.Fuses), 0},
		{"fuse holder", t.Kept.Holders, len(s.Fuses), -1}, {"battery switch", t.Kept.Switches, len(s.Switches), 0}} {
		if len(list.kept) != list.sizes {
			c.fail("%d materials of a %s, want %d", len(list.kept), list.what, list.sizes)
		}
		for _, m := range list.kept {
			if m != list.least {
				c.index("material of a "+list.what, m, len(t.Materials))
			}
		}
	}
}

package book

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ribband/core/laminate"
	"ribband/core/measure"
)

// Quantity is what is built in of a material: a quantity, or one of the ways to measure it. A wire names no material of its own: it is one of the
// book's wires, by its size.
type Quantity struct {
	Material Text     `yaml:"material"`
	Quantity Formula  `yaml:"quantity"`
	Foam     *Foam    `yaml:"foam"`
	Timber   *Timber  `yaml:"timber"`
	Tube     *Tube    `yaml:"tube"`
	Coat     *Coat    `yaml:"coat"`
	Gelcoat  *Gelcoat `yaml:"gelcoat"`
	Cut      Text     `yaml:"cut" doc:"what the layout of this cut takes of its stock, offcuts included"`
	Wire     Text     `yaml:"wire" doc:"both conductors of this circuit, in the cable of its size"`
	At       Position `json:"-"`

	Operation Text `yaml:"operation" doc:"the operation that takes it; the first of the item where not given"`
}

// Foam is sheet foam over an area.
type Foam struct {
	AreaM2      Formula `yaml:"area_m2,required"`
	ThicknessMm Formula `yaml:"thickness_mm,required"`
}

// Timber is parts of one section with their finished size.
type Timber struct {
	ThicknessMm Formula `yaml:"thickness_mm,required"`
	WidthMm     Formula `yaml:"width_mm,required"`
	LengthM     Formula `yaml:"length_m,required"`
	Count       Formula `yaml:"count" doc:"1 where not given"`
}

// Tube is a bent frame: hoops, each an upside-down U with two bends, and straight lengths.
type Tube struct {
	Hoops     Formula `yaml:"hoops,required"`
	WidthM    Formula `yaml:"width_m,required" doc:"of a hoop, outside"`
	HeightM   Formula `yaml:"height_m,required" doc:"from the foot to the edge of the roof"`
	StraightM Formula `yaml:"straight_m" doc:"of all straight lengths together"`
	CrownM    Formula `yaml:"crown_m" doc:"what the roof rises in the middle; 0 where not given"`
	RadiusM   Formula `yaml:"radius_m" doc:"of the bends, to the tube's middle; 0 where not given"`
}

// Coat is paint, varnish or oil over an area.
type Coat struct {
	AreaM2   Formula `yaml:"area_m2,required"`
	Coats    Formula `yaml:"coats,required"`
	CoverM2L Formula `yaml:"cover_m2_l,required" doc:"of one coat"`
}

// Gelcoat is sprayed over an area, to a thickness when wet.
type Gelcoat struct {
	AreaM2 Formula `yaml:"area_m2,required"`
	WetMm  Formula `yaml:"wet_mm,required"`
}

// Wire is a cable that the yard buys: one conductor of a section.
type Wire struct {
	MM2      Number `yaml:"mm2,required" doc:"section of the conductor"`
	Material Text   `yaml:"material,required" doc:"material of the cable, kept in m"`
}

// Measure is a way to measure by numbers, with the parts in the order of their keys in the types. Those that are not given are empty.
type Measure struct {
	Form  string
	Keys  []string
	Parts []Formula
}

// Measures are the ways in which an entry measures by numbers: one at most in a sound book.
func (q *Quantity) Measures() (list []Measure) {
	if f := q.Foam; f != nil {
		list = append(list, Measure{"foam", []string{"area_m2", "thickness_mm"}, []Formula{f.AreaM2, f.ThicknessMm}})
	}
	if f := q.Timber; f != nil {
		list = append(list, Measure{"timber", []string{"thickness_mm", "width_mm", "length_m", "count"}, []Formula{f.ThicknessMm, f.WidthMm, f.LengthM, f.Count}})
	}
	if f := q.Tube; f != nil {
		list = append(list, Measure{"tube", []string{"hoops", "width_m", "height_m", "straight_m", "crown_m", "radius_m"},
			[]Formula{f.Hoops, f.WidthM, f.HeightM, f.StraightM, f.CrownM, f.RadiusM}})
	}
	if f := q.Coat; f != nil {
		list = append(list, Measure{"coat", []string{"area_m2", "coats", "cover_m2_l"}, []Formula{f.AreaM2, f.Coats, f.CoverM2L}})
	}
	if f := q.Gelcoat; f != nil {
		list = append(list, Measure{"gelcoat", []string{"area_m2", "wet_mm"}, []Formula{f.AreaM2, f.WetMm}})
	}
	return list
}

// measuredIn is the unit that a material is kept in by how it is measured.
var measuredIn = map[string]string{"foam": "m3", "timber": "m3", "tube": "m", "coat": "l", "gelcoat": "kg"}

const ways = "quantity, foam, timber, tube, coat, gelcoat, cut or wire"

// quantity reports an entry that is measured in no way or in several, in another unit than its material's, or by what the book does not have.
func (v *validation) quantity(q *Quantity, option string) {
	measures := q.Measures()
	switch n := len(measures) + count(!q.Quantity.Empty(), q.Cut.Value != "", q.Wire.Value != ""); {
	case n == 0:
		v.problem(q.At, "add one of "+ways, "nothing says how much of the material %s is taken", q.Material)
	case n > 1:
		v.problem(q.At, "keep one of "+ways, "the material %s is measured in %d ways", q.Material, n)
		return
	}
	if q.Wire.Value != "" {
		v.wire(q)
		return
	}
	if q.Material.Value == "" {
		v.problem(q.At, "add material: with its name", "the material of a quantity is missing")
		return
	}
	if !v.known("material", q.Material) {
		return
	}
	if n, err := strconv.ParseFloat(q.Quantity.Value, 64); err == nil && n != math.Trunc(n) && measure.Counted(v.unitOf(q.Material)) {
		v.problem(q.Quantity.At, "write a whole number, or keep the material in m, l or kg with its pack", "%s of the material %s is no whole number, and pieces are taken whole", q.Quantity.Value, q.Material)
	}
	if q.Cut.Value != "" {
		v.cut(q, option)
	}
	for _, m := range measures {
		v.keptIn(q.Material, measuredIn[m.Form], "material")
		for i, p := range m.Parts {
			v.part(m.Form, m.Keys[i], p)
		}
	}
}

// part reports a plain number that cannot be a size: not above zero, or a gelcoat beyond what is sprayed.
func (v *validation) part(form, key string, f Formula) {
	n, err := strconv.ParseFloat(f.Value, 64)
	if err != nil {
		return
	}
	least := slices.Contains([]string{"straight_m", "crown_m", "radius_m", "count", "hoops"}, key)
	if n < 0 || n == 0 && !least {
		v.problem(f.At, "write a number above zero, or a formula that gives one", "the %s of %s is %s", key, form, f.Value)
	}
	v.partSized(form, key, f)
	if key == "wet_mm" && n > 0 {
		if err := laminate.CheckGelcoat(n); err != nil {
			v.problem(f.At, "write it in mm, such as 0.55", "%v", err)
		}
	}
}

// partLimits are the sizes of parts by form and key.
var partLimits = map[string]Limit{
	"timber thickness_mm": Limits.TimberThickness, "timber width_mm": Limits.TimberWidth, "timber length_m": Limits.TimberLength, "foam thickness_mm": Limits.FoamThickness,
	"coat cover_m2_l": Limits.CoatCover, "coat coats": Limits.Coats,
}

// partSized reports a plain size a thousandfold off, as of metres for millimetres, and warns of one that is merely unusual.
func (v *validation) partSized(form, key string, f Formula) {
	l, ok := partLimits[form+" "+key]
	n, plain := f.Plain()
	if !ok || !plain || n <= 0 {
		return
	}
	v.thousandfold(f.At, n, l, fmt.Sprintf("the %s of %s", key, form))
}

// thousandfold reports a size that is far beyond its limit and within it when it is taken a thousand times larger or smaller; otherwise it warns.
func (v *validation) thousandfold(at Position, n float64, l Limit, what string) {
	switch {
	case l.Holds(n):
	case l.Holds(n*1000) && n < l.Least/5, l.Holds(n/1000) && n > l.Most*5:
		v.problem(at, "mind the unit: "+l.Advice(), "%s is %g, a thousandfold off as it seems", what, n)
	default:
		v.warn(at, l.Advice(), "%s is %g", what, n)
	}
}

func (v *validation) wire(q *Quantity) {
	v.known("circuit", q.Wire)
	if q.Material.Value != "" {
		v.problem(q.Material.At, "leave material: out: the wires of the book name the cable of each size", "the wire of the circuit %s names a material", q.Wire)
	}
	if len(v.book.Wires) == 0 {
		v.problem(q.Wire.At, "add wires: with the section and the material of each cable", "the book lists no cable for the circuit %s", q.Wire)
	}
}

// cut checks that the option stands at a stock of the cut, in the unit of its material.
func (v *validation) cut(q *Quantity, option string) {
	if !v.known("cut", q.Cut) {
		return
	}
	c := &v.book.Cuts[slices.IndexFunc(v.book.Cuts, func(c Cut) bool { return c.ID.Value == q.Cut.Value })]
	i := slices.IndexFunc(c.Stocks, func(s CutStock) bool {
		return slices.ContainsFunc(s.Options, func(o Text) bool { return o.Value == option })
	})
	if i < 0 {
		v.problem(q.Cut.At, "name the option at one of the stocks of the cut", "%q stands at no stock of the cut %s", option, q.Cut)
		return
	}
	switch unit := v.unitOf(q.Material); {
	case unit == "m" && c.Stocks[i].LengthMm.Given():
		v.problem(q.Material.At, "name a material that is kept in m2", "the material %s is kept in m, and the cut %s is laid on sheets", q.Material, q.Cut)
	case unit != "m" && unit != "m2":
		v.problem(q.Material.At, "name a material that is kept in m2, or in m for a roll", "the material %s is kept in %s", q.Material, unit)
	}
}

func (v *validation) unitOf(material Text) string {
	for _, m := range v.book.Materials {
		if m.ID.Value == material.Value {
			return m.Unit.Value
		}
	}
	return ""
}

// wires reports cables that are listed twice, have no section or are not kept in metres.
func (v *validation) wires() {
	seen := map[float64]bool{}
	for _, w := range v.book.Wires {
		if !(w.MM2.Value > 0) {
			v.problem(w.MM2.At, "write the section of the conductor in mm2, such as 2.5", "a cable has %g mm2", w.MM2.Value)
		}
		if w.MM2.Value > 0 {
			v.thousandfold(w.MM2.At, w.MM2.Value, Limits.CableMM2, "the section of "+w.Material.Value)
		}
		if seen[w.MM2.Value] {
			v.problem(w.MM2.At, "keep one of them", "two cables have %g mm2", w.MM2.Value)
		}
		seen[w.MM2.Value] = true
		if v.known("material", w.Material) {
			v.keptIn(w.Material, "m", "cable")
		}
	}
	if len(v.book.Wires) > 0 {
		v.takers()
	}
}

// taker is an item that takes the wire of a circuit.
type taker struct {
	hull, slot, option int // -1: no hull, or no option
	at                 Position
}

// takers reports circuits whose wire nobody takes, or two items that may be in one boat. Which of a slot's options have a circuit, only a boat says.
func (v *validation) takers() {
	by := map[string][]taker{}
	note := func(materials []Quantity, hull, slot, option int) {
		for i := range materials {
			if w := materials[i].Wire; w.Value != "" {
				by[w.Value] = append(by[w.Value], taker{hull, slot, option, w.At})
			}
		}
	}
	for i := range v.book.Hulls {
		note(v.book.Hulls[i].Materials, i, -1, -1)
	}
	for i := range v.book.Slots {
		for j := range v.book.Slots[i].Options {
			note(v.book.Slots[i].Options[j].Materials, -1, i, j)
		}
	}
	for _, c := range v.book.Circuits {
		list := by[c.ID.Value]
		if len(list) == 0 {
			v.problem(c.ID.At, fmt.Sprintf("add {wire: %s} to the materials of what has the circuit", c.ID), "no item takes the wire of the circuit %s", c.ID)
		}
		for i := range list {
			if j := slices.IndexFunc(list[:i], func(other taker) bool { return v.together(other, list[i]) }); j >= 0 {
				v.problem(list[i].at, fmt.Sprintf("the other is at %s; let one of them take it, or only options of a slot of one", list[j].at), "the wire of the circuit %s may be taken twice in one boat", c.ID)
				break
			}
			if v.severalTimes(list[i]) {
				v.problem(list[i].at, "let an item that is there once take it", "the wire of the circuit %s may be taken several times in one boat", c.ID)
				break
			}
		}
	}
}

// together says whether two items may be in one boat.
func (v *validation) together(a, b taker) bool {
	if a.hull >= 0 && b.hull >= 0 {
		return a.hull == b.hull
	}
	if a.hull >= 0 || b.hull >= 0 {
		hull, other := max(a.hull, b.hull), a
		if a.hull >= 0 {
			other = b
		}
		return v.made(v.book.Hulls[hull].ID.Value, other)
	}
	if a.slot == b.slot && a.option != b.option && v.book.Slots[a.slot].Choose.Value != "several" {
		return false
	}
	return slices.ContainsFunc(v.book.Hulls, func(h Hull) bool { return v.made(h.ID.Value, a) && v.made(h.ID.Value, b) })
}

func (v *validation) made(hull string, t taker) bool {
	s := &v.book.Slots[t.slot]
	return isAmong(s.Hulls, hull) && isAmong(s.Options[t.option].Hulls, hull)
}

func (v *validation) severalTimes(t taker) bool {
	return t.option >= 0 && v.book.Slots[t.slot].Options[t.option].Most.Value > 1
}

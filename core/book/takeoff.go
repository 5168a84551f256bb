package book

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ribband/core/laminate"
)

// Quantity is what is built in of a material: a quantity, or one of the ways to measure it. What a circuit takes names
// no material of its own: it is one of the book's wires, fuses or switches, by its size.
type Quantity struct {
	// What is built in.
	Material Text `yaml:"material"`
	// How much is built in, in the material's unit, without waste.
	Quantity Formula `yaml:"quantity"`
	// Sheet foam by area and thickness.
	Foam *Foam `yaml:"foam"`
	// Timber by finished size.
	Timber *Timber `yaml:"timber"`
	// A bent frame by its hoops.
	Tube *Tube `yaml:"tube"`
	// Paint, varnish or oil by area and coats.
	Coat *Coat `yaml:"coat"`
	// Gelcoat by area and thickness when wet.
	Gelcoat *Gelcoat `yaml:"gelcoat"`
	// What the layout of this cut takes of its stock, offcuts included.
	Cut Text `yaml:"cut"`
	// Both conductors of this circuit, in the cable of its size.
	Wire Text `yaml:"wire"`
	// The fuse of this circuit with its holder, of its size.
	Fuse Text `yaml:"fuse"`
	// A battery switch in this circuit, which carries as much as its fuse.
	Switch Text `yaml:"switch"`
	// One more fuse of the size of this circuit's, without a holder.
	Spare Text `yaml:"spare"`
	// Where it stands.
	At Position `json:"-"`

	// The operation that takes it; the first of the item where not given.
	Operation Text `yaml:"operation"`
	// Who brings it, where the yard does not buy it: customer.
	SuppliedBy Text `yaml:"supplied_by" json:",omitzero"`
}

// customer is who brings a material that the yard does not buy.
const customer = "customer"

// ByCustomer says whether the customer brings what an entry takes.
func (q *Quantity) ByCustomer() bool { return q.SuppliedBy.Value == customer }

// OfCircuit is what an entry takes of a circuit: a word of the keys of [Quantity], and the circuit. There is none where
// the word is empty.
func (q *Quantity) OfCircuit() (what string, circuit Text) {
	for _, x := range []struct {
		what    string
		circuit Text
	}{{"wire", q.Wire}, {"fuse", q.Fuse}, {"switch", q.Switch}, {"spare", q.Spare}} {
		if x.circuit.Value != "" {
			return x.what, x.circuit
		}
	}
	return "", Text{}
}

// Foam is sheet foam over an area.
type Foam struct {
	// Area, m².
	AreaM2 Formula `yaml:"area_m2,required"`
	// Thickness, mm.
	ThicknessMm Formula `yaml:"thickness_mm,required"`
}

// Timber is parts of one section with their finished size.
type Timber struct {
	// Finished thickness, mm.
	ThicknessMm Formula `yaml:"thickness_mm,required"`
	// Finished width, mm.
	WidthMm Formula `yaml:"width_mm,required"`
	// Finished length of one, m.
	LengthM Formula `yaml:"length_m,required"`
	// 1 where not given.
	Count Formula `yaml:"count"`
}

// Tube is a bent frame: hoops, each an upside-down U with two bends, and straight lengths.
type Tube struct {
	// How many hoops.
	Hoops Formula `yaml:"hoops,required"`
	// Width of a hoop, outside, m.
	WidthM Formula `yaml:"width_m,required"`
	// Height from the foot to the edge of the roof, m.
	HeightM Formula `yaml:"height_m,required"`
	// All straight lengths together, m.
	StraightM Formula `yaml:"straight_m"`
	// What the roof rises in the middle, m; 0 where not given.
	CrownM Formula `yaml:"crown_m"`
	// Radius of the bends to the tube's middle, m; 0 where not given.
	RadiusM Formula `yaml:"radius_m"`
}

// Coat is paint, varnish or oil over an area.
type Coat struct {
	// Area, m².
	AreaM2 Formula `yaml:"area_m2,required"`
	// How many coats.
	Coats Formula `yaml:"coats,required"`
	// Area that a litre covers in one coat, m²/l.
	CoverM2L Formula `yaml:"cover_m2_l,required"`
}

// Gelcoat is sprayed over an area, to a thickness when wet.
type Gelcoat struct {
	// Area, m².
	AreaM2 Formula `yaml:"area_m2,required"`
	// Thickness when wet, mm.
	WetMm Formula `yaml:"wet_mm,required"`
}

// Wire is a cable that the yard buys: one conductor of a section.
type Wire struct {
	// Section of the conductor, mm².
	MM2 Number `yaml:"mm2,required"`
	// Material of the cable, kept in m.
	Material Text `yaml:"material,required"`
}

// FuseSize is a fuse that the yard keeps.
type FuseSize struct {
	// What it carries all the time, A.
	A Number `yaml:"a,required"`
	// The highest voltage that it may break, V.
	V Number `yaml:"v,required"`
	// What it interrupts at that voltage, kA.
	KA Number `yaml:"ka,required"`
	// Material of the fuse, kept by each.
	Material Text `yaml:"material,required"`
	// Material of its holder, kept by each, where it needs one.
	Holder Text `yaml:"holder"`
}

// Switch is a battery switch that the yard keeps.
type Switch struct {
	// What it carries all the time, A.
	A Number `yaml:"a,required"`
	// Material of the switch, kept by each.
	Material Text `yaml:"material,required"`
}

// Measure is a way to measure by numbers, with the parts in the order of their keys in the types. Those that are not
// given are empty.
type Measure struct {
	// Key of the way to measure, such as foam.
	Form string
	// Keys of its numbers.
	Keys []string
	// The numbers, in the order of the keys; one that is not given is empty.
	Parts []Formula
}

// Measures are the ways in which an entry measures by numbers: one at most in a sound book.
func (q *Quantity) Measures() (list []Measure) {
	if f := q.Foam; f != nil {
		list = append(list, Measure{"foam", []string{"area_m2", "thickness_mm"}, []Formula{f.AreaM2, f.ThicknessMm}})
	}
	if f := q.Timber; f != nil {
		list = append(list, Measure{"timber", []string{"thickness_mm", "width_mm", "length_m", "count"},
			[]Formula{f.ThicknessMm, f.WidthMm, f.LengthM, f.Count}})
	}
	if f := q.Tube; f != nil {
		list = append(list, Measure{"tube", []string{"hoops", "width_m", "height_m", "straight_m", "crown_m",
			"radius_m"},
			[]Formula{f.Hoops, f.WidthM, f.HeightM, f.StraightM, f.CrownM, f.RadiusM}})
	}
	if f := q.Coat; f != nil {
		list = append(list, Measure{"coat", []string{"area_m2", "coats", "cover_m2_l"},
			[]Formula{f.AreaM2, f.Coats, f.CoverM2L}})
	}
	if f := q.Gelcoat; f != nil {
		list = append(list, Measure{"gelcoat", []string{"area_m2", "wet_mm"}, []Formula{f.AreaM2, f.WetMm}})
	}
	return list
}

// measuredIn is the unit that a material is kept in by how it is measured.
var measuredIn = map[string]string{"foam": "m3", "timber": "m3", "tube": "m", "coat": "l", "gelcoat": "kg"}

const ways = "quantity, foam, timber, tube, coat, gelcoat, cut, wire, fuse, switch or spare"

// quantity reports an entry that is measured in no way or in several, in another unit than its material's, or by what
// the book does not have.
func (v *validation) quantity(q *Quantity, option string) {
	measures := q.Measures()
	switch n := len(measures) + count(!q.Quantity.Empty(), q.Cut.Value != "", q.Wire.Value != "", q.Fuse.Value != "",
		q.Switch.Value != "", q.Spare.Value != ""); {
	case n == 0:
		v.error(q.At, "add one of "+ways, "nothing says how much of the material %s is taken", q.Material)
	case n > 1:
		v.error(q.At, "keep one of "+ways, "the material %s is measured in %d ways", q.Material, n)
		return
	}
	if what, circuit := q.OfCircuit(); what != "" {
		v.ofCircuit(q, what, circuit)
		return
	}
	if q.Material.Value == "" {
		v.error(q.At, "add material: with its name", "the material of a quantity is missing")
		return
	}
	if !v.known("material", q.Material) {
		return
	}
	if n, err := strconv.ParseFloat(q.Quantity.Value, 64); err == nil && n != math.Trunc(n) &&
		v.book.Counted(v.unitOf(q.Material)) {
		v.error(q.Quantity.At, "write a whole number, or keep the material in m, l or kg with its pack",
			"%s of the material %s is no whole number, and pieces are taken whole", q.Quantity.Value, q.Material)
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
		v.error(f.At, "write a number above zero, or a formula that gives one", "the %s of %s is %s", key, form,
			f.Value)
	}
	v.partSized(form, key, f)
	if key == "wet_mm" && n > 0 {
		if err := laminate.CheckGelcoat(n); err != nil {
			v.error(f.At, "write it in mm, such as 0.55", "%v", err)
		}
	}
}

// partLimits are the sizes of parts by form and key.
var partLimits = map[string]Limit{
	"timber thickness_mm": Limits.TimberThickness, "timber width_mm": Limits.TimberWidth,
	"timber length_m": Limits.TimberLength, "foam thickness_mm": Limits.FoamThickness,
	"coat cover_m2_l": Limits.CoatCover, "coat coats": Limits.Coats,
}

// partSized reports a plain size a thousandfold off, as of metres for millimetres, and warns of one that is merely
// unusual.
func (v *validation) partSized(form, key string, f Formula) {
	l, ok := partLimits[form+" "+key]
	n, plain := f.Plain()
	if !ok || !plain || n <= 0 {
		return
	}
	v.thousandfold(f.At, n, l, fmt.Sprintf("the %s of %s", key, form))
}

// thousandfold reports a size that is far beyond its limit and within it when it is taken a thousand times larger or
// smaller; otherwise it warns.
func (v *validation) thousandfold(at Position, n float64, l Limit, what string) {
	switch {
	case l.Holds(n):
	case l.Holds(n*1000) && n < l.Least/5, l.Holds(n/1000) && n > l.Most*5:
		v.error(at, "mind the unit: "+l.Advice(), "%s is %g, a thousandfold off as it seems", what, n)
	default:
		v.warn(at, l.Advice(), "%s is %g", what, n)
	}
}

// brought checks what the customer of an option brings himself.
func (v *validation) brought(o *Option) {
	for i := range o.Materials {
		q := &o.Materials[i]
		what, circuit := q.OfCircuit()
		switch {
		case q.SuppliedBy.Value == "":
		case !q.ByCustomer():
			v.error(q.SuppliedBy.At, "write supplied_by: customer, or leave it out for what the yard buys",
				"%q brings a material of %s, and only a customer can", q.SuppliedBy, o.ID)
		case what != "":
			v.error(q.SuppliedBy.At, "leave supplied_by out: the yard has it by the size of the circuit",
				"the customer of %s is to bring the %s of the circuit %s", o.ID, what, circuit)
		}
	}
}

// base reports what the customer of any boat would have to bring.
func (v *validation) base(h *Hull) {
	for i := range h.Materials {
		if by := h.Materials[i].SuppliedBy; by.Value != "" {
			v.error(by.At, "move the line to an option, which a customer chooses who brings it",
				"the base boat of %s has a material that is supplied by %q", h.ID, by)
		}
	}
}

// lists are where the book keeps what circuits take.
var lists = map[string]string{"wire": "wires", "fuse": "fuses", "spare": "fuses", "switch": "switches"}

func (v *validation) ofCircuit(q *Quantity, what string, circuit Text) {
	v.known("circuit", circuit)
	list := lists[what]
	if q.Material.Value != "" {
		v.error(q.Material.At, fmt.Sprintf("leave material: out: the %s of the book name the material of each size",
			list), "the %s of the circuit %s names a material", what, circuit)
	}
	if kept := map[string]int{"wires": len(v.book.Wires), "fuses": len(v.book.Fuses),
		"switches": len(v.book.Switches)}; kept[list] == 0 {
		v.error(circuit.At, fmt.Sprintf("add %s: with the size and the material of each", list),
			"the book lists no %s for the circuit %s", list, circuit)
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
		v.error(q.Cut.At, "name the option at one of the stocks of the cut", "%q stands at no stock of the cut %s",
			option, q.Cut)
		return
	}
	switch unit := v.unitOf(q.Material); {
	case unit == "m" && c.Stocks[i].LengthMm.Given():
		v.error(q.Material.At, "name a material that is kept in m2",
			"the material %s is kept in m, and the cut %s is laid on sheets", q.Material, q.Cut)
	case unit != "m" && unit != "m2" && v.isUnit(unit):
		v.error(q.Material.At, "name a material that is kept in m2, or in m for a roll",
			"the material %s is kept in %s", q.Material, unit)
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
			v.error(w.MM2.At, "write the section of the conductor in mm2, such as 2.5", "a cable has %g mm2",
				w.MM2.Value)
		}
		if w.MM2.Value > 0 {
			v.thousandfold(w.MM2.At, w.MM2.Value, Limits.CableMM2, "the section of "+w.Material.Value)
		}
		if seen[w.MM2.Value] {
			v.error(w.MM2.At, "keep one of them", "two cables have %g mm2", w.MM2.Value)
		}
		seen[w.MM2.Value] = true
		if v.known("material", w.Material) {
			v.keptIn(w.Material, "m", "cable")
		}
	}
	if len(v.book.Wires) > 0 {
		v.takers("wire", func(q *Quantity) Text { return q.Wire })
	}
}

// fuses reports fuses and switches that are listed twice, or have no current, voltage or interrupting capacity.
func (v *validation) fuses() {
	sized := map[string]bool{} // materials that go by the circuit
	size := func(n Number, what, unit string, most float64) {
		if !(n.Value > 0 && n.Value <= most) {
			v.error(n.At, fmt.Sprintf("write it in %s, above zero and at most %g", unit, most), "the %s is %g %s",
				what, n.Value, unit)
		}
	}
	each := func(material Text, what string) {
		if material.Value != "" && v.known("material", material) {
			v.keptIn(material, "each", what)
			sized[material.Value] = true
		}
	}
	type key struct{ a, v, ka float64 }
	seen := map[key]bool{}
	for _, f := range v.book.Fuses {
		size(f.A, "current of a fuse", "A", 2000)
		size(f.V, "voltage of a fuse", "V", 1500)
		size(f.KA, "interrupting capacity of a fuse", "kA", 200)
		each(f.Material, "fuse")
		each(f.Holder, "fuse holder")
		if k := (key{f.A.Value, f.V.Value, f.KA.Value}); seen[k] {
			v.error(f.A.At, "keep one of them", "two fuses have %g A, %g V and %g kA", k.a, k.v, k.ka)
		} else {
			seen[k] = true
		}
	}
	amps := map[float64]bool{}
	for _, s := range v.book.Switches {
		size(s.A, "current of a battery switch", "A", 2000)
		each(s.Material, "battery switch")
		if amps[s.A.Value] {
			v.error(s.A.At, "keep one of them", "two battery switches have %g A", s.A.Value)
		}
		amps[s.A.Value] = true
	}
	if len(v.book.Fuses) > 0 {
		v.takers("fuse", func(q *Quantity) Text { return q.Fuse })
	}
	v.unsized(sized)
}

// unsized reports fuses, holders and switches of the lists that an item takes by a quantity: their size would not
// follow the circuit.
func (v *validation) unsized(sized map[string]bool) {
	look := func(list []Quantity) {
		for i := range list {
			if m := list[i].Material; sized[m.Value] {
				v.error(m.At, "take it by fuse:, switch: or spare: with the circuit that it is in",
					"the material %s goes by the size of a circuit, and here by a quantity", m)
			}
		}
	}
	for i := range v.book.Hulls {
		look(v.book.Hulls[i].Materials)
	}
	for i := range v.book.Slots {
		for j := range v.book.Slots[i].Options {
			look(v.book.Slots[i].Options[j].Materials)
		}
	}
}

// taker is an item that takes the wire or the fuse of a circuit.
type taker struct {
	hull, slot, option int // -1: no hull, or no option
	at                 Position
}

// takers reports circuits whose wire or fuse nobody takes, or two items that may be in one boat. Which of a slot's
// options have a circuit, only a boat says.
func (v *validation) takers(what string, of func(*Quantity) Text) {
	by := map[string][]taker{}
	note := func(materials []Quantity, hull, slot, option int) {
		for i := range materials {
			if w := of(&materials[i]); w.Value != "" {
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
			v.error(c.ID.At, fmt.Sprintf("add {%s: %s} to the materials of what has the circuit", what, c.ID),
				"no item takes the %s of the circuit %s", what, c.ID)
		}
		for i := range list {
			if j := slices.IndexFunc(list[:i], func(other taker) bool { return v.together(other, list[i]) }); j >= 0 {
				v.error(list[i].at, fmt.Sprintf("the other is at %s; let one of them take it, or only options of a "+
					"slot of one", list[j].at), "the %s of the circuit %s may be taken twice in one boat", what, c.ID)
				break
			}
			if v.severalTimes(list[i]) {
				v.error(list[i].at, "let an item that is there once take it",
					"the %s of the circuit %s may be taken several times in one boat", what, c.ID)
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
	if a.slot == b.slot && a.option != b.option && v.book.Slots[a.slot].Choose.Value != "multiple" {
		return false
	}
	return slices.ContainsFunc(v.book.Hulls, func(h Hull) bool {
		return v.made(h.ID.Value, a) &&
			v.made(h.ID.Value, b)
	})
}

func (v *validation) made(hull string, t taker) bool {
	s := &v.book.Slots[t.slot]
	return isAmong(s.Hulls, hull) && isAmong(s.Options[t.option].Hulls, hull)
}

func (v *validation) severalTimes(t taker) bool {
	return t.option >= 0 && v.book.Slots[t.slot].Options[t.option].Most.Value > 1
}

package figures

import (
	"ribband/core/formula"
	"ribband/core/hull"
	"ribband/core/pack"
)

// masses is the mass table of a pack. It is the one source of every module; what it comes to stands in
// [formula.State.Masses].
type masses struct {
	pack    *pack.Pack
	hulls   []massAt
	options []massAt
	carry   []int   // the options that have a mass
	kg      int     // the figure of the mass
	seats   []place // where the persons' centre is
	sides   []pack.Value
	persons number
}

// massAt is the mass of an item and where it is, and what it counts as where capacity and flotation are worked out.
type massAt struct {
	kg        pack.Value
	at        place
	machinery bool
	sunk      float64 // share of its mass that it weighs under water
}

// place is where something is; the zero place is unknown.
type place struct{ x, y, z pack.Value }

// known says whether the book gives the place; it gives all three coordinates or none.
func (p *place) known() bool { return p.x.Given() }

// newMasses finds the masses of a pack and their places. Persons of a hull without seats are where the centre of its
// base boat is, so that they trim it little.
func newMasses(n *parts) *masses {
	p, kg := n.pack, n.givens[MassKg]
	m := &masses{pack: p, persons: n.used(UsePersons), kg: kg}
	for i := range p.Hulls {
		h := &p.Hulls[i]
		centre := placeOf(p, h.Place)
		sunk, _ := partOf(h.Submerged, hullMaterial) // whoever reads it checks it
		m.hulls = append(m.hulls, massAt{kg: carriedMass(p, h.Carries, kg), at: centre, sunk: sunk.factor})
		if h.Seats == nil {
			m.seats, m.sides = append(m.seats, centre), append(m.sides, pack.Value{})
		} else {
			m.seats, m.sides = append(m.seats, placeOf(p, &h.Seats.Place)), append(m.sides, p.Value(h.Seats.Side))
		}
	}
	for i := range p.Options {
		o := &p.Options[i]
		sunk, _ := partOf(o.Submerged, optionMaterial)
		mass := massAt{carriedMass(p, o.Carries, kg), placeOf(p, m.placed(i)), p.Slots[o.Slot].Machinery, sunk.factor}
		if m.options = append(m.options, mass); mass.kg.Given() {
			m.carry = append(m.carry, i)
		}
	}
	return m
}

// placed is where the book puts an option: its own place or its slot's; nil for neither.
func (m *masses) placed(option int) *pack.Place {
	o := &m.pack.Options[option]
	if o.Place != nil {
		return o.Place
	}
	return m.pack.Slots[o.Slot].Place
}

// carriedMass is the mass among what something carries; not given where it has none.
func carriedMass(p *pack.Pack, list []pack.Contribution, figure int) pack.Value {
	for _, c := range list {
		if c.Figure == figure {
			return p.Value(c.Amount)
		}
	}
	return pack.Value{}
}

// placeOf prepares a place of the book; of none the zero place.
func placeOf(p *pack.Pack, at *pack.Place) place {
	if at == nil {
		return place{}
	}
	return place{p.Value(at.X), p.Value(at.Y), p.Value(at.Z)}
}

// reads is what the table depends on: the options that have a mass, and what their masses and places read.
func (m *masses) reads() formula.Reads {
	all := formula.Reads{HullID: true, Options: m.carry}
	for i := range m.pack.HullFields {
		all.Hull = append(all.Hull, i)
	}
	list := []formula.Reads{all}
	for i := range m.pack.Hulls {
		h := &m.pack.Hulls[i]
		list = append(list, m.massReads(h.Carries), h.Place.Reads())
		if h.Seats != nil {
			list = append(list, h.Seats.Place.Reads(), h.Seats.Side.Reads())
		}
	}
	for _, o := range m.carry {
		list = append(list, m.readsOf(o))
	}
	return formula.Union(list)
}

// readsOf is what the mass and the place of an option read. What has no place of its own is at the base boat's.
func (m *masses) readsOf(option int) formula.Reads {
	r := m.massReads(m.pack.Options[option].Carries).With(formula.Reads{Options: []int{option}})
	if at := m.placed(option); at != nil {
		return r.With(at.Reads())
	}
	for i := range m.pack.Hulls {
		r = r.With(m.pack.Hulls[i].Place.Reads())
	}
	return r
}

// massReads is what the mass among what something carries reads.
func (m *masses) massReads(list []pack.Contribution) (r formula.Reads) {
	for _, c := range list {
		if c.Figure == m.kg {
			r = r.With(c.Amount.Reads())
		}
	}
	return r
}

// each visits every mass of the boat without persons: the base boat and the options.
func (m *masses) each(st *formula.State, visit func(option int, kg float64, at *place)) {
	if h := &m.hulls[st.HullID]; h.kg.Given() {
		visit(BaseBoat, h.kg.Of(st), &h.at)
	}
	for _, o := range m.carry {
		if n := st.Counts[o]; n > 0 {
			visit(o, float64(n)*m.options[o].kg.Of(st), &m.options[o].at)
		}
	}
}

// moments are sums over masses: kg, and their moments about the axes of the hull, kg·m; kg of machinery, of the rest,
// and what the rest weighs under water.
type moments struct{ kg, x, y, z, machinery, rest, submerged float64 }

// sum adds two halves of the tree up. Moments are added, not centres, so that a half without mass does no harm.
func (m *moments) sum(a, b *moments) {
	m.kg, m.x, m.y, m.z = a.kg+b.kg, a.x+b.x, a.y+b.y, a.z+b.z
	m.machinery, m.rest, m.submerged = a.machinery+b.machinery, a.rest+b.rest, a.submerged+b.submerged
}

// carried writes what the option behind carrier k adds to a boat; nothing where the boat is without it.
func (m *masses) carried(st *formula.State, k int, into *moments) {
	o := m.carry[k]
	if n := st.Counts[o]; n > 0 {
		m.put(&m.options[o], float64(n), st, into)
	}
}

// put writes so many pieces of an item as moments. Its material decides how much of the rest stays under water; of
// machinery the rules of capacity count its own share.
func (m *masses) put(item *massAt, count float64, st *formula.State, into *moments) {
	kg := count * item.kg.Of(st)
	c := m.centre(&item.at, st)
	*into = moments{kg: kg, x: kg * c[0], y: kg * c[1], z: kg * c[2]}
	if item.machinery {
		into.machinery = kg
	} else {
		into.rest, into.submerged = kg, kg*item.sunk
	}
}

// light is the boat without persons, from the sum of its options.
func (m *masses) light(st *formula.State, options moments) formula.Masses {
	all := options
	if h := &m.hulls[st.HullID]; h.kg.Given() {
		var base moments
		m.put(h, 1, st, &base)
		all.sum(&base, &options)
	}
	if all.kg == 0 {
		return formula.Masses{}
	}
	return formula.Masses{Kg: all.kg, X: all.x / all.kg, Y: all.y / all.kg, Z: all.z / all.kg,
		MachineryKg: all.machinery, RestKg: all.rest, SubmergedKg: all.submerged}
}

// lightLoad is the boat without persons as package hull takes it.
func lightLoad(m formula.Masses) hull.Load {
	return hull.Load{Mass: m.Kg, LCG: m.X, TCG: m.Y, VCG: m.Z}
}

// centre is where something is; what has no place of its own is where the base boat's centre is.
func (m *masses) centre(at *place, st *formula.State) [3]float64 {
	if !at.known() {
		at = &m.hulls[st.HullID].at
	}
	if !at.known() {
		return [3]float64{}
	}
	return [3]float64{at.x.Of(st), at.y.Of(st), at.z.Of(st)}
}

// people are the persons and their things, sitting where the hull has its seats.
func (m *masses) people(st *formula.State) hull.Load {
	c := m.seated(st)
	return hull.Load{Mass: m.persons(st) * (PersonKg + StoresKg), LCG: c[0], TCG: c[1], VCG: c[2]}
}

// seated is the centre of a person who sits: above the seat. Where the book has no seats it is that of the base boat.
func (m *masses) seated(st *formula.State) [3]float64 {
	c := m.centre(&m.seats[st.HullID], st)
	if m.pack.Hulls[st.HullID].Seats != nil {
		c[2] += SeatedCentreM
	}
	return c
}

// loaded is the boat with its margin for growth and its persons.
func (m *masses) loaded(st *formula.State) hull.Load {
	return lightLoad(st.Masses).WithMargin(GrowthShare, 0).And(m.people(st))
}

// What a line of the mass table is of, where that is no option.
const (
	BaseBoat = -1
	Aboard   = -2 // the persons and their things
)

// Mass is a line of the mass table: an option by its index, with its title as name; or one of [BaseBoat] and [Aboard],
// without a name, since the words are the reader's.
type Mass struct {
	Option int
	hull.Item
}

// MassTable lists every mass of a boat with its place, persons last; nil where the book has no masses.
func (f *Figures) MassTable(st *formula.State) []Mass {
	if _, ok := f.parts.givens[MassKg]; !ok {
		return nil
	}
	m := f.parts.masses()
	var items []Mass
	m.each(st, func(option int, kg float64, at *place) {
		name := ""
		if option != BaseBoat {
			name = f.pack.Options[option].Title
		}
		c := m.centre(at, st)
		items = append(items, Mass{option, hull.Item{Name: name, Mass: kg, X: c[0], Y: c[1], Z: c[2]}})
	})
	l := m.people(st)
	return append(items, Mass{Aboard, hull.Item{Mass: l.Mass, X: l.LCG, Y: l.TCG, Z: l.VCG}})
}

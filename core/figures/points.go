package figures

import (
	"math"
	"slices"

	"ribband/core/formula"
	"ribband/core/hull"
	"ribband/core/pack"
)

// Where a seated person's centre and the top of the head are, above the seat, m.
const (
	SeatedCentreM = 0.25 // of the whole body, thighs and feet low; from memory of anthropometric tables
	// mean sitting height of adult men, rounded down, and more than that of women; from memory of anthropometric tables
	SeatedHeadM = 0.90
)

// points are the high and low points of the hulls and options of a pack, and where water comes aboard.
type points struct {
	pack    *pack.Pack
	hulls   []located
	options []located
	some    []int // options that have points
	sheers  [][]spot
	masses  *masses
}

// located are points with their values.
type located struct{ heights, depths, openings []at }

// at is a point of the book with the states in which it is there, and how deep it must lie under water, if it must.
type at struct {
	place
	states   []pack.State
	immersed pack.Value // how deep it must lie under water
	must     bool       // whether it must
}

// spot is a fixed point of a boat, m.
type spot struct{ x, y, z float64 }

// newPoints finds them; without the mass table only what stands on the road can be asked.
func newPoints(p *pack.Pack, m *masses) *points {
	all := &points{pack: p, masses: m}
	for i := range p.Hulls {
		h := &p.Hulls[i]
		all.hulls = append(all.hulls, locate(p, &h.Points))
		var sheer []spot
		for _, s := range h.Offsets {
			sheer = append(sheer, spot{s.X, s.Y[len(s.Y)-1], s.Z[len(s.Z)-1]})
		}
		all.sheers = append(all.sheers, sheer)
	}
	for i := range p.Options {
		all.options = append(all.options, locate(p, &p.Options[i].Points))
		if len(p.Options[i].Points.All()) > 0 {
			all.some = append(all.some, i)
		}
	}
	return all
}

// locate prepares the points of a hull or an option.
func locate(p *pack.Pack, list *pack.Points) (l located) {
	for into, from := range map[*[]at][]pack.Point{&l.heights: list.Heights, &l.depths: list.Depths,
		&l.openings: list.Openings} {
		for i := range from {
			x := &from[i]
			*into = append(*into, at{placeOf(p, &x.Place), x.States, p.Value(x.Immersed), !x.Immersed.Empty()})
		}
	}
	return l
}

// of is where the point is on a boat.
func (a *at) of(st *formula.State) spot { return spot{a.x.Of(st), a.y.Of(st), a.z.Of(st)} }

// pointReads is what the points of a book depend on.
func pointReads(p *pack.Pack) formula.Reads {
	return readsOfPoints(p, func(pack.Point) bool { return true })
}

// readsOfPoints is what those points depend on that are meant, and the seats.
func readsOfPoints(p *pack.Pack, meant func(pack.Point) bool) formula.Reads {
	list := []formula.Reads{{HullID: true}}
	add := func(points *pack.Points, option int) {
		for _, x := range points.All() {
			if !meant(x) {
				continue
			}
			list = append(list, x.Place.Reads(), x.Immersed.Reads())
			if option >= 0 {
				list = append(list, formula.Reads{Options: []int{option}})
			}
		}
	}
	for i := range p.Hulls {
		add(&p.Hulls[i].Points, -1)
		if s := p.Hulls[i].Seats; s != nil {
			list = append(list, s.Place.Reads())
		}
	}
	for i := range p.Options {
		add(&p.Options[i].Points, i)
	}
	return formula.Union(list)
}

// each visits the points of the boat: those of the hull, and those of the options that it has.
func (p *points) each(st *formula.State, visit func(*located)) {
	visit(&p.hulls[st.HullID])
	for _, o := range p.some {
		if st.Counts[o] > 0 {
			visit(&p.options[o])
		}
	}
}

// high visits every high point of the boat in a state: the sheer, what the book names, and, but on the road or without
// the mass table, the heads of seated persons.
func (p *points) high(st *formula.State, state pack.State, visit func(spot)) {
	for _, s := range p.sheers[st.HullID] {
		visit(s)
		// a boat that heels stands higher on one side: the sheer counts on both
		visit(spot{s.x, -s.y, s.z})
	}
	if p.masses != nil && p.pack.Hulls[st.HullID].Seats != nil && state != pack.Road {
		seat := p.masses.centre(&p.masses.seats[st.HullID], st)
		visit(spot{seat[0], seat[1], seat[2] + SeatedHeadM})
	}
	p.each(st, func(l *located) {
		for i := range l.heights {
			if h := &l.heights[i]; slices.Contains(h.states, state) {
				visit(h.of(st))
			}
		}
	})
}

// gunwale is the sheer at a place along the boat, to starboard.
func (p *points) gunwale(hullID int, x float64) spot {
	list := p.sheers[hullID]
	i := 1
	for i < len(list)-1 && list[i].x < x {
		i++
	}
	a, b := list[i-1], list[i]
	r := max(0, min(1, (x-a.x)/(b.x-a.x)))
	return spot{a.x + float64(r*(b.x-a.x)), a.y + float64(r*(b.y-a.y)), a.z + float64(r*(b.z-a.z))}
}

// folds says whether the boat has something that stands lower in the state folded than up, and nothing that stands up
// and cannot fold.
func (p *points) folds(st *formula.State) bool {
	folds, stays := false, false
	p.each(st, func(l *located) {
		up, folded := l.stands(pack.Up), l.stands(pack.Folded)
		folds = folds || folded && l.only(pack.Folded)
		stays = stays || up && !folded
	})
	return folds && !stays
}

// stands says whether something is there in a state, however high.
func (l *located) stands(s pack.State) bool {
	return slices.ContainsFunc(l.heights, func(h at) bool { return slices.Contains(h.states, s) })
}

// only says that some point is there in a state and not when up.
func (l *located) only(s pack.State) bool {
	return slices.ContainsFunc(l.heights, func(h at) bool {
		return slices.Contains(h.states, s) &&
			!slices.Contains(h.states, pack.Up)
	})
}

// above is the height of the highest point above the water in a state, m.
func (p *points) above(st *formula.State, f *hull.Floating, state pack.State) float64 {
	most, water := 0.0, f.Surface()
	p.high(st, state, func(s spot) { most = max(most, water.Above(s.x, s.y, s.z)) })
	return most
}

// deepest is the depth of the deepest point under water, m, and the least by which a point that must be immersed is
// deeper than it must be; 0 where there is none.
func (p *points) deepest(st *formula.State, f *hull.Floating) (draught, immersion float64) {
	draught, immersion = f.Depth, math.Inf(1)
	water := f.Surface()
	p.each(st, func(l *located) {
		for i := range l.depths {
			d := &l.depths[i]
			s := d.of(st)
			depth := -float64(water.Above(s.x, s.y, s.z))
			draught = max(draught, depth)
			if d.must {
				immersion = min(immersion, depth-d.immersed.Of(st))
			}
		}
	})
	// zero is no claim that something lies deep enough: a book that has a rule over it has points that must be immersed
	if math.IsInf(immersion, 1) {
		immersion = 0
	}
	return draught, immersion
}

// inlets are where water comes aboard of the boat beside the sheer.
func (p *points) inlets(st *formula.State, into []hull.Point) []hull.Point {
	p.each(st, func(l *located) {
		for i := range l.openings {
			s := l.openings[i].of(st)
			into = append(into, hull.Point{X: s.x, Y: s.y, Z: s.z})
		}
	})
	return into
}

// SeatHeight is that of the seats of a boat's hull above the base line, m; 0 where the book does not say.
func (f *Figures) SeatHeight(st *formula.State) float64 {
	if f.pack.Hulls[st.HullID].Seats == nil {
		return 0
	}
	return f.parts.masses().seats[st.HullID].z.Of(st)
}

// Height is a high point of a boat that the book names.
type Height struct {
	hull.Point
	Option int // whose it is; -1: the hull's
	States []pack.State
}

// Heights are the high points of a boat that the book names, in all states: those of the hull, then those of the
// options aboard.
func (f *Figures) Heights(st *formula.State) (list []Height) {
	all := f.parts.standing()
	add := func(option int, l *located) {
		for i := range l.heights {
			s := l.heights[i].of(st)
			list = append(list, Height{hull.Point{X: s.x, Y: s.y, Z: s.z}, option, l.heights[i].states})
		}
	}
	add(-1, &all.hulls[st.HullID])
	for _, o := range all.some {
		if st.Counts[o] > 0 {
			add(o, &all.options[o])
		}
	}
	return list
}

// Extent is where something lies and how large it is about that, m.
type Extent struct{ X, Y, Z, Length, Width, Height float64 }

// OptionExtent is the extent of an option on a boat; what the book does not say of it is 0.
func (f *Figures) OptionExtent(st *formula.State, option int) (out Extent) {
	o := &f.pack.Options[option]
	at, e := o.Place, o.Extent
	if at == nil {
		at = f.pack.Slots[o.Slot].Place
	}
	of := func(p formula.Program) float64 {
		if p.Empty() {
			return 0
		}
		return p.Number()(st)
	}
	if at != nil {
		out.X, out.Y, out.Z = of(at.X), of(at.Y), of(at.Z)
	}
	if e != nil {
		out.Length, out.Width, out.Height = of(e.Length), of(e.Width), of(e.Height)
	}
	return out
}

package publish

import (
	"fmt"
	"math"
	"slices"

	"ribband/core/book"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
)

// What counts as room, m.
const (
	leastRoom  = 0.03 // half-breadth beside a place inside the hull: a skeg or a stem holds nothing
	tallest    = 4.0  // above the deck edge: nothing of a launch stands higher
	roomForAll = 1e-6 // of rounding
)

// noRoom reports places that do not lie in the hull, and extents that reach out of it: of the base boat, its seats and
// openings, and of every option on every hull that it is made for, put into the standard build. Each thing is reported
// once, on the first hull.
// A place is wrong most often by its unit, its sign or its origin: millimetres, port for starboard, the bow for the aft
// end. Such a boat still floats somewhere, so nothing else would notice; outside the hull it is certainly wrong.
func noRoom(e *engine.Engine, b *book.Book) (diagnostics []book.Diagnostic) {
	all, err := figures.Compile(e.Pack)
	if err != nil {
		return nil // reported where the engine is compiled
	}
	sorted := inBuildOrder(b)
	said := map[int]bool{} // by option
	for h := range e.Pack.Hulls {
		// a hull without a table has no known sides
		if len(e.Pack.Hulls[h].Offsets) == 0 {
			continue
		}
		r := room{pack: e.Pack, lines: e.Pack.Hulls[h].Offsets, hull: e.Pack.Hulls[h].ID}
		// one try: the standard build as it is listed, whatever clashes in it
		r.state = e.Fit.Complete(h, e.StandardUse(), e.Fit.NewChoices(), 1).State
		r.tried = all.NewIncremental(r.state).Clone()
		diagnostics = append(diagnostics, r.ofHull(h, &sorted.Hulls[h])...)
		diagnostics = append(diagnostics, r.draught(&sorted.Hulls[h])...)
		// options are numbered through all slots, in build order
		o := 0
		for s := range sorted.Slots {
			for i := range sorted.Slots[s].Options {
				if e.Pack.Made(o, h) && !said[o] {
					if p, wrong := r.ofOption(o, &sorted.Slots[s], &sorted.Slots[s].Options[i]); wrong {
						diagnostics, said[o] = append(diagnostics, p), true
					}
				}
				o++
			}
		}
	}
	return diagnostics
}

// room is what a hull has of it.
type room struct {
	pack *pack.Pack
	// the table of offsets, from the aft end forward, m
	lines []pack.Station
	// its identifier, for messages
	hull string
	// its standard build: places may be formulas over the boat
	state *formula.State
	// it, with one option after the other
	tried *figures.Incremental
}

// ofHull looks at the base boat: its own place, its seats and its openings.
func (r *room) ofHull(i int, h *book.Hull) (diagnostics []book.Diagnostic) {
	look := func(what string, at *pack.Place, where book.Position) {
		if at == nil {
			return
		}
		// a place that cannot be computed is reported where its formula stands
		if x, y, z := r.at(at, r.state); formula.Finite(x + y + z) {
			if why := r.holds(x, y, z); why != "" {
				diagnostics = append(diagnostics, book.Diagnostic{Position: where,
					Message: fmt.Sprintf("%s of %s: out of the hull, %s", what, r.hull, why),
					Advice:  "give x from the aft end, y to starboard and z above the base line, in metres"})
			}
		}
	}
	hull := &r.pack.Hulls[i]
	if h.Place != nil {
		look("the place", hull.Place, h.Place.X.At)
	}
	// the weight of the persons acts at their seats: a wrong one heels the boat
	if h.Seats != nil {
		look("the seats", &hull.Seats.Place, h.Seats.X.At)
	}
	// water comes aboard at openings; one that lies outside would never be reached
	for k := range h.Openings {
		look("the opening "+h.Openings[k].Title.Value, &hull.Openings[k].Place, h.Openings[k].X.At)
	}
	return diagnostics
}

// draughtApart is the share by which a stated draught may differ from that of the standard build before it is likely a
// slip. The standard build has persons and gear that a drawing has not: common practice, no source.
const draughtApart = 0.15

// draught warns of a stated draught of the hull, draft_m, at which its standard build does not float.
func (r *room) draught(h *book.Hull) []book.Diagnostic {
	// the figure that floating computes, under whatever name the book shows it
	i := slices.IndexFunc(r.pack.Figures,
		func(f pack.Figure) bool { return f.Computed == string(figures.FloatingDraft) })
	for _, d := range h.Dimensions {
		if d.Key.Value != string(figures.HullDraft) || i < 0 || len(r.state.Faults) > 0 {
			continue
		}
		// an owner states the draught from drawings of the empty boat, so some difference is no slip
		if floats := r.state.Figures[i]; math.Abs(d.Value.Value-floats) > draughtApart*floats {
			return []book.Diagnostic{{Position: d.Value.At, Grade: book.Warning,
				Message: fmt.Sprintf("%s of %s is %g m, and its standard build draws %.2f m with its persons on board",
					d.Key, h.ID, d.Value.Value, floats),
				Advice: "state the draught that the offsets give, or mend the masses"}}
		}
	}
	return nil
}

// ofOption looks at the place and the extent of an option, in the standard build with nothing else in its slot.
func (r *room) ofOption(o int, s *book.Slot, option *book.Option) (p book.Diagnostic, wrong bool) {
	// an option may leave its place to its slot: then the slot's lines are at fault
	def := &r.pack.Options[o]
	at, where := def.Place, option.Place
	if at == nil {
		at, where = r.pack.Slots[def.Slot].Place, s.Place
	}
	// nothing that has a place, such as a colour
	if at == nil && def.Extent == nil && len(def.Openings) == 0 {
		return p, false
	}
	// places may be formulas over the option itself and over what follows from it
	st := r.with(o)
	defer r.without(o)
	// a propeller or a rudder hangs outside, where the hull says nothing of its room
	if at != nil && !at.Outside {
		x, y, z := r.at(at, st)
		why := ""
		if formula.Finite(x + y + z) {
			why = r.holds(x, y, z)
		}
		if why != "" {
			return book.Diagnostic{Position: where.X.At,
				Message: fmt.Sprintf("the place of %s is out of the hull on %s: %s", option.ID, r.hull, why),
				Advice:  "give its place x, y, z in metres; what hangs outside says outside: true"}, true
		}
		if why = r.extent(def.Extent, x, y, z, st); why != "" {
			return book.Diagnostic{Position: option.Extent.LengthM.At,
				Message: fmt.Sprintf("%s has no room on %s: %s", option.ID, r.hull, why),
				Advice:  "move its place, make it smaller, or leave the hull out of its hulls"}, true
		}
	} else if def.Extent != nil {
		return book.Diagnostic{Position: option.Extent.LengthM.At,
			Message: fmt.Sprintf("%s has an extent and no place inside the hull", option.ID),
			Advice:  "add place: {x: ..., z: ...}, or leave out the extent"}, true
	}
	for k := range def.Openings {
		x, y, z := r.at(&def.Openings[k].Place, st)
		if why := r.holds(x, y, z); why != "" {
			return book.Diagnostic{Position: option.Openings[k].X.At,
				Message: fmt.Sprintf("the opening %s of %s is out of the hull on %s: %s", option.Openings[k].Title,
					option.ID, r.hull, why),
				Advice: "give x from the aft end, y to starboard and z above the base line, in metres"}, true
		}
	}
	return p, false
}

// with is the standard build with one option in its slot, until [room.without] takes it out again.
// Figures follow, since places may depend on them; a clash is no matter here.
func (r *room) with(o int) *formula.State {
	slot := &r.pack.Slots[r.pack.Options[o].Slot]
	// whatever else stands in the slot goes out, in a slot of multiple options too: one thing is looked at
	for i := slot.First; i < slot.End; i++ {
		r.put(i, 0)
	}
	r.put(o, 1)
	r.tried.RunAll(func(int) {})
	return r.tried.State
}

// without puts back what stands in the slot of an option in the standard build.
func (r *room) without(o int) {
	slot := &r.pack.Slots[r.pack.Options[o].Slot]
	for i := slot.First; i < slot.End; i++ {
		r.put(i, r.state.Counts[i])
	}
}

// put sets the count of an option. The same count is left: every figure over the option would be computed anew.
func (r *room) put(o, count int) {
	if r.tried.State.Counts[o] != count {
		r.tried.Set(o, count)
	}
}

// at computes a place, m; a coordinate that the book leaves out is 0.
func (r *room) at(p *pack.Place, st *formula.State) (x, y, z float64) {
	value := func(f formula.Program) float64 {
		if f.Empty() {
			return 0
		}
		return f.Number()(st)
	}
	return value(p.X), value(p.Y), value(p.Z)
}

// holds says why a point is out of the hull; nothing where it is within its sides, above its bottom and not far above
// its deck edge.
func (r *room) holds(x, y, z float64) string {
	// tables run from the aft end forward
	aft, fore := r.lines[0].X, r.lines[len(r.lines)-1].X
	if x < aft || x > fore {
		return fmt.Sprintf("at %.2f m from the aft end, where the hull goes from %.2f to %.2f m", x, aft, fore)
	}
	keel, sheer := r.ends(x)
	switch {
	case z < keel:
		return fmt.Sprintf("%.2f m above the base line at %.2f m from the aft end, where the bottom is at %.2f m", z, x,
			keel)
	case z > sheer+tallest:
		return fmt.Sprintf("%.2f m above the base line, where the deck edge is at %.2f m", z, sheer)
	}
	// above the deck edge the side goes straight up: what stands on deck may be as far out as the deck is broad
	half := r.breadth(x, min(z, sheer))
	// at the stem and in a skeg even the centre line has no room, unless the hull is as narrow up to its deck
	if half+roomForAll < min(leastRoom, r.breadth(x, sheer)) {
		return fmt.Sprintf("%.2f m above the base line at %.2f m from the aft end, where a side of the hull is only "+
			"%.2f m broad", z, x, half)
	}
	// the hull is alike on both sides
	if math.Abs(y) > half+roomForAll {
		return fmt.Sprintf("%.2f m off the centre line at %.2f m from the aft end and %.2f m above the base line, "+
			"where a side of the hull is %.2f m broad", math.Abs(y), x, z, half)
	}
	return ""
}

// extent says why a box about a point reaches out of the hull.
func (r *room) extent(e *pack.Extent, x, y, z float64, st *formula.State) string {
	if e == nil {
		return ""
	}
	length, width, height := e.Length.Number()(st), e.Width.Number()(st), e.Height.Number()(st)
	// written so that a size that is no number fails, too
	if !(length >= 0) || !(width >= 0) || !(height >= 0) || !formula.Finite(length+width+height) {
		return fmt.Sprintf("it is %v m long, %v m broad and %v m high", length, width, height)
	}
	aft, fore := r.lines[0].X, r.lines[len(r.lines)-1].X
	// the ends of a box that lies fore and aft, whatever way it is turned on the boat
	if x-float64(length/2) < aft-roomForAll || x+float64(length/2) > fore+roomForAll {
		return fmt.Sprintf("it lies %.2f to %.2f m from the aft end, and the hull goes from %.2f to %.2f m",
			x-float64(length/2),
			x+float64(length/2), aft, fore)
	}
	// between two stations the hull is straight, so that it is enough to look at the ends and at the stations between
	places := []float64{x - float64(length/2), x + float64(length/2)}
	for _, s := range r.lines {
		if s.X > places[0] && s.X < places[1] {
			places = append(places, s.X)
		}
	}
	for _, at := range places {
		keel, sheer := r.ends(at)
		// what reaches above the deck edge is no longer inside
		if z+float64(height/2) > sheer+roomForAll {
			return fmt.Sprintf("at %.2f m from the aft end it reaches %.2f m above the base line, and the deck edge "+
				"is at %.2f m", at, z+float64(height/2), sheer)
		}
		// the lower corners are the narrowest place of a hull that flares outward
		low := z - float64(height/2)
		half := r.breadth(at, low)
		if low < keel-roomForAll || math.Abs(y)+float64(width/2) > half+roomForAll {
			return fmt.Sprintf("at %.2f m from the aft end and %.2f m above the base line it needs %.2f m on one "+
				"side, and the hull has %.2f m", at, low, math.Abs(y)+float64(width/2), half)
		}
	}
	return ""
}

// between finds the stations beside a place and how far it is from the first to the second.
func (r *room) between(x float64) (a, b *pack.Station, share float64) {
	i := 1
	for i < len(r.lines)-1 && r.lines[i].X < x {
		i++
	}
	a, b = &r.lines[i-1], &r.lines[i]
	return a, b, max(0, min(1, (x-a.X)/(b.X-a.X)))
}

// ends are the heights of keel and sheer at a place.
func (r *room) ends(x float64) (keel, sheer float64) {
	a, b, s := r.between(x)
	last := func(v []float64) float64 { return v[len(v)-1] }
	return a.Z[0] + float64(s*(b.Z[0]-a.Z[0])), last(a.Z) + float64(s*(last(b.Z)-last(a.Z)))
}

// breadth is the half-breadth at a place and height, on straight lines between points and stations; 0 below the keel.
func (r *room) breadth(x, z float64) float64 {
	a, b, s := r.between(x)
	return float64((1-s)*half(a, z)) + float64(s*half(b, z))
}

// half is the half-breadth of a station at a height, on straight lines between its points; 0 below its keel, and above
// its sheer that of the sheer.
func half(s *pack.Station, z float64) float64 {
	if z < s.Z[0] {
		return 0
	}
	for i := 1; i < len(s.Z); i++ {
		if z <= s.Z[i] && s.Z[i] > s.Z[i-1] {
			return s.Y[i-1] + float64((z-s.Z[i-1])/(s.Z[i]-s.Z[i-1])*(s.Y[i]-s.Y[i-1]))
		}
	}
	return s.Y[len(s.Y)-1]
}

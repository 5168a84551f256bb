package drawing

import (
	"math"
	"strconv"

	"ribband/core/hull"
	"ribband/core/msg"
)

// Sections is the body plan: sections aft of the middle to the left of the centre line, forward of it to the right,
// with the trace of the water. Stations count from the aft end, from 1.
type Sections struct {
	Boat
	// Nil: no water is drawn.
	Drafts *Drafts
	// Below the drawing.
	Notes []string
}

// sections is a body plan on its way onto paper.
type sections struct {
	Sections
	*canvas
	l      *lines
	scale  float64
	ox, oy float64 // where the base line crosses the centre line
}

// SVG draws the body plan. The error names what is wrong with offsets or draughts. On a wide page it grows no broader
// than 640 units, at which the sections lie well apart.
func (in Sections) SVG(f Format) (string, error) {
	c, err := f.canvas("sections")
	if err != nil {
		return "", err
	}
	k := &check{kind: c.kind}
	s := &sections{Sections: in, canvas: c, l: newLines(k, in.Offsets)}
	s.l.checkDrafts(k, in.Drafts)
	if k.err != nil {
		return "", k.err
	}
	s.scale = min(c.width-112, 640) / (2 * s.l.widest)
	s.ox, s.oy = float64(c.width/2)+14, 34+float64(s.scale*s.l.high)
	s.grid()
	s.water()
	s.curves()
	y := s.oy - float64(s.scale*min(0, s.l.low)) + 30
	s.dimensionAcross(s.ox-float64(s.scale*s.l.widest), s.ox+float64(s.scale*s.l.widest), y, s.words.Say("drawing.beam",
		s.long("beam", 2*s.l.widest)))
	s.height = s.barAndNotes(y+12, s.scale, in.Notes) + 8
	return s.finish(in.Name, s.describe()...)
}

// at is a point of a section on paper: y m from the centre line, z m above the base line.
func (s *sections) at(y, z float64) pt {
	return pt{s.ox + float64(s.scale*y), s.oy - float64(s.scale*z)}
}

// grid draws water lines at round heights, the base line and the centre line. The heights are those from which a
// section is set out on the floor.
func (s *sections) grid() {
	edge := s.l.widest + 6/s.scale
	for _, z := range s.heights(s.l.low, s.l.high) {
		if z > s.l.high+1e-9 || z < s.l.low-1e-9 {
			continue
		}
		a, b := s.at(-edge, z), s.at(edge, z)
		s.line(a, b, "stroke", rule, "stroke-width", "0.8")
		s.text(pt{a.x - 4, a.y + 4}, end, s.length(z), "font-size", s.number(smallSize), "fill", soft)
	}
	s.line(s.at(0, s.l.high+8/s.scale), s.at(0, min(0, s.l.low)-6/s.scale), "stroke", soft, "stroke-width", "0.8",
		"stroke-dasharray", "10 3 2 3")
	s.text(pt{s.at(-s.l.widest/2, 0).x, 16}, middle, s.words.Say("drawing.aft"), "font-size", s.number(smallSize),
		"fill", soft)
	s.text(pt{s.at(s.l.widest/2, 0).x, 16}, middle, s.words.Say("drawing.fore"), "font-size", s.number(smallSize),
		"fill", soft)
}

// curves draws the sections, thinned out to what stays readable, with the numbers of some: about twenty on a page,
// about ten on a telephone. The section in the middle stands on both sides; the last one is always drawn.
func (s *sections) curves() {
	n := len(s.l.o.Stations)
	step := max(1, (n+10)/21)
	if s.width < narrow {
		step = max(1, (n+5)/11)
	}
	last := map[float64]pt{-1: {1e9, 1e9}, 1: {1e9, 1e9}}
	for i, st := range s.l.o.Stations {
		if i%step != 0 && i != n-1 {
			continue
		}
		sides := []float64{1}
		if st.X < s.l.middle()-1e-9 {
			sides[0] = -1
		} else if st.X <= s.l.middle()+1e-9 {
			sides = []float64{-1, 1}
		}
		for _, side := range sides {
			last[side] = s.curve(i, st, side, last[side])
		}
	}
}

// curve draws a section on one side and numbers it unless the last number is too near; it gives the place of the last
// number.
func (s *sections) curve(i int, st hull.Station, side float64, before pt) pt {
	body := bodyBottom(st, s.l.widest)
	k := s.pen().move(s.at(0, st.Z[0]))
	var bilge []pt
	for j := range st.Z {
		q := s.at(side*st.Y[j], st.Z[j])
		if st.Z[j] < body {
			k.to(q)
			continue
		}
		bilge = append(bilge, q)
	}
	k.fair(bilge)
	colour := wood
	if side > 0 {
		colour = ink
	}
	s.path(k.String(), "fill", "none", "stroke", colour, "stroke-width", "1.1", "stroke-linejoin", "round")
	sheer := bilge[len(bilge)-1]
	at := pt{sheer.x + float64(side*3), sheer.y - 5}
	if math.Abs(at.x-before.x) < 17 && math.Abs(at.y-before.y) < 13 {
		return before
	}
	s.label(at, middle, strconv.Itoa(i+1), "fill", soft)
	return at
}

// water draws the water halfway along, and where it meets the sections.
func (s *sections) water() {
	if s.Drafts == nil {
		return
	}
	edge := s.l.widest + 6/s.scale
	z := s.l.level(s.Drafts, s.l.middle())
	a, b := s.at(-edge, z), s.at(edge, z)
	deep := s.at(0, s.l.low).y + 6
	s.rect(a.x, a.y, b.x-a.x, deep-a.y, "fill", water, "fill-opacity", "0.1")
	s.line(a, b, "stroke", water, "stroke-width", "1.4")
	for _, side := range []float64{-1, 1} {
		var trace []pt
		for _, st := range s.l.o.Stations {
			if (st.X-s.l.middle())*side < -1e-9 {
				continue
			}
			if y, ok := breadthAt(st, s.l.level(s.Drafts, st.X)); ok {
				trace = append(trace, s.at(side*y, s.l.level(s.Drafts, st.X)))
			}
		}
		if len(trace) > 1 {
			s.path(s.pen().move(trace[0]).to(trace[1:]...).String(), "fill", "none", "stroke", water, "stroke-width",
				"1.2", "stroke-dasharray", "4 3")
		}
	}
}

// breadthAt is the half-breadth of a section at a height, m, straight between two points of the table; ok is false
// above its sheer and below its keel.
func breadthAt(st hull.Station, z float64) (y float64, ok bool) {
	for i := 1; i < len(st.Z); i++ {
		if st.Z[i-1] <= z && z <= st.Z[i] {
			if st.Z[i] == st.Z[i-1] {
				return st.Y[i], true
			}
			return st.Y[i-1] + (st.Y[i]-st.Y[i-1])*(z-st.Z[i-1])/(st.Z[i]-st.Z[i-1]), true
		}
	}
	return 0, false
}

// describe says how the halves are to be read, and where the water stands.
func (s *sections) describe() []msg.Message {
	list := []msg.Message{msg.New("drawing.sections", msg.Count("stations", len(s.l.x)),
		s.long("beam", 2*s.l.widest))}
	if s.Drafts != nil {
		list = append(list, msg.New("drawing.sections-water",
			s.long("height", s.l.level(s.Drafts, s.l.middle()))))
	}
	return append(list, caution)
}

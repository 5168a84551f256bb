package solid

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Format is how large a still picture is, user units; the boat fills it.
type Format struct {
	ID            string // begins every id in it
	Width, Height float64
	Title         string
	Description   string
	// For paper, which is looked at in one size: points to a quarter of a user unit rather than a tenth, and none of
	// those that a line can do without.
	Small bool
}

// How fine places are written, steps in a user unit, and how far a small picture's lines may leave their way, steps.
const (
	fineSteps  = 10
	smallSteps = 4
	mostOff    = 2
)

// steps are those of the picture.
func (s *still) steps() float64 {
	if s.f.Small {
		return smallSteps
	}
	return fineSteps
}

// stroke is the attribute of a line so many tenths of a user unit wide.
func (s *still) stroke(tenths float64) string {
	return `stroke-width="` + number(tenths*s.steps()/fineSteps) + `"`
}

// Tones of the wash by the angle to the light, from shade to light, and the least cosine for each.
var tones = []struct{ from, tone float64 }{{-2, 0.68}, {0.08, 0.82}, {0.36, 0.92}, {0.66, 1}}

// What an edge is: the outline of the boat is drawn strongest.
const (
	crease = iota
	outline
)

// creaseCosine is that of the least angle between two faces at which there is an edge, and no round: 40 degrees.
const creaseCosine = 0.77

// seen is a face on its way to paper.
type seen struct {
	part    int
	corners []Vec     // afloat
	light   []float64 // how much of it falls on each corner, as the cosine of the angle
	normal  Vec
	depth   float64 // of its middle from the eye, m
	front   bool
	visible bool
}

// still is a picture being made.
type still struct {
	*Mesh
	c     *camera
	f     Format
	faces []seen
	edges map[[2]Place][]int // faces at an edge, by its ends, the lesser first
	depth []float64          // of the nearest face by pixel, m
	owner []int32
	wide  int
	high  int
	order map[[2]int32]int // on how many pixels the first of two faces lies behind the second
}

// Still draws a mesh from a view: areas of one tone, each after those that it hides a part of, then outlines and edges
// where they can be seen. Colours of lines are those of the page, as in package drawing.
func Still(m *Mesh, v View, f Format) string {
	margin := 12.0
	if f.Small { // all of the water stands on the paper
		margin = 30
	}
	s := &still{Mesh: m, f: f, c: newCamera(m, v, f.Width, f.Height, margin), edges: map[[2]Place][]int{},
		order: map[[2]int32]int{}}
	// Three passes: what there is, what of it is seen, and how it is painted.
	s.collect()
	s.rasterise()
	high := f.Height
	if f.Small && s.c.floats {
		for _, p := range s.shore() {
			high = max(high, math.Ceil(s.c.onPaper(p).Y))
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" viewBox="0 0 %s %s" role="img" `+
		`aria-labelledby="%s-title %s-desc"><title id="%s-title">%s</title><desc id="%s-desc">%s</desc>`,
		number(f.Width), number(f.Width), number(high), f.ID, f.ID, f.ID, escape(f.Title), f.ID,
		escape(f.Description))
	b.WriteString(`<g transform="scale(` + number(1/s.steps()) + `)" stroke-linejoin="round" stroke-linecap="round">`)
	s.paint(&b)
	s.ink(&b)
	b.WriteString("</g></svg>\n")
	return b.String()
}

// collect turns the faces to paper, and notes which meet at an edge.
func (s *still) collect() {
	eye := s.c.eye()
	// Places are whole millimetres: faces that meet have the very same ones.
	corners := map[Place][]int{} // the faces at a place
	var places [][]Place
	for _, f := range s.Mesh.Faces() {
		if s.Parts[f.Part].Finish&Hidden != 0 {
			continue
		}
		one := seen{part: f.Part}
		var middle Vec
		for i, q := range f.At {
			p := s.c.afloat(q)
			one.corners = append(one.corners, p)
			middle = middle.plus(p)
			corners[q] = append(corners[q], len(s.faces))
			a, b := q, f.At[(i+1)%len(f.At)]
			if less(b, a) {
				a, b = b, a
			}
			s.edges[[2]Place{a, b}] = append(s.edges[[2]Place{a, b}], len(s.faces))
		}
		// A face looks at the eye by where it stands: the eye is near, and directions differ from face to face.
		one.normal, middle = normal(one.corners), middle.by(1/float64(len(f.At)))
		one.front = one.normal.dot(eye.minus(middle)) > 0
		one.depth = middle.minus(eye).length()
		s.faces, places = append(s.faces, one), append(places, f.At)
	}
	// On what is round the light changes from corner to corner: each has the mean of the faces that meet there.
	for i := range s.faces {
		f := &s.faces[i]
		for _, q := range places[i] {
			var sum Vec
			// Not beyond a fold, nor from a part of another colour, which ends there.
			for _, k := range corners[q] {
				if g := &s.faces[k]; g.part == f.part && g.normal.dot(f.normal) > creaseCosine {
					sum = sum.plus(g.normal)
				}
			}
			f.light = append(f.light, sum.unit().dot(s.c.light))
		}
	}
}

// normal of a face that need not be plane: that of its diagonals.
func normal(at []Vec) Vec {
	if len(at) == 3 {
		return at[1].minus(at[0]).cross(at[2].minus(at[0])).unit()
	}
	return at[2].minus(at[0]).cross(at[3].minus(at[1])).unit()
}

func less(a, b Place) bool { return slices.Compare(a[:], b[:]) < 0 }

// clear says that a face can be seen through, and from both sides.
func (s *still) clear(f *seen) bool { return s.Parts[f.part].Finish&Clear != 0 }

// rasterise finds which face is seen at each user unit of the paper, so that what is hidden is neither painted nor
// outlined, and which lies behind which.
func (s *still) rasterise() {
	s.wide, s.high = int(s.f.Width), int(s.f.Height)
	// One user unit is fine enough: thinner things are tubes, for which their part speaks (see unhidden).
	s.depth, s.owner = make([]float64, s.wide*s.high), make([]int32, s.wide*s.high)
	for i := range s.depth {
		s.depth[i], s.owner[i] = math.Inf(1), -1
	}
	s.each(func(f *seen) bool { return f.front && !s.clear(f) }, func(face int32, r span) {
		for i := r.from; i < r.to; i++ {
			if d := 1 / r.near; d < s.depth[i] {
				s.depth[i], s.owner[i] = d, face
			}
			r.near += r.step
		}
	})
	for _, o := range s.owner {
		if o >= 0 {
			s.faces[o].visible = true
		}
	}
	// A pane is seen where it is not hidden, and hides nothing.
	s.each(s.clear, func(face int32, r span) {
		for i := r.from; i < r.to; i++ {
			if 1/r.near < s.depth[i] {
				s.faces[face].visible = true
			}
			r.near += r.step
		}
	})
	s.each(func(f *seen) bool { return f.visible }, s.behind)
}

// behind counts for a row of a face on how many user units it lies before or behind the face that is seen there. Most
// neighbours are of the same pair, which is noted once for all of them.
func (s *still) behind(face int32, r span) {
	var pair [2]int32
	n := 0
	for i := r.from; i < r.to; i++ {
		var now [2]int32
		switch o := s.owner[i]; {
		case o == face || o < 0:
			now = [2]int32{-1, -1}
		case 1/r.near < s.depth[i]:
			now = [2]int32{o, face}
		default:
			now = [2]int32{face, o}
		}
		if now != pair && n > 0 {
			s.order[pair] += n
			n = 0
		}
		if pair = now; pair[0] >= 0 {
			n++
		}
		r.near += r.step
	}
	if n > 0 {
		s.order[pair] += n
	}
}

// span are the user units of a row that a triangle covers: their numbers, how near the first one is, as one over the
// distance, which is straight on paper, and how that goes on.
type span struct {
	from, to   int
	near, step float64
}

// each goes through the rows that some faces cover.
func (s *still) each(which func(f *seen) bool, do func(face int32, r span)) {
	var p [4]Vec
	for i := range s.faces {
		f := &s.faces[i]
		if !which(f) {
			continue
		}
		for k, q := range f.corners {
			p[k] = s.c.onPaper(q)
			p[k].Z = 1 / p[k].Z
		}
		for k := 2; k < len(f.corners); k++ {
			s.triangle(int32(i), p[0], p[k-1], p[k], do)
		}
	}
}

// triangle goes through the rows of one, from edge to edge: it covers the user units whose middle lies inside.
func (s *still) triangle(face int32, a, b, c Vec, do func(face int32, r span)) {
	area := float64((b.X-a.X)*(c.Y-a.Y)) - float64((c.X-a.X)*(b.Y-a.Y))
	if math.Abs(area) < 1e-9 {
		return
	}
	// How fast nearness grows to the right and down: a plane is straight in it, on paper.
	step := (float64((b.Z-a.Z)*(c.Y-a.Y)) - float64((c.Z-a.Z)*(b.Y-a.Y))) / area
	down := (float64((b.X-a.X)*(c.Z-a.Z)) - float64((c.X-a.X)*(b.Z-a.Z))) / area
	first := max(0, int(math.Ceil(min(a.Y, b.Y, c.Y)-0.5)))
	last := min(s.high-1, int(math.Floor(max(a.Y, b.Y, c.Y)-0.5)))
	for y := first; y <= last; y++ {
		row := float64(y) + 0.5
		left, right := math.Inf(1), math.Inf(-1)
		for _, e := range [3][2]Vec{{a, b}, {b, c}, {c, a}} {
			// Half open, so that a row through a corner crosses two edges or none.
			if (e[0].Y <= row) != (e[1].Y <= row) {
				x := lerp(e[0].X, e[1].X, (row-e[0].Y)/(e[1].Y-e[0].Y))
				left, right = min(left, x), max(right, x)
			}
		}
		if !(left <= right) {
			continue
		}
		from, to := max(0, int(math.Ceil(left-0.5))), min(s.wide-1, int(math.Floor(right-0.5)))
		if from > to {
			continue
		}
		near := a.Z + float64(step*(float64(from)+0.5-a.X)) + float64(down*(row-a.Y))
		do(face, span{y*s.wide + from, y*s.wide + to + 1, near, step})
	}
}

// paint writes the water, and over it the faces that are seen; those below the water pale.
func (s *still) paint(b *strings.Builder) {
	// The water first: what lies in it is painted in the colour that it has through it, which needs no more paint.
	if s.c.floats {
		s.water(b)
		s.areas(b, append(s.pieces(-1), s.pieces(1)...))
		return
	}
	s.areas(b, s.pieces(1))
}

// piece is what of a face has one tone and lies on one side of the water.
type piece struct {
	face    int
	tone    int // -1: clear
	wet     bool
	corners [][2]int
}

// pieces cuts the faces that are seen at the water and where the tone changes. Of a boat of which it is not known how
// it floats all lies above.
func (s *still) pieces(side float64) (list []piece) {
	for i := range s.faces {
		f := &s.faces[i]
		if !f.visible {
			continue
		}
		at, light := f.corners, f.light
		outside := s.Parts[f.part].outside()
		if side < 0 && !outside {
			continue // the cockpit is dry, also where its sole lies below the water
		}
		if s.c.floats && outside {
			height := make([]float64, len(at))
			for k, p := range at {
				height[k] = side * p.Z
			}
			at, light = clip(at, light, height)
		}
		if s.clear(f) {
			list = s.keep(list, piece{i, -1, false, s.track(at)})
			continue
		}
		// Each tone is cut out by its two borders; on a flat face one of them has it all.
		for t := range tones {
			lit := make([]float64, len(at))
			for k, l := range light {
				lit[k] = l - tones[t].from
			}
			part, l := clip(at, light, lit)
			if t+1 < len(tones) {
				dark := make([]float64, len(part))
				for k := range part {
					dark[k] = tones[t+1].from - l[k]
				}
				part, _ = clip(part, l, dark)
			}
			list = s.keep(list, piece{i, t, side < 0, s.track(part)})
		}
	}
	return list
}

// keep adds a piece that is large enough to be seen.
func (s *still) keep(list []piece, p piece) []piece {
	// Twice the area, in hundredths of a square user unit.
	area := 0
	for i, a := range p.corners {
		b := p.corners[(i+1)%len(p.corners)]
		area += a[0]*b[1] - b[0]*a[1]
	}
	if area == 0 {
		return list
	}
	return append(list, p)
}

// clip is what of a face has values of zero or more, with the light there.
func clip(at []Vec, light, value []float64) (out []Vec, lit []float64) {
	for i, p := range at {
		k := (i + 1) % len(at)
		if value[i] >= 0 {
			out, lit = append(out, p), append(lit, light[i])
		}
		// A corner on the border itself is kept by both sides and not made anew.
		if (value[i] > 0) != (value[k] > 0) && value[i] != 0 && value[k] != 0 {
			t := value[i] / (value[i] - value[k])
			out, lit = append(out, p.towards(at[k], t)), append(lit, lerp(light[i], light[k], t))
		}
	}
	return out, lit
}

// fill is how a piece is painted, in the current colour of [still.areas].
func (s *still) fill(p *piece) string {
	part := s.Parts[s.faces[p.face].part]
	if p.tone < 0 {
		return `color="` + part.Colour + `" fill-opacity=".35" stroke="none"`
	}
	c := shaded(part.Colour, tones[p.tone].tone)
	if p.wet {
		c = mixed(c, wetColour, 0.4)
	}
	return `color="` + c + `"`
}

// Colours of the wash: a shade is blue rather than grey, and what lies below the water is seen through it.
const (
	shadeColour = "#14222e"
	wetColour   = "#b4c8cc"
)

// shaded is a colour in a tone.
func shaded(colour string, tone float64) string { return mixed(colour, shadeColour, tone) }

// mixed is a share of one colour with another.
func mixed(colour, with string, share float64) string {
	a, _ := strconv.ParseUint(colour[1:], 16, 32) // package drawing has checked it
	b, _ := strconv.ParseUint(with[1:], 16, 32)
	out := uint64(0)
	// Red, green and blue, each for itself: these are inks and no light, and need no better mixing.
	for shift := 16; shift >= 0; shift -= 8 {
		c := lerp(float64(b>>shift&255), float64(a>>shift&255), share)
		out = out<<8 | uint64(math.Floor(c+0.5))
	}
	return fmt.Sprintf("#%06x", out)
}

// track is a line on paper, in steps.
func (s *still) track(at []Vec) [][2]int {
	out := make([][2]int, len(at))
	for i, p := range at {
		q := s.c.onPaper(p)
		out[i] = [2]int{int(math.Floor(float64(q.X*s.steps()) + 0.5)), int(math.Floor(float64(q.Y*s.steps()) + 0.5))}
	}
	return out
}

// write puts a line into a path, each point from the one before, without those that it can do without.
func (s *still) write(b *strings.Builder, at [][2]int) {
	if s.f.Small {
		at = eased(at)
	}
	for i, p := range at {
		switch i {
		case 0:
			fmt.Fprintf(b, "M%d", p[0])
			tail(b, p[1])
			continue
		case 1:
			fmt.Fprintf(b, "l%d", p[0]-at[0][0])
		default:
			tail(b, p[0]-at[i-1][0])
		}
		tail(b, p[1]-at[i-1][1])
	}
}

// eased leaves out the points of a line that lie within a distance of what is left; its ends stay.
//
// Source: Douglas and Peucker, 1973 (from memory).
func eased(at [][2]int) [][2]int {
	if len(at) < 3 {
		return at
	}
	// The point that is farthest off divides the line, and each half is asked again.
	a, b := at[0], at[len(at)-1]
	far, k := 0.0, 0
	for i := 1; i < len(at)-1; i++ {
		if d := off(a, b, at[i]); d > far {
			far, k = d, i
		}
	}
	if far <= mostOff {
		return [][2]int{a, b}
	}
	left := eased(at[:k+1])
	return append(slices.Clip(left[:len(left)-1]), eased(at[k:])...)
}

// off is how far a point lies from a line between two others, or from the nearer of its ends.
func off(a, b, p [2]int) float64 {
	ux, uy, vx, vy := float64(b[0]-a[0]), float64(b[1]-a[1]), float64(p[0]-a[0]), float64(p[1]-a[1])
	// The foot of the perpendicular, kept between the ends; of a loop both are one point.
	square := float64(ux*ux) + float64(uy*uy)
	t := 0.0
	if square > 0 {
		t = min(1, max(0, (float64(ux*vx)+float64(uy*vy))/square))
	}
	return math.Hypot(vx-float64(t*ux), vy-float64(t*uy))
}

// tail writes a number behind another: a minus sets it apart by itself.
func tail(b *strings.Builder, v int) {
	if v >= 0 {
		b.WriteByte(' ')
	}
	b.WriteString(strconv.Itoa(v))
}

// water is a wash round the boat, and a few strokes on it.
func (s *still) water(b *strings.Builder) {
	length := float64(s.Fore-s.Aft) / 1000
	b.WriteString(`<path fill="var(--water, #17586a)" fill-opacity=".16" d="`)
	s.write(b, s.track(s.shore()))
	b.WriteString(`z"/><path fill="none" stroke="var(--water, #17586a)" stroke-opacity=".5" ` + s.stroke(7) + ` d="`)
	// On the near side, scattered by remainders: they have to be the same every time.
	for k := range 5 { // on the near side, where the boat does not hide them
		y := float64((0.17 + float64(0.021*float64(k))) * length)
		if s.f.Small {
			y *= 0.92 // as the wash is narrower
		}
		if s.c.ahead.Y > 0 { // starboard is the far side
			y = -y
		}
		from := float64((-0.38 + float64(0.14*float64(k*3%5))) * length)
		s.write(b, s.track([]Vec{{from, y, 0}, {from + float64(length*(0.1+float64(0.03*float64(k*2%3)))), y, 0}}))
	}
	b.WriteString(`"/>`)
}

// shore is where the wash of water ends on the paper: an ellipse about the boat.
func (s *still) shore() (list []Vec) {
	const n = 28
	long, broad := 0.58, 0.27
	if s.f.Small {
		long, broad = 0.54, 0.25
	}
	length := float64(s.Fore-s.Aft) / 1000
	for k := range n {
		sin, cos := turn(k, n)
		list = append(list, Vec{length * long * cos, length * broad * sin, 0})
	}
	return list
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

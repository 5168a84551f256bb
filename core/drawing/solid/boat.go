package solid

import (
	"fmt"
	"slices"

	"ribband/core/drawing"
)

// Boat is what a mesh is made of: all that the views show.
type Boat struct {
	drawing.Boat
	// Nil: it is not known how it floats, and there is no water.
	Drafts *drawing.Drafts
	// See [drawing.Benches].
	Seats []drawing.Area
	// Height of the seats above the base line, m; 0: the usual one.
	Seat float64
	// Places of seated persons along the boat, m.
	Persons []float64
	Poles   []drawing.Pole
	// The slot that decides on a part, by its name; nil: of none.
	Slot func(part string) string
}

// Detail is how fine a mesh is.
type Detail int

// A mesh for the page is turned and looked at from near; one for a still picture should have few faces.
const (
	Coarse Detail = iota
	Fine
)

// builder is a mesh being made.
type builder struct {
	*Boat
	*drawing.Shape
	m    *Mesh
	fine bool
	body body
	// sections that were asked for, by their place
	sections map[float64][]Vec
	opening  []drawing.Point // of the cockpit
	frames   []float64       // places along the boat at which it is cut, rising
	sheer    []Vec           // the starboard sheer at the frames
	seat     float64         // height of the seats
	sole     float64         // height of the sole
}

// What the book does not say, m: common practice, no source.
const (
	// The book gives the height of the seats; the sole is what it is to be reached from.
	seatHeight   = 0.40 // of a seat above the sole
	cushionDepth = 0.08
	tubeRadius   = 0.014
)

// New makes the mesh. The error names what cannot be drawn, as the views do.
func New(in *Boat, detail Detail) (*Mesh, error) {
	s, err := drawing.NewShape(&in.Boat, in.Drafts)
	if err != nil {
		return nil, err
	}
	// Nothing of it outlives the mesh.
	b := &builder{Boat: in, Shape: s, m: &Mesh{}, fine: detail == Fine, sections: map[float64][]Vec{},
		opening: s.Opening(0)}
	// Whole millimetres here, too: the page works out the trim from them as [camera] does.
	aft, fore := s.Ends()
	ends := [2]Place{round(Vec{X: aft}), round(Vec{X: fore})}
	b.m.Aft, b.m.Fore = ends[0][0], ends[1][0]
	if d := in.Drafts; d != nil {
		b.m.Afloat = true
		b.m.DraftAft, b.m.DraftFore = round(Vec{Z: d.Aft})[2], round(Vec{Z: d.Fore})[2]
	}
	// One height for all seats, and the sole below it, but never below the bottom of the hull amidships.
	middle := (in.Cockpit.Aft + in.Cockpit.Fore) / 2
	b.seat = s.SeatAt(middle, in.Seat)
	b.sole = max(b.seat-seatHeight, s.BottomAt(middle)+0.05)
	if err := b.shell(); err != nil {
		return nil, err
	}
	// The order is that of the list of parts, and so that in which who cannot see the boat hears of it: from the hull
	// up.
	b.rail()
	b.cockpit()
	b.top()
	b.drive()
	for _, f := range in.Fittings {
		if err := b.fitting(f); err != nil {
			return nil, err
		}
	}
	for _, o := range in.Poles {
		foot := Vec{o.X, 0, s.SheerAt(o.X)}
		b.tube(Lights, string(drawing.Metal), 0, []Vec{foot, {o.X, 0, o.Top}}, 0.012, false)
	}
	for i, x := range in.Persons {
		b.person(i, x)
	}
	return b.m, nil
}

// fitting puts one thing on board. One that is not known here is refused: it would be missing from the boat without a
// word.
func (b *builder) fitting(f drawing.Fitting) error {
	switch f := f.(type) {
	case drawing.Dash:
		b.dash(f)
	case drawing.Table:
		b.table(f)
	case drawing.Wheel:
		b.wheel(f)
	case drawing.Tiller:
		b.tiller()
	case drawing.Thruster:
		b.thruster()
	case drawing.Motor:
		b.below(Motor, f.Area, 0.32)
	case drawing.Bank:
		b.below(Bank, f.Area, 0.28)
	default:
		return fmt.Errorf("making the solid: a fitting of type %T has no shape; give it one in core/drawing/solid", f)
	}
	return nil
}

// part is the number of a part of some looks; the first to ask for it makes it.
func (b *builder) part(name, colour string, finish Finish) int {
	p := Part{Name: name, Colour: colour, Finish: finish}
	if b.Slot != nil {
		p.Slot = b.Slot(name)
	}
	// Patches of the same looks share a part, so that the page has few entries for a boat of many pieces.
	if i := slices.Index(b.m.Parts, p); i >= 0 {
		return i
	}
	b.m.Parts = append(b.m.Parts, p)
	return len(b.m.Parts) - 1
}

// patch adds a grid as it is given.
func (b *builder) patch(part int, rows [][]Vec, shape uint8) {
	p := Patch{Part: part, Rows: len(rows), Cols: len(rows[0]), shape: shape}
	for _, row := range rows {
		for _, v := range row {
			p.At = append(p.At, round(v))
		}
	}
	b.m.Patches = append(b.m.Patches, p)
}

// closed adds a closed thing: rows are sections that meet themselves, and the first and the last are closed. Its faces
// are turned outward, however its sections run.
func (b *builder) closed(part int, rows [][]Vec, shape uint8) {
	b.patch(part, rows, shape|loop)
	p := &b.m.Patches[len(b.m.Patches)-1]
	// Turned inside out it holds less than nothing. Its image would hide that where the body stands on one side.
	one := *p
	one.shape &^= mirror
	if volume(one.Faces()) >= 0 {
		return
	}
	for i := range p.Rows {
		slices.Reverse(p.At[i*p.Cols : (i+1)*p.Cols])
	}
}

// volume is what closed faces hold, m³; below 0 where they are turned inward.
//
// Source: the sum of signed tetrahedra over the origin, by the theorem of Gauss; textbook, from memory.
func volume(faces []Face) float64 {
	sum := 0.0
	for _, f := range faces {
		a := f.At[0].vec()
		for i := 2; i < len(f.At); i++ {
			sum += a.dot(f.At[i-1].vec().cross(f.At[i].vec())) / 6
		}
	}
	return sum
}

// tube adds a round bar along points, of a radius; to port too, if asked.
func (b *builder) tube(name, colour string, finish Finish, points []Vec, radius float64, both bool) {
	// A bar of four sides is a bar at the size of a still; from near it is seen to be round.
	n := 4
	if b.fine {
		n = 8
	}
	rows := make([][]Vec, len(points))
	var u Vec
	for i := range points {
		along := points[min(i+1, len(points)-1)].minus(points[max(i-1, 0)]).unit()
		if i == 0 {
			side := Vec{0, 1, 0}
			if along.Y > 0.9 || along.Y < -0.9 {
				side = Vec{0, 0, 1}
			}
			u = along.cross(side).unit()
		}
		u = u.minus(along.by(u.dot(along))).unit() // it turns with the bar, and does not twist
		w := along.cross(u).unit()
		for k := range n {
			sin, cos := turn(k, n)
			rows[i] = append(rows[i], points[i].plus(u.by(radius*cos)).plus(w.by(radius*sin)))
		}
	}
	// A strong outline on both sides of a tube would leave nothing of it between.
	if radius < 0.05 {
		finish |= Thin
	}
	b.closed(b.part(name, colour, finish), rows, capped|image(both))
}

// image is the shape of what stands on one side or on both.
func image(both bool) uint8 {
	if both {
		return mirror
	}
	return 0
}

// box adds a thing between two rectangles at heights, m, of which the upper one may be smaller by some metres all
// round.
func (b *builder) box(name, colour string, finish Finish, a drawing.Area, from, to, inset float64) {
	// From above: along the port side, across the fore end, and back.
	row := func(z, in float64) []Vec {
		return []Vec{{a.Aft + in, a.Port + in, z}, {a.Fore - in, a.Port + in, z},
			{a.Fore - in, a.Starboard - in, z}, {a.Aft + in, a.Starboard - in, z}}
	}
	b.closed(b.part(name, colour, finish), [][]Vec{row(from, 0), row(to, inset)}, capped)
}

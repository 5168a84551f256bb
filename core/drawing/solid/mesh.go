package solid

import "math"

// Vec is a place or a direction, m.
type Vec struct{ X, Y, Z float64 }

// The operations are written out so that each product is rounded by itself.
func (a Vec) plus(b Vec) Vec       { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) minus(b Vec) Vec      { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) by(f float64) Vec     { return Vec{float64(a.X * f), float64(a.Y * f), float64(a.Z * f)} }
func (a Vec) dot(b Vec) float64    { return float64(a.X*b.X) + float64(a.Y*b.Y) + float64(a.Z*b.Z) }
func (a Vec) length() float64      { return math.Sqrt(a.dot(a)) }
func (a Vec) port() Vec            { return Vec{a.X, -a.Y, a.Z} }
func lerp(a, b, t float64) float64 { return a + float64((b-a)*t) }

// cross is the normal of a face with sides a and b.
func (a Vec) cross(b Vec) Vec {
	return Vec{float64(a.Y*b.Z) - float64(a.Z*b.Y), float64(a.Z*b.X) - float64(a.X*b.Z),
		float64(a.X*b.Y) - float64(a.Y*b.X)}
}

// unit is a direction of length 1; that of nothing is up.
func (a Vec) unit() Vec {
	if l := a.length(); l > 0 {
		return a.by(1 / l)
	}
	return Vec{0, 0, 1}
}

// towards is the place at a share of the way from a to b.
func (a Vec) towards(b Vec, t float64) Vec {
	return Vec{lerp(a.X, b.X, t), lerp(a.Y, b.Y, t), lerp(a.Z, b.Z, t)}
}

// Finish is how a surface is drawn.
type Finish uint8

// The finishes; they make a set.
const (
	Grain  Finish = 1 << iota // timber: fine lines along it
	Clear                     // can be seen through
	Hidden                    // lies below seats and decks: shown where somebody asks for it
	Figure                    // a person: no part of the boat
	Thin                      // tubes and piping, which a strong outline would fill
)

// Part is what a person can point at.
type Part struct {
	Name   string // one of the names below
	Slot   string // of the book that decides on it; "" for none
	Colour string // #rrggbb
	Finish Finish
}

// The names of parts. They are no words for a reader: these are messages, drawing.part.
const (
	// Of the skin, from above; the first four share it between them by height.
	Hull    = "hull"
	Bottom  = "bottom"
	BootTop = "boot-top"
	Stripe  = "stripe"
	Deck    = "deck"
	// Of the cockpit.
	Sole     = "sole"
	Coaming  = "coaming"
	Rail     = "rail"
	Seats    = "seats"
	Cushions = "cushions"
	// Above it.
	Top       = "top"
	Edging    = "edging"
	Enclosure = "enclosure"
	Dash      = "dash"
	Table     = "table"
	Steering  = "steering"
	// Below the water and below decks.
	Drive    = "drive"
	Thruster = "thruster"
	Motor    = "motor"
	Bank     = "bank"
	// No slot decides on these.
	Lights = "lights"
	People = "people"
)

// outside says that a part has the water round it where it lies below.
func (p *Part) outside() bool {
	switch p.Name {
	case Hull, Bottom, BootTop, Stripe, Drive, Thruster:
		return true
	}
	return false
}

// Shape of a patch, beyond a sheet of rows and columns.
const (
	loop   = 1 << iota // the last column meets the first
	ring               // the last row meets the first
	capped             // the first and the last row are closed by faces
	mirror             // it stands for its image to port, too
)

// Place is a corner, mm.
type Place [3]int32

// Patch is a grid of places: a row after the other. Where corners of a face coincide the face has fewer, and one that
// has no three is none.
type Patch struct {
	Part, Rows, Cols int
	shape            uint8
	At               []Place
}

// Line is thin ink on a surface: a seam between planks, a line of stitches. It is drawn on both sides.
type Line struct {
	Part int
	At   []Place
}

// Mesh is a boat.
type Mesh struct {
	Parts   []Part
	Patches []Patch
	Lines   []Line
	// Where the water meets the starboard side, from aft; nil where it is not known.
	Waterline []Place
	// The ends of the hull, and how it floats: heights of the water there above the base line, mm. Afloat is false
	// where that is not known.
	Aft, Fore           int32
	DraftAft, DraftFore int32
	Afloat              bool
}

// Face has three corners or four, which need not lie in a plane.
type Face struct {
	Part int
	At   []Place
}

// Faces are all faces of a patch, those to port after those to starboard.
func (p *Patch) Faces() []Face {
	var list []Face
	add := func(at ...int) {
		corners := make([]Place, 0, 4)
		for _, i := range at {
			q := p.At[i]
			if n := len(corners); n > 0 && (q == corners[n-1] || q == corners[0]) {
				continue
			}
			corners = append(corners, q)
		}
		if len(corners) > 2 {
			list = append(list, Face{p.Part, corners})
		}
	}
	// Between so many rows and columns, one more where they come back to the first.
	rows, cols := p.Rows-1, p.Cols-1
	if p.shape&ring != 0 {
		rows++
	}
	if p.shape&loop != 0 {
		cols++
	}
	at := func(i, j int) int { return i%p.Rows*p.Cols + j%p.Cols }
	for i := range rows {
		for j := range cols {
			add(at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1))
		}
	}
	if p.shape&capped != 0 {
		last := p.Rows - 1
		// Good for a row that is convex, and for one that runs along a sheet and back below it.
		for j := 0; j < p.Cols-1-j; j++ { // a strip between the two halves of the row
			k := p.Cols - 1 - j
			add(at(0, j), at(0, j+1), at(0, max(k-1, j+1)), at(0, k))
			add(at(last, k), at(last, max(k-1, j+1)), at(last, j+1), at(last, j))
		}
	}
	if p.shape&mirror != 0 {
		for _, f := range list {
			image := make([]Place, len(f.At))
			for i, q := range f.At {
				image[len(f.At)-1-i] = Place{q[0], -q[1], q[2]}
			}
			list = append(list, Face{f.Part, image})
		}
	}
	return list
}

// Faces are all of a mesh.
func (m *Mesh) Faces() []Face {
	var list []Face
	for i := range m.Patches {
		list = append(list, m.Patches[i].Faces()...)
	}
	return list
}

// round is a place to the millimetre. Half a millimetre rounds up, on every processor; across the boat it rounds
// outward, so that port is the image of starboard whether it was mirrored before rounding or after.
func round(v Vec) Place {
	mm := func(m float64) int32 { return int32(math.Floor(float64(m*1000) + 0.5)) }
	y := mm(math.Abs(v.Y))
	if v.Y < 0 {
		y = -y
	}
	return Place{mm(v.X), y, mm(v.Z)}
}

// vec is a place in m.
func (p Place) vec() Vec {
	return Vec{float64(p[0]) / 1000, float64(p[1]) / 1000, float64(p[2]) / 1000}
}

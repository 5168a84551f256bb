package solid

import (
	"math"

	"ribband/core/drawing"
)

// turn are sine and cosine of the k-th of n directions round a circle.
func turn(k, n int) (sin, cos float64) { return math.Sincos(2 * math.Pi * float64(k) / float64(n)) }

// dash is the dashboard from side to side: a face leaning forward, a rounded edge, and a top that falls towards the
// foredeck, as in the profile. Below its edge the knees have room.
func (b *builder) dash(d drawing.Dash) {
	z, inner := b.SheerAt(d.X), b.Opening(-0.025)
	fore := min(d.X+0.55, b.Cockpit.Fore-0.03)
	// Sections across from aft forward: how far they lie from the face, and the heights of their edges from the sheer.
	var rows [][]Vec
	for _, p := range []struct{ x, top, low float64 }{{-0.03, -0.19, -0.2}, {0.02, 0.15, -0.2}, {0.06, 0.188, -0.2},
		{0.16, 0.18, -0.2}, {0.34, 0.14, -0.2}, {fore - d.X, 0.06, -0.2}} {
		x := min(d.X+p.x, fore)
		half := breadth(inner, x)
		// The face leans, and its edges stay upright at the sides of the cockpit.
		if p.x < 0.1 {
			half = breadth(inner, d.X)
		}
		if half < 0.05 {
			continue
		}
		// Its upper edges are rounded, so that the light changes on them.
		rows = append(rows, []Vec{{x, -half, z + p.low}, {x, -half, z + p.top - 0.02}, {x, -half * 0.9, z + p.top},
			{x, half * 0.9, z + p.top}, {x, half, z + p.top - 0.02}, {x, half, z + p.low}})
	}
	if len(rows) > 1 {
		b.closed(b.part(Dash, drawing.Timber, Grain), rows, capped)
	}
}

// tableHeight is that of the upper side above the seats, m; common practice, no source.
const tableHeight = 0.28

// table is a leaf on a pillar.
func (b *builder) table(t drawing.Table) {
	top := b.seat + tableHeight
	// One pillar in the middle, whatever the kind: the book does not say how a table stands.
	x, y := (t.Aft+t.Fore)/2, (t.Port+t.Starboard)/2
	b.box(Table, t.Colour.Or(drawing.Timber), grain(t.Of), t.Area, top-0.03, top, 0.01)
	b.tube(Table, string(drawing.Metal), 0, []Vec{{x, y, b.sole}, {x, y, top - 0.03}}, 0.035, false)
}

// wheel is a rim on its column, raked as in the profile.
func (b *builder) wheel(w drawing.Wheel) {
	middle := Vec{w.X, w.Y, b.SheerAt(w.X) + drawing.WheelMiddle}
	sin, cos := math.Sincos(drawing.WheelRake * math.Pi / 180)
	// A rim is thin; round its own axis it needs fewer corners than round the wheel.
	around, section := 12, 4
	if b.fine {
		around, section = 24, 6
	}
	// The rake is the angle by which its upper edge lies further forward.
	up, ahead := Vec{sin, 0, cos}, Vec{cos, 0, -sin} // in the plane of the rim, and along the column
	var rows [][]Vec
	for i := range around {
		s, c := turn(i, around)
		out := up.by(c).plus(Vec{0, s, 0})
		var row []Vec
		for k := range section {
			s, c := turn(k, section)
			row = append(row, middle.plus(out.by(drawing.WheelRadius+float64(0.014*c))).plus(ahead.by(0.014*s)))
		}
		rows = append(rows, row)
	}
	wood := string(drawing.Timber)
	b.closed(b.part(Steering, wood, Thin), rows, ring)
	// Three spokes, the first one upwards, as the rudder lies amidships.
	for k := range 3 {
		s, c := turn(k, 3)
		out := up.by(c).plus(Vec{0, s, 0})
		b.tube(Steering, string(drawing.Metal), 0, []Vec{middle, middle.plus(out.by(drawing.WheelRadius))}, 0.009,
			false)
	}
	b.tube(Steering, string(drawing.Metal), 0, []Vec{middle, middle.plus(ahead.by(0.3))}, 0.02, false)
}

// tiller rises from the rudder head to the hand of the helm.
func (b *builder) tiller() {
	aft, _ := b.Ends()
	x := aft + drawing.RudderHead
	z := b.SheerAt(x)
	b.tube(Steering, string(drawing.Metal), 0, []Vec{{x, 0, z}, {x, 0, z + 0.1}}, 0.03, false)
	b.tube(Steering, string(drawing.Timber), 0, []Vec{{x - 0.03, 0, z + 0.09}, {x + 0.25, 0, z + 0.125},
		{x + 0.55, 0, z + 0.15}, {x + drawing.TillerLength, 0, z + 0.16}}, 0.02, false)
}

// thruster is the tunnel of a bow thruster from side to side, of which the mouths are seen.
func (b *builder) thruster() {
	aft, fore := b.Ends()
	x := lerp(aft, fore, drawing.TunnelShare)
	z := b.KeelAt(x) + drawing.TunnelDepth
	// A little beyond the skin: in one plane with it neither would be seen whole.
	y := at(b.section(x), z).Y + 0.012
	b.tube(Thruster, "#3a444a", 0, []Vec{{x, -y, z}, {x, y, z}}, drawing.TunnelRadius, false)
}

// drive adds what drives the boat, below the hull.
func (b *builder) drive() {
	// What hangs below the hull is painted as its bottom.
	paint := b.Bottom.Or(drawing.BottomGrey)
	switch b.Drive.Kind {
	case drawing.Shaft:
		b.shaft(paint)
	case drawing.Leg, drawing.Pod:
		x, z := b.Drive.X, b.BottomAt(b.Drive.X)
		b.plate(Drive, paint, [][2]float64{{x - 0.08, z + 0.05}, {x - 0.06, z - drawing.PodDepth},
			{x + 0.06, z - drawing.PodDepth}, {x + 0.12, z + 0.05}}, 0.03)
		b.cigar(Drive, paint, Vec{x, 0, z - drawing.PodDepth}, 0.2, 0.055)
		b.propeller(x-0.21, z-drawing.PodDepth, drawing.PropellerRadius)
	}
}

// shaft adds propeller, shoe and rudder in the aperture aft of the skeg, as in the profile; nothing where there is no
// room for them.
func (b *builder) shaft(paint string) {
	aft, _ := b.Ends()
	from, _, ok := b.Skeg()
	if !ok || b.Offsets.Stations[from].X-aft < 0.15 {
		return
	}
	post := b.Offsets.Stations[from].X
	heel, bottom := b.KeelAt(post), b.BodyBottom(from)
	// The sizes are those of the profile, where the aperture is explained.
	gap := min(post-aft, 0.6)
	b.tube(Drive, paint, 0, []Vec{{post + 0.02, 0, heel + 0.02}, {post - float64(0.62*gap), 0, heel + 0.02}}, 0.015,
		false)
	near, far := post-float64(0.34*gap), post-float64(0.82*gap)
	b.plate(Drive, paint, [][2]float64{{near, b.BottomAt(near) + 0.02}, {near, heel + 0.04}, {far, heel + 0.07},
		{far - 0.03, b.BottomAt(far) + 0.02}}, 0.018)
	hub := heel + float64(0.62*(bottom-heel))
	b.propeller(post-float64(0.16*gap), hub, min(0.15, float64(0.45*(bottom-heel))+0.04))
}

// plate is a flat thing on the centre line: its outline in the profile, x and z, and half its thickness.
func (b *builder) plate(name, colour string, outline [][2]float64, half float64) {
	// Its edges are square: from the distance at which a boat is seen, a rudder is as thin as a line.
	rows := make([][]Vec, 2)
	for i, side := range []float64{-half, half} {
		for _, p := range outline {
			rows[i] = append(rows[i], Vec{p[0], side, p[1]})
		}
	}
	b.closed(b.part(name, colour, 0), rows, capped)
}

// cigar is a round body along the boat about its middle, as long and as thick to either side as is said, m.
func (b *builder) cigar(name, colour string, middle Vec, length, radius float64) {
	var rows [][]Vec
	for i := -3; i <= 3; i++ {
		s := float64(i) / 3
		// An ellipse along the axis, blunt at its ends so that these have faces.
		r := radius * math.Sqrt(max(0.02, 1-float64(s*s)))
		var row []Vec
		for k := range 8 {
			sin, cos := turn(k, 8)
			row = append(row, Vec{middle.X + float64(length*s), middle.Y + float64(r*sin), middle.Z + float64(r*cos)})
		}
		rows = append(rows, row)
	}
	b.closed(b.part(name, colour, 0), rows, capped)
}

// propeller is a hub with three blades, set at an angle to the flow; three stand for any number.
func (b *builder) propeller(x, z, radius float64) {
	bronze := string(drawing.Timber)
	b.cigar(Drive, bronze, Vec{x, 0, z}, 0.06, 0.03)
	for k := range 3 {
		sin, cos := turn(k, 3)
		// The blade is set at some 60 degrees to the axis, and broadest halfway along its length.
		out, across := Vec{0, sin, cos}, Vec{0.5, -0.87 * cos, 0.87 * sin}
		var rows [][]Vec
		for _, s := range []struct{ r, w float64 }{{0.15, 0.25}, {0.55, 0.42}, {0.9, 0.32}, {1, 0.08}} {
			at := Vec{x, 0, z}.plus(out.by(radius * s.r))
			w := across.by(radius * s.w)
			t := across.cross(out).unit().by(0.006)
			rows = append(rows, []Vec{at.plus(w).plus(t), at.minus(w).plus(t), at.minus(w).minus(t),
				at.plus(w).minus(t)})
		}
		b.closed(b.part(Drive, bronze, 0), rows, capped)
	}
}

// person is a seated grown-up, 0.88 m from the seat to the crown of the head, as in the profile. They sit on either
// side in turn, which shows that there is room, not who sits where.
func (b *builder) person(i int, x float64) {
	// Starboard first, 20 cm in from the side of the cockpit, so that the back is clear of the coaming.
	side := 1 - 2*float64(i%2)
	y := float64(side * max(0.15, b.wellHalf(x, b.seat)-0.2))
	part := b.part(People, "#b9bfbb", Figure)
	n := 6
	if b.fine {
		n = 10
	}
	seat := b.seat
	// sections of the trunk and of the head: their height above the seat, half their breadth and their depth, and how
	// far they lean outboard
	trunk := [][4]float64{{0, 0.17, 0.12, 0}, {0.2, 0.16, 0.11, 0.02}, {0.45, 0.2, 0.11, 0.05}, {0.57, 0.17, 0.08,
		0.05},
		{0.62, 0.06, 0.05, 0.04}, {0.66, 0.05, 0.05, 0.03}}
	head := [][4]float64{{0.65, 0.03, 0.03, 0.02}, {0.7, 0.075, 0.085, 0.02}, {0.77, 0.085, 0.1, 0.02},
		{0.84, 0.07, 0.085, 0.02}, {0.88, 0.02, 0.03, 0.02}}
	// Ellipses one above the other, as a draughtsman sets out a figure.
	for _, sections := range [][][4]float64{trunk, head} {
		var rows [][]Vec
		for _, s := range sections {
			var row []Vec
			for k := range n {
				sin, cos := turn(k, n)
				row = append(row, Vec{x + float64(s[1]*sin), y + float64(s[2]*cos) + float64(side*s[3]), seat + s[0]})
			}
			rows = append(rows, row)
		}
		b.closed(part, rows, capped)
	}
	for _, leg := range []float64{-0.09, 0.09} { // thigh and shin, inboard
		b.tube(People, "#b9bfbb", Figure, []Vec{{x + leg, y, seat + 0.08}, {x + leg, y - float64(side*0.42), seat +
			0.07},
			{x + leg, y - float64(side*0.46), b.soleAt(x) + 0.04}}, 0.07, false)
	}
}

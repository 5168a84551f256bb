package solid

import "math"

// View is from where the boat is looked at: the direction of sight in the plane of the water, from forward to
// starboard, and how far it looks down, degrees.
type View struct {
	Name       string
	Yaw, Pitch float64
}

// Views are those that have a name. A message says it, drawing.view.
var Views = []View{{"bow", -148, 17}, {"side", -90, 5}, {"stern", -33, 20}, {"above", -90, 72}}

// The eye is so many lengths of the boat away: near enough for perspective, far enough not to bend it.
const eyeLengths = 2.1

// camera looks at a boat that floats: x and y from its middle, z above the water.
type camera struct {
	middle           Vec     // of the boat in its own axes, at the height of the water
	sin, cos         float64 // of the trim
	ahead, right, up Vec
	target           Vec // afloat
	distance         float64
	scale, ox, oy    float64 // user units at a distance of 1, and where the target lies
	light            Vec
	floats           bool
}

// newCamera looks at a mesh so that it fits into a box of some user units.
func newCamera(m *Mesh, v View, width, height, margin float64) *camera {
	// The boat is turned first, so that the water is level, and then looked at.
	length := float64(m.Fore-m.Aft) / 1000
	c := &camera{cos: 1, floats: m.Afloat, distance: eyeLengths * length}
	c.middle = Place{(m.Aft + m.Fore) / 2, 0, (m.DraftAft + m.DraftFore) / 2}.vec()
	if m.Afloat {
		c.sin, c.cos = math.Sincos(math.Atan2(float64(m.DraftAft-m.DraftFore)/1000, length))
	}
	sinYaw, cosYaw := math.Sincos(v.Yaw * math.Pi / 180)
	sinPitch, cosPitch := math.Sincos(v.Pitch * math.Pi / 180)
	// Square to each other, with the picture upright: the water runs across it.
	c.ahead = Vec{cosPitch * cosYaw, cosPitch * sinYaw, -sinPitch}
	c.right = Vec{-sinYaw, cosYaw, 0}
	c.up = Vec{sinPitch * cosYaw, sinPitch * sinYaw, cosPitch}
	// from above, the left and the eye: the look of a lamp on the drawing table
	c.light = c.up.by(0.7).minus(c.right.by(0.4)).minus(c.ahead.by(0.6)).unit()
	low, high := Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	each := func(do func(Vec)) {
		for i := range m.Patches {
			if m.Parts[m.Patches[i].Part].Finish&Hidden != 0 {
				continue
			}
			for _, q := range m.Patches[i].At {
				p := c.afloat(q)
				do(p)
				if m.Patches[i].shape&mirror != 0 {
					do(p.port())
				}
			}
		}
	}
	each(func(p Vec) {
		low = Vec{min(low.X, p.X), min(low.Y, p.Y), min(low.Z, p.Z)}
		high = Vec{max(high.X, p.X), max(high.Y, p.Y), max(high.Z, p.Z)}
	})
	// The middle of the box about all that is drawn.
	c.target = low.towards(high, 0.5)
	// Measured at a scale of one, the extremes on paper give the scale and the place in one step.
	c.scale = 1
	left, right, top, bottom := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	each(func(p Vec) {
		q := c.onPaper(p)
		left, right, top, bottom = min(left, q.X), max(right, q.X), min(top, q.Y), max(bottom, q.Y)
	})
	c.scale = min((width-2*margin)/(right-left), (height-2*margin)/(bottom-top))
	c.ox = float64(width/2) - float64(c.scale*(left+right)/2)
	c.oy = float64(height/2) - float64(c.scale*(top+bottom)/2)
	return c
}

// afloat is a place of the mesh in the axes of the water.
//
// Formula: as in the profile, x′ = dx·cos φ − dz·sin φ, z′ = dx·sin φ + dz·cos φ,
// φ = atan((draught aft − draught fore)/length).
func (c *camera) afloat(q Place) Vec {
	d := q.vec().minus(c.middle)
	return Vec{float64(d.X*c.cos) - float64(d.Z*c.sin), d.Y, float64(d.X*c.sin) + float64(d.Z*c.cos)}
}

// onPaper is where a place afloat is seen, user units to the right and down, and how far away, m.
func (c *camera) onPaper(p Vec) Vec {
	d := p.minus(c.target)
	depth := c.distance + d.dot(c.ahead)
	k := c.scale / depth
	return Vec{c.ox + float64(k*d.dot(c.right)), c.oy - float64(k*d.dot(c.up)), depth}
}

// eye is where the eye stands, afloat.
func (c *camera) eye() Vec { return c.target.minus(c.ahead.by(c.distance)) }

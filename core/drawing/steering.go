package drawing

import "math"

// Wheel is the steering wheel on its column.
type Wheel struct {
	unseen
	// Its middle, m from the aft end of the hull, and from the centre line to starboard.
	X, Y float64
}

// The steering wheel, m and degrees: common practice, no source.
const (
	WheelRadius = 0.17
	WheelMiddle = 0.08 // above the sheer
	WheelRake   = 20.0
)

// check asks for a wheel within the hull.
func (w Wheel) check(k *check, l *lines) {
	k.within("wheel's place", w.X, l.aft, l.fore, "m")
	k.within("wheel's distance from the centre line", w.Y, -l.widest, l.widest, "m")
}

// highest is the upper edge of the rim, which leans forward.
func (w Wheel) highest(l *lines) (x, z float64, ok bool) {
	return w.X, l.sheerAt.Predict(w.X) + WheelMiddle + float64(WheelRadius*math.Cos(WheelRake*math.Pi/180)), true
}

// beforePersons draws it edge on, raked, on its column to the dash. It stands in front of the person at the helm, who
// would hide it.
func (w Wheel) beforePersons(p *profile) {
	at := p.at(w.X, p.l.sheerAt.Predict(w.X)+WheelMiddle)
	p.group("g", func() {
		p.line(at, pt{at.x + float64(0.3*p.scale), at.y}, "stroke", ink, "stroke-width", "1.4")
		p.ellipse(at, 0.035*p.scale, WheelRadius*p.scale, "fill", "none", "stroke", wood, "stroke-width",
			p.number(max(1.2, 0.025*p.scale)))
	}, "transform", "rotate("+p.number(WheelRake)+" "+p.number(at.x)+" "+p.number(at.y)+")")
}

// onTop draws the rim, of which the rake leaves a narrow ellipse, and the column forward to the dash.
func (w Wheel) onTop(p *plan) {
	at := p.at(w.X, w.Y)
	p.ellipse(at, 0.05*p.scale, 0.19*p.scale, "fill", "none", "stroke", dark, "stroke-width",
		p.number(max(1.8, 0.035*p.scale)))
	p.line(at, pt{at.x + float64(0.2*p.scale), at.y}, "stroke", dark, "stroke-width", "1.6")
}

// Tiller is a tiller on a rudder head on the aft deck, its hand forward.
type Tiller struct{ unseen }

// The tiller, m: common practice, no source.
const (
	TillerLength = 0.85
	RudderHead   = 0.12 // from the aft end of the hull
)

// beforePersons draws it rising from the rudder head to the hand of the helm, twice, so that it is seen on any ground.
func (Tiller) beforePersons(p *profile) {
	x := p.l.aft + RudderHead
	z := p.l.sheerAt.Predict(x)
	d := p.pen().move(p.at(x, z-0.05)).to(p.at(x, z+0.09)).curve(p.at(x+0.25, z+0.13), p.at(x+0.55, z+0.15),
		p.at(x+TillerLength, z+0.16))
	for _, s := range [][2]string{{ink, p.number(max(2.4, 0.05*p.scale))},
		{wood, p.number(max(1.4, float64(0.05*p.scale)-1.2))}} {
		p.path(d.String(), "fill", "none", "stroke", s[0], "stroke-width", s[1], "stroke-linecap", "round")
	}
}

// onTop draws the tiller amidships, as it lies on a straight course.
func (Tiller) onTop(p *plan) {
	head, hand := p.at(p.l.aft+RudderHead, 0), p.at(p.l.aft+RudderHead+TillerLength, 0)
	p.line(head, hand, "stroke", dark, "stroke-width", p.number(max(2.4, 0.06*p.scale)), "stroke-linecap", "round")
	p.line(head, hand, "stroke", wood, "stroke-width", p.number(max(1.4, float64(0.06*p.scale)-1.2)), "stroke-linecap",
		"round")
	p.ellipse(head, 0.06*p.scale, 0.06*p.scale, "fill", dark)
}

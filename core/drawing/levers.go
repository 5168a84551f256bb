package drawing

import (
	"fmt"
	"math"

	"ribband/core/msg"
)

// RightingLever is a lever at a heel.
type RightingLever struct{ HeelDeg, GZ float64 } // degrees and m

// RightingLevers is the curve of righting levers: how far apart weight and buoyancy pull at each heel.
type RightingLevers struct {
	Name string
	// At rising heels, at least 2.
	Points []RightingLever
	// Metacentric height, m, for its tangent at no heel; 0: not drawn.
	GM float64
	// Heel at which water comes aboard, degrees; 0: not drawn.
	Flooding    float64
	Assumptions []string
}

// SVG draws the plot. The error names the point that is out of bounds or out of order.
func (in RightingLevers) SVG(f Format) (string, error) {
	c, err := f.canvas("righting levers")
	if err != nil {
		return "", err
	}
	if err := in.check(); err != nil {
		return "", err
	}
	low, high := 0.0, 0.0
	for _, q := range in.Points {
		low, high = min(low, q.GZ), max(high, q.GZ)
	}
	wanted := 10
	if c.width < narrow {
		wanted = 6
	}
	n := len(in.Points)
	x := axis{c.words.Say("drawing.axis-heel"), degreeTicks(min(0, in.Points[0].HeelDeg), in.Points[n-1].HeelDeg,
		wanted)}
	p := c.newPlot(x, axis{c.words.Say("drawing.axis-lever"), Ticks(low, max(high, low+0.01), 5)}, min(c.width*0.5,
		320))
	in.draw(p)
	y := c.legends(p.bottom+42, in.legend(c))
	c.height = c.notes(12, y+6, c.width-12, in.Assumptions) + 10
	return c.finish(in.Name, in.describe()...)
}

// check asks for a curve: heels that rise, and levers that a boat can have.
func (in RightingLevers) check() error {
	k := &check{kind: "righting levers"}
	if n := len(in.Points); n < 2 || n > mostPoints {
		k.fail("there are %d points; give 2 to %d", n, mostPoints)
	}
	for i, q := range in.Points {
		k.within(fmt.Sprintf("heel of point %d", i+1), q.HeelDeg, -180, 180, "degrees")
		k.within(fmt.Sprintf("lever of point %d", i+1), q.GZ, -20, 20, "m")
		if i > 0 && !(q.HeelDeg-in.Points[i-1].HeelDeg > 1e-6) {
			k.fail("the heel of point %d is %v degrees after %v; give rising heels", i+1, q.HeelDeg,
				in.Points[i-1].HeelDeg)
		}
	}
	k.within("metacentric height", in.GM, -20, 50, "m")
	k.within("heel of flooding", in.Flooding, 0, 180, "degrees")
	return k.err
}

// How tangent and flooded part are drawn, on the plot as in its legend.
var (
	tangentLine = []string{"stroke", soft, "stroke-width", "1.2", "stroke-dasharray", "6 4"}
	floods      = []string{"fill", alarm, "fill-opacity", "0.12"}
)

// floodsFrom is the heel from which the plot is shaded, degrees; ok is false where it is nowhere on it. Beyond it the
// lever of an open boat is lost, and the curve is that of a boat with a deck.
func (in RightingLevers) floodsFrom() (float64, bool) {
	return in.Flooding, in.Flooding > 0 && in.Flooding < in.Points[len(in.Points)-1].HeelDeg
}

// draw shades what lies beyond flooding, then draws tangent and curve. The tangent at no heel rises to GM at one
// radian, which is how it is drawn by hand; it is cut where it leaves the plot.
func (in RightingLevers) draw(p *plot) {
	if from, ok := in.floodsFrom(); ok {
		a := p.at(from, p.y.high())
		p.rect(a.x, a.y, p.right-a.x, p.bottom-p.top, floods...)
		p.line(a, pt{a.x, p.bottom}, "stroke", alarm, "stroke-width", "1.1")
	}
	if in.GM != 0 { // the tangent reaches GM at one radian
		heel := 180 / math.Pi
		limit := p.y.high()
		if in.GM < 0 {
			limit = p.y.low()
		}
		if share := min(limit/in.GM, p.x.high()/heel, 1); share > 0 {
			p.line(p.at(0, 0), p.at(heel*share, in.GM*share), tangentLine...)
		}
	}
	x, y := make([]float64, len(in.Points)), make([]float64, len(in.Points))
	for i, q := range in.Points {
		x[i], y[i] = q.HeelDeg, q.GZ
	}
	p.path(p.curve(p.pen(), x, y).String(), "fill", "none", "stroke", water, "stroke-width", "2.2", "stroke-linejoin",
		"round")
}

// legend names only what is drawn on this plot.
func (in RightingLevers) legend(c *canvas) []legend {
	list := []legend{{sampleLine("stroke", water, "stroke-width", "2.2"), c.words.Say("drawing.levers-curve")}}
	if in.GM != 0 {
		list = append(list, legend{sampleLine(tangentLine...),
			c.words.Say("drawing.levers-slope", msg.Quantity("gm", in.GM, "m", 2))})
	}
	if from, ok := in.floodsFrom(); ok {
		list = append(list, legend{sampleBand(floods...),
			c.words.Say("drawing.levers-flooded", msg.Number("heel", tenths(from), msg.Exact))})
	}
	return list
}

// describe gives the largest lever and its heel, the two numbers by which curves are compared.
func (in RightingLevers) describe() []msg.Message {
	best := in.Points[0]
	for _, q := range in.Points {
		if q.GZ > best.GZ {
			best = q
		}
	}
	list := []msg.Message{msg.New("drawing.levers", msg.Quantity("lever", best.GZ, "m", 2),
		msg.Number("heel", tenths(best.HeelDeg), msg.Exact))}
	if in.GM != 0 {
		list = append(list, msg.New("drawing.levers-gm", msg.Quantity("gm", in.GM, "m", 2)))
	}
	if from, ok := in.floodsFrom(); ok {
		list = append(list, msg.New("drawing.levers-floods", msg.Number("heel", tenths(from), msg.Exact)))
	}
	return append(list, msg.New("drawing.levers-preliminary"))
}

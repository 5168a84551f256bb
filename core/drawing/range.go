package drawing

import (
	"fmt"
	"slices"

	"ribband/core/measure"
	"ribband/core/msg"
)

// RangePoint is what a speed held to the end gives.
type RangePoint struct {
	SpeedKn float64
	// Until the reserve is reached.
	RangeNm float64
	// What the reserve is good for after that.
	ReserveNm float64
}

// RangeCurve is range over speed: how far a full bank goes at each speed held to the end.
type RangeCurve struct {
	Name string
	// At rising speeds, at least 2.
	Points []RangePoint
	// The speed of the use; nil: none.
	Use *RangePoint
	// Range that the buyer wants; 0: none.
	WantedNm float64
	// Below the plot.
	Assumptions []string
}

// mostPoints is far more than a curve needs to look smooth.
const mostPoints = 5000

// SVG draws the plot. The error names the point that is out of bounds or out of order. The axis of ranges begins at
// zero, so that twice the range is twice as high.
func (in RangeCurve) SVG(f Format) (string, error) {
	c, err := f.canvas("range curve")
	if err != nil {
		return "", err
	}
	if err := in.check(); err != nil {
		return "", err
	}
	in = in.read(f.System)
	lowest, fastest, farthest := in.Points[0].SpeedKn, in.Points[len(in.Points)-1].SpeedKn, in.WantedNm
	points := in.Points
	if in.Use != nil {
		// the use may lie beyond the ends of the curve: the axes reach as far as either
		points = append([]RangePoint{*in.Use}, points...)
		lowest, fastest = min(lowest, in.Use.SpeedKn), max(fastest, in.Use.SpeedKn)
	}
	for _, q := range points {
		farthest = max(farthest, q.RangeNm+q.ReserveNm)
	}
	title := func(code msg.Code, unit string) string { return c.words.Say(code, msg.Text("unit", c.unit(unit))) }
	p := c.newPlot(axis{title("drawing.axis-speed", "kn"), Ticks(lowest, fastest, in.ticks(c))},
		axis{title("drawing.axis-range", "nm"), Ticks(0, max(farthest, 1e-3), 6)}, min(c.width*0.55, 360))
	in.curves(p)
	in.use(p)
	y := c.legends(p.bottom+42, in.legend(c))
	c.height = c.notes(12, y+6, c.width-12, in.Assumptions) + 10
	return c.finish(in.Name, in.describe(c)...)
}

// read is the curve as it is drawn for a reader: each number in the unit that he reads, whatever its field is called.
func (in RangeCurve) read(s measure.System) RangeCurve {
	knots, _ := measure.UnitOf("kn")
	miles, _ := measure.UnitOf("nm")
	speed, _ := knots.In(s, 1)
	distance, _ := miles.In(s, 1)
	of := func(q RangePoint) RangePoint {
		return RangePoint{float64(q.SpeedKn * speed), float64(q.RangeNm * distance), float64(q.ReserveNm * distance)}
	}
	in.Points = slices.Clone(in.Points)
	for i, q := range in.Points {
		in.Points[i] = of(q)
	}
	if in.Use != nil {
		use := of(*in.Use)
		in.Use = &use
	}
	in.WantedNm *= distance
	return in
}

// ticks is how many numbers have room below the axis.
func (in RangeCurve) ticks(c *canvas) int {
	if c.width < narrow {
		return 5
	}
	return 10
}

// check asks for a curve: speeds that rise, ranges that are none below zero.
func (in RangeCurve) check() error {
	k := &check{kind: "range curve"}
	if n := len(in.Points); n < 2 || n > mostPoints {
		k.fail("it has %d points; give 2 to %d", n, mostPoints)
		return k.err
	}
	for i, q := range in.Points {
		q.check(k, fmt.Sprintf("point %d", i+1))
		if i > 0 && !(q.SpeedKn-in.Points[i-1].SpeedKn > 1e-6) {
			k.fail("the speed of point %d is %v kn after %v kn; give rising speeds", i+1, q.SpeedKn,
				in.Points[i-1].SpeedKn)
		}
	}
	if in.Use != nil {
		in.Use.check(k, "point of the use")
	}
	k.within("wanted range", in.WantedNm, 0, 1e5, "nm")
	return k.err
}

// check asks for numbers that a launch can have; which says where they stand in a fault.
func (q RangePoint) check(k *check, which string) {
	k.within("speed of the "+which, q.SpeedKn, 0, 100, "kn")
	k.within("range of the "+which, q.RangeNm, 0, 1e5, "nm")
	k.within("reserve of the "+which, q.ReserveNm, 0, 1e5, "nm")
}

// curves draws range over speed, above it the band of what the reserve is good for, and the range that is wanted.
func (in RangeCurve) curves(p *plot) {
	n := len(in.Points)
	x, until, whole := make([]float64, n), make([]float64, n), make([]float64, n)
	var back []pt
	for i, q := range in.Points {
		x[i], until[i], whole[i] = q.SpeedKn, q.RangeNm, q.RangeNm+q.ReserveNm
		back = append(back, p.at(q.SpeedKn, q.RangeNm))
	}
	k := p.curve(p.pen(), x, whole).to(reversed(back)...).close()
	p.path(k.String(), "fill", wood, "fill-opacity", "0.22")
	if in.WantedNm > 0 {
		p.line(p.at(p.x.low(), in.WantedNm), p.at(p.x.high(), in.WantedNm), wantedLine...)
	}
	p.path(p.curve(p.pen(), x, until).String(), "fill", "none", "stroke", water, "stroke-width", "2.2",
		"stroke-linejoin", "round")
}

// How the wanted range and the use are drawn, on the plot as in its legend.
var (
	wantedLine = []string{"stroke", alarm, "stroke-width", "1.3", "stroke-dasharray", "7 4"}
	useDot     = []string{"fill", ink, "stroke", paper, "stroke-width", "1.5"}
)

// use marks the speed of the use, with lines to both axes so that it can be read off.
func (in RangeCurve) use(p *plot) {
	if in.Use == nil {
		return
	}
	at := p.at(in.Use.SpeedKn, in.Use.RangeNm)
	p.line(pt{p.left, at.y}, at, "stroke", ink, "stroke-width", "1", "stroke-dasharray", "2 3")
	p.line(pt{at.x, p.bottom}, at, "stroke", ink, "stroke-width", "1", "stroke-dasharray", "2 3")
	p.ellipse(at, 4.5, 4.5, useDot...)
}

// legend names only what is drawn on this plot.
func (in RangeCurve) legend(c *canvas) []legend {
	list := []legend{
		{sampleLine("stroke", water, "stroke-width", "2.2"), c.words.Say("drawing.range-curve")},
		{sampleBand("fill", wood, "fill-opacity", "0.22"), c.words.Say("drawing.range-reserve")},
	}
	if u := in.Use; u != nil {
		list = append(list, legend{sampleDot(useDot...), c.words.Say("drawing.range-used",
			c.amount("range", u.RangeNm, "nm"), c.amount("speed", u.SpeedKn, "kn"),
			c.amount("reserve", u.ReserveNm, "nm"))})
	}
	if in.WantedNm > 0 {
		list = append(list, legend{sampleLine(wantedLine...), c.words.Say("drawing.range-wanted",
			c.amount("range", in.WantedNm, "nm"))})
	}
	return list
}

// describe gives both ends of the curve and the point of the use.
func (in RangeCurve) describe(c *canvas) []msg.Message {
	a, b := in.Points[0], in.Points[len(in.Points)-1]
	list := []msg.Message{msg.New("drawing.range",
		c.amount("far", a.RangeNm, "nm"), c.amount("slow", a.SpeedKn, "kn"),
		c.amount("near", b.RangeNm, "nm"), c.amount("fast", b.SpeedKn, "kn"))}
	if u := in.Use; u != nil {
		list = append(list, msg.New("drawing.range-use", c.amount("speed", u.SpeedKn, "kn"),
			c.amount("range", u.RangeNm, "nm"), c.amount("reserve", u.ReserveNm, "nm")))
	}
	return append(list, msg.New("drawing.range-preliminary"))
}

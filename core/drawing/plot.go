package drawing

import (
	"math"

	"gonum.org/v1/gonum/interp"

	"ribband/core/msg"
)

// Ticks are round numbers that cover low to high: multiples of 1, 2 or 5 times a power of ten, about as many as wanted
// and at most two more. The first is at or below low, the last at or above high. Equal or unusable bounds give 0 and 1.
//
// Source: P. Heckbert, Nice numbers for graph labels, in Graphics Gems (1990), from memory.
func Ticks(low, high float64, wanted int) []float64 {
	if !(high > low) || math.IsInf(low, 0) || math.IsInf(high-low, 0) {
		return []float64{0, 1}
	}
	rough := (high - low) / float64(max(1, min(wanted, 50)))
	step := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{2, 5, 10} {
		if rough > step*1.0000001 {
			step = math.Pow(10, math.Floor(math.Log10(rough))) * m
		}
	}
	return steps(low, high, step)
}

// degreeTicks are those of an angle in degrees: every 5, 10, 15, 30 or 45, by which a clinometer is read.
func degreeTicks(low, high float64, wanted int) []float64 {
	for _, step := range []float64{5, 10, 15, 30, 45} {
		if (high-low)/step <= float64(wanted) {
			return steps(low, high, step)
		}
	}
	return steps(low, high, 90)
}

// steps are the multiples of a step from at or below low to at or above high; the bounds alone where there would be
// none, or too many to draw.
func steps(low, high, step float64) []float64 {
	first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
	if !(last > first) || last-first > 1000 {
		return []float64{low, high}
	}
	var out []float64
	for i := first; i <= last; i++ {
		out = append(out, clean(i*step))
	}
	return out
}

// clean takes the noise of binary fractions off a tick: 0.1 + 0.2 is labelled 0.3, to nine figures.
func clean(v float64) float64 {
	if v == 0 {
		return 0
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-9)
	if unit < 1 { // dividing by a whole number is exact where multiplying by a fraction is not
		whole := math.Round(1 / unit)
		return math.Round(v*whole) / whole
	}
	return math.Round(v/unit) * unit
}

// axis is an axis with its ticks; the first and the last are its ends.
type axis struct {
	title string
	ticks []float64
}

// low is where the axis begins, and high where it ends.
func (a axis) low() float64 { return a.ticks[0] }

func (a axis) high() float64 { return a.ticks[len(a.ticks)-1] }

// label writes a tick with as many decimals as its step needs, so that all of an axis have the same.
func (a axis) label(words *msg.Language, v float64) string {
	places := 0
	if len(a.ticks) > 1 {
		places = max(0, int(math.Ceil(-float64(math.Log10(a.ticks[1]-a.ticks[0]))-1e-9)))
	}
	return words.Number(v, min(places, 9))
}

// plot is a pair of axes on paper.
type plot struct {
	*canvas
	x, y                     axis
	left, top, right, bottom float64
}

// newPlot draws the grid, the ticks and the titles of two axes over the whole width. The title of the upward axis lies
// above it: turned by a right angle nobody reads it.
func (c *canvas) newPlot(x, y axis, height float64) *plot {
	widest := 0.0
	for _, t := range y.ticks {
		widest = max(widest, textWidth(y.label(c.words, t), smallSize))
	}
	p := &plot{c, x, y, 18 + widest, 30, c.width - 18, 30 + height}
	c.text(pt{10, 16}, start, y.title, "fill", ink)
	for _, t := range y.ticks {
		q := p.at(x.low(), t)
		c.line(q, pt{p.right, q.y}, "stroke", rule, "stroke-width", "0.8")
		c.text(pt{p.left - 6, q.y + 4}, end, y.label(c.words, t), "font-size", c.number(smallSize), "fill", soft)
	}
	for _, t := range x.ticks {
		q := p.at(t, y.low())
		c.line(pt{q.x, p.top}, pt{q.x, q.y + 4}, "stroke", rule, "stroke-width", "0.8")
		c.text(pt{q.x, p.bottom + 17}, middle, x.label(c.words, t), "font-size", c.number(smallSize), "fill", soft)
	}
	// the line of zero is drawn where it is on the plot, else at the nearer end
	zero := min(max(0, y.low()), y.high())
	c.line(p.at(x.low(), zero), p.at(x.high(), zero), "stroke", ink, "stroke-width", "1.2")
	c.line(pt{p.left, p.top}, pt{p.left, p.bottom}, "stroke", ink, "stroke-width", "1.2")
	c.text(pt{p.right, p.bottom + 35}, end, x.title, "fill", ink)
	return p
}

// at is the point on paper of two values, in the units of the axes.
func (p *plot) at(x, y float64) pt {
	return pt{
		p.left + (p.right-p.left)*(x-p.x.low())/(p.x.high()-p.x.low()),
		p.bottom - (p.bottom-p.top)*(y-p.y.low())/(p.y.high()-p.y.low()),
	}
}

// curve draws on through points of rising x without bulging beyond them.
//
// Source: Fritsch and Butland (1984), monotone piecewise cubics, as gonum has it: a curve that falls between two
// points of a table would show what nobody computed.
func (p *plot) curve(k *pen, x, y []float64) *pen {
	var f interp.FritschButland
	if len(x) < 2 || f.Fit(x, y) != nil {
		return k
	}
	if k.b.Len() == 0 {
		k.move(p.at(x[0], y[0]))
	} else {
		k.to(p.at(x[0], y[0]))
	}
	for i := 1; i < len(x); i++ {
		h := (x[i] - x[i-1]) / 3
		k.curve(p.at(x[i-1]+h, y[i-1]+float64(h*f.PredictDerivative(x[i-1]))), p.at(x[i]-h,
			y[i]-float64(h*f.PredictDerivative(x[i]))),
			p.at(x[i], y[i]))
	}
	return k
}

// legend is a list of samples with their meaning, one below the other.
type legend struct {
	sample func(c *canvas, at pt) // 24 units wide, 10 high around the point
	text   string
}

// legends draws them below y and gives the y of the last. Below the plot nothing is hidden by them, whatever the curve
// does.
func (c *canvas) legends(y float64, list []legend) float64 {
	for _, l := range list {
		first := true
		for _, part := range wrap(l.text, c.width-60, smallSize) {
			y += smallSize * leading * 1.1
			if first {
				l.sample(c, pt{12, y - 4})
				first = false
			}
			c.text(pt{44, y}, start, part, "font-size", c.number(smallSize), "fill", ink)
		}
	}
	return y
}

// sampleLine is a legend's piece of line.
func sampleLine(attrs ...string) func(*canvas, pt) {
	return func(c *canvas, at pt) { c.line(at, pt{at.x + 24, at.y}, attrs...) }
}

// sampleBand is a legend's piece of area.
func sampleBand(attrs ...string) func(*canvas, pt) {
	return func(c *canvas, at pt) { c.rect(at.x, at.y-5, 24, 10, attrs...) }
}

// sampleDot is a legend's dot.
func sampleDot(attrs ...string) func(*canvas, pt) {
	return func(c *canvas, at pt) { c.ellipse(pt{at.x + 12, at.y}, 4.5, 4.5, attrs...) }
}

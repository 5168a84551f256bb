package drawing

import (
	"math"

	"ribband/core/measure"
	"ribband/core/msg"
)

// dimensionAcross draws a dimension line from left to right, its text in the middle, where the line is broken.
func (c *canvas) dimensionAcross(x1, x2, y float64, text string) {
	m, gap := float64((x1+x2)/2), float64(textWidth(text, smallSize)/2)+3
	c.line(pt{x1, y}, pt{m - gap, y}, "stroke", soft, "stroke-width", "0.8")
	c.line(pt{m + gap, y}, pt{x2, y}, "stroke", soft, "stroke-width", "0.8")
	c.stroke(pt{x1, y})
	c.stroke(pt{x2, y})
	c.label(pt{m, y + smallSize*0.36}, middle, text, "fill", ink)
}

// dimension is the word beside a dimension line.
func (c *canvas) dimension(of string) string {
	return c.words.Say("drawing.dimension", msg.Choice("dimension", of))
}

// stroke is the end of a dimension line: an oblique stroke, as builders draw it, which stays clear where arrows would
// run together.
func (c *canvas) stroke(at pt) {
	c.line(pt{at.x - 3, at.y + 3}, pt{at.x + 3, at.y - 3}, "stroke", ink, "stroke-width", "1.2")
}

// dimensionUp draws a dimension line from y1 up to y2. The text stands beside it in lines, outward, the first baseline
// at y.
func (c *canvas) dimensionUp(x, y1, y2, y float64, anchor string, text ...string) {
	c.line(pt{x, y1}, pt{x, y2}, "stroke", soft, "stroke-width", "0.8")
	c.stroke(pt{x, y1})
	c.stroke(pt{x, y2})
	out := 6.0
	if anchor == end {
		out = -out
	}
	for i, t := range text {
		c.label(pt{x + out, y + float64(float64(i)*smallSize*1.2)}, anchor, t, "fill", ink)
	}
}

// extension is the thin line from the boat to a dimension line, dashed so that it is not taken for part of the boat.
func (c *canvas) extension(a, b pt) {
	c.line(a, b, "stroke", strong, "stroke-width", "0.7", "stroke-dasharray", "3 2")
}

// scaleBar draws a bar of a round length in quarters with its upper left corner at a point, and gives its right end.
// It is the longest round length within 120 units, m or ft.
func (c *canvas) scaleBar(at pt, scale float64) float64 {
	unit, symbol := 1.0, "m"
	if c.system == measure.USCustomary {
		unit, symbol = foot, "ft"
	}
	length := roundLength(120 / scale / unit)
	w := length * unit * scale / 4
	for i := range 4 {
		fill := ink
		if i%2 == 1 {
			fill = paper
		}
		c.rect(at.x+float64(float64(i)*w), at.y, w, 5, "fill", fill, "stroke", ink, "stroke-width", "0.8")
	}
	c.text(pt{at.x, at.y + 18}, start, "0", "font-size", c.number(smallSize), "fill", soft)
	c.text(pt{at.x + float64(4*w), at.y + 18}, end, c.words.Number(length, msg.Exact)+"\u00a0"+symbol, "font-size",
		c.number(smallSize), "fill", soft)
	return at.x + float64(4*w)
}

// roundLength is the largest of 1, 2 and 5 times a power of ten that is no longer than a length: the lengths of
// scale bars by custom.
func roundLength(most float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(most)))
	for _, m := range []float64{5, 2} {
		if m*power <= most {
			return m * power
		}
	}
	return power
}

// deepest is the y of the lowest point of hull and drive, user units: what the draught is measured to.
func (p *profile) deepest() float64 {
	low := math.Inf(-1)
	for i, x := range p.l.x {
		low = max(low, p.at(x, p.l.keel[i]).y)
	}
	if x := p.Drive.X; p.Drive.Kind == Leg || p.Drive.Kind == Pod {
		low = max(low, p.at(x, p.l.bottomAt.Predict(x)-PodDepth-PropellerRadius).y)
	}
	return low
}

// draft is that of the deepest point of hull and drive, m: as computed elsewhere, else as measured here. The computed
// one knows the heel and the points that the book names, and so wins.
func (p *profile) draft() float64 {
	if p.Draft > 0 {
		return p.Draft
	}
	return (p.deepest() - p.oy) / p.scale
}

// lowestSheer is the point of the sheer that is nearest to the water, on paper: y grows downwards, so it is the one
// with the largest.
func (p *profile) lowestSheer() pt {
	low := pt{y: math.Inf(-1)}
	for i, x := range p.l.x {
		if q := p.at(x, p.l.sheer[i]); q.y > low.y {
			low = q
		}
	}
	return low
}

// freeboard is the least height of the sheer above the water, m.
func (p *profile) freeboard() float64 {
	if p.Freeboard > 0 {
		return p.Freeboard
	}
	return (p.oy - p.lowestSheer().y) / p.scale
}

// airDraft is the height of the highest fixed thing above the water, m: of top, poles, fittings and sheer, as computed
// elsewhere or as measured here.
func (p *profile) airDraft() float64 {
	if p.AirDraft > 0 {
		return p.AirDraft
	}
	high := math.Inf(1)
	for i, x := range p.l.x {
		high = min(high, p.at(x, p.l.sheer[i]).y)
	}
	for _, f := range p.Fittings {
		if x, z, ok := f.highest(p.l); ok {
			high = min(high, p.at(x, z).y)
		}
	}
	if p.Top.Kind != NoTop {
		high = min(high, p.at((p.Top.Aft+p.Top.Fore)/2, p.Crown()).y)
	}
	for _, o := range p.Poles {
		high = min(high, p.at(o.X, o.Top).y)
	}
	return (p.oy - high) / p.scale
}

// water draws the surface, and tints what is below it, over the hull: the boat is seen through the water.
func (p *profile) water() {
	if p.Drafts == nil {
		return
	}
	deep := p.deepest() + float64(0.12*p.scale)
	p.rect(p.left-4, p.oy, p.right-p.left+8, deep-p.oy, "fill", water, "fill-opacity", "0.13")
	p.line(pt{p.left - 4, p.oy}, pt{p.right + 4, p.oy}, "stroke", water, "stroke-width", "1.5")
}

// dimensions draws the dimension lines and gives the y below them: the length below the boat, draught and freeboard
// aft, heights forward, where nothing hangs over.
func (p *profile) dimensions() float64 {
	y := p.deepest() + float64(0.12*p.scale) + 18
	aft, fore := p.at(p.l.aft, p.l.bottom[0]), p.at(p.l.fore, p.l.bottom[len(p.l.x)-1])
	p.extension(pt{aft.x, aft.y + 3}, pt{aft.x, y + 5})
	p.extension(pt{fore.x, fore.y + 3}, pt{fore.x, y + 5})
	p.dimensionAcross(aft.x, fore.x, y, p.words.Say("drawing.length",
		p.long("length", p.l.length())))
	if p.Drafts != nil {
		x := p.left - 9
		p.dimensionUp(x, p.oy, p.oy+float64(p.draft()*p.scale), p.oy+14, end, p.dimension("draught"),
			p.length(p.draft()))
		p.dimensionUp(x, p.oy, p.oy-float64(p.freeboard()*p.scale), p.oy-18, end, p.dimension("freeboard"),
			p.length(p.freeboard()))
		p.heights(p.right + 9)
	}
	return y + 12
}

// heights draws the height above the water at x, and on the same line that with the hood folded: the two heights by
// which a bridge is judged.
func (p *profile) heights(x float64) {
	high := p.oy - float64(p.airDraft()*p.scale)
	p.extension(pt{p.topEdge() + 4, high}, pt{x + 4, high})
	middle := (p.oy + high) / 2
	if p.folds() {
		folded := p.oy - float64(p.Folded*p.scale)
		p.extension(pt{(p.at(p.Top.Aft, 0).x + p.at(p.Top.Fore, 0).x) / 2, folded}, pt{x + 4, folded})
		p.dimensionUp(x, p.oy, folded, folded+14, start, p.dimension("folded"), p.length(p.Folded))
		middle = (folded + high) / 2
	}
	p.dimensionUp(x, p.oy, high, middle-2, start, p.dimension("height"), p.length(p.airDraft()))
}

// topEdge is how far forward the highest thing reaches, on paper, so that the extension line begins at it: the head of
// a pole, the fore edge of a top, or the stem.
func (p *profile) topEdge() float64 {
	for _, o := range p.Poles {
		if head := p.at(o.X, o.Top); math.Abs(p.oy-head.y-float64(p.airDraft()*p.scale)) < 0.02*p.scale {
			return head.x
		}
	}
	if p.Top.Kind != NoTop {
		return p.at(p.Top.Fore, p.Crown()).x
	}
	return p.at(p.l.fore, p.l.high).x
}

// foot draws scale bar, notes and caution below y, and gives the y of the end. Draughts to the base line go first
// where they are noted: the yard sets its marks by them.
func (p *profile) foot(y float64) float64 {
	notes := p.Notes
	if p.Drafts != nil && p.BaseLine {
		notes = append([]string{p.words.Say("drawing.base-line", p.long("aft", p.Drafts.Aft),
			p.long("fore", p.Drafts.Fore))}, notes...)
	}
	return p.barAndNotes(y, p.scale, notes)
}

// barAndNotes draws a scale bar with the caution beside or below it, then notes, and gives the y below them. The bar
// stays true when a page shrinks the drawing, and so does every length measured by it.
func (c *canvas) barAndNotes(y, scale float64, notes []string) float64 {
	right := c.scaleBar(pt{12, y + 4}, scale)
	text, style := c.words.Text(caution), []string{"font-size", c.number(smallSize), "font-style", "italic", "fill",
		soft}
	if c.width-right-28 > textWidth(text, smallSize) {
		c.text(pt{c.width - 12, y + 12}, end, text, style...)
		y += 24
	} else {
		y += 38
		c.text(pt{12, y}, start, text, style...)
	}
	return c.notes(12, y+2, c.width-12, notes)
}

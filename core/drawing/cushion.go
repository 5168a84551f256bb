package drawing

import (
	"fmt"
	"math"
)

// Cushion is a cushion to be drawn in section, all to one scale, so that a thicker one is seen to be thicker.
type Cushion struct {
	Layers []FoamLayer // from the base up
	Cover  Colour      // of vinyl or cloth
	Piping Colour      // in the seams; blank: they are plain
	Board  bool        // it lies on a board; else on an open mesh
}

// FoamLayer is a sheet of foam.
type FoamLayer struct {
	MM   float64 // thickness, mm
	KgM3 float64 // density, kg/m³
	Open bool    // water runs through it
}

// The section, user units.
const (
	cushionWidth = 88.0
	cushionScale = 0.42 // units for 1 mm
	cushionEdge  = 4.0  // room for the cover and what stands out of its seams
	cushionFoot  = 6.0  // and below, for the base
	foamCream    = "#f3e8c4"
)

// SVG draws the cushion cut across. It holds no id and says nothing to who hears the page: words stand beside it. The
// error names a layer or a colour that cannot be drawn.
//
// Sections are hatched at 45°, each of two bodies that touch the other way; source: ISO 128-3 (from memory). That
// denser foam is hatched closer, and open foam both ways, is our own reading of it.
func (in Cushion) SVG() (string, error) {
	thick := 0.0
	for i, l := range in.Layers {
		if !(l.MM >= 1 && l.MM <= 500) || !(l.KgM3 > 0 && l.KgM3 <= 2000) {
			return "", fmt.Errorf("drawing a cushion: layer %d has %v mm and %v kg/m³; give 1 to 500 mm and a density "+
				"above zero", i+1, l.MM, l.KgM3)
		}
		thick += l.MM
	}
	for _, c := range []Colour{in.Cover, in.Piping} {
		if c != "" && !sixDigits(c) {
			return "", fmt.Errorf(`drawing a cushion: %.20q is no colour; write it as "#1b3a5c"`, string(c))
		}
	}
	if thick == 0 {
		return "", fmt.Errorf("drawing a cushion: it has no layers of foam")
	}
	c := &canvas{kind: "cushion", width: cushionWidth, height: float64(thick*cushionScale) + cushionEdge + cushionFoot}
	top, low := cushionEdge, c.height-cushionFoot
	y := low
	for i, l := range in.Layers {
		h := float64(l.MM * cushionScale)
		y -= h
		c.rect(cushionEdge, y, c.width-2*cushionEdge, h, "fill", foamCream)
		c.hatch(pt{cushionEdge, y}, pt{c.width - cushionEdge, y + h}, l, i%2 == 1)
		if i > 0 { // where two sheets are glued
			c.line(pt{cushionEdge, y + h}, pt{c.width - cushionEdge, y + h}, "stroke", dark, "stroke-width", "0.8")
		}
	}
	in.base(c, low)
	in.cover(c, top, low)
	if c.bad != nil {
		return "", c.bad
	}
	h := c.number(c.height)
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="cushion" width="%v" height="%s" `+
		`viewBox="0 0 %[1]v %[2]s" aria-hidden="true">`+"\n%[3]s</svg>\n", c.width, h, c.body.String()), nil
}

// hatch fills a layer from its upper left to its lower right corner with lines at 45°: 60 kg/m³ 2.5 units apart, softer
// foam farther.
func (c *canvas) hatch(a, b pt, l FoamLayer, falling bool) {
	step := float64(min(max(150/l.KgM3, 1.5), 7) * math.Sqrt2)
	h := b.y - a.y
	p := c.pen()
	ways := []bool{falling}
	if l.Open {
		ways = []bool{false, true}
		step = float64(step * 1.6)
	}
	for _, down := range ways {
		// x is where the line meets the lower edge, or the upper one where it falls
		for x := a.x - h + float64(step/2); x < b.x; x += step {
			from, to := max(x, a.x), min(x+h, b.x)
			if down {
				p.move(pt{from, a.y + (from - x)}).to(pt{to, a.y + (to - x)})
			} else {
				p.move(pt{from, b.y - (from - x)}).to(pt{to, b.y - (to - x)})
			}
		}
	}
	c.path(p.String(), "fill", "none", "stroke", dark, "stroke-width", "0.5", "stroke-opacity", "0.75")
}

// base is a board, cut across its plies, or the mesh through which a cushion dries.
func (in Cushion) base(c *canvas, low float64) {
	left, right := cushionEdge, c.width-cushionEdge
	if in.Board {
		c.rect(left, low, right-left, 3.2, "fill", Timber, "stroke", dark, "stroke-width", "0.6")
		c.line(pt{left, low + 1.6}, pt{right, low + 1.6}, "stroke", dark, "stroke-width", "0.4")
		return
	}
	c.line(pt{left, low + 0.8}, pt{right, low + 0.8}, "stroke", ink, "stroke-width", "1.6", "stroke-dasharray", "3 2.2")
}

// cover goes round sides and top, with its edges in ink so that white is seen on white, and the seams where its top
// meets its sides and these the base.
func (in Cushion) cover(c *canvas, top, low float64) {
	const r = 4.0 // of the upper corners
	left, right := cushionEdge, c.width-cushionEdge
	d := c.pen().move(pt{left, low}).to(pt{left, top + r}).curve(pt{left, top}, pt{left, top}, pt{left + r, top}).
		to(pt{right - r, top}).curve(pt{right, top}, pt{right, top}, pt{right, top + r}).to(pt{right, low}).String()
	c.path(d, "fill", "none", "stroke", ink, "stroke-width", "3.6")
	c.path(d, "fill", "none", "stroke", in.Cover.Or(CushionGrey), "stroke-width", "2.4")
	for _, at := range []pt{{left + 0.6, top + 0.6}, {right - 0.6, top + 0.6}, {left, low - 0.6}, {right, low - 0.6}} {
		if in.Piping != "" {
			c.ellipse(at, 2.6, 2.6, "fill", string(in.Piping), "stroke", dark, "stroke-width", "0.7")
			continue
		}
		inwards := pt{math.Copysign(4, left+right-float64(2*at.x)), math.Copysign(2.5, top+low-float64(2*at.y))}
		c.line(at, pt{at.x + inwards.x, at.y + inwards.y}, "stroke",
			dark, "stroke-width", "1") // the allowance of a seam lies inside
	}
}

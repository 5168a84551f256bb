package drawing

import (
	"fmt"
	"math"

	"ribband/core/msg"
)

// Hoop is a bow of the canopy frame as it stands on the floor template: two legs, two bends and a crowned roof, with
// where each bend begins and ends along the tube. Lengths are m, to the tube's middle.
type Hoop struct {
	Name                         string
	Width, Height, Radius, Crown float64
	Notes                        []string // below the drawing
}

// Bends are where the bends of a hoop begin and end, m from one end of the tube, the length of the tube, and by how
// many degrees each turns.
//
// Formula: first bend from H − r to H − r + π·r/2, the second as far from the other end; L = 2·H + W − (4 − π)·r +
// 8·c²/(3·W); each turns 90° − α, where tan(α/2) = 2·c/W: the crown meets its chord under α, and both ends of the roof
// rise by it.
// Valid: r at most H and W/2, c at most W/4, as for the tube that is bought (package takeoff); a bend of 90° − α is a
// little shorter than the quarter that is marked, and the difference is left in the roof.
// Source: geometry.
func (h Hoop) Bends() (at [4]float64, length, degrees float64) {
	length = 2*h.Height + h.Width - float64((4-math.Pi)*h.Radius) + float64(8*h.Crown*h.Crown/(3*h.Width))
	begin := h.Height - h.Radius
	end := begin + float64(math.Pi*h.Radius/2)
	return [4]float64{begin, end, length - end, length - begin}, length,
		90 - float64(2*math.Atan(2*h.Crown/h.Width)*180/math.Pi)
}

// SVG draws the hoop with its marks. The error names the length that cannot be bent.
func (h Hoop) SVG(f Format) (string, error) {
	c, err := f.canvas("hoop")
	if err != nil {
		return "", err
	}
	// as takeoff bounds them, or the tube would have less than no length between its bends
	k := &check{kind: c.kind}
	k.within("width", h.Width, 0.1, 20, "m")
	k.within("height", h.Height, 0.05, 10, "m")
	k.within("radius of the bends", h.Radius, 0, min(h.Height, h.Width/2), "m")
	k.within("crown", h.Crown, 0, h.Width/4, "m")
	if k.err != nil {
		return "", k.err
	}
	// room at the side for the height, below for the width; no larger than a page of paper bears
	const side, above = 78.0, 34.0
	scale := min((c.width-2*side)/h.Width, 320)
	left := float64((c.width - float64(scale*h.Width)) / 2)
	floor := above + float64(scale*(h.Height+h.Crown))
	at := func(x, z float64) pt { return pt{left + float64(scale*x), floor - float64(scale*z)} }
	// a quarter of a circle as a cubic, its handles 0.5523 of the radius long: from memory
	r, w, top := h.Radius, h.Width, h.Height
	handle := float64(0.5523 * r)
	d := c.pen().move(at(0, 0)).to(at(0, top-r))
	d.curve(at(0, top-r+handle), at(r-handle, top), at(r, top))
	// the roof by a parabola of the same crown, which a shallow arc is
	// (handles of a parabola as a cubic lie at thirds of the chord)
	third := (w - float64(2*r)) / 3
	d.curve(at(r+third, top+float64(4*h.Crown/3)), at(w-r-third, top+float64(4*h.Crown/3)), at(w-r, top))
	d.curve(at(w-r+handle, top), at(w, top-r+handle), at(w, top-r))
	d.to(at(w, 0))
	c.path(d.String(), "fill", "none", "stroke", Metal, "stroke-width", "7", "stroke-linejoin", "round")
	c.path(d.String(), "fill", "none", "stroke", ink, "stroke-width", "1")
	c.line(at(-0.08, 0), at(w+0.08, 0), "stroke", soft, "stroke-width", "1")
	// marks across the tube, numbered from the end that is at the stop
	marks, length, degrees := h.Bends()
	for i, q := range []pt{at(0, top-r), at(r, top), at(w-r, top), at(w, top-r)} {
		across := pt{8, 0}
		if i == 1 || i == 2 {
			across = pt{0, 8}
		}
		c.line(pt{q.x - across.x, q.y - across.y}, pt{q.x + across.x, q.y + across.y}, "stroke", wood, "stroke-width",
			"2")
		// those of the legs within the hoop, those of the roof above it, so that they stay apart on a telephone
		in := pt{q.x + 16, q.y + 4}
		switch {
		case i == 1 || i == 2:
			in = pt{q.x, q.y - 13}
		case i == 3:
			in.x = q.x - 16
		}
		c.label(in, middle, c.words.Number(float64(i+1), 0))
	}
	// what is checked on the floor: over the feet, and to the roof without its crown
	c.dimensionAcross(at(0, 0).x, at(w, 0).x, floor+16, c.length(w))
	c.dimensionUp(at(0, 0).x-24, floor, at(0, top).y, (floor+at(0, top).y)/2, end, c.length(top))
	// the cut first, then the marks in the order in which the tube goes through the bender
	rows := []string{c.words.Say("drawing.hoop-cut", msg.Number("length", length, 3), msg.Number("degrees", degrees, 1),
		msg.Number("radius", r, 3), msg.Number("crown", h.Crown, 3))}
	for i, m := range marks {
		rows = append(rows, c.words.Say("drawing.hoop-mark", msg.Count("n", i+1), msg.Number("at", m, 3)))
	}
	c.height = c.notes(12, floor+26, c.width-12, append(rows, h.Notes...)) + 10
	return c.finish(h.Name, msg.New("drawing.hoop", msg.Text("marks", fmt.Sprintf("%s; %s; %s; %s", rows[1], rows[2],
		rows[3], rows[4])), msg.Text("cut", rows[0])), caution)
}

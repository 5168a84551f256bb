package drawing

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"ribband/core/measure"
	"ribband/core/msg"
)

// Sizes of text, user units: 12 is read at arm's length on a telephone, and 11 is the least that is printed readably.
const (
	textSize  = 12.0
	smallSize = 11.0
	leading   = 1.35 // height of a line over the size of its text
	farthest  = 1e6  // user units
)

// pt is a point on paper, user units, y downwards.
type pt struct{ x, y float64 }

// canvas collects the elements of a drawing.
type canvas struct {
	id            string // begins every id in the drawing
	kind          string // of drawing, as its errors name it
	width, height float64
	words         *msg.Language // never nil
	system        measure.System
	body          strings.Builder
	depth         int
	bad           error
}

// number writes a coordinate to a hundredth of a unit, which is finer than any screen or printer. One that is not
// finite, or so far away that the input must be in other units, spoils the drawing instead of getting into it.
func (c *canvas) number(v float64) string {
	if !(math.Abs(v) <= farthest) {
		if c.bad == nil {
			c.bad = fmt.Errorf("drawing the %s: a place comes to %v; check the lengths given", c.kind, v)
		}
		return "0"
	}
	r := math.Round(v*100) / 100
	if r == 0 {
		r = 0 // no minus zero
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// escape makes text safe between tags and in attributes, without characters that XML forbids. All text of a drawing
// goes through it, so that what a book or a buyer writes is never markup.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < 0x20, r >= 0x7f && r < 0xa0, r == 0xfffe, r == 0xffff:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	return html.EscapeString(s)
}

// tag writes an opening tag; attributes are names and values in turn.
func (c *canvas) tag(name, end string, attrs []string) {
	c.body.WriteString(strings.Repeat("  ", c.depth+1) + "<" + name)
	for i := 0; i+1 < len(attrs); i += 2 {
		c.body.WriteString(" " + attrs[i] + `="` + escape(attrs[i+1]) + `"`)
	}
	c.body.WriteString(end)
}

// element writes an element without content.
func (c *canvas) element(name string, attrs ...string) { c.tag(name, "/>\n", attrs) }

// group puts what draw draws into a g, or another element that holds some: its attributes hold for all of them, and
// the text stays short.
func (c *canvas) group(name string, draw func(), attrs ...string) {
	c.tag(name, ">\n", attrs)
	c.depth++
	draw()
	c.depth--
	c.body.WriteString(strings.Repeat("  ", c.depth+1) + "</" + name + ">\n")
}

// path draws a path; d is what a [pen] wrote.
func (c *canvas) path(d string, attrs ...string) {
	c.element("path", append([]string{"d", d}, attrs...)...)
}

// line draws a straight line from a to b.
func (c *canvas) line(a, b pt, attrs ...string) {
	c.element("line", append([]string{"x1", c.number(a.x), "y1", c.number(a.y), "x2", c.number(b.x), "y2",
		c.number(b.y)}, attrs...)...)
}

// rect draws a rectangle from its upper left corner, to the right and down.
func (c *canvas) rect(x, y, w, h float64, attrs ...string) {
	c.element("rect", append([]string{"x", c.number(x), "y", c.number(y), "width", c.number(w), "height", c.number(h)},
		attrs...)...)
}

// ellipse draws an ellipse about its middle; rx is half of its breadth on paper, ry half of its height.
func (c *canvas) ellipse(at pt, rx, ry float64, attrs ...string) {
	c.element("ellipse", append([]string{"cx", c.number(at.x), "cy", c.number(at.y), "rx", c.number(rx), "ry",
		c.number(ry)}, attrs...)...)
}

// Anchors of text.
const (
	start  = "start"
	middle = "middle"
	end    = "end"
)

// text writes s with its baseline at a point.
func (c *canvas) text(at pt, anchor, s string, attrs ...string) {
	all := append([]string{"x", c.number(at.x), "y", c.number(at.y), "text-anchor", anchor}, attrs...)
	c.tag("text", ">"+escape(s)+"</text>\n", all)
}

// label is small text with a halo in the colour of the sheet, so that it can be read over lines.
func (c *canvas) label(at pt, anchor, s string, attrs ...string) {
	c.text(at, anchor, s, append([]string{"font-size", c.number(smallSize), "stroke", paper, "stroke-width", "3",
		"stroke-linejoin", "round", "paint-order", "stroke"}, attrs...)...)
}

// clip defines a clip path and gives the reference to it. Its id begins with that of the drawing, so that two drawings
// on a page do not cut each other.
func (c *canvas) clip(name, d string, attrs ...string) string {
	id := c.id + "-" + name
	c.group("clipPath", func() { c.path(d, attrs...) }, "id", id)
	return "url(#" + id + ")"
}

// notes writes lines of small text, wrapped to the room between left and right, and gives the y below them. SVG does
// not wrap by itself.
func (c *canvas) notes(left, y, right float64, lines []string) float64 {
	for _, line := range lines {
		for _, part := range wrap(line, right-left, smallSize) {
			y += smallSize * leading
			c.text(pt{left, y}, start, part, "font-size", c.number(smallSize), "fill", soft)
		}
	}
	return y
}

// title names the kind of drawing and the boat, or what else it is of; the kind alone where that has no name.
func (c *canvas) title(name string) string {
	if name == "" {
		return c.words.Say("drawing.title", msg.Choice("drawing", c.key()))
	}
	return c.words.Say("drawing.title-of", msg.Choice("drawing", c.key()), msg.Text("name", name))
}

// finish gives the whole drawing of what has a name, with its title and the sentences of its description for screen
// readers; or the first thing that could not be drawn. Sizes are numbers like all others, so that a bad one is found
// here, too.
func (c *canvas) finish(name string, description ...msg.Message) (string, error) {
	var b strings.Builder
	w, h := c.number(c.width), c.number(c.height)
	if c.bad != nil {
		return "", c.bad
	}
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" viewBox="0 0 %s %s" role="img" `, w, w, h)
	fmt.Fprintf(&b, `aria-labelledby="%s-title %s-desc" `, c.id, c.id)
	fmt.Fprintf(&b, `font-family="var(--sans, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif)" font-size="%v" fill="%s">`,
		textSize, ink)
	b.WriteString("\n")
	fmt.Fprintf(&b, "  <title id=\"%s-title\">%s</title>\n  <desc "+
		"id=\"%s-desc\">%s</desc>\n", c.id, escape(c.title(name)),
		c.id, escape(c.words.Text(msg.Sentences(description...))))
	b.WriteString(c.body.String())
	b.WriteString("</svg>\n")
	return b.String(), nil
}

package drawing

import (
	"fmt"
	"strings"

	"ribband/core/msg"
)

// MassGroup is the mass of a group of things.
type MassGroup struct {
	Name string
	Kg   float64
}

// Masses is the mass of the boat by group, as bars.
type Masses struct {
	Name string
	// Drawn in this order.
	Groups []MassGroup
	Notes  []string
}

// Bounds and sizes of the bars; user units.
const (
	mostGroups = 100
	barHeight  = 14.0
)

// SVG draws the bars, all to one scale from zero. The error names the group whose mass cannot be. On a narrow drawing
// names stand above the bars.
func (in Masses) SVG(f Format) (string, error) {
	c, err := f.canvas("masses")
	if err != nil {
		return "", err
	}
	total, heaviest, err := in.sum()
	if err != nil {
		return "", err
	}
	left, beside := 12.0, c.width >= narrow
	if beside {
		for _, g := range in.Groups {
			left = max(left, min(0.32*c.width, textWidth(g.Name, textSize))+22)
		}
	}
	// the longest bar leaves room for its number, which stands behind it
	room := textWidth(c.kilograms(heaviest), textSize) + 14
	scale := (c.width - left - room - 10) / max(heaviest, 1e-9)
	y := 10.0
	for _, g := range in.Groups {
		y = c.bar(g, y, left, scale, beside)
	}
	if beside {
		c.line(pt{left, 8}, pt{left, y}, "stroke", ink, "stroke-width", "1.2")
	}
	y += 18
	c.text(pt{12, y}, start, c.words.Say("drawing.masses-together", msg.Number("kg", kilos(total), msg.Exact)),
		"font-weight", "600")
	c.height = c.notes(12, y+2, c.width-12, in.Notes) + 10
	return c.finish(in.Name, in.describe(c, total))
}

// sum adds the groups up and finds the longest bar, kg.
func (in Masses) sum() (total, heaviest float64, err error) {
	k := &check{kind: "masses"}
	if n := len(in.Groups); n < 1 || n > mostGroups {
		k.fail("there are %d groups; give 1 to %d", n, mostGroups)
	}
	for i, g := range in.Groups {
		k.within(fmt.Sprintf("mass of group %d, %.40q,", i+1, g.Name), g.Kg, 0, 1e5, "kg")
		total, heaviest = total+g.Kg, max(heaviest, g.Kg)
	}
	return total, heaviest, k.err
}

// bar draws a group, its name beside or above the bar, and gives the y below it. Names take three lines at most; a
// longer one is cut short, and stands whole in the description.
func (c *canvas) bar(g MassGroup, y, left, scale float64, beside bool) float64 {
	x, room := left-8, left-20
	anchor := end
	if !beside {
		x, room, anchor = 12, c.width-24, start
	}
	names := wrap(g.Name, room, textSize)
	if len(names) > 3 {
		names = append(names[:2], fit(strings.Join(names[2:], " "), room, textSize))
	}
	line := textSize * leading
	top := y + 4
	if !beside {
		top = y + 6 + float64(line*float64(len(names)))
	}
	for i, part := range names {
		c.text(pt{x, y + 15 + float64(line*float64(i))}, anchor, part)
	}
	w := float64(g.Kg * scale)
	c.rect(left, top, w, barHeight, "fill", water, "fill-opacity", "0.75")
	c.text(pt{left + w + 6, top + 11}, start, c.kilograms(g.Kg), "fill", ink)
	return max(top+barHeight+4, y+4+float64(line*float64(len(names))))
}

// describe lists the groups with their masses, and the total.
func (in Masses) describe(c *canvas, total float64) msg.Message {
	var parts []string
	for _, g := range in.Groups {
		parts = append(parts, c.words.Say("drawing.mass", msg.Text("name", g.Name),
			msg.Number("kg", kilos(g.Kg), msg.Exact)))
	}
	return msg.New("drawing.masses", msg.Text("groups", strings.Join(parts, "; ")),
		msg.Number("kg", kilos(total), msg.Exact))
}

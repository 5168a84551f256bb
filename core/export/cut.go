package export

import (
	"math"
	"strconv"
	"strings"

	"ribband/core/cutting"
)

// File is one of an archive: a name of ASCII, with its ending.
type File struct {
	Name    string
	Content []byte
}

// Archive is a ZIP file of some files, in their order.
func Archive(files []File) []byte {
	var a archive
	for _, f := range files {
		a.add(f.Name, f.Content)
	}
	return a.bytes()
}

// Table is a length of a roll, or one sheet, as it lies on the cutting table, with what is written on each piece.
//
// On the table the roll runs to the right and its width upward, in mm, so that the file is the stock at its own size.
// It has the layers CUT (what is cut through), MARK (the finished line, match marks and an arrow along the roll) and
// TEXT.
type Table struct {
	Layout *cutting.Layout
	Sheet  int        // from 0
	Labels [][]string // by piece: its lines
}

// size is the stock, mm: what of the roll is used, or the whole sheet.
func (t *Table) size() (length, width float64) {
	if l := t.Layout.Stock.Length; l != 0 {
		return l, t.Layout.Stock.Width
	}
	return t.Layout.Used, t.Layout.Stock.Width
}

// draughtsman is a format: it draws in the frame of the table.
type draughtsman interface {
	layer(name string)
	contour(c cutting.Contour)
	line(a, b cutting.Vertex)
	text(at cutting.Vertex, height float64, upward bool, line string)
}

// draw draws all pieces layer by layer.
func (t *Table) draw(by draughtsman) {
	_, width := t.size()
	// a quarter to the right brings the roll along the table; nothing is mirrored
	place := func(v cutting.Vertex) cutting.Vertex { v.X, v.Y = v.Y, width-v.X; return v }
	contour := func(c cutting.Contour) {
		for i := range c {
			c[i] = place(c[i])
		}
		by.contour(c)
	}
	each := func(do func(i int, s *cutting.Shape)) {
		for i := range t.Layout.Placed {
			if p := &t.Layout.Placed[i]; p.Sheet == t.Sheet {
				s := p.Lines()
				do(i, &s)
			}
		}
	}
	by.layer("CUT")
	each(func(_ int, s *cutting.Shape) { contour(s.Cut) })
	by.layer("MARK")
	each(func(i int, s *cutting.Shape) {
		if s.Cut.Area() > s.Finished.Area()+1 { // mm²: there is an allowance
			contour(s.Finished)
		}
		for _, n := range s.Notches {
			by.line(place(n[0]), place(n[1]))
		}
		l := label(s.Cut, t.Labels[i])
		tip, tail := l.arrow(0.5), l.arrow(-0.5)
		by.line(place(tail), place(tip))
		for _, side := range []float64{-1, 1} {
			barb := tip
			barb.X, barb.Y = tip.X+float64(side*l.height*0.3), tip.Y-float64(l.height*0.7)
			by.line(place(barb), place(tip))
		}
	})
	by.layer("TEXT")
	each(func(i int, s *cutting.Shape) {
		l := label(s.Cut, t.Labels[i])
		for k, line := range t.Labels[i] {
			by.text(place(l.line(float64(k))), l.height, l.across, line)
		}
	})
}

// lettering is where the label of a piece stands on its stock.
type lettering struct {
	x, y, height float64 // its middle, and the height of its capitals, mm
	lines        float64
	across       bool // the roll, not along it
}

// label finds room for some lines and an arrow: about the middle of the piece, where a line across its longer side lies
// longest within it.
//
// Source: a letter is 0.8 of its height wide with its gap, and lines stand 1.6 heights apart: common practice, no
// source.
func label(c cutting.Contour, lines []string) lettering {
	const tallest, least = 25.0, 3.0
	polygon := c.Polygon(1)
	left, low, right, high := polygon.Box()
	l := lettering{x: (left + right) / 2, y: (low + high) / 2, lines: float64(len(lines)), across: right-left > high-low}
	deep := right - left
	if l.across {
		deep = high - low
		for i, v := range polygon {
			polygon[i].X, polygon[i].Y = v.Y, v.X
		}
		l.x, l.y = l.y, l.x
	}
	room := 0.0
	l.y, room = within(polygon, l.x)
	if l.across {
		l.x, l.y = l.y, l.x
	}
	longest := 1
	for _, line := range lines {
		longest = max(longest, len([]rune(line)))
	}
	l.height = max(least, min(tallest, 0.9*room/(0.8*float64(longest)), 0.8*deep/(1.6*(l.lines+1))))
	return l
}

// within is the middle of the longest part of a line along the stock that lies in a polygon, and its length.
func within(c cutting.Contour, x float64) (middle, length float64) {
	var at []float64
	for i, v := range c {
		w := c[(i+1)%len(c)]
		if (v.X <= x) != (w.X <= x) {
			at = append(at, v.Y+float64((w.Y-v.Y)*(x-v.X)/(w.X-v.X)))
		}
	}
	for i := 1; i < len(at); i++ { // few, so that the simplest way of sorting does
		for k := i; k > 0 && at[k] < at[k-1]; k-- {
			at[k], at[k-1] = at[k-1], at[k]
		}
	}
	for i := 0; i+1 < len(at); i += 2 {
		if d := at[i+1] - at[i]; d > length {
			middle, length = float64((at[i]+at[i+1])/2), d
		}
	}
	return middle, length
}

// line is where a line of the label stands; the one behind the last is the arrow's.
func (l *lettering) line(k float64) cutting.Vertex {
	off := float64(1.6 * l.height * (k - l.lines/2))
	if l.across {
		return cutting.Vertex{X: l.x, Y: l.y + off}
	}
	return cutting.Vertex{X: l.x + off, Y: l.y}
}

// arrow is a place on the arrow along the roll, which is four letters long.
func (l *lettering) arrow(share float64) cutting.Vertex {
	v := l.line(l.lines)
	if l.across {
		share += 0.5
	}
	v.Y += float64(4 * l.height * share)
	return v
}

// decimal is a number with so many places after the point, and no minus zero.
func decimal(v float64, places int) string {
	step := math.Pow10(places)
	if v = math.Round(v*step) / step; v == 0 {
		v = 0
	}
	return strconv.FormatFloat(v, 'f', places, 64)
}

// DXF writes a table as ASCII DXF of release 12, which knows no unit: a comment says that it is in mm. Contours are
// closed polylines whose arcs are bulges, the tangent of a quarter of their angle.
//
// Source: the DXF reference of release 12 (AC1009), from memory: header variables, tables LTYPE and LAYER, entities
// POLYLINE, VERTEX, LINE and TEXT; characters beyond ASCII as \U+XXXX.
func (t *Table) DXF() []byte {
	d := &dxf{}
	length, width := t.size()
	d.group(999, "mm")
	d.group(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009")
	for _, corner := range []string{"$EXTM", "$LIMM"} {
		d.group(9, corner+"IN").point(10, cutting.Vertex{})
		d.group(9, corner+"AX").point(10, cutting.Vertex{X: length, Y: width})
	}
	d.group(0, "ENDSEC", 0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LTYPE", 70, "1", 0, "LTYPE", 2, "CONTINUOUS", 70, "64",
		3, "Solid line", 72, "65", 73, "0", 40, "0.0", 0, "ENDTAB", 0, "TABLE", 2, "LAYER", 70, "3")
	for _, l := range [][2]string{{"CUT", "1"}, {"MARK", "5"}, {"TEXT", "7"}} { // red, blue, black on white
		d.group(0, "LAYER", 2, l[0], 70, "64", 62, l[1], 6, "CONTINUOUS")
	}
	d.group(0, "ENDTAB", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	t.draw(d)
	d.group(0, "ENDSEC", 0, "EOF")
	return []byte(d.String())
}

// dxf writes groups: a code and a value, a line each.
type dxf struct {
	strings.Builder
	on string // the layer
}

func (d *dxf) group(pairs ...any) *dxf {
	for _, v := range pairs {
		if code, ok := v.(int); ok {
			v = strconv.Itoa(code)
		}
		d.WriteString(v.(string) + "\n")
	}
	return d
}

// point writes the coordinates of a place; those of one place have codes ten apart.
func (d *dxf) point(code int, v cutting.Vertex) *dxf {
	return d.group(code, decimal(v.X, 4), code+10, decimal(v.Y, 4))
}

func (d *dxf) layer(name string) { d.on = name }

func (d *dxf) contour(c cutting.Contour) {
	d.group(0, "POLYLINE", 8, d.on, 66, "1").point(10, cutting.Vertex{}).group(30, "0.0", 70, "1")
	for _, v := range c {
		d.group(0, "VERTEX", 8, d.on).point(10, v)
		if v.Bulge != 0 {
			d.group(42, decimal(v.Bulge, 8))
		}
	}
	d.group(0, "SEQEND", 8, d.on)
}

func (d *dxf) line(a, b cutting.Vertex) { d.group(0, "LINE", 8, d.on).point(10, a).point(11, b) }

// text is centred on its place.
func (d *dxf) text(at cutting.Vertex, height float64, upward bool, line string) {
	turn := "0"
	if upward {
		turn = "90"
	}
	d.group(0, "TEXT", 8, d.on).point(10, at).group(40, decimal(height, 2), 1, dxfText(line), 50, turn, 72, "1", 73, "2")
	d.point(11, at)
}

// dxfText is a text of one line: ASCII, other characters by their number, and none that begins a code.
func dxfText(s string) string {
	var b strings.Builder
	for _, c := range s {
		switch {
		case c < ' ' || c == 0x7f || c > 0xffff:
			b.WriteByte('?')
		case c == '^':
			b.WriteString("^ ")
		case c == '%':
			b.WriteString("%%%")
		case c > 0x7f:
			hex := "000" + strings.ToUpper(strconv.FormatInt(int64(c), 16))
			b.WriteString(`\U+` + hex[len(hex)-4:])
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}

// SVG writes a table at its own size, for a plotter or a browser's print at 1:1. What is a layer in DXF is a group.
//
// Source: SVG 1.1, 8.3 (paths; an arc that turns to the left has a sweep of 0, since y runs downward).
func (t *Table) SVG() []byte {
	length, width := t.size()
	d := &svg{width: width}
	l, w := decimal(length, 3), decimal(width, 3)
	d.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="` + l + `mm" height="` + w + `mm" viewBox="0 0 ` + l + ` ` +
		w + `" fill="none" stroke-width="0.5" font-family="sans-serif">` + "\n")
	t.draw(d)
	d.WriteString("</g>\n</svg>\n")
	return []byte(d.String())
}

// svg writes elements.
type svg struct {
	strings.Builder
	width float64
	open  bool
}

func (d *svg) layer(name string) {
	if d.open {
		d.WriteString("</g>\n")
	}
	d.open = true
	colour := map[string]string{"CUT": `stroke="#d00000"`, "MARK": `stroke="#0040c0"`, "TEXT": `fill="#000000"`}
	d.WriteString(`<g id="` + name + `" ` + colour[name] + ">\n")
}

// at is a place of the drawing, whose y runs downward.
func (d *svg) at(v cutting.Vertex) string { return decimal(v.X, 3) + " " + decimal(d.width-v.Y, 3) }

func (d *svg) contour(c cutting.Contour) {
	d.WriteString(`<path d="M` + d.at(c[0]))
	for i, v := range c {
		w := c[(i+1)%len(c)]
		if v.Bulge == 0 {
			d.WriteString("L" + d.at(w))
			continue
		}
		sweep := "1 "
		if v.Bulge > 0 {
			sweep = "0 "
		}
		// the radius of an arc over a chord: chord × (1 + b²)/(4b)
		r := math.Hypot(w.X-v.X, w.Y-v.Y) * (1 + float64(v.Bulge*v.Bulge)) / (4 * math.Abs(v.Bulge))
		d.WriteString("A" + decimal(r, 3) + " " + decimal(r, 3) + " 0 0 " + sweep + d.at(w))
	}
	d.WriteString("Z\"/>\n")
}

func (d *svg) line(a, b cutting.Vertex) {
	d.WriteString(`<path d="M` + d.at(a) + "L" + d.at(b) + "\"/>\n")
}

func (d *svg) text(at cutting.Vertex, height float64, upward bool, line string) {
	turn := ""
	if upward {
		turn = " rotate(-90)"
	}
	// capitals are 0.7 of the size of a font high (common practice, no source), and stand about the middle
	d.WriteString(`<text text-anchor="middle" dominant-baseline="central" font-size="` + decimal(height/0.7, 2) +
		`" transform="translate(` + d.at(at) + ")" + turn + `">` + escaped(line) + "</text>\n")
}

package export

import (
	"math"
	"slices"
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

// mark is a line on the table, closed or open, or a text about a place.
type mark struct {
	layer  string
	line   cutting.Contour // the place of a text
	closed bool
	text   string
	height float64 // of its capitals, mm
	upward bool    // it runs across the roll
}

// marks are all that is drawn, piece by piece.
func (t *Table) marks() (list []mark) {
	_, width := t.size()
	for i := range t.Layout.Placed {
		p := &t.Layout.Placed[i]
		if p.Sheet != t.Sheet {
			continue
		}
		s := p.Lines()
		// what is cut comes first, so that a reader that counts contours counts pieces
		list = append(list, mark{layer: "CUT", line: s.Cut, closed: true})
		if len(s.Finished) > 0 {
			list = append(list, mark{layer: "MARK", line: s.Finished, closed: true})
		}
		for n := 0; n+1 < len(s.Notches); n += 2 {
			list = append(list, mark{layer: "MARK", line: s.Notches[n : n+2]})
		}
		list = append(list, lettering(s.Cut, t.Labels[i])...)
	}
	// a quarter to the right brings the roll along the table; nothing is mirrored
	for i := range list {
		line := make(cutting.Contour, len(list[i].line))
		for k, v := range list[i].line {
			v.X, v.Y = v.Y, width-v.X
			line[k] = v
		}
		list[i].line = line
	}
	return list
}

// lettering is what is written on a piece, about the middle of its longer side where a line lies longest within it, and
// an arrow along the roll behind it.
//
// Source: a letter is 0.8 of its height wide with its gap, and lines stand 1.6 heights apart: common practice, no
// source.
func lettering(c cutting.Contour, lines []string) (list []mark) {
	const tallest, least = 25.0, 3.0
	polygon := c.Polygon(1)
	left, low, right, high := polygon.Bounds()
	upward, deep := right-left > high-low, right-left
	if upward { // as if the piece lay along the roll
		deep = high - low
		for i, v := range polygon {
			polygon[i].X, polygon[i].Y = v.Y, v.X
		}
		left, right = low, high
	}
	middle, room := longest(polygon, (left+right)/2)
	// bytes, not letters: for other scripts it is a little too careful
	widest := 1
	for _, line := range lines {
		widest = max(widest, len(line))
	}
	n := float64(len(lines))
	height := max(least, min(tallest, 0.9*room/(0.8*float64(widest)), 0.8*deep/(1.6*(n+1))))
	place := func(line, along float64) cutting.Vertex { // along the roll, in heights
		v := cutting.Vertex{X: float64((left+right)/2) + float64(1.6*height*(line-n/2)), Y: middle}
		if upward {
			v.X, v.Y = v.Y, v.X
			if along != 0 {
				along += 2.5 // clear of the last line, which stands across
			}
		}
		v.Y += float64(along * height)
		return v
	}
	for k, line := range lines {
		list = append(list, mark{layer: "TEXT", line: cutting.Contour{place(float64(k), 0)}, text: line, height: height,
			upward: upward})
	}
	// there and back without lifting the pen
	tip, barb := place(n, 2), place(n, 1.3)
	other := barb
	barb.X, other.X = barb.X-float64(0.3*height), barb.X+float64(0.3*height)
	return append(list, mark{layer: "MARK", line: cutting.Contour{place(n, -2), tip, barb, tip, other}})
}

// longest is the middle of the longest part of a line along the stock that lies in a polygon, and its length.
func longest(c cutting.Contour, x float64) (middle, length float64) {
	var at []float64
	for i, v := range c {
		if w := c[(i+1)%len(c)]; (v.X <= x) != (w.X <= x) {
			at = append(at, v.Y+float64((w.Y-v.Y)*(x-v.X)/(w.X-v.X)))
		}
	}
	slices.Sort(at)
	for i := 0; i+1 < len(at); i += 2 {
		if d := at[i+1] - at[i]; d > length {
			middle, length = float64((at[i]+at[i+1])/2), d
		}
	}
	return middle, length
}

// numbered is a text with numbers in it.
type numbered struct{ strings.Builder }

// put writes a text with numbers in the places of its #, to the micrometre and without minus zero. A tenth of what
// package fmt would add to the page's engine for as many places.
func (b *numbered) put(text string, numbers ...float64) {
	for _, n := range numbers {
		before, rest, _ := strings.Cut(text, "#")
		if n = math.Round(n*1000) / 1000; n == 0 {
			n = 0
		}
		b.WriteString(before)
		b.WriteString(strconv.FormatFloat(n, 'f', -1, 64))
		text = rest
	}
	b.WriteString(text)
}

// DXF writes a table as ASCII DXF of release 12, which knows no unit: a comment says that it is in mm. Lines are
// polylines whose arcs are bulges, the tangent of a quarter of their angle. Characters beyond ASCII stand as \U+xxxx.
//
// Source: the DXF reference of release 12 (AC1009), from memory: header variables, tables LTYPE and LAYER, entities
// POLYLINE, VERTEX and TEXT.
func (t *Table) DXF() []byte {
	var b numbered
	length, width := t.size()
	b.put(dxfHead, length, width, length, width)
	for _, m := range t.marks() {
		first := m.line[0]
		if m.text != "" {
			turn := 0.0
			if m.upward {
				turn = 90
			}
			b.put("0\nTEXT\n8\nTEXT\n10\n#\n20\n#\n11\n#\n21\n#\n40\n#\n50\n#\n72\n1\n73\n2\n1\n", first.X, first.Y,
				first.X, first.Y, m.height, turn)
			text := strconv.QuoteToASCII(strings.ReplaceAll(m.text, `"`, "'"))
			b.WriteString(strings.ReplaceAll(text[1:len(text)-1], `\u`, `\U+`) + "\n")
			continue
		}
		// closed by a flag: the first corner is not written twice
		closed := 0.0
		if m.closed {
			closed = 1
		}
		on := "\n8\n" + m.layer + "\n"
		b.put("0\nPOLYLINE"+on+"66\n1\n10\n0\n20\n0\n30\n0\n70\n#\n", closed)
		for _, v := range m.line {
			b.put("0\nVERTEX"+on+"10\n#\n20\n#\n42\n", v.X, v.Y)
			b.WriteString(strconv.FormatFloat(v.Bulge, 'f', -1, 64) + "\n") // seven places, as the pack has them
		}
		b.WriteString("0\nSEQEND" + on)
	}
	b.put("0\nENDSEC\n0\nEOF\n")
	return []byte(b.String())
}

// dxfHead is what stands before what is drawn: the size of the stock as extents and limits, one type of line, and the
// layers in red, blue and black on white. A code and its value are a line each.
const dxfHead = "999\nmm\n0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n" +
	"9\n$EXTMIN\n10\n0\n20\n0\n9\n$EXTMAX\n10\n#\n20\n#\n" +
	"9\n$LIMMIN\n10\n0\n20\n0\n9\n$LIMMAX\n10\n#\n20\n#\n0\nENDSEC\n" +
	// a type of line has to be there before a layer names it
	"0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLTYPE\n70\n1\n" +
	"0\nLTYPE\n2\nCONTINUOUS\n70\n64\n3\nSolid line\n72\n65\n73\n0\n40\n0\n0\nENDTAB\n" +
	"0\nTABLE\n2\nLAYER\n70\n3\n" +
	"0\nLAYER\n2\nCUT\n70\n64\n62\n1\n6\nCONTINUOUS\n" +
	"0\nLAYER\n2\nMARK\n70\n64\n62\n5\n6\nCONTINUOUS\n" +
	"0\nLAYER\n2\nTEXT\n70\n64\n62\n7\n6\nCONTINUOUS\n" +
	"0\nENDTAB\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"

// SVG writes a table at its own size, for a plotter or a browser's print at 1:1. What is a layer in DXF is a class.
//
// Source: SVG 1.1, 8.3 (paths; an arc that turns to the left has a sweep of 0, since y runs downward).
func (t *Table) SVG() []byte {
	var b numbered
	length, width := t.size()
	b.put(svgHead, length, width, length, width)
	for _, m := range t.marks() {
		first := m.line[0]
		if m.text != "" {
			turn := 0.0
			if m.upward {
				turn = -90
			}
			// layers are classes, since groups would have to be opened and closed in between;
			// capitals are 0.7 of the size of a font high (common practice, no source), and stand about the middle
			b.put(`<text class="TEXT" font-size="#" transform="translate(# #) rotate(#)">`, m.height/0.7, first.X,
				width-first.Y, turn)
			b.WriteString(escaped(m.text) + "</text>\n")
			continue
		}
		end := "\"/>\n"
		if m.closed {
			m.line, end = append(m.line, first), "Z"+end
		}
		for i, w := range m.line {
			// an arc is never more than half a circle, since its bulge is 1 at most
			form := "L"
			if i == 0 {
				form = `<path class="` + m.layer + `" d="M`
			} else if v := m.line[i-1]; v.Bulge != 0 {
				// the radius of an arc over a chord: chord × (1 + b²)/(4b)
				r := math.Hypot(w.X-v.X, w.Y-v.Y) * (1 + float64(v.Bulge*v.Bulge)) / (4 * math.Abs(v.Bulge))
				if form = "A# # 0 0 0 "; v.Bulge < 0 {
					form = "A# # 0 0 1 "
				}
				b.put(form, r, r)
				form = ""
			}
			b.put(form+"# #", w.X, width-w.Y)
		}
		b.WriteString(end)
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// svgHead opens a drawing in mm.
const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" width="#mm" height="#mm" viewBox="0 0 # #">
<style>path{fill:none;stroke-width:.5}.CUT{stroke:red}.MARK{stroke:blue}` +
	`text{font-family:sans-serif;text-anchor:middle;dominant-baseline:central}</style>
`

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
		list = append(list, lettering(&s, p.Width > p.Length, min(p.Width, p.Length), t.Labels[i])...)
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

// lettering is what is written on a piece, along its longer side, and an arrow along the roll behind it.
//
// Source: a letter is 0.8 of its height wide with its gap, and lines stand 1.6 heights apart: common practice, no
// source.
func lettering(s *cutting.Shape, upward bool, deep float64, lines []string) (list []mark) {
	const tallest, least = 25.0, 3.0
	// bytes, not letters: for other scripts it is a little too careful
	widest := 1
	for _, line := range lines {
		widest = max(widest, len(line))
	}
	n := float64(len(lines))
	height := max(least, min(tallest, 0.9*s.Room/(0.8*float64(widest)), 0.8*deep/(1.6*(n+1))))
	place := func(line, along float64) cutting.Vertex { // along the roll, in heights
		line = float64(1.6 * height * (line - float64(n/2)))
		v := cutting.Vertex{X: s.LabelX + line, Y: s.LabelY + float64(along*height)}
		if upward {
			v.X, v.Y = s.LabelX, v.Y+line
		}
		return v
	}
	for k, line := range lines {
		list = append(list, mark{layer: "TEXT", line: cutting.Contour{place(float64(k), 0)}, text: line, height: height,
			upward: upward})
	}
	tail := -2.0
	if upward {
		tail = 0.5 // clear of the last line, which stands across
	}
	// there and back without lifting the pen
	tip, barb := place(n, tail+4), place(n, tail+3.3)
	other := barb
	barb.X, other.X = barb.X-float64(0.3*height), barb.X+float64(0.3*height)
	return append(list, mark{layer: "MARK", line: cutting.Contour{place(n, tail), tip, barb, tip, other}})
}

// numbered is a text with numbers in it.
type numbered struct{ text []byte }

// add is not copied into the many places that call it: the page's engine has to stay small.
//
//go:noinline
func (b *numbered) add(text string) { b.text = append(b.text, text...) }

// decimal is a number to the micrometre, and no minus zero.
func decimal(n float64) string {
	if n = math.Round(n*1000) / 1000; n == 0 {
		n = 0
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}

// put writes a text with numbers in the places of its #. A tenth of what package fmt would add to the page's engine for
// as many places.
func (b *numbered) put(text string, numbers ...float64) {
	for _, n := range numbers {
		before, rest, _ := strings.Cut(text, "#")
		b.add(before)
		b.add(decimal(n))
		text = rest
	}
	b.add(text)
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
			b.add(strings.ReplaceAll(text[1:len(text)-1], `\u`, `\U+`))
			b.add("\n")
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
			b.add(strconv.FormatFloat(v.Bulge, 'f', -1, 64)) // seven places, as the pack has them
			b.add("\n")
		}
		b.add("0\nSEQEND")
		b.add(on)
	}
	b.put("0\nENDSEC\n0\nEOF\n")
	return b.text
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
// Source: SVG 1.1, 7.10 (units) and 10.9 (anchors of text).
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
			// capitals are 0.7 of the size of a font high (common practice, no source), and stand about the middle
			b.put(`<text class="TEXT" font-size="#" transform="translate(# #) rotate(#)">`, m.height/0.7, first.X,
				width-first.Y, turn)
			b.add(escaped(m.text))
			b.add("</text>\n")
			continue
		}
		// layers are classes, since groups would have to be opened and closed in between
		b.add(`<path class="`)
		b.add(m.layer)
		b.add(`" d="`)
		b.add(m.line.Path(m.closed, 1, decimal, func(x, y float64) (float64, float64) { return x, width - y }))
		b.add("\"/>\n")
	}
	b.add("</svg>\n")
	return b.text
}

// svgHead opens a drawing in mm.
const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" width="#mm" height="#mm" viewBox="0 0 # #">
<style>path{fill:none;stroke-width:.5}.CUT{stroke:red}.MARK{stroke:blue}` +
	`text{font-family:sans-serif;text-anchor:middle;dominant-baseline:central}</style>
`

package cutfiles

import (
	"math"
	"strconv"

	"ribband/core/cutting"
)

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
		l := linesOf(p)
		// what is cut comes first, so that a reader that counts contours counts pieces
		list = append(list, mark{layer: "CUT", line: p.Lie(l.Cut), closed: true})
		if len(l.Finished) > 0 {
			list = append(list, mark{layer: "MARK", line: p.Lie(l.Finished), closed: true})
		}
		for n := p.Lie(l.Notches); len(n) > 1; n = n[2:] {
			list = append(list, mark{layer: "MARK", line: n[:2]})
		}
		at := p.Lie([]float64{l.Label[0], l.Label[1], 0})[0]
		list = append(list, lettering(at, l.Label[2], p.Width > p.Length, min(p.Width, p.Length), t.Labels[i])...)
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

// linesOf are the lines of a piece, also of a rectangle that has none for its cut.
func linesOf(p *cutting.Placed) (l cutting.Lines) {
	if p.Lines != nil {
		l = *p.Lines
	}
	if len(l.Cut) == 0 {
		width, length := p.Width, p.Length
		if p.Turned {
			width, length = length, width
		}
		l.Cut = []float64{0, 0, 0, width, 0, 0, width, length, 0, 0, length, 0}
		l.Label = [3]float64{width / 2, length / 2, max(width, length)}
	}
	return l
}

// lettering is what is written on a piece, along its longer side, and an arrow along the roll behind it.
//
// Source: a letter is 0.8 of its height wide with its gap, and lines stand 1.6 heights apart: common practice, no
// source.
func lettering(at cutting.Vertex, room float64, upward bool, deep float64, lines []string) (list []mark) {
	const tallest, least = 25.0, 3.0
	// bytes, not letters: for other scripts it is a little too careful
	widest := 1
	for _, line := range lines {
		widest = max(widest, len(line))
	}
	n := float64(len(lines))
	height := max(least, min(tallest, 0.9*room/(0.8*float64(widest)), 0.8*deep/(1.6*(n+1))))
	place := func(line, along float64) cutting.Vertex { // along the roll, in heights
		line = float64(1.6 * height * (line - float64(n/2)))
		v := cutting.Vertex{X: at.X + line, Y: at.Y + float64(along*height)}
		if upward {
			v.X, v.Y = at.X, v.Y+line
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

// decimal is a number to the micrometre, and no minus zero.
func decimal(n float64) string {
	if n = math.Round(n*1000) / 1000; n == 0 {
		n = 0
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}

package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ribband/core/cutting"
	"ribband/core/measure"
	"ribband/core/msg"
)

// CutLayout is how pieces lie on a roll or on sheets.
type CutLayout struct {
	// What is cut, for the title.
	Material string
	Layout   cutting.Layout
	Notes    []string
}

// cuts is a layout on its way onto paper. On paper u runs along the roll, v across it; upright, they change places.
type cuts struct {
	CutLayout
	*canvas
	length, wide float64 // mm of stock drawn, of one sheet or of the used roll
	scale        float64 // user units in a mm
	upright      bool
	columns      int         // of sheets beside each other
	kinds        []pieceKind // what each number stands for, from 1
	count        []int       // of each kind
}

// Beyond these a drawing can no longer be read, and the input is likely in other units.
const (
	mostSheets = 60
	mostUsed   = 1e7 // mm
)

// SVG draws the layout to scale, a sheet below the other or two beside each other, then what the numbers stand for.
// The error names the piece that lies beyond the stock.
func (in CutLayout) SVG(f Format) (string, error) {
	c, err := f.canvas("cut layout")
	if err != nil {
		return "", err
	}
	if err := in.check(); err != nil {
		return "", err
	}
	s := &cuts{CutLayout: in, canvas: c, wide: in.Layout.Stock.Width, length: in.Layout.Stock.Length}
	if s.length == 0 {
		s.length = in.Layout.Used
	}
	s.layOut()
	s.name()
	y, below := 10.0, 0.0
	for sheet := range max(1, in.Layout.Sheets) {
		column := sheet % s.columns
		if column == 0 && sheet > 0 {
			y = below
		}
		below = s.sheet(sheet, float64(column)*s.width/float64(s.columns), y)
	}
	lines := append([]string{c.words.Text(s.summary())}, s.legend()...)
	c.height = c.notes(12, below, c.width-12, append(lines, in.Notes...)) + 10
	return c.finish(in.Material, s.describe()...)
}

// check asks that every piece lies within the stock, to a hundredth of a millimetre, so that none is drawn beside it.
// Whether pieces overlap is the business of package cutting.
func (in CutLayout) check() error {
	k := &check{kind: "cut layout"}
	l := in.Layout
	k.within("stock's width", l.Stock.Width, 1, 1e6, "mm")
	k.within("used length", l.Used, 1, mostUsed, "mm")
	k.within("waste", l.Waste, 0, 1, "of the stock")
	if n := len(l.Placed); n < 1 || n > cutting.MaxPieces {
		k.fail("there are %d pieces; give 1 to %d", n, cutting.MaxPieces)
	}
	length := l.Used
	if l.Stock.Length != 0 {
		k.within("sheet's length", l.Stock.Length, 1, 1e6, "mm")
		k.within("number of sheets", float64(l.Sheets), 1, mostSheets, "sheets")
		length = l.Stock.Length
	} else if l.Sheets != 0 {
		k.fail("a roll has no sheets, and %d are given; give 0, or the length of a sheet", l.Sheets)
	}
	for i, p := range l.Placed {
		place := fmt.Sprintf("piece %d, %.40q:", i+1, p.Name)
		k.within(place+" width", p.Width, 0.001, l.Stock.Width+0.01, "mm")
		k.within(place+" length", p.Length, 0.001, length+0.01, "mm")
		k.within(place+" place across", p.X, 0, l.Stock.Width-p.Width+0.01, "mm")
		k.within(place+" place along", p.Y, 0, length-p.Length+0.01, "mm")
		k.within(place+" sheet", float64(p.Sheet), 0, float64(max(0, l.Sheets-1)), "")
	}
	return k.err
}

// layOut lets the stock lie along the paper, as it lies on the table, or stand where it would be too narrow to read.
// Sheets stand two beside each other where there is room.
func (s *cuts) layOut() {
	s.columns = 1
	if s.Layout.Sheets > 1 && s.width >= narrow {
		s.columns = 2
	}
	across, high := s.width/float64(s.columns)-46, min(0.6*s.width, 340)
	lying := min(across/s.length, high/s.wide)
	standing := min(across/s.wide, 1.6*s.width/s.length)
	s.scale = lying
	// a strip that lies too low for its numbers stands up, unless that would make it narrower still
	if standing > lying && s.wide*lying < 36 { // a number and its frame
		s.scale, s.upright = standing, true
	}
}

// name numbers the kinds of pieces: same name and size. A cover has many panes alike, and one number for them keeps
// the list short.
func (s *cuts) name() {
	for _, p := range s.Layout.Placed {
		k := kindOf(p)
		n := slices.Index(s.kinds, k)
		if n < 0 {
			n = len(s.kinds)
			s.kinds, s.count = append(s.kinds, k), append(s.count, 0)
		}
		s.count[n]++
	}
}

// pieceKind is what a person at the table needs to find a piece: its name with breadth and length as it was ordered,
// however it was turned to fit, whole mm.
type pieceKind struct {
	name         string
	wide, length float64
}

// kindOf is the kind of a piece. Sizes that come to the same whole millimetres are cut alike.
func kindOf(p cutting.Placed) pieceKind {
	w, l := measure.Round(p.Width, 0), measure.Round(p.Length, 0)
	if p.Turned {
		w, l = l, w
	}
	return pieceKind{p.Name, w, l}
}

// sheet draws a sheet or the roll with its pieces, from x to the right and y down, and gives the y below it. Its sizes
// stand along both edges, mm.
func (s *cuts) sheet(sheet int, x, y float64) float64 {
	w, h := s.length*s.scale, s.wide*s.scale
	if s.upright {
		w, h = h, w
	}
	if s.Layout.Sheets > 1 {
		y += 14
		s.text(pt{x + 12, y}, start, s.words.Say("drawing.cuts-sheet", msg.Count("number", sheet+1),
			msg.Count("sheets", s.Layout.Sheets)), "font-size", s.number(smallSize), "fill", soft)
		y += 5
	}
	left := x + 34
	s.rect(left, y, w, h, "fill", rule, "fill-opacity", "0.6", "stroke", ink, "stroke-width", "1.2")
	for _, p := range s.Layout.Placed {
		if p.Sheet == sheet {
			s.piece(p, left, y)
		}
	}
	down, across := s.wide, s.length
	if s.upright {
		down, across = across, down
	}
	mid := pt{x + 22, y + float64(h/2)}
	s.text(mid, middle, s.millimetres(down)+"\u00a0mm", "font-size", s.number(smallSize), "fill", soft, "transform",
		"rotate(-90 "+s.number(mid.x)+" "+s.number(mid.y)+")")
	s.text(pt{left + max(w/2, 28), y + h + 14}, middle, s.millimetres(across)+"\u00a0mm", "font-size",
		s.number(smallSize),
		"fill", soft)
	return y + h + 24
}

// piece draws a piece, its finished line dashed within the cut one, with its name, or its number, or nothing where even
// that has no room; the number is turned where the piece is upright.
func (s *cuts) piece(p cutting.Placed, left, top float64) {
	x, y, w, h := left+float64(p.Y*s.scale), top+float64(p.X*s.scale), p.Length*s.scale, p.Width*s.scale
	if s.upright { // the roll runs upward, or the pieces would be seen from their other face
		x, y, w, h = left+float64(p.X*s.scale), top+float64((s.length-p.Y-p.Length)*s.scale), p.Width*s.scale,
			p.Length*s.scale
	}
	// a rectangle that follows from the boat's options has no line of its own for the cut
	if p.Lines == nil || p.Lines.Cut == nil {
		s.rect(x, y, w, h, "fill", paper, "stroke", water, "stroke-width", "1")
	} else {
		s.path(s.contour(&p, p.Lines.Cut, left, top), "fill", paper, "stroke", water, "stroke-width", "1")
	}
	// where hem or seam is none, the cut is the finished line
	if p.Lines != nil && p.Lines.Finished != nil {
		s.path(s.contour(&p, p.Lines.Finished, left, top), "fill", "none", "stroke", soft, "stroke-width", "0.7",
			"stroke-dasharray", "3 2")
	}
	n := strconv.Itoa(slices.Index(s.kinds, kindOf(p)) + 1)
	text := n + " " + p.Name
	if textWidth(text, smallSize) > w-6 {
		text = n
	}
	mid := pt{x + float64(w/2), y + float64(h/2) + 4}
	size := []string{"font-size", s.number(smallSize), "fill", ink}
	switch {
	case w >= textWidth(text, smallSize)+4 && h >= smallSize+3:
		s.text(mid, middle, text, size...)
	case h >= textWidth(n, smallSize)+4 && w >= smallSize+3:
		at := pt{x + float64(w/2) + 4, y + float64(h/2)}
		s.text(at, middle, n, append(size, "transform", "rotate(-90 "+s.number(at.x)+" "+s.number(at.y)+")")...)
	}
}

// contour is the path of a line of a piece on the stock.
func (s *cuts) contour(p *cutting.Placed, line []float64, left, top float64) string {
	return p.Lie(line).Path(s.scale, s.number, func(x, y float64) (float64, float64) {
		// a quarter turn: mirrored, port would be cut for starboard
		if s.upright {
			x, y = s.length-y, x
		}
		return left + float64(y*s.scale), top + float64(x*s.scale)
	})
}

// summary says what is used and wasted: the length of a roll or the number of sheets, and the share of the stock that
// is no piece.
func (s *cuts) summary() msg.Message {
	l, percent := s.Layout, 100*s.Layout.Waste
	if l.Stock.Length == 0 {
		return msg.New("drawing.cuts-roll", msg.Number("length", l.Used/1000, 2),
			msg.Text("width", s.millimetres(l.Stock.Width)), msg.Number("waste", percent, 1))
	}
	return msg.New("drawing.cuts-sheets", msg.Count("sheets", l.Sheets),
		msg.Text("width", s.millimetres(l.Stock.Width)), msg.Text("length", s.millimetres(l.Stock.Length)),
		msg.Number("waste", percent, 1))
}

// legend lists what the numbers stand for, and how many pieces there are of a kind.
func (s *cuts) legend() []string {
	var out []string
	for i, k := range s.kinds {
		out = append(out, s.words.Say("drawing.cuts-key", msg.Count("number", i+1),
			msg.Text("name", named(k.name, s.words.Say("drawing.piece"))), msg.Text("width", s.millimetres(k.wide)),
			msg.Text("length", s.millimetres(k.length)), msg.Count("pieces", s.count[i])))
	}
	return out
}

// describe says all in words, since nobody can measure a drawing by ear.
func (s *cuts) describe() []msg.Message {
	return []msg.Message{msg.New("drawing.cuts", msg.Count("pieces", len(s.Layout.Placed))), s.summary(),
		msg.New("drawing.cuts-seams"), msg.Plain(strings.Join(s.legend(), "; "))}
}

package cutting

import (
	"cmp"
	"math"
	"slices"
)

// Lay places the pieces.
//
// Formula: longest first, then widest, each piece goes to the first column that has room on top, else the first shelf
// that has room beside, else the first sheet that has room for a new shelf, else a new sheet (first fit, decreasing
// length). Pieces that may be turned are tried as given, all lying flat and all standing; the layout that uses least
// stock is kept, the first of equals. Waste = 1 - pieces' area/used area; the kerf is waste.
// Valid: pieces with a shape are laid as the rectangles around it; at most [MaxPieces], each no larger than the stock;
// lengths from 0.001 mm to 1 km. No piece gives an empty layout. Bound: a roll is never used less than area/width, nor
// less than its longest piece; sheets never fewer than area/sheet area, rounded up.
// Source: first-fit decreasing height is a textbook method of packing strips.
func Lay(pieces []Piece, stock Stock) (Layout, error) {
	b, err := readStock(stock)
	if err != nil {
		return Layout{}, err
	}
	items, err := readPieces(pieces, b)
	if err != nil {
		return Layout{}, err
	}
	if len(items) == 0 {
		return Layout{Stock: stock}, nil
	}
	// strictly less: of equal layouts the first stays, so that one order of pieces gives one layout
	var best *packing
	for _, pose := range []func(item) item{given, flat, standing} {
		p := pack(items, b, pose)
		if best == nil || p.used() < best.used() {
			best = p
		}
	}
	return best.layout(pieces, items, stock), nil
}

// The poses that pieces are tried in.
func given(i item) item { return i }

func flat(i item) item { // the long side across
	if i.turn && i.length > i.width {
		return i.flipped()
	}
	return i
}

func standing(i item) item { // the long side along
	if i.turn && i.width > i.length {
		return i.flipped()
	}
	return i
}

// column is a stack of pieces within a shelf.
type column struct{ x, width, used int64 }

// shelf is a strip across the stock, as long as its first piece.
type shelf struct {
	sheet           int
	y, length, used int64
	columns         []column
}

// spot is where a piece lies, µm, in the pose in which it was put.
type spot struct {
	item
	sheet int
	x, y  int64
}

// packing is a layout that is being made.
type packing struct {
	bed     bed
	shelves []shelf
	ends    []int64 // by sheet: where its last shelf ends
	spots   []spot  // by piece
}

// pack lays the pieces in one pose, longest first: a long piece opens a shelf, and shorter ones fill it.
func pack(items []item, b bed, pose func(item) item) *packing {
	p := &packing{bed: b, spots: make([]spot, len(items))}
	posed := make([]item, len(items))
	for n, i := range items {
		posed[n] = pose(i)
		if !b.holds(posed[n]) {
			posed[n] = posed[n].flipped() // readPieces has seen that one of the two fits
		}
	}
	// stable, so that equal pieces lie in the order in which they were given
	slices.SortStableFunc(posed, func(a, b item) int {
		return cmp.Or(cmp.Compare(b.length, a.length), cmp.Compare(b.width, a.width))
	})
	for _, i := range posed {
		if !p.onTop(i) && !p.beside(i) {
			p.newShelf(i)
		}
	}
	return p
}

// onTop puts a piece on the first column with room, turned if that helps. A column is never wider than its first piece:
// the cut along the shelf goes straight through.
func (p *packing) onTop(i item) bool {
	for s := range p.shelves {
		sh := &p.shelves[s]
		for c := range sh.columns {
			col := &sh.columns[c]
			y := col.used + p.bed.kerf
			for _, pose := range poses(i) {
				if pose.width <= col.width && y+pose.length <= sh.length {
					p.spots[i.index] = spot{pose, sh.sheet, col.x, sh.y + y}
					col.used = y + pose.length
					return true
				}
			}
		}
	}
	return false
}

// beside starts a column in the first shelf with room, turned if that helps.
func (p *packing) beside(i item) bool {
	for s := range p.shelves {
		sh := &p.shelves[s]
		// the kerf lies between two pieces, and none at the edge of the stock
		x := sh.used + p.bed.kerf
		for _, pose := range poses(i) {
			if pose.length <= sh.length && x+pose.width <= p.bed.width {
				p.start(sh, x, pose)
				return true
			}
		}
	}
	return false
}

// newShelf opens a shelf on the first sheet with room, or on a new sheet; a roll is one endless sheet.
func (p *packing) newShelf(i item) {
	sheet, y := len(p.ends), int64(0)
	for n, end := range p.ends {
		// a shelf is cut off the rest of the sheet, so only what is behind the last one counts
		if p.bed.roll || end+p.bed.kerf+i.length <= p.bed.length {
			sheet, y = n, end+p.bed.kerf
			break
		}
	}
	if sheet == len(p.ends) {
		p.ends = append(p.ends, 0)
	}
	p.ends[sheet] = y + i.length
	p.shelves = append(p.shelves, shelf{sheet: sheet, y: y, length: i.length})
	p.start(&p.shelves[len(p.shelves)-1], 0, i)
}

// start begins a column of a shelf with a piece.
func (p *packing) start(sh *shelf, x int64, i item) {
	p.spots[i.index] = spot{i, sh.sheet, x, sh.y}
	sh.columns = append(sh.columns, column{x, i.width, i.length})
	sh.used = x + i.width
}

// poses are the ways in which a piece may lie, as given first.
func poses(i item) []item {
	if i.turn {
		return []item{i, i.flipped()}
	}
	return []item{i}
}

// used is the stock that a packing takes: the length of a roll, or of all its sheets.
func (p *packing) used() int64 {
	if p.bed.roll {
		return p.ends[0]
	}
	return int64(len(p.ends)) * p.bed.length
}

// layout gives the places in mm, in the order of the pieces, and what they take.
func (p *packing) layout(pieces []Piece, items []item, stock Stock) Layout {
	l := Layout{Stock: stock, Used: millimetres(p.used())}
	if !p.bed.roll {
		l.Sheets = len(p.ends)
	}
	for n, s := range p.spots {
		l.Placed = append(l.Placed, Placed{
			Piece: n, Name: pieces[n].Name, Sheet: s.sheet, X: millimetres(s.x), Y: millimetres(s.y),
			Width: millimetres(s.width), Length: millimetres(s.length), Turned: s.turned,
			Panel: pieces[n].Panel, Panels: pieces[n].Panels, Area: pieces[n].Area, Lines: pieces[n].Lines,
		})
		p := &l.Placed[n]
		if p.Area == 0 {
			p.Area = p.Width * p.Length
		}
		l.Area += p.Area
	}
	l.Bound = bound(items, p.bed, l.Area)
	l.Waste = max(0, 1-l.Area/(millimetres(p.bed.width)*l.Used))
	return l
}

// bound is the least roll in mm, or the fewest sheets, that the pieces of an area in mm² can take.
func bound(items []item, b bed, area float64) float64 {
	longest := int64(0)
	for _, i := range items {
		// a piece that fits both ways may lie along its short side, which a roll is then no longer than
		length := i.length
		if f := i.flipped(); i.turn && f.length < length && b.holds(f) || !b.holds(i) {
			length = f.length
		}
		longest = max(longest, length)
	}
	if b.roll {
		return max(area/millimetres(b.width), millimetres(longest))
	}
	// a full sheet is one, whatever the last digit of its area
	return math.Ceil(area / (millimetres(b.width) * millimetres(b.length)) * (1 - 1e-9))
}

func millimetres(um int64) float64 { return float64(um) / micro }

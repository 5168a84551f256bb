package takeoff

import (
	"fmt"
	"math"

	"ribband/core/cutting"
	"ribband/core/formula"
	"ribband/core/pack"
)

// cut is a cut layout with its formulas as closures.
type cut struct {
	title  string
	seam   float64
	stocks []cutting.Stock
	pieces []piece
}

// piece is one of the pieces of a cut.
type piece struct {
	*pack.CutPiece
	name                            string
	width, length, allowance, count formula.NumberFunc
	lines                           [][]pack.CutShape // of its panels; nil where the desk has none
}

// compileCuts prepares the layouts of a pack; none where it has no costs.
func compileCuts(p *pack.Pack) (cuts []cut) {
	// layouts follow from sizes that a buyer's pack does not hold
	if p.Costs == nil {
		return nil
	}
	for i, def := range p.Costs.Cuts {
		c := cut{title: def.ID, seam: def.SeamMm}
		var names pack.CutNames
		if p.Work != nil {
			names = p.Work.Cuts[i]
			c.title = names.Title
		}
		for _, s := range def.Stocks {
			c.stocks = append(c.stocks, cutting.Stock{Width: s.WidthMm, Length: s.LengthMm, Kerf: s.KerfMm})
		}
		for j := range def.Pieces {
			x := &def.Pieces[j]
			y := piece{CutPiece: x, width: x.WidthMm.Number(), length: x.LengthMm.Number(),
				allowance: x.AllowanceMm.Number(), count: x.Count.Number()}
			if x.Count.Empty() {
				y.count = func(*formula.State) float64 { return 1 }
			}
			if p.Work != nil {
				y.name = names.Pieces[j]
			}
			if j < len(names.Shapes) {
				y.lines = names.Shapes[j]
			}
			c.pieces = append(c.pieces, y)
		}
		cuts = append(cuts, c)
	}
	return cuts
}

// stock is what a layout takes of its stock, offcuts included: m of a roll or m². Of the last sheet it is the part that
// is cut off across; the rest of that sheet is whole and goes back to the shelf, or is charged as the rest of a pack.
func (t *Takeoffs) stock(st *formula.State, n *pack.CutAmount) (float64, error) {
	l, err := t.Layout(st, n.Cut, n.Stock)
	if err != nil {
		return 0, fmt.Errorf("laying %s: %w", t.cuts[n.Cut].title, err)
	}
	if n.Metres {
		return Taken(&l) / 1000, nil
	}
	return Taken(&l) * l.Stock.Width / 1e6, nil
}

// Taken is the length in mm that a layout takes of a roll, or of sheets laid end to end: all of each sheet but of the
// last, of which it is what its pieces reach to.
//
// Valid: layouts of [cutting.Lay], which cut across a sheet from edge to edge first. Source: common practice, no
// source.
func Taken(l *cutting.Layout) float64 {
	if l.Sheets == 0 {
		return l.Used
	}
	end := 0.0
	for _, p := range l.Placed {
		if p.Sheet == l.Sheets-1 {
			end = max(end, p.Y+p.Length)
		}
	}
	return float64(float64(l.Sheets-1)*l.Stock.Length) + end
}

// Layout lays the pieces of a cut for a boat on one of its stocks; empty where the boat has none of them.
func (t *Takeoffs) Layout(st *formula.State, index, stock int) (cutting.Layout, error) {
	c := &t.cuts[index]
	s := c.stocks[stock]
	pieces, err := t.list(st, c, stock)
	if err != nil {
		return cutting.Layout{}, err
	}
	return cutting.Lay(pieces, s)
}

// list are the pieces of a cut for a boat, divided where they are wider than the stock. A piece of which there is none
// is not made: its formulas may hold for no such boat.
func (t *Takeoffs) list(st *formula.State, c *cut, stock int) (list []cutting.Piece, err error) {
	for i := range c.pieces {
		p := &c.pieces[i]
		count := p.count(st)
		if !(count >= 0 && count <= cutting.MaxPieces) || count != math.Trunc(count) {
			return nil, fmt.Errorf("%s: the count of %q is %v; let it be a whole number from 0 to %d",
				t.pack.Where(p.At), p.name, count, cutting.MaxPieces)
		}
		if count == 0 {
			continue
		}
		var panels []cutting.Piece
		if p.Panels != nil {
			panels = p.sized(st.HullID*len(c.stocks) + stock)
		} else if panels, err = p.rectangle(st, c.stocks[stock], c.seam); err != nil {
			return nil, fmt.Errorf("%s: %w", t.pack.Where(p.At), err)
		}
		for range int(count) {
			list = append(list, panels...)
		}
		if len(list) > cutting.MaxPieces {
			return nil, fmt.Errorf("%s: there are more than %d pieces with %q; divide the cut", t.pack.Where(p.At),
				cutting.MaxPieces, p.name)
		}
	}
	return list, nil
}

// sized are the panels of a piece that was worked out with the book, at a hull and a stock.
func (p *piece) sized(at int) (list []cutting.Piece) {
	for k, s := range p.Panels[at] {
		x := cutting.Piece{Name: p.name, Width: s.WidthMm, Length: s.LengthMm, Area: s.AreaMm2, Turn: p.Turn}
		if p.lines != nil {
			x.Lines = (*cutting.Lines)(&p.lines[at][k])
		}
		// of a seamed piece the grain runs through
		if n := len(p.Panels[at]); n > 1 {
			x.Turn, x.Panel, x.Panels = false, k+1, n
		}
		list = append(list, x)
	}
	return list
}

// rectangle are the panels of a piece whose size follows from the boat. One that has to be seamed has no finished line:
// pieces of cloth follow from the hull, and were made with their seams when the book was published.
func (p *piece) rectangle(st *formula.State, s cutting.Stock, seam float64) ([]cutting.Piece, error) {
	width, length, twice := p.width(st), p.length(st), 2*p.allowance(st)
	if !formula.Finite(width) || !formula.Finite(length) || !(twice >= 0) {
		return nil, fmt.Errorf("the piece %q is %v × %v mm with an allowance of %v mm; guard its formulas", p.name,
			width, length, twice/2)
	}
	x := cutting.Piece{Name: p.name, Width: width + twice, Length: length + twice, Turn: p.Turn}
	panels, err := Panelled(x, s, seam)
	if len(panels) == 1 && twice > 0 {
		near, far, end := float64(twice/2), float64(twice/2)+width, float64(twice/2)+length
		panels[0].Lines = &cutting.Lines{Finished: []float64{near, near, 0, far, near, 0, far, end, 0, near, end, 0},
			Size: [2]float64{width, length}}
	}
	return panels, err
}

// Panelled leaves a piece whole that fits when it is turned, and divides one that is too wide.
func Panelled(p cutting.Piece, s cutting.Stock, seam float64) ([]cutting.Piece, error) {
	if p.Turn && p.Width > s.Width && p.Length <= s.Width && (s.Length == 0 || p.Width <= s.Length) {
		return []cutting.Piece{p}, nil
	}
	return cutting.Panels(p, s, seam)
}

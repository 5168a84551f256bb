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

// compileCuts prepares the layouts of a pack; none where it has no costs.
func compileCuts(p *pack.Pack) (cuts []cut) {
	// layouts follow from sizes that a buyer's pack does not hold
	if p.Costs == nil {
		return nil
	}
	for i, def := range p.Costs.Cuts {
		c := cut{title: def.ID, seam: def.SeamMm}
		names := make([]string, len(def.Pieces))
		if p.Work != nil {
			c.title, names = p.Work.Cuts[i].Title, p.Work.Cuts[i].Pieces
		}
		for _, s := range def.Stocks {
			c.stocks = append(c.stocks, cutting.Stock{Width: s.WidthMm, Length: s.LengthMm, Kerf: s.KerfMm})
		}
		for j := range def.Pieces {
			c.pieces = append(c.pieces, compilePiece(&def.Pieces[j], names[j]))
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
	pieces, err := t.list(st, c, s)
	if err != nil {
		return cutting.Layout{}, err
	}
	return cutting.Lay(pieces, s)
}

// list are the pieces of a cut for a boat, divided where they are wider than the stock. A piece of which there is none
// is not made: its formulas may hold for no such boat.
func (t *Takeoffs) list(st *formula.State, c *cut, stock cutting.Stock) (list []cutting.Piece, err error) {
	for i := range c.pieces {
		p := &c.pieces[i]
		count := p.count(st)
		if !(count >= 0 && count <= cutting.MaxPieces) || count != math.Trunc(count) {
			return nil, fmt.Errorf("%s: the count of %q is %v; let it be a whole number from 0 to %d", t.pack.Where(p.At),
				p.name, count, cutting.MaxPieces)
		}
		if count == 0 {
			continue
		}
		one := cutting.Piece{Name: p.name, Width: p.width(st), Length: p.length(st), Turn: p.Turn}
		if one.Shape, err = t.shape(st, p); err != nil {
			return nil, err
		}
		if one.Shape != nil {
			one.Width, one.Length = one.Shape.Size()
		}
		panels, err := panelled(one, stock, c.seam)
		if err != nil {
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

// panelled leaves a piece whole that fits when it is turned, and divides one that is too wide.
func panelled(p cutting.Piece, s cutting.Stock, seam float64) ([]cutting.Piece, error) {
	if !formula.Finite(p.Width) || !formula.Finite(p.Length) {
		return nil, fmt.Errorf("the piece %q is %v × %v mm; guard its formulas", p.Name, p.Width, p.Length)
	}
	if p.Turn && p.Width > s.Width && p.Length <= s.Width && (s.Length == 0 || p.Width <= s.Length) {
		return []cutting.Piece{p}, nil
	}
	return cutting.Panels(p, s, seam)
}

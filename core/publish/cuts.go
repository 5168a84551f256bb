package publish

import (
	"ribband/core/formula"
	"ribband/core/pack"
)

// cuts lowers the cut layouts. Their sizes are formulas over the boat, and are checked when the pieces are laid.
func (c *compiler) cuts() {
	for _, b := range c.book.Cuts {
		cut, names := pack.Cut{ID: b.ID.Value, SeamMm: b.SeamMm.Value}, pack.CutNames{Title: b.Title.Value}
		for _, s := range b.Stocks {
			stock := pack.CutStock{WidthMm: s.WidthMm.Value, LengthMm: s.LengthMm.Value, KerfMm: s.KerfMm.Value}
			for _, o := range s.Options {
				stock.Options = append(stock.Options, c.ids["option"][o.Value])
			}
			cut.Stocks, names.Stocks = append(cut.Stocks, stock), append(names.Stocks, s.Title.Value)
		}
		for _, p := range b.Pieces {
			// most pieces follow from the hull; the others keep their formulas
			outline, made := c.outlineOf(&p)
			piece := pack.CutPiece{Count: c.lower(p.Count, formula.Number), Turn: p.Turn}
			var shapes [][]pack.CutShape
			if made {
				piece.Panels, shapes = c.shaped(outline, &cut)
			} else {
				piece.WidthMm, piece.LengthMm, piece.AllowanceMm = outline.width, outline.length, outline.allowance
			}
			// the place of its size, where it has one
			if piece.At = c.place(p.At, ""); len(p.Outline) == 0 {
				piece.At = c.place(p.WidthMm.At, p.WidthMm.Value)
			}
			cut.Pieces, names.Shapes = append(cut.Pieces, piece), append(names.Shapes, shapes)
			names.Pieces = append(names.Pieces, p.Name.Value)
		}
		c.pack.Costs.Cuts, c.pack.Work.Cuts = append(c.pack.Costs.Cuts, cut), append(c.pack.Work.Cuts, names)
	}
}

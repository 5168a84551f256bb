package publish

import (
	"errors"

	"ribband/core/book"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/takeoff"
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
			at := c.place(p.WidthMm.At, p.WidthMm.Value)
			if len(p.Outline) > 0 {
				at = c.place(p.At, "")
			}
			piece := pack.CutPiece{WidthMm: c.lower(p.WidthMm, formula.Number),
				LengthMm: c.lower(p.LengthMm, formula.Number), Mirror: p.Mirror,
				AllowanceMm: c.lower(p.AllowanceMm, formula.Number), Count: c.lower(p.Count, formula.Number), Turn: p.Turn,
				At: at}
			for k := range p.Outline {
				piece.Outline = append(piece.Outline, c.cutPoint(&p.Outline[k]))
			}
			cut.Pieces = append(cut.Pieces, piece)
			names.Pieces = append(names.Pieces, p.Name.Value)
		}
		c.pack.Costs.Cuts, c.pack.Work.Cuts = append(c.pack.Costs.Cuts, cut), append(c.pack.Work.Cuts, names)
	}
}

// cutPoint lowers a corner of an outline, or the line of the hull that stands for one.
func (c *compiler) cutPoint(b *book.CutPoint) pack.CutPoint {
	number := func(f book.Formula) formula.Program { return c.lower(f, formula.Number) }
	p := pack.CutPoint{XMm: number(b.XMm), YMm: number(b.YMm), RadiusMm: number(b.RadiusMm), RiseMm: number(b.RiseMm),
		AllowanceMm: number(b.AllowanceMm), Notch: b.Notch, At: c.place(b.At, "")}
	if l := b.Line; l != nil {
		p.Line = &pack.CutLine{FromM: number(l.FromM), ToM: number(l.ToM), HeightM: number(l.HeightM),
			Scale: number(l.Scale), InsetMm: number(l.InsetMm)}
	}
	return p
}

// outlines makes every piece that follows from the hull alone on each hull, so that what is wrong with one is said at its
// point and not with the price of whatever is cut from it. A piece that reads more of the boat is made when it is laid.
func outlines(p *pack.Pack) (diagnostics []book.Diagnostic) {
	takeoffs := takeoff.New(p)
	for i := range p.Costs.Cuts {
		for j := range p.Costs.Cuts[i].Pieces {
			piece := p.Costs.Cuts[i].Pieces[j]
			piece.Count = formula.Program{} // how many there are says nothing of the outline
			if r := takeoff.ReadsPiece(&piece); len(r.Options)+len(r.Slots)+len(r.Use)+len(r.Figures) > 0 {
				continue
			}
			for h := range p.Hulls {
				_, err := takeoffs.Shape(&formula.State{HullID: h, Hull: p.Hulls[h].Fields}, i, j)
				var f *takeoff.PieceFault
				if errors.As(err, &f) {
					at := p.Work.Sources[f.At]
					diagnostics = append(diagnostics, book.Diagnostic{Position: book.Position{File: at.File, Line: at.Line,
						Column: at.Column}, Message: "on the hull " + p.Hulls[h].ID + " " + f.Message, Advice: f.Advice})
					break // on the others it is likely the same
				}
			}
		}
	}
	return diagnostics
}

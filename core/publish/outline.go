package publish

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"ribband/core/book"
	"ribband/core/cutting"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/takeoff"
)

// Pieces that follow from the hull alone are made here, once, on each hull and for each stock: a fault is told at its
// point, and no desk has to know how an outline is made. Sizes go to whoever quotes, lines to the yard.

// pieceOutline is the outline of a piece with its formulas ready.
type pieceOutline struct {
	*book.CutPiece
	width, length, allowance formula.Program
	corners                  []pieceCorner
}

// pieceCorner is a point of an outline, or a line of the hull in its place.
type pieceCorner struct {
	*book.CutPoint
	x, y, radius, rise, allowance  formula.Program
	from, to, height, scale, inset formula.Program // of a line
}

// outlineOf lowers the outline of a piece, or makes one of a rectangle that reads the hull alone. There is none of a
// rectangle that reads more: its sides go into the pack as formulas.
func (c *compiler) outlineOf(p *book.CutPiece) (*pieceOutline, bool) {
	before := len(c.diagnostics)
	var all []formula.Program
	lower := func(f book.Formula) formula.Program {
		all = append(all, c.lower(f, formula.Number))
		return all[len(all)-1]
	}
	out := &pieceOutline{CutPiece: p, width: lower(p.WidthMm), length: lower(p.LengthMm),
		allowance: lower(p.AllowanceMm)}
	// a corner without an allowance of its own has that of the piece, so that a hem is said once
	for i := range p.Outline {
		o := &p.Outline[i]
		corner := pieceCorner{CutPoint: o, x: lower(o.XMm), y: lower(o.YMm), radius: lower(o.RadiusMm),
			rise: lower(o.RiseMm), allowance: lower(o.AllowanceMm)}
		if corner.allowance.Empty() {
			corner.allowance = out.allowance
		}
		if l := o.Line; l != nil {
			corner.from, corner.to, corner.height = lower(l.FromM), lower(l.ToM), lower(l.HeightM)
			corner.scale, corner.inset = lower(l.Scale), lower(l.InsetMm)
		}
		out.corners = append(out.corners, corner)
	}
	// what depends on choices cannot be made before somebody has chosen
	more := slices.ContainsFunc(all, func(f formula.Program) bool { return !pack.HullAlone(f) })
	if more && len(p.Outline) > 0 {
		c.error(p.At, "let its corners and allowances read the hull alone, and say by its count which boats have it",
			"the outline of %q reads more of the boat than its hull", p.Name)
	}
	return out, !more && len(c.diagnostics) == before
}

// outlinePoints are the outline on a hull, and of which corner of the book each comes.
//
// Formula: of a line of the hull, across = scale × 1000 × half-breadth - inset, along = 1000 × x from the aft end.
// Valid: as [hull.Offsets.Line]; cloth that curves more ways than one is cut to the plan of its line, and what it needs
// over a crown comes from the scale.
// Source: geometry.
func (c *compiler) outlinePoints(o *pieceOutline, h int) (list []cutting.Point, of []book.Position, err error) {
	hull := &c.pack.Hulls[h]
	st := &formula.State{HullID: h, Hull: hull.Fields}
	number := func(f formula.Program) float64 { return f.Number()(st) }
	if len(o.corners) == 0 {
		width, length := number(o.width), number(o.length)
		of = []book.Position{o.WidthMm.At, o.WidthMm.At, o.LengthMm.At, o.LengthMm.At}
		// a rectangle of no size would be a line, and one below zero a rectangle the other way round
		for i, side := range []float64{width, length} {
			if !(side > 0 && side <= 1e6) {
				return nil, of[2*i:], &cutting.Fault{Message: fmt.Sprintf("a side of it is %v mm", side),
					Advice: "give a length above zero, at most 1 km"}
			}
		}
		return cutting.Rectangle(width, length, number(o.allowance)), of, nil
	}
	for _, k := range o.corners {
		x := cutting.Point{Allowance: number(k.allowance), Notch: k.Notch}
		if k.Line == nil {
			x.X, x.Y, x.Radius, x.Rise = number(k.x), number(k.y), number(k.radius), number(k.rise)
			list, of = append(list, x), append(of, k.At)
			continue
		}
		// above any sheer, which is what a line is at that says no height
		height, scale := math.Inf(1), 1.0
		if !k.height.Empty() {
			height = number(k.height)
		}
		if !k.scale.Empty() {
			scale = number(k.scale)
		}
		line, err := figures.Lines(hull).Line(number(k.from), number(k.to), height)
		if err != nil {
			return nil, []book.Position{k.At}, &cutting.Fault{Message: err.Error(), Advice: "see the offsets of " +
				hull.ID}
		}
		for i, b := range line {
			// the aft end of the boat is the origin, so that lines and points of an outline fit together
			if i == len(line)-1 { // the edge that leads on from the line is no part of it
				x.Allowance = number(o.allowance)
			}
			x.X, x.Y = float64(1000*scale*b.Y)-number(k.inset), 1000*b.X
			// its ends are corners, which are rounded instead of marked
			if x.Radius, x.Notch = 0, k.Notch; (i == 0 || i == len(line)-1) && !k.radius.Empty() {
				x.Radius, x.Notch = number(k.radius), false
			}
			list, of = append(list, x), append(of, k.At)
		}
	}
	// the image of a corner is told at the corner that it mirrors
	if o.Mirror {
		list = cutting.Mirrored(list)
		for i := len(of) - 1; i >= 0; i-- {
			of = append(of, of[i])
		}
	}
	return list, of, nil
}

// shaped makes a piece on every hull, for every stock. What is wrong is told once: on other hulls and stocks it is
// likely the same.
func (c *compiler) shaped(o *pieceOutline, cut *pack.Cut) (sizes [][]pack.CutPanel, shapes [][]pack.CutShape) {
	for h := range c.pack.Hulls {
		list, of, err := c.outlinePoints(o, h)
		// one shape for all stocks: only its seams depend on them
		var shape *cutting.Shape
		if err == nil {
			shape, err = cutting.NewShape(list)
		}
		var f *cutting.Fault
		if errors.As(err, &f) {
			c.error(of[f.Point], f.Advice, "on the hull %s the outline of %q does not do: %s", c.pack.Hulls[h].ID,
				o.Name, f.Message)
			return nil, nil
		}
		// a narrow roll needs more seams than a wide one, and a sheet none where the piece may be turned
		for _, s := range cut.Stocks {
			stock := cutting.Stock{Width: s.WidthMm, Length: s.LengthMm, Kerf: s.KerfMm}
			piece := cutting.Piece{Name: o.Name.Value, Turn: o.Turn}
			piece.Width, piece.Length = shape.Size()
			panels, err := takeoff.Panelled(piece, stock, cut.SeamMm)
			if err == nil {
				_, err = shape.Panels(panels, stock, cut.SeamMm)
			}
			// of a seam there is no point to name
			if err != nil {
				c.error(o.At, "see what is named", "on the hull %s: %v", c.pack.Hulls[h].ID, err)
				return nil, nil
			}
			// the show desk gets sizes without lines: what it charges is the same
			var size []pack.CutPanel
			var lines []pack.CutShape
			for _, p := range panels {
				size = append(size, pack.CutPanel{WidthMm: fine(p.Width), LengthMm: fine(p.Length),
					AreaMm2: fine(p.Area)})
				lines = append(lines, pack.CutShape(*p.Lines))
			}
			sizes, shapes = append(sizes, size), append(shapes, lines)
		}
	}
	return sizes, shapes
}

// fine is a size to the micrometre, so that a pack is small and the same on every machine.
func fine(mm float64) float64 { return math.Round(mm*1000) / 1000 }

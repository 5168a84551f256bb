package takeoff

import (
	"errors"
	"fmt"
	"math"

	"ribband/core/cutting"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
)

// piece is one of the pieces of a cut, so often as its count says on a boat; sizes in mm.
type piece struct {
	*pack.CutPiece
	name                            string
	count, width, length, allowance formula.NumberFunc
	corners                         []corner
}

// corner is a point of an outline, or a line of the hull in its place.
type corner struct {
	*pack.CutPoint
	x, y, radius, rise, allowance  formula.NumberFunc
	from, to, height, scale, inset formula.NumberFunc // of a line
}

// or compiles what may be left out.
func or(p formula.Program, otherwise formula.NumberFunc) formula.NumberFunc {
	if p.Empty() {
		return otherwise
	}
	return p.Number()
}

// one is what is left out of counts and scales.
func one(*formula.State) float64 { return 1 }

// compilePiece prepares a piece with its outline.
func compilePiece(p *pack.CutPiece, name string) piece {
	out := piece{CutPiece: p, name: name, count: or(p.Count, one), width: p.WidthMm.Number(), length: p.LengthMm.Number(),
		allowance: p.AllowanceMm.Number()}
	for i := range p.Outline {
		o := &p.Outline[i]
		c := corner{CutPoint: o, x: o.XMm.Number(), y: o.YMm.Number(), radius: o.RadiusMm.Number(),
			rise: o.RiseMm.Number(), allowance: or(o.AllowanceMm, out.allowance)}
		if l := o.Line; l != nil {
			c.from, c.to, c.inset = l.FromM.Number(), l.ToM.Number(), l.InsetMm.Number()
			c.height = or(l.HeightM, func(*formula.State) float64 { return math.Inf(1) })
			c.scale = or(l.Scale, one)
		}
		out.corners = append(out.corners, c)
	}
	return out
}

// ReadsPiece is what the size of a piece and its count depend on.
func ReadsPiece(p *pack.CutPiece) formula.Reads {
	r := p.Count.Reads()
	add := func(list ...formula.Program) {
		for _, f := range list {
			r = r.With(f.Reads())
		}
	}
	add(p.WidthMm, p.LengthMm, p.AllowanceMm)
	for _, o := range p.Outline {
		add(o.XMm, o.YMm, o.RadiusMm, o.RiseMm, o.AllowanceMm)
		if l := o.Line; l != nil {
			add(l.FromM, l.ToM, l.HeightM, l.Scale, l.InsetMm)
			r.HullID = true // its offsets
		}
	}
	return r
}

// outline is the outline of a piece on a boat, and of which corner of the book each of its points comes.
//
// Formula: of a line of the hull, across = scale × 1000 × half-breadth - inset, along = 1000 × x from the aft end.
// Valid: as [hull.Offsets.Line]; a cloth that curves more ways than one is cut to the plan of its line, and what it
// needs over a crown comes from the scale.
// Source: geometry.
func (t *Takeoffs) outline(st *formula.State, p *piece) (list []cutting.Point, of []int, err error) {
	add := func(i int, x cutting.Point) { list, of = append(list, x), append(of, i) }
	for i, c := range p.corners {
		x := cutting.Point{Allowance: c.allowance(st), Notch: c.Notch}
		if c.Line == nil {
			x.X, x.Y, x.Radius, x.Rise = c.x(st), c.y(st), c.radius(st), c.rise(st)
			add(i, x)
			continue
		}
		lines := figures.Lines(&t.pack.Hulls[st.HullID])
		line, err := lines.Line(c.from(st), c.to(st), c.height(st))
		if err != nil {
			return nil, nil, t.fault(c.At, p, err.Error(), "see the offsets of hull "+t.pack.Hulls[st.HullID].ID)
		}
		scale, inset := 1000*c.scale(st), c.inset(st)
		for k, b := range line {
			if k == len(line)-1 { // the edge that leads on from the line is no part of it
				x.Allowance = p.allowance(st)
			}
			x.X, x.Y = float64(scale*b.Y)-inset, 1000*b.X
			add(i, x)
		}
	}
	return list, of, nil
}

// PieceFault is what is wrong with a piece on some boat, and where that stands in the book.
type PieceFault struct {
	At              int    // of the pack's sources
	Where           string // the same as text
	Message, Advice string
}

func (f *PieceFault) Error() string { return f.Where + ": " + f.Message + "; " + f.Advice }

func (t *Takeoffs) fault(at int, p *piece, message, advice string) error {
	return &PieceFault{at, t.pack.Where(at), fmt.Sprintf("the outline of %q: %s", p.name, message), advice}
}

// Shape is a piece of a cut as it is on a boat; nil for a rectangle without an allowance, whose size is checked when it
// is laid. The error is a [*PieceFault].
func (t *Takeoffs) Shape(st *formula.State, cut, index int) (*cutting.Shape, error) {
	return t.shape(st, &t.cuts[cut].pieces[index])
}

func (t *Takeoffs) shape(st *formula.State, p *piece) (*cutting.Shape, error) {
	list, of, err := t.outline(st, p)
	if err != nil {
		return nil, err
	}
	if len(p.corners) == 0 {
		width, length, allowance := p.width(st), p.length(st), p.allowance(st)
		if allowance == 0 || !(width > 0 && length > 0) {
			return nil, nil
		}
		list = cutting.Rectangle(width, length, allowance)
	}
	if p.Mirror {
		list = cutting.Mirrored(list)
	}
	s, err := cutting.NewShape(list)
	var fault *cutting.Fault
	if errors.As(err, &fault) {
		at, k := p.At, fault.Point
		if k >= len(of) {
			k = len(list) - 1 - k // the image of a point is as far from the end as it is from the beginning
		}
		if len(of) > 0 {
			at = p.corners[of[k]].At
		}
		return nil, t.fault(at, p, fault.Message, fault.Advice)
	}
	return s, err
}

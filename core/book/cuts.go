package book

// Cut is how the pieces of something lie on a roll or sheets, which depend on the option that is chosen.
type Cut struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called on the cut layout.
	Title Text `yaml:"title,required"`
	// What a seam takes where a piece is wider than the stock, mm.
	SeamMm Number `yaml:"seam_mm"`
	// Rolls or sheets that it may be cut from, by the option chosen.
	Stocks []CutStock `yaml:"stocks,required"`
	// The pieces that are needed.
	Pieces []CutPiece `yaml:"pieces,required"`
	// Where it stands.
	At Position `json:"-"`
}

// CutStock is a roll, or sheets, of which some options are cut.
type CutStock struct {
	// What the roll or sheet is called on the layout.
	Title Text `yaml:"title,required"`
	// Options for which it is cut from this stock.
	Options []Text `yaml:"options,required"`
	// Width of the roll or sheet, mm.
	WidthMm Number `yaml:"width_mm,required"`
	// Length of a sheet, mm; a roll has none.
	LengthMm Number `yaml:"length_mm"`
	// What is lost between two pieces, mm.
	KerfMm Number `yaml:"kerf_mm"`
	// Where it stands.
	At Position `json:"-"`
}

// CutPiece is a rectangle or an outline, or multiple of it: the width across the roll, the length along it.
type CutPiece struct {
	// What the piece is called on the layout.
	Name Text `yaml:"name,required"`
	// Finished width across the roll, mm; an outline has none.
	WidthMm Formula `yaml:"width_mm"`
	// Finished length along the roll, mm; an outline has none.
	LengthMm Formula `yaml:"length_mm"`
	// Corners of the finished piece in their order, or of half of it.
	Outline []CutPoint `yaml:"outline"`
	// The outline is one half; the other is its image about x_mm: 0.
	Mirror bool `yaml:"mirror"`
	// For hems and seams outside of the finished edges, mm; 0 where not given.
	AllowanceMm Formula `yaml:"allowance_mm"`
	// 1 where not given; none where it is 0.
	Count Formula `yaml:"count"`
	// It may be turned by a quarter.
	Turn bool `yaml:"turn"`
	// Where it stands.
	At Position `json:"-"`
}

// CutPoint is a corner of an outline with the edge that leads on to the next, or a line of the hull in its place.
type CutPoint struct {
	// Across the roll, mm.
	XMm Formula `yaml:"x_mm"`
	// Along the roll, mm.
	YMm Formula `yaml:"y_mm"`
	// With which the corner is rounded, or both ends of the line, mm.
	RadiusMm Formula `yaml:"radius_mm"`
	// How far the edge rises over its chord as an arc, mm; below zero into the piece.
	RiseMm Formula `yaml:"rise_mm"`
	// Of the edge, mm; that of the piece where not given.
	AllowanceMm Formula `yaml:"allowance_mm"`
	// A match mark stands here, or at every point of the line.
	Notch bool `yaml:"notch"`
	// A line of the hull instead of a point.
	Line *CutLine `yaml:"line"`
	// Where it stands.
	At Position `json:"-"`
}

// CutLine is a line of the hull in plan, station by station: across its half-breadth, along its place from the aft end.
type CutLine struct {
	// Where it begins, m from the aft end.
	FromM Formula `yaml:"from_m,required"`
	// Where it ends, m from the aft end; further aft where the outline runs aft.
	ToM Formula `yaml:"to_m,required"`
	// Height above the base line, m; the sheer where not given.
	HeightM Formula `yaml:"height_m"`
	// By which the half-breadth is multiplied; 1 where not given.
	Scale Formula `yaml:"scale"`
	// How far inside of the line the piece ends, mm.
	InsetMm Formula `yaml:"inset_mm"`
	// Where it stands.
	At Position `json:"-"`
}

// maxStock is the longest stock that can be laid, mm: 1 km.
const maxStock = 1e6

// cuts reports faults in cut layouts. The sizes of pieces are formulas and are checked when they are laid.
func (v *validation) cuts() {
	for i := range v.book.Cuts {
		c := &v.book.Cuts[i]
		seen := map[string]bool{}
		for _, s := range c.Stocks {
			for _, o := range s.Options {
				if v.known("option", o) && seen[o.Value] {
					v.error(o.At, "name it at one stock", "the option %s has two stocks in the cut %s", o, c.ID)
				}
				seen[o.Value] = true
			}
			if !(s.WidthMm.Value > 0 && s.WidthMm.Value <= maxStock) {
				v.error(s.WidthMm.At, "write the usable width in mm, such as 1520", "a stock of %s is %g mm wide",
					c.ID, s.WidthMm.Value)
			}
			if s.LengthMm.Given() && !(s.LengthMm.Value > 0 && s.LengthMm.Value <= maxStock) {
				v.error(s.LengthMm.At, "write the length of a sheet in mm; leave it out for a roll",
					"a sheet of %s is %g mm long", c.ID, s.LengthMm.Value)
			}
			if !(s.KerfMm.Value >= 0 && s.KerfMm.Value <= s.WidthMm.Value) {
				v.error(s.KerfMm.At, "write what is lost between two pieces in mm, or leave it out",
					"the kerf of %s is %g mm", c.ID, s.KerfMm.Value)
			}
			if !(c.SeamMm.Value >= 0 && c.SeamMm.Value < s.WidthMm.Value) {
				v.error(c.SeamMm.At, "write what a seam takes in mm, such as 25",
					"the seam of %s is %g mm on a stock of %g mm", c.ID, c.SeamMm.Value, s.WidthMm.Value)
			}
		}
		if len(c.Stocks) == 0 || len(c.Pieces) == 0 {
			v.error(c.At, "give at least one stock and one piece", "the cut %s has no stock or no piece", c.ID)
		}
		for j := range c.Pieces {
			v.cutPiece(&c.Pieces[j])
		}
	}
}

// cutPiece asks for a size or an outline, and that there are points enough. Whether the outline crosses itself, and
// whether radii and allowances fit, is known when it is made on a hull.
func (v *validation) cutPiece(p *CutPiece) {
	switch sized := !p.WidthMm.Empty() && !p.LengthMm.Empty(); {
	case len(p.Outline) == 0 && !sized:
		v.error(p.At, "give width_mm and length_mm, or an outline", "the piece %q has no size", p.Name)
	case len(p.Outline) > 0 && !(p.WidthMm.Empty() && p.LengthMm.Empty()):
		v.error(p.At, "leave out width_mm and length_mm, or the outline", "the piece %q has a size and an outline",
			p.Name)
	case len(p.Outline) == 0 && p.Mirror:
		v.error(p.At, "leave out mirror, or give an outline", "the piece %q mirrors no outline", p.Name)
	}
	points := 0
	for i := range p.Outline {
		o := &p.Outline[i]
		points++
		switch point := !o.XMm.Empty() && !o.YMm.Empty(); {
		case o.Line == nil && !point:
			v.error(o.At, "give x_mm and y_mm, or a line of the hull", "a corner of %q has no place", p.Name)
		case o.Line != nil && !(o.XMm.Empty() && o.YMm.Empty() && o.RiseMm.Empty()):
			v.error(o.At, "leave out x_mm, y_mm and rise_mm, or the line",
				"a line of the hull in %q has a place or a rise", p.Name)
		}
		if o.Line != nil {
			points++ // both its ends
		}
	}
	if least := 3; len(p.Outline) > 0 && points < least && !p.Mirror || p.Mirror && points == 1 {
		v.error(p.Outline[0].At, "give at least three corners, or two with mirror", "the outline of %q has %d corners",
			p.Name, points)
	}
}

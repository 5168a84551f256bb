package sheet

import (
	"math"

	"ribband/core/cutting"
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/laminate"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// LaminateSheet is the laminate schedule of a hull, as built in: laps, offcuts and what stays in the pot are in the
// waste of the materials.
type LaminateSheet struct {
	Rows []LaminateRow `json:"rows"`
	// over all laminates of the hull
	Cloths []ClothPart `json:"cloths"`
	// kg, as built in, like the others
	GlassKg  float64     `json:"glass_kg"`
	ResinKg  float64     `json:"resin_kg"`
	TotalKg  float64     `json:"total_kg"`
	BottomMm float64     `json:"bottom_mm"` // shell and bottom upon each other
	KeelMm   float64     `json:"keel_mm"`   // with the strip along the keel
	Caution  msg.Message `json:"caution"`
}

// LaminateRow is one laminate over its area.
type LaminateRow struct {
	Title string `json:"title"`
	// of the hull, a word of package laminate
	Part string `json:"part"`
	// by hand, by vacuum: it decides the share of glass
	Process     string   `json:"process"`      // a word of package laminate, as the book has it
	Plies       []string `json:"plies"`        // from the mould inwards; the number is g/m2
	AreaM2      float64  `json:"area_m2"`      // m², net
	ThicknessMm float64  `json:"thickness_mm"` // mm, cured
	GlassShare  float64  `json:"glass_share"`  // of the mass
	GlassKg     float64  `json:"glass_kg"`
	ResinKg     float64  `json:"resin_kg"`
	TotalKg     float64  `json:"total_kg"`
	// file:line:column of the laminate
	At string `json:"at"`
}

// ClothPart is how much of one cloth is built in.
type ClothPart struct {
	Cloth  string  `json:"cloth"`
	AreaM2 float64 `json:"area_m2"`
}

// round keeps a number of the shop to a thousandth: a millimetre of what is in metres, a gram of what is in kilograms.
// Quantities that are charged are not rounded here, but stand as the cost has them.
func round(v float64) float64 { return math.Round(v*1000) / 1000 }

// Laminates is the schedule of a build's hull; nil where the book or the desk has none.
func Laminates(e *engine.Engine, b *fit.Build) *LaminateSheet {
	if !e.Pack.Can(pack.Sheets) {
		return nil
	}
	hull := b.State.HullID
	s, err := takeoff.Schedule(e.Pack, hull)
	if err != nil || len(s.Rows) == 0 { // the pack was checked: there is none for this hull
		return nil
	}
	layup, err := takeoff.NewLayup(e.Pack, hull)
	if err != nil {
		return nil
	}
	out := &LaminateSheet{GlassKg: round(s.Glass), ResinKg: round(s.Resin), TotalKg: round(s.Weight()),
		BottomMm: round(layup.BottomMm), KeelMm: round(layup.KeelMm), Caution: laminate.Caution}
	// the schedule has the rows of the laminates that the hull has, in their order
	row := 0
	for i := range e.Pack.Work.Laminates {
		l := &e.Pack.Work.Laminates[i]
		if !l.On(hull) {
			continue
		}
		r := &s.Rows[row]
		row++
		part := LaminateRow{Title: l.Title, Part: l.Part, Process: l.Process, AreaM2: round(r.Part.Area),
			ThicknessMm: round(r.Laminate.Thickness),
			GlassShare:  round(r.Laminate.Psi), GlassKg: round(r.Glass), ResinKg: round(r.Resin),
			TotalKg: round(r.Weight()), At: e.Pack.Where(l.At)}
		for _, y := range r.Part.Plies {
			part.Plies = append(part.Plies, y.Name)
		}
		out.Rows = append(out.Rows, part)
	}
	for _, c := range s.Cloths {
		out.Cloths = append(out.Cloths, ClothPart{c.Name, round(c.Area)})
	}
	return out
}

// CutPart is a cut layout of the boat. Fault says why there is none. Taken is what the materials are charged with that
// it feeds.
type CutPart struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	// title of the roll or sheet
	Stock string    `json:"stock"`
	Feeds []CutFeed `json:"materials,omitempty"` // that are measured by it
	// mm, of the roll or sheet
	WidthMm float64 `json:"stock_width_mm"`
	// mm, of a sheet; 0 for a roll
	LengthMm float64 `json:"sheet_length_mm,omitempty"`
	// whole sheets that are begun; 0 for a roll
	Sheets int `json:"sheets,omitempty"`
	// mm of the stock from its end, offcuts included
	UsedMm float64 `json:"used_mm"`
	// m², whole sheets
	UsedM2  float64 `json:"used_m2"`
	TakenM2 float64 `json:"taken_m2"` // without what is left whole of the last sheet
	// m², the pieces alone
	PiecesM2 float64 `json:"pieces_m2"`
	// share of what is used that is no piece
	Waste  float64     `json:"waste_share"`
	Pieces []CutPiece  `json:"pieces,omitempty"`
	Fault  msg.Message `json:"fault,omitzero"`
	layout cutting.Layout
	index  int // of the cut
	option int // at whose stock it lies
}

// CutFeed is a material that a layout measures. Used is what is taken of it, with its waste: the amount that stands
// among the materials.
type CutFeed struct {
	// of the material
	Title string           `json:"title"`
	Used  measure.Quantity `json:"used"`
	Unit  string           `json:"unit"`
}

// CutPiece is where a piece lies: X across the stock, Y along it.
type CutPiece struct {
	Name  string `json:"name"`
	Sheet int    `json:"sheet"` // from 1
	// mm from the edge, of the nearest corner
	XMm float64 `json:"x_mm"`
	// mm from the end
	YMm      float64 `json:"y_mm"`
	WidthMm  float64 `json:"width_mm"`
	LengthMm float64 `json:"length_mm"`
	// m², within the line of the cut
	AreaM2 float64 `json:"area_m2"`
	// as sewn up or fitted, without its allowances, as it was ordered and not as it lies
	FinishedWidthMm  float64 `json:"finished_width_mm"`
	FinishedLengthMm float64 `json:"finished_length_mm"`
	Turned           bool    `json:"turned,omitempty"`
}

// Cuts are the cut layouts of a boat: those of which it has an option. Only the yard has them.
func Cuts(e *engine.Engine, b *fit.Build) []CutPart {
	if !e.Pack.Can(pack.Sheets) {
		return nil
	}
	var list []CutPart
	for i := range e.Pack.Costs.Cuts {
		if part, ok := cut(e, b, i); ok {
			list = append(list, part)
		}
	}
	return list
}

// cut lays one cut on the stock of the option that the boat has; false where it has none of them. A layout that cannot
// be made is a fault of the sheet, which stands all the same.
func cut(e *engine.Engine, b *fit.Build, index int) (CutPart, bool) {
	c, names := &e.Pack.Costs.Cuts[index], &e.Pack.Work.Cuts[index]
	for i, s := range c.Stocks {
		for _, o := range s.Options {
			if b.State.Counts[o] == 0 {
				continue
			}
			part := CutPart{ID: c.ID, Title: names.Title, Stock: names.Stocks[i], WidthMm: s.WidthMm,
				LengthMm: s.LengthMm, index: index, option: o}
			var err error
			if part.layout, err = e.Takeoffs.Layout(b.State, index, i); err != nil {
				part.Fault = msg.Of(err)
				return part, true
			}
			namePanels(e, part.layout.Placed)
			part.state()
			return part, len(part.Pieces) > 0
		}
	}
	return CutPart{}, false
}

// namePanels puts into words which panel of its piece each is: whoever sews them has to tell them apart.
func namePanels(e *engine.Engine, list []cutting.Placed) {
	for i := range list {
		if p := &list[i]; p.Panels > 0 {
			p.Name = e.Say("sheet.panel", msg.Text("piece", p.Name), msg.Count("n", p.Panel), msg.Count("of", p.Panels))
		}
	}
}

// feeds adds to the cuts of a boat what is taken for them.
func feeds(e *engine.Engine, a *engine.Answer, cuts []CutPart) []CutPart {
	// one layout may feed more than one material of the option at whose stock it lies
	for i := range cuts {
		c := &cuts[i]
		for _, l := range a.Cost.Materials {
			n := e.Measured[l.At]
			if own := l.For.Kind == works.Option && l.For.Index == c.option; own && n != nil && n.Cut != nil &&
				n.Cut.Cut == c.index {
				m := &e.Pack.Costs.Materials[l.Material]
				c.Feeds = append(c.Feeds, CutFeed{m.Title, l.Used, m.Unit})
			}
		}
	}
	return cuts
}

// state writes the layout in the numbers of the shop.
func (c *CutPart) state() {
	l := &c.layout
	c.Sheets, c.UsedMm, c.Waste = l.Sheets, round(l.Used), round(l.Waste)
	c.UsedM2, c.TakenM2, c.PiecesM2 = round(l.Used*l.Stock.Width/1e6), round(takeoff.Taken(l)*l.Stock.Width/1e6),
		round(l.Area/1e6)
	for i := range l.Placed {
		p := &l.Placed[i]
		width, length := p.Width, p.Length
		if p.Turned {
			width, length = length, width
		}
		if p.Lines != nil {
			width, length = p.Lines.Size[0], p.Lines.Size[1]
		}
		c.Pieces = append(c.Pieces, CutPiece{p.Name, p.Sheet + 1, round(p.X), round(p.Y), round(p.Width),
			round(p.Length), round(p.Area / 1e6), round(width), round(length), p.Turned})
	}
}

// Layout is where the pieces lie; nil where a fault says why they do not.
func (c *CutPart) Layout() *cutting.Layout {
	if !c.Fault.Empty() {
		return nil
	}
	return &c.layout
}

// CutPictures draw the cut layouts of a boat.
func CutPictures(e *engine.Engine, b *fit.Build, f drawing.Format) ([]look.Picture, error) {
	return cutPictures(e, Cuts(e, b), f)
}

func cutPictures(e *engine.Engine, cuts []CutPart, f drawing.Format) (list []look.Picture, err error) {
	for _, c := range cuts {
		if !c.Fault.Empty() {
			continue // the sheet says why
		}
		p, err := look.Draw(e, "cut-"+c.ID, c.Title, drawing.CutLayout{Material: c.Stock, Layout: c.layout,
			Notes: []string{e.Say("sheet.cut-note")}}, f)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, nil
}

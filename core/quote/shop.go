package quote

import (
	"fmt"
	"math"

	"ribband/core/cutting"
	"ribband/core/drawing"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/laminate"
)

// LaminateSheet is the laminate schedule of a hull, as built in: laps, offcuts and what stays in the pot are in the waste of the materials.
type LaminateSheet struct {
	Rows     []LaminateRow `json:"rows"`
	Cloths   []ClothPart   `json:"cloths"`
	GlassKg  float64       `json:"glass_kg"`
	ResinKg  float64       `json:"resin_kg"`
	TotalKg  float64       `json:"total_kg"`
	BottomMm float64       `json:"bottom_mm"` // shell and bottom upon each other
	KeelMm   float64       `json:"keel_mm"`   // with the strip along the keel
	Caution  string        `json:"caution"`
}

// LaminateRow is one laminate over its area.
type LaminateRow struct {
	Title       string   `json:"title"`
	Part        string   `json:"part"`
	Process     string   `json:"process"`
	Plies       []string `json:"plies"` // from the mould inwards; the number is g/m2
	AreaM2      float64  `json:"area_m2"`
	ThicknessMm float64  `json:"thickness_mm"`
	GlassShare  float64  `json:"glass_share"` // of the mass
	GlassKg     float64  `json:"glass_kg"`
	ResinKg     float64  `json:"resin_kg"`
	TotalKg     float64  `json:"total_kg"`
	At          string   `json:"at"`
}

// ClothPart is how much of one cloth is built in.
type ClothPart struct {
	Cloth  string  `json:"cloth"`
	AreaM2 float64 `json:"area_m2"`
}

// round keeps a number of the shop to a thousandth.
func round(v float64) float64 { return math.Round(v*1000) / 1000 }

// Laminates is the schedule of a build's hull; nil where the book or the desk has none.
func (e *Engine) Laminates(b *fit.Build) *LaminateSheet {
	if e.Pack.Trade == nil || len(e.Pack.Trade.Laminates) == 0 {
		return nil
	}
	hull := b.State.HullID
	s, err := e.Pack.Schedule(hull)
	layup := e.Pack.Hulls[hull].Layup
	if err != nil || layup == nil { // the pack was checked: there is none for this hull
		return nil
	}
	out := &LaminateSheet{GlassKg: round(s.Glass), ResinKg: round(s.Resin), TotalKg: round(s.Weight()), BottomMm: round(layup.BottomMm), KeelMm: round(layup.KeelMm), Caution: laminate.Caution}
	row := 0
	for i := range e.Pack.Trade.Laminates {
		l := &e.Pack.Trade.Laminates[i]
		if !l.On(hull) {
			continue
		}
		r := &s.Rows[row]
		row++
		part := LaminateRow{Title: l.Title, Part: l.Part, Process: string(r.Part.Method), AreaM2: round(r.Part.Area), ThicknessMm: round(r.Laminate.Thickness),
			GlassShare: round(r.Laminate.Psi), GlassKg: round(r.Glass), ResinKg: round(r.Resin), TotalKg: round(r.Weight()), At: e.Pack.Trade.Sources[l.At].String()}
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

// CutPart is a cut layout of the boat. Fault says why there is none.
type CutPart struct {
	ID       string     `json:"id"`
	Title    string     `json:"title"`
	Stock    string     `json:"stock"`
	WidthMm  float64    `json:"stock_width_mm"`
	LengthMm float64    `json:"sheet_length_mm,omitempty"`
	Sheets   int        `json:"sheets,omitempty"`
	UsedMm   float64    `json:"used_mm"`
	UsedM2   float64    `json:"used_m2"`
	PiecesM2 float64    `json:"pieces_m2"`
	Waste    float64    `json:"waste_share"` // of what is used
	Pieces   []CutPiece `json:"pieces,omitempty"`
	Fault    string     `json:"fault,omitempty"`
	layout   cutting.Layout
}

// CutPiece is where a piece lies: X across the stock, Y along it.
type CutPiece struct {
	Name     string  `json:"name"`
	Sheet    int     `json:"sheet"` // from 1
	XMm      float64 `json:"x_mm"`
	YMm      float64 `json:"y_mm"`
	WidthMm  float64 `json:"width_mm"`
	LengthMm float64 `json:"length_mm"`
	Turned   bool    `json:"turned,omitempty"`
}

// Cuts are the cut layouts of a boat: those of which it has an option.
func (e *Engine) Cuts(b *fit.Build) []CutPart {
	if e.Pack.Trade == nil {
		return nil
	}
	var list []CutPart
	for i := range e.Pack.Trade.Cuts {
		if part, ok := e.cut(b, i); ok {
			list = append(list, part)
		}
	}
	return list
}

func (e *Engine) cut(b *fit.Build, index int) (CutPart, bool) {
	c := &e.Pack.Trade.Cuts[index]
	for _, s := range c.Stocks {
		for _, o := range s.Options {
			if b.State.Counts[o] == 0 {
				continue
			}
			part := CutPart{ID: c.ID, Title: c.Title, Stock: s.Title, WidthMm: s.WidthMm, LengthMm: s.LengthMm}
			pieces, err := e.cutPieces(b, index, cutting.Stock{Width: s.WidthMm, Length: s.LengthMm, Kerf: s.KerfMm})
			if err == nil {
				part.layout, err = cutting.Lay(pieces, cutting.Stock{Width: s.WidthMm, Length: s.LengthMm, Kerf: s.KerfMm})
			}
			if err != nil {
				part.Fault = err.Error()
				return part, true
			}
			part.state()
			return part, len(pieces) > 0
		}
	}
	return CutPart{}, false
}

// cutPieces are the pieces of a cut for a boat, divided where they are wider than the stock.
func (e *Engine) cutPieces(b *fit.Build, index int, stock cutting.Stock) ([]cutting.Piece, error) {
	c := &e.Pack.Trade.Cuts[index]
	var list []cutting.Piece
	for i := range c.Pieces {
		p := &c.Pieces[i]
		at := e.Pack.Trade.Sources[p.At]
		count := 1.0
		if !p.Count.Empty() {
			count = p.Count.Number()(b.State)
		}
		if !(count >= 0 && count <= cutting.MaxPieces) || count != math.Trunc(count) {
			return nil, fmt.Errorf("%s: the count of %q is %v; let it be a whole number from 0 to %d", at, p.Name, count, cutting.MaxPieces)
		}
		piece := cutting.Piece{Name: p.Name, Width: p.WidthMm.Number()(b.State), Length: p.LengthMm.Number()(b.State), Turn: p.Turn}
		for range int(count) {
			panels, err := panelled(piece, stock)
			if err == nil && panels == nil {
				panels, err = cutting.Panels(piece, stock, c.SeamMm)
			}
			if err != nil {
				return nil, fmt.Errorf("%s: %w", at, err)
			}
			list = append(list, panels...)
		}
		if len(list) > cutting.MaxPieces {
			return nil, fmt.Errorf("%s: there are more than %d pieces with %q; divide the cut", at, cutting.MaxPieces, p.Name)
		}
	}
	return list, nil
}

// panelled leaves a piece whole that fits when it is turned; nil where it has to be divided.
func panelled(p cutting.Piece, s cutting.Stock) ([]cutting.Piece, error) {
	if !formula.Finite(p.Width) || !formula.Finite(p.Length) {
		return nil, fmt.Errorf("the piece %q is %v × %v mm; guard its formulas", p.Name, p.Width, p.Length)
	}
	if p.Turn && p.Width > s.Width && p.Length <= s.Width && (s.Length == 0 || p.Width <= s.Length) {
		return []cutting.Piece{p}, nil
	}
	return nil, nil
}

func (c *CutPart) state() {
	l := &c.layout
	c.Sheets, c.UsedMm, c.Waste = l.Sheets, round(l.Used), round(l.Waste)
	c.UsedM2, c.PiecesM2 = round(l.Used*l.Stock.Width/1e6), round(l.Area/1e6)
	for _, p := range l.Placed {
		c.Pieces = append(c.Pieces, CutPiece{p.Name, p.Sheet + 1, round(p.X), round(p.Y), round(p.Width), round(p.Length), p.Turned})
	}
}

// CutPictures draw the cut layouts.
func (e *Engine) CutPictures(b *fit.Build, f drawing.Format) ([]Picture, error) {
	var list []Picture
	for _, c := range e.Cuts(b) {
		if c.Fault != "" {
			continue // the sheet says why
		}
		p, err := picture("cut-"+c.ID, c.Title, drawing.CutLayout{Material: c.Stock, Layout: c.layout, Notes: []string{"A plan: cut from patterns taken on the boat."}}, f)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, nil
}

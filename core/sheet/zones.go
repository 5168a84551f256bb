package sheet

import (
	"strings"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/look"
)

// zoneKinds are the zones of a hull in the order in which they are laid, with the word of package laminate for the part
// that lies on all before it.
var zoneKinds = []struct {
	part string
	kind drawing.ZoneKind
}{{"shell", drawing.Topsides}, {"bottom", drawing.BottomZone}, {"keel", drawing.KeelZone}}

// zonePicture draws where the laminates of a hull lie, with the thicknesses of the schedule added up; none for a hull
// without laminates, offsets or the height of its boot top, up to which the bottom is laid.
func zonePicture(e *engine.Engine, b *fit.Build) ([]look.Picture, error) {
	l, top := Laminates(e, b), e.Field(b, figures.HullBootTop)
	hull := &e.Pack.Hulls[b.State.HullID]
	if l == nil || len(hull.Offsets) == 0 || top == 0 {
		return nil, nil
	}
	in := drawing.Zones{Name: hull.Title, Offsets: figures.Lines(hull), BootTop: top}
	// the schedule names each by its title, so that its plies are found there
	thickness := 0.0
	for _, z := range zoneKinds {
		// a hull may have two laminates for one part
		var titles []string
		for _, r := range l.Rows {
			if r.Part == z.part {
				thickness += r.ThicknessMm
				titles = append(titles, r.Title)
			}
		}
		if len(titles) > 0 {
			in.Zones = append(in.Zones, drawing.Zone{Kind: z.kind, Thickness: thickness,
				Laminate: strings.Join(titles, "; ")})
		}
	}
	p, err := look.Draw(e, "zones", e.Say("sheet.zones"), in, drawing.Format{})
	return []look.Picture{p}, err
}

package sheet

import (
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/msg"
	"ribband/core/pack"
)

// DrillPart is a plate under the deck that is drilled and tapped, by its number on the drilling plan.
type DrillPart struct {
	Title             string // what is screwed into it
	For               string // the option, as the shop reads it
	Side              string // port, starboard or centre
	XM, YM            float64
	Thread            string
	DrillMm           float64 // of the hole before it is tapped
	Holes             int
	AlongMm, AcrossMm float64 // from hole to hole
}

// pitches of metric coarse threads, mm, and their diameters.
//
// Source: ISO 261, from memory.
var pitches = map[string][2]float64{"M4": {4, 0.7}, "M5": {5, 0.8}, "M6": {6, 1}, "M8": {8, 1.25}, "M10": {10, 1.5},
	"M12": {12, 1.75}, "M16": {16, 2}}

// Drilling is the drilling plan of a boat: its plates in the order of the book, port before starboard; none on the
// desks without sheets.
//
// Formula: drill = diameter − pitch. Source: ISO 2306, drills before tapping; from memory.
func Drilling(e *engine.Engine, b *fit.Build) (list []DrillPart, err error) {
	hull := &e.Pack.Hulls[b.State.HullID]
	// without offsets nobody knows where the edge of the deck is
	if !e.Pack.Can(pack.Sheets) || len(hull.Offsets) == 0 {
		return nil, nil
	}
	aft, fore, half, err := drawing.DeckEdge(figures.Lines(hull))
	if err != nil {
		return nil, err
	}
	for _, p := range e.Pack.Work.Plates {
		// the checker of books knows the threads; a pack with another has a drill of nothing, which nobody takes
		thread := pitches[p.Thread]
		// as often as its option is in the boat: two of one would need a place each, and the book gives one
		for range b.State.Counts[p.Option] {
			x := float64(p.Along * (fore - aft))
			y := float64(half(aft+x)) - float64(p.InboardMm/1000)
			part := DrillPart{Title: p.Title, For: e.Pack.Options[p.Option].Title, XM: round(x), Thread: p.Thread,
				DrillMm: round(thread[0] - thread[1]), Holes: p.Holes, AlongMm: p.AlongMm, AcrossMm: p.AcrossMm}
			if p.Centre {
				part.Side = "centre"
				list = append(list, part)
				continue
			}
			// port is minus, as in all places of the book
			for side, name := range []string{"port", "starboard"} {
				part.Side, part.YM = name, round(float64(2*side-1)*y)
				list = append(list, part)
			}
		}
	}
	return list, nil
}

// drillingPicture draws the plan; none for a boat without such plates.
func drillingPicture(e *engine.Engine, b *fit.Build) ([]look.Picture, error) {
	list, err := Drilling(e, b)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	hull := &e.Pack.Hulls[b.State.HullID]
	in := drawing.Drilling{Name: hull.Title, Offsets: figures.Lines(hull)}
	// numbered as the list is, by which the table beside it goes
	for _, p := range list {
		in.Plates = append(in.Plates, drawing.DeckPlate{X: p.XM, Y: p.YM, Words: e.Say("sheet.drilled",
			msg.Text("title", p.Title), msg.Choice("side", p.Side), msg.Count("holes", p.Holes),
			msg.Text("thread", p.Thread))})
	}
	picture, err := look.Draw(e, "drilling", e.Say("sheet.drilling"), in, drawing.Format{})
	return []look.Picture{picture}, err
}

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

// FlotationPart is a block of flotation foam, of which there is one on each side, by its number on the plan.
type FlotationPart struct {
	Title     string  // where it is, in words
	FromM     float64 // m from the aft end
	ToM       float64
	InboardMm float64 // from the edge of the deck to its outer face
	BreadthMm float64
	HeightMm  float64 // that its volume asks for
	Litres    float64 // of one
}

// Flotation is where the foam of a boat lies: blocks whose volumes together are the boat's foam.
//
// Formula: litres = share × foam / 2; height = litres / (length × breadth). Valid: blocks of one breadth and height;
// one that is cut to the hull needs more height for the same volume. Source: geometry.
func Flotation(e *engine.Engine, b *fit.Build) (list []FlotationPart) {
	hull := &e.Pack.Hulls[b.State.HullID]
	if !e.Pack.Can(pack.Sheets) || len(hull.Offsets) == 0 {
		return nil
	}
	length := hull.Offsets[len(hull.Offsets)-1].X - hull.Offsets[0].X
	// all of the boat's foam: the book lets it have one kind at most, as its material is counted
	litres := e.Figure(b, figures.FoamL)
	for _, k := range e.Pack.Work.Blocks {
		if b.State.Counts[k.Option] == 0 {
			continue
		}
		// of one side: who cuts has both to cut, and numbers them alike
		part := FlotationPart{Title: k.Title, FromM: round(k.From * length), ToM: round(k.To * length),
			InboardMm: k.InboardMm, BreadthMm: k.BreadthMm, Litres: round(k.Share * litres / 2)}
		part.HeightMm = round(1000 * k.Share * litres / 2 / ((k.To - k.From) * length * k.BreadthMm))
		list = append(list, part)
	}
	return list
}

// flotationPicture draws where the foam lies; none for a boat without such blocks.
func flotationPicture(e *engine.Engine, b *fit.Build) ([]look.Picture, error) {
	list := Flotation(e, b)
	if len(list) == 0 {
		return nil, nil
	}
	hull := &e.Pack.Hulls[b.State.HullID]
	in := drawing.Flotation{Name: hull.Title, Offsets: figures.Lines(hull)}
	// with the volume, since it is what the foam is there for
	for _, p := range list {
		in.Blocks = append(in.Blocks, drawing.FoamBlock{Aft: p.FromM, Fore: p.ToM, Inboard: p.InboardMm / 1000,
			Breadth: p.BreadthMm / 1000, Words: e.Say("sheet.block", msg.Text("title", p.Title),
				msg.Number("litres", p.Litres, 0))})
	}
	picture, err := look.Draw(e, "flotation", e.Say("sheet.flotation"), in, drawing.Format{})
	return []look.Picture{picture}, err
}

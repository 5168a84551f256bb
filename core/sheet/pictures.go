package sheet

import (
	"slices"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
)

// views are the drawings of the boat itself, plots small. Each has as its identifier the word by which the book gives
// it to a shop.
func views(e *engine.Engine, b *fit.Build) ([]look.Picture, error) {
	list, err := look.Drawn(e, b, measure.Sea, false, look.YardProfile, look.Plan, look.SectionsPicture)
	if err != nil {
		return nil, err
	}
	plots, err := look.Drawn(e, b, measure.Sea, true, look.LeversPicture, look.MassesPicture, look.SolarPicture)
	return append(list, plots...), err
}

// Pictures are the pictures of the yard's sheet.
func Pictures(e *engine.Engine, b *fit.Build) ([]look.Picture, error) {
	return shopPictures(e, b, Cuts(e, b), func(string) bool { return true })
}

// shopPictures are the pictures of some layouts and of the papers that a shop gets.
func shopPictures(e *engine.Engine, b *fit.Build, cuts []CutPart,
	gets func(paper string) bool) ([]look.Picture, error) {
	list, err := views(e, b)
	if err != nil {
		return nil, err
	}
	list = slices.DeleteFunc(list, func(p look.Picture) bool { return !gets(p.ID) })
	layouts, err := cutPictures(e, cuts, drawing.Format{})
	if err != nil {
		return nil, err
	}
	list = append(list, layouts...)
	if gets("flotation") {
		blocks, err := flotationPicture(e, b)
		if err != nil {
			return nil, err
		}
		list = append(blocks, list...)
	}
	if gets("drilling") {
		plan, err := drillingPicture(e, b)
		if err != nil {
			return nil, err
		}
		list = append(plan, list...)
	}
	if gets("laminates") {
		zones, err := zonePicture(e, b)
		if err != nil {
			return nil, err
		}
		list = append(zones, list...)
	}
	// drawn last, since sizing each circuit again for its drawing takes longest
	if !gets("loom") {
		return list, nil
	}
	looms, err := LoomPictures(e, b, drawing.Format{})
	if err != nil {
		return nil, err
	}
	boards, err := boardPictures(e, b)
	return slices.Concat(list, looms, boards), err
}

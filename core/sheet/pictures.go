package sheet

import (
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/look"
)

// Pictures are the pictures of the yard's sheet, plots small.
func Pictures(e *engine.Engine, b *fit.Build) ([]look.Picture, error) {
	list, err := look.Drawn(e, b, false, look.YardProfile, look.Plan, look.SectionsPicture)
	if err != nil {
		return nil, err
	}
	plots, err := look.Drawn(e, b, true, look.LeversPicture, look.MassesPicture, look.SolarPicture)
	if err != nil {
		return nil, err
	}
	cuts, err := CutPictures(e, b, drawing.Format{})
	if err != nil {
		return nil, err
	}
	looms, err := LoomPictures(e, b, drawing.Format{})
	return append(append(append(list, plots...), cuts...), looms...), err
}

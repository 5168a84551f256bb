// Package look goes from a boat to what drawing needs: profile and plan from the hull's offsets and what the options
// say of themselves, and the curves of speed, range and righting levers. What it takes from an answer it does not
// compute again; core/drawing makes the lines.
//
// What an option is on the drawing it says itself, with one of the [Words] as its key drawn; this is the one place that
// knows what a word means.
package look

import (
	"fmt"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
)

// Picture is a drawing of a boat as SVG, escaped and whole: it may be put into a page as it is.
type Picture struct {
	ID    string
	Title string
	SVG   string
	Small bool // drawn to stand beside another
	// Said below it, in the place of the title above; "" for most.
	Caption string
}

// ForCustomer are the pictures of the customer's paper: the boat as it will look, for the head of the paper; its
// profile with the dimensions; and small its range and what its panels bring.
func ForCustomer(e *engine.Engine, b *fit.Build, units measure.System) ([]Picture, error) {
	list, err := Drawn(e, b, units, false, PaperStill, Profile)
	if err != nil {
		return nil, err
	}
	plots, err := Drawn(e, b, units, true, RangePicture, SolarPicture)
	return append(list, plots...), err
}

// smallWidth is that of a picture that stands beside another on paper, so that its words can be read there.
const smallWidth = 380

// Drawn draws pictures of a boat, small ones to stand beside another; those that the boat has not are empty in the
// list.
func Drawn(e *engine.Engine, b *fit.Build, units measure.System, small bool,
	draw ...func(*engine.Engine, *fit.Build, drawing.Format) (Picture, error)) ([]Picture, error) {
	f := drawing.Format{System: units}
	if small {
		f.Width = smallWidth
	}
	var list []Picture
	for _, d := range draw {
		// a picture that cannot be drawn takes the paper with it: half a paper is worse than an error that names the
		// part
		p, err := d(e, b, f)
		if err != nil {
			return nil, err
		}
		p.Small = small
		list = append(list, p)
	}
	return list, nil
}

// Draw draws one picture in the language of the engine; id begins every id in it, before that of the format. The error
// says what cannot be drawn.
func Draw(e *engine.Engine, id, title string, in interface {
	SVG(drawing.Format) (string, error)
}, f drawing.Format) (Picture, error) {
	f.ID, f.Language = id+f.ID, e.Language()
	svg, err := in.SVG(f)
	if err != nil {
		return Picture{}, fmt.Errorf("drawing: %w", err)
	}
	return Picture{ID: id, Title: title, SVG: svg}, nil
}

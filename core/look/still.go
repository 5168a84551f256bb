package look

import (
	"ribband/core/drawing"
	"ribband/core/drawing/solid"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/msg"
)

// stillShape is the height of a still picture as a share of its width.
const stillShape = 0.56

// Still is the boat in three dimensions from its bow as a picture, for paper and for who cannot turn it; empty where
// the book has no offsets of the hull.
func Still(e *engine.Engine, build *fit.Build, f drawing.Format) (Picture, error) {
	return StillFrom(solid.Views[0])(e, build, f)
}

// PaperStill is the still picture of the customer's paper: small, and without people, who are not sold.
func PaperStill(e *engine.Engine, build *fit.Build, f drawing.Format) (Picture, error) {
	b := newBoat(e, build)
	if b == nil {
		return Picture{}, nil
	}
	// From the bow and above, where one looks into the cockpit: that is what was chosen.
	m, err := b.solid(nil, solid.Coarse)
	if err != nil {
		return Picture{}, err
	}
	p, err := Draw(e, "still", e.Say("look.still"), sketch{m, solid.Views[0], true, e, build}, f)
	p.Caption = e.Say("look.still-caption", msg.Text("name", b.Name))
	return p, err
}

// StillFrom draws still pictures from one of the views.
func StillFrom(v solid.View) func(*engine.Engine, *fit.Build, drawing.Format) (Picture, error) {
	return func(e *engine.Engine, build *fit.Build, f drawing.Format) (Picture, error) {
		m, err := Solid(e, build, solid.Coarse)
		if m == nil || err != nil {
			return Picture{}, err
		}
		return Draw(e, "still", e.Say("look.still"), sketch{m, v, false, e, build}, f)
	}
}

// sketch is a still picture to be drawn.
type sketch struct {
	mesh  *solid.Mesh
	view  solid.View
	small bool
	e     *engine.Engine
	build *fit.Build
}

// SVG draws it.
func (s sketch) SVG(f drawing.Format) (string, error) {
	if f.Width == 0 {
		f.Width = 720
	}
	name := s.e.Pack.Hulls[s.build.State.HullID].Title
	return solid.Still(s.mesh, s.view, solid.Format{ID: f.ID, Small: s.small, Width: f.Width,
		Height:      f.Width * stillShape,
		Title:       s.e.Say("look.still-of", msg.Text("name", name)),
		Description: s.e.Say("look.still-from", msg.Choice("view", s.view.Name))}), nil
}

package look

import (
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
)

// Profile draws the boat from the side, floating as computed; empty where the book has no offsets of the hull.
func Profile(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	return profile(e, b, f, false)
}

// YardProfile is the profile with the draughts to the base line.
func YardProfile(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	return profile(e, b, f, true)
}

// profile draws the boat from the side. Its dimensions are the figures of the answer and not measured again, so that
// the drawing and the table beside it agree; without them it is measured on the drawing.
func profile(e *engine.Engine, build *fit.Build, f drawing.Format, baseLine bool) (Picture, error) {
	b := newBoat(e, build)
	if b == nil {
		return Picture{}, nil
	}
	in := drawing.Profile{Boat: b.Boat, Drafts: b.drafts(), Persons: b.persons(), Poles: b.poles(), BaseLine: baseLine,
		Seat: e.Figures.SeatHeight(build.State), Notes: []string{e.Say("look.profile-aboard")}}
	if in.Drafts != nil {
		in.AirDraft, in.Freeboard = b.computed(figures.FloatingAirDraft), b.computed(figures.FloatingFreeboard)
		in.Draft, in.Folded = b.computed(figures.FloatingDraft), b.computed(figures.FloatingAirDraftDown)
	}
	return Draw(e, "profile", e.Say("look.profile"), in, f)
}

// Plan draws the boat from above, with motor and bank below the seats; empty where the book has no offsets of the
// hull. The seats are the usual ones, since the book has cushions but no seats.
func Plan(e *engine.Engine, build *fit.Build, f drawing.Format) (Picture, error) {
	b := newBoat(e, build)
	if b == nil {
		return Picture{}, nil
	}
	in := drawing.Plan{Boat: b.Boat, Seats: drawing.Benches(b.Cockpit, b.beam()/2, b.helm)}
	return Draw(e, "plan", e.Say("look.plan"), in, f)
}

// Outline draws the boat in few lines, to the scale of all hulls of the book; empty where it has no offsets of this
// one.
func Outline(e *engine.Engine, build *fit.Build, f drawing.Format) (Picture, error) {
	longest := 0.0
	for i := range e.Pack.Hulls {
		longest = max(longest, lengthOf(e, i))
	}
	return outline(e, build, longest, f)
}

// Sketch is the outline to the scale of its own hull: what an option makes of this boat, beside its name.
func Sketch(e *engine.Engine, build *fit.Build, f drawing.Format) (Picture, error) {
	return outline(e, build, lengthOf(e, build.State.HullID), f)
}

// lengthOf is the length of a hull by its offsets, m; 0 where the book has none.
func lengthOf(e *engine.Engine, hull int) float64 {
	s := e.Pack.Hulls[hull].Offsets
	if len(s) == 0 {
		return 0
	}
	return s[len(s)-1].X - s[0].X
}

func outline(e *engine.Engine, build *fit.Build, length float64, f drawing.Format) (Picture, error) {
	b := newBoat(e, build)
	if b == nil {
		return Picture{}, nil
	}
	// a little more than the length, so that stem and drive are not cut by the edge
	return Draw(e, "outline", e.Say("look.profile"), drawing.Outline{Boat: b.Boat, Drafts: b.drafts(),
		Seat: e.Figures.SeatHeight(build.State), Over: 1.06 * length}, f)
}

// SectionsPicture draws the body plan with the water at rest; empty where the book has no offsets of the hull. No
// option is seen in it.
func SectionsPicture(e *engine.Engine, build *fit.Build, f drawing.Format) (Picture, error) {
	b := newBoat(e, build)
	if b == nil {
		return Picture{}, nil
	}
	in := drawing.Sections{Boat: b.Boat, Drafts: b.drafts()}
	if in.Drafts != nil {
		in.Notes = []string{e.Say("look.sections-water")}
	}
	return Draw(e, "sections", e.Say("look.sections"), in, f)
}

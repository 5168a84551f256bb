package transport

import "math"

// Wrap is how a boat is wrapped in shrink film.
type Wrap struct {
	LengthM float64 // overall
	BeamM   float64
	HeightM float64 // of the boat as it travels, from the underside of the keel; only for the whole boat
	RidgeM  float64 // of the film's ridge above the sheer; for a cover
	SkirtM  float64 // how far the film goes below the sheer on all sides; for a cover
	Whole   bool    // the whole boat, bottom included, as for a container; else a cover over the sheer
	Waste   float64 // share added for seams and offcuts: 0.15 is 15 %
}

// WrapArea estimates the shrink film for a boat, in m².
//
//	cover: A = (2·√((B/2)² + R²) + 2·S) · (L + 2·S) · (1 + w) + 2·(B·R/2)·(1 + w)
//	whole: A = 2·(L·B + L·H + B·H) · (1 + w)
//
// L length, B beam, H height, R ridge above the sheer, S skirt below it, all in m; w waste as a share. The cover is a
// tent roof of full beam from end to end with a skirt all round, and its two triangles at the ends. The whole is the
// box round the boat, which is never less than the film drawn tight: a convex body has no more surface than a box that
// holds it.
//
// Valid: L 1 to 30 m, B 0.3 to 10 m, H 0.2 to 10 m, R 0 to 3 m, S 0 to 2 m, w 0 to 1. Source: geometry; common
// practice, no source.
func WrapArea(w Wrap) (float64, error) {
	in := inputs{doing: "estimating the shrink film"}
	const metres = "give it in metres"
	in.number("the length", w.LengthM, 1, 30, "m", metres)
	in.number("the beam", w.BeamM, 0.3, 10, "m", metres)
	in.number("the waste", w.Waste, 0, 1, "", "give a share: 0.15 is 15 %")
	if w.Whole {
		in.number("the height", w.HeightM, 0.2, 10, "m", metres)
	} else {
		in.number("the ridge", w.RidgeM, 0, 3, "m", metres)
		in.number("the skirt", w.SkirtM, 0, 2, "m", metres)
	}
	if err := in.err(); err != nil {
		return 0, err
	}
	if w.Whole {
		return 2 * (float64(w.LengthM*w.BeamM) + float64(w.LengthM*w.HeightM) + float64(w.BeamM*w.HeightM)) * (1 +
			w.Waste), nil
	}
	over := 2*math.Hypot(w.BeamM/2, w.RidgeM) + 2*w.SkirtM
	return (float64(over*(w.LengthM+float64(2*w.SkirtM))) + float64(w.BeamM*w.RidgeM)) * (1 + w.Waste), nil
}

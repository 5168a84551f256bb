package hull

import (
	"math"

	"ribband/core/msg"
)

// Limits of the search for an equilibrium.
const (
	steepestSlope = 0.7                // tangent of the largest trim
	largestHeel   = 75 * math.Pi / 180 // of an equilibrium; far beyond any deck edge
	loadShare     = 1 - 1e-9           // of the whole volume
)

// Float finds how a load floats at rest in water of the given density (kg/m³): draft, trim and heel.
//
// The equilibrium is where the hull displaces the load (ρ·V = m) and the centres of buoyancy and gravity are in one
// vertical. Newton's method with the exact waterplane integrals as derivatives starts from the even keel; where it
// fails, nested bracketed searches take over, draft inside trim inside heel. The number of steps is bounded and the
// same each time.
//
// An error is one of [ErrLoad], [ErrTooHeavy] (the sheer is under), [ErrUnstable] (GM is not above zero upright, or no
// heel balances the load) and [ErrNoBalance] (no trim does).
//
// Valid: a closed hull in still water, solid loads that do not move; trims up to 35°.
// Source: Archimedes' principle; Barrass & Derrett (GM = KB + BM - KG).
func (h *Hull) Float(load Load, density float64) (Floating, error) {
	q, err := h.question(load, density)
	if err != nil {
		return Floating{}, err
	}
	a, ok := h.balance(q, level, h.start(q))
	if !ok {
		return Floating{}, q.tooFar(a)
	}
	if b := h.lowestSheer(a); b.Height <= 0 {
		return Floating{}, q.under(b)
	}
	if gm := a.gm(q); !(gm > 0) {
		return Floating{}, q.refuse(ErrUnstable,
			"hull.lolls", msg.Number("gm", gm, 3))
	}
	if load.TCG != 0 {
		if a, ok = h.heelOver(q, a); !ok {
			return Floating{}, q.refuse(ErrUnstable,
				"hull.no-heel", msg.Number("off", math.Abs(load.TCG), 3))
		}
	}
	return h.floating(q, a)
}

// question is a load to float, in the terms of the search.
type question struct {
	load    Load
	density float64
	volume  float64 // to displace
	along   float64 // of the centre of gravity, from midlength
	length  float64
}

func (h *Hull) question(load Load, density float64) (question, error) {
	q := question{load, density, load.Mass / density, load.LCG - h.middle, h.Length()}
	switch {
	case !(density > 0) || math.IsInf(density, 0):
		return q, q.refuse(ErrLoad, "hull.density", msg.Number("density", density, msg.Exact))
	case !(load.Mass > 0) || math.IsInf(load.Mass, 0):
		return q, q.refuse(ErrLoad, "hull.no-mass")
	case !usable(load.LCG) || !usable(load.TCG) || !usable(load.VCG):
		return q, q.refuse(ErrLoad, "hull.centre", msg.Number("x", load.LCG, msg.Exact), msg.Number("y", load.TCG,
			msg.Exact), msg.Number("z", load.VCG, msg.Exact))
	case q.volume > h.volume*loadShare:
		return q, q.refuse(ErrTooHeavy, "hull.sinks", msg.Number("displaced", h.volume*density, 0), msg.Number("excess",
			math.Ceil(load.Mass-float64(h.volume*density)), 0))
	case q.volume < h.volume*2*sliver:
		return q, q.refuse(ErrLoad, "hull.little-mass")
	}
	return q, nil
}

// refuse makes the error of a load that does not float.
func (q question) refuse(why error, code msg.Code, args ...msg.Arg) error {
	return &msg.Error{Cause: why, Message: msg.New("hull.refused", msg.Significant("kg", q.load.Mass, 6),
		msg.Choice("why", why.Error()), msg.Words("reason", msg.New(code, args...)))}
}

func (q question) under(b Freeboard) error {
	return q.refuse(ErrTooHeavy, "hull.sheer-under", msg.Number("depth", -b.Height, 3), msg.Number("x", b.X, 2),
		msg.Choice("side", string(b.Side)))
}

// tooFar is the error of a load that has no trim, from the attitude where the search ended.
func (q question) tooFar(a attitude) error {
	where := "forward"
	if a.slope > 0 {
		where = "aft"
	}
	if math.Abs(a.slope) < steepestSlope {
		return q.refuse(ErrNoBalance, "hull.unsettled")
	}
	return q.refuse(ErrNoBalance, "hull.no-trim", msg.Number("x", q.load.LCG, 2), msg.Choice("end", where))
}

// attitude is a position of the hull in the water with its sums.
type attitude struct {
	draft, slope, heel float64
	plane              plane
	sums
}

// gm is the transverse metacentric height where the centres are in one vertical. With trim the vertical is inclined to
// w.
func (a attitude) gm(q question) float64 {
	_, wg := a.plane.across(q.load.TCG, q.load.VCG)
	cos := math.Cos(math.Atan(a.slope))
	bm, _ := a.radii(cos)
	return bm + (a.mw/a.v-wg)/cos
}

// start guesses the draft from the even keel.
func (h *Hull) start(q question) attitude { return attitude{draft: h.guess.Predict(q.volume)} }

// floating describes an equilibrium, unless the sheer is under.
func (h *Hull) floating(q question, a attitude) (Floating, error) {
	f := Floating{Load: q.load, Density: q.density, Freeboard: h.lowestSheer(a), middle: h.middle, length: h.Length()}
	if f.Freeboard.Height <= 0 {
		return Floating{}, q.under(f.Freeboard)
	}
	f.Hydrostatics = Hydrostatics{Draft: a.draft, Trim: math.Atan(a.slope), Heel: a.heel}
	f.fill(h, a.sums, a.plane)
	f.extent(h, a.slope, a.plane)
	cos := math.Cos(f.Trim)
	_, wg := a.plane.across(q.load.TCG, q.load.VCG)
	above := (a.mw/a.v - wg) / cos
	f.GMt, f.GMl = f.BMt+above, f.BMl+above
	if !(f.GMt > 0) {
		return Floating{}, q.refuse(ErrUnstable, "hull.gm", msg.Number("gm", f.GMt, 3))
	}
	f.Drafts = Drafts{Aft: (a.draft + float64(a.slope*h.Length()/2)) / a.plane.cos,
		Fore: (a.draft - float64(a.slope*h.Length()/2)) / a.plane.cos}
	return f, nil
}

// lowestSheer finds the lowest point of the sheer: at a station, as the sheer is straight between them and the water
// plane.
func (h *Hull) lowestSheer(a attitude) Freeboard {
	low, cos := Freeboard{Height: math.Inf(1)}, math.Cos(math.Atan(a.slope))
	for i := range h.sections {
		s := &h.sections[i]
		z, y, side := last(s.z), last(s.y), Both
		if a.plane.sin > 0 {
			side = Starboard
		} else if a.plane.sin < 0 {
			side, y = Port, -y
		}
		_, w := a.plane.across(y, z)
		if up := (w - a.draft + float64(a.slope*s.along)) * cos; up < low.Height {
			low = Freeboard{up, h.middle + s.along, side}
		}
	}
	return low
}

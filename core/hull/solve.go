package hull

import "math"

// The searches below are written out because gonum has no root finder for systems of this size that does not allocate.

// Bounds of the searches. Residuals are shares of the volume, and of the volume times the length.
const (
	newtonSteps  = 20
	bracketSteps = 80
	residual     = 1e-11
	flat         = 1e-12 // an interval that is not narrowed further
)

// errors2 are how far an attitude is from displacing the volume and from balancing along the boat.
func (a attitude) errors2(q question) (volume, trim float64) {
	_, wg := a.plane.across(q.load.TCG, q.load.VCG)
	return (a.v - q.volume) / q.volume,
		(a.ma - float64(a.v*q.along) - float64(a.slope*(a.mw-float64(a.v*wg)))) / (q.volume * q.length)
}

// error3 is how far an attitude is from balancing across the boat.
func (a attitude) error3(q question) float64 {
	sg, _ := a.plane.across(q.load.TCG, q.load.VCG)
	return (a.ms - float64(a.v*sg)) / (q.volume * q.length)
}

// moved gives the hull at another attitude.
func (h *Hull) moved(draft, slope, heel float64, p plane) attitude {
	return attitude{draft, slope, heel, p, h.sums(draft, slope, p)}
}

// balance finds draft and trim at a heel, from a start. ok is false where no trim up to the steepest balances the load;
// the attitude is then that at the steepest trim.
func (h *Hull) balance(q question, p plane, start attitude) (attitude, bool) {
	a := h.moved(start.draft, start.slope, start.heel, p)
	span := h.top() - h.bottom()
	for range newtonSteps {
		f1, f2 := a.errors2(q)
		if math.Abs(f1) < residual && math.Abs(f2) < residual {
			return a, true
		}
		d, s, ok := a.step2(q, f1, f2)
		if !ok || math.Abs(a.slope+s) > steepestSlope {
			break
		}
		a = h.moved(a.draft+limit(d, span/4), a.slope+limit(s, 0.1), a.heel, p)
	}
	return h.bracketTrim(q, p, start.heel)
}

// step2 is Newton's step in draft and slope.
func (a attitude) step2(q question, f1, f2 float64) (draft, slope float64, ok bool) {
	j := a.jacobian(q)
	det := float64(j[0][0]*j[1][1]) - float64(j[0][1]*j[1][0])
	draft, slope = (float64(f2*j[0][1])-float64(f1*j[1][1]))/det, (float64(f1*j[1][0])-float64(f2*j[0][0]))/det
	return draft, slope, !math.IsNaN(draft+slope) && !math.IsInf(draft+slope, 0)
}

// jacobian has the derivatives of errors2 and error3 by draft, slope and heel. They follow from the waterplane: a layer
// at the waterline comes in or goes out where the plane moves; and by heel the coordinates turn (ds = w dφ, dw = -s
// dφ).
func (a attitude) jacobian(q question) [3][3]float64 {
	sg, wg := a.plane.across(q.load.TCG, q.load.VCG)
	v, vl := 1/q.volume, 1/(q.volume*q.length)
	// ∫w dA, ∫w·a dA over the waterplane
	wb, wba := float64(a.draft*a.a0)-float64(a.slope*a.a1), float64(a.draft*a.a1)-float64(a.slope*a.a2)
	ws := float64(a.draft*a.s1) - float64(a.slope*a.s11)
	return [3][3]float64{
		{a.a0 * v, -a.a1 * v, a.s1 * v},
		{
			(a.a1 - float64(a.a0*q.along) - float64(a.slope*(wb-float64(a.a0*wg)))) * vl,
			(-a.a2 + float64(a.a1*q.along) - (a.mw - float64(a.v*wg)) + float64(a.slope*(wba-float64(a.a1*wg)))) * vl,
			(a.s11 - float64(a.s1*q.along) - float64(a.slope*(ws-a.ms-float64(a.s1*wg)+float64(a.v*sg)))) * vl,
		},
		{
			(a.s1 - float64(a.a0*sg)) * vl,
			(-a.s11 + float64(a.a1*sg)) * vl,
			(a.s2 + a.mw - float64(a.s1*sg) - float64(a.v*wg)) * vl,
		},
	}
}

// limit keeps a step between -most and most.
func limit(step, most float64) float64 { return max(-most, min(most, step)) }

// bracketTrim searches the slope between the steepest trims, with the draft of the right volume at each.
func (h *Hull) bracketTrim(q question, p plane, heel float64) (attitude, bool) {
	at := func(slope float64) (attitude, float64) {
		a := h.moved(h.draftAt(q.volume, slope, p), slope, heel, p)
		_, f := a.errors2(q)
		return a, f
	}
	low, fl := at(-steepestSlope)
	high, fh := at(steepestSlope)
	if !(fl > 0 && fh < 0) { // buoyancy moves aft as the stern goes deeper
		if fl <= 0 {
			return low, false
		}
		return high, false
	}
	a := root(low.slope, high.slope, fl, fh, func(slope float64) float64 { _, f := at(slope); return f })
	found, f := at(a)
	f1, _ := found.errors2(q)
	return found, math.Abs(f) < 1e-9 && math.Abs(f1) < 1e-9
}

// draftAt finds the draft that displaces a volume at a slope and heel.
func (h *Hull) draftAt(volume, slope float64, p plane) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range h.sections {
		s := &h.sections[i]
		for _, pt := range s.loop {
			_, w := p.across(pt.y, pt.z)
			low, high = min(low, w+float64(slope*s.along)), max(high, w+float64(slope*s.along))
		}
	}
	f := func(draft float64) float64 { return h.sums(draft, slope, p).v - volume }
	return root(low, high, f(low), f(high), f)
}

// root finds where f is zero between low and high, at which it has the values given, of different signs: by regula
// falsi with the weight of an end halved that stays twice (the Illinois rule), and by bisection every fourth step. Of
// all places tried it gives the one where f is least.
func root(low, high, fl, fh float64, f func(float64) float64) float64 {
	return rootTo(low, high, fl, fh, 0, f)
}

// rootTo is root that is content with a value of f as small as enough.
func rootTo(low, high, fl, fh, enough float64, f func(float64) float64) float64 {
	best, least, side := low, math.Abs(fl), 0
	for i := range bracketSteps {
		x := (low + high) / 2
		if i%4 != 3 && fl != fh {
			if r := (float64(low*fh) - float64(high*fl)) / (fh - fl); r > low && r < high {
				x = r
			}
		}
		fx := f(x)
		if math.Abs(fx) <= least {
			best, least = x, math.Abs(fx)
		}
		if math.Abs(fx) <= enough || high-low <= flat*(1+math.Abs(low)+math.Abs(high)) {
			break
		}
		if (fx > 0) == (fl > 0) {
			low, fl = x, fx
			if side == -1 {
				fh /= 2
			}
			side = -1
		} else {
			high, fh = x, fx
			if side == 1 {
				fl /= 2
			}
			side = 1
		}
	}
	return best
}

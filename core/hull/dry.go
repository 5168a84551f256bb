package hull

import "math"

// MostDry is the greatest volume, m³, that the hull displaces upright with its sheer above water, at whatever trim,
// wherever the load is: no load that displaces more floats. It is a little too large, 1 % on a hull of usual form.
//
// Formula: the greatest over the slopes s of V(s), the volume below the highest plane of that slope that leaves the
// sheer dry at each station. From one slope to another V grows by no more than the change of slope times the length
// times the largest waterplane: the plane may be turned and lowered until it lies under the other. So slopes between
// two that were tried are bounded, and halved where the bound matters.
// Valid: trims up to 35°, as [Hull.Float]. Source: Lipschitz optimisation; a textbook method (Piyavskii 1972, Shubert
// 1972, from memory).
func (h *Hull) MostDry() float64 {
	const share, narrowest = 0.01, 1e-4
	plane := 0.0
	for i := range h.sections {
		widest := 0.0
		for _, y := range h.sections[i].y {
			widest = max(widest, y)
		}
		plane += float64(h.sections[i].weight * 2 * widest)
	}
	type part struct{ low, high float64 }
	best, most, list := 0.0, 0.0, []part{{-steepestSlope, steepestSlope}}
	for len(list) > 0 {
		p := list[len(list)-1]
		list = list[:len(list)-1]
		middle, half := (p.low+p.high)/2, (p.high-p.low)/2
		v := h.dry(middle)
		best = max(best, v)
		if bound := v + float64(half*h.Length()*plane); bound > best*(1+share) && half > narrowest {
			list = append(list, part{p.low, middle}, part{middle, p.high})
		} else {
			most = max(most, bound)
		}
	}
	return most
}

// dry is what is displaced at a slope with the sheer just dry.
func (h *Hull) dry(slope float64) float64 {
	draft := math.Inf(1)
	for i := range h.sections {
		s := &h.sections[i]
		draft = min(draft, last(s.z)+float64(slope*s.along))
	}
	return h.sums(draft, slope, level).v
}

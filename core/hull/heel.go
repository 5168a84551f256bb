package hull

import "math"

// How far apart the heels are at which the lever is looked at on the way from upright: closer where the metacentric
// height is so small against what heels the boat that the shape of the hull decides.
const (
	heelStep  = 2.5 * math.Pi / 180
	stiffStep = 5 * math.Pi / 180
	stiff     = 0.5 // largest TCG/GM of the wider steps
)

// heelOver finds the equilibrium of a load off the centre line: the first heel from upright to the side of the load at
// which the righting lever rises through zero. Newton's method may pass that one by and settle at another, where the
// deck is under; so what it finds is only taken where the lever heels the boat further everywhere on the way there.
func (h *Hull) heelOver(q question, upright attitude) (attitude, bool) {
	guess, found := h.newtonHeel(q, upright)
	if found && guess.heel*q.load.TCG > 0 && h.leansOn(q, upright, math.Abs(guess.heel)) {
		return guess, true
	}
	return h.bracketHeel(q, upright)
}

// leansOn says whether the lever heels the boat further at every heel looked at from upright to before reach. Each is
// estimated from one set of sums, set right by the linear terms for what draught and trim still lack; one that comes
// near zero counts as rising through it.
func (h *Hull) leansOn(q question, upright attitude, reach float64) bool {
	sign := math.Copysign(1, q.load.TCG)
	near := math.Abs(upright.error3(q)) / 20
	before, at, step := upright, upright, heelStep
	if math.Abs(q.load.TCG) < stiff*upright.gm(q) {
		step = stiffStep
	}
	for heel := step; heel < reach-step/10; heel += step {
		next := attitude{draft: 2*at.draft - before.draft, slope: 2*at.slope - before.slope, heel: sign * heel}
		next, lever, ok := h.leant(q, next)
		if !ok || sign*lever > -near && heel < reach-step {
			return false
		}
		before, at = at, next
	}
	return true
}

// leant is an attitude with draught and trim set right by one step of Newton's method at its heel, and about what
// error3 is there.
func (h *Hull) leant(q question, from attitude) (a attitude, lever float64, ok bool) {
	a = h.moved(from.draft, from.slope, from.heel, heeledBy(from.heel))
	f1, f2 := a.errors2(q)
	d, s, ok := a.step2(q, f1, f2)
	if !ok || math.Abs(a.slope+s) > steepestSlope {
		return a, 0, false
	}
	j := a.jacobian(q)
	lever = a.error3(q) + float64(j[2][0]*d) + float64(j[2][1]*s)
	a.draft, a.slope = a.draft+d, a.slope+s
	return a, lever, true
}

// bracketHeel steps over from upright to the first heel beyond which the boat rights itself.
func (h *Hull) bracketHeel(q question, upright attitude) (attitude, bool) {
	sign := math.Copysign(1, q.load.TCG)
	a, ok := upright, true
	at := func(heel float64) float64 {
		if a, ok = h.tilt(q, a, sign*heel); !ok {
			return 0
		}
		return sign * a.error3(q)
	}
	before := sign * upright.error3(q)
	for heel := heelStep; heel <= largestHeel; heel += heelStep {
		now := at(heel)
		if !ok {
			return a, false
		}
		if now >= 0 {
			at(root(heel-heelStep, heel, before, now, at))
			return a, ok && math.Abs(a.error3(q)) < 1e-9
		}
		before = now
	}
	return a, false
}

// newtonHeel goes from the heel of a wall-sided hull to an equilibrium near it.
func (h *Hull) newtonHeel(q question, upright attitude) (attitude, bool) {
	heel := limit(h.wallSidedHeel(q, upright), 0.5)
	a := h.moved(upright.draft*math.Cos(heel), upright.slope, heel, heeledBy(heel))
	span := h.top() - h.bottom()
	for range newtonSteps {
		f1, f2 := a.errors2(q)
		f3 := a.error3(q)
		if math.Abs(f1) < residual && math.Abs(f2) < residual && math.Abs(f3) < residual {
			return a, true
		}
		d, ok := solve3(a.jacobian(q), [3]float64{-f1, -f2, -f3})
		slope, heel := a.slope+limit(d[1], 0.1), a.heel+limit(d[2], 0.2)
		if !ok || math.Abs(slope) > steepestSlope || math.Abs(heel) > largestHeel {
			return a, false
		}
		a = h.moved(a.draft+limit(d[0], span/4), slope, heel, heeledBy(heel))
	}
	return a, false
}

// wallSidedHeel solves TCG = (GM + ½·BM·tan² φ)·tan φ, the balance of a wall-sided hull, by Newton's method from above.
func (h *Hull) wallSidedHeel(q question, upright attitude) float64 {
	gm, tcg := upright.gm(q), math.Abs(q.load.TCG)
	bm, _ := upright.radii(math.Cos(math.Atan(upright.slope)))
	t := min(tcg/gm, math.Cbrt(2*tcg/bm))
	for range 8 {
		t -= float64((float64(gm*t) + float64(bm*t*t*t/2) - tcg) / (gm + float64(1.5*bm*t*t)))
	}
	return math.Copysign(math.Atan(t), q.load.TCG)
}

// tilt balances the load at a heel, from a neighbouring attitude.
func (h *Hull) tilt(q question, from attitude, heel float64) (attitude, bool) {
	from.heel = heel
	return h.balance(q, heeledBy(heel), from)
}

// solve3 solves three linear equations by elimination with pivots.
func solve3(m [3][3]float64, r [3]float64) (x [3]float64, ok bool) {
	for c := range 3 {
		best := c
		for i := c + 1; i < 3; i++ {
			if math.Abs(m[i][c]) > math.Abs(m[best][c]) {
				best = i
			}
		}
		m[c], m[best] = m[best], m[c]
		r[c], r[best] = r[best], r[c]
		for i := c + 1; i < 3; i++ {
			k := m[i][c] / m[c][c]
			for j := c; j < 3; j++ {
				m[i][j] -= float64(k * m[c][j])
			}
			r[i] -= float64(k * r[c])
		}
	}
	for i := 2; i >= 0; i-- {
		x[i] = r[i]
		for j := i + 1; j < 3; j++ {
			x[i] -= float64(m[i][j] * x[j])
		}
		x[i] /= m[i][i]
	}
	sum := x[0] + x[1] + x[2]
	return x, !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

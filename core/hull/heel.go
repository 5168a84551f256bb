package hull

import "math"

// heelOver finds the equilibrium of a load off the centre line, from the one upright.
func (h *Hull) heelOver(q question, upright attitude) (attitude, bool) {
	heel := math.Atan(q.load.TCG / upright.gm(q))
	a := h.moved(upright.draft*math.Cos(heel), upright.slope, limit(heel, 0.5), heeledBy(limit(heel, 0.5)))
	span := h.top() - h.bottom()
	for range newtonSteps {
		f1, f2 := a.errors2(q)
		f3 := a.error3(q)
		if math.Abs(f1) < residual && math.Abs(f2) < residual && math.Abs(f3) < residual {
			return a, a.heel*q.load.TCG >= 0
		}
		d, ok := solve3(a.jacobian(q), [3]float64{-f1, -f2, -f3})
		slope, heel := a.slope+limit(d[1], 0.1), a.heel+limit(d[2], 0.2)
		if !ok || math.Abs(slope) > steepestSlope || math.Abs(heel) > largestHeel {
			break
		}
		a = h.moved(a.draft+limit(d[0], span/4), slope, heel, heeledBy(heel))
	}
	return h.bracketHeel(q, upright)
}

// bracketHeel steps over from upright to the first heel beyond which the boat rights itself.
func (h *Hull) bracketHeel(q question, upright attitude) (attitude, bool) {
	sign := math.Copysign(1, q.load.TCG)
	a, ok := upright, true
	at := func(heel float64) float64 {
		if a, ok = h.tilt(q, a, heel); !ok {
			return 0
		}
		return sign * a.error3(q)
	}
	const step = math.Pi / 180
	before := sign * upright.error3(q)
	for heel := step; heel <= largestHeel; heel += step {
		now := at(sign * heel)
		if !ok {
			return a, false
		}
		if now >= 0 {
			at(sign * root(heel-step, heel, before, now, func(x float64) float64 { return at(sign * x) }))
			return a, ok && math.Abs(a.error3(q)) < 1e-9
		}
		before = now
	}
	return a, false
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
				m[i][j] -= k * m[c][j]
			}
			r[i] -= k * r[c]
		}
	}
	for i := 2; i >= 0; i-- {
		x[i] = r[i]
		for j := i + 1; j < 3; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
	}
	sum := x[0] + x[1] + x[2]
	return x, !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

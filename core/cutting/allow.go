package cutting

import "math"

// notchLength is how far a match mark goes into a piece without an allowance, mm. Source: common practice, no source.
const notchLength = 5

// widened is the contour of the cut: each edge at its allowance outside, with match marks from the one to the other.
func (c Contour) widened() (out, notches Contour, err error) {
	left, low, right, high := c.Box()
	begins := make([]int, len(c)+1) // by edge: where it begins in out
	ends := make([]int, len(c))     // by vertex: the first of its places in out, at which the edge before it ends
	for i, v := range c {
		if narrow := min(right-left, high-low); v.Allowance > narrow {
			return nil, nil, fault(v.point, "give a narrower one", "an allowance of %.1f mm is wider than the piece, "+
				"%.1f mm", v.Allowance, narrow)
		}
		if v.Bulge < 0 {
			if _, _, r, _, _ := c.arc(i); r <= v.Allowance {
				return nil, nil, fault(v.point, "give a larger radius or a narrower allowance",
					"an allowance of %.1f mm does not fit into a hollow with a radius of %.1f mm", v.Allowance, r)
			}
		}
		ends[i] = len(out)
		if out, err = c.corner(out, i); err != nil {
			return nil, nil, err
		}
		begins[i] = len(out) - 1
		if v.Notch {
			notches = append(notches, v, c.notch(i, out[ends[i]], out[begins[i]]))
		}
	}
	// an edge that came out the other way round has been eaten up by its neighbours
	for i, v := range c {
		a, b, w := out[begins[i]], out[ends[(i+1)%len(c)]], c.next(i)
		if float64((b.X-a.X)*(w.X-v.X))+float64((b.Y-a.Y)*(w.Y-v.Y)) <= 0 {
			return nil, nil, c.tooWide(v.point)
		}
	}
	if at := out.crossing(); at >= 0 {
		return nil, nil, c.tooWide(at)
	}
	return out, notches, nil
}

func (c Contour) tooWide(point int) error {
	return fault(point, "give a narrower allowance, or a wider hollow",
		"the allowances of the edges about this corner run into each other")
}

// corner adds the corner of the cut outside of vertex i. With a and b, the ends of the edges beside it moved outward,
// it is one point, two, or three where the edges are extended.
func (c Contour) corner(out Contour, i int) (Contour, error) {
	v, before := c[i], c[(i+len(c)-1)%len(c)]
	t, u, sin, cos := c.turn(i)
	a, b := v, v
	a.X, a.Y, a.Bulge, a.Notch = v.X+float64(t.Y*before.Allowance), v.Y-float64(t.X*before.Allowance), 0, false
	b.X, b.Y, b.Notch = v.X+float64(u.Y*v.Allowance), v.Y-float64(u.X*v.Allowance), false
	if a.apartFrom(b) < near {
		return append(out, b), nil
	}
	// the corner of the extensions lies so far ahead of a, and so far behind b
	ahead, behind := (v.Allowance-float64(before.Allowance*cos))/sin, (before.Allowance-float64(v.Allowance*cos))/sin
	straight := before.Bulge == 0 && v.Bulge == 0
	m := a
	m.X, m.Y = a.X+float64(t.X*ahead), a.Y+float64(t.Y*ahead)
	even := math.Abs(before.Allowance-v.Allowance) < near
	// also far where the edges run on and nothing meets
	far := !(m.apartFrom(v) <= 2*max(before.Allowance, v.Allowance))
	switch {
	case sin < 0 && cos < 1-1e-9 && !straight:
		return nil, fault(v.point, "draw the arc by points, or give both edges no allowance",
			"an arc with an allowance meets an inner corner")
	case straight && (!far || sin < 0 && even):
		return append(out, m), nil
	case !far && ahead >= 0 && behind >= 0:
		if before.Bulge != 0 {
			out = append(out, a)
		}
		if out = append(out, m); v.Bulge != 0 {
			out = append(out, b)
		}
		return out, nil
	case even && sin > 0: // nothing of an arc is further from the corner than the allowance
		a.Bulge = math.Tan(math.Atan2(sin, cos) / 4)
	}
	return append(out, a, b), nil
}

// notch is where the match mark of vertex i ends, on the cut between the ends of its edges there.
func (c Contour) notch(i int, a, b Vertex) Vertex {
	v := c[i]
	m := Vertex{X: float64((a.X + b.X) / 2), Y: float64((a.Y + b.Y) / 2)}
	if m.apartFrom(v) < near {
		t, u, _, _ := c.turn(i)
		x, y := -t.Y-u.Y, t.X+u.X // into the piece
		d := max(math.Hypot(x, y), 1e-9)
		m.X, m.Y = v.X+float64(x/d*notchLength), v.Y+float64(y/d*notchLength)
	}
	return m
}

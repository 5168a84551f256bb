package hull

import "math"

// point is a point of a section: y to starboard, z up, m.
type point struct{ y, z float64 }

// section is a station prepared for cutting.
type section struct {
	along   float64 // x from midlength, m
	weight  float64 // in an integral along the length, m
	z, y    []float64
	area    []float64 // of both sides up to each height, m²
	moment  []float64 // of that area about the base line, m³
	girth   []float64 // of both sides up to each height, m
	loop    []point   // starboard from keel to sheer, port from sheer to keel: anticlockwise seen from aft
	lengths []float64 // of the shell from the point before to this one; the deck has none
}

// cut is what a section has below a waterline. s runs along the waterline to starboard, w square to it upward, both
// from the base line at the centre line.
type cut struct {
	area, ms, mw float64 // the area and its moments: ∫s dA, ∫w dA
	b, b1, b2    float64 // of the waterline's chord: its length, ∫s ds, ∫s² ds
	girth        float64
}

func newSection(st Station) section {
	n := len(st.Z)
	s := section{z: st.Z, y: st.Y, area: make([]float64, n), moment: make([]float64, n), girth: make([]float64, n)}
	s.girth[0] = 2 * st.Y[0]
	for k := 1; k < n; k++ {
		dz := s.z[k] - s.z[k-1]
		s.area[k] = s.area[k-1] + float64((s.y[k-1]+s.y[k])*dz)
		s.moment[k] = s.moment[k-1] + layerMoment(s.z[k-1], dz, s.y[k-1], s.y[k])
		s.girth[k] = s.girth[k-1] + 2*math.Hypot(s.y[k]-s.y[k-1], dz)
	}
	for k := range n {
		s.loop = append(s.loop, point{s.y[k], s.z[k]})
	}
	for k := n - 1; k >= 0; k-- {
		s.loop = append(s.loop, point{-s.y[k], s.z[k]})
	}
	for i, p := range s.loop {
		before := s.loop[(i+2*n-1)%(2*n)]
		s.lengths = append(s.lengths, math.Hypot(p.y-before.y, p.z-before.z))
	}
	s.lengths[n] = 0
	return s
}

// layerMoment is the moment about the base line of both sides of a layer from height z, dz high, with half-breadths a
// below and c above.
func layerMoment(z, dz, a, c float64) float64 { return float64(z*(a+c)*dz) + dz*dz*(a+float64(2*c))/3 }

// level cuts the section at height v with a waterline that is not heeled, from the tables.
func (s *section) level(v float64) cut {
	n := len(s.z)
	if v < s.z[0] {
		return cut{}
	}
	if v >= s.z[n-1] {
		return cut{area: s.area[n-1], mw: s.moment[n-1], girth: s.girth[n-1]}
	}
	k := n - 2
	for s.z[k] > v {
		k--
	}
	dz := v - s.z[k]
	r := dz / (s.z[k+1] - s.z[k])
	y := s.y[k] + float64((s.y[k+1]-s.y[k])*r)
	return cut{
		area: s.area[k] + float64((s.y[k]+y)*dz), mw: s.moment[k] + layerMoment(s.z[k], dz, s.y[k], y),
		b: 2 * y, b2: 2 * y * y * y / 3, girth: s.girth[k] + float64((s.girth[k+1]-s.girth[k])*r),
	}
}

// heeled cuts the section with the waterline at distance v from the base line at the centre line, at the heel whose
// cosine and sine are given.
//
// By Green's theorem along the edges below the waterline: area = -∮w' ds, ∫w' dA = -½∮w'² ds, ∫s dA = -∮s·w' ds, with
// w' = w - v. The waterline itself adds nothing to any of them, as w' is zero there.
func (s *section) heeled(v, cos, sin float64) cut {
	var k cut
	before := s.loop[len(s.loop)-1]
	ps, pw := float64(before.y*cos)+float64(before.z*sin), float64(before.z*cos)-float64(before.y*sin)-v
	for i, p := range s.loop {
		cs, cw := float64(p.y*cos)+float64(p.z*sin), float64(p.z*cos)-float64(p.y*sin)-v
		switch {
		case pw <= 0 && cw <= 0:
			k.edge(ps, pw, cs, cw)
			k.girth += s.lengths[i]
		case pw <= 0:
			r := pw / (pw - cw)
			x := ps + float64((cs-ps)*r)
			k.edge(ps, pw, x, 0)
			k.girth += float64(s.lengths[i] * r)
			k.chord(x, 1)
		case cw <= 0:
			r := pw / (pw - cw)
			x := ps + float64((cs-ps)*r)
			k.edge(x, 0, cs, cw)
			k.girth += float64(s.lengths[i] * (1 - r))
			k.chord(x, -1)
		}
		ps, pw = cs, cw
	}
	k.area, k.ms, k.mw = k.area/2, k.ms/6, k.mw/6
	k.mw += float64(v * k.area)
	return k
}

// edge adds the part of the boundary from (as, aw) to (bs, bw): to twice the area and to six times the moments.
func (k *cut) edge(as, aw, bs, bw float64) {
	ds, w := bs-as, aw+bw
	k.area -= float64(ds * w)
	k.mw -= float64(ds * (float64(w*w) - float64(aw*bw)))
	k.ms -= float64(ds * (float64((as+bs)*w) + float64(as*aw) + float64(bs*bw)))
}

// chord adds an end of the waterline at s: sign 1 where the boundary leaves the water, -1 where it enters.
func (k *cut) chord(s, sign float64) {
	k.b += float64(sign * s)
	k.b1 += float64(sign * s * s / 2)
	k.b2 += sign * s * s * s / 3
}

// lowest is the smallest w of the section: on the side that it is heeled to.
func (s *section) lowest(p plane) float64 {
	if p == level {
		return s.z[0]
	}
	low, sin := math.Inf(1), math.Abs(p.sin)
	for k, z := range s.z {
		if w := float64(z*p.cos) - float64(s.y[k]*sin); w < low {
			low = w
		}
	}
	return low
}

package hull

import "math"

// plane is the heel at which sections are cut.
type plane struct{ cos, sin float64 }

// level is a waterline that is not heeled: sections are cut from their tables.
var level = plane{1, 0}

func heeledBy(heel float64) plane {
	if heel == 0 {
		return level
	}
	sin, cos := math.Sincos(heel)
	return plane{cos, sin}
}

// across gives the coordinates of a point of the boat along the heeled waterline and square to it.
func (p plane) across(y, z float64) (s, w float64) {
	return float64(y*p.cos) + float64(z*p.sin), float64(z*p.cos) - float64(y*p.sin)
}

// back gives y and z again.
func (p plane) back(s, w float64) (y, z float64) {
	return float64(s*p.cos) - float64(w*p.sin), float64(s*p.sin) + float64(w*p.cos)
}

func (s *section) cut(v float64, p plane) cut {
	if p == level {
		return s.level(v)
	}
	return s.heeled(v, p.cos, p.sin)
}

// sums are integrals over the hull below a water plane. a is x from midlength; s and w are those of [cut].
type sums struct {
	v, ma, ms, mw float64 // volume and its moments ∫a dV, ∫s dV, ∫w dV
	a0, a1, a2    float64 // of the waterplane as projected along the boat: ∫dA, ∫a dA, ∫a² dA
	s1, s11, s2   float64 // of the same: ∫s dA, ∫s·a dA, ∫s² dA
	girth         float64 // wetted shell by girths
}

// sums integrates below the water plane that stands at the draft at midlength and rises aft by slope, the tangent of
// the trim: at a the waterline is at w = draft - slope·a.
func (h *Hull) sums(draft, slope float64, p plane) sums {
	var t sums
	for i := range h.sections {
		s := &h.sections[i]
		k := s.cut(draft-float64(slope*s.along), p)
		wa := s.weight * s.along
		t.v += float64(s.weight * k.area)
		t.ma += float64(wa * k.area)
		t.ms += float64(s.weight * k.ms)
		t.mw += float64(s.weight * k.mw)
		t.a0 += float64(s.weight * k.b)
		t.a1 += float64(wa * k.b)
		t.a2 += float64(wa * s.along * k.b)
		t.s1 += float64(s.weight * k.b1)
		t.s11 += float64(wa * k.b1)
		t.s2 += float64(s.weight * k.b2)
		t.girth += float64(s.weight * k.girth)
	}
	return t
}

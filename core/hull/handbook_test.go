package hull

import "math"

// Formulas of the handbooks, which hold for boxes, wall-sided boats and small angles. The program computes a boat from
// its offsets and needs none of them; the tests hold that against these, and these against printed examples.

// MetacentricHeight is GM = KB + BM - KG, m.
//
// Valid: small heel.
// Source: Barrass & Derrett.
func MetacentricHeight(kb, bm, kg float64) float64 { return kb + bm - kg }

// BoxBM is the metacentric radius of a box barge, m: B²/(12·d), with the beam B and the draft d in m.
//
// Valid: boxes on an even keel.
// Source: Barrass & Derrett.
func BoxBM(beam, draft float64) float64 { return ratio(beam*beam, 12*draft) }

// BoxLeastKM is the least height of a box's metacentre above its keel, m; it occurs at a draft of the same size: B/√6.
//
// Valid: boxes.
// Source: Barrass & Derrett, p. 111.
func BoxLeastKM(beam float64) float64 { return beam / math.Sqrt(6) }

// MorrishKB estimates the height of the centre of buoyancy above the keel, m: T·(5/6 - Cb/(3·Cwp)), with the draft T in
// m.
//
// Valid: normal forms; exact for boxes and wedges.
// Source: Morrish's formula, textbooks.
func MorrishKB(draft, cb, cwp float64) float64 {
	if !(cwp > 0) {
		return 0
	}
	return draft * (5.0/6 - cb/(3*cwp))
}

// WaterplaneInertia estimates the second moment of a waterplane about its centre line, m⁴: C·L·B³/12, C = 0.096 +
// 0.89·Cwp².
//
// Valid: normal forms; 1.4 % below a rectangle's.
// Source: a public ship-design worked example, read at second hand.
func WaterplaneInertia(length, beam, cwp float64) float64 {
	return (0.096 + 0.89*cwp*cwp) * length * beam * beam * beam / 12
}

// HeelByShift is the heel, rad, after a mass w (kg) is moved d (m) across a boat of mass W (kg): tan φ = w·d/(W·GM).
//
// Valid: GM above zero; up to about 10 to 12°. ok is false where GM or W is not above zero.
// Source: Barrass & Derrett, ch. 14.
func HeelByShift(mass, gm, moved, distance float64) (heel float64, ok bool) {
	if !(gm > 0) || !(mass > 0) {
		return 0, false
	}
	return math.Atan(moved * distance / (mass * gm)), true
}

// HeelAtZeroGM is the heel, rad, after a mass w (kg) is moved d (m) across a wall-sided boat of mass W (kg) whose GM is
// zero: tan³ φ = 2·w·d/(W·BM).
//
// Valid: wall-sided boats, until the deck edge or the bilge; BM above zero. ok is false where BM or W is not.
// Source: Barrass & Derrett.
func HeelAtZeroGM(mass, bm, moved, distance float64) (heel float64, ok bool) {
	if !(bm > 0) || !(mass > 0) {
		return 0, false
	}
	return math.Atan(math.Cbrt(2 * moved * distance / (mass * bm))), true
}

// SmallAngleGZ is the righting lever, m: GM·sin φ.
//
// Valid: up to about 10°.
// Source: Barrass & Derrett; Nicholls.
func SmallAngleGZ(gm, heel float64) float64 { return gm * math.Sin(heel) }

// WallSidedGZ is the righting lever, m: (GM + ½·BM·tan² φ)·sin φ.
//
// Valid: sides vertical at the waterline, until the deck edge or the bilge; about 25°.
// Source: Barrass & Derrett, p. 130.
func WallSidedGZ(gm, bm, heel float64) float64 {
	tan := math.Tan(heel)
	return (gm + bm*tan*tan/2) * math.Sin(heel)
}

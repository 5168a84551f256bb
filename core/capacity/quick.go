package capacity

import "math"

// Marks are the numbers that a boat's sums come to, without their words.
type Marks struct {
	WeightLB  int     // maximum weight capacity, as marked
	PersonsLB int     // persons capacity, as marked
	Persons   int     // provisional under 550 lb without a list test
	FoamL     float64 // litres of foam to provide
}

// Quick gives the numbers of [MaximumWeight], [PersonsCapacity] without a list test, and [Flotation] without air
// chambers, for judging many boats at once. submergedKG is Σ(Wi·Ki) + 0.75·M + Σ(Bj·kj) of [Flotation], in kg. ok is
// false where the sums leave nothing to mark or carry nobody.
//
// Valid: covered boats, masses from 0 to 50 t. Source: as the three functions; a test compares.
func Quick(w Weights, r Reading, submergedKG float64, foam FoamKind, basis Basis) (m Marks, ok bool) {
	w1, w2 := WeightFormulas(Kilograms(w.DisplacementKG).LB, Kilograms(w.boat(r)).LB, Kilograms(w.machinery()).LB)
	lb := math.Max(w1, w2)
	if !(lb >= 1 && lb < mostKG/PoundKG) || w.DisplacementKG <= w.all() {
		return Marks{}, false
	}
	m.WeightLB = down(settled(lb))
	m.PersonsLB = m.WeightLB
	if m.Persons = int(math.Floor((float64(m.PersonsLB)+personsAdd)/personsUnit + 0.5)); m.Persons < 1 {
		return Marks{}, false
	}
	load := float64(personsShare*float64(m.PersonsLB)) + float64(deadShare*float64(m.WeightLB-m.PersonsLB))
	if basis == HandbookLoad {
		load = handbookShare * float64(m.WeightLB)
	}
	net := NetBuoyancy(WaterKGM3, foam.DensityKGM3, foam.Moisture)
	m.FoamL = math.Ceil(float64(max(0, submergedKG+float64(load*PoundKG))/net*1000) - 1e-3)
	return m, true
}

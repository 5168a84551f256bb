package plan

import "math"

// ThreePoint is an estimate by three hours: if all goes well, as it mostly goes, if all goes badly. PERT stands for
// program evaluation and review technique.
type ThreePoint struct{ Low, Likely, High float64 }

// Mean is the mean of an estimate.
//
//	Formula: (a + 4 m + b) / 6
//	Valid:   a <= m <= b
//	Source:  D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Application of a technique for research and
//	         development program evaluation, Operations Research 7 (1959), 646-669; F. S. Hillier, G. J. Lieberman,
//	         Introduction to Operations Research
func (p ThreePoint) Mean() float64 { return (p.Low + float64(4*p.Likely) + p.High) / 6 }

// Variance is the variance that textbooks take.
//
//	Formula: ((b - a) / 6)²
//	Valid:   a <= m <= b
//	Source:  as for [ThreePoint.Mean]
func (p ThreePoint) Variance() float64 {
	sd := (p.High - p.Low) / 6
	return float64(sd * sd)
}

// BetaVariance is the variance of the beta distribution by which [Simulate] draws: that with the mean of
// [ThreePoint.Mean] whose two parameters add up to 6. It is the textbook's for a likely value at 0.15 or 0.85 of the
// range, up to 9/7 of it for one in the middle, 5/7 at an end.
//
//	Formula: (mean - a) (b - mean) / 7
//	Valid:   a <= m <= b
//	Source:  variance of the beta distribution, p q / ((p + q)² (p + q + 1)), with p + q = 6, on a range of b - a
func (p ThreePoint) BetaVariance() float64 {
	mean := p.Mean()
	return float64((mean-p.Low)*(p.High-mean)) / 7
}

// Chain is the mean and the variance of activities one after the other, each independent of the others: the sums.
func Chain(list []ThreePoint) (mean, variance float64) {
	for _, p := range list {
		mean += p.Mean()
		variance += p.Variance()
	}
	return mean, variance
}

// Within is the probability that a chain is done in some time: that of a normal distribution, to which sums of many
// activities tend. Where a second path is nearly as long it is too good; [Simulate] knows all paths.
//
//	Formula: Phi((x - mean) / sd)
//	Valid:   independent activities, one path that is much the longest; 1 or 0 where nothing varies
//	Source:  Malcolm and others 1959; W. J. Stevenson, Operations Management
func Within(mean, variance, x float64) float64 {
	if variance <= 0 {
		if x < mean {
			return 0
		}
		return 1
	}
	return math.Erfc((mean-x)/math.Sqrt(float64(2*variance))) / 2
}

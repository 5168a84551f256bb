package actuals

import "math"

// model is a linear mixed model: each row is the sum of a few effects, each times a share, and of chance. Effects stand
// in blocks; those of a block are drawn from a distribution about zero whose variance the rows tell. It is a normal
// one, or a t distribution where most effects are near zero and few are far away: a normal one would draw those in.
//
// Formula: (X'WX/s² + D) u = X'Wy/s², where D has the inverse of each effect's variance on its diagonal; the inverse of
// the matrix is the covariance of the effects. A t distribution is a normal one whose variance is divided by a weight
// of each effect, (v + 1) / (v + square of the effect by the variance), with v degrees of freedom.
// Valid: many rows by kind of block; variances are taken as known when intervals are made.
// Source: Henderson's mixed model equations, see the package; variances by restricted maximum likelihood with the fixed
// point of D. A. Harville, Journal of the American Statistical Association 72 (1977), 320-338; the t distribution as a
// mixture as in Bayesian Data Analysis, chapter 17; from memory.
type model struct {
	rows   []row
	blocks []block
	within float64 // variance of chance, of a row of weight 1

	mean       []float64
	covariance [][]float64
	weights    []float64 // of the effects, which divide the variance of their block
}

// row is an observation.
type row struct {
	y      float64
	weight float64
	terms  []term
}

// term is a share of the effect in a column.
type term struct {
	column int
	share  float64
}

// block is the columns of effects of one kind. A flat one is estimated freely, as a general mean is.
type block struct {
	first, count int
	variance     float64
	flat         bool
	tails        float64 // degrees of freedom of a t distribution; 0 for a normal one
	least        float64 // variance that it has whatever the rows tell
}

const (
	// least variance of a block: a tenth of a per cent, which nobody could see
	leastVariance = 1e-6
	mostRounds    = 200
	settledAt     = 1e-5 // relative change of a variance
)

// size is how many columns there are.
func (m *model) size() (n int) {
	for _, b := range m.blocks {
		n += b.count
	}
	return n
}

// estimate finds the variances that explain the rows best, and the effects with them.
//
// Formula: variance of a block = sum of its squared effects by the number of effects that the rows determine, which is
// their count less the trace of their covariance by the variance, all with their weights; of chance: squared residuals
// by the rows less all numbers of effects so determined.
func (m *model) estimate() {
	products, right := m.products()
	m.weights = make([]float64, len(right))
	for i := range m.weights {
		m.weights[i] = 1
	}
	// the fixed point is reached from any start; where a kind has no bias its variance goes down to the least one
	for range mostRounds {
		m.solve(products, right)
		change, determined := 0.0, 0.0
		for i := range m.blocks {
			b := &m.blocks[i]
			if b.flat {
				determined += float64(b.count)
				continue
			}
			squares, own := 0.0, 0.0
			for c := b.first; c < b.first+b.count; c++ {
				square := float64(m.mean[c] * m.mean[c])
				squares += float64(m.weights[c] * square)
				own += 1 - float64(m.weights[c]*m.covariance[c][c]/b.variance)
				if b.tails > 0 {
					m.weights[c] = (b.tails + 1) / (b.tails + (square+m.covariance[c][c])/b.variance)
				}
			}
			determined += own
			v := max(leastVariance, b.least)
			if own > 0 {
				v = max(v, squares/own)
			}
			change = max(change, math.Abs(v-b.variance)/b.variance)
			b.variance = v
		}
		left := 0.0
		for i := range m.rows {
			e := m.residual(i)
			left += float64(float64(m.rows[i].weight*e) * e)
		}
		v := max(leastVariance, left/max(1, float64(len(m.rows))-determined))
		change = max(change, math.Abs(v-m.within)/m.within)
		if m.within = v; change < settledAt {
			break
		}
	}
	m.solve(products, right)
}

// products are X'WX and X'Wy.
func (m *model) products() (products [][]float64, right []float64) {
	n := m.size()
	products, right = square(n), make([]float64, n)
	for i := range m.rows {
		r := &m.rows[i]
		for _, a := range r.terms {
			weighted := float64(r.weight * a.share)
			right[a.column] += float64(weighted * r.y)
			for _, b := range r.terms {
				products[a.column][b.column] += float64(weighted * b.share)
			}
		}
	}
	return products, right
}

func square(n int) [][]float64 {
	m, all := make([][]float64, n), make([]float64, n*n)
	for i := range m {
		m[i] = all[i*n : (i+1)*n]
	}
	return m
}

// solve finds the effects for the variances as they are.
func (m *model) solve(products [][]float64, right []float64) {
	// some hundred columns: dense is quicker to read, and quick enough
	n := len(right)
	a := square(n)
	for i := range a {
		for j := range a[i] {
			a[i][j] = products[i][j] / m.within
		}
	}
	for _, b := range m.blocks {
		if b.flat {
			continue
		}
		for c := b.first; c < b.first+b.count; c++ {
			a[c][c] += m.weights[c] / b.variance
		}
	}
	m.covariance = inverse(a)
	m.mean = make([]float64, n)
	for i := range m.mean {
		for j, v := range right {
			m.mean[i] += float64(m.covariance[i][j] * v / m.within)
		}
	}
}

// inverse is that of a symmetric positive definite matrix, by its Cholesky factor; it takes the matrix's place.
//
// Source: Golub and Van Loan, Matrix Computations, from memory.
func inverse(a [][]float64) [][]float64 {
	n := len(a)
	for j := range n {
		for i := j; i < n; i++ {
			sum := a[i][j]
			for k := range j {
				sum -= float64(a[i][k] * a[j][k])
			}
			if i == j {
				a[j][j] = math.Sqrt(sum)
			} else {
				a[i][j] = sum / a[j][j]
			}
		}
	}
	// the factor's inverse, by columns; kept as rows of its transpose, so that memory is read in order
	t := square(n)
	for j := range n {
		t[j][j] = 1 / a[j][j]
		for i := j + 1; i < n; i++ {
			sum := 0.0
			for k := j; k < i; k++ {
				sum -= float64(a[i][k] * t[j][k])
			}
			t[j][i] = sum / a[i][i]
		}
	}
	for i := range n {
		for j := i; j < n; j++ {
			sum := 0.0
			for k := j; k < n; k++ {
				sum += float64(t[i][k] * t[j][k])
			}
			a[i][j], a[j][i] = sum, sum
		}
	}
	return a
}

// residual is what of a row the effects leave unexplained.
func (m *model) residual(i int) float64 {
	e := m.rows[i].y
	for _, t := range m.rows[i].terms {
		e -= float64(t.share * m.mean[t.column])
	}
	return e
}

// at is the mean and standard deviation of a sum of effects.
func (m *model) at(terms []term) (mean, sd float64) {
	variance := 0.0
	for _, a := range terms {
		mean += float64(a.share * m.mean[a.column])
		for _, b := range terms {
			variance += float64(float64(a.share*b.share) * m.covariance[a.column][b.column])
		}
	}
	return mean, math.Sqrt(max(0, variance))
}

package actuals

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// near says whether a figure is as a source prints it.
func near(got, want, digits float64) bool {
	return math.Abs(got-want) <= 0.5*math.Pow(10, -digits)+1e-9
}

// schools are the eight schools with their standard errors, and the spread of the true effects as stated.
//
// Source: D. B. Rubin, Journal of Educational Statistics 6 (1981), 377-401, as in Bayesian Data Analysis, table 5.2,
// from memory.
func schools(tau float64) *model {
	y := []float64{28, 8, -3, 7, -1, 1, 18, 12}
	sigma := []float64{15, 10, 16, 11, 9, 11, 10, 18}
	m := &model{within: 1, blocks: []block{{first: 0, count: 1, flat: true}, {first: 1, count: 8, variance: tau * tau}}}
	for j := range y {
		m.rows = append(m.rows, row{y[j], 1 / (sigma[j] * sigma[j]), []term{{0, 1}, {1 + j, 1}}})
	}
	products, right := m.products()
	m.weights = []float64{1, 1, 1, 1, 1, 1, 1, 1, 1}
	m.solve(products, right)
	return m
}

// With no spread the schools have one effect: 7.7 with a standard error of 4.1, as the book prints on its page of the
// pooled estimate, from memory. With a stated spread each has what equations 5.17 and 5.20 of the book give.
func TestEightSchools(t *testing.T) {
	if mean, sd := schools(1e-4).at([]term{{0, 1}, {1, 1}}); !near(mean, 7.7, 1) || !near(sd, 4.1, 1) {
		t.Errorf("pooled: %v ± %v, want 7.7 ± 4.1", mean, sd)
	}
	const tau = 10.0
	m := schools(tau)
	var top, all float64
	for _, r := range m.rows {
		w := 1 / (1/r.weight + tau*tau)
		top, all = top+w*r.y, all+w
	}
	mu := top / all
	for j, r := range m.rows {
		v := 1 / (r.weight + 1/(tau*tau))
		pull := v / (tau * tau)
		want, sd := v*(r.weight*r.y+mu/(tau*tau)), math.Sqrt(v+pull*pull/all)
		if mean, got := m.at([]term{{0, 1}, {1 + j, 1}}); math.Abs(mean-want) > 1e-6 || math.Abs(got-sd) > 1e-6 {
			t.Errorf("school %d: %v ± %v, want %v ± %v", j, mean, got, want, sd)
		}
	}
}

// The yield of dyestuff, in grams, of five samples of each of six batches: variances by restricted maximum likelihood
// of 1764 between batches and 2451 within, and a mean of 1527.5.
//
// Source: O. L. Davies and P. L. Goldsmith, Statistical Methods in Research and Production (1972), as worked in the
// literature of mixed models; data and result from memory, and the result again by analysis of variance: between =
// (mean square between - mean square within) / 5.
func TestDyestuff(t *testing.T) {
	yield := [][]float64{{1545, 1440, 1440, 1520, 1580}, {1540, 1555, 1490, 1560, 1495}, {1595, 1550, 1605, 1510, 1560},
		{1445, 1440, 1595, 1465, 1545}, {1595, 1630, 1515, 1635, 1625}, {1520, 1455, 1450, 1480, 1445}}
	m := &model{within: 100, blocks: []block{{first: 0, count: 1, flat: true}, {first: 1, count: 6, variance: 100}}}
	for b, list := range yield {
		for _, y := range list {
			m.rows = append(m.rows, row{y, 1, []term{{0, 1}, {1 + b, 1}}})
		}
	}
	m.estimate()
	if mean, _ := m.at([]term{{0, 1}}); !near(m.blocks[1].variance, 1764, 0) || !near(m.within, 2451, 0) ||
		!near(mean, 1527.5, 1) {
		t.Errorf("between %v, within %v, mean %v", m.blocks[1].variance, m.within, mean)
	}
}

// The inverse of a matrix times the matrix is one.
func TestPropertyInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		root, a, b := square(n), square(n), square(n)
		for i := range n {
			for j := range n {
				root[i][j] = float64(rapid.IntRange(-9, 9).Draw(t, "v")) / 4
			}
		}
		for i := range n {
			for j := range n {
				if i == j {
					a[i][j] = 1
				}
				for k := range n {
					a[i][j] += root[i][k] * root[j][k]
				}
				b[i][j] = a[i][j]
			}
		}
		inv := inverse(b)
		for i := range n {
			for j := range n {
				sum, want := 0.0, 0.0
				for k := range n {
					sum += a[i][k] * inv[k][j]
				}
				if i == j {
					want = 1
				}
				if math.Abs(sum-want) > 1e-8 {
					t.Fatalf("%d,%d: %v", i, j, sum)
				}
			}
		}
	})
}

// A spread of PERT that was made for a deviation has about that deviation, and the likely hours lie in it.
func TestSpreadOfDeviation(t *testing.T) {
	for _, s := range []float64{0.03, 0.1, 0.2, 0.35} {
		p := pertOf(s)
		if got := spreadOf(p); p.Low > 1 || p.High < 1 || p.Low <= 0 || math.Abs(got-s) > 0.15*s {
			t.Errorf("%v: %+v spreads by %v", s, p, got)
		}
	}
}

func TestTimes(t *testing.T) {
	for _, c := range []struct {
		text   string
		factor float64
		want   string
	}{
		{"3", 1.18, "3.54"}, {"7.5", 0.9, "6.75"}, {"10", 1.1, "11"}, {"0.4", 1.06, "0.424"},
		{"1.5 + 1.7 * hull.shell_m2", 1.18, "(1.5 + 1.7 * hull.shell_m2) * 1.18"},
		{"(1.5 + hull.beam_m) * 1.18", 0.9, "(1.5 + hull.beam_m) * 1.06"},
		{"(1 + hull.beam_m) * 1.25", 0.8, "1 + hull.beam_m"},
		{"(1 + hull.beam_m) * (2 + hull.beam_m) * 3", 1.1, "((1 + hull.beam_m) * (2 + hull.beam_m) * 3) * 1.1"},
		{"(1 + hull.beam_m) * hull.beam_m", 1.1, "((1 + hull.beam_m) * hull.beam_m) * 1.1"},
	} {
		if got := times(c.text, c.factor); got != c.want {
			t.Errorf("%s by %v: %s, want %s", c.text, c.factor, got, c.want)
		}
	}
}

package sat_test

import (
	"fmt"
	"testing"
	"time"

	"ribband/core/fit/sat"
)

func BenchmarkThreeSAT(b *testing.B) {
	for _, n := range []int{100, 150, 200} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var all []sat.Formula
			for seed := range uint64(10) {
				all = append(all, threeSAT(seed, n))
			}
			b.ResetTimer()
			for b.Loop() {
				conflicts := int64(0)
				for _, f := range all {
					s := plain(b, f)
					s.Solve()
					conflicts += s.Stats().Conflicts
				}
				b.ReportMetric(float64(conflicts)/float64(len(all)), "conflicts/formula")
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(all)), "µs/formula")
		})
	}
}

func plain(b *testing.B, f sat.Formula) *sat.Solver {
	s := sat.New(f.Variables)
	if err := s.AddFormula(f); err != nil {
		b.Fatal(err)
	}
	return s
}

// All core and dead variables of a feature model: two questions for each variable.
func BenchmarkCoreAndDead(b *testing.B) {
	for _, name := range featureModels {
		b.Run(name, func(b *testing.B) {
			m := readModel(b, name)
			for b.Loop() {
				coreAndDead(plain(b, m.formula), m.formula.Variables)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*2*m.formula.Variables), "µs/question")
		})
	}
}

// The time of this package over that of another program for the same formulas (ratio). The programs start anew for each
// formula; about 2 ms of their time is that.
func BenchmarkThreeSATAgainstPeers(b *testing.B) {
	for _, p := range peers {
		for _, n := range []int{150, 200} {
			b.Run(fmt.Sprintf("%s/%d", p.name, n), func(b *testing.B) {
				var all []sat.Formula
				for seed := range uint64(10) {
					all = append(all, threeSAT(seed, n))
				}
				ratio(b,
					func() {
						for _, f := range all {
							plain(b, f).Solve()
						}
					},
					func() {
						for _, f := range all {
							peerSays(b, p.name, p.args, f)
						}
					})
			})
		}
	}
}

// All core and dead variables: two questions for each variable here, one cautious and one brave enumeration by clasp.
func BenchmarkCoreAndDeadAgainstClasp(b *testing.B) {
	for _, name := range featureModels {
		b.Run(name, func(b *testing.B) {
			m := readModel(b, name)
			ratio(b,
				func() { coreAndDead(plain(b, m.formula), m.formula.Variables) },
				func() {
					consequences(b, m.formula, "cautious")
					consequences(b, m.formula, "brave")
				})
		})
	}
}

// The least of random weights over all variables of a feature model.
func BenchmarkMinimise(b *testing.B) {
	for _, name := range featureModels {
		b.Run(name, func(b *testing.B) {
			m := readModel(b, name)
			lits, weights := randomWeights(0, m.formula.Variables)
			for b.Loop() {
				if best, err := plain(b, m.formula).Minimise(lits, weights); err != nil || best.Status != sat.Sat {
					b.Fatal(best.Status, err)
				}
			}
		})
	}
}

func ratio(b *testing.B, us, them func()) {
	var ours, theirs time.Duration
	for b.Loop() {
		start := time.Now()
		us()
		half := time.Now()
		them()
		ours += half.Sub(start)
		theirs += time.Since(half)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "ratio")
	b.ReportMetric(float64(ours.Milliseconds())/float64(b.N), "our-ms/op")
}

package count_test

import (
	"fmt"
	"testing"

	"ribband/core/fit/count"
)

func BenchmarkFeatureModels(b *testing.B) {
	for _, name := range models {
		b.Run(name, func(b *testing.B) {
			f, _ := model(b, name)
			b.Run("count", func(b *testing.B) { counts(b, f) })
			b.Run("marginals", func(b *testing.B) {
				for b.Loop() {
					if _, err := f.Marginals(count.Limits{}); err != nil {
						b.Fatal(err)
					}
				}
			})
			b.Run("diagram", func(b *testing.B) {
				needsDiagram(b, name)
				for b.Loop() {
					if _, err := diagram(f); err != nil {
						b.Fatal(err)
					}
				}
			})
		})
	}
}

// Groups as they are, against a clause for each pair.
func BenchmarkPriceBook(b *testing.B) {
	for _, rules := range []int{40, 80, 160} {
		f := priceBook(1, rules, 2)
		b.Run(fmt.Sprintf("rules-%d/groups", rules), func(b *testing.B) { counts(b, f) })
		b.Run(fmt.Sprintf("rules-%d/pairs", rules), func(b *testing.B) { counts(b, pairwise(f)) })
	}
}

func counts(b *testing.B, f count.Formula) {
	for b.Loop() {
		if _, err := f.Count(count.Limits{}); err != nil {
			b.Fatal(err)
		}
	}
	decisions, cached, err := count.Effort(f, count.Limits{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(decisions), "decisions")
	b.ReportMetric(float64(cached)/1024, "cache-KiB")
}

package brief_test

import (
	"testing"

	"ribband/core/brief"
)

// briefs are whole questions: one with boats, and one without, which looks for what has to give way.
var briefs = []struct {
	name  string
	brief brief.Brief
}{
	{"boats", wishes("persons", 6, "range", 25, "speed", 5.0, "weather", true)},
	{"none", wishes("persons", 6, "range", 25, "speed", 5.0, "weather", true, "water", "salt", "night", 10, "inlet",
		true, "bridge", 2.2, "trailer", 1200, "price", "60000")},
}

// BenchmarkBrief answers whole briefs over the demo book.
func BenchmarkBrief(b *testing.B) {
	for _, c := range briefs {
		b.Run(c.name, func(b *testing.B) {
			e, judged := buyer(), 0
			for b.Loop() {
				judged = find(b, e, c.brief).Checked
			}
			b.ReportMetric(float64(judged), "boats")
		})
	}
}

package clauses_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/fit/clauses"
)

// BenchmarkCompile writes the rules of the demo book for one hull.
func BenchmarkCompile(b *testing.B) {
	z := demo()
	for b.Loop() {
		f := clauses.Compile(z.pack, z.figures, 0, z.standardUse()).Formula()
		b.ReportMetric(float64(f.Variables), "variables")
		b.ReportMetric(float64(len(f.Clauses)), "clauses")
	}
}

// BenchmarkComplete is one random wish on the demo book on which package fit found and proved nothing with few tries:
// asked of it with many, and of clauses; with what share of the wishes each proved optimal or infeasible. Compile
// is in the time of clauses.
func BenchmarkComplete(b *testing.B) {
	z := demo()
	many := func(w wish) fit.Status { return z.fit.Complete(w.hull, w.use, w.choices, 3000).Status }
	byClauses := func(w wish) fit.Status {
		got, err := clauses.Compile(z.pack, z.figures, w.hull, w.use).Complete(asked(w.choices), clauses.DefaultLimits)
		if err != nil {
			b.Fatal(err)
		}
		return statusOf(got)
	}
	for _, settled := range []int{6, 20, 40} {
		wishes := slices.DeleteFunc(z.wishes(300, settled), func(w wish) bool {
			return z.fit.Complete(w.hull, w.use, w.choices, fit.DefaultTries).Status != fit.Unknown
		})
		for _, way := range []struct {
			name     string
			complete func(w wish) fit.Status
		}{{"many tries", many}, {"clauses", byClauses}} {
			b.Run(fmt.Sprintf("%d settled/%s", settled, way.name), func(b *testing.B) {
				statuses := map[fit.Status]float64{}
				n := 0
				for ; b.Loop(); n++ {
					statuses[way.complete(wishes[n%len(wishes)])]++
				}
				b.ReportMetric(100*(statuses[fit.Optimal]+statuses[fit.Infeasible])/float64(n), "%proved")
				b.ReportMetric(100*statuses[fit.Unknown]/float64(n), "%unknown")
				b.ReportMetric(float64(len(wishes)), "wishes")
			})
		}
	}
}

// wish is what is asked of both.
type wish struct {
	hull    int
	use     []float64
	choices fit.Choices
}

// wishes are random: a use, and up to so many slots settled by what is made for the hull and does not at once break a
// rule over options.
func (z *puzzle) wishes(n, settled int) (list []wish) {
	r := rand.New(rand.NewPCG(6, uint64(settled)))
	for len(list) < n {
		w := wish{hull: r.IntN(len(z.pack.Hulls)), use: z.standardUse(), choices: z.fit.NewChoices()}
		for i, u := range z.pack.Use {
			switch {
			case r.IntN(3) > 0:
			case len(u.Choices) > 0:
				w.use[i] = float64(r.IntN(len(u.Choices)))
			default:
				w.use[i] = u.Value(r.IntN(1 + u.StepOf(u.Max)))
			}
		}
		for range r.IntN(settled + 1) {
			s := r.IntN(len(z.pack.Slots))
			def := &z.pack.Slots[s]
			o := def.First + r.IntN(def.End-def.First)
			if z.pack.Made(o, w.hull) {
				next := w.choices.Clone()
				next.Settled[s] = true
				for o := def.First; o < def.End; o++ {
					next.Counts[o] = 0
				}
				next.Counts[o] = 1
				if b := z.fit.Complete(w.hull, w.use, next, 40); b.Status != fit.Infeasible {
					w.choices = next
				}
			}
		}
		list = append(list, w)
	}
	return list
}

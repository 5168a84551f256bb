package clauses_test

import (
	"math/rand/v2"
	"testing"

	"ribband/core/fit"
	"ribband/core/fit/clauses"
)

// BenchmarkComplete is one random wish on the demo book, completed by package fit with few and with many tries, and by clauses; with what share of the
// wishes each proved nearest or impossible. Compile is in the time of clauses.
func BenchmarkComplete(b *testing.B) {
	z := demo()
	for _, settled := range []int{6, 20, 40} {
		for _, way := range []struct {
			name     string
			complete func(w wish) fit.Outcome
		}{
			{"fit few", func(w wish) fit.Outcome { return z.fit.Complete(w.hull, w.use, w.choices, fit.DefaultTries).Outcome }},
			{"fit many", func(w wish) fit.Outcome { return z.fit.Complete(w.hull, w.use, w.choices, fit.DeepTries).Outcome }},
			{"clauses", func(w wish) fit.Outcome {
				got, err := clauses.Compile(z.pack, z.figures, w.hull, w.use).Complete(w.choices, clauses.DefaultLimits)
				if err != nil {
					b.Fatal(err)
				}
				return got.Outcome
			}},
		} {
			b.Run(way.name+"/settled "+string(rune('0'+settled/10))+string(rune('0'+settled%10)), func(b *testing.B) {
				wishes, proved, none := z.wishes(100, settled), 0, 0
				for i := range b.N {
					switch way.complete(wishes[i%len(wishes)]) {
					case fit.Nearest, fit.Hopeless:
						proved++
					case fit.NoneFound:
						none++
					}
				}
				b.ReportMetric(100*float64(proved)/float64(b.N), "%proved")
				b.ReportMetric(100*float64(none)/float64(b.N), "%none")
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

// wishes are random: a use, and up to so many slots settled by what is made for the hull and does not at once break a rule over options.
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
				if b := z.fit.Complete(w.hull, w.use, next, 40); b.Outcome != fit.Hopeless {
					w.choices = next
				}
			}
		}
		list = append(list, w)
	}
	return list
}

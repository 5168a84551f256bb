package quote_test

import (
	"fmt"
	"os"
	"sync"
	"testing"

	"ribband/core/book/source"
	"ribband/core/book/synthetic"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/quote"
)

// sizes are how many times the options of the demo book the grown books have.
var sizes = []int{1, 30}

// grown is the buyer's engine of a book of so many times the demo's options, which core/book/synthetic invents and checks.
var grown = func() func(times int) *quote.Engine {
	engines := map[int]*quote.Engine{}
	var once sync.Mutex
	return func(times int) *quote.Engine {
		once.Lock()
		defer once.Unlock()
		if engines[times] == nil {
			engines[times] = grow(times)
		}
		return engines[times]
	}
}()

func grow(times int) *quote.Engine {
	b, problems, err := source.Read(os.DirFS(demoBook))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	if b, err = synthetic.Grow(b, times, 7); err != nil {
		panic(err)
	}
	yard, problems := publish.Compile(b)
	if len(problems) == 0 {
		problems = publish.Tabulate(yard)
	}
	if len(problems) > 0 {
		panic(fmt.Sprint(problems[0]))
	}
	e, err := quote.Compile(publish.For(yard, pack.Buyer))
	if err != nil {
		panic(err)
	}
	return e
}

// BenchmarkGrowth works out verdicts and net effects of all options, and one answer, on books of 1, 10 and 100 times the options of the demo.
func BenchmarkGrowth(b *testing.B) {
	const hull = 2
	for _, times := range sizes {
		e := grown(times)
		a, err := e.AnswerStandard(hull, "")
		if err != nil {
			b.Fatal(err)
		}
		options := float64(len(e.Pack.Options))
		b.Run(fmt.Sprintf("nets/%d", times), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				options, empty := e.Fit.Verdicts(a.Build)
				e.Nets(a, options, empty)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/options, "µs/option")
		})
		b.Run(fmt.Sprintf("answer/%d", times), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := e.Answer(a.Spec); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/options, "µs/option")
		})
	}
}

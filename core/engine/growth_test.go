package engine_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"sync"
	"testing"
	"time"

	"ribband/core/book/source"
	"ribband/core/book/synthetic"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/publish"
)

// sizes are how many times the options of the demo book the grown books have.
var sizes = []int{1, 10, 100}

// grown is the buyer's engine of a book of so many times the demo's options, which core/book/synthetic invents and
// checks.
var grown = func() func(times int) *engine.Engine {
	engines := map[int]*engine.Engine{}
	var once sync.Mutex
	return func(times int) *engine.Engine {
		once.Lock()
		defer once.Unlock()
		if engines[times] == nil {
			engines[times] = grow(times)
		}
		return engines[times]
	}
}()

func grow(times int) *engine.Engine {
	b, problems, err := source.Read(os.DirFS(enginetest.DemoBook))
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
	e, err := engine.Compile(publish.For(yard, pack.Buyer))
	if err != nil {
		panic(err)
	}
	return e
}

// growthOf is what is measured on a grown book: one answer, or verdicts and effects of all options.
var growthOf = map[string]func(e *engine.Engine, a *engine.Answer) error{
	"answer": func(e *engine.Engine, a *engine.Answer) error {
		_, err := e.Answer(a.Spec)
		return err
	},
	"effects": func(e *engine.Engine, a *engine.Answer) error {
		allAlternatives(e, a)
		return nil
	},
}

// standardOf is a grown book with the standard build of its third hull.
func standardOf(t testing.TB, times int) (*engine.Engine, *engine.Answer) {
	e := grown(times)
	a, err := e.AnswerStandard(2, "")
	if err != nil {
		t.Fatal(err)
	}
	return e, a
}

// BenchmarkGrowth answers the standard build, and works out verdicts and effects of all options, on books of 1, 10
// and 100 times the options of the demo.
func BenchmarkGrowth(b *testing.B) {
	for _, times := range sizes {
		b.Run(fmt.Sprint(times), func(b *testing.B) {
			e, a := standardOf(b, times)
			for _, what := range []string{"answer", "effects"} {
				b.Run(what, func(b *testing.B) {
					b.ReportAllocs()
					for b.Loop() {
						if err := growthOf[what](e, a); err != nil {
							b.Fatal(err)
						}
					}
					b.ReportMetric(float64(b.Elapsed().Nanoseconds())/1000/float64(b.N)/float64(len(e.Pack.Options)),
						"µs/option")
				})
			}
		})
	}
}

var drawGrowth = flag.Bool("growth", false, "measure growth, and draw testdata/pictures/growth.svg")

// TestGrowthPicture draws, where asked for, the quickest rounds of what BenchmarkGrowth measures.
func TestGrowthPicture(t *testing.T) {
	if !*drawGrowth {
		t.Skip("-growth draws it, in minutes")
	}
	g := enginetest.Growth{Unit: "Milliseconds, natively", Least: -2, Most: 4, Series: []enginetest.Series{
		{Title: "verdicts and effects of all options", Colour: "#1b5e8c"}, {Title: "one answer", Colour: "#a8501f"}}}
	for _, times := range sizes {
		e, a := standardOf(t, times)
		g.Options = append(g.Options, float64(len(e.Pack.Options)))
		for i, what := range []string{"effects", "answer"} {
			ms := quickest(t, func() error { return growthOf[what](e, a) })
			t.Logf("%d options: %s %.3g ms", len(e.Pack.Options), what, ms)
			g.Series[i].Times = append(g.Series[i].Times, ms)
		}
	}
	if err := os.WriteFile("../../testdata/pictures/growth.svg", []byte(g.SVG()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// quickest is the least time of some rounds, ms: what else the machine does makes none quicker.
func quickest(t *testing.T, do func() error) float64 {
	least := math.Inf(1)
	for i, begin := 0, time.Now(); i < 6 || time.Since(begin) < 3*time.Second; i++ {
		start := time.Now()
		if err := do(); err != nil {
			t.Fatal(err)
		}
		least = min(least, float64(time.Since(start).Nanoseconds())/1e6)
	}
	return least
}

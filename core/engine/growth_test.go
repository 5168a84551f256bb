package engine_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
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
	var points []growthPoint
	for _, times := range sizes {
		e, a := standardOf(t, times)
		p := growthPoint{options: float64(len(e.Pack.Options))}
		for what, to := range map[string]*float64{"answer": &p.answer, "effects": &p.effects} {
			*to = quickest(t, func() error { return growthOf[what](e, a) })
		}
		t.Logf("%g options: answer %.3g ms, effects %.3g ms", p.options, p.answer, p.effects)
		points = append(points, p)
	}
	if err := os.WriteFile("../../testdata/pictures/growth.svg", []byte(growthPicture(points)), 0o644); err != nil {
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

// growthPoint is what one book took, ms.
type growthPoint struct{ options, answer, effects float64 }

// growthPicture plots points over logarithmic axes, with a line of linear growth through the first of the effects.
func growthPicture(points []growthPoint) string {
	const left, right, top, bottom = 70.0, 600.0, 40.0, 360.0
	x := func(options float64) float64 { return left + (right-left)*(math.Log10(options)-2)/3 }
	y := func(ms float64) float64 { return bottom - (bottom-top)*(math.Log10(ms)+2)/6 }
	var s strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&s, format+"\n", args...) }
	say(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 430" font-family="sans-serif" font-size="13">`)
	say(`<title>Time over the number of options</title><rect width="640" height="430" fill="white"/>`)
	say(`<text x="10" y="20">Milliseconds, natively</text><text x="%g" y="400" text-anchor="end">Options of the book</text>`, right)
	for _, v := range []float64{100, 1000, 10000, 100000} {
		say(`<path d="M%.1f %g V%g" stroke="#ccd"/><text x="%.1f" y="%g" text-anchor="middle">%g</text>`, x(v), top,
			bottom, x(v), bottom+18, v)
	}
	for e := -2; e <= 4; e++ {
		v := math.Pow10(e)
		say(`<path d="M%g %.1f H%g" stroke="#ccd"/><text x="%g" y="%.1f" text-anchor="end">%g</text>`, left, y(v),
			right, left-6, y(v)+4, v)
	}
	first, last := points[0], points[len(points)-1]
	linear := func(ms float64) float64 { return ms * last.options / first.options }
	say(`<path d="M%.1f %.1f L%.1f %.1f" stroke="#888" stroke-dasharray="5 4"/>`, x(first.options), y(first.effects),
		x(last.options), y(linear(first.effects)))
	series := func(colour, title string, at int, ms func(growthPoint) float64) {
		var path []string
		for _, p := range points {
			path = append(path, fmt.Sprintf("%.1f %.1f", x(p.options), y(ms(p))))
			say(`<circle cx="%.1f" cy="%.1f" r="4.5" fill="%s"/><text x="%.1f" y="%.1f" text-anchor="end">%.3g</text>`,
				x(p.options), y(ms(p)), colour, x(p.options)-9, y(ms(p))-6, ms(p))
		}
		say(`<path d="M%s" fill="none" stroke="%s" stroke-width="2"/>`, strings.Join(path, " L"), colour)
		say(`<path d="M90 %d h24" stroke="%s" stroke-width="2"/><text x="120" y="%d">%s</text>`, at, colour, at+4,
			title)
	}
	series("#1b5e8c", "verdicts and effects of all options", 56, func(p growthPoint) float64 { return p.effects })
	series("#a8501f", "one answer", 76, func(p growthPoint) float64 { return p.answer })
	say(`<path d="M90 96 h24" stroke="#888" stroke-dasharray="5 4"/><text x="120" y="100">linear growth</text>`)
	say(`</svg>`)
	return s.String()
}

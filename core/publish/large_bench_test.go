package publish_test

import (
	"flag"
	"fmt"
	"testing"

	"ribband/core/book"
	"ribband/core/book/synthetic"
	"ribband/core/brief"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

var largest = flag.Bool("largest", false, "check and prove the book of 100 times the demo, too, which takes hours")

// BenchmarkLarge does what an owner, a page and a buyer do with a book, on books of 1, 10 and 100 times the options of
// the demo (core/book/synthetic): checks it, compiles it and lists its prices, writes the buyer's pack, gives the first
// answer of a page, changes a choice, answers a brief, and proves it.
func BenchmarkLarge(b *testing.B) {
	for _, times := range []int{1, 10, 100} {
		b.Run(fmt.Sprint(times), func(b *testing.B) { large(b, times) })
	}
}

func large(b *testing.B, times int) {
	grown, err := synthetic.Grow(readDemo(b), times, 7)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("check", func(b *testing.B) {
		if times > 10 && !*largest {
			b.Skip("-largest checks it")
		}
		for b.Loop() {
			_, _, made := publish.Make(grown)
			if found := book.Errors(append(grown.Validate(), made...)); len(found) > 0 {
				b.Fatal(reported(found))
			}
		}
	})
	var yard *pack.Pack
	b.Run("compile", func(b *testing.B) {
		for b.Loop() {
			var found []book.Diagnostic
			yard, found = publish.Compile(grown)
			if found = book.Errors(append(found, publish.Tabulate(yard)...)); len(found) > 0 {
				b.Fatal(reported(found))
			}
		}
		b.ReportMetric(float64(len(yard.Options)), "options")
	})
	var text []byte
	b.Run("publish", func(b *testing.B) {
		for b.Loop() {
			if text, err = publish.For(yard, pack.Buyer).Encode(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(len(text)), "bytes")
	})
	var e *engine.Engine
	var a *engine.Answer
	b.Run("first-answer", func(b *testing.B) {
		for b.Loop() {
			p, err := pack.Decode(text)
			if err != nil {
				b.Fatal(err)
			}
			e = compiled(b, p)
			if a, err = e.AnswerStandard(2, ""); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("click", func(b *testing.B) {
		clicks(b, e, a)
	})
	b.Run("brief", func(b *testing.B) {
		asked := brief.Brief{Format: brief.Format, Wishes: map[string]brief.Value{"persons": {Number: 6},
			"range": {Number: 25}, "speed": {Number: 5}, "weather": {Yes: true}}}
		for b.Loop() {
			if _, err := brief.Find(e, asked); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("proof", func(b *testing.B) {
		if times > 10 && !*largest {
			b.Skip("-largest proves it")
		}
		e := compiled(b, yard)
		for b.Loop() {
			if _, err := proof.Prove(e, proof.How{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// clicks chooses every option that the boat can have, one after the other, each in the boat as it was.
func clicks(b *testing.B, e *engine.Engine, a *engine.Answer) {
	var open []string
	for i := range e.Pack.Options {
		if e.Pack.Offered(i, a.Hull) && a.Build.State.Counts[i] == 0 {
			open = append(open, e.Pack.Options[i].ID)
		}
	}
	next := 0
	for b.Loop() {
		if _, _, err := e.Apply(a, engine.Choose{Option: open[next%len(open)], Count: 1}); err != nil {
			b.Fatal(err)
		}
		next++
	}
}

package engine_test

import (
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

// BenchmarkAnswer answers the standard build and the fullest spec of each hull, on the buyer's desk, on the yard's with
// its tables, and on the yard's computing every price.
func BenchmarkAnswer(b *testing.B) {
	engines := map[string]*engine.Engine{"buyer": enginetest.Demo()[pack.Buyer], "yard": enginetest.Demo()[pack.Yard],
		"computing": enginetest.Computing()}
	specs := enginetest.DemoSpecs(b)
	for _, name := range []string{"buyer", "yard", "computing"} {
		e := engines[name]
		for _, hull := range e.Pack.Hulls {
			full := specs[hull.ID+"-fullest"]
			if full.Hull != hull.ID {
				b.Fatalf("%s has no fullest spec", hull.ID)
			}
			for kind, s := range map[string]spec.Spec{"standard": {Format: spec.Format, Hull: hull.ID}, "full": full} {
				b.Run(strings.Join([]string{name, hull.ID, kind}, "/"), func(b *testing.B) {
					b.ReportAllocs()
					for b.Loop() {
						if _, err := e.Answer(s); err != nil {
							b.Fatal(err)
						}
					}
				})
			}
		}
	}
}

func BenchmarkDraft(b *testing.B) {
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(b, e, enginetest.DemoSpecs(b)["osier-76-fullest"])
	b.ReportAllocs()
	for b.Loop() {
		quote.Draft(e, a).Encode()
	}
}

func BenchmarkYardSheet(b *testing.B) {
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(b, e, enginetest.DemoSpecs(b)["osier-76-fullest"])
	b.ReportAllocs()
	for b.Loop() {
		sheet.ForYard(e, a, quote.Details{})
	}
}

func BenchmarkCompile(b *testing.B) {
	for _, desk := range []pack.Desk{pack.Buyer, pack.Yard} {
		b.Run(string(desk), func(b *testing.B) {
			p := enginetest.Demo()[desk].Pack
			b.ReportAllocs()
			for b.Loop() {
				if _, err := engine.Compile(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

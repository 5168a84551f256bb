package quote_test

import (
	"strings"
	"testing"

	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// BenchmarkAnswer answers the standard build and the fullest spec of each hull, on the buyer's desk, on the yard's with
// its tables, and on the yard's computing every price.
func BenchmarkAnswer(b *testing.B) {
	engines := map[string]*quote.Engine{"buyer": demo()[pack.Buyer], "yard": demo()[pack.Yard],
		"computing": computing()}
	specs := demoSpecs(b)
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
	e := demo()[pack.Yard]
	a := answer(b, e, demoSpecs(b)["osier-76-fullest"])
	b.ReportAllocs()
	for b.Loop() {
		e.Draft(a).Encode()
	}
}

func BenchmarkYardSheet(b *testing.B) {
	e := demo()[pack.Yard]
	a := answer(b, e, demoSpecs(b)["osier-76-fullest"])
	b.ReportAllocs()
	for b.Loop() {
		e.YardSheet(a)
	}
}

func BenchmarkCompile(b *testing.B) {
	for _, desk := range []pack.Desk{pack.Buyer, pack.Yard} {
		b.Run(string(desk), func(b *testing.B) {
			p := demo()[desk].Pack
			b.ReportAllocs()
			for b.Loop() {
				if _, err := quote.Compile(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

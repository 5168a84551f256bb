package quote_test

import (
	"flag"
	"iter"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/quote"
	"ribband/core/quote/sample"
	"ribband/core/spec"
)

var boats = flag.Int("boats", 20, "how many random boats to look at")

// manyBoats are the demo specs by name, and random boats of all hulls by their specs.
func manyBoats(t testing.TB, e *quote.Engine, seed uint64) iter.Seq2[string, spec.Spec] {
	specs := demoSpecs(t)
	return func(yield func(string, spec.Spec) bool) {
		for _, name := range slices.Sorted(maps.Keys(specs)) {
			if !yield(name, specs[name]) {
				return
			}
		}
		for s := range sample.Boats(e, *boats, rand.New(rand.NewPCG(seed, 8))) {
			if !yield(string(s.Encode()), s) {
				return
			}
		}
	}
}

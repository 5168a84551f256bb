package enginetest

import (
	"flag"
	"iter"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/sample"
	"ribband/core/spec"
)

// Boats is the flag for how many random boats are looked at. The default keeps the gate short; whoever changed rules of
// completion or price asks for some thousands once.
var Boats = flag.Int("boats", 20, "how many random boats to look at")

// ManyBoats are the demo specs by name, and random boats of all hulls by their specs. The same seed gives the same
// boats: a test that fails names its boat by a spec that can be answered again. The demo specs come first, so that a
// fault shows on a boat with a name if it can.
func ManyBoats(t testing.TB, e *engine.Engine, seed uint64) iter.Seq2[string, spec.Spec] {
	specs := DemoSpecs(t)
	return func(yield func(string, spec.Spec) bool) {
		for _, name := range slices.Sorted(maps.Keys(specs)) {
			if !yield(name, specs[name]) {
				return
			}
		}
		for s := range sample.Boats(e, *Boats, rand.New(rand.NewPCG(seed, 8))) {
			if !yield(string(s.Encode()), s) {
				return
			}
		}
	}
}

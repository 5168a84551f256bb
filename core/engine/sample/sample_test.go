package sample_test

import (
	"flag"
	"math/rand/v2"
	"os"
	"slices"
	"sync"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/sample"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/spec"
)

var boats = flag.Int("boats", 80, "how many random boats to look at")

var demo = sync.OnceValue(func() map[pack.Desk]*engine.Engine {
	packs, _, problems, err := publish.Load(os.DirFS("../../../rules"))
	if err != nil || len(problems) > 0 {
		panic(append([]any{err}, problems))
	}
	engines := map[pack.Desk]*engine.Engine{}
	for desk, p := range packs {
		if engines[desk], err = engine.Compile(p); err != nil {
			panic(err)
		}
	}
	return engines
})

// Each boat can be built, and is the same on every desk.
func TestBoatsCanBeBuilt(t *testing.T) {
	engines := demo()
	hulls := map[string]int{}
	for s := range sample.Boats(engines[pack.Yard], *boats, rand.New(rand.NewPCG(1, 2))) {
		hulls[s.Hull]++
		var counts []int
		for _, desk := range pack.Desks {
			a, err := engines[desk].Answer(s)
			if err != nil || len(a.Notes) > 0 || len(a.Build.Clashes) > 0 {
				t.Fatalf("%s: %v, notes %v, clashes %v in %s", desk, err, a.Notes, a.Build.Clashes, s.Encode())
			}
			if counts == nil {
				counts = a.Build.State.Counts
			}
			if !slices.Equal(counts, a.Build.State.Counts) {
				t.Fatalf("%s has another boat of %s", desk, s.Encode())
			}
		}
	}
	for _, h := range engines[pack.Yard].Pack.Hulls {
		if got := hulls[h.ID]; got != *boats/4 && got != *boats/4+1 {
			t.Errorf("%d of %d boats are on the hull %s", got, *boats, h.ID)
		}
	}
}

// The same numbers give the same boats; others, others. Boats differ from the standard build by little and by much.
func TestBoatsAreManyAndTheSame(t *testing.T) {
	e := demo()[pack.Yard]
	list := func(seed uint64) (specs []string) {
		for s := range sample.Boats(e, 12, rand.New(rand.NewPCG(seed, 0))) {
			specs = append(specs, string(s.Encode()))
		}
		return specs
	}
	first := list(1)
	if !slices.Equal(first, list(1)) || slices.Equal(first, list(2)) {
		t.Error("boats do not follow from the numbers")
	}
	if slices.Sort(first); len(slices.Compact(first)) != 12 {
		t.Error("one boat came twice")
	}
}

// Most options of the book stand in some boat of a few hundred.
func TestBoatsUseTheBook(t *testing.T) {
	e := demo()[pack.Yard]
	seen := make([]bool, len(e.Pack.Options))
	for s := range sample.Boats(e, 4*(*boats), rand.New(rand.NewPCG(3, 4))) {
		mark(e, s, seen)
	}
	var missing []string
	for o, ok := range seen {
		if !ok {
			missing = append(missing, e.Pack.Options[o].ID)
		}
	}
	if most := len(seen) / 20; len(missing) > most {
		t.Errorf("%d options stand in no boat: %q", len(missing), missing)
	}
}

func mark(e *engine.Engine, s spec.Spec, seen []bool) {
	for o := range seen {
		if s.Choices[e.Pack.Slots[e.Pack.Options[o].Slot].ID][e.Pack.Options[o].ID] > 0 {
			seen[o] = true
		}
	}
}

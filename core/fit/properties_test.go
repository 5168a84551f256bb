package fit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/fit"
	"ribband/core/formula"
)

// anyUse draws a use that the demo book allows.
func (d demoBoats) anyUse(t *rapid.T) []float64 {
	use := d.use()
	for i, u := range d.pack.Use {
		if rapid.Bool().Draw(t, "other "+u.ID) {
			use[i] = u.Value(rapid.IntRange(0, u.Steps()-1).Draw(t, u.ID))
		}
	}
	return use
}

// anyChoices settles up to most slots, mostly with what is made for the hull.
func (d demoBoats) anyChoices(t *rapid.T, hull, most int) fit.Choices {
	c := d.fit.NewChoices()
	for range rapid.IntRange(0, most).Draw(t, "settled") {
		slot := &d.pack.Slots[rapid.IntRange(0, len(d.pack.Slots)-1).Draw(t, "slot")]
		anyHull := rapid.IntRange(0, 19).Draw(t, "any hull") == 0
		c.Settled[d.pack.Options[slot.First].Slot] = true
		for o := slot.First; o < slot.End; o++ {
			c.Counts[o] = 0
		}
		options := 1
		if slot.Multiple {
			options = 3
		}
		for range rapid.IntRange(0, options).Draw(t, "options") {
			o := rapid.IntRange(slot.First, slot.End-1).Draw(t, "option")
			if anyHull || d.pack.Made(o, hull) {
				c.Counts[o] = rapid.IntRange(1, d.pack.Options[o].Most).Draw(t, "count")
			}
		}
	}
	return c
}

func (d demoBoats) anyBoat(t *rapid.T, most int) *fit.Build {
	hull := rapid.IntRange(0, len(d.pack.Hulls)-1).Draw(t, "hull")
	return d.fit.Complete(hull, d.anyUse(t), d.anyChoices(t, hull, most), fit.DefaultTries)
}

// What Complete reports is what is wrong with the boat, no more and no less, judged anew from the texts of the book.
func TestPropertyClashesAreThoseOfTheReference(t *testing.T) {
	d, r := demo(), demoReference()
	sound, clashing := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := d.anyBoat(t, 8)
		if err := r.verify(b); err != nil {
			t.Fatalf("hull %d, %s: %v", b.State.HullID, contents(d.pack, b.State.Counts), err)
		}
		if len(b.Clashes) == 0 {
			sound++
		} else {
			clashing++
		}
	})
	t.Logf("%d boats could be built, %d not", sound, clashing)
	if sound == 0 || clashing == 0 {
		t.Errorf("%d boats could be built, %d not: want some of both", sound, clashing)
	}
}

// The same wish gives the same boat, and completing changes neither the wish nor the use.
func TestPropertyCompleteIsDeterministic(t *testing.T) {
	d := demo()
	rapid.Check(t, func(t *rapid.T) {
		hull := rapid.IntRange(0, len(d.pack.Hulls)-1).Draw(t, "hull")
		use, c := d.anyUse(t), d.anyChoices(t, hull, 8)
		useBefore, before := slices.Clone(use), c.Clone()
		first := d.fit.Complete(hull, use, c, fit.DefaultTries)
		second := d.fit.Complete(hull, use, c, fit.DefaultTries)
		if !reflect.DeepEqual(first, second) {
			t.Fatalf("%s and %s", contents(d.pack, first.State.Counts), contents(d.pack, second.State.Counts))
		}
		if !slices.Equal(use, useBefore) || !reflect.DeepEqual(c, before) {
			t.Fatal("the wish was changed")
		}
	})
}

// Settled slots hold what was settled; slots that do not exist hold nothing unless it was settled.
func TestPropertyCompleteKeepsWhatIsSettled(t *testing.T) {
	d := demo()
	rapid.Check(t, func(t *rapid.T) {
		b := d.anyBoat(t, 12)
		for s, def := range d.pack.Slots {
			got := b.State.Counts[def.First:def.End]
			if want := b.Choices.Counts[def.First:def.End]; b.Choices.Settled[s] && !slices.Equal(got, want) {
				t.Fatalf("%s: %v, want %v", def.ID, got, want)
			}
			if !b.Choices.Settled[s] && !d.pack.Exists(s, b.State.HullID) && b.State.Slots[s] > 0 {
				t.Fatalf("%s is not on this hull", def.ID)
			}
		}
		for o, n := range b.State.Counts {
			if n > 0 && !b.Choices.Settled[d.pack.Options[o].Slot] &&
				(!d.pack.Made(o, b.State.HullID) || n > d.pack.Options[o].Most) {
				t.Fatalf("%d of %s by itself", n, d.pack.Options[o].ID)
			}
		}
	})
}

// step is one choice in a slot of one or at most one: an option, or nothing.
type step struct{ slot, option int }

// steps draws one choice for each of some slots of one.
func (d demoBoats) steps(t *rapid.T) []step {
	var list []step
	taken := map[int]bool{}
	for range rapid.IntRange(2, 6).Draw(t, "choices") {
		s := rapid.IntRange(0, len(d.pack.Slots)-1).Draw(t, "slot")
		def := &d.pack.Slots[s]
		if taken[s] || def.Multiple {
			continue
		}
		taken[s] = true
		o := -1
		if def.Least > 0 || rapid.Bool().Draw(t, "something") {
			o = rapid.IntRange(def.First, def.End-1).Draw(t, "option")
		}
		list = append(list, step{s, o})
	}
	return list
}

func (d demoBoats) choose(b *fit.Build, s step) fit.Choices {
	if s.option < 0 {
		return d.fit.Without(b, s.slot)
	}
	return d.fit.With(b, s.option, 1)
}

// Choosing one after the other, each time completing the boat, ends in the same boat whatever the order.
func TestPropertyOrderOfChoicesDoesNotMatter(t *testing.T) {
	d := demo()
	rapid.Check(t, func(t *rapid.T) {
		hull, use, steps := rapid.IntRange(0, len(d.pack.Hulls)-1).Draw(t, "hull"), d.anyUse(t), d.steps(t)
		chosen := func() *fit.Build {
			b := d.fit.Complete(hull, use, d.fit.NewChoices(), fit.DefaultTries)
			for _, s := range steps {
				b = d.fit.Complete(hull, use, d.choose(b, s), fit.DefaultTries)
			}
			return b
		}
		want := chosen()
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0))
		r.Shuffle(len(steps), func(i, j int) { steps[i], steps[j] = steps[j], steps[i] })
		if got := chosen(); !reflect.DeepEqual(got, want) {
			t.Fatalf("%s, in another order %s", contents(d.pack, want.State.Counts), contents(d.pack, got.State.Counts))
		}
	})
}

// A change keeps every settled slot but those that it closes, which it leaves empty.
func TestPropertyChangeSetsAsideOnlyWhatCloses(t *testing.T) {
	d, r := demo(), demoReference()
	aside := 0
	rapid.Check(t, func(t *rapid.T) {
		b := d.anyBoat(t, 4)
		want := b.Choices.Clone() // and, of what stands in slots that may close, some
		for s, def := range d.pack.Slots {
			if !def.When.Empty() && b.State.Slots[s] > 0 && rapid.Bool().Draw(t, "settle "+def.ID) {
				want.Settled[s] = true
				copy(want.Counts[def.First:def.End], b.State.Counts[def.First:def.End])
			}
		}
		b = d.fit.Complete(b.State.HullID, b.State.Use, want, fit.DefaultTries)
		// Where the shelter stands on the top, taking the top away closes the most.
		top := step{slotOf(d.pack, "top"), -1}
		change := rapid.SampledFrom(append(d.steps(t), top)).Draw(t, "change")
		c := d.choose(b, change)
		changed := d.fit.Change(b, c, fit.DefaultTries)
		if err := r.verify(changed); err != nil {
			t.Fatal(err)
		}
		for s, def := range d.pack.Slots {
			got := changed.State.Counts[def.First:def.End]
			switch {
			case changed.Choices.Settled[s] && (!c.Settled[s] || !slices.Equal(got, c.Counts[def.First:def.End])):
				t.Fatalf("%s holds %v, chosen was %v", def.ID, got, c.Counts[def.First:def.End])
			case c.Settled[s] && !changed.Choices.Settled[s]:
				aside++
				if s == change.slot || d.pack.Slots[s].When.Empty() {
					t.Fatalf("%s was set aside", def.ID)
				}
			}
		}
	})
	t.Logf("%d slots were set aside", aside)
	if aside == 0 {
		t.Error("nothing was ever set aside")
	}
}

// What a verdict says is so: an open one's boat has it and no clash that is not there already, a blocked one's boat has
// the clash that it names.
func TestPropertyVerdicts(t *testing.T) {
	d, r := demo(), demoReference()
	seen := map[fit.Availability]int{}
	rapid.Check(t, func(t *rapid.T) {
		b := d.anyBoat(t, 3)
		options, empty := d.fit.Verdicts(b)
		if rapid.IntRange(0, 9).Draw(t, "twice") == 0 {
			if again, _ := d.fit.Verdicts(b); !reflect.DeepEqual(options, again) {
				t.Fatal("the verdicts are not the same twice")
			}
		}
		for o := range options {
			seen[options[o].Status]++
			if err := d.checkVerdict(b, o, &options[o]); err != nil {
				t.Fatalf("%s is %s: %v", d.pack.Options[o].ID, options[o].Status, err)
			}
		}
		for s, v := range empty {
			if def := d.pack.Slots[s]; (v == nil) != (def.Multiple || def.Least > 0) {
				t.Fatalf("leaving %s empty: %v", def.ID, v)
			}
			if v != nil {
				if err := checkClashes(b, v); err != nil {
					t.Fatalf("leaving %s empty is %s: %v", d.pack.Slots[s].ID, v.Status, err)
				}
			}
		}
		o := rapid.IntRange(0, len(options)-1).Draw(t, "verified")
		if v := options[o]; v.Build != nil {
			if err := r.verify(v.Build.Build()); err != nil {
				t.Fatal(err)
			}
			if err := told(b, v.Build); err != nil {
				t.Fatalf("%s: %v", d.pack.Options[o].ID, err)
			}
		}
	})
	t.Logf("%v", seen)
	for _, s := range []fit.Availability{fit.Chosen, fit.Forced, fit.Open, fit.Blocked, fit.Absent} {
		if seen[s] == 0 {
			t.Errorf("no option was ever %s", s)
		}
	}
}

func (d demoBoats) checkVerdict(b *fit.Build, o int, v *fit.Verdict) error {
	inBoat, made := b.State.Counts[o] > 0, d.pack.Made(o, b.State.HullID)
	switch v.Status {
	case fit.Chosen, fit.Forced:
		if !inBoat {
			return fmt.Errorf("it is not in the boat")
		}
	case fit.Absent:
		if inBoat || made {
			return fmt.Errorf("in the boat %v, made for it %v", inBoat, made)
		}
	case fit.Open, fit.Blocked:
		if inBoat || !made || !slices.Contains(v.Build.Held, fit.Held{Option: o, Count: 1}) {
			return fmt.Errorf("in the boat %v, made for it %v, and otherwise %v", inBoat, made, v.Build.Held)
		}
	default:
		return fmt.Errorf("unknown status")
	}
	for _, other := range v.Blockers {
		if !slices.Contains(v.Why.Options, other) || other == o {
			return fmt.Errorf("%s does not take part", d.pack.Options[other].ID)
		}
	}
	return checkClashes(b, v)
}

// told says that a variant of a boat tells to the bit of the whole boat that is completed anew.
func told(b *fit.Build, v *fit.Variant) error {
	whole := v.Build()
	var held []fit.Held
	for o, n := range whole.State.Counts {
		if n != b.State.Counts[o] {
			held = append(held, fit.Held{Option: o, Count: n})
		}
	}
	bits := func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) }
	if !slices.Equal(held, v.Held) || !slices.EqualFunc(whole.State.Figures, v.Figures, bits) ||
		!slices.EqualFunc(whole.State.Faults, v.Faults, formula.Fault.Same) ||
		whole.Status != v.Status || !reflect.DeepEqual(whole.Clashes, v.Clashes) {
		return fmt.Errorf("told as %v %v %v %v, and is %v %v %v %v", v.Held, v.Faults, v.Status, v.Clashes, held,
			whole.State.Faults, whole.Status, whole.Clashes)
	}
	return nil
}

func checkClashes(b *fit.Build, v *fit.Verdict) error {
	among := func(list []fit.Clash, c fit.Clash) bool { return slices.ContainsFunc(list, c.Same) }
	switch v.Status {
	case fit.Open:
		for _, c := range v.Build.Clashes {
			if !among(b.Clashes, c) {
				return fmt.Errorf("a new clash: %s", c.Reason)
			}
		}
	case fit.Blocked:
		if v.Why == nil || !among(v.Build.Clashes, *v.Why) || among(b.Clashes, *v.Why) {
			return fmt.Errorf("the clash %v is not among the new ones", v.Why)
		}
	}
	return nil
}

// What a slot gets does not depend on which slots were asked for before it.
func TestPropertyAlternativesInAnyOrder(t *testing.T) {
	d := demo()
	slots := make([]int, len(d.pack.Slots))
	for s := range slots {
		slots[s] = s
	}
	rapid.Check(t, func(t *rapid.T) {
		b := d.anyBoat(t, 3)
		options, empty := d.fit.Verdicts(b)
		order, again := rapid.Permutation(slots).Draw(t, "order"), d.fit.Alternatives(b)
		for _, s := range order[:rapid.IntRange(1, len(order)).Draw(t, "asked")] {
			list, none := again.Slot(s)
			def := d.pack.Slots[s]
			if !sameVerdicts(list, options[def.First:def.End]) || (none == nil) != (empty[s] == nil) ||
				none != nil && !sameVerdicts([]fit.Verdict{*none}, []fit.Verdict{*empty[s]}) {
				t.Fatalf("slot %s has other verdicts in another order", def.ID)
			}
		}
	})
}

func sameVerdicts(a, b []fit.Verdict) bool {
	return slices.EqualFunc(a, b, func(x, y fit.Verdict) bool {
		return x.Status == y.Status && reflect.DeepEqual(x.Why, y.Why) && slices.Equal(x.Blockers, y.Blockers) &&
			(x.Build == nil) == (y.Build == nil) && (x.Build == nil || slices.Equal(x.Build.Held, y.Build.Held) &&
			slices.EqualFunc(x.Build.Figures, y.Build.Figures, func(a, b float64) bool {
				return math.Float64bits(a) == math.Float64bits(b)
			}) && x.Build.Status == y.Build.Status)
	})
}

package fit_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/pack"
)

// condition is a random truth formula, written for a pack and evaluated here without it.
type condition struct {
	text  string
	holds func(counts, slots []int) bool
}

// anyCondition makes one of a few operations over options and slots of one: a book cannot ask what a slot of multiple
// holds as a whole.
func anyCondition(r *rand.Rand, options int, ones []int, depth int) condition {
	if depth == 0 || r.IntN(4) == 0 {
		if len(ones) > 0 && r.IntN(5) == 0 {
			s := ones[r.IntN(len(ones))]
			return condition{fmt.Sprint("s", s), func(_, slots []int) bool { return slots[s] > 0 }}
		}
		o := r.IntN(options)
		return condition{fmt.Sprint("o", o), func(counts, _ []int) bool { return counts[o] > 0 }}
	}
	a, b := anyCondition(r, options, ones, depth-1), anyCondition(r, options, ones, depth-1)
	switch r.IntN(5) {
	case 0, 1:
		return condition{a.text + " !", func(c, s []int) bool { return !a.holds(c, s) }}
	case 2, 3:
		return condition{a.text + " " + b.text + " |", func(c, s []int) bool { return a.holds(c, s) || b.holds(c, s) }}
	}
	return condition{a.text + " " + b.text + " &", func(c, s []int) bool { return a.holds(c, s) && b.holds(c, s) }}
}

// puzzle is a random pack of three to five slots of two or three options, with rules and perhaps a slot that closes.
type puzzle struct {
	pack   *pack.Pack
	fit    *fit.Fit
	rules  [][2]condition // when and need
	closed map[int]condition
	kg     []int // what each option carries
	limit  int   // of what all of them carry
}

func anyPuzzle(t *testing.T, r *rand.Rand) *puzzle {
	z := &puzzle{closed: map[int]condition{}}
	var slots []slot
	var standard []string
	var ones []int
	options := 0
	for i := range 3 + r.IntN(3) {
		var ids []string
		for j := range 2 + r.IntN(2) {
			ids = append(ids, fmt.Sprintf("%c%d", 'a'+i, j))
		}
		options += len(ids)
		switch id := fmt.Sprint("slot", i); r.IntN(4) {
		case 0:
			slots = append(slots, atMostOne(id, ids...))
		case 1:
			slots = append(slots, multiple(id, r.IntN(3), r.IntN(3)+2, ids...))
			slots[i].has[0].Most = 1 + r.IntN(2)
		default:
			slots = append(slots, one(id, ids...))
		}
		for j := range slots[i].has {
			kg := r.IntN(30)
			z.kg = append(z.kg, kg)
			slots[i] = slots[i].carries(ids[j], fmt.Sprint("n", kg))
		}
		if !slots[i].Multiple {
			ones = append(ones, i)
		}
		if r.IntN(3) > 0 {
			standard = append(standard, ids[r.IntN(len(ids))])
		}
	}
	if r.IntN(3) == 0 { // the last slot may close; it reads only those before it
		last := len(slots) - 1
		before := slices.DeleteFunc(slices.Clone(ones), func(s int) bool { return s == last })
		c := anyCondition(r, options-len(slots[last].has), before, 1)
		slots[last] = slots[last].when(c.text, "Closed.")
		z.closed[last] = c
	}
	var rules []pack.Rule
	for range 1 + r.IntN(6) {
		when, need := anyCondition(r, options, ones, 1), anyCondition(r, options, ones, 2)
		z.rules = append(z.rules, [2]condition{when, need})
		rules = append(rules, rule(when.text, need.text, "Rule."))
	}
	if z.limit = 10_000; r.IntN(2) == 0 {
		z.limit = 20 + r.IntN(60)
		rules = append(rules, rule("", fmt.Sprintf("f0 n%d {", 300+z.limit), "Too heavy."))
	}
	z.pack, z.fit = boats(t, slots, rules, standard...)
	return z
}

// valid judges a boat from its counts alone.
func (z *puzzle) valid(counts []int) bool {
	slots, kg := make([]int, len(z.pack.Slots)), 0
	for o, n := range counts {
		kg += n * z.kg[o]
		slots[z.pack.Options[o].Slot] += n
		if n > z.pack.Options[o].Most {
			return false
		}
	}
	for i, s := range z.pack.Slots {
		c, may := z.closed[i]
		switch open := !may || c.holds(counts, slots); {
		case !open && slots[i] > 0, open && slots[i] < s.Least, s.Most > 0 && slots[i] > s.Most:
			return false
		}
	}
	if kg > z.limit {
		return false
	}
	for _, r := range z.rules {
		if r[0].holds(counts, slots) && !r[1].holds(counts, slots) {
			return false
		}
	}
	return true
}

// anyChoices settles none to two slots, now and then with what cannot stand there.
func (z *puzzle) anyChoices(r *rand.Rand) fit.Choices {
	c := z.fit.NewChoices()
	for range r.IntN(3) {
		s := r.IntN(len(z.pack.Slots))
		def := &z.pack.Slots[s]
		c.Settled[s] = true
		for o := def.First; o < def.End; o++ {
			c.Counts[o] = 0
		}
		for range r.IntN(3) {
			c.Counts[def.First+r.IntN(def.End-def.First)] = 1
		}
	}
	return c
}

// fillings visits every valid filling of the slots that are not fixed, until a visit has enough.
func (z *puzzle) fillings(c fit.Choices, fixed func(slot int) bool, visit func(counts []int) (enough bool)) {
	counts := append([]int(nil), c.Counts...)
	var from func(o int) bool
	from = func(o int) bool {
		if o == len(counts) {
			return z.valid(counts) && visit(counts)
		}
		if fixed(z.pack.Options[o].Slot) {
			return from(o + 1)
		}
		for n := range z.pack.Options[o].Most + 1 {
			counts[o] = n
			if from(o + 1) {
				return true
			}
		}
		counts[o] = 0
		return false
	}
	from(0)
}

// solvable says whether there is a filling of the slots that are not settled.
func (z *puzzle) solvable(c fit.Choices) (found bool) {
	z.fillings(c, func(s int) bool { return c.Settled[s] }, func([]int) bool { found = true; return true })
	return found
}

// deviations counts how far a boat is from what its soft slots hold by themselves: nothing where they are closed, else
// the standard build filled up to the least.
func (z *puzzle) deviations(c fit.Choices, counts []int) (n int) {
	standard, slots := make([]int, len(counts)), make([]int, len(z.pack.Slots))
	for _, x := range z.pack.Hulls[short].Standard {
		standard[x.Option] = x.Count
	}
	for o, count := range counts {
		slots[z.pack.Options[o].Slot] += count
	}
	for i, s := range z.pack.Slots {
		if c.Settled[i] {
			continue
		}
		sum := 0
		for o := s.First; o < s.End; o++ {
			sum += standard[o]
		}
		for o := s.First; o < s.End; o++ {
			more := max(0, min(s.Least-sum, z.pack.Options[o].Most-standard[o]))
			standard[o] += more
			sum += more
		}
		closed, may := z.closed[i]
		open, other := !may || closed.holds(counts, slots), 0
		for o := s.First; o < s.End; o++ {
			if open && counts[o] != standard[o] || !open && counts[o] != 0 {
				other++
			}
		}
		if !s.Multiple {
			other = min(other, 1)
		}
		n += other
	}
	return n
}

// nearest is the least of the deviations of all valid boats.
func (z *puzzle) nearest(c fit.Choices) int {
	least := len(z.pack.Options) + 1
	z.fillings(c, func(s int) bool { return c.Settled[s] }, func(counts []int) bool {
		least = min(least, z.deviations(c, counts))
		return false
	})
	return least
}

// All fillings are tried against Complete: what it calls sound is sound, what it says clashes does, what it calls
// impossible is, what it calls nearest is, and what it misses is counted. The puzzles here are small, and far more
// tangled than a book's rules.
func TestCompleteAgainstAllFillings(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 6))
	const puzzles = 1500
	statuses := map[fit.Status]int{}
	missed, impossible := 0, 0
	for range puzzles {
		z := anyPuzzle(t, r)
		for range 4 {
			c := z.anyChoices(r)
			b := z.fit.Complete(short, []float64{4}, c, fit.DefaultTries)
			if sound := z.valid(b.State.Counts); sound != (len(b.Clashes) == 0) {
				t.Fatalf("%s is sound: %v, clashes: %v", contents(z.pack, b.State.Counts), sound, clashes(b))
			}
			statuses[b.Status]++
			solvable := z.solvable(c)
			switch {
			case !solvable:
				impossible++
				if len(b.Clashes) == 0 || b.Status == fit.Optimal || b.Status == fit.Feasible {
					t.Fatalf("%s is %s, and cannot be", contents(z.pack, b.State.Counts), b.Status)
				}
			case b.Status == fit.Infeasible:
				t.Fatalf("%v is called impossible, and is not", c)
			case b.Status == fit.Unknown:
				missed++
			case b.Status == fit.Optimal:
				if got, want := z.deviations(c, b.State.Counts), z.nearest(c); got != want {
					t.Fatalf("%s deviates in %d, a boat could in %d", contents(z.pack, b.State.Counts), got, want)
				}
			}
		}
	}
	t.Logf("%v; %d cannot be built, %d that can were not found", statuses, impossible, missed)
	if statuses[fit.Optimal] < puzzles || statuses[fit.Infeasible] < puzzles/4 {
		t.Errorf("%v make no test", statuses)
	}
	if missed > puzzles/100 {
		t.Errorf("%d were missed", missed)
	}
}

// A reason is one: with its choices and rules there is no boat, and without any one of them there is.
func TestReasonsAreSmallest(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	reasons, parts := 0, 0
	for range 700 {
		z := anyPuzzle(t, r)
		for range 4 {
			c := z.anyChoices(r)
			why := z.fit.Reason(fit.Question{Hull: short, Use: []float64{4}, Choices: c}, -1)
			if why == nil {
				if b := z.fit.Complete(short, []float64{4}, c, fit.DefaultTries); b.Status == fit.Infeasible {
					t.Fatalf("%v is impossible for no reason", c)
				}
				continue
			}
			reasons++
			parts += len(why.Slots) + len(why.Rules)
			z.wantSmallest(t, c, why)
		}
	}
	t.Logf("%d reasons of %.1f choices and rules", reasons, float64(parts)/float64(reasons))
	if reasons < 200 {
		t.Errorf("%d reasons make no test", reasons)
	}
}

func (z *puzzle) wantSmallest(t *testing.T, all fit.Choices, why *fit.Reason) {
	t.Helper()
	c := z.fit.NewChoices()
	for _, slot := range why.Slots {
		c.Settled[slot] = true
		def := &z.pack.Slots[slot]
		copy(c.Counts[def.First:def.End], all.Counts[def.First:def.End])
	}
	kept := *z
	kept.rules, kept.limit = nil, 10_000
	for i := range z.rules {
		if slices.Contains(why.Rules, i) {
			kept.rules = append(kept.rules, z.rules[i])
		}
	}
	heavy := slices.Contains(why.Rules, len(z.rules))
	if heavy {
		kept.limit = z.limit
	}
	if kept.solvable(c) {
		t.Fatalf("there is a boat with %+v", why)
	}
	if !why.Smallest {
		return
	}
	for _, slot := range why.Slots {
		if !z.solvable(z.fit.Drop(c, slot)) {
			t.Fatalf("slot %d is no part of the reason %+v", slot, why)
		}
	}
	for i := range kept.rules {
		fewer := kept
		fewer.rules = slices.Delete(slices.Clone(kept.rules), i, i+1)
		if !fewer.solvable(c) {
			t.Fatalf("rule %d is no part of the reason %+v", i, why)
		}
	}
	if heavy {
		if kept.limit = 10_000; !kept.solvable(c) {
			t.Fatalf("the mass is no part of the reason %+v", why)
		}
	}
}

// Repairs are valid boats with the fewest changed choices, all of them; what is kept stays.
func TestRepairsAgainstAllFillings(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	repaired, none := 0, 0
	for range 700 {
		z := anyPuzzle(t, r)
		c := z.anyChoices(r)
		for range 2 {
			for s, more := range z.anyChoices(r).Settled {
				if def := &z.pack.Slots[s]; more && !c.Settled[s] {
					c.Settled[s] = true
					c.Counts[def.First] = 1
				}
			}
		}
		keep := r.IntN(len(z.pack.Slots))
		list, complete := z.fit.Repairs(short, []float64{4}, c, func(slot int) bool { return slot == keep }, 1)
		fewest, ways := z.fewestChanges(c, keep)
		if len(list) == 0 {
			if none++; complete && ways != nil {
				t.Fatalf("%v can be had with %d changes", c, fewest)
			}
			continue
		}
		repaired++
		found := map[string]bool{}
		for i, x := range list {
			if !z.valid(x.Build.State.Counts) || len(x.Build.Clashes) > 0 {
				t.Fatalf("%s clashes", contents(z.pack, x.Build.State.Counts))
			}
			n := x.Changes
			if i == 0 && n != fewest || n < fewest {
				t.Fatalf("repair %d changes %d choices; the fewest are %d", i+1, n, fewest)
			}
			if slices.Contains(x.Changed, keep) {
				t.Fatalf("what is kept was changed")
			}
			if n == fewest {
				found[z.settledContents(c, x.Build.State.Counts)] = true
			}
		}
		for way := range ways {
			if complete && !found[way] {
				t.Fatalf("the repair to %s is missing", way)
			}
		}
	}
	t.Logf("%d repaired, %d without a repair", repaired, none)
	if repaired < 150 || none < 20 {
		t.Errorf("%d repaired and %d without make no test", repaired, none)
	}
}

// fewestChanges are the fewest settled slots, but for one kept, whose content must change for a valid boat, and to
// what.
func (z *puzzle) fewestChanges(c fit.Choices, keep int) (fewest int, ways map[string]bool) {
	fewest = 1 << 30
	z.fillings(c, func(s int) bool { return s == keep && c.Settled[s] }, func(counts []int) bool {
		changed := 0
		for i, s := range z.pack.Slots {
			other := 0
			for o := s.First; o < s.End; o++ {
				if c.Settled[i] && counts[o] != c.Counts[o] {
					other++
				}
			}
			if !s.Multiple {
				other = min(other, 1)
			}
			changed += other
		}
		if changed < fewest {
			fewest, ways = changed, map[string]bool{}
		}
		if changed == fewest && !z.setAside(c, counts) {
			ways[z.settledContents(c, counts)] = true
		}
		return false
	})
	return fewest, ways
}

// setAside says that a settled slot is closed on a boat: what a repair then puts there is not settled.
func (z *puzzle) setAside(c fit.Choices, counts []int) bool {
	slots := make([]int, len(z.pack.Slots))
	for o, n := range counts {
		slots[z.pack.Options[o].Slot] += n
	}
	for i, closed := range z.closed {
		if c.Settled[i] && !closed.holds(counts, slots) {
			return true
		}
	}
	return false
}

func (z *puzzle) settledContents(c fit.Choices, counts []int) string {
	text := ""
	for i, s := range z.pack.Slots {
		if c.Settled[i] {
			text += fmt.Sprint(z.pack.Slots[i].ID, counts[s.First:s.End], " ")
		}
	}
	return text
}

package fit_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/pack"
)

var (
	changes = flag.Int("changes", 1500, "how many random changes are completed apart and over the whole boat")
	dice    = flag.Uint64("dice", 15, "by which they are drawn")
)

// tally counts how the two searches agree; better and worse compare them with the same number of tries.
type tally struct {
	optimal, infeasible, same, better, worse, unknown, deviating int
}

// compare completes a question apart, with what is kept and without, and over the whole boat at once with far more
// tries: where both prove what they say it is the same, and as near.
func (n *tally) compare(t *testing.T, f *fit.Fit, q fit.Question, name func() string) *fit.Build {
	t.Helper()
	apart, at := f.Nearest(q, fit.DefaultTries, false)
	f.Forget()
	if fresh, from := f.Nearest(q, fit.DefaultTries, false); from != at || fresh.Status != apart.Status ||
		!slices.Equal(fresh.State.Counts, apart.State.Counts) || !reflect.DeepEqual(fresh.Clashes, apart.Clashes) {
		t.Fatalf("%s: with what was asked before %s of %d deviations, without %s of %d", name(), apart.Status, at,
			fresh.Status, from)
	}
	whole, least := f.Nearest(q, 3000, true)
	valid := func(b *fit.Build) bool { return b.Status == fit.Optimal || b.Status == fit.Feasible }
	if valid(apart) != (len(apart.Clashes) == 0) {
		t.Fatalf("%s is %s with %d clashes", name(), apart.Status, len(apart.Clashes))
	}
	switch {
	case apart.Status == fit.Infeasible && valid(whole), valid(apart) && whole.Status == fit.Infeasible,
		apart.Status == fit.Optimal && valid(whole) && least < at,
		whole.Status == fit.Optimal && valid(apart) && at < least:
		t.Fatalf("%s: apart %s of %d deviations, whole %s of %d", name(), apart.Status, at, whole.Status, least)
	case apart.Status == fit.Optimal && whole.Status == fit.Optimal:
		n.optimal++
		if at > 1 {
			n.deviating++
		}
		if slices.Equal(apart.State.Counts, whole.State.Counts) {
			n.same++
		}
	case apart.Status == fit.Infeasible && whole.Status == fit.Infeasible:
		n.infeasible++
	case apart.Status == fit.Unknown && whole.Status == fit.Unknown:
		n.unknown++
	}
	if few, _ := f.Nearest(q, fit.DefaultTries, true); few.Status != apart.Status {
		proved := func(b *fit.Build) bool { return b.Status == fit.Optimal || b.Status == fit.Infeasible }
		if proved(apart) && !proved(few) || few.Status == fit.Unknown {
			n.better++
		} else {
			n.worse++
		}
	}
	return apart
}

// Solving apart gives boats as near as solving whole, over random changes of the demo book, one after the other as a
// person makes them: options with what is settled, slots emptied and let go, other uses. What is kept changes nothing.
func TestApartIsAsNearAsWhole(t *testing.T) {
	d := demo()
	r := rand.New(rand.NewPCG(12, *dice))
	var n tally
	for i := 0; i < *changes; {
		q := fit.Question{Hull: r.IntN(len(d.pack.Hulls)), Use: d.use(), Choices: d.fit.NewChoices()}
		for r.IntN(2) == 0 {
			u := r.IntN(len(q.Use))
			q.Use[u] = d.pack.Use[u].Value(r.IntN(d.pack.Use[u].Steps()))
		}
		b := d.fit.Complete(q.Hull, q.Use, q.Choices, fit.DefaultTries)
		for range 15 {
			c := d.changed(r, b)
			q.Choices = c
			got := n.compare(t, d.fit, q, func() string {
				return fmt.Sprint(d.pack.Hulls[q.Hull].ID, " ", q.Use, " ", contents(d.pack, q.Choices.Counts))
			})
			// most go on from a boat that can be built, as people do
			if i++; len(got.Clashes) == 0 || r.IntN(4) == 0 {
				b = got
			}
		}
	}
	t.Logf("of %d: %+v", *changes, n)
	if n.optimal < *changes/4 || n.infeasible < *changes/10 || n.deviating < *changes/20 {
		t.Errorf("%+v make no test", n)
	}
	if n.worse > n.better {
		t.Errorf("%d are found or proved by the whole search alone, with as many tries", n.worse)
	}
}

// changed are the choices of a boat with one random change.
func (d demoBoats) changed(r *rand.Rand, b *fit.Build) fit.Choices {
	for {
		o := r.IntN(len(d.pack.Options))
		slot := d.pack.Options[o].Slot
		switch {
		case !d.pack.Made(o, b.State.HullID) || !d.pack.Exists(slot, b.State.HullID):
		case r.IntN(8) == 0:
			return d.fit.Without(b, slot)
		case r.IntN(8) == 0 && b.Choices.Settled[slot]:
			return d.fit.Drop(b.Choices, slot)
		default:
			return d.fit.With(b, o, 1)
		}
	}
}

// manySlots is a puzzle of ten slots of two options in two or three knots of rules, with a limit on the mass that reads
// all of them: it is wide, and the knots are not.
func manySlots(t *testing.T, r *rand.Rand) *puzzle {
	z := &puzzle{closed: map[int]condition{}}
	var slots []slot
	var standard []string
	const count = 10
	for i := range count {
		ids := []string{fmt.Sprintf("%c0", 'a'+i), fmt.Sprintf("%c1", 'a'+i)}
		s := one(fmt.Sprint("slot", i), ids...)
		if r.IntN(3) == 0 {
			s = atMostOne(fmt.Sprint("slot", i), ids...)
		}
		for _, id := range ids {
			kg := r.IntN(20)
			z.kg = append(z.kg, kg)
			s = s.carries(id, fmt.Sprint("n", kg))
		}
		slots, standard = append(slots, s), append(standard, ids[0])
	}
	var rules []pack.Rule
	knots := 2 + r.IntN(2)
	for i := range 4 + r.IntN(6) {
		size := count / knots
		from := (i % knots) * size
		any := func() condition {
			o := 2*(from+r.IntN(size)) + r.IntN(2)
			return condition{fmt.Sprint("o", o), func(counts, _ []int) bool { return counts[o] > 0 }}
		}
		when, need, other := any(), any(), any()
		if r.IntN(2) == 0 {
			a := need
			need = condition{a.text + " " + other.text + " |",
				func(c, s []int) bool { return a.holds(c, s) || other.holds(c, s) }}
		}
		z.rules = append(z.rules, [2]condition{when, need})
		rules = append(rules, rule(when.text, need.text, "Rule."))
	}
	z.limit = 70 + r.IntN(60)
	rules = append(rules, rule("", fmt.Sprintf("f0 n%d {", 300+z.limit), "Too heavy."))
	z.pack, z.fit = boats(t, slots, rules, standard...)
	return z
}

// boatsOf visits every valid boat with some choices: a content for each slot that is not settled.
func (z *puzzle) boatsOf(c fit.Choices, visit func(counts []int)) {
	counts := slices.Clone(c.Counts)
	var from func(slot int)
	from = func(slot int) {
		switch {
		case slot == len(z.pack.Slots):
			if z.valid(counts) {
				visit(counts)
			}
			return
		case c.Settled[slot]:
			from(slot + 1)
			return
		}
		def := &z.pack.Slots[slot]
		for o := def.First - 1; o < def.End; o++ {
			clear(counts[def.First:def.End])
			if o >= def.First {
				counts[o] = 1
			} else if def.Least > 0 {
				continue
			}
			from(slot + 1)
		}
	}
	from(0)
}

// Where a rule over the whole boat joins knots of rules that have nothing else in common, the boat is still a nearest
// one, by trying all.
func TestApartUnderARuleOverTheWholeBoat(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	var n tally
	nearest := 0
	for range 250 {
		z := manySlots(t, r)
		for range 3 {
			c := z.fit.NewChoices()
			for range r.IntN(5) {
				s := r.IntN(len(z.pack.Slots))
				def := &z.pack.Slots[s]
				clear(c.Counts[def.First:def.End])
				c.Settled[s], c.Counts[def.First+r.IntN(2)] = true, 1
			}
			b := n.compare(t, z.fit, fit.Question{Hull: short, Use: []float64{4}, Choices: c},
				func() string { return contents(z.pack, c.Counts) })
			least := -1
			z.boatsOf(c, func(counts []int) {
				if d := z.deviations(c, counts); least < 0 || d < least {
					least = d
				}
			})
			switch got := z.deviations(c, b.State.Counts); {
			case b.Status == fit.Optimal && got != least:
				t.Fatalf("%s deviates in %d, a boat could in %d", contents(z.pack, b.State.Counts), got, least)
			case b.Status == fit.Infeasible && least >= 0:
				t.Fatalf("%s is called impossible, and is not", contents(z.pack, c.Counts))
			case b.Status == fit.Optimal && least > 1:
				nearest++
			}
		}
	}
	t.Logf("%+v, %d of several deviations", n, nearest)
	if n.optimal < 200 || n.infeasible < 50 || nearest < 100 {
		t.Errorf("%+v, %d of several deviations, make no test", n, nearest)
	}
}

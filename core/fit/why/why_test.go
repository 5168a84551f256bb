package why_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"sync"
	"testing"

	"ribband/core/figures"
	"ribband/core/fit/why"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/publish"
)

var demo = sync.OnceValues(func() (*pack.Pack, *figures.Figures) {
	packs, _, problems, err := publish.Load(os.DirFS("../../../rules"))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	figs, err := figures.Compile(packs[pack.Buyer])
	if err != nil {
		panic(err)
	}
	return packs[pack.Buyer], figs
})

// refill fills some slots of a boat at random, with as much as they may hold, whatever the rules say: now and then with
// nothing, where a slot may be empty.
func refill(r *rand.Rand, p *pack.Pack, st *formula.State, slots func(slot int) bool) {
	for s, def := range p.Slots {
		if !slots(s) {
			continue
		}
		clear(st.Counts[def.First:def.End])
		st.Slots[s] = 0
		var made []int
		for o := def.First; o < def.End; o++ {
			if p.Made(o, st.HullID) {
				made = append(made, o)
			}
		}
		if len(made) == 0 || def.Least == 0 && r.IntN(6) == 0 {
			continue
		}
		kinds := 1
		if def.Multiple {
			kinds += r.IntN(3)
		}
		for range kinds {
			o := made[r.IntN(len(made))]
			n := 1 + r.IntN(p.Options[o].Most)
			if sum := st.Slots[s] + n - st.Counts[o]; def.Most == 0 || sum <= def.Most {
				st.Slots[s], st.Counts[o] = sum, n
			}
		}
	}
}

// An explanation holds whatever stands in the other slots: a broken rule stays broken on every boat that is filled
// otherwise there. And it has no slot too many, as far as the bounds can tell: with any one of its slots freed they do
// not tell any more.
func TestFewSlotsDecideABrokenRule(t *testing.T) {
	p, figs := demo()
	r := rand.New(rand.NewPCG(1, 12))
	w := why.New(figs, len(p.Slots))
	explained, unexplained, few, whole := 0, 0, 0, 0
	for i := range 60 {
		st := figures.NewState(p, i%len(p.Hulls), standardUse(p))
		refill(r, p, st, func(int) bool { return true })
		figs.Fill(st)
		for _, rule := range p.Rules {
			if len(st.Faults) > 0 || !breaks(rule, st) {
				continue
			}
			c := why.NewCondition(figs, rule.When, rule.Need)
			all := make([]int, len(p.Slots))
			for s := range all {
				all[s] = s
			}
			slots, ok := w.Few(nil, all, func() bool { return w.Broken(st, &c) })
			if !ok { // bounds of what a module computes are wider than what it computes
				unexplained++
				continue
			}
			explained, few, whole = explained+1, few+len(slots), whole+len(all)
			wantStaysBroken(t, r, p, figs, st, rule, slots)
			for _, s := range slots {
				free := make([]bool, len(p.Slots))
				for other := range free {
					free[other] = other == s || !slices.Contains(slots, other)
				}
				if w.Free(free); w.Broken(st, &c) {
					t.Fatalf("%s: slot %s is no part of %v", rule.ID, p.Slots[s].ID, slots)
				}
			}
		}
	}
	t.Logf("%d explanations of %.1f slots, of %d; %d broken rules have none", explained,
		float64(few)/float64(explained), len(p.Slots), unexplained)
	if explained < 300 || few*5 > whole || unexplained > explained/5 {
		t.Errorf("%d explanations of %d slots in all, and %d without, make no test", explained, few, unexplained)
	}
}

func wantStaysBroken(t *testing.T, r *rand.Rand, p *pack.Pack, figs *figures.Figures, st *formula.State, rule pack.Rule,
	slots []int) {
	t.Helper()
	for range 3 {
		other := *st
		other.Counts, other.Slots = slices.Clone(st.Counts), slices.Clone(st.Slots)
		other.Figures, other.Faults = slices.Clone(st.Figures), nil
		refill(r, p, &other, func(slot int) bool { return !slices.Contains(slots, slot) })
		if figs.Fill(&other); len(other.Faults) == 0 && !breaks(rule, &other) {
			t.Fatalf("%s is broken by the slots %v alone, it is said, and is not on %v", rule.ID, slots, other.Counts)
		}
	}
}

func breaks(rule pack.Rule, st *formula.State) bool {
	return (rule.When.Empty() || rule.When.Truth()(st)) && !rule.Need.Truth()(st)
}

func standardUse(p *pack.Pack) (use []float64) {
	for _, u := range p.Use {
		use = append(use, u.Standard)
	}
	return use
}

// What holds by some slots that are not asked about is found whatever the others are: of slots that need not be held,
// none is left; where they do not make it certain, there is no explanation.
func TestFewOfWhatNeedsNone(t *testing.T) {
	_, figs := demo()
	w := why.New(figs, 9)
	for name, c := range map[string]struct {
		certain bool
		few     int
		ok      bool
	}{"always": {true, 0, true}, "never": {false, 0, false}} {
		few, ok := w.Few(nil, []int{2, 5, 7}, func() bool { return c.certain })
		if len(few) != c.few || ok != c.ok {
			t.Errorf("%s: %v, %v", name, few, ok)
		}
	}
}

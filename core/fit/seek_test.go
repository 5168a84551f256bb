package fit_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/pack"
)

// What Seek finds is a boat with the choices that can be built, and it misses few.
func TestSeekFindsBoats(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	solvable, found := 0, 0
	for range 400 {
		z := anyPuzzle(t, r)
		for range 4 {
			c := z.anyChoices(r)
			st := z.fit.Seek(fit.Quest{Question: fit.Question{Hull: short, Use: []float64{4}, Choices: c}, Boats: 2000})
			if z.solvable(c) {
				solvable++
			}
			if st == nil {
				continue
			}
			found++
			for s, def := range z.pack.Slots {
				if c.Settled[s] && !slices.Equal(st.Counts[def.First:def.End], c.Counts[def.First:def.End]) {
					t.Fatalf("slot %s was settled", def.ID)
				}
			}
			if !z.valid(st.Counts) {
				t.Fatalf("%s cannot be built", contents(z.pack, st.Counts))
			}
		}
	}
	t.Logf("%d of %d boats found", found, solvable)
	if solvable < 800 || found < solvable*99/100 {
		t.Errorf("%d of %d boats found", found, solvable)
	}
}

// Where the use may vary, Seek changes that too: no boat of the standard use has so many persons.
func TestSeekVariesTheUse(t *testing.T) {
	d := demo()
	persons := slices.IndexFunc(d.pack.Use, func(u pack.UseField) bool { return u.ID == "persons" })
	other := *d.pack
	other.Rules = append(slices.Clone(other.Rules),
		pack.Rule{Need: program(fmt.Sprintf("n6 u%d {", persons)), Because: "Six persons at least."})
	f := fit.Compile(&other, d.figures)
	hull := len(other.Hulls) - 1
	any := fit.Question{Hull: hull, Use: d.use(), Choices: f.NewChoices()}
	if st := f.Seek(fit.Quest{Question: any, Boats: 500}); st != nil {
		t.Fatalf("found with %v persons", st.Use[persons])
	}
	st := f.Seek(fit.Quest{Question: any, Vary: []int{persons}, Boats: 500})
	if st == nil || st.Use[persons] < 6 {
		t.Fatalf("no boat with six persons was found")
	}
	if b := f.Complete(hull, st.Use, fit.Choices{Settled: make([]bool, len(other.Slots)),
		Counts: make([]int, len(other.Options))}, 1); len(b.Clashes) > 0 {
		t.Logf("the standard build clashes with so many, and the boat found differs: %v", clashes(b))
	}
}

// An option so heavy that the boat sinks with it, whatever else she has, cannot be had, and that is proved at once; the
// same where a rule over the mass forbids it. Nothing but that option need be looked at.
func TestTooHeavyByItself(t *testing.T) {
	d := demo()
	mass := slices.IndexFunc(d.pack.Figures, func(f pack.Figure) bool { return f.ID == "mass_kg" })
	compass := slices.IndexFunc(d.pack.Options, func(o pack.Option) bool { return o.ID == "instrument-compass" })
	other := *d.pack
	other.Options = slices.Clone(other.Options)
	other.Options[compass].Carries = []pack.Contribution{{Figure: mass, Amount: program("n2000")}}
	for name, limit := range map[string]string{"sinks": "", "by a rule": fmt.Sprintf("f%d n1800 {", mass)} {
		t.Run(name, func(t *testing.T) {
			other := other
			if limit != "" {
				other.Rules = append(slices.Clone(other.Rules),
					pack.Rule{Need: program(limit), Because: "She bears 1800 kg."})
			}
			figs, err := figures.Compile(&other)
			if err != nil {
				t.Fatal(err)
			}
			f := fit.Compile(&other, figs)
			c := f.NewChoices()
			slot := other.Options[compass].Slot
			c.Counts[compass], c.Settled[slot] = 1, true
			const smallest = 0
			why := f.Reason(fit.Question{Hull: smallest, Use: d.use(), Choices: c}, slot)
			if why == nil {
				t.Fatal("it stays open whether she can have it")
			}
			if got := f.Complete(smallest, d.use(), c, fit.DefaultTries).Status; got != fit.Infeasible {
				t.Errorf("she can have it: %s", got)
			}
			if limit == "" && len(why.Rules) > 0 {
				t.Errorf("rules %v are said to forbid it", why.Rules)
			}
		})
	}
}

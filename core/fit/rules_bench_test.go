package fit_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/formula/source"
)

// BenchmarkRules judges every rule of the demo book on boats that random specs complete to, by expr's virtual machine
// and lowered, and reports how many times as long the machine takes. The machine is as fast as it goes: formulas
// compiled once and optimized, the boat spelled out once, its stack used again, a rule's need run only where its when
// holds. Lowered, all rules run together, each alone, and after one change of the boat only those that read something
// of it. Each time is the shortest of its kind, since other programs disturb both; the process's own ns/op says
// nothing.
func BenchmarkRules(b *testing.B) {
	d, r := demo(), demoReference()
	machines := r.machines()
	rules, reads := d.rules()
	together := formula.NewRules(rules)
	index := formula.NewIndex(reads, d.pack.Space())
	boats := d.changedBoats(60)
	envs := make([]source.Environment, len(boats))
	for i, boat := range boats {
		envs[i] = r.scope.Environment(boat.after)
	}

	const repeat = 10 // for the clock of a browser, which is coarse
	var machine, lowered, alone, affected time.Duration
	found, affects := [4]int{}, 0
	list := make([]int, 0, len(rules))
	for b.Loop() {
		shortest(&machine, func() {
			for _, env := range envs {
				for i := range machines {
					if machines[i].broken(b, env) {
						found[0] += repeat
					}
				}
			}
		})
		shortest(&lowered, func() {
			for range repeat {
				for i := range boats {
					list = together.Broken(boats[i].after, list[:0])
					found[1] += len(list)
				}
			}
		})
		shortest(&alone, func() {
			for range repeat {
				for i := range boats {
					for j := range rules {
						if together.Breaks(j, boats[i].after) {
							found[2]++
						}
					}
				}
			}
		})
		shortest(&affected, func() {
			for range repeat {
				for i := range boats {
					list = index.Affected(boats[i].changed, list[:0])
					affects += len(list)
					for _, j := range list {
						if together.Breaks(j, boats[i].after) {
							found[3]++
						}
					}
				}
			}
		})
	}
	if found[0] != found[1] || found[0] != found[2] || found[3] == 0 {
		b.Fatalf("broken rules by the machine, together, alone, and affected: %v", found)
	}
	pairs := float64(len(boats) * len(rules))
	b.ReportMetric(float64(machine)/pairs, "VM-ns/rule")
	b.ReportMetric(float64(lowered)/pairs/repeat, "lowered-ns/rule")
	b.ReportMetric(float64(machine)/float64(lowered)*repeat, "VM/lowered")
	b.ReportMetric(float64(machine)/float64(alone)*repeat, "VM/alone")
	b.ReportMetric(float64(machine)/float64(affected)*repeat, "VM/changed")
	b.ReportMetric(float64(affects)/float64(b.N*repeat*len(boats)), "affected")
}

// shortest keeps the shortest time that something took.
func shortest(kept *time.Duration, do func()) {
	start := time.Now()
	do()
	if took := time.Since(start); *kept == 0 || took < *kept {
		*kept = took
	}
}

// machines are a rule's when, which may be nil, and need.
type machines [2]*source.Machine

func (m machines) broken(b *testing.B, env source.Environment) bool {
	for i, want := range []bool{true, false} {
		if m[i] == nil {
			continue
		}
		holds, err := m[i].TruthIn(env)
		if err != nil {
			b.Fatal(err)
		}
		if holds != want {
			return false
		}
	}
	return m[1] != nil
}

// machines compiles all rules of the book in the order of the pack: those written, then those of what options require
// and exclude.
func (r *reference) machines() (list []machines) {
	add := func(when, need string) {
		var m machines
		for i, text := range []string{when, need} {
			if text == "" {
				continue
			}
			var err error
			if m[i], err = source.Optimized(text, r.scope); err != nil {
				panic(err)
			}
		}
		list = append(list, m)
	}
	has := func(o int) string { return fmt.Sprintf("has(%q)", r.options[o].ID.Value) }
	for _, x := range r.book.Rules {
		add(x.When.Value, x.Need.Value)
	}
	for _, l := range r.links {
		var others []string
		for _, o := range l.others {
			others = append(others, has(o))
		}
		need := strings.Join(others, " or ")
		if l.exclude {
			need = "not (" + need + ")"
		}
		add(has(l.option), need)
	}
	return list
}

func (d demoBoats) rules() (rules []formula.Rule, reads []formula.Reads) {
	for _, def := range d.pack.Rules {
		rules, reads = append(rules, formula.Rule{When: def.When, Need: def.Need}),
			append(reads, def.When.Reads().With(def.Need.Reads()))
	}
	return rules, reads
}

// changedBoat is a boat before and after one more choice, and what that changed.
type changedBoat struct {
	before, after *formula.State
	changed       formula.Reads
}

// changedBoats completes random specs of up to eight choices, then with one more.
func (d demoBoats) changedBoats(n int) (boats []changedBoat) {
	rng := rand.New(rand.NewPCG(46, 65))
	for range n {
		hull, use, c := rng.IntN(len(d.pack.Hulls)), d.use(), d.fit.NewChoices()
		for i, u := range d.pack.Use {
			if rng.IntN(2) == 0 {
				use[i] = u.Value(rng.IntN(u.Steps()))
			}
		}
		choose := func() {
			slot := &d.pack.Slots[rng.IntN(len(d.pack.Slots))]
			o := slot.First + rng.IntN(slot.End-slot.First)
			clear(c.Counts[slot.First:slot.End])
			if c.Settled[d.pack.Options[o].Slot] = true; d.pack.Made(o, hull) {
				c.Counts[o] = 1
			}
		}
		for range rng.IntN(9) {
			choose()
		}
		before := d.fit.Complete(hull, use, c.Clone(), fit.DefaultTries).State
		choose()
		after := d.fit.Complete(hull, use, c, fit.DefaultTries).State
		boats = append(boats, changedBoat{before, after, formula.Changed(before, after)})
	}
	return boats
}

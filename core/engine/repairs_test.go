package engine_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/spec"
)

// The largest bank was chosen, and now a small charger is wanted, which does not fill it in a night.
func ExampleEngine_Repairs() {
	e := enginetest.Demo()[pack.Buyer]
	a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: "osier-76",
		Choices: map[string]map[string]int{"bank": {"bank-lfp-20": 1}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	why, _ := e.Reason(a, engine.Want{Option: "charger-1500-dual"})
	for _, c := range why.Choices {
		fmt.Println(c)
	}
	for _, r := range why.Rules {
		fmt.Println("→", r.Reason)
	}
	repairs, _, _ := e.Repairs(a, engine.Want{Option: "charger-1500-dual"})
	fmt.Println(repairs[0].Changes[0])
	// Output:
	// Battery bank: LiFePO4 20.5 kWh, 48 V
	// Charger: 1.5 kW, 120 and 230 V
	// → At your own berth the bank should be full again after one night.
	// Battery bank: LiFePO4 15.4 kWh, 48 V in place of LiFePO4 20.5 kWh, 48 V
}

// A repair answered from nothing is a boat with what was wanted, what is kept is as it was, and its net effect is the
// difference of the two answers.
func TestPropertyRepairsGiveWhatWasWanted(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	blocked, repaired, reasons := 0, 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		s := bare(enginetest.AnySpec(rt, e.Pack, 5))
		if rapid.Bool().Draw(rt, "standard use") {
			s.Use = nil // most uses that are drawn have no boat, so that there is nothing to repair
		}
		a, err := e.Answer(s)
		if err != nil || len(a.Notes) > 0 || len(a.Build.Clashes) > 0 {
			return
		}
		for _, slot := range slices.Sorted(maps.Keys(s.Choices)) {
			if rapid.IntRange(0, 2).Draw(rt, "keep") == 0 {
				s.Keep = append(s.Keep, slot)
			}
		}
		a.Spec.Keep = s.Keep
		options, _ := e.Fit.Verdicts(a.Build)
		for o := range options {
			if options[o].Status != fit.Blocked || rapid.IntRange(0, 9).Draw(rt, "look") > 0 {
				continue
			}
			blocked++
			id := e.Pack.Options[o].ID
			if why, _ := e.Reason(a, engine.Want{Option: id}); why != nil {
				reasons++
				if len(why.Choices)+len(why.Rules) == 0 {
					rt.Fatalf("%s cannot be had for no reason", id)
				}
			}
			list, _, err := e.Repairs(a, engine.Want{Option: id})
			if err != nil {
				rt.Fatal(err)
			}
			for _, r := range list {
				repaired++
				mended(rt, e, a, o, r)
			}
		}
	})
	t.Logf("%d blocked options, %d reasons, %d repairs", blocked, reasons, repaired)
	if blocked == 0 || repaired == 0 || reasons == 0 {
		t.Error("that makes no test")
	}
}

func mended(t *rapid.T, e *engine.Engine, a *engine.Answer, option int, r engine.Repair) {
	then, err := e.Answer(r.Spec)
	if err != nil {
		t.Fatal(err)
	}
	if len(then.Build.Clashes) > 0 || then.Build.State.Counts[option] == 0 {
		t.Fatalf("the repair %v gives %v, with %d of %s", r.Changes, then.Build.Clashes,
			then.Build.State.Counts[option], e.Pack.Options[option].ID)
	}
	for _, slot := range a.Spec.Keep {
		if !maps.Equal(r.Spec.Choices[slot], a.Spec.Choices[slot]) &&
			e.Pack.Slots[e.Pack.Options[option].Slot].ID != slot {
			t.Fatalf("the repair changes %s, which is kept", slot)
		}
	}
	if want := then.Price.Goods.Sub(a.Price.Goods); !r.Effect.Price().Equal(want) {
		t.Fatalf("the net price of a repair is %s, want %s", r.Effect.Price(), want)
	}
	if len(r.Changes) == 0 {
		t.Fatal("a repair that changes nothing")
	}
}

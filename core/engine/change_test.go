package engine_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/spec"
)

func TestChoose(t *testing.T) {
	e := enginetest.Small()[pack.Buyer]
	for name, c := range map[string]struct {
		from    spec.Spec
		option  string
		count   int
		link    string // the spec that comes out
		remarks []string
	}{
		"in its stead":      {enginetest.Teasel(t, "top=top-folding"), "top-fixed", 1, "top=top-fixed", nil},
		"out":               {enginetest.Teasel(t, "top=top-fixed"), "top-fixed", 0, "top=", nil},
		"beside the others": {enginetest.Teasel(t, "stowage=bag-top"), "pocket", 3, "stowage=bag-top+pocket*3", nil},
		"out of several":    {enginetest.Teasel(t, "stowage=bag-top+pocket*3"), "pocket", 0, "stowage=bag-top", nil},
		"the last out":      {enginetest.Teasel(t, "stowage=pocket"), "pocket", 0, "stowage=", nil},
		"of the standard":   {enginetest.Teasel(t), "cloth-light", 1, "cloth=cloth-light", nil},
		"what clashes": {enginetest.Teasel(t, "top=top-folding"), "cloth-heavy", 1,
			"top=top-folding/cloth=cloth-heavy", nil},
		"set aside": {enginetest.Teasel(t, "cloth=cloth-heavy"), "top-folding", 0, "top=",
			[]string{"Cloth is set aside: Without a top there is nothing to cover."}},
	} {
		t.Run(name, func(t *testing.T) {
			a := enginetest.Answer(t, e, c.from)
			before := a.Spec.Digest()
			got, remarks, err := changed(e, a, engine.Choose{Option: c.option, Count: c.count})
			if err != nil {
				t.Fatal(err)
			}
			if want := enginetest.Teasel(t, c.link); got.Digest() != want.Digest() {
				t.Errorf("%s, want %s", got.Link(), want.Link())
			}
			enginetest.WantList(t, "remarks", remarks, c.remarks)
			if a.Spec.Digest() != before {
				t.Error("the answer's own spec was changed")
			}
		})
	}
}

func TestChooseErrors(t *testing.T) {
	e := enginetest.Small()[pack.Buyer]
	a := enginetest.Answer(t, e, enginetest.Teasel(t, "top=top-fixed"))
	for _, c := range []struct {
		option string
		count  int
		want   string
	}{
		{"roof", 1, `choosing: unknown option "roof"`},
		{"pocket", 5, "choosing Side pocket: 5 is not between 0 and 4"},
		{"pocket", -1, "choosing Side pocket: -1 is not between 0 and 4"},
		{"top-fixed", 2, "choosing Fixed top: 2 is not between 0 and 1"},
	} {
		s, _, err := changed(e, a, engine.Choose{Option: c.option, Count: c.count})
		enginetest.WantError(t, err, c.want)
		if s.Digest() != a.Spec.Digest() {
			t.Errorf("%s: the spec was changed", c.option)
		}
	}
	_, _, err := changed(e, a, engine.Empty{Slot: "roof"})
	enginetest.WantError(t, err, `emptying: unknown slot "roof"`)
	_, _, err = e.MoveTo(a.Spec, "reed-65")
	enginetest.WantError(t, err, `hull: unknown hull "reed-65"; the hulls are teasel-48`)
}

// What is kept is chosen: the mark goes with the choice, and stays while another option of the slot is taken.
func TestKeep(t *testing.T) {
	e := enginetest.Small()[pack.Buyer]
	from := enginetest.Teasel(t, "top=top-fixed", "cloth=cloth-heavy", "stowage=pocket", "top!", "cloth!")
	kept := func(what string, s spec.Spec, want ...string) {
		t.Helper()
		enginetest.WantList(t, what, s.Keep, want)
		if _, err := spec.Decode(s.Encode()); err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	a := enginetest.Answer(t, e, from)
	s, _, err := changed(e, a, engine.Choose{Option: "cloth-light", Count: 1})
	if err != nil {
		t.Fatal(err)
	}
	kept("another option", s, "top", "cloth")
	if s, _, err = changed(e, a, engine.Empty{Slot: "top"}); err != nil {
		t.Fatal(err)
	}
	kept("what closes", s, "top")
	kept("released", released(t, e, from, "top"), "cloth")
	if s, err = changedFrom(e, from, engine.Keep{Slot: "stowage", Kept: true}); err != nil {
		t.Fatal(err)
	}
	kept("one more", s, "top", "cloth", "stowage")
	if s, err = changedFrom(e, s, engine.Keep{Slot: "top", Kept: false}); err != nil {
		t.Fatal(err)
	}
	kept("one less", s, "cloth", "stowage")
	strange := from.Clone()
	strange.Choices["roof"], strange.Keep = map[string]int{"thatch": 1}, append(strange.Keep, "roof")
	kept("of another edition", e.Usable(enginetest.Answer(t, e, strange)), "top", "cloth")
	enginetest.WantList(t, "the spec that was asked with", from.Keep, []string{"top", "cloth"})

	_, err = changedFrom(e, from, engine.Keep{Slot: "roof", Kept: true})
	enginetest.WantError(t, err, `keeping a choice: unknown slot "roof"`)
	_, err = changedFrom(e, enginetest.Teasel(t), engine.Keep{Slot: "top", Kept: true})
	enginetest.WantError(t, err, "keeping a choice: nobody chose in Top; choose first")
}

// No repair changes what is kept, and the repaired boat has what was asked for.
func TestPropertyRepairsLeaveWhatIsKept(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	repaired := 0
	rapid.Check(t, func(t *rapid.T) {
		a, err := e.Answer(enginetest.AnySpec(t, e.Pack, 8))
		if err != nil {
			t.Skip(err)
		}
		s := e.Usable(a)
		for slot := range s.Choices {
			if rapid.Bool().Draw(t, "keep") {
				s.Keep = append(s.Keep, slot)
			}
		}
		slices.Sort(s.Keep)
		if a, err = e.Answer(s); err != nil {
			t.Fatal(err)
		}
		if len(a.Build.Clashes) == 0 {
			return
		}
		list, _, err := e.Repairs(a, engine.Want{})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range list {
			repaired++
			if _, err := spec.Decode(r.Spec.Encode()); err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(r.Spec.Keep, s.Keep) {
				t.Fatalf("%v is kept, want %v", r.Spec.Keep, s.Keep)
			}
			for _, slot := range s.Keep {
				if !maps.Equal(r.Spec.Choices[slot], s.Choices[slot]) {
					t.Fatalf("%s was kept and holds %v, want %v", slot, r.Spec.Choices[slot], s.Choices[slot])
				}
			}
		}
	})
	if repaired == 0 {
		t.Error("nothing was ever repaired")
	}
}

func TestEmptyAndRelease(t *testing.T) {
	e := enginetest.Small()[pack.Buyer]
	a := enginetest.Answer(t, e, enginetest.Teasel(t, "top=top-fixed", "cloth=cloth-light", "stowage=pocket"))
	s, remarks, err := changed(e, a, engine.Empty{Slot: "top"})
	if err != nil || s.Digest() != enginetest.Teasel(t, "top=", "stowage=pocket").Digest() {
		t.Errorf("emptied: %s (%v)", s.Link(), err)
	}
	enginetest.WantList(t, "remarks", remarks, []string{"Cloth is set aside: Without a top there is nothing to cover."})
	if r := released(t, e, s, "top"); r.Digest() != enginetest.Teasel(t,
		"stowage=pocket").Digest() || s.Digest() == r.Digest() {
		t.Errorf("released: %s", r.Link())
	}
	if r := released(t, e, s, "roof"); r.Digest() != s.Digest() {
		t.Errorf("released what is not there: %s", r.Link())
	}
}

// A spec moved to another hull leaves what is not made for it to the standard build, and says so.
func TestMoveTo(t *testing.T) {
	e := enginetest.Edited(t, enginetest.Edit{"boat.yaml", "slots:\n",
		"  - id: reed-52\n    title: Reed 52\n    dimensions: {length_m: 5.2, top_m2: 5}\nslots:\n"},
		enginetest.Edit{"boat.yaml", "        title: Fixed top\n", "        title: Fixed top\n        hulls: " +
			"[teasel-48]\n"},
		enginetest.Edit{"boat.yaml", "    need: has(\"top-fixed\")\n",
			"    need: has(\"top-fixed\") or hull.id == \"reed-52\"\n"})[pack.Buyer]
	from := enginetest.Teasel(t, "top=top-fixed", "cloth=cloth-heavy", "stowage=pocket*2")
	s, remarks, err := e.MoveTo(from, "reed-52")
	if err != nil {
		t.Fatal(err)
	}
	want := enginetest.Teasel(t, "cloth=cloth-heavy", "stowage=pocket*2")
	want.Hull = "reed-52"
	if s.Digest() != want.Digest() {
		t.Errorf("%s, want %s", s.Link(), want.Link())
	}
	enginetest.WantList(t, "remarks", msg.English.Texts(remarks), []string{"Fixed top is not made for the Reed 52; " +
		"Top is as in its " +
		"standard build."})
	if a := enginetest.Answer(t, e, s); len(a.Build.Clashes) > 0 || len(a.Notes) > 0 {
		t.Errorf("clashes %v, notes %v", a.Build.Clashes, a.Notes)
	}
	if len(from.Choices) != 3 {
		t.Error("the spec that was moved was changed")
	}
}

func TestUsable(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	s := enginetest.Teasel(t, "top=roof", "stowage=pocket+sack", "rudder=wheel", "cloth=")
	s.Use = map[string]spec.Value{"persons": {Number: 3.4}, "region": {Choice: "mars"}, "speed": {Number: 5}}
	s.Extras = []spec.Extra{{ID: "flag", Title: "Flag"}}
	got := e.Usable(enginetest.Answer(t, e, s))
	want := enginetest.Teasel(t, "stowage=pocket", "cloth=")
	want.Use = map[string]spec.Value{"persons": {Number: 3}, "region": {Choice: "home"}}
	want.Extras = s.Extras
	if got.Digest() != want.Digest() {
		t.Errorf("%s\nwant\n%s", got.Encode(), want.Encode())
	}
	if a := enginetest.Answer(t, e, got); len(a.Notes) > 0 {
		t.Errorf("notes %v", a.Notes)
	}
}

// unknown adds names to a spec that no edition knows.
func unknown(t *rapid.T, s spec.Spec) spec.Spec {
	s = s.Clone()
	if s.Choices == nil {
		s.Choices = map[string]map[string]int{}
	}
	if s.Use == nil {
		s.Use = map[string]spec.Value{}
	}
	if rapid.Bool().Draw(t, "unknown slot") {
		s.Choices["sail"] = map[string]int{"genoa": 1}
	}
	for slot := range s.Choices {
		if rapid.Bool().Draw(t, "unknown option") {
			s.Choices[slot]["nothing-of-ours"] = 2
		}
	}
	for _, field := range []string{"persons", "speed_kn", "water", "wind"} {
		switch rapid.IntRange(0, 3).Draw(t, field) {
		case 0:
			s.Use[field] = spec.Value{Number: rapid.Float64Range(-10, 20).Draw(t, "number")}
		case 1:
			s.Use[field] = spec.Value{Choice: "brackish"}
		}
	}
	return s
}

// What is left of a spec after Usable has no notes, gives the same boat, and is left as it is by a second Usable.
func TestPropertyUsableHasNoNotes(t *testing.T) {
	e := enginetest.Demo()[pack.Show]
	noted := 0
	rapid.Check(t, func(t *rapid.T) {
		a, err := e.Answer(unknown(t, enginetest.AnySpec(t, e.Pack, 6)))
		if err != nil {
			t.Fatal(err)
		}
		noted += len(a.Notes)
		s := e.Usable(a)
		again, err := e.Answer(s)
		if err != nil || len(again.Notes) > 0 {
			t.Fatalf("notes %v (%v)", again.Notes, err)
		}
		if enginetest.BoatText(e, a) != enginetest.BoatText(e,
			again) || enginetest.PriceText(a) != enginetest.PriceText(again) {
			t.Fatalf("%s\nand then\n%s", enginetest.BoatText(e, a), enginetest.BoatText(e, again))
		}
		if !bytes.Equal(e.Usable(again).Encode(), s.Encode()) {
			t.Fatal("it changes again")
		}
	})
	if noted == 0 {
		t.Error("nothing was ever noted")
	}
}

// changed is the spec after a change.
func changed(e *engine.Engine, a *engine.Answer, c engine.Change) (spec.Spec, []string, error) {
	next, remarks, err := e.Apply(a, c)
	if err != nil {
		return a.Spec, nil, err
	}
	return next.Spec, msg.English.Texts(remarks), nil
}

func changedFrom(e *engine.Engine, s spec.Spec, c engine.Change) (spec.Spec, error) {
	a, err := e.Answer(s)
	if err != nil {
		return s, err
	}
	s, _, err = changed(e, a, c)
	return s, err
}

func released(t *testing.T, e *engine.Engine, s spec.Spec, slot string) spec.Spec {
	t.Helper()
	s, err := changedFrom(e, s, engine.Release{Slot: slot})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// anyChange draws one change of a boat, with the option that it puts in so many times, or -1.
func anyChange(t *rapid.T, e *engine.Engine, a *engine.Answer) (c engine.Change, option, count int) {
	slot := e.Pack.Slots[rapid.IntRange(0, len(e.Pack.Slots)-1).Draw(t, "slot")]
	switch rapid.IntRange(0, 13).Draw(t, "change") {
	case 13:
		s := a.Spec.Clone()
		s.Use = enginetest.AnySpec(t, e.Pack, 0).Use
		return engine.Whole{Spec: s}, -1, 0
	case 12:
		return engine.Whole{Spec: enginetest.WithDealing(t, e.Pack, bare(a.Spec.Clone()))}, -1, 0
	case 10, 11:
		if chosen := slices.Sorted(maps.Keys(a.Spec.Choices)); len(chosen) > 0 {
			return engine.Keep{Slot: rapid.SampledFrom(chosen).Draw(t, "chosen"),
				Kept: rapid.Bool().Draw(t, "keep")}, -1, 0
		}
		return engine.Whole{Spec: a.Spec}, -1, 0
	case 0:
		return engine.Hull{ID: e.Pack.Hulls[rapid.IntRange(0, len(e.Pack.Hulls)-1).Draw(t, "hull")].ID}, -1, 0
	case 1:
		return engine.Release{Slot: slot.ID}, -1, 0
	case 2, 3:
		return engine.Empty{Slot: slot.ID}, -1, 0
	}
	option = rapid.IntRange(slot.First, slot.End-1).Draw(t, "option")
	count = rapid.IntRange(0, e.Pack.Options[option].Most).Draw(t, "count")
	return engine.Choose{Option: e.Pack.Options[option].ID, Count: count}, option, count
}

// What is kept from one answer to the next is what would be computed from nothing.
func TestPropertyApplyIsAnsweringAnew(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	rapid.Check(t, func(t *rapid.T) {
		a, err := e.Answer(enginetest.AnySpec(t, e.Pack, 3))
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 6).Draw(t, "changes") {
			c, _, _ := anyChange(t, e, a)
			next, _, err := e.Apply(a, c)
			if err != nil {
				continue // the deal comes to nothing, say
			}
			anew, err := e.Answer(next.Spec)
			if err != nil {
				t.Fatal(err)
			}
			if text, want := answerText(e, next), answerText(e, anew); text != want {
				t.Fatalf("after %T%+v\n%s\nanew\n%s", c, c, text, want)
			}
			a = next
		}
	})
}

// answerText writes all that is in an answer.
func answerText(e *engine.Engine, a *engine.Answer) string {
	costs, err := json.Marshal([]any{a.Work, a.StandardWork, a.Cost, a.Margin, a.Warnings, a.Notes, a.Build.Choices,
		a.Build.Status,
		a.Build.State.Figures, a.Standard.State.Figures, a.Standard.State.Counts})
	if err != nil {
		panic(err)
	}
	return enginetest.BoatText(e, a) + enginetest.PriceText(a) + string(costs)
}

// However a boat is changed, step by step, it is answered; what is chosen is in the boat, and the spec travels in a
// file and a link.
func TestPropertyChangesKeepTheBoatWhole(t *testing.T) {
	e := enginetest.Demo()[pack.Show]
	rapid.Check(t, func(t *rapid.T) {
		a, err := e.Answer(enginetest.AnySpec(t, e.Pack, 3))
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 5).Draw(t, "changes") {
			c, option, count := anyChange(t, e, a)
			next, _, err := e.Apply(a, c)
			if err != nil {
				continue // a deal that comes to nothing
			}
			a = next
			s := a.Spec
			if len(a.Notes) > 0 {
				t.Fatalf("notes %v", a.Notes)
			}
			enginetest.WantAddsUp(t, e.Pack, a.Price)
			if option >= 0 && a.Build.State.Counts[option] != count {
				t.Fatalf("%s is in the boat %d times, want %d: %v", e.Pack.Options[option].ID,
					a.Build.State.Counts[option], count, a.Build.Clashes)
			}
			for _, slot := range s.Keep {
				if _, chosen := s.Choices[slot]; !chosen {
					t.Fatalf("%s is kept, and nobody chose in it", slot)
				}
			}
			if back, damage := spec.FromLink(s.Link()); len(damage) > 0 || back.Digest() != bare(s.Clone()).Digest() {
				t.Fatalf("the link %s: %v", s.Link(), damage)
			}
			if back, err := spec.Decode(s.Encode()); err != nil || back.Digest() != s.Digest() {
				t.Fatal(err)
			}
		}
	})
}

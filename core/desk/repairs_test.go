package desk_test

import (
	"maps"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/fit"
	"ribband/core/pack"
)

// blocked is an option that the boat of a page blocks, with a repair.
func blocked(t *testing.T, v *visitor) string {
	t.Helper()
	now := v.desk.View()
	for o := range now.Engine.Pack.Options {
		if now.Engine.Alternatives(now.Answer).Option(now.Engine, o).Status != fit.Blocked {
			continue
		}
		id := v.desk.View().Engine.Pack.Options[o].ID
		v.does(desk.Request{Act: "reason", Option: id})
		if len(v.desk.View().Asked.Repairs) > 0 {
			return id
		}
	}
	t.Fatal("nothing is blocked that can be repaired")
	return ""
}

// A blocked option says why when it is asked, one at a time, and a repair puts it into the boat.
func TestReasonAndRepair(t *testing.T) {
	v := opened(t, small()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "top-folding"})
	if strings.Contains(v.page, `class="reason"`) {
		t.Error("a reason stands there before it is asked for")
	}
	r := v.does(desk.Request{Act: "reason", Option: "cloth-heavy"})
	if got := ids(r); len(got) != 1 || !got["choices-cloth"] {
		t.Errorf("asking changes %v", got)
	}
	if want := "Why Heavy coated cloth cannot be had: shown below it, with "; !strings.HasPrefix(r.Announcement, want) {
		t.Errorf("spoken %q", r.Announcement)
	}
	for _, words := range []string{"<p>These choices</p>", "Cloth: Heavy coated cloth", "Top: Folding top",
		"<p>and these rules</p>", "The heavy cloth cracks where it is folded. Take the light cloth, or a fixed top.",
		"cannot be combined; drop any one.", "Top: Fixed top in place of Folding top.", `aria-expanded="true"`} {
		v.says("choices-cloth", words)
	}
	r = v.does(desk.Request{Act: "repair", Option: "cloth-heavy", Key: "0"})
	if got := v.spec().Choices; got["cloth"]["cloth-heavy"] != 1 || got["top"]["top-folding"] != 0 ||
		!strings.Contains(r.Announcement, "Changed: Top: Fixed top in place of Folding top.") {
		t.Errorf("spec %s, spoken %q", r.Spec, r.Announcement)
	}
	v.says("remarks", "Changed: ")
	if v.desk.View().Asked != nil || len(v.desk.View().Answer.Build.Clashes) > 0 {
		t.Errorf("the answer is still open, or the boat clashes: %v", v.desk.View().Answer.Build.Clashes)
	}
}

// The answer closes when it is asked once more, and when the boat changes; then its repairs are refused.
func TestReasonCloses(t *testing.T) {
	v := opened(t, small()[pack.Show])
	v.does(desk.Request{Act: "choose", Option: "top-folding"})
	before := maps.Clone(v.shown)
	v.does(desk.Request{Act: "reason", Option: "cloth-heavy"})
	v.does(desk.Request{Act: "reason", Option: "cloth-heavy"})
	if !maps.Equal(v.shown, before) {
		t.Error("closed, the page is not as it was")
	}
	v.does(desk.Request{Act: "reason", Option: "cloth-heavy"})
	v.does(desk.Request{Act: "units", Value: "us"})
	v.says("choices-cloth", `class="reason"`) // the boat is the same
	v.fails(desk.Request{Act: "repair", Option: "cloth-heavy", Key: "7"}, "There is no such change")
	v.fails(desk.Request{Act: "repair", Option: "cloth-heavy", Key: "-1"}, "There is no such change")
	v.fails(desk.Request{Act: "repair", Option: "cloth-light", Key: "0"}, "for an earlier boat")
	v.does(desk.Request{Act: "extra", Form: map[string]string{"title": "Name", "basis": "net", "price": "100"}})
	if strings.Contains(v.page, `class="reason"`) {
		t.Error("the answer is open beside another boat")
	}
	v.fails(desk.Request{Act: "repair", Option: "cloth-heavy", Key: "0"},
		"This change was for an earlier boat; ask again how to change it.")
	v.fails(desk.Request{Act: "reason", Option: "cloth-light"}, "Light acrylic cloth is not blocked on this boat")
	v.fails(desk.Request{Act: "reason", Option: "thatch"}, `unknown option "thatch"`)
	v.fails(desk.Request{Act: "reason"}, "This boat can be built: there is nothing to change.")
}

// A boat that clashes is repaired as a whole.
func TestRepairOfAClashingBoat(t *testing.T) {
	v := opened(t, small()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "top-folding"})
	v.does(desk.Request{Act: "choose", Option: "cloth-heavy"})
	r := v.does(desk.Request{Act: "reason"})
	if got := ids(r); len(got) != 1 || !got["clashes"] ||
		!strings.HasPrefix(r.Announcement, "Why this boat cannot be built: shown below it, with ") {
		t.Errorf("asking changes %v, spoken %q", got, r.Announcement)
	}
	v.says("clashes", "cannot be combined; drop any one.")
	v.does(desk.Request{Act: "repair", Key: "0"})
	if v.shown["clashes"] != "" {
		t.Errorf("it still clashes: %s", v.shown["clashes"])
	}
}

// Every repair that is offered on the demo boats leaves a boat without clashes that holds the option, at the price that
// stood beside it.
func TestRepairsOfTheDemoBook(t *testing.T) {
	v := opened(t, demo()[pack.Yard])
	v.does(desk.Request{Act: "hull", Value: "reed-65"})
	v.does(desk.Request{Act: "choose", Option: "top-canopy"})
	option := blocked(t, v)
	ways := v.desk.View().Asked.Repairs
	if hours := regexp.MustCompile(`id="effects-repair-\d"`); !hours.MatchString(v.page) {
		t.Error("no repair has figures or hours beside it")
	}
	goods := v.desk.View().Answer.Price.Goods
	for i, way := range ways {
		if v.desk.View().Asked == nil {
			v.does(desk.Request{Act: "reason", Option: option})
		}
		v.does(desk.Request{Act: "repair", Option: option, Key: string(rune('0' + i))})
		a := v.desk.View().Answer
		if len(a.Build.Clashes) > 0 || !a.Price.Goods.Sub(goods).Equal(way.Effect.Price()) {
			t.Errorf("%s by %v: %s, want %s; clashes %v", option, way.Changes, a.Price.Goods.Sub(goods),
				way.Effect.Price(),
				a.Build.Clashes)
		}
		for o, def := range v.desk.View().Engine.Pack.Options {
			if def.ID == option && a.Build.State.Counts[o] == 0 {
				t.Errorf("%s is not in the boat that %v repairs", option, way.Changes)
			}
		}
		v.does(desk.Request{Act: "undo"})
	}
}

// What is kept is marked, travels in the link, and no repair touches it.
func TestKeep(t *testing.T) {
	v := opened(t, small()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "top-folding"})
	total := v.desk.View().Answer.Build
	r := v.does(desk.Request{Act: "keep", Slot: "top", Checked: true})
	if got := v.spec().Keep; len(got) != 1 || got[0] != "top" || !strings.Contains(r.Link, "/top!/") ||
		!strings.HasPrefix(r.Announcement, "Top is locked.") || v.desk.View().Answer.Build != total {
		t.Errorf("spec %s, link %q, spoken %q", r.Spec, r.Link, r.Announcement)
	}
	v.says("line-top", `<span class="kept"> locked</span>`)
	if again := visit(t, small()[pack.Buyer]); again.does(desk.Request{Act: "open", Link: r.Link}).Spec != r.Spec {
		t.Error("the link opens to another boat")
	}
	v.does(desk.Request{Act: "reason", Option: "cloth-heavy"})
	v.says("choices-cloth", "There is no solution while the locked choices stay.")
	v.does(desk.Request{Act: "keep", Slot: "top"})
	if len(v.spec().Keep) > 0 || v.desk.View().Asked != nil || strings.Contains(v.page, `class="kept"`) {
		t.Errorf("spec %s", v.last.Spec)
	}
	v.does(desk.Request{Act: "keep", Slot: "top", Checked: true})
	v.does(desk.Request{Act: "standard", Slot: "top"})
	if len(v.spec().Keep) > 0 {
		t.Errorf("spec %s", v.last.Spec)
	}
	v.fails(desk.Request{Act: "keep", Slot: "top", Checked: true},
		"Keeping a choice: nobody chose in Top; choose first.")
	v.fails(desk.Request{Act: "keep", Slot: "roof", Checked: true}, `unknown slot "roof"`)
}

// Where no other choice helps, another use does, and a hull that has what this one has not: each is one press.
func TestWaysByUseAndHull(t *testing.T) {
	for hull, option := range map[string]string{"reed-65": "top-hard", "sedge-46": "top-hard"} {
		v := opened(t, demo()[pack.Buyer])
		v.does(desk.Request{Act: "hull", Value: hull})
		v.does(desk.Request{Act: "use", Field: "bridge_m", Value: "1.6"})
		v.does(desk.Request{Act: "reason", Option: option})
		asked := v.desk.View().Asked
		if len(asked.Others) == 0 {
			t.Fatalf("%s: %s has no way out", hull, option)
		}
		v.says("choices-top", "With another use of the boat, or another hull:")
		for i := range asked.Others {
			if v.desk.View().Asked == nil {
				v.does(desk.Request{Act: "reason", Option: option})
			}
			v.does(desk.Request{Act: "repair", Option: option, Key: strconv.Itoa(len(asked.Repairs) + i)})
			a := v.desk.View().Answer
			if len(a.Build.Clashes) > 0 || a.Spec.Choices["top"][option] != 1 {
				t.Errorf("%s by %v: clashes %v", option, asked.Others[i].Changes, a.Build.Clashes)
			}
			v.does(desk.Request{Act: "undo"})
		}
	}
}

// A slot that cannot be left empty says why, like an option.
func TestEmptyRowCanBeAsked(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	v.does(desk.Request{Act: "use", Field: "region", Value: "us"}) // where a short boat has to have foam
	now := v.desk.View()
	for s := range now.Engine.Pack.Slots {
		def := &now.Engine.Pack.Slots[s]
		x := now.Engine.Alternatives(now.Answer).Slot(s).Empty
		if x == nil || x.Status != fit.Blocked {
			continue
		}
		v.says("choices-"+def.ID, `id="ask-none-`+def.ID+`"`)
		v.does(desk.Request{Act: "reason", Slot: def.ID})
		v.says("choices-"+def.ID, `id="reason-none-`+def.ID+`"`)
		if !strings.Contains(v.last.Announcement, "cannot be left empty") {
			t.Errorf("spoken %q", v.last.Announcement)
		}
		v.fails(desk.Request{Act: "reason", Slot: "roof"}, `unknown slot "roof"`)
		return
	}
	t.Fatal("every slot can be left empty")
}

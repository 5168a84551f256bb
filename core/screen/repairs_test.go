package screen_test

import (
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/screen"
	"ribband/core/spec"
)

// Every blocked option can be asked why, and nothing else; where nobody asked there is no answer.
func TestBlockedOptionsCanBeAsked(t *testing.T) {
	for name, v := range pages() {
		asks := map[string]*element{}
		for _, b := range v.page.all("button") {
			if b.attr["data-act"] == "reason" && b.attr["data-slot"] == "" {
				asks[b.attr["data-option"]] = b
			}
		}
		for o := range v.Engine.Pack.Options {
			verdict := alternative(v.View, o)
			id := v.Engine.Pack.Options[o].ID
			button := asks[id]
			no := verdict.Status == fit.Blocked || verdict.Status == fit.Absent &&
				v.Engine.Exists(v.Engine.Pack.Options[o].Slot, v.Answer.Hull)
			if (button != nil) != no {
				t.Errorf("%s: %s is %s, and can be asked: %v", name, id, verdict.Status, button != nil)
			}
			if button != nil && (button.attr["aria-expanded"] != "false" ||
				button.attr["aria-describedby"] != "why-option-"+id) {
				t.Errorf("%s: the button of %s says %v", name, id, button.attr)
			}
		}
		if (asks[""] != nil) != (len(v.Answer.Build.Clashes) > 0) {
			t.Errorf("%s: the boat clashes %v, and can be asked: %v", name, v.Answer.Build.Clashes, asks[""] != nil)
		}
	}
}

// plainly are texts of the book as messages.
func plainly(texts ...string) (list []msg.Message) {
	for _, t := range texts {
		list = append(list, msg.Plain(t))
	}
	return list
}

// What the answer says in each case.
func TestAnswerInWords(t *testing.T) {
	net := engine.Effect{{Known: true}, {Known: true, Number: 10}, {Known: true}, {Known: true}, {Known: true}, {}}
	way := []engine.Repair{{Changes: plainly("Top: Fixed top in place of Folding top",
		"Cloth is set aside: There is nothing to cover."), Effect: net}}
	reason := func(choices, rules int, smallest bool) *engine.Reason {
		return &engine.Reason{Choices: plainly("Top: Folding top", "Cloth: Heavy")[:choices],
			Rules:    []fit.Clash{{Reason: msg.Plain("It cracks."), Advice: msg.Plain("Take another.")}}[:rules],
			Smallest: smallest}
	}
	for name, c := range map[string]struct {
		asked screen.Asked
		keep  bool
		want  string
	}{
		"proved": {screen.Asked{Reason: reason(2, 1, true), Repairs: way, All: true}, false,
			"These choicesTop: Folding topCloth: Heavyand these rulesIt cracks. Take another.cannot be combined; " +
				"drop any one.How to change itTop: Fixed top in place of Folding top. Cloth is set aside: There is " +
				"nothing to cover.+0.00Weight +10 kgMake this changeThere is no other solution with as few " +
				"changes."},
		"more ways": {screen.Asked{Reason: reason(1, 1, false), Repairs: way}, false,
			"cannot be combined.How to change itTop: Fixed top in place of Folding top. Cloth is set aside: There " +
				"is nothing to cover.+0.00Weight +10 kgMake this changeThere may be other solutions."},
		"by the rules": {screen.Asked{Reason: reason(0, 1, true), All: true}, false,
			"These rulesIt cracks. Take another.cannot be combined; drop any one.How to change itNo change to " +
				"other choices makes it possible."},
		"by the choices": {screen.Asked{Reason: reason(2, 0, true), All: true}, true,
			"These choicesTop: Folding topCloth: Heavycannot be combined; drop any one.How to change itThere is no " +
				"solution while the locked choices stay."},
		"nothing is proved": {screen.Asked{}, false,
			"No boat was found with all of this. What is said above is what the nearest one breaks.How to change it" +
				"No solution found in the time allowed."},
	} {
		t.Run(name, func(t *testing.T) {
			v := view(t, engines()[pack.Buyer], demoSpecs()["clash-bank-too-heavy"])
			if c.keep {
				v.Answer.Spec.Keep = []string{"bank"}
			}
			v.Asked = &c.asked
			answer := fragment(t, v, "clashes").byID("reason-boat")
			if got := strings.ReplaceAll(answer.text, "\u00a0", " "); !strings.HasSuffix(got, c.want) {
				t.Errorf("it says %q, want %q", got, c.want)
			}
			if b := answer.byID("repair-0"); (b != nil) != (len(c.asked.Repairs) > 0) || b != nil &&
				(b.attr["data-key"] != "0" || answer.byID(b.attr["aria-describedby"]) == nil) {
				t.Errorf("the button of the repair says %v", b)
			}
		})
	}
}

// A page with an answer open is as sound as any other.
func TestAnswerUnderItsOption(t *testing.T) {
	v := view(t, engines()[pack.Yard], demoSpecs()["reed-65-fullest"])
	for o := range v.Engine.Pack.Options {
		verdict := alternative(v, o)
		id := v.Engine.Pack.Options[o].ID
		if verdict.Status != fit.Blocked {
			continue
		}
		reason, err := v.Engine.Reason(v.Answer, engine.Want{Option: id})
		if err != nil {
			t.Fatal(err)
		}
		repairs, all, err := v.Engine.Repairs(v.Answer, engine.Want{Option: id})
		if err != nil {
			t.Fatal(err)
		}
		if len(repairs) < 2 {
			continue
		}
		v.Asked = &screen.Asked{Want: engine.Want{Option: id}, Reason: reason, Repairs: repairs, All: all}
		page := parse(t, v.Page())
		answer := page.byID("reason-option-" + id)
		if answer == nil || page.byID("ask-option-" + id).attr["aria-expanded"] != "true" ||
			len(answer.all("button")) != len(repairs) {
			t.Fatalf("%s: %v", id, answer)
		}
		seen := map[string]bool{}
		for _, e := range page.all() {
			if to := e.attr["id"]; to != "" && seen[to] {
				t.Errorf("the id %q is there twice", to)
			} else {
				seen[to] = true
			}
		}
		for _, b := range answer.all("button") {
			if b.attr["data-option"] != id || page.byID(b.attr["aria-describedby"]) == nil {
				t.Errorf("a button says %v", b.attr)
			}
		}
		return
	}
	t.Fatal("no option has two repairs")
}

// What is kept is marked on its line, in the ledger, and in its slot.
func TestKeptIsMarked(t *testing.T) {
	s := demoSpecs()["reed-65-fullest"].Clone()
	s.Keep = []string{"bank"}
	v := view(t, engines()[pack.Buyer], s)
	page := parse(t, v.Page())
	kept := 0
	for _, e := range page.all("span") {
		if e.attr["class"] == "kept" {
			kept++
		}
	}
	if _, checked := page.byID("keep-bank").attr["checked"]; !checked || kept != 2 ||
		!strings.HasSuffix(page.byID("line-bank").all("span")[1].text, " locked") {
		t.Errorf("it is checked %v and marked %d times", checked, kept)
	}
	v = view(t, engines()[pack.Buyer], spec.Spec{Format: spec.Format, Hull: "reed-65"})
	if strings.Contains(v.Page(), `id="keep-`) {
		t.Error("what nobody chose can be kept")
	}
}

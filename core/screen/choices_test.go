package screen_test

import (
	"strings"
	"testing"

	"ribband/core/fit"
	"ribband/core/pack"
)

// What cannot be had cannot be chosen, and says why; what can be had says what it costs.
func TestBlockedOptionsNameTheirReason(t *testing.T) {
	blocked, open, absent := 0, 0, 0
	for name, v := range pages() {
		page := v.page
		for o := range v.Engine.Pack.Options {
			verdict := alternative(v.View, o)
			opt := v.Engine.Pack.Options[o]
			control := page.byID("option-" + opt.ID)
			exists := v.Engine.Pack.Exists(opt.Slot, v.Answer.Hull)
			if shown := control != nil; shown != exists {
				t.Errorf("%s: %s is %s, and its control is there: %v", name, opt.ID, verdict.Status, shown)
			}
			if control == nil {
				continue
			}
			disabled := control.attr["aria-disabled"] == "true"
			why := page.byID("why-option-" + opt.ID)
			switch verdict.Status {
			case fit.Blocked:
				blocked++
				if !disabled || why == nil || !strings.HasPrefix(why.text, readable(verdict.Why.Reason.String())) ||
					control.attr["aria-describedby"] != why.attr["id"] {
					t.Errorf("%s: %s is blocked, disabled %v, and says %v", name, opt.ID, disabled, why)
				}
			case fit.Absent:
				absent++
				if !disabled || why == nil || !strings.HasPrefix(why.text, "Not made for the ") ||
					control.attr["aria-describedby"] != why.attr["id"] {
					t.Errorf("%s: %s is not made, disabled %v, and says %v", name, opt.ID, disabled, why)
				}
			case fit.Open:
				open++
				if amount := rowOf(control); disabled || why != nil || !strings.HasPrefix(amount, "+") &&
					!strings.HasPrefix(amount, "\u2212") {
					t.Errorf("%s: %s is open, disabled %v, costs %q", name, opt.ID, disabled, amount)
				}
			}
		}
	}
	if blocked < 20 || open < 100 || absent < 20 {
		t.Errorf("only %d blocked, %d open and %d absent options were looked at", blocked, open, absent)
	}
}

// A cushion stands in section beside its name, which says nothing to who hears the page, and its layers in words.
func TestCushionsStandInSection(t *testing.T) {
	drawn := 0
	for name, v := range pages() {
		for _, opt := range v.Engine.Pack.Options {
			control := v.page.byID("option-" + opt.ID)
			if control == nil || opt.Cushion == nil {
				continue
			}
			var sections, words int
			for _, s := range control.parent.all("svg") {
				if s.attr["class"] == "cushion" && s.attr["aria-hidden"] == "true" {
					sections++
				}
			}
			for _, s := range control.parent.all("span") {
				if s.attr["class"] == "note" && strings.Contains(s.text, " foam, ") {
					words++
				}
			}
			if sections != 1 || words != 1 {
				t.Errorf("%s: %s has %d sections and %d lines of words", name, opt.ID, sections, words)
			}
			drawn++
		}
	}
	if drawn < 20 {
		t.Errorf("only %d cushions were looked at", drawn)
	}
}

// rowOf is the amount in the row of a control.
func rowOf(control *element) string {
	for _, s := range control.parent.all("span") {
		if s.attr["class"] == "amount" {
			return s.text
		}
	}
	return ""
}

// In every slot of one, what stands in the boat is marked, and at most one is.
func TestWhatIsInTheBoatIsMarked(t *testing.T) {
	for name, v := range pages() {
		for s, def := range v.Engine.Pack.Slots {
			checked := map[string]bool{}
			for _, e := range v.page.byID("choices-" + def.ID).all("input") {
				if _, ok := e.attr["checked"]; ok {
					checked[e.attr["id"]] = true
				}
				if e.attr["type"] == "number" && e.attr["value"] != "0" {
					checked[e.attr["id"]] = true
				}
			}
			want := 0
			for o := def.First; o < def.End; o++ {
				if v.Answer.Build.State.Counts[o] > 0 {
					want++
					if !checked["option-"+v.Engine.Pack.Options[o].ID] {
						t.Errorf("%s: %s is in the boat and not marked", name, v.Engine.Pack.Options[o].ID)
					}
				}
			}
			if v.Engine.Alternatives(v.Answer).Slot(s).Empty != nil && v.Answer.Build.State.Slots[s] == 0 &&
				v.Engine.Pack.Exists(s, v.Answer.Hull) {
				want++
			}
			if len(checked) != want {
				t.Errorf("%s: in %s %v are marked, want %d", name, def.ID, checked, want)
			}
		}
	}
}

// A boat that clashes says so with its reason, and offers to let go of what a person chose.
func TestClashesCanBeLetGo(t *testing.T) {
	for name, reason := range map[string]string{
		"clash-us-without-foam":         "must stay afloat",
		"clash-bank-too-heavy":          "battery locker",
		"clash-enclosure-without-frame": "needs a fixed frame",
	} {
		v := view(t, engines()[pack.Buyer], demoSpecs()[name])
		clashes := fragment(t, v, "clashes")
		if !strings.Contains(clashes.text, reason) || !strings.Contains(v.Announcement(), "cannot be built") ||
			!strings.Contains(fragment(t, v, "bar").text, "Cannot be built") {
			t.Errorf("%s: it says %q and %q", name, clashes.text, v.Announcement())
		}
		if name == "clash-us-without-foam" {
			continue // nothing stands in the slot: it is opened by hand
		}
		offered := false
		for _, b := range clashes.all("button") {
			_, settled := demoSpecs()[name].Choices[b.attr["data-slot"]]
			offered = offered || settled && b.attr["data-act"] == "standard"
		}
		if !offered {
			t.Errorf("%s: nothing is offered to let go of", name)
		}
	}
	if v := view(t, engines()[pack.Buyer], standard("reed-65")); fragment(t, v, "clashes").text != "" {
		t.Error("the standard build clashes")
	}
}

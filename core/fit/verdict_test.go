package fit_test

import (
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/pack"
)

// wish is a boat with its verdicts.
func wish(t *testing.T, slots []slot, rules []pack.Rule, texts ...string) (*pack.Pack, []fit.Verdict, []*fit.Verdict) {
	t.Helper()
	p, f := boats(t, slots, rules)
	options, empty := f.Verdicts(complete(p, f, short, texts...))
	return p, options, empty
}

func wantStatus(t *testing.T, p *pack.Pack, options []fit.Verdict, want map[string]fit.Availability) {
	t.Helper()
	for id, status := range want {
		if got := options[option(p, id)].Status; got != status {
			t.Errorf("%s is %s, want %s", id, got, status)
		}
	}
}

func TestVerdicts(t *testing.T) {
	slots := []slot{
		one("drive", "shaft", "pod", "jet").optionHulls("jet", long),
		one("steering", "wheel", "tiller"),
		atMostOne("top", "folding", "hard"),
		atMostOne("mast", "pole"),
		multiple("gear", 0, 3, "fender*4", "anchor"),
	}
	rules := []pack.Rule{
		rule("o1", "o3", "A pod steers by wheel."),
		rule("o6", "o4 !", "The hard top is in the way of the tiller."),
		rule("o7", "o6", "The pole stands on the hard top."),
	}
	p, options, empty := wish(t, slots, rules, "steering=tiller", "gear=fender*2")
	wantStatus(t, p, options, map[string]fit.Availability{
		"shaft": fit.Forced, "pod": fit.Blocked, "jet": fit.Absent,
		"tiller": fit.Chosen, "wheel": fit.Open,
		"folding": fit.Open, "hard": fit.Blocked,
		"pole": fit.Blocked, "fender": fit.Chosen, "anchor": fit.Open,
	})
	for id, want := range map[string]struct {
		reason   string
		blockers []string
	}{
		"pod":  {"A pod steers by wheel.", []string{"tiller"}},
		"hard": {"The hard top is in the way of the tiller.", []string{"tiller"}},
		"pole": {"The hard top is in the way of the tiller.", []string{"tiller"}}, // whatever top is under it
	} {
		v := options[option(p, id)]
		if v.Why == nil || v.Build == nil {
			t.Errorf("%s has no reason or no boat", id)
			continue
		}
		if id != "pole" && v.Why.Reason.String() != want.reason {
			t.Errorf("%s: %q, want %q", id, v.Why.Reason, want.reason)
		}
		if got := names(p, v.Blockers); id != "pole" && !slices.Equal(got, want.blockers) {
			t.Errorf("%s is blocked by %v, want %v", id, got, want.blockers)
		}
		if v.Build.Build().State.Counts[option(p, id)] != 1 {
			t.Errorf("%s is not in its own boat", id)
		}
	}
	for slot, want := range []fit.Availability{2: fit.Chosen, 3: fit.Chosen, 4: ""} {
		switch v := empty[slot]; {
		case v == nil && want != "":
			t.Errorf("leaving %s empty has no verdict", p.Slots[slot].ID)
		case v != nil && v.Status != want:
			t.Errorf("leaving %s empty is %s, want %q", p.Slots[slot].ID, v.Status, want)
		}
	}
}

// The boat of an open verdict has what it needs, soft slots adapted.
func TestOpenVerdictAdaptsSoftSlots(t *testing.T) {
	slots := []slot{one("drive", "shaft", "pod"), one("steering", "tiller", "wheel")}
	p, options, _ := wish(t, slots, []pack.Rule{rule("o1", "o3", "A pod steers by wheel.")})
	v := options[option(p, "pod")]
	if v.Status != fit.Open || v.Why != nil || len(v.Blockers) > 0 {
		t.Fatalf("verdict %+v", v)
	}
	wantBoat(t, p, v.Build.Build(), "pod wheel")
}

func TestForcedVerdicts(t *testing.T) {
	// A slot of one with one option; a slot of one whose other option is blocked; a slot of at most one that must be
	// filled.
	slots := []slot{one("keel", "bar"), one("drive", "shaft", "pod"), atMostOne("top", "folding"),
		multiple("gear", 0, 3, "fender*3", "line"), multiple("lights", 1, 2, "lamp")}
	rules := []pack.Rule{rule("o1", "T", "Yes."), rule("o2", "F", "No pod now."), rule("", "o3", "A top is needed."),
		rule("", "c4 n2 < !", "Two fenders are needed.")}
	p, options, empty := wish(t, slots, rules, "gear=fender*2+line")
	wantStatus(t, p, options, map[string]fit.Availability{"bar": fit.Forced, "shaft": fit.Forced, "pod": fit.Blocked,
		"folding": fit.Forced, "fender": fit.Forced, "line": fit.Chosen, "lamp": fit.Forced})
	if v := empty[slotOf(p, "top")]; v == nil || v.Status != fit.Blocked ||
		v.Why.Reason.String() != "A top is needed." {
		t.Errorf("leaving the top is %+v", v)
	}
	for _, id := range []string{"keel", "drive", "gear", "lights"} {
		if empty[slotOf(p, id)] != nil {
			t.Errorf("leaving %s empty has a verdict", id)
		}
	}
}

// An option that could take the place of another of its slot is not forced, and leaving the slot is an alternative too.
func TestChosenIsNotForced(t *testing.T) {
	p, options, empty := wish(t, []slot{one("colour", "white", "green"), atMostOne("top", "folding")}, nil,
		"top=folding")
	wantStatus(t, p, options, map[string]fit.Availability{"white": fit.Chosen, "green": fit.Open,
		"folding": fit.Chosen})
	if v := empty[1]; v.Status != fit.Open || contents(p, v.Build.Build().State.Counts) != "white" {
		t.Errorf("leaving the top is %s", v.Status)
	}
}

// Clashes that the boat has already do not block anything else.
func TestClashThatIsThereDoesNotBlock(t *testing.T) {
	slots := []slot{one("drive", "shaft", "pod"), one("steering", "wheel", "tiller"), one("colour", "white", "green")}
	rules := []pack.Rule{rule("o1", "o2", "A pod steers by wheel."), rule("o5", "o3 !", "No green tiller.")}
	p, options, _ := wish(t, slots, rules, "drive=pod", "steering=tiller")
	wantStatus(t, p, options, map[string]fit.Availability{"shaft": fit.Open, "pod": fit.Chosen, "wheel": fit.Open,
		"white": fit.Forced, "green": fit.Blocked})
	if got := names(p, options[option(p, "green")].Blockers); !slices.Equal(got, []string{"tiller"}) {
		t.Errorf("green is blocked by %v", got)
	}
}

// Soft options are no blockers: nobody chose them.
func TestBlockersAreSettled(t *testing.T) {
	slots := []slot{one("motor", "small").carries("small", "n400"), atMostOne("top", "hard").carries("hard", "n200"),
		atMostOne("chest", "icebox").carries("icebox", "n200")}
	p, options, _ := wish(t, slots, []pack.Rule{rule("", "f0 n1000 {", "1000 kg at most.")}, "chest=icebox")
	v := options[option(p, "hard")]
	if v.Status != fit.Blocked || !slices.Equal(names(p, v.Why.Options), []string{"small", "hard", "icebox"}) ||
		!slices.Equal(names(p, v.Blockers), []string{"icebox"}) {
		t.Errorf("hard is %s by %v of %v", v.Status, names(p, v.Blockers), names(p, v.Why.Options))
	}
}

// In a slot that is full another option is blocked by what is in it.
func TestVerdictInAFullSlotOfMultiple(t *testing.T) {
	p, options, _ := wish(t, []slot{multiple("gear", 0, 2, "fender*2", "line")}, nil, "gear=fender*2")
	v := options[option(p, "line")]
	if v.Status != fit.Blocked || v.Why.Reason.String() != "Slot gear: at most 2 fit; there are 3." ||
		!slices.Equal(names(p, v.Blockers), []string{"fender"}) {
		t.Errorf("line is %s: %+v", v.Status, v)
	}
}

// An option in a slot that is closed now is blocked for the reason of the slot, unless the soft slots can open it.
func TestVerdictInAClosedSlot(t *testing.T) {
	slots := []slot{atMostOne("top", "folding"), atMostOne("cloth", "light").when("s0", "Nothing to cover.")}
	p, options, _ := wish(t, slots, nil, "top=")
	if v := options[option(p, "light")]; v.Status != fit.Blocked || v.Why.Kind != fit.Closed ||
		v.Why.Reason.String() != "Nothing to cover." {
		t.Errorf("light is %s: %+v", v.Status, v.Why)
	}
	p, options, _ = wish(t, slots, nil)
	if v := options[option(p, "light")]; v.Status != fit.Open ||
		contents(p, v.Build.Build().State.Counts) != "folding light" {
		t.Errorf("light is %s", v.Status)
	}
}

package fit_test

import (
	"slices"
	"testing"

	"ribband/core/fit"
)

func deckSlots() []slot {
	return []slot{
		atMostOne("top", "folding", "fixed"),
		one("cloth", "light", "heavy").when("s0", "Without a top there is nothing to cover."),
		atMostOne("windows", "clear", "tinted").when("s1", "Windows are sewn into the cloth."),
		one("colour", "white", "green"),
		multiple("gear", 0, 6, "fender*4", "line*2"),
	}
}

// A change sets aside what it closes: soft again, with nothing in it. The rest stays settled.
func TestChangeSetsAside(t *testing.T) {
	p, f := boats(t, deckSlots(), nil)
	b := complete(p, f, short, "top=fixed", "cloth=heavy", "colour=green")
	changed := f.Change(b, f.Without(b, slotOf(p, "top")), fit.DefaultTries)
	wantBoat(t, p, changed, "green")
	if want := []bool{true, false, false, true, false}; !slices.Equal(changed.Choices.Settled, want) {
		t.Errorf("settled %v, want %v", changed.Choices.Settled, want)
	}
	if got := contents(p, changed.Choices.Counts); got != "green" {
		t.Errorf("chosen: %q, want green alone", got)
	}
	if got := contents(p, b.Choices.Counts); got != "fixed heavy green" {
		t.Errorf("the boat before was changed: %q", got)
	}
	// What is put back later comes with what goes.
	back := f.Change(changed, f.With(changed, option(p, "folding"), 1), fit.DefaultTries)
	wantBoat(t, p, back, "folding light green")
}

// A slot that closed only because another was set aside stayed settled, and clashed.
func TestChangeSetsAsideOneAfterTheOther(t *testing.T) {
	p, f := boats(t, deckSlots(), nil)
	b := complete(p, f, short, "top=fixed", "cloth=heavy", "windows=clear")
	changed := f.Change(b, f.Without(b, slotOf(p, "top")), fit.DefaultTries)
	wantBoat(t, p, changed, "white")
	if want := []bool{true, false, false, false, false}; !slices.Equal(changed.Choices.Settled, want) {
		t.Errorf("settled %v, want %v", changed.Choices.Settled, want)
	}
	if _, empty := f.Verdicts(b); empty[0].Status != fit.Open {
		t.Errorf("leaving the top is %s, want open", empty[0].Status)
	}
}

// What was chosen into a closed slot is not set aside: the boat clashes, and says why.
func TestChangeKeepsWhatIsChosen(t *testing.T) {
	p, f := boats(t, deckSlots(), nil)
	b := complete(p, f, short, "top=")
	changed := f.Change(b, f.With(b, option(p, "heavy"), 1), fit.DefaultTries)
	wantBoat(t, p, changed, "heavy white", "closed: Without a top there is nothing to cover.")
	// It clashes already, so a further change leaves it as it is.
	further := f.Change(changed, f.With(changed, option(p, "green"), 1), fit.DefaultTries)
	wantBoat(t, p, further, "heavy green", "closed: Without a top there is nothing to cover.")
}

// An option that closes its own slot was set aside at once: the choice was lost, and its verdict was open.
func TestChangeDoesNotSetAsideItself(t *testing.T) {
	slots := []slot{one("chest", "small", "large").carries("large", "n200").when("f0 n400 {",
		"A chest is for light boats.")}
	p, f := boats(t, slots, nil)
	b := complete(p, f, short)
	wantBoat(t, p, f.Change(b, f.With(b, option(p, "large"), 1), fit.DefaultTries), "large",
		"closed: A chest is for light boats.")
	if options, _ := f.Verdicts(b); options[option(p, "large")].Status != fit.Blocked {
		t.Errorf("large is %s, want blocked", options[option(p, "large")].Status)
	}
}

func TestWithWithoutDrop(t *testing.T) {
	p, f := boats(t, deckSlots(), nil, "fixed", "fender*2", "line")
	b := complete(p, f, short)
	for name, c := range map[string]struct {
		choices fit.Choices
		content string
		settled []string
	}{
		"in its stead":      {f.With(b, option(p, "green"), 1), "green", []string{"colour"}},
		"beside the others": {f.With(b, option(p, "line"), 2), "fender*2 line*2", []string{"gear"}},
		"out of several":    {f.With(b, option(p, "line"), 0), "fender*2", []string{"gear"}},
		"out of one":        {f.With(b, option(p, "fixed"), 0), "", []string{"top"}},
		"without":           {f.Without(b, slotOf(p, "top")), "", []string{"top"}},
		"without the first": {f.Without(b, slotOf(p, "colour")), "", []string{"colour"}},
		"dropped": {f.Drop(settled(p, f, "top=folding", "colour=green"), slotOf(p, "top")), "green",
			[]string{"colour"}},
		"dropped of several":    {f.Drop(settled(p, f, "gear=fender*3+line"), slotOf(p, "gear")), "", nil},
		"dropped where nothing": {f.Drop(f.NewChoices(), slotOf(p, "gear")), "", nil},
	} {
		t.Run(name, func(t *testing.T) {
			if got := contents(p, c.choices.Counts); got != c.content {
				t.Errorf("chosen: %q, want %q", got, c.content)
			}
			var got []string
			for s, is := range c.choices.Settled {
				if is {
					got = append(got, p.Slots[s].ID)
				}
			}
			if !slices.Equal(got, c.settled) {
				t.Errorf("settled: %v, want %v", got, c.settled)
			}
		})
	}
}

// Drop does not change the choices that it is given.
func TestDropCopies(t *testing.T) {
	p, f := boats(t, deckSlots(), nil)
	c := settled(p, f, "top=folding")
	f.Drop(c, 0)
	if !c.Settled[0] || c.Counts[0] != 1 {
		t.Error("the choices were changed")
	}
}

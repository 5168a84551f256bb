package fit_test

import (
	"slices"
	"testing"

	"ribband/core/fit"
)

// Every cardinality of a slot, kept and broken.
func TestSlotCardinalities(t *testing.T) {
	slots := []slot{
		one("hull", "white", "green"),
		atMostOne("top", "folding", "fixed"),
		multiple("gear", 2, 5, "fender*4", "line*3", "hook"),
		multiple("extras", 0, 0, "flag", "horn*2"),
	}
	for name, c := range map[string]struct {
		settled []string
		content string
		clashes []string
	}{
		"nothing settled": {nil, "white fender*2", nil},
		"one, kept":       {[]string{"hull=green"}, "green fender*2", nil},
		"one, empty": {[]string{"hull="}, "fender*2",
			[]string{"too-few: Slot hull: one must be chosen."}},
		"one, two of them": {[]string{"hull=white+green"}, "white green fender*2",
			[]string{"too-many: Slot hull: only one fits; there are 2."}},
		"at most one, empty": {[]string{"top="}, "white fender*2", nil},
		"at most one, one":   {[]string{"top=fixed"}, "white fixed fender*2", nil},
		"at most one, two": {[]string{"top=folding+fixed"}, "white folding fixed fender*2",
			[]string{"too-many: Slot top: only one fits; there are 2."}},
		"several, least":              {[]string{"gear=line*2"}, "white line*2", nil},
		"several, least of two kinds": {[]string{"gear=line+hook"}, "white line hook", nil},
		"several, too few": {[]string{"gear=hook"}, "white hook",
			[]string{"too-few: Slot gear: at least 2 are needed; there are 1."}},
		"several, none": {[]string{"gear="}, "white",
			[]string{"too-few: Slot gear: at least 2 are needed; there are 0."}},
		"several, most": {[]string{"gear=fender*4+hook"}, "white fender*4 hook", nil},
		"several, too many": {[]string{"gear=fender*3+line*3"}, "white fender*3 line*3",
			[]string{"too-many: Slot gear: at most 5 fit; there are 6."}},
		"several, too many of one": {[]string{"gear=fender*5"}, "white fender*5",
			[]string{"too-many: Option fender: at most 4; there are 5."}},
		"several, both": {[]string{"gear=fender*6"}, "white fender*6",
			[]string{"too-many: Option fender: at most 4; there are 6.",
				"too-many: Slot gear: at most 5 fit; there are 6."}},
		"no limit": {[]string{"extras=flag+horn*2"}, "white fender*2 flag horn*2", nil},
		"no limit, too many of one": {[]string{"extras=flag*2"}, "white fender*2 flag*2",
			[]string{"too-many: Option flag: at most 1; there are 2."}},
	} {
		t.Run(name, func(t *testing.T) {
			p, f := boats(t, slots, nil)
			wantBoat(t, p, complete(p, f, short, c.settled...), c.content, c.clashes...)
		})
	}
}

// Two clashes of too many, in a slot and of an option whose index is that of the slot, are not taken for each other.
func TestTooManyInSlotIsNotTooManyOfOption(t *testing.T) {
	p, f := boats(t, []slot{multiple("gear", 0, 1, "fender*4", "line")}, nil)
	inSlot := complete(p, f, short, "gear=fender*2").Clashes
	ofOption := complete(p, f, short, "gear=fender*5").Clashes
	if len(inSlot) != 1 || len(ofOption) != 2 || !inSlot[0].Same(ofOption[1]) || inSlot[0].Same(ofOption[0]) {
		t.Errorf("in the slot %v, of the option %v", inSlot, ofOption)
	}
}

func TestSlotsThatClose(t *testing.T) {
	slots := []slot{
		atMostOne("top", "folding", "fixed"),
		one("cloth", "light", "heavy").when("s0", "Without a top there is nothing to cover."),
		multiple("lamps", 1, 2, "strip", "spot").when("o1 "+persons+" n6 < &",
			"Lamps sit in a fixed top of a boat for few."),
	}
	for name, c := range map[string]struct {
		settled []string
		content string
		clashes []string
	}{
		"closed and soft: empty":      {[]string{"top="}, "", nil},
		"open and soft: filled":       {[]string{"top=folding"}, "folding light", nil},
		"two open":                    {[]string{"top=fixed"}, "fixed light strip", nil},
		"closed and settled as empty": {[]string{"top=", "cloth="}, "", nil},
		"open and settled as empty": {[]string{"top=folding", "cloth="}, "folding",
			[]string{"too-few: Slot cloth: one must be chosen."}},
		"closed and settled as filled": {[]string{"top=", "cloth=heavy"}, "heavy",
			[]string{"closed: Without a top there is nothing to cover."}},
		"closed by another option": {[]string{"top=folding", "lamps=spot"}, "folding light spot",
			[]string{"closed: Lamps sit in a fixed top of a boat for few."}},
		// The soft top is filled so that what is settled has its slot.
		"opened by the search":            {[]string{"cloth=heavy"}, "folding heavy", nil},
		"opened by the search, two slots": {[]string{"cloth=heavy", "lamps=spot"}, "fixed heavy spot", nil},
	} {
		t.Run(name, func(t *testing.T) {
			p, f := boats(t, slots, nil)
			wantBoat(t, p, complete(p, f, short, c.settled...), c.content, c.clashes...)
		})
	}
	p, f := boats(t, slots, nil)
	many := f.Complete(short, []float64{8}, settled(p, f, "top=fixed", "lamps=spot"), fit.DefaultTries)
	wantBoat(t, p, many, "fixed light spot", "closed: Lamps sit in a fixed top of a boat for few.")
	if got := names(p, many.Clashes[0].Options); !slices.Equal(got, []string{"spot", "fixed"}) {
		t.Errorf("in the clash: %v, want what is in the slot and what its condition reads", got)
	}
}

func TestHulls(t *testing.T) {
	slots := []slot{
		one("motor", "small", "large").optionHulls("small", short).optionHulls("large", long),
		atMostOne("ladder", "steps").hulls(long),
		one("sole", "ply", "teak").hulls(long).optionHulls("teak", short),
	}
	// partly of the other hull, which counts for nothing
	standard := []string{"short:small", "long:small", "long:ply", "short:ply"}
	for name, c := range map[string]struct {
		hull    int
		settled []string
		content string
		clashes []string
	}{
		"standard of the short": {short, nil, "small", nil},
		"standard of the long":  {long, nil, "large ply", nil},
		"option of another hull": {short, []string{"motor=large"}, "large",
			[]string{"hull: Option large is not made for the Short."}},
		"slot of another hull": {short, []string{"ladder=steps"}, "small steps",
			[]string{"hull: Option steps is not made for the Short."}},
		"slot kept empty":      {short, []string{"ladder="}, "small", nil},
		"slot of its own hull": {long, []string{"ladder=steps"}, "large steps ply", nil},
		"option of no hull": {long, []string{"sole=teak"}, "large teak",
			[]string{"hull: Option teak is not made for the Long."}},
		"a slot to fill, not one": {short, []string{"sole="}, "small", nil},
	} {
		t.Run(name, func(t *testing.T) {
			p, f := boats(t, slots, nil, standard...)
			wantBoat(t, p, complete(p, f, c.hull, c.settled...), c.content, c.clashes...)
		})
	}
	p, _ := boats(t, slots, nil, standard...)
	for id, want := range map[string][2]bool{"small": {true, false}, "large": {false, true}, "steps": {false, true},
		"ply": {false, true}, "teak": {false, false}} {
		if got := [2]bool{p.Made(option(p, id), short), p.Made(option(p, id), long)}; got != want {
			t.Errorf("%s is made for %v, want %v", id, got, want)
		}
	}
	if p.Exists(slotOf(p, "ladder"), short) || !p.Exists(slotOf(p, "ladder"), long) ||
		!p.Exists(slotOf(p, "motor"), short) {
		t.Error("which slots a hull has")
	}
}

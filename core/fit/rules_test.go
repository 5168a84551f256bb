package fit_test

import (
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/pack"
)

// Rules in all forms: always, on a condition, as options require and exclude each other, over figures and use.
func TestRules(t *testing.T) {
	slots := []slot{
		one("drive", "shaft", "pod").carries("pod", "n45"),
		one("steering", "wheel", "tiller"),
		atMostOne("top", "folding", "hard").carries("hard", "n160"),
		multiple("gear", 0, 8, "fender*4", "anchor").carries("fender", "n10"),
	}
	const pod, wheel, tiller, hard, fender, anchor = "o1", "o2", "o3", "o5", "o6", "o7"
	rules := []pack.Rule{
		rule(pod, wheel, "A pod steers by wheel."),                                      // requires
		rule(hard, tiller+" !", "The hard top is in the way of the tiller."),            // excludes
		rule("", laden+" n900 {", "She carries no more than 900 kg."),                   // always, over a figure
		rule(anchor, "c6 n2 < !", "An anchor needs two fenders."),                       // over a count
		rule(persons+" n6 < !", "s2", "Six persons and more want a top."),               // over the use
		rule("i n1 = "+anchor+" &", fender+" "+pod+" |", "On the long boat otherwise."), // over the hull
	}
	for name, c := range map[string]struct {
		hull    int
		persons float64
		settled []string
		content string
		clashes []string
	}{
		"nothing settled":       {short, 4, nil, "shaft wheel", nil},
		"requires what is soft": {short, 4, []string{"drive=pod"}, "pod wheel", nil},
		"requires another": {short, 4, []string{"drive=pod", "steering=tiller"}, "pod tiller",
			[]string{"rule: A pod steers by wheel."}},
		"excludes what is soft": {short, 4, []string{"top=hard", "drive=shaft"}, "shaft wheel hard", nil},
		"excludes another": {short, 4, []string{"top=hard", "steering=tiller"}, "shaft tiller hard",
			[]string{"rule: The hard top is in the way of the tiller."}},
		"over a figure": {short, 7, []string{"top=hard"}, "shaft wheel hard",
			[]string{"rule: She carries no more than 900 kg."}},
		"over a figure, resolved":   {short, 7, []string{"drive=shaft"}, "shaft wheel folding", nil},
		"over a figure of the hull": {long, 5, nil, "shaft wheel", nil},
		"over a figure of the hull, heavy": {long, 5, []string{"gear=fender"}, "shaft wheel fender",
			[]string{"rule: She carries no more than 900 kg."}},
		"over a count": {short, 4, []string{"gear=fender+anchor"}, "shaft wheel fender anchor",
			[]string{"rule: An anchor needs two fenders."}},
		"over a count, kept": {short, 4, []string{"gear=fender*2+anchor"}, "shaft wheel fender*2 anchor",
			nil},
		"over the use": {short, 6, nil, "shaft wheel folding", nil},
		"over the use, settled": {short, 6, []string{"top="}, "shaft wheel",
			[]string{"rule: Six persons and more want a top."}},
		"several at once": {long, 4,
			[]string{"gear=anchor", "drive=pod", "steering=tiller", "top=hard"}, "pod tiller hard anchor",
			[]string{"rule: A pod steers by wheel.", "rule: The hard top is in the way of the tiller.",
				"rule: She carries no more than 900 kg.", "rule: An anchor needs two fenders."}},
	} {
		t.Run(name, func(t *testing.T) {
			p, f := boats(t, slots, rules)
			wantBoat(t, p, f.Complete(c.hull, []float64{c.persons}, settled(p, f, c.settled...), fit.DefaultTries),
				c.content, c.clashes...)
		})
	}
}

// A clash carries the book's own words, the index of the rule, and the options in the boat that take part, those behind
// figures included.
func TestClashOfARule(t *testing.T) {
	slots := []slot{one("motor", "small", "large").carries("large", "n60"),
		atMostOne("top", "hard").carries("hard", "n500"), atMostOne("flag", "ensign")}
	p, f := boats(t, slots, []pack.Rule{rule("", "T", "Always."),
		rule("o0", laden+" n900 {", "The small motor moves 900 kg.")})
	b := complete(p, f, short, "motor=small", "top=hard", "flag=ensign")
	if len(b.Clashes) != 1 {
		t.Fatalf("%d clashes: %v", len(b.Clashes), clashes(b))
	}
	c := b.Clashes[0]
	if c.Kind != fit.Broken || c.Index != 1 || c.Reason.String() != "The small motor moves 900 kg." ||
		c.Advice.String() != "Advice: The small motor moves 900 kg." {
		t.Errorf("clash %+v", c)
	}
	if got := names(p, c.Options); !slices.Equal(got, []string{"small", "hard"}) {
		t.Errorf("options %v, want small and hard", got)
	}
}

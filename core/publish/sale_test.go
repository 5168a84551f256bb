package publish_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/spec"
)

// selling adds to the small book what says when something is sold, and at which price; the numbers are invented.
const selling = `
-- boat.yaml --
-        price: "1450"
+        price: "1450"
+        prices: {2027-02-01: "1500", 2027-04-01: "1550"}
+      - id: top-rigid
+        title: Rigid top
+        price: "2000"
+        sold_until: 2027-02-28
+        instead: top-fixed
+      - id: top-glass
+        title: Glass top
+        price: "3000"
+        sold_from: 2027-05-01
-    most: 5
+    most: 9
+    series:
+      - for: pennants.csv
+        option: {id: "pennant-<id>", title: "Pennant, <name>", price_group: <group>, parts: [toggle]}
-        price: [{amount: "20"}, {amount: "6", per: "hull.length_m"}]
+        price: "50"
+        breaks: [{from: 2, price: "45"}, {from: 4, price: "40"}]
-- yard.yaml --
+price_groups:
+  - {id: plain, price: "15"}
+  - {id: striped, price: "20", prices: {2027-02-01: "25"}}
+parts:
+  - id: toggle
+    carries: {mass_kg: 0.1}
+    materials: [{material: tube-25, quantity: 0.1}]
+    operations: [{operation: fit-out, hours: 0.1}]
+packages:
+  - id: touring
+    title: Touring package
+    because: It has the fixed top and two pockets.
+    options: [top-fixed, {option: pocket, count: 2}]
+    price: "1500"
-- pennants.csv --
+id;name;group
+red;Red;plain
+barred;Red, barred;striped
`

// sellingOn is that book with an edition of a day.
func sellingOn(t *testing.T, day string) *engine.Engine {
	t.Helper()
	folder := overlay(t, smallBook)
	if err := change(folder, selling); err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(folder["yard.yaml"].Data), "date: 2027-01-15", "date: "+day, 1)
	folder["yard.yaml"] = &fstest.MapFile{Data: []byte(text)}
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, reported(diagnostics))
	}
	return compiled(t, packs[pack.Buyer])
}

// choose answers a boat with options by slot.
func choose(t *testing.T, e *engine.Engine, choices map[string]map[string]int) *engine.Answer {
	t.Helper()
	a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: "teasel-48", Choices: choices,
		Use: map[string]spec.Value{}})
	if err != nil || len(a.Notes) > 0 {
		t.Fatal(err, a.Notes)
	}
	return a
}

// What each option costs on the day of an edition: by day, by group, by number, and together.
func TestPricesOnTheDayOfTheEdition(t *testing.T) {
	fixed := map[string]int{"top-fixed": 1}
	for _, c := range []struct {
		day, option string
		count       int
		more        string // net, beyond the same boat without it
	}{
		{"2027-01-15", "bag-top", 0, "0"},
		{"2027-01-15", "pocket", 1, "50"},
		{"2027-01-15", "pocket", 3, "135"}, // each at 45, and the package saves 50: see below
		{"2027-01-15", "pocket", 4, "160"},
		{"2027-01-15", "pennant-red", 1, "15"},
		{"2027-01-15", "pennant-barred", 1, "20"},
		{"2027-02-01", "pennant-barred", 1, "25"},
		{"2027-02-01", "pennant-red", 1, "15"},
	} {
		e := sellingOn(t, c.day)
		with := map[string]int{}
		if c.count > 0 {
			with[c.option] = c.count
		}
		a := choose(t, e, map[string]map[string]int{"top": {"top-folding": 1}, "stowage": with})
		without := choose(t, e, map[string]map[string]int{"top": {"top-folding": 1}})
		if got := a.Price.Net.Sub(without.Price.Net).String(); got != c.more {
			t.Errorf("on %s %d of %s cost %s, want %s", c.day, c.count, c.option, got, c.more)
		}
	}
	for day, net := range map[string]string{"2027-01-15": "1450", "2027-01-31": "1450", "2027-02-01": "1500",
		"2027-03-31": "1500", "2027-04-01": "1550", "2030-01-01": "1550"} {
		e := sellingOn(t, day)
		a, none := choose(t, e, map[string]map[string]int{"top": fixed, "cloth": {}}),
			choose(t, e, map[string]map[string]int{"top": {}})
		cloth := choose(t, e, map[string]map[string]int{"top": fixed})
		if got := cloth.Price.Net.Sub(none.Price.Net).Sub(cloth.Price.Net.Sub(a.Price.Net)).String(); got != net {
			t.Errorf("on %s the fixed top costs %s, want %s", day, got, net)
		}
	}
}

// A package is in the boat when its options are, stands in the price as a line of its own, and costs what the book says
// it does, however its options are priced by number; without one of them nobody has it, and who asks is told why.
func TestPackageIsALineOfItsOwn(t *testing.T) {
	e := sellingOn(t, "2027-01-15")
	line := func(pockets int) string {
		a := choose(t, e, map[string]map[string]int{"top": {"top-fixed": 1}, "stowage": {"pocket": pockets}})
		if len(a.Build.Clashes) > 0 {
			t.Fatal(a.Build.Clashes)
		}
		for _, l := range a.Price.Lines {
			if l.Key == "touring" {
				if got := e.Text(l.Detail); got != "Fixed top, Side pocket" {
					t.Errorf("the line of the package tells of %q", got)
				}
				return l.Net.String()
			}
		}
		return "none"
	}
	// 1450 and two pockets at 45 make 1540; at 40 each the two make 80
	for pockets, want := range map[int]string{1: "none", 2: "-40", 3: "-40", 4: "-30"} {
		if got := line(pockets); got != want {
			t.Errorf("with %d pockets the package is a line of %s, want %s", pockets, got, want)
		}
	}
	a := choose(t, e, map[string]map[string]int{"touring": {"touring": 1}})
	if len(a.Build.Clashes) > 0 || a.Build.State.Counts[option(t, e, "pocket")] < 2 {
		t.Errorf("who asks for the package alone gets %v", a.Build.Clashes)
	}
	a = choose(t, e, map[string]map[string]int{"touring": {"touring": 1}, "top": {"top-folding": 1}})
	if c := a.Build.Clashes; len(c) != 1 || engine.Because(c[0]).String() != "It has the fixed top and two pockets." {
		t.Errorf("the package with another top: %v", c)
	}
}

// What is not sold on the day of the edition comes by itself to no boat. A boat that has it opens with its price, and
// is told why it cannot be ordered so, and what takes its place.
func TestOldBoatsKeepOpening(t *testing.T) {
	rigid := map[string]map[string]int{"top": {"top-rigid": 1}}
	during, after := sellingOn(t, "2027-02-28"), sellingOn(t, "2027-03-01")
	then, now := choose(t, during, rigid), choose(t, after, rigid)
	if len(then.Build.Clashes) > 0 || then.Price.Net.Cmp(now.Price.Net) != 0 {
		t.Errorf("%v; it costs %s then and %s now", then.Build.Clashes, then.Price.Net, now.Price.Net)
	}
	c := now.Build.Clashes
	if len(c) != 1 || c[0].Kind != fit.NotSold || because(after, c[0]) !=
		"Rigid top was sold until 28 February 2027. Fixed top takes its place." {
		t.Errorf("after its last day: %v", c)
	}
	c = choose(t, after, map[string]map[string]int{"top": {"top-glass": 1}}).Build.Clashes
	if len(c) != 1 || because(after, c[0]) != "Glass top is sold from 1 May 2027 on." {
		t.Errorf("before its first day: %v", c)
	}
	// in nobody's way, and no way out of anything
	for day, offered := range map[string]string{"2027-02-28": "folding fixed rigid", "2027-03-01": "folding fixed",
		"2027-05-01": "folding fixed glass"} {
		e := sellingOn(t, day)
		a := choose(t, e, nil)
		var open []string
		for i, x := range e.Alternatives(a).Slot(0).Options {
			if x.Status != fit.Absent {
				open = append(open, strings.TrimPrefix(e.Pack.Options[i].ID, "top-"))
			}
		}
		if got := strings.Join(open, " "); got != offered {
			t.Errorf("on %s the tops are %s, want %s", day, got, offered)
		}
	}
	for day, until := range map[string]string{"2027-01-15": "2027-01-31", "2027-02-01": "2027-02-28",
		"2027-02-28": "2027-02-28", "2027-03-01": "2027-03-31", "2027-04-01": "2027-04-30", "2027-05-01": ""} {
		if got := sellingOn(t, day).Pack.Edition.Until; got != until {
			t.Errorf("the prices of %s hold until %q, want %q", day, got, until)
		}
	}
}

// because is the reason of a clash, with plain blanks.
func because(e *engine.Engine, c fit.Clash) string {
	return strings.ReplaceAll(e.Text(engine.Because(c)), "\u00a0", " ")
}

// option is the index of an option.
func option(t *testing.T, e *engine.Engine, id string) int {
	t.Helper()
	for o := range e.Pack.Options {
		if e.Pack.Options[o].ID == id {
			return o
		}
	}
	t.Fatalf("there is no option %s", id)
	return -1
}

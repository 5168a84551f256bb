package publish_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/spec"
)

// A material in a unit of the book: rolls are taken whole, fathoms are not, and readers see the symbol in their
// language. Amounts follow from the quantity that the formula gives, exactly: 24 m of tube are 13.123360 fathoms.
func TestUnitsOfABook(t *testing.T) {
	folder := overlay(t, twoLanguages)
	for _, c := range [][3]string{
		{"yard.yaml", `unit: m2, cost: "24.80", waste: "0.18", pack: 60,`, `unit: roll, cost: "24.80", waste: "0.18",`},
		{"yard.yaml", `unit: m, cost: "9.60", waste: "0.08", pack: 6}`,
			`unit: fathom, cost: "9.60", waste: "0.08", stock: true}`},
		{"yard.yaml", "materials:\n", "units:\n  - {id: roll, symbol: {en: rolls, nl: rollen}}\n" +
			"  - {id: fathom, symbol: {en: fm, nl: vadem}, of: m, factor: \"1.8288\"}\nmaterials:\n"},
		{"boat.yaml", `"2 + 3 * hull.length_m"`, `"5 * hull.length_m / 1.8288"`},
		{"boat.yaml", `"1.1 * hull.top_m2"`, `"ceil(1.1 * hull.top_m2)"`},
		{"boat.yaml", `"1.3 * hull.top_m2"`, `"ceil(1.3 * hull.top_m2)"`},
		{"boat.yaml", "figures:\n", "figures:\n  - {id: warp_fathoms, title: {en: Warp, nl: Tros}, unit: fathom, " +
			"digits: 2, formula: 3 * hull.length_m / 1.8288, quoted: true}\n"},
	} {
		text := string(folder[c[0]].Data)
		if !strings.Contains(text, c[1]) {
			t.Fatalf("%s has no %q", c[0], c[1])
		}
		folder[c[0]] = &fstest.MapFile{Data: []byte(strings.Replace(text, c[1], c[2], 1))}
	}
	packs, _, found, err := publish.Load(folder)
	if err != nil || packs == nil {
		t.Fatal(err, reported(found))
	}
	materials := packs[pack.Yard].Costs.Materials
	dutch := packs[pack.Yard].In("nl").Costs.Materials
	for i, want := range []struct {
		en, nl string
		whole  bool
	}{{"rolls", "rollen", true}, {"fm", "vadem", false}} {
		if m := materials[i]; m.Unit != want.en || dutch[i].Unit != want.nl || m.Whole != want.whole {
			t.Errorf("%s is kept in %s, in Dutch %s, whole %v", m.ID, m.Unit, dutch[i].Unit, m.Whole)
		}
	}
	e, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		t.Fatal(err)
	}
	a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: "teasel-48"})
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]string{}
	for _, p := range a.Cost.Purchases {
		used[materials[p.Material].ID] = p.Used.String()
	}
	// 24 / 1.8288 is 13.123360 to the millionth, and 1.08 times that 14.173229; 5 rolls and 18 % are 6
	if used["tube-25"] != "14.173229" || used["cloth-acrylic"] != "6" {
		t.Errorf("used are %v", used)
	}
	for _, f := range e.FigureValues(a.Build, "us") {
		if f.ID == "warp_fathoms" && (f.Unit != "fm" || *f.Number != 7.87) {
			t.Errorf("the warp is %v %s", *f.Number, f.Unit)
		}
	}
}

package publish_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/spec"
)

// mixed is the small book with a second hull, of timber, and figures that one of the two has; the numbers are invented.
const mixed = `
-- boat.yaml --
-  - {id: laden_kg, title: Mass with persons, unit: kg, formula: "figures.mass_kg + 80 * use.persons"}
+  - {id: laden_kg, title: Mass with persons, unit: kg, formula: "figures.mass_kg + 80 * use.persons"}
+  - {id: planks_m2, title: Planking, unit: m2, digits: 1, hulls: [alder-52], formula: "1.9 * hull.length_m"}
+  - {id: shell_kg, title: Laminates of the shell, unit: kg, hulls: [teasel-48], computed: laminate.shell_kg}
-hulls:
+hulls:
+  - id: alder-52
+    title: Alder 52
+    dimensions: {length_m: 5.2, top_m2: 4.8}
+    carries: {mass_kg: 340}
+    operations: [{operation: fit-out, hours: 90}]
-    need: has("top-fixed")
+    need: has("top-fixed") or figures.planks_m2 > 9
-- yard.yaml --
+  - {id: mat-300, title: Chopped strand mat, unit: m2, cost: "4.10", g_m2: 300}
+  - {id: resin, title: Polyester resin, unit: kg, cost: "3.60"}
+laminates:
+  - id: shell
+    title: Shell
+    hulls: [teasel-48]
+    part: shell
+    process: hand
+    area_m2: "2.4 * hull.length_m"
+    resin: resin
+    plies: [{material: mat-300, cloth: csm, g_m2: 300}]
+    operation: fit-out
`

// A yard builds in timber and in glass: what is of one of them is 0 on the other, stands nowhere there, and is read by
// rules of both.
func TestFiguresOfSomeHulls(t *testing.T) {
	folder := overlay(t, smallBook)
	if err := change(folder, mixed); err != nil {
		t.Fatal(err)
	}
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, reported(diagnostics))
	}
	e := compiled(t, packs[pack.Yard])
	for hull, want := range map[string]string{"teasel-48": "mass_kg laden_kg shell_kg",
		"alder-52": "mass_kg laden_kg planks_m2"} {
		a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: hull, Choices: map[string]map[string]int{
			"cloth": {"cloth-heavy": 1}, "top": {"top-folding": 1}}, Use: map[string]spec.Value{}})
		if err != nil {
			t.Fatal(err)
		}
		var shown []string
		for _, v := range e.FigureValues(a.Build, measure.Sea) {
			shown = append(shown, v.ID)
			if v.Number == nil || *v.Number == 0 {
				t.Errorf("%s of %s is %v", v.ID, hull, v.Number)
			}
		}
		if got := strings.Join(shown, " "); got != want {
			t.Errorf("the figures of %s are %s, want %s", hull, got, want)
		}
		if v := e.FigureValue(a.Build.State, 2, measure.Sea); (v.State == engine.None) != (hull == "teasel-48") {
			t.Errorf("the planking of %s is stated as %v", hull, v)
		}
		if clashes := len(a.Build.Clashes); (clashes > 0) != (hull == "teasel-48") {
			t.Errorf("%s has %d clashes", hull, clashes)
		}
	}
	// without the limit the figure of the laminates asks for some on the hull of timber
	folder["boat.yaml"] = &fstest.MapFile{Data: []byte(strings.Replace(string(folder["boat.yaml"].Data),
		"hulls: [teasel-48], computed", "computed", 1))}
	_, _, diagnostics, err = publish.Load(folder)
	if err != nil || !strings.Contains(reported(diagnostics), "and the hull alder-52 has none; add laminates:") {
		t.Error(err, reported(diagnostics))
	}
}

package engine_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/figures"
	"ribband/core/look"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Masses were once put to sections by the titles of options, and "White" is a gelcoat and a piping. Every mass of an
// option counts in its own section.
func TestMassesStandInTheirSection(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	s := spec.Spec{Format: spec.Format, Hull: "reed-65"}
	a := enginetest.Answer(t, e, s)
	if sections := sectionsOf(e, "White"); len(sections) < 2 {
		t.Fatalf("options called White are in %v alone: this test needs another title", sections)
	}
	figs, err := figures.Compile(e.Pack)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{}
	for _, m := range figs.MassTable(a.Build.State) {
		if m.Option >= 0 {
			want[e.Pack.Sections[e.Pack.Slots[e.Pack.Options[m.Option].Slot].Section].Title] += m.Mass
		}
	}
	p, err := look.MassesPicture(e, a.Build, drawing.Format{})
	if err != nil {
		t.Fatal(err)
	}
	for section, kg := range want {
		if text := fmt.Sprintf("%.0f kg", math.Round(kg)); kg >= 0.5 &&
			(!strings.Contains(p.SVG, section) || !strings.Contains(strings.ReplaceAll(p.SVG, "\u00a0", " "), text)) {
			t.Errorf("%s with %s is not on the drawing", section, text)
		}
	}
}

// sectionsOf are the sections with an option of a title.
func sectionsOf(e *engine.Engine, title string) map[int]bool {
	found := map[int]bool{}
	for _, o := range e.Pack.Options {
		if o.Title == title {
			found[e.Pack.Slots[o.Slot].Section] = true
		}
	}
	return found
}

package look_test

import (
	"fmt"
	"strings"

	"ribband/core/drawing"
	"ribband/core/engine/enginetest"
	"ribband/core/look"
	"ribband/core/pack"
	"ribband/core/spec"
)

func ExampleProfile() {
	e := enginetest.Demo()[pack.Buyer]
	a, err := e.Answer(spec.Spec{Hull: "rush-54"})
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := look.Profile(e, a.Build, drawing.Format{Width: 340})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, description, _ := strings.Cut(p.SVG, "-desc\">")
	description, _, _ = strings.Cut(description, " Preliminary")
	for _, sentence := range strings.SplitAfter(strings.ReplaceAll(description, "\u00a0", " "), ". ") {
		fmt.Println(strings.TrimSpace(sentence))
	}
	// Output:
	// Side view to scale, bow to the right.
	// Length of the hull 5.40 m.
	// Draught 0.39 m, least freeboard 0.42 m, height above the water 1.12 m.
}

func ExampleFind() {
	w, _ := look.Find("planked-sole")
	fmt.Println(w.Means)
	fmt.Println("in the profile:", w.Views&look.Side != 0, "in the plan:", w.Views&look.Above != 0)
	// Output:
	// cockpit sole of planks
	// in the profile: false in the plan: true
}

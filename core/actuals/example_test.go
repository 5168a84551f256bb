package actuals_test

import (
	"fmt"
	"os"

	"ribband/core/actuals"
)

// Two years of the demo's yard, and what its owner should change.
func Example() {
	text, err := os.ReadFile(demoFile)
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := actuals.Read(text, yard(), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, x := range actuals.Compare(yard(), b.List).Off() {
		fmt.Printf("%s %s: %.2f, with 80 %% within %.2f and %.2f\n", x.Kind, x.ID, x.Ratio, x.In80.Low, x.In80.High)
	}
	// Output:
	// option sole-ply: 1.26, with 80 % within 1.23 and 1.29
	// operation laminate-hull: 1.20, with 80 % within 1.18 and 1.22
	// hull reed-65: 1.10, with 80 % within 1.09 and 1.11
	// operation sew-canvas: 0.91, with 80 % within 0.89 and 0.93
}

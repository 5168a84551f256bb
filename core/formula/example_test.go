package formula_test

import (
	"fmt"

	"ribband/core/formula"
)

// Two fenders for each metre of hull field 0, but none where option 3 is chosen.
func ExampleParse() {
	p, err := formula.Parse("o3 n0 n2 h0 * ^ ?")
	if err != nil {
		fmt.Println(err)
		return
	}
	run := p.Number()
	fmt.Println(run(&formula.State{Counts: []int{0, 0, 0, 0}, Hull: []float64{5.4}}))
	fmt.Println(run(&formula.State{Counts: []int{0, 0, 0, 1}, Hull: []float64{5.4}}))
	_, err = formula.Parse("h0 n2 * o3 +")
	fmt.Println(err)
	// Output:
	// 11
	// 0
	// reading a lowered formula: step 5: "+" does not fit what stands before it
}

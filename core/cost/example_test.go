package cost_test

import (
	"fmt"

	"ribband/core/cost"
)

// A launch of an invented yard with four cleats.
func ExampleCosting_Boat() {
	costing, err := cost.Compile(yard())
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := costing.Boat(state(4, 0, 0), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := sheet.Summary
	base, options := sheet.TotalHours()
	fmt.Println("hours", base, "+", options)
	fmt.Println("materials", s.Materials.Fixed(2), "and rests of packs", s.Rests.Fixed(2))
	fmt.Println("labour", s.Labour.Fixed(2))
	fmt.Println("total", s.Total.Fixed(2))
	// Output:
	// hours 96 + 1
	// materials 2148.33 and rests of packs 46.20
	// labour 3156.00
	// total 7011.95
}

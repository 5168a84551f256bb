package cost_test

import (
	"fmt"

	"ribband/core/cost"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// A launch of an invented yard with four cleats.
func ExampleCosting_Boat() {
	book := yard()
	network := works.Compile(book)
	costing, err := cost.Compile(book, network, takeoff.New(book))
	if err != nil {
		fmt.Println(err)
		return
	}
	boat := state(4, 0, 0)
	hours, err := network.Boat(boat, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := costing.Boat(boat, hours, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := sheet.Summary
	fmt.Println("hours", hours.Hours().Base, "+", hours.Hours().Options)
	fmt.Println("materials", s.Materials.Fixed(2), "and part packs left over", s.Leftovers.Fixed(2))
	fmt.Println("labour", s.Labour.Fixed(2))
	fmt.Println("total", s.Total.Fixed(2))
	// Output:
	// hours 96 + 1
	// materials 2148.33 and part packs left over 46.20
	// labour 3156.00
	// total 7011.95
}

package works_test

import (
	"fmt"

	"ribband/core/measure"
	"ribband/core/works"
)

// A launch with two lockers and a name on its transom, as a foreman reads it. Its bottom is not painted but under the
// lockers. The name has no place in the order of the book.
func ExampleNetwork_Boat() {
	network := works.Compile(yard())
	name := works.Extra{Title: "Name on the transom", Hours: map[int]measure.Hours{joinery: 1_500_000}}
	b, err := network.Boat(boat(1, 0, 2, 0), []works.Extra{name})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, t := range b.Tasks() {
		title := "extra item"
		if t.Operation != works.NoOperation {
			title = network.Operations[t.Operation].Title
		}
		fmt.Printf("%d. %s: %s, %s h", i, network.Shops[t.Shop].Title, title, t.Hours)
		for _, l := range t.After {
			fmt.Printf(", %s h after %d", l.Wait, l.Task)
		}
		fmt.Println()
	}
	h := b.Hours()
	fmt.Println("base boat", h.Base, "h, options", h.Options, "h, extra items", h.Extras, "h, together", h.Total(), "h")
	// Output:
	// 0. Moulding: Laminate the hull, 96 h
	// 1. Moulding: Paint the bottom, 0.5 h, 24 h after 0
	// 2. Joinery: Fit the lockers, 4 h, 0 h after 0, 16 h after 1
	// 3. Afloat: Try the boat afloat, 4 h, 2 h after 2
	// 4. Joinery: extra item, 1.5 h
	// base boat 100 h, options 4.5 h, extra items 1.5 h, together 106 h
}

// The same boat as it is planned: how many are at it, how long the clock runs meanwhile, how far that may spread, and
// what nobody else can use.
func ExampleBoat_Tasks() {
	network := works.Compile(yard())
	b, err := network.Boat(boat(1, 0, 2, 0), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range b.Tasks() {
		fmt.Printf("%s: %d at it for %s h, %g to %g times that", network.Operations[t.Operation].Title, t.Crew,
			t.Elapsed, t.Spread.Low, t.Spread.High)
		for _, h := range t.Holds {
			fmt.Printf(", holds equipment %d until task %d is done", h.Equipment, h.Until)
		}
		for _, e := range t.Uses {
			fmt.Printf(", uses equipment %d", e)
		}
		for _, l := range t.After {
			if l.Bounded {
				fmt.Printf(", begins within %s h after task %d", l.Within, l.Task)
			}
		}
		fmt.Println()
	}
	// Output:
	// Laminate the hull: 2 at it for 48 h, 0.8 to 2 times that, holds equipment 1 until task [1] is done
	// Paint the bottom: 1 at it for 0.5 h, 0.8 to 2 times that
	// Fit the lockers: 1 at it for 4 h, 0.8 to 2 times that, begins within 48 h after task 1
	// Try the boat afloat: 1 at it for 4 h, 0.8 to 2 times that, uses equipment 2
}

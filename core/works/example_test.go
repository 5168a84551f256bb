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
		fmt.Printf("%d. %s: %s, %s h, after %v\n", i, network.Shops[t.Shop].Title, title, t.Hours, t.After)
	}
	h := b.Hours()
	fmt.Println("base boat", h.Base, "h, options", h.Options, "h, extra items", h.Extras, "h, together", h.Total(), "h")
	// Output:
	// 0. Moulding: Laminate the hull, 96 h, after []
	// 1. Moulding: Paint the bottom, 0.5 h, after [0]
	// 2. Joinery: Fit the lockers, 4 h, after [0 1]
	// 3. Afloat: Try the boat afloat, 4 h, after [2]
	// 4. Joinery: extra item, 1.5 h, after []
	// base boat 100 h, options 4.5 h, extra items 1.5 h, together 106 h
}

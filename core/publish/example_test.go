package publish_test

import (
	"fmt"
	"os"

	"ribband/core/pack"
	"ribband/core/publish"
)

// A folder of YAML becomes a pack for each desk. Only those of the yard hold costs.
func ExampleLoad() {
	packs, counts, diagnostics, err := publish.Load(os.DirFS("../../testdata/books/small"))
	if err != nil || len(diagnostics) > 0 {
		fmt.Println(err, diagnostics)
		return
	}
	fmt.Println(counts.Hulls, "hull,", counts.Slots, "slots,", counts.Options, "options,", counts.Rules, "rules")
	for _, desk := range pack.Desks {
		fmt.Println(desk, "with costs:", packs[desk].Costs != nil)
	}
	// Output:
	// 1 hull, 3 slots, 6 options, 2 rules
	// buyer with costs: false
	// show with costs: true
	// yard with costs: true
}

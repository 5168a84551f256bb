package source_test

import (
	"fmt"
	"testing/fstest"

	"ribband/core/book/source"
)

// Everything that is wrong is reported at once, with its place and a remedy.
func ExampleRead() {
	folder := fstest.MapFS{"yard.yaml": {Data: []byte(`yard: {name: Teasel Bank Boats}
edition: {name: Spring, date: 2027-03-01}
currency: EUR
rounding: {mode: half-up, price_step: "5"}
pricing: {margin: "30 %"}
shops:
  - {id: assembly, titel: Assembly, people: 2, hours_day: 7.6, rate: "44.00"}
`)}}
	_, diagnostics, err := source.Read(folder)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range diagnostics {
		fmt.Printf("%s: %s\n  %s\n", p.Position, p.Message, p.Advice)
	}
	// Output:
	// yard.yaml:2:17: the book has no hull, so that nothing can be ordered
	//   add hulls: with the id, title and dimensions of each boat that the yard builds
	// yard.yaml:5:19: margin: reading a rate "30 %": want digits with an optional decimal point, like 1450 or 3.85
	//   write a share of 1 in quotes: "0.30" is 30 %
	// yard.yaml:7:20: unknown key "titel"
	//   did you mean "title"?
}

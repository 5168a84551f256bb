package deals_test

import (
	"fmt"

	"ribband/core/deals"
)

// What the show's device has, comes to the yard's, which has gone on with one of the records meanwhile.
func ExampleMerge() {
	file, err := deals.Decode((&deals.File{Device: "A", Written: "2027-03-01T18:00:00Z", Records: []deals.Record{
		record("a-1", `{"hull":"reed-65"}`), record("a-2", `{"hull":"osier-76"}`)}}).Encode())
	if err != nil {
		fmt.Println(err)
		return
	}
	here := file.Records[0]
	here.Spec = `{"hull":"sedge-46"}`
	there := file.Records[0]
	there.Spec = `{"hull":"rush-54"}`
	for _, o := range deals.Merge([]deals.Record{here}, []deals.Record{there, file.Records[1]}) {
		fmt.Println(o.Record.ID, o.Arrival, o.Put.Revision)
	}
	// Output:
	// a-1 diverged 2
	// a-2 added 1
}

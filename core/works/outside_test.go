package works_test

import (
	"slices"
	"testing"

	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/works"
)

// The bottom is painted by somebody else: it has a quantity and days, and nobody's hours, and stands where it stood.
func TestOutsideWork(t *testing.T) {
	p := yard()
	p.Costs.Operations[paint].Shop, p.Costs.Operations[paint].Outside = works.Outside, &pack.Outside{Unit: "m2"}
	work := &p.Work.Operations[paint]
	work.Crew, work.Days, work.Supplier, work.Spread = 0, 5, "Reedholm Painters", pack.Spread{}
	n, st := works.Compile(p), boat(1, 1, 2, 0)
	b, err := n.Boat(st, nil)
	if err != nil {
		t.Fatal(err)
	}
	// 6 × 0.75 of the antifouling and twice 0.25 of the lockers are no hours
	if got := b.Hours(); got != (works.KindHours{Base: h(100), Options: h(4)}) {
		t.Errorf("it takes %v", got)
	}
	if sum, err := n.Hours(st); err != nil || sum != h(104) {
		t.Errorf("in all %s h, %v", sum, err)
	}
	var quantity measure.Quantity
	for _, l := range b.Lines {
		if quantity += l.Quantity; (l.Quantity > 0) != (l.Operation == paint) {
			t.Errorf("%+v", l)
		}
	}
	if quantity.String() != "5" {
		t.Errorf("%s m² are painted, want 5", quantity)
	}
	if err := addsUp(b); err != nil {
		t.Error(err)
	}
	if err := inOrder(n, b); err != nil {
		t.Error(err)
	}
	i := slices.IndexFunc(b.Tasks(), func(t works.Task) bool { return t.Operation == paint })
	task := b.Tasks()[i]
	if task.Shop != works.Outside || task.Days != 5 || task.Crew != 0 || task.Hours != 0 || task.Elapsed != 0 ||
		task.Spread != pack.Exactly || len(task.After) != 1 || n.Place(&task) != "Reedholm Painters" {
		t.Errorf("%+v", task)
	}
	// an option whose work is done outside adds no hour to any shop
	more, err := n.More(st, boat(1, 0, 2, 0), formula.Reads{Options: []int{antifouling}, Slots: []int{0}})
	if err != nil || slices.ContainsFunc(more, func(h measure.Hours) bool { return h != 0 }) {
		t.Errorf("%v, %v", more, err)
	}
}

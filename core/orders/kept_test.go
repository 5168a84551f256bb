package orders_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
)

// soldOut is the yard's engine by a book that no longer sells some options.
func soldOut(t *testing.T, options ...string) *engine.Engine {
	t.Helper()
	p := *enginetest.Demo()[pack.Yard].Pack
	p.Options = slices.Clone(p.Options)
	for _, id := range options {
		i := slices.IndexFunc(p.Options, func(o pack.Option) bool { return o.ID == id })
		p.Options[i].Sale = &pack.Sale{Until: "2026-10-31", Off: true, Instead: -1}
	}
	e, err := engine.Compile(&p)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// An option that ended stays in the boat that has it, at the price that it has, whatever else is changed. Nobody can
// add it to another boat, nor more of it to this one.
func TestChangeKeepsWhatIsNoLongerSold(t *testing.T) {
	const number, free = "2027-002", "gelcoat-hull"
	l := demoLoad(t)
	var list []*orders.Order
	var of *orders.Order
	for _, b := range l.Boats {
		list = append(list, b.Order)
		if b.Order.Number == number {
			of = b.Order
		}
	}
	sold := enginetest.Demo()[pack.Yard]
	was := enginetest.Answer(t, sold, of.Quote().Spec)
	// what its customer chose, but for the slot that changes
	var ended []string
	for slot, options := range of.Quote().Spec.Choices {
		for id := range options {
			if slot != free {
				ended = append(ended, id)
			}
		}
	}
	slices.Sort(ended)
	if len(ended) < 2 {
		t.Fatalf("the order chose only %v", ended)
	}
	e := soldOut(t, append(ended, "gelcoat-hull-navy")...)
	change := func(slot string, options map[string]int) (*orders.ChangeOrder, error) {
		to := of.Quote().Spec
		to.Choices = maps.Clone(to.Choices)
		to.Choices[slot] = options
		return orders.NewChangeOrder(e, list, number, to, l.Day, plan.Quick)
	}
	other := "gelcoat-hull-cream"
	c, err := change(free, map[string]int{other: 1})
	if err != nil {
		t.Fatal(err)
	}
	to := enginetest.Answer(t, sold, c.Spec)
	if !c.After.Total.Equal(to.Price.Total) || c.After.Total.Equal(was.Price.Total) {
		t.Errorf("changed it costs %v, where all is sold %v", c.After.Total, to.Price.Total)
	}
	// the next revision is issued with it, and can be changed again
	q, err := c.Issue(e, of, "The owner")
	if err != nil || q.Revision != c.Revision {
		t.Fatal(q, err)
	}
	// two of what it has one of, where a slot takes that
	more := 0
	for slot, options := range of.Quote().Spec.Choices {
		for id, n := range options {
			i := slices.IndexFunc(sold.Pack.Options, func(o pack.Option) bool { return o.ID == id })
			if o := &sold.Pack.Options[i]; slot == free || o.Most <= n {
				continue
			}
			more++
			bigger := maps.Clone(options)
			bigger[id] = n + 1
			if _, err := change(slot, bigger); err == nil {
				t.Errorf("the boat has %d of %s, which has ended, and gets another", n, id)
			}
		}
	}
	if more == 0 {
		t.Errorf("none of %v could be more", ended)
	}
	// what has ended comes into no boat anew
	if _, err := change(free, map[string]int{"gelcoat-hull-navy": 1}); err == nil ||
		!strings.Contains(err.Error(), "was sold until") {
		t.Errorf("an option that has ended is put in: %v", err)
	}
}

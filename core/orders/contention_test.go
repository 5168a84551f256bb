package orders_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
)

// Of two boats in one mould the one that came last is told, with the other one and the remedy; the others are planned.
func TestTwoBoatsInOneMould(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	list := demoFiles(t).Orders
	i := len(list) - 1 // the last one is of a hull whose mould another order has
	taken := step(t, "check-mould", "2027-02-12", "2027-02-12", "1")
	spoilt, faults, err := list[i].Enter(e, []orders.Step{taken}, false)
	if err != nil || len(faults) > 0 {
		t.Fatal(err, faults)
	}
	list[i] = spoilt
	today := day(t, demoDay).Add(1)
	l, told := orders.NewLoad(e, list, today)
	const want = `2027-005.json: planning an order: "check-mould" takes "Deck mould of the Rush 54" on 2027-02-12, ` +
		`which the order 2027-002 has had since 2027-02-02 and not given free; enter there what gives it free, or ` +
		`mend one of the days`
	if len(told) != 1 || told[0].Error() != want {
		t.Fatalf("%v\nwant %s", told, want)
	}
	p, err := l.Make(plan.Quick)
	if err != nil || len(p.Boats) != len(list)-1 {
		t.Errorf("%v, planned are %d of %d", err, len(p.Boats), len(list))
	}
	c := orders.Contentions(e, list, today)
	if len(c) != 1 || !strings.HasPrefix(c[0].Of("2027-002"),
		`"check-mould" takes "Deck mould of the Rush 54" on 2027-02-02, which the order 2027-005 has had since `+
			`2027-02-12`) {
		t.Errorf("of the other one: %v", c)
	}
}

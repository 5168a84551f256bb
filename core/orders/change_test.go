package orders_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/spec"
)

// changeOf asks for a change of an order of the demo.
func changeOf(t *testing.T, number string, choices map[string]map[string]int) (*orders.ChangeOrder, *orders.Order) {
	t.Helper()
	l := demoLoad(t)
	var list []*orders.Order
	var of *orders.Order
	for _, b := range l.Boats {
		list = append(list, b.Order)
		if b.Order.Number == number {
			of = b.Order
		}
	}
	to := of.Quote().Spec
	was := to.Choices
	to.Choices = map[string]map[string]int{}
	for slot, options := range was {
		to.Choices[slot] = options
	}
	for slot, options := range choices {
		to.Choices[slot] = options
	}
	c, err := orders.NewChangeOrder(enginetest.Demo()[pack.Yard], list, number, to, l.Day, plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	return c, of
}

// What nobody has begun may be changed without undoing anything: the price is that of the boat as if it had been
// ordered so.
func TestChangeOfWhatIsFree(t *testing.T) {
	c, o := changeOf(t, "2027-005", map[string]map[string]int{"gelcoat-hull": {"gelcoat-hull-navy": 1}})
	if len(c.Refused)+len(c.Undone) > 0 || c.Revision != 2 {
		t.Fatalf("%+v", c)
	}
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(t, e, c.Spec)
	if !c.After.Total.Equal(a.Price.Total) || !c.Before.Total.Equal(o.Quote().Price.Total) ||
		c.After.Total.Equal(c.Before.Total) {
		t.Errorf("%v to %v; the boat is %v", c.Before.Total, c.After.Total, a.Price.Total)
	}
}

// What is built in is undone at what that costs, on top of the price of the boat.
func TestChangeOfWhatIsBuiltIn(t *testing.T) {
	choices := map[string]map[string]int{"bottom-paint": {"bottom-copper-free": 1}}
	c, o := changeOf(t, "2026-032", choices)
	if len(c.Undone) != 1 || len(c.Refused) > 0 {
		t.Fatalf("undone %+v, refused %+v", c.Undone, c.Refused)
	}
	e := enginetest.Demo()[pack.Yard]
	u := c.Undone[0]
	plain := c.Spec
	plain.Extras = o.Quote().Spec.Extras
	without := enginetest.Answer(t, e, plain).Price.Net
	if u.Hours.String() != "10" || u.Cost.Sign() <= 0 || u.Cost.Cmp(u.Lost) <= 0 ||
		!c.After.Net.Equal(without.Add(u.Cost)) {
		t.Errorf("undoing %+v makes %v of %v", u, c.After.Net, without)
	}
	if c.Launch.Days() < 0 || len(c.Hours) == 0 {
		t.Errorf("the launch moves by %d days, hours %+v", c.Launch.Days(), c.Hours)
	}
}

// What cannot be undone is refused with the operation and the day.
func TestChangeThatIsTooLate(t *testing.T) {
	c, _ := changeOf(t, "2026-033", map[string]map[string]int{"gelcoat-hull": {"gelcoat-hull-navy": 1}})
	if len(c.Refused) != 1 || c.Refused[0].Operation == "" || c.Refused[0].Begun.IsZero() {
		t.Fatalf("%+v", c.Refused)
	}
}

func TestChangesThatAreNone(t *testing.T) {
	l := demoLoad(t)
	var list []*orders.Order
	for _, b := range l.Boats {
		list = append(list, b.Order)
	}
	to := list[0].Quote().Spec
	other := to
	other.Hull = "sedge-46"
	wrong := to
	wrong.Choices = map[string]map[string]int{"top": {"no-such-top": 1}}
	for want, c := range map[string]struct {
		number string
		to     spec.Spec
	}{
		`there is no order "2031-001"`: {"2031-001", to},
		"make a new order of it":       {list[0].Number, other},
		"no-such-top":                  {list[0].Number, wrong},
	} {
		_, err := orders.NewChangeOrder(enginetest.Demo()[pack.Yard], list, c.number, c.to, l.Day, plan.Quick)
		if err == nil || !strings.Contains(err.Error(), want) || !strings.HasPrefix(err.Error(), "changing ") {
			t.Errorf("%v; want %s", err, want)
		}
	}
}

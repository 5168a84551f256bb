package orders_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/quote"
	"ribband/core/spec"
	"ribband/core/works"
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
	c, err := orders.NewChangeOrder(enginetest.Demo()[pack.Yard], list, number, with(of, choices), l.Day, plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	return c, of
}

// with is the spec of an order with other choices in some slots.
func with(o *orders.Order, choices map[string]map[string]int) spec.Spec {
	to := o.Quote().Spec
	was := to.Choices
	to.Choices = map[string]map[string]int{}
	maps.Copy(to.Choices, was)
	maps.Copy(to.Choices, choices)
	return to
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

// A boat that the book asks more for today keeps the price of its quotation; what changes has today's.
func TestChangeKeepsThePricesOfTheQuotation(t *testing.T) {
	l := demoLoad(t)
	list := l.Orders()
	e := enginetest.Demo()[pack.Yard]
	o := order(t, "2027-005")
	// as if it had been quoted from a book of lower prices: the spec knows nothing of what was less
	cheap := o.Quote().Spec
	cheap.Discounts = []spec.Discount{{Title: "Last year", Amount: money.MustParse("1000")}}
	q, err := quote.Freeze(e, enginetest.Answer(t, e, cheap), o.Quote().Details)
	if err != nil {
		t.Fatal(err)
	}
	q.Spec.Discounts = nil
	older := *o
	older.Quotation = q.Encode()
	o = reread(t, &older)
	for i := range list {
		if list[i].Number == o.Number {
			list[i] = o
		}
	}
	for _, choices := range []map[string]map[string]int{{}, {"gelcoat-hull": {"gelcoat-hull-navy": 1}}} {
		to := with(o, choices)
		c, err := orders.NewChangeOrder(e, list, o.Number, to, l.Day, plan.Quick)
		if err != nil {
			t.Fatal(err)
		}
		today := enginetest.Answer(t, e, to).Price.Total.Sub(enginetest.Answer(t, e, q.Spec).Price.Total)
		if !c.Before.Total.Equal(q.Price.Total) || !c.After.Total.Sub(c.Before.Total).Equal(today) ||
			c.Agreed.String() != "1000" {
			t.Errorf("from %v to %v, %v agreed; the change is %v today", c.Before.Total, c.After.Total, c.Agreed, today)
		}
		// the same again is no other price
		issued, err := c.Issue(e, o, "the owner")
		if err != nil {
			t.Fatal(err)
		}
		if !issued.Price.Total.Equal(c.After.Total) {
			t.Errorf("issued at %v, said %v", issued.Price.Total, c.After.Total)
		}
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

// Material is lost when an operation has taken it. Until then it lies in the store, however long the slot is fixed: of
// a primer that is on, and a paint that is to follow, the primer alone.
func TestChangeLosesWhatWasTaken(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	choices := map[string]map[string]int{"bottom-paint": {"bottom-copper-free": 1}}
	_, o := changeOf(t, "2026-032", choices)
	all := o.Done
	defer func() { o.Done = all }()
	a := enginetest.Answer(t, e, o.Quote().Spec)
	slot := slices.IndexFunc(e.Pack.Slots, func(s pack.Slot) bool { return s.ID == "bottom-paint" })
	share := e.Pack.Work.Slots[slot].Undo.ShareLost
	lost := map[string]bool{}
	for n := range all {
		o.Done = all[:n+1]
		c, err := orders.NewChangeOrder(e, []*orders.Order{o}, o.Number, with(o, choices), demoLoad(t).Day, plan.Quick)
		if err != nil {
			t.Fatal(err)
		}
		want := money.Amount{}
		for _, m := range a.Cost.Materials {
			begun := func(s orders.Step) bool { return s.Operation == e.Work.Operations[m.Operation].ID }
			if m.For.Kind == works.Option && e.Pack.Options[m.For.Index].Slot == slot &&
				slices.ContainsFunc(o.Done, begun) {
				want = want.Add(m.Amount.Share(share))
			}
		}
		if len(c.Undone) == 0 {
			continue // still free
		}
		// bought material is told in whole cents
		if got := c.Undone[0].Lost; got.Fixed(2) != want.Fixed(2) {
			t.Errorf("after %s: lost %v, want %v", all[n].Operation, got, want)
		}
		lost[want.String()] = true
	}
	if len(lost) < 2 {
		t.Errorf("the same is lost whatever was begun: %v", lost)
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

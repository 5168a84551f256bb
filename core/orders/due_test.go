package orders_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
)

// dueOf is the account of one order on a day.
func dueOf(t testing.TB, o *orders.Order, on string) orders.Account {
	t.Helper()
	list, faults := orders.Dues(enginetest.Demo()[pack.Yard], []*orders.Order{o}, day(t, on))
	if len(faults) > 0 || len(list) != 1 {
		t.Fatal(list, faults)
	}
	return list[0]
}

// A stage is due from the day on which its operation was done, and late from the day after it is to be paid.
func TestStagesBecomeDueWithTheWork(t *testing.T) {
	o := order(t, "2026-032") // in the tank on the demo's day
	done := map[string]orders.Day{}
	for _, s := range o.Done {
		done[s.Operation] = s.Done
	}
	a := dueOf(t, o, "2027-02-13")
	for i, want := range []orders.Day{o.Accepted, done["demould"], done["connect-systems"], done["tank-trial"], {}} {
		if s := a.Stages[i]; s.Due != want || !want.IsZero() && s.PayBy != want.Add(14) {
			t.Errorf("%s is due since %s, to be paid by %s; want %s", s.Title, s.Due, s.PayBy, want)
		}
	}
	if a.Stages[0].Late == 0 || a.Stages[0].Late != a.Late() || !a.Overdue().Equal(a.Stages[0].Amount) {
		t.Errorf("%+v", a)
	}
	// two weeks to the day are in time, and one day more is not
	first := o.Accepted.Add(14)
	in, after := dueOf(t, o, first.String()), dueOf(t, o, first.Add(1).String())
	if in.Late() != 0 || after.Late() != 1 {
		t.Error("two weeks are not two weeks")
	}
	var sum money.Amount
	for _, s := range a.Stages {
		if !s.Due.IsZero() {
			sum = sum.Add(s.Amount)
		}
	}
	if in = dueOf(t, paid(t, o, a.Stages[0].Amount.String()), "2027-02-13"); !a.Asked.Equal(sum) || in.Late() != 0 {
		t.Errorf("asked for %s of %s", a.Asked, sum)
	}
}

// order is one of the demo.
func order(t testing.TB, number string) *orders.Order {
	t.Helper()
	o, err := orders.Find(demoLoad(t).Orders(), number)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// What a change has added to a stage that was paid is due since the change, and what it took away is set off.
func TestDuesAfterAChange(t *testing.T) {
	o := order(t, "2026-032")
	var amounts []string
	for _, s := range o.Quote().Price.Stages[:2] {
		amounts = append(amounts, s.Amount.String())
	}
	o = paid(t, o, amounts...)
	list := demoLoad(t).Orders()
	for i := range list {
		if list[i].Number == o.Number {
			list[i] = o
		}
	}
	e := enginetest.Demo()[pack.Yard]
	accept := func(choices map[string]map[string]int) *orders.Order {
		to := o.Quote().Spec
		to.Choices = map[string]map[string]int{}
		for slot, options := range o.Quote().Spec.Choices {
			to.Choices[slot] = options
		}
		for slot, options := range choices {
			to.Choices[slot] = options
		}
		c, err := orders.NewChangeOrder(e, list, o.Number, to, day(t, "2027-02-15"), plan.Quick)
		if err != nil {
			t.Fatal(err)
		}
		q, err := c.Issue(e, o, "")
		if err != nil {
			t.Fatal(err)
		}
		next, err := o.Accept(orders.Change{Accepted: day(t, "2027-02-15"), Promised: o.Promise(),
			Quotation: q.Encode()})
		if err != nil {
			t.Fatal(err)
		}
		return next
	}
	dearer := accept(map[string]map[string]int{"bottom-paint": {"bottom-copper-free": 1}})
	a := dueOf(t, dearer, "2027-02-20")
	for _, s := range a.Stages[:2] {
		if s.Open.Sign() <= 0 || s.Due.String() != "2027-02-15" || s.Late > 0 {
			t.Errorf("%+v", s)
		}
	}
	if s := a.Stages[2]; s.Due.String() == "2027-02-15" {
		t.Errorf("nothing of %q was paid, and it is due since the change", s.Title)
	}
	// all but a hundred is paid back by a boat that became cheaper than what was paid
	o = paid(t, dearer, "", "", "90000")
	a = dueOf(t, o, "2027-02-20")
	if a.Asked.Sign() != 0 || a.Open.Sign() != 0 || !a.Surplus.Equal(a.Paid.Sub(a.Amount)) {
		t.Errorf("%+v", a)
	}
}

// What a change asks for of an operation that was done is worked again and entered with the hours of both times; then
// the plan has it no more.
func TestWorkAfterAChange(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	list := demoLoad(t).Orders()
	o := order(t, "2026-032")
	to := o.Quote().Spec
	to.Choices = map[string]map[string]int{"bottom-paint": {"bottom-copper-free": 1}}
	for slot, options := range o.Quote().Spec.Choices {
		if slot != "bottom-paint" {
			to.Choices[slot] = options
		}
	}
	c, err := orders.NewChangeOrder(e, list, o.Number, to, day(t, "2027-02-15"), plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	q, err := c.Issue(e, o, "")
	if err != nil {
		t.Fatal(err)
	}
	o, err = o.Accept(orders.Change{Accepted: day(t, "2027-02-15"), Promised: o.Promise(), Quotation: q.Encode()})
	if err != nil {
		t.Fatal(err)
	}
	again := func(o *orders.Order) (titles []string) {
		l, faults := orders.NewLoad(e, []*orders.Order{o}, day(t, "2027-03-01"))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for _, a := range l.Plan.Activities {
			if strings.HasSuffix(a.Title, " (again)") {
				titles = append(titles, a.Title)
			}
		}
		return titles
	}
	before := again(o)
	if len(before) == 0 {
		t.Fatal("nothing is worked again")
	}
	for _, s := range o.Done {
		if s.Done.IsZero() {
			continue
		}
		worked := s
		worked.Done, worked.Hours = day(t, "2027-02-20"), s.Hours+1_000_000
		next, faults, err := o.Enter(e, []orders.Step{worked}, false)
		if err != nil {
			t.Fatal(err)
		}
		// an operation of which the change asks for nothing cannot have been done after what follows it
		if len(faults) > 0 {
			continue
		}
		if left := again(next); len(left) < len(before) {
			if len(left) != len(before)-1 {
				t.Errorf("%s: %v of %v are left", s.Operation, left, before)
			}
			return
		}
	}
	t.Errorf("nothing of %v can be entered", before)
}

// A stage that the book has no more is told, and is due when all is done.
func TestDueOfAnUnknownStage(t *testing.T) {
	o := order(t, "2026-032")
	e := enginetest.Demo()[pack.Yard]
	// the book of today calls a stage otherwise
	other := *e.Pack
	other.Stages = append([]pack.Stage{}, other.Stages...)
	other.Stages[1].Title = "When it is out of the mould"
	in := *e
	in.Pack = &other
	list, faults := orders.Dues(&in, []*orders.Order{o}, day(t, "2027-02-13"))
	if len(list) != 1 || len(faults) == 0 {
		t.Fatal(list, faults)
	}
	if !strings.Contains(faults[0].Error(), `2026-032.json: finding what is due: quotation: the book has no stage "`) {
		t.Error(faults[0])
	}
	if s := list[0].Stages[1]; !s.Due.IsZero() {
		t.Errorf("%+v", s)
	}
}

// A boat that was handed over takes no hour any more, whatever was not entered, and owes all of its stages.
func TestBoatsThatAreHandedOver(t *testing.T) {
	list := demoLoad(t).Orders()
	open, err := orders.Find(list, "2026-034")
	if err != nil {
		t.Fatal(err)
	}
	b := open.Known()
	b.HandedOver = day(t, "2027-03-20")
	gone, err := open.With(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		on   string
		over bool
	}{{"2027-03-20", false}, {"2027-03-21", true}} {
		l, _ := orders.NewLoad(enginetest.Demo()[pack.Yard], []*orders.Order{gone}, day(t, c.on))
		left := 0
		for _, a := range l.Plan.Activities {
			if a.State != plan.Done {
				left++
			}
		}
		if (left == 0) != c.over {
			t.Errorf("on %s %d activities are left", c.on, left)
		}
	}
	before, after := dueOf(t, open, "2027-03-21"), dueOf(t, gone, "2027-03-21")
	if !after.Asked.Equal(after.Amount) || before.Asked.Equal(after.Asked) {
		t.Errorf("asked for %s and %s of %s", before.Asked, after.Asked, after.Amount)
	}
}

// What is late comes first.
func TestLateOrdersComeFirst(t *testing.T) {
	list, faults := orders.Dues(enginetest.Demo()[pack.Yard], demoLoad(t).Orders(), day(t, "2027-02-13"))
	if len(faults) > 0 || len(list) != len(demoOrders) {
		t.Fatal(len(list), faults)
	}
	for i := range list[1:] {
		if list[i].Late() < list[i+1].Late() {
			t.Errorf("%s, %d days late, comes before %s", list[i].Order, list[i].Late(), list[i+1].Order)
		}
	}
}

package orders_test

import (
	"bytes"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/orders"
	"ribband/core/pack"
)

// ordered is a fresh order as the command makes it.
func ordered(t testing.TB) *orders.Order {
	t.Helper()
	week, err := orders.ParseWeek("2027-W22")
	if err != nil {
		t.Fatal(err)
	}
	o, err := orders.New("2027-014", day(t, "2027-01-18"), week, issued(t, "Q-7", 1, launch("sedge-46")))
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// step is work that was done on whole days; done is "" while it is under way.
func step(t testing.TB, operation, begun, done, hours string) orders.Step {
	t.Helper()
	s := orders.Step{Operation: operation, Begun: day(t, begun)}
	if err := s.Done.UnmarshalText([]byte(done)); err != nil {
		t.Fatal(err)
	}
	if err := s.Hours.UnmarshalText([]byte(hours)); err != nil {
		t.Fatal(err)
	}
	return s
}

// encoded is the file of an order.
func encoded(t testing.TB, o *orders.Order) string {
	t.Helper()
	text, err := o.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What cannot be ordered is refused with what to do; what can is the file that a person would have written.
func TestNewOrders(t *testing.T) {
	if a, b := encoded(t, ordered(t)), encoded(t, ordered(t)); a != b {
		t.Error("the same order twice is two")
	}
	week, _ := orders.ParseWeek("2027-W22")
	good := issued(t, "Q-7", 1, launch("sedge-46"))
	draft := bytes.Replace(good, []byte(`"number": "Q-7"`), []byte(`"number": ""`), 1)
	cheaper := bytes.Replace(good, []byte(`"title": "With the order"`), []byte(`"title": "Whenever"`), 1)
	for name, c := range map[string]struct {
		number, accepted string
		quotation        []byte
		want             string
	}{
		"a draft":           {"2027-014", "2027-01-18", draft, "it is a draft, which has no number"},
		"changed":           {"2027-014", "2027-01-18", cheaper, "Q-7 is not what was issued"},
		"before it":         {"2027-014", "2027-01-10", good, "is before 2027-01-11, on which quotation Q-7"},
		"too late":          {"2027-014", "2027-06-01", good, "holds no more"},
		"out of its folder": {"../x", "2027-01-18", good, "number: give one of 1 to 40 letters, digits"},
		"a hidden file":     {".x", "2027-01-18", good, "number: give one"},
		"no number":         {"", "2027-01-18", good, "number: give one"},
	} {
		_, err := orders.New(c.number, day(t, c.accepted), week, c.quotation)
		if err == nil || !strings.Contains(err.Error(), c.want) ||
			!strings.HasPrefix(err.Error(), "making an order: ") {
			t.Errorf("%s: %v; want %q", name, err, c.want)
		}
	}
}

// Work is entered where it can have been done, and told where it cannot.
func TestWorkIsEntered(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	o := ordered(t)
	enter := func(o *orders.Order, correct bool, steps ...orders.Step) (*orders.Order, string) {
		next, faults, err := o.Enter(e, steps, correct)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, f := range faults {
			all = append(all, f.Err.Error())
		}
		return next, strings.Join(all, "\n")
	}
	// in any order, and the one that cannot be is left out
	next, faults := enter(o, false,
		step(t, "prepare-mould", "2027-02-02", "2027-02-03", "5"),
		step(t, "check-mould", "2027-02-01", "2027-02-01", "1"),
		step(t, "laminate-hull", "2027-02-03", "", "3"))
	if len(next.Done) != 2 || !strings.Contains(faults, `"laminate-hull" is begun, and "spray-gelcoat" is not done`) {
		t.Errorf("entered %v; %s", next.Done, faults)
	}
	if len(o.Done) > 0 {
		t.Error("the order before has changed")
	}
	same, faults := enter(next, false, step(t, "check-mould", "2027-02-01", "2027-02-01", "1"))
	if faults != "" || encoded(t, same) != encoded(t, next) {
		t.Errorf("what is entered twice counts twice: %s", faults)
	}
	for name, c := range map[string]struct {
		step orders.Step
		want string
	}{
		"done again": {step(t, "check-mould", "2027-02-01", "2027-02-01", "2"),
			"was entered as done on 2027-02-01 with 1 h"},
		"unknown":       {step(t, "prepare-mold", "2027-02-01", "", "2"), `did you mean "prepare-mould"?`},
		"not this boat": {step(t, "fit-thruster", "2027-02-01", "", "2"), `this boat has no operation "fit-thruster"`},
		"absurd":        {step(t, "spray-gelcoat", "2027-02-04", "", "20000"), "want 0 to 10000 h"},
		"backwards":     {step(t, "spray-gelcoat", "2027-02-04", "2027-02-03", "2"), "2027-02-03 is before 2027-02-04"},
		"too early":     {step(t, "spray-gelcoat", "2027-02-02", "", "2"), "comes before it, was done on 2027-02-03"},
	} {
		if after, faults := enter(next, false, c.step); !strings.Contains(faults, c.want) ||
			encoded(t, after) != encoded(t, next) {
			t.Errorf("%s: %s; want %q", name, faults, c.want)
		}
	}
	corrected, faults := enter(next, true, step(t, "check-mould", "2027-02-01", "2027-02-01", "2"))
	if faults != "" || corrected.Done[0].Hours.String() != "2" {
		t.Errorf("not corrected: %s %v", faults, corrected.Done)
	}
	// a correction is held to its neighbours, too
	if _, faults = enter(next, true, step(t, "check-mould", "2027-02-01", "2027-02-05", "2")); !strings.Contains(faults,
		`"prepare-mould" was begun on 2027-02-02, and "check-mould"`) {
		t.Error(faults)
	}
	// what is under way gets more hours and its end, and never fewer
	begun, _ := enter(next, false, step(t, "spray-gelcoat", "2027-02-04", "", "2"))
	if _, faults = enter(begun, false, step(t, "spray-gelcoat", "2027-02-04", "", "1")); !strings.Contains(faults,
		"had 2 h before, and cannot have 1 h now") {
		t.Error(faults)
	}
	if done, faults := enter(begun, false, step(t, "spray-gelcoat", "2027-02-04", "2027-02-05", "4")); faults != "" ||
		len(done.Done) != 3 {
		t.Error(faults)
	}
}

// What the demo's yard has done is entered from an empty order, in whatever order the cards come back.
func TestCardsComeBackInAnyOrder(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	full := demoLoad(t).Boats[0].Order
	empty := *full
	empty.Done = nil
	o := reread(t, &empty)
	random := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		cards := slices.Clone(full.Done)
		random.Shuffle(len(cards), func(i, j int) { cards[i], cards[j] = cards[j], cards[i] })
		next, faults, err := o.Enter(e, cards, false)
		if err != nil || len(faults) > 0 {
			t.Fatal(err, faults)
		}
		if len(next.Done) != len(full.Done) {
			t.Fatalf("%d of %d are entered", len(next.Done), len(full.Done))
		}
		for _, s := range full.Done {
			if !slices.Contains(next.Done, s) {
				t.Fatalf("%v is lost", s)
			}
		}
	}
}

// A list is read with what is wrong in it told by line.
func TestBookingsAreRead(t *testing.T) {
	list, faults, err := orders.ReadBookings([]byte("order;operation;begun;done;hours;by\n" +
		"2027-014;check-mould;2027-02-01;2027-02-01;1,5;O\n2027-014;prepare-mould;2027-02-30;;2;O\n" +
		"2027-014;prepare-mould;2027-02-01;;two;O\n2027-014;prepare-mould;2027-02-02;;2;O\n"))
	if err != nil || len(list) != 2 || list[0].Line != 2 || list[0].Step.Hours.String() != "1.5" ||
		!list[1].Step.Done.IsZero() {
		t.Fatal(list, err)
	}
	for i, want := range []string{`reading work done: line 3: begun: "2027-02-30" is no day`,
		`reading work done: line 4: hours: "two" is no number`} {
		if !strings.HasPrefix(faults[i].Error(), want) {
			t.Errorf("%v; want %s", faults[i], want)
		}
	}
	if _, _, err := orders.ReadBookings([]byte("order,operation\n")); err == nil ||
		!strings.Contains(err.Error(), `there is no column "begun"`) {
		t.Error(err)
	}
}

func FuzzReadBookings(f *testing.F) {
	f.Add([]byte("order,operation,begun,done,hours\n2027-014,demould,2027-02-01,,1.5\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		list, _, err := orders.ReadBookings(text)
		for _, b := range list {
			if err != nil || b.Line < 2 {
				t.Fatalf("%v of %q", b, text)
			}
		}
	})
}

// paid is an order with payments of its first stages.
func paid(t testing.TB, o *orders.Order, amounts ...string) *orders.Order {
	t.Helper()
	for i, text := range amounts {
		if text == "" {
			continue
		}
		next, err := o.Pay(orders.Payment{Stage: o.Quote().Price.Stages[i].Title, On: day(t, "2027-02-01"),
			Amount: money.MustParse(text)}, false)
		if err != nil {
			t.Fatal(err)
		}
		o = next
	}
	return o
}

func TestPaymentsThatAreNone(t *testing.T) {
	o := paid(t, ordered(t), "100")
	for name, c := range map[string]struct {
		stage, amount, want string
	}{
		"nothing":         {"With the order", "0", "nothing came in"},
		"less than cents": {"With the order", "1.005", "its least part is 0.01"},
		"twice":           {"With the order", "100", "stands in it already"},
		"of no stage":     {"Tip", "5", `the quotation has no "Tip"`},
	} {
		if _, err := o.Pay(orders.Payment{Stage: c.stage, On: day(t, "2027-02-01"), Amount: money.MustParse(c.amount)},
			false); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; want %q", name, err, c.want)
		}
	}
	again, err := o.Pay(o.Paid[0], true)
	if err != nil || len(again.Paid) != 2 {
		t.Error(err)
	}
}

// Whatever is paid of whichever stage, the sums agree with those of the quotation to the cent.
func TestAccountsAddUp(t *testing.T) {
	o := ordered(t)
	p := &o.Quote().Price
	rapid.Check(t, func(r *rapid.T) {
		with := *o
		with.Paid = nil
		var in money.Amount
		for range rapid.IntRange(0, 6).Draw(r, "payments") {
			amount := money.Exact(rapid.Int64Range(-500_000, 3_000_000).Draw(r, "cents"), -2)
			stage := p.Stages[rapid.IntRange(0, len(p.Stages)-1).Draw(r, "stage")].Title
			with.Paid = append(with.Paid, orders.Payment{Stage: stage, On: day(t, "2027-02-01"), Amount: amount})
			in = in.Add(amount)
		}
		a, err := with.Account()
		if err != nil {
			r.Fatal(err)
		}
		var open, tax, amount, setOff money.Amount
		for i, s := range a.Stages {
			if s.Open.Sign() < 0 || !s.Amount.Equal(p.Stages[i].Amount) ||
				!s.Open.Equal(s.Amount.Sub(s.Paid).Sub(s.SetOff)) {
				r.Fatalf("%+v of %+v", s, p.Stages[i])
			}
			open, tax, amount, setOff = open.Add(s.Open), tax.Add(s.Tax), amount.Add(s.Amount), setOff.Add(s.SetOff)
		}
		if !amount.Equal(p.Payable) || !tax.Equal(p.Tax) || !a.Paid.Equal(in) || !a.Open.Equal(open) ||
			!a.Surplus.Equal(setOff.Neg()) || !a.Open.Sub(a.Surplus).Equal(amount.Sub(in)) ||
			a.Open.Sign() > 0 && a.Surplus.Sign() > 0 {
			r.Fatalf("%+v of %v paid", a, in)
		}
	})
}

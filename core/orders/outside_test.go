package orders_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/msg/office"
	"ribband/core/orders"
	"ribband/core/orders/papers"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/plan"
	"ribband/core/render"
)

// galvanised sends the frame of every boat out between sewing and fitting out. The yard is closed on a Monday in the
// meantime.
var galvanised = []enginetest.Edit{
	{"yard.yaml", "after: [sew-canvas]}\n", `after: [galvanise]}
  - {id: galvanise, title: Galvanise the frame, after: [sew-canvas],
     subcontracted: {supplier: Invented Galvanisers, price: "2.40", unit: kg, days: 10}}
`},
	{"boat.yaml", "    operations:\n      - {operation: fit-out,", `    operations:
      - {operation: galvanise, quantity: 10.5}
      - {operation: fit-out,`},
	{"yard.yaml", "yard: {name", "yard: {closed: [2027-02-15], name"},
}

// wholePlan is the plan of a load, verified.
func wholePlan(t *testing.T, l *orders.Load) *orders.Plan {
	t.Helper()
	p, err := l.Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	if err := orders.Verify(p); err != nil {
		t.Fatal(err)
	}
	return p
}

// A boat whose frame goes out for ten working days from Monday 8 February, with one of them closed, has it back on
// Monday 22 February in the evening, and is launched fourteen days later than one that is fitted out at once: of its
// two weeks at the bench one has the closed Monday. No shop has an hour more.
func TestOutsideWorkInAPlan(t *testing.T) {
	_, bare := oneOrder(t, enginetest.Edited(t, galvanised[2]), "top=")
	e, l := oneOrder(t, enginetest.Edited(t, galvanised...), "top=")
	was, p := wholePlan(t, bare), wholePlan(t, l)
	if by := p.Boats[0].Launch.Since(was.Boats[0].Launch); by != 14 {
		t.Errorf("it is launched on %s, and without on %s", p.Boats[0].Launch, was.Boats[0].Launch)
	}
	out := slices.IndexFunc(p.Boats[0].Chain, func(r orders.Reason) bool { return r.Operation == "galvanise" })
	if out < 0 {
		t.Fatalf("%+v", p.Boats[0].Chain)
	}
	if r := p.Boats[0].Chain[out]; r.Days != 10 || r.Hours != 0 || r.Shop != "Invented Galvanisers" ||
		r.Start.String() != "2027-02-08" || r.Finish.String() != "2027-02-22" {
		t.Errorf("%+v", r)
	}
	for i, s := range p.Shops {
		hours, before := 0.0, 0.0
		for _, w := range s.Weeks {
			hours += w.Work
		}
		for _, w := range was.Shops[i].Weeks {
			before += w.Work
		}
		if hours != before {
			t.Errorf("%s works %g h, and without %g h", s.ID, hours, before)
		}
	}
	// 10.5 kg at 2.40
	a := l.Boats[0].Answer
	if a.Cost.Summary.Outside.String() != "25.2" {
		t.Errorf("it costs %s", a.Cost.Summary.Outside)
	}
	bought := p.Purchases(nil)
	i := slices.IndexFunc(bought, func(b orders.Purchase) bool { return b.Material == "galvanise" })
	if i < 0 {
		t.Fatalf("%+v", bought)
	}
	b := &bought[i]
	if b.OrderBy.String() != "2027-02-08" || b.Wanted().String() != "2027-02-22" || b.Buy.String() != "10.5" ||
		b.Amount.String() != "25.2" || b.Supplier != "Invented Galvanisers" || !b.For("2027-014") || b.Late != 0 {
		t.Errorf("%+v", b)
	}
	words := office.Words(e.Language())
	order := papers.SupplierOrder(words, &e.Public().Yard, b.Supplier, bought[i:i+1], p.Day)
	letter := string(render.Text(order, words))

	text := strings.Join(strings.Fields(letter), " ")
	for _, want := range []string{"Galvanise the frame", "10.50 kg", "We bring the piece on 8 February 2027",
		"22 February 2027"} {
		if !strings.Contains(text, want) {
			t.Errorf("the order to the supplier has no %q:\n%s", want, letter)
		}
	}
	for _, private := range []string{"2.4", "25.2", "2027-014", "Teasel 48"} {
		if strings.Contains(text, private) {
			t.Errorf("the order to the supplier has %q:\n%s", private, letter)
		}
	}
}

// The foreman reads on the build sheet what goes out and to whom, and the shops on their cards when it does and when it
// is back. The customer reads nothing of it.
func TestOutsideWorkOnPaper(t *testing.T) {
	e, l := oneOrder(t, enginetest.Edited(t, galvanised...), "top=top-fixed")
	p, a := wholePlan(t, l), l.Boats[0].Answer
	sheet := plain(t, e, a, "build-sheet")
	for _, want := range []string{"Outside work", "Invented Galvanisers", "Cut and sew canvas; working days 10",
		"25.20"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the build sheet has no %q:\n%s", want, sheet)
		}
	}
	// with the orders of the yard, of which there are none
	known, work := *e.Pack, *e.Pack.Work
	people := len(work.Shops)
	work.Load = &pack.Load{Day: "2027-02-08", Built: []int{0}, Taken: plan.Taken{Resources: make([]plan.Level, people)}}
	known.Work = &work
	busy, err := engine.Compile(&known)
	if err != nil {
		t.Fatal(err)
	}
	sheet = plain(t, busy, enginetest.Answer(t, busy, a.Spec), "build-sheet")
	if want := "goes out 23 February 2027; due back 9 March 2027"; !strings.Contains(sheet, want) {
		t.Errorf("the build sheet has no %q:\n%s", want, sheet)
	}
	quotation := plain(t, e, a, "quotation")
	for _, private := range []string{"Galvanis", "25.20", "Outside"} {
		if strings.Contains(quotation, private) {
			t.Errorf("the quotation has %q", private)
		}
	}
	words := func(shop string) string {
		return strings.Join(strings.Fields(written(t, e, cardOf(t, e, p, shop), paper.AsText)), " ")
	}
	// sewn on the day on which the cloth comes, and back ten working days later
	if got, want := words("canvas-shop"), "Galvanise the frame, Invented Galvanisers, 10 working days; goes out on "+
		"23 February 2027, due back on 9 March 2027"; !strings.Contains(got, want) {
		t.Errorf("the card has no %q:\n%s", want, got)
	}
	if got, want := words("assembly"), "Galvanise the frame (Invented Galvanisers); planned to be done on "+
		"9 March 2027"; !strings.Contains(got, want) {
		t.Errorf("the card has no %q:\n%s", want, got)
	}
}

// What went out on a day is back ten working days later whenever it is planned, and is bought no more; hours of it are
// none.
func TestOutsideWorkUnderWay(t *testing.T) {
	e, l := oneOrder(t, enginetest.Edited(t, galvanised...), "top=")
	o, faults, err := l.Boats[0].Order.Enter(e, []orders.Step{step(t, "galvanise", "2027-02-09", "", "0")}, false)
	if err != nil || len(faults) > 0 {
		t.Fatal(err, faults)
	}
	// out from the end of the 9th: nine working days until the 23rd without the 15th, and the tenth is the 24th
	for _, on := range []string{"2027-02-10", "2027-02-16", "2027-02-22", "2027-02-24"} {
		p, chain := planOn(t, e, o, on)
		i := slices.IndexFunc(chain, func(r orders.Reason) bool { return r.Operation == "galvanise" })
		if i < 0 || chain[i].Finish.String() != "2027-02-24" {
			t.Errorf("on %s: %+v", on, chain)
		}
		if slices.ContainsFunc(p.Purchases(nil), func(b orders.Purchase) bool { return !b.Back.IsZero() }) {
			t.Errorf("on %s it is to be ordered again", on)
		}
	}
	// overdue, it is expected from day to day
	if _, chain := planOn(t, e, o, "2027-03-01"); !slices.ContainsFunc(chain, func(r orders.Reason) bool {
		return r.Operation == "galvanise" && r.Finish.String() == "2027-03-01"
	}) {
		t.Errorf("%+v", chain)
	}
	_, faults, err = o.Enter(e, []orders.Step{step(t, "galvanise", "2027-02-09", "2027-02-24", "3")}, false)
	if err != nil || len(faults) != 1 || !strings.Contains(faults[0].Err.Error(), "is subcontracted") {
		t.Errorf("hours of it: %v, %v", err, faults)
	}
	if _, faults, err = o.Enter(e, []orders.Step{step(t, "galvanise", "2027-02-09", "2027-02-24", "0")},
		false); err != nil || len(faults) > 0 {
		t.Errorf("back: %v, %v", err, faults)
	}
}

// planOn is the plan of an order on a day, and what decides its launch.
func planOn(t *testing.T, e *engine.Engine, o *orders.Order, on string) (*orders.Plan, []orders.Reason) {
	t.Helper()
	l, faults := orders.NewLoad(e, []*orders.Order{o}, day(t, on))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	p := wholePlan(t, l)
	return p, p.Boats[0].Chain
}

// The show's desk knows what outside work costs and how long it takes, and not who does it; the buyer's knows nothing.
func TestOutsideWorkIsTheYards(t *testing.T) {
	desks := enginetest.Edited(t, append(galvanised,
		enginetest.Edit{"yard.yaml", "note: An inv", "launch: show, note: An inv"})...)
	for desk, want := range map[pack.Desk][]string{pack.Buyer: nil, pack.Show: {`"days":10`, `"price":"2.4"`},
		pack.Yard: {`"days":10`, `"price":"2.4"`, "Invented Galvanisers"}} {
		text, err := desks[desk].Pack.Encode()
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{`"days":10`, `"price":"2.4"`, "Invented Galvanisers"} {
			if has := strings.Contains(string(text), word); has != slices.Contains(want, word) {
				t.Errorf("the %s's desk has %q: %v", desk, word, has)
			}
		}
	}
}

package orders_test

import (
	"strings"
	"testing"

	"ribband/core/calendar"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/plan"
	"ribband/core/quote"
)

// oneOrder is a load of the small book with an order for a boat, accepted and planned on a Monday.
func oneOrder(t *testing.T, desks enginetest.Desks, choices ...string) (*engine.Engine, *orders.Load) {
	t.Helper()
	e := desks[pack.Yard]
	q := enginetest.Frozen(t, e, enginetest.Teasel(t, choices...))
	week, err := calendar.ParseWeek("2027-W30")
	if err != nil {
		t.Fatal(err)
	}
	o, err := orders.New("2027-014", day(t, "2027-02-08"), week, q.Encode())
	if err != nil {
		t.Fatal(err)
	}
	l, faults := orders.NewLoad(e, []*orders.Order{o}, day(t, "2027-02-08"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return e, l
}

// owner lets a customer bring two of the tube that the folding top takes by the metre, and leaves the rest to the yard.
var owner = []enginetest.Edit{
	{"boat.yaml", "      - id: top-fixed\n", `      - id: top-own
        title: Frame of your own
        carries: {mass_kg: 31}
        materials:
          - {material: frame-own, quantity: 2, operation: fit-out, supplied_by: customer}
          - {material: tube-25, quantity: 1.5, operation: fit-out}
        operations: [{operation: fit-out, hours: 4}]
      - id: top-fixed
`},
	{"yard.yaml", "materials:\n", `materials:
  - {id: frame-own, title: Frame of the customer, unit: each, cost: "310", pack: 4, lead_days: 35,
     supplier: Invented Tubes}
`},
}

// What the customer brings costs nothing and is bought by nobody; its weight counts, and its work is charged. It has to
// be there by the day of the operation that takes it, and the plan waits for it.
func TestWhatTheCustomerBrings(t *testing.T) {
	e, l := oneOrder(t, enginetest.Edited(t, owner...), "top=top-own")
	a := l.Boats[0].Answer
	for _, m := range a.Cost.Materials {
		if title := e.Pack.Costs.Materials[m.Material].ID; m.Customer != (title == "frame-own") ||
			m.Customer != m.Amount.IsZero() {
			t.Errorf("%s, of the customer: %v, costs %s", title, m.Customer, m.Amount)
		}
	}
	for _, p := range a.Cost.Purchases {
		if e.Pack.Costs.Materials[p.Material].ID == "frame-own" {
			t.Errorf("the boat buys %+v", p)
		}
	}
	// hull 290, frame 31; the operation takes 20 + 6 × 4.8 h and the 4 of the frame
	if got := enginetest.FigureOf(t, e, a, "mass_kg"); got != 321 {
		t.Errorf("the boat weighs %g kg, want 321", got)
	}
	if got := a.Work.Hours().Total().Float(); got < 52.8 {
		t.Errorf("the boat takes %g h, want those of the frame among them", got)
	}
	p, err := l.Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	// 35 days from the eighth of February
	begin := cardOf(t, e, p, "assembly").Work[0].Planned.Begin
	if begin != "2027-03-15" {
		t.Errorf("what takes the frame begins on %s, want 2027-03-15", begin)
	}
	var brought []orders.Purchase
	for _, b := range p.Purchases(orders.Stock{"frame-own": 5_000_000}) {
		if b.Customer != "" {
			brought = append(brought, b)
		} else if b.Material == "frame-own" {
			t.Errorf("the yard buys %+v", b)
		}
	}
	if len(brought) != 1 {
		t.Fatalf("the customer brings %+v", brought)
	}
	b := brought[0]
	if b.Material != "frame-own" || b.Customer != "Ottilie Sandmark" || b.Supplier != "" || b.Packs != 0 ||
		b.Buy.String() != "2" || !b.Amount.IsZero() || b.Wanted().String() != begin ||
		b.OrderBy.String() != "2027-02-08" || !b.For("2027-014") {
		t.Errorf("the customer brings %+v", b)
	}
	wantWords(t, e, p, a, "Frame of your own, supplied by the customer (its weight is counted)",
		"Frame of the customer (from the customer)")
}

// wantWords looks for words of the specification on quotation and build sheet, and for those of the card on the card
// of the shop that fits out.
func wantWords(t *testing.T, e *engine.Engine, p *orders.Plan, a *engine.Answer, specification, card string) {
	t.Helper()
	for _, id := range []string{"quotation", "build-sheet"} {
		text := plain(t, e, a, id)
		if !strings.Contains(text, specification) {
			t.Errorf("the %s has no %q:\n%s", id, specification, text)
		}
	}
	if text := written(t, e, cardOf(t, e, p, "assembly"), paper.AsText); !strings.Contains(text, card) {
		t.Errorf("the card has no %q:\n%s", card, text)
	}
}

// cardOf is the card of a shop on the only order.
func cardOf(t *testing.T, e *engine.Engine, p *orders.Plan, shop string) *orders.Card {
	t.Helper()
	cards, err := p.Cards(e, "2027-014", shop)
	if err != nil || len(cards) != 1 {
		t.Fatal(len(cards), err)
	}
	return &cards[0]
}

// plain is a paper of a boat as text, in lines that are not broken.
func plain(t *testing.T, e *engine.Engine, a *engine.Answer, id string) string {
	t.Helper()
	of, err := paper.Find(id, e)
	if err != nil {
		t.Fatal(err)
	}
	s, err := of.Of(e, a, quote.Draft(e, a), "")
	if err != nil {
		t.Fatal(err)
	}
	text, err := of.Write(s, paper.AsText)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(text)), " ")
}

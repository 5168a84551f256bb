package cost_test

import (
	"testing"

	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/works"
)

// sentOut has a supplier weld a frame of 1.5 m for each metre of the hull under every shelf, at a price of the metre.
func sentOut(p *pack.Pack, price money.Amount) {
	p.Costs.Operations = append(p.Costs.Operations, pack.Operation{ID: "weld", Title: "Weld the frame",
		Shop: pack.NoShop, Outside: &pack.Outside{Unit: "m", Price: price}})
	p.Work.Operations = append(p.Work.Operations, pack.OperationWork{Days: 8, Supplier: "Tarnmoor Welders",
		Spread: pack.Exactly})
	item := &p.Costs.Options[shelf]
	item.Operations = append(item.Operations, need(3, "h0 n1.5 *", 9))
}

// Outside work is a cost by itself, without overhead and with the contingency.
//
// By hand: 6 m × 1.5 = 9 m at 12.35 are 111.15. Materials 1108.80 + 963.93 and 46.20 of a pack that is left, 96 h at
// 32.50 = 3120, overhead 0.06 × 2118.93 = 127.14 and 0.42 × 3120 = 1310.40, together 6676.47; with the outside work
// 6787.62, of which 0.03 are 203.63.
func TestOutsideWork(t *testing.T) {
	p := yard()
	sentOut(p, money.MustParse("12.35"))
	c, st := compiled(t, p), state(0, 0, 1)
	s, err := boat(c, st)
	if err != nil {
		t.Fatal(err)
	}
	wantSummary(t, s.Summary, "2072.73", "46.20", "3120", "127.14", "1310.40", "203.63", "6991.25")
	same(t, "outside work", s.Summary.Outside, "111.15")
	l := s.Work[len(s.Work)-1]
	if l.For != works.Of(shelf, 1) || l.Shop != works.Outside || l.Hours != 0 || l.Quantity.String() != "9" ||
		l.At != 9 {
		t.Errorf("%+v", l)
	}
	same(t, "its line", l.Amount, "111.15")
	// what the price of the shelf follows from: 111.15 and 0.03 of it
	item, err := c.Item(st, works.Of(shelf, 1))
	if err != nil {
		t.Fatal(err)
	}
	wantSummary(t, item, "0", "0", "0", "0", "0", "3.33", "114.48")
	// two of them are two pieces
	if item, err = c.Item(st, works.Of(shelf, 2)); err != nil {
		t.Fatal(err)
	}
	same(t, "two", item.Outside, "222.30")
}

// A pack in which a supplier's work has a shop, people, no days or no price that can be is refused.
func TestOutsideWorkThatIsNone(t *testing.T) {
	for name, spoil := range map[string]func(o *pack.Operation, w *pack.OperationWork){
		"shop":      func(o *pack.Operation, _ *pack.OperationWork) { o.Shop = joinery },
		"nobody":    func(o *pack.Operation, _ *pack.OperationWork) { o.Outside = nil },
		"unit":      func(o *pack.Operation, _ *pack.OperationWork) { o.Outside.Unit = "furlong" },
		"price":     func(o *pack.Operation, _ *pack.OperationWork) { o.Outside.Price = money.MustParse("-1") },
		"days":      func(_ *pack.Operation, w *pack.OperationWork) { w.Days = 0 },
		"centuries": func(_ *pack.Operation, w *pack.OperationWork) { w.Days = 1 << 20 },
		"crew":      func(_ *pack.Operation, w *pack.OperationWork) { w.Crew = 1 },
		"spread":    func(_ *pack.Operation, w *pack.OperationWork) { w.Spread.Low = 0 },
		"batch":     func(_ *pack.Operation, w *pack.OperationWork) { w.Batch = pack.SameHull },
		"checks":    func(_ *pack.Operation, w *pack.OperationWork) { w.Checks = []pack.Check{{ID: "coat"}} },
	} {
		p := yard()
		sentOut(p, money.MustParse("12.35"))
		spoil(&p.Costs.Operations[3], &p.Work.Operations[3])
		text, err := p.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := pack.Decode(text); err == nil {
			t.Errorf("%s: it is read", name)
		}
	}
}

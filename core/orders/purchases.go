package orders

import (
	"cmp"
	"fmt"
	"slices"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/orders/list"
	"ribband/core/plan"
	"ribband/core/suggest"
	"ribband/core/works"
)

// Purchase is a material that has to be bought for the boats of a plan, beyond what is in stock, or work that a
// supplier has to do on one of them. Nobody enters here what was ordered: until it is in the store's list, where what
// is on its way stands, too, or the work is begun, it is wanted again.
type Purchase struct {
	Material string           `json:"material"` // of outside work the operation
	Title    string           `json:"title"`
	Supplier string           `json:"supplier,omitempty"`
	Customer string           `json:"from_customer,omitempty"` // who brings it for his own boat; "" for what is bought
	Article  string           `json:"article,omitempty"`       // the supplier's number for it
	Unit     string           `json:"unit"`
	Needed   measure.Quantity `json:"needed"` // with waste, by what is not begun yet
	Stock    measure.Quantity `json:"stock"`  // of it in the store
	Buy      measure.Quantity `json:"buy"`
	Packs    int64            `json:"packs,omitempty"` // that hold it; 0 where the material is not bought by the pack
	Pack     measure.Quantity `json:"pack,omitempty"`  // size of one
	Price    money.Amount     `json:"unit_price"`      // of one unit, by all that is bought: whole packs
	Amount   money.Amount     `json:"amount"`          // for all that is bought, before tax, not rounded
	OrderBy  Day              `json:"order_by"`        // so that it is there for the first that lacks it
	Late     int              `json:"late,omitempty"`  // days that the order is too late
	Needs    []Need           `json:"needs"`           // in the order of their days
	// of outside work, which goes out on OrderBy: when it is due back by the plan
	Back Day `json:"due_back,omitzero"`
}

// Need is what an operation takes of a material, of one order; the day is that of the plan, and moves with it.
type Need struct {
	Order     string           `json:"order"`
	Operation string           `json:"operation"` // title; "" where the book does not say which takes it
	Day       Day              `json:"day"`       // on which it begins by the plan
	Quantity  measure.Quantity `json:"quantity"`
	Lacking   measure.Quantity `json:"lacking"` // of it, beyond what is in stock for it
}

// Purchases are what the boats of a plan still need and the store does not have: those that have to be ordered first
// come first, what is late before all. The stock goes to what is needed first. What is begun has its material; a
// material that no operation of the book takes is wanted when the boat's first work begins. Behind them stands what the
// customers bring, each for his own boat: the store has none of it, and the day is that by which he is asked for it.
func (p *Plan) Purchases(stock Stock) []Purchase {
	l := p.load
	needs := make([][]Need, len(l.engine.Pack.Costs.Materials))
	for i := range l.Boats {
		p.needs(i, false, needs)
	}
	list := append(p.listed(needs, stock), p.outside()...)
	byDay(list)
	var brought []Purchase
	for i := range l.Boats {
		needs := make([][]Need, len(l.engine.Pack.Costs.Materials))
		p.needs(i, true, needs)
		for _, b := range p.listed(needs, nil) {
			// what the book knows of a supplier and of packs is of what the yard would buy
			b.Customer, b.Supplier, b.Article = l.Boats[i].Order.Quote().Customer.Name, "", ""
			b.Packs, b.Pack, b.Price, b.Amount = 0, 0, money.Amount{}, money.Amount{}
			brought = append(brought, b)
		}
	}
	byDay(brought)
	return append(list, brought...)
}

// outside is the work that suppliers still have to do, a purchase for each boat: it is a piece of its own, and has days
// of its own. What is begun is with its supplier.
func (p *Plan) outside() (list []Purchase) {
	// the store has none of it, and two boats are two errands: nothing is summed
	l := p.load
	for i := range l.Boats {
		b := &l.Boats[i]
		for k := range b.Tasks {
			t, activity := &b.Tasks[k], b.First+k
			if t.Shop != works.Outside || l.Plan.Activities[activity].State != plan.Open {
				continue
			}
			op := &l.engine.Work.Operations[t.Operation]
			of := l.engine.Pack.Costs.Operations[t.Operation].Outside
			out := l.dayOf(p.schedule.Start[activity] + 1)
			x := Purchase{Material: op.ID, Title: op.Title, Supplier: op.Supplier, Unit: of.Unit, Price: of.Price,
				OrderBy: out, Back: l.dayOf(p.schedule.Finish[activity])}
			// of one operation for all that causes it on the boat
			for _, line := range t.Lines {
				x.Buy += b.Answer.Work.Lines[line].Quantity
			}
			x.Needed, x.Amount = x.Buy, x.Price.Scaled(int64(x.Buy), measure.Exponent)
			x.Needs = []Need{{Order: b.Order.Number, Operation: op.Title, Day: out, Quantity: x.Buy, Lacking: x.Buy}}
			list = append(list, x)
		}
	}
	return list
}

// listed are the purchases of what is needed, by material, those that have to be ordered first before the others.
func (p *Plan) listed(needs [][]Need, stock Stock) (list []Purchase) {
	for material, needs := range needs {
		if b, ok := p.purchase(material, needs, stock); ok {
			list = append(list, b)
		}
	}
	byDay(list)
	return list
}

// byDay sorts by the day of the order.
func byDay(list []Purchase) {
	slices.SortStableFunc(list, func(x, y Purchase) int {
		return cmp.Or(x.OrderBy.Since(y.OrderBy), cmp.Compare(x.Supplier, y.Supplier))
	})
}

// needs adds what a boat still takes of what its customer brings, or of what the yard buys, by material. Lines of one
// operation are one need. Waste is in the quantities, as in the cost of the boat: both are of the same lines.
func (p *Plan) needs(boat int, customer bool, needs [][]Need) {
	l := p.load
	b := &l.Boats[boat]
	// what no operation of the book takes is wanted from the first day on
	first := plan.Never
	for i := range b.Tasks {
		first = min(first, p.schedule.Start[b.First+i])
	}
	for _, m := range b.Answer.Cost.Materials {
		if m.Customer != customer {
			continue
		}
		task := slices.IndexFunc(b.Tasks,
			func(t works.Task) bool { return t.Operation == m.Operation && m.Operation >= 0 })
		start, title := first, ""
		if task >= 0 {
			start, title = p.schedule.Start[b.First+task], l.title(b, &b.Tasks[task])
		}
		if begun := task >= 0 && l.Plan.Activities[b.First+task].State != plan.Open; begun || start < l.at(l.Day) {
			continue
		}
		// lines of one operation follow each other: they are in the order of the book
		of := &needs[m.Material]
		n := Need{Order: b.Order.Number, Operation: title, Day: l.dayOf(start + 1), Quantity: m.Used}
		if k := len(*of) - 1; k >= 0 && (*of)[k].Order == n.Order && (*of)[k].Operation == n.Operation {
			(*of)[k].Quantity += n.Quantity
			continue
		}
		*of = append(*of, n)
	}
}

// purchase is what has to be bought of a material; false where the store has enough. The day is that of the first that
// lacks it: whoever orders for all of them orders by then, and whoever orders one by one finds the others behind it.
func (p *Plan) purchase(material int, needs []Need, stock Stock) (Purchase, bool) {
	l := p.load
	m, from := &l.engine.Pack.Costs.Materials[material], &l.engine.Pack.Work.Supplies[material]
	b := Purchase{Material: m.ID, Title: m.Title, Supplier: from.Supplier, Article: from.Article,
		Unit: m.Unit, Stock: stock[m.ID]}
	slices.SortStableFunc(needs, func(x, y Need) int { return x.Day.Since(y.Day) })
	left := b.Stock // what the earlier ones leave of it
	for i := range needs {
		n := &needs[i]
		b.Needed += n.Quantity
		n.Lacking = max(0, n.Quantity-left)
		left = max(0, left-n.Quantity)
		if n.Lacking > 0 && b.Buy == 0 {
			b.OrderBy = n.Day.Add(-from.LeadDays)
		}
		b.Buy += n.Lacking
	}
	// all in stock, or all begun
	if b.Buy == 0 {
		return b, false
	}
	b.Needs = needs
	b.Late = max(0, l.Day.Since(b.OrderBy))
	if size := measure.Quantity(m.Pack.Millionths()); size > 0 {
		b.Packs, _ = b.Buy.Packs(size)
		b.Pack = size
	}
	// what is left of a pack is paid for, too, and may be what reaches a price by quantity
	all := b.Bought()
	b.Price = m.CostOf(all)
	b.Amount = b.Price.Scaled(int64(all), measure.Exponent)
	return b, true
}

// Bought is what the supplier delivers: whole packs, where he sells by the pack.
func (b *Purchase) Bought() measure.Quantity {
	// nobody opens a drum for part of it
	if b.Packs > 0 {
		return measure.Quantity(b.Packs) * b.Pack
	}
	return b.Buy
}

// Stock is what is in the store, by material of the book.
type Stock map[string]measure.Quantity

// mostStock is more than any store holds of a material, so that a slip of the keyboard is seen.
const mostStock = 1_000_000 // units

// ReadStock reads a list of the store, as CSV with the columns material and quantity; others may stand beside them.
// What is wrong with a row is a fault with its line, and the other rows are kept. An error says why there is no stock.
func ReadStock(text []byte, e *engine.Engine) (Stock, []error, error) {
	l, err := list.Read(text, "material", "quantity")
	if err != nil {
		return nil, nil, fmt.Errorf("reading a stock: %w", err)
	}
	var known []string
	for i := range e.Pack.Costs.Materials {
		known = append(known, e.Pack.Costs.Materials[i].ID)
	}
	s, faults := Stock{}, slices.Clone(l.Faults)
	for i := range l.Rows {
		if err := s.read(&l.Rows[i], known); err != nil {
			faults = append(faults, err)
		}
	}
	for i, fault := range faults {
		faults[i] = fmt.Errorf("reading a stock: %w", fault)
	}
	return s, faults, nil
}

// read takes in one row.
func (s Stock) read(r *list.Row, known []string) error {
	id := r.Text("material")
	text, err := r.Decimal("quantity")
	if err != nil {
		return err
	}
	var q measure.Quantity
	_, twice := s[id]
	switch {
	case !slices.Contains(known, id):
		return fmt.Errorf("line %d: the book has no material %.60q; %s", r.Line, id, suggest.Nearest(id, known,
			"write it as the book does"))
	case twice:
		return fmt.Errorf("line %d: %s stands in the list already; put the two together", r.Line, id)
	case q.UnmarshalText([]byte(text)) != nil || q < 0 || q.Float() > mostStock:
		return fmt.Errorf("line %d: %s of %s; want 0 to %d of its unit", r.Line, text, id, mostStock)
	}
	s[id] = q
	return nil
}

// Wanted is the day on which the first operation that lacks the material begins: it has to be there by then. Outside
// work is wanted back.
func (b *Purchase) Wanted() Day {
	if !b.Back.IsZero() {
		return b.Back
	}
	// needs are in the order of their days
	for i := range b.Needs {
		if b.Needs[i].Lacking > 0 {
			return b.Needs[i].Day
		}
	}
	return Day{}
}

// For says whether a purchase is for an order, beyond what is in stock.
func (b *Purchase) For(order string) bool {
	return slices.ContainsFunc(b.Needs, func(n Need) bool { return n.Order == order && n.Lacking > 0 })
}

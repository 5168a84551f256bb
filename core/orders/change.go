package orders

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/msg/office"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/quote"
	"ribband/core/spec"
	"ribband/core/works"
)

// ChangeOrder is what a change to a boat that is being built comes to. Amounts are in the book's currency.
type ChangeOrder struct {
	Order    string         `json:"order"`
	Revision int            `json:"revision"` // that the quotation of the change bears
	Currency money.Currency `json:"currency"`
	// what can no longer be had; a change with such cannot be ordered
	Refused []Refused `json:"refused,omitempty"`
	Undone  []Undone  `json:"undone,omitempty"`
	// the changed boat, with what undoing costs among its extra items: what the quotation of the change is made of
	Spec spec.Spec `json:"spec"`

	Before Sums `json:"before"` // by its quotation
	// What the book of today asks more for the boat as it was ordered, as the customer sees prices: it is taken off the
	// change, for which the prices of the quotation hold.
	Agreed money.Amount `json:"agreed,omitzero"`
	After  Sums         `json:"after"`
	Hours  []ShopChange `json:"hours"` // of shops whose hours change, undoing counted in
	Launch Moved        `json:"launch"`
	// by which half, and four of five, of the simulated builds of the changed boat are launched
	P50    Week    `json:"p50"`
	P80    Week    `json:"p80"`
	Others []Moved `json:"others,omitempty"` // orders whose launch week moves with it

	day   Day       // on which it is asked for
	asked spec.Spec // the changed boat, before undoing stood among its extra items
}

// Sums are what a boat costs its customer.
type Sums struct {
	Net   money.Amount `json:"net"`
	Tax   money.Amount `json:"tax"`
	Total money.Amount `json:"total"`
}

// Refused is a slot whose choice is fixed: the book says no way to undo it. A customer is told what was begun, and
// when.
type Refused struct {
	SlotID    string   `json:"slot_id"`
	Slot      string   `json:"slot"`      // title
	Options   []string `json:"options"`   // titles of what would be given up, or of what would come
	Operation string   `json:"operation"` // title of what was begun
	Begun     Day      `json:"begun"`
}

// Undone is a choice that is built in, or on the way, and is given up. Its hours are those of the book for the slot;
// what is lost is a share of what its material cost, as the book says, too.
type Undone struct {
	SlotID    string        `json:"slot_id"`
	Slot      string        `json:"slot"`
	Options   []string      `json:"options"` // titles
	Operation string        `json:"operation"`
	Begun     Day           `json:"begun"`
	Hours     measure.Hours `json:"hours"` // of all shops
	Lost      money.Amount  `json:"lost"`  // of material
	Cost      money.Amount  `json:"cost"`  // of both, with the yard's overhead; it is charged at this
	Extra     string        `json:"extra"` // of the extra items of the changed boat, at which it is charged
}

// ShopChange is how the hours of a shop change.
type ShopChange struct {
	Shop   string        `json:"shop"`
	Before measure.Hours `json:"before"`
	After  measure.Hours `json:"after"`
}

// Moved is a launch before and after a change, each as its own plan has it.
type Moved struct {
	Order  string `json:"order"`
	Before Day    `json:"before"`
	After  Day    `json:"after"`
	Late   int    `json:"late,omitempty"` // weeks that the launch after is behind its promise
}

// Days is how much later a launch is.
func (m *Moved) Days() int { return m.After.Since(m.Before) }

// NewChangeOrder says what a change of an order comes to: its price with what undoing costs, its hours, and its launch
// among all other orders, planned before and after with the same effort. The spec has the changed choices; its deal,
// extra items, discounts, trade-in and dealer, is that of the order, whatever stands in it. What can no longer be had
// is in the result and no error. What the book no longer sells stays in a boat that has it. An error says that there
// is no such order, that the changed boat cannot be built, or that the book is not the one that the order was made by.
//
// What a change does to the launches is what two plans differ by, and each is the best that a bounded search found: a
// boat may come out a few days earlier although more is built into it.
func NewChangeOrder(e *engine.Engine, all []*Order, number string, to spec.Spec, day Day,
	effort plan.Effort) (*ChangeOrder, error) {
	i := slices.IndexFunc(all, func(o *Order) bool { return o.Number == number })
	if i < 0 {
		return nil, fmt.Errorf("changing an order: there is no order %.60q", number)
	}
	o := all[i]
	to = to.WithDeal(o.Quote().Spec)
	c := &changing{order: o, day: day, to: to, out: ChangeOrder{day: day, asked: to}}
	var err error
	if c.engine, err = keeping(e, o); err == nil {
		err = c.compare()
	}
	if err == nil {
		err = c.launches(all, i, effort)
	}
	if err != nil {
		return nil, fmt.Errorf("changing the order %s: %w", number, err)
	}
	return &c.out, nil
}

// In is the change as an engine of another language says it, with the same launches: titles on what its customer
// reads and signs are in the language of the quotation.
func (c *ChangeOrder) In(e *engine.Engine, o *Order) (*ChangeOrder, error) {
	in := &changing{order: o, day: c.day, to: c.asked, out: ChangeOrder{day: c.day, asked: c.asked,
		Launch: c.Launch, P50: c.P50, P80: c.P80, Others: c.Others}}
	var err error
	if in.engine, err = keeping(e, o); err == nil {
		err = in.compare()
	}
	if err != nil {
		return nil, fmt.Errorf("changing the order %s: %w", o.Number, err)
	}
	return &in.out, nil
}

// Issue is the quotation of a change: the next revision of what is ordered, issued on the day of the change, in the
// language of the engine. A price beyond a salesperson's authority needs somebody's approval, as on the desk; "" is
// that of the order.
func (c *ChangeOrder) Issue(e *engine.Engine, o *Order, approval string) (*quote.Quote, error) {
	e, err := keeping(e, o)
	if err != nil {
		return nil, fmt.Errorf("issuing the change of the order %s: %w", o.Number, err)
	}
	a, err := e.Answer(c.Spec)
	if err != nil {
		return nil, fmt.Errorf("issuing the change of the order %s: %w", o.Number, err)
	}
	// customer, seller and remarks stay: it is the same deal
	d := o.Quote().Details
	// until when it holds follows from the book, as for any quotation
	d.Revision, d.Date, d.ValidUntil, d.Approval = c.Revision, c.day.String(), "", cmp.Or(approval, d.Approval)
	q, err := quote.Freeze(e, a, d)
	if err != nil {
		return nil, fmt.Errorf("issuing the change of the order %s: %w", o.Number, err)
	}
	return q, nil
}

// changing is a change order that is being worked out.
type changing struct {
	engine   *engine.Engine
	order    *Order
	day      Day
	to       spec.Spec      // of the changed boat; undoing joins its extra items
	was, now *engine.Answer // the boat as it is ordered, and as it would be
	out      ChangeOrder
}

// answer answers the boat as it is ordered and as it would be.
func (c *changing) answer() (err error) {
	if c.was, err = c.engine.Answer(c.order.Quote().Spec); err != nil {
		return err
	}
	if c.now, err = c.engine.Answer(c.to); err != nil {
		return err
	}
	switch {
	case c.was.Hull != c.now.Hull:
		return errors.New("another hull is another boat; make a new order of it")
	case len(c.was.Notes) > 0:
		return fmt.Errorf("the book is not what the order was made by: %s", c.was.Notes[0].Message())
	case len(c.now.Notes) > 0:
		return fmt.Errorf("the changed boat: %s", c.now.Notes[0].Message())
	case len(c.now.Build.Clashes) > 0:
		return errors.New("the changed boat cannot be built: " + engine.Because(c.now.Build.Clashes[0]).String())
	}
	return nil
}

// compare goes through the slots that differ, puts what undoing costs among the extra items, and prices the result.
func (c *changing) compare() error {
	if err := c.answer(); err != nil {
		return err
	}
	c.out.Order, c.out.Currency = c.order.Number, c.engine.Pricing.Currency()
	c.out.Revision = c.order.Quote().Revision + 1
	c.agreed()
	for s := range c.engine.Pack.Slots {
		c.slot(s)
	}
	// anew, now that the undoing is among the extra items: the price has it, and so have the hours of the shops
	changed, err := c.engine.Answer(c.to)
	if err != nil {
		return err
	}
	c.now, c.out.Spec = changed, c.to
	was := &c.order.Quote().Price
	c.out.Before, c.out.After = Sums{was.Net, was.Tax, was.Total}, sumsOf(c.now)
	// only those that change: a foreman looks for his own shop
	for shop := range c.engine.Work.Shops {
		before, after := c.was.Work.ByShop[shop].Total(), c.now.Work.ByShop[shop].Total()
		if before != after {
			c.out.Hours = append(c.out.Hours, ShopChange{c.engine.Work.Shops[shop].Title, before, after})
		}
	}
	return nil
}

// agreed keeps the price of what was ordered where the book of today asks more for the same boat: the difference is a
// discount of the change, so that its customer pays today's prices for what changes and the agreed ones for the rest.
// Where today's are lower they hold for the whole boat. It may be beyond a salesperson's authority, as any discount
// may.
func (c *changing) agreed() {
	p := &c.order.Quote().Price
	was := p.Goods // what the customer has seen, before what is taken off
	for _, d := range p.Discounts {
		was = was.Add(d.Amount)
	}
	over := c.was.Price.Shown.Sub(was)
	if over.Sign() <= 0 {
		return
	}
	title := office.Words(c.engine.Language()).Say("office.as-agreed", msg.Text("number", c.order.Quote().Number))
	c.to.Discounts = append(slices.Clone(c.to.Discounts), spec.Discount{Title: title, Amount: over})
	c.out.Agreed = over
}

// sumsOf are what a boat costs its customer, as its quotation would say.
func sumsOf(a *engine.Answer) Sums { return Sums{a.Price.Net, a.Price.Tax, a.Price.Total} }

// slot looks at one slot: what is given up and what comes, and whether it is too late for that.
func (c *changing) slot(s int) {
	p, def := c.engine.Pack, &c.engine.Pack.Slots[s]
	// by count, so that four fenders for six are two that are given up
	was, now := c.was.Build.State.Counts, c.now.Build.State.Counts
	var given, come []int
	for o := def.First; o < def.End; o++ {
		switch {
		case was[o] > now[o]:
			given = append(given, o)
		case was[o] < now[o]:
			come = append(come, o)
		}
	}
	work := &p.Work.Slots[s]
	op, step := c.fixed(work, given)
	if len(given)+len(come) == 0 || step == nil {
		return
	}
	// as the book calls them, since a customer reads this
	titles := func(list []int) (out []string) {
		for _, o := range list {
			out = append(out, p.Options[o].Title)
		}
		return out
	}
	title := c.engine.Work.Operations[op].Title
	// what comes into an empty slot after its operation was begun is as late as what is given up
	switch {
	case work.Undo == nil && len(given) > 0:
		c.out.Refused = append(c.out.Refused, Refused{def.ID, def.Title, titles(given), title,
			step.Begun})
	case work.Undo == nil:
		c.out.Refused = append(c.out.Refused, Refused{def.ID, def.Title, titles(come), title,
			step.Begun})
	default:
		c.undo(s, given, Undone{SlotID: def.ID, Slot: def.Title, Options: titles(given), Operation: title,
			Begun: step.Begun})
	}
}

// fixed is the operation whose begin made a choice fixed, and its step; none while it is free. Where the book does not
// name one it is the first begun of those that what is given up takes.
func (c *changing) fixed(work *pack.SlotWork, given []int) (op int, step *Step) {
	if work.FreeUntil > 0 {
		return work.FreeUntil - 1, c.begun(work.FreeUntil - 1)
	}
	op = works.NoOperation
	// of several the one that was begun first: from that day on the choice was fixed
	for _, l := range c.was.Work.Lines {
		if l.For.Kind != works.Option || !slices.Contains(given, l.For.Index) {
			continue
		}
		if x := c.begun(l.Operation); x != nil && (step == nil || x.Begun.Before(step.Begun)) {
			op, step = l.Operation, x
		}
	}
	return op, step
}

// begun is the step of an operation, which is there as soon as it was begun; nil before.
func (c *changing) begun(op int) *Step {
	id := c.engine.Work.Operations[op].ID
	if i := slices.IndexFunc(c.order.Done, func(s Step) bool { return s.Operation == id }); i >= 0 {
		return &c.order.Done[i]
	}
	return nil
}

// taken says whether an operation has taken its material: it has begun, or the book does not say which one it is.
func (c *changing) taken(op int) bool { return op == works.NoOperation || c.begun(op) != nil }

// undo enters what undoing a slot costs as an extra item, at what it costs the yard.
func (c *changing) undo(s int, given []int, u Undone) {
	def := c.engine.Pack.Work.Slots[s].Undo
	x := spec.Extra{ID: "undo-" + u.SlotID, Basis: spec.Net, Hours: map[string]measure.Hours{},
		Title: office.Words(c.engine.Language()).Say("office.undo", msg.Text("slot", u.Slot))}
	work := works.Extra{Title: x.Title, Hours: map[int]measure.Hours{}}
	// once for the slot, however many of an option are given up: the boat is opened once
	for _, h := range def.Hours {
		hours, err := measure.FromFloat[measure.Hours](h.Hours)
		if err != nil { // the pack was checked
			continue
		}
		x.Hours[c.engine.Work.Shops[h.Shop].ID] = hours
		work.Hours[h.Shop] = hours
		u.Hours += hours
	}
	// what its operation has not taken yet lies in the store as it was
	for _, m := range c.was.Cost.Materials {
		if m.For.Kind == works.Option && slices.Contains(given, m.For.Index) && c.taken(m.Operation) {
			u.Lost = u.Lost.Add(c.lost(m.For, m.Amount.Share(def.ShareLost)))
		}
	}
	// what went out to a supplier is paid for whole, and what did not costs nothing
	for _, l := range c.was.Cost.Work {
		if l.Shop == works.Outside && l.For.Kind == works.Option && slices.Contains(given, l.For.Index) &&
			c.begun(l.Operation) != nil {
			u.Lost = u.Lost.Add(c.lost(l.For, l.Amount))
		}
	}
	line := c.engine.Costing.Extras([]works.Extra{work}, []money.Amount{u.Lost})[0]
	u.Lost, x.Cost = line.Bought, line.Bought // rounded as all that is bought
	u.Cost, x.Price = line.Alone, line.Alone
	// another change of the same slot undoes once more
	for n := 2; slices.ContainsFunc(c.to.Extras, func(e spec.Extra) bool { return e.ID == x.ID }); n++ {
		x.ID = fmt.Sprintf("undo-%s-%d", u.SlotID, n)
	}
	u.Extra = x.ID
	c.to.Extras = append(slices.Clone(c.to.Extras), x)
	c.out.Undone = append(c.out.Undone, u)
}

// lost is what is lost of what was spent for an option: where fewer are left, the part of those that go.
func (c *changing) lost(of works.Cause, spent money.Amount) money.Amount {
	was, now := c.was.Build.State.Counts[of.Index], c.now.Build.State.Counts[of.Index]
	part, _ := money.ShareOf(money.Exact(int64(was-now), 0), money.Exact(int64(was), 0)) // there was at least one
	return spent.Share(part)
}

// launches plans all orders with the boat as it is and as it would be.
func (c *changing) launches(all []*Order, at int, effort plan.Effort) error {
	// the order itself stays as it is: nobody has said yes
	changed := *all[at]
	changed.pending, changed.asked = &c.out.Spec, c.day
	with := slices.Clone(all)
	with[at] = &changed
	p, moved, err := compared(c.engine, all, with, c.day, effort)
	if err != nil {
		return err
	}
	number := c.order.Number
	if i := slices.IndexFunc(p.Boats, func(b Planned) bool { return b.Number == number }); i >= 0 {
		c.out.P50, c.out.P80 = p.Boats[i].P50, p.Boats[i].P80
	}
	for _, m := range moved {
		switch {
		case m.Order == number:
			c.out.Launch = m
		// days within a week were not promised to anybody
		case m.Before.Week() != m.After.Week():
			c.out.Others = append(c.out.Others, m)
		}
	}
	return nil
}

// compared plans some orders, and others in their place; moved are the launches of those that both plans have.
func compared(e *engine.Engine, was, now []*Order, day Day, effort plan.Effort) (p *Plan, moved []Moved, err error) {
	l, _ := NewLoad(e, was, day) // what is wrong with orders is told where the plan is made
	s, err := l.solve(effort)
	if err != nil {
		return nil, nil, fmt.Errorf("planning the load: %w", err)
	}
	// by number: an order that cannot be planned is in neither
	before := map[string]Day{}
	for i := range l.Boats {
		before[l.Boats[i].Order.Number] = l.dayOf(s.Finish[l.Plan.Boats[i].Launch])
	}
	// the other plan is simulated, too: it is what somebody is about to promise by
	after, _ := NewLoad(e, now, day)
	if p, err = after.Make(effort); err != nil {
		return nil, nil, err
	}
	for i := range p.Boats {
		if b := &p.Boats[i]; !before[b.Number].IsZero() {
			moved = append(moved, Moved{b.Number, before[b.Number], b.Launch, b.Late})
		}
	}
	return p, moved, nil
}

// Expected is what a plan says of an order that is about to be taken.
type Expected struct {
	Planned
	Day    Day     // on which the plan is made
	Others []Moved // orders whose launch week it moves
}

// Expect plans an order among the others, and without it. The order is one of all.
func Expect(e *engine.Engine, all []*Order, number string, day Day, effort plan.Effort) (*Expected, error) {
	// with the same effort, or the new boat would be blamed for what the search has not found
	without := slices.DeleteFunc(slices.Clone(all), func(o *Order) bool { return o.Number == number })
	p, moved, err := compared(e, without, all, day, effort)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(p.Boats, func(b Planned) bool { return b.Number == number })
	if i < 0 {
		return nil, fmt.Errorf("planning the load: the order %s cannot be planned", number)
	}
	x := &Expected{Planned: p.Boats[i], Day: day}
	for _, m := range moved {
		if m.Before.Week() != m.After.Week() {
			x.Others = append(x.Others, m)
		}
	}
	return x, nil
}

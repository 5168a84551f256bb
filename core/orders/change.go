package orders

import (
	"errors"
	"fmt"
	"slices"

	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/plan"
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

	Before Sums         `json:"before"`
	After  Sums         `json:"after"`
	Hours  []ShopChange `json:"hours"` // of shops whose hours change, undoing counted in
	Launch Moved        `json:"launch"`
	Others []Moved      `json:"others,omitempty"` // orders whose launch week moves with it
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
	Slot      string   `json:"slot"`      // title
	Options   []string `json:"options"`   // titles of what would be given up, or of what would come
	Operation string   `json:"operation"` // title of what was begun
	Begun     Day      `json:"begun"`
}

// Undone is a choice that is built in, or on the way, and is given up. Its hours are those of the book for the slot;
// what is lost is a share of what its material cost, as the book says, too.
type Undone struct {
	Slot      string        `json:"slot"`
	Options   []string      `json:"options"` // titles
	Operation string        `json:"operation"`
	Begun     Day           `json:"begun"`
	Hours     measure.Hours `json:"hours"` // of all shops
	Lost      money.Amount  `json:"lost"`  // of material
	Cost      money.Amount  `json:"cost"`  // of both, with the yard's overhead; it is charged at this
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
}

// Days is how much later a launch is.
func (m *Moved) Days() int { return m.After.Since(m.Before) }

// NewChangeOrder says what a change of an order comes to: its price with what undoing costs, its hours, and its launch
// among all other orders, planned before and after with the same effort. The spec has the changed choices; its extra
// items, discounts and trade-in are those of the order, whatever stands in it. What can no longer be had is in the
// result and no error. An error says that there is no such order, that the changed boat cannot be built, or that the
// book is not the one that the order was made by.
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
	was := o.Quote().Spec
	to.Extras, to.Discounts, to.TradeIn = was.Extras, was.Discounts, was.TradeIn
	c := &changing{engine: e, order: o, day: day, to: to}
	if err := c.answer(was); err != nil {
		return nil, fmt.Errorf("changing the order %s: %w", number, err)
	}
	if err := c.compare(); err != nil {
		return nil, fmt.Errorf("changing the order %s: %w", number, err)
	}
	if err := c.launches(all, i, effort); err != nil {
		return nil, fmt.Errorf("changing the order %s: %w", number, err)
	}
	return &c.out, nil
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
func (c *changing) answer(was spec.Spec) (err error) {
	if c.was, err = c.engine.Answer(was); err != nil {
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
	c.out.Order, c.out.Currency = c.order.Number, c.engine.Pricing.Currency()
	c.out.Revision = c.order.Quote().Revision + 1
	for s := range c.engine.Pack.Slots {
		c.slot(s)
	}
	// anew, now that the undoing is among the extra items: the price has it, and so have the hours of the shops
	changed, err := c.engine.Answer(c.to)
	if err != nil {
		return err
	}
	c.now, c.out.Spec = changed, c.to
	c.out.Before, c.out.After = sumsOf(c.was), sumsOf(c.now)
	// only those that change: a foreman looks for his own shop
	for shop := range c.engine.Work.Shops {
		before, after := c.was.Work.ByShop[shop].Total(), c.now.Work.ByShop[shop].Total()
		if before != after {
			c.out.Hours = append(c.out.Hours, ShopChange{c.engine.Work.Shops[shop].Title, before, after})
		}
	}
	return nil
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
		c.out.Refused = append(c.out.Refused, Refused{def.Title, titles(given), title, step.Begun})
	case work.Undo == nil:
		c.out.Refused = append(c.out.Refused, Refused{def.Title, titles(come), title, step.Begun})
	default:
		c.undo(s, given, Undone{Slot: def.Title, Options: titles(given), Operation: title, Begun: step.Begun})
	}
}

// fixed is the operation whose begin made a choice fixed, and its step; none while it is free. Where the book does not
// name one it is the first begun of those that what is given up takes.
func (c *changing) fixed(work *pack.SlotWork, given []int) (op int, step *Step) {
	// a step is there as soon as the operation was begun
	begun := func(op int) *Step {
		id := c.engine.Work.Operations[op].ID
		if i := slices.IndexFunc(c.order.Done, func(s Step) bool { return s.Operation == id }); i >= 0 {
			return &c.order.Done[i]
		}
		return nil
	}
	if work.FreeUntil > 0 {
		return work.FreeUntil - 1, begun(work.FreeUntil - 1)
	}
	op = works.NoOperation
	// of several the one that was begun first: from that day on the choice was fixed
	for _, l := range c.was.Work.Lines {
		if l.For.Kind != works.Option || !slices.Contains(given, l.For.Index) {
			continue
		}
		if x := begun(l.Operation); x != nil && (step == nil || x.Begun.Before(step.Begun)) {
			op, step = l.Operation, x
		}
	}
	return op, step
}

// undo enters what undoing a slot costs as an extra item, at what it costs the yard.
func (c *changing) undo(s int, given []int, u Undone) {
	def := c.engine.Pack.Work.Slots[s].Undo
	x := spec.Extra{ID: "undo-" + c.engine.Pack.Slots[s].ID, Title: "Undo: " + u.Slot, Basis: spec.Net,
		Hours: map[string]measure.Hours{}}
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
	for _, m := range c.was.Cost.Materials {
		if m.For.Kind == works.Option && slices.Contains(given, m.For.Index) {
			u.Lost = u.Lost.Add(c.lost(m, def.ShareLost))
		}
	}
	line := c.engine.Costing.Extras([]works.Extra{work}, []money.Amount{u.Lost})[0]
	u.Lost, x.Cost = line.Bought, line.Bought // rounded as all that is bought
	u.Cost, x.Price = line.Alone, line.Alone
	// another change of the same slot undoes once more
	for n := 2; slices.ContainsFunc(c.to.Extras, func(e spec.Extra) bool { return e.ID == x.ID }); n++ {
		x.ID = fmt.Sprintf("undo-%s-%d", c.engine.Pack.Slots[s].ID, n)
	}
	c.to.Extras = append(slices.Clone(c.to.Extras), x)
	c.out.Undone = append(c.out.Undone, u)
}

// lost is what is lost of a line of material: of an option of which fewer are left, the part of those that go.
func (c *changing) lost(m cost.MaterialLine, share money.Rate) money.Amount {
	was, now := c.was.Build.State.Counts[m.For.Index], c.now.Build.State.Counts[m.For.Index]
	part, _ := money.ShareOf(money.Exact(int64(was-now), 0), money.Exact(int64(was), 0)) // there was at least one
	return m.Amount.Share(share).Share(part)
}

// launches plans all orders with the boat as it is and as it would be.
func (c *changing) launches(all []*Order, at int, effort plan.Effort) error {
	before, err := launchesOf(c.engine, all, c.day, effort)
	if err != nil {
		return err
	}
	// the order itself stays as it is: nobody has said yes
	changed := *all[at]
	changed.pending, changed.asked = &c.out.Spec, c.day
	with := slices.Clone(all)
	with[at] = &changed
	after, err := launchesOf(c.engine, with, c.day, effort)
	if err != nil {
		return err
	}
	for i, o := range all {
		m := Moved{o.Number, before[o.Number], after[o.Number]}
		switch {
		case i == at:
			c.out.Launch = m
		// days within a week were not promised to anybody
		case m.Before.Week() != m.After.Week():
			c.out.Others = append(c.out.Others, m)
		}
	}
	return nil
}

// launchesOf are the launches of all orders that can be planned, by number.
func launchesOf(e *engine.Engine, list []*Order, day Day, effort plan.Effort) (map[string]Day, error) {
	l, _ := NewLoad(e, list, day) // what is wrong with other orders is told where the plan is made
	s, err := plan.Solve(&l.Plan, plan.Objective{}, effort)
	if err != nil {
		return nil, fmt.Errorf("planning the load: %w", err)
	}
	// by number: the two loads have the same orders, but an order that cannot be planned is in neither
	days := map[string]Day{}
	for i := range l.Boats {
		days[l.Boats[i].Order.Number] = l.dayOf(s.Finish[l.Plan.Boats[i].Launch])
	}
	return days, nil
}

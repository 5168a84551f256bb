package publish

import (
	"slices"
	"time"

	"ribband/core/book"
	"ribband/core/pack"
)

// work is what the yard alone reads; its lists go along with those of the costs. A customer reads nothing of it: who
// works when, suppliers, the order of the build, and where each amount stands.
func (c *compiler) work() {
	b, w := c.book, c.pack.Work
	w.Closed = periods(b.Yard.Closed)
	w.Launch = map[string]pack.Desk{"public": pack.Buyer, "show": pack.Show}[b.Yard.Launch.Value]
	if w.Launch == "" {
		w.Launch = pack.Yard // a yard that says nothing tells nobody
	}
	// before the operations, which fall back on it
	w.Spread = spread(b.Yard.Spread, pack.Exactly)
	// in the order of the costs' lists, which these go along with
	for i := range b.Shops {
		s := &b.Shops[i]
		shop := pack.ShopWork{People: int(s.People.Value), Week: s.HoursDay.Week(), Closed: periods(s.Closed),
			Papers: texts(s.Papers)}
		for _, k := range s.Skills {
			shop.Skills = append(shop.Skills, pack.Skill{ID: k.ID.Value, Title: k.Title.Value,
				People: int(k.People.Value)})
		}
		w.Shops = append(w.Shops, shop)
	}
	for _, e := range b.Equipment {
		w.Equipment = append(w.Equipment, pack.Equipment{ID: e.ID.Value, Title: e.Title.Value,
			Count: max(1, int(e.Count.Value)), Hulls: c.hullList(e.Hulls)})
	}
	w.Learning = learning(b.Hulls)
	for i := range b.Operations {
		w.Operations = append(w.Operations, c.operationWork(&b.Operations[i]))
	}
	// every slot has its place here, changed or not, so that a change order needs no search
	for i := range b.Slots {
		w.Slots = append(w.Slots, c.slotWork(&b.Slots[i]))
	}
	// by the index of their options, so that a boat finds those that it has
	for i, o := range options(b) {
		for _, p := range o.Plates {
			w.Plates = append(w.Plates, pack.Plate{Option: i, Title: p.Title.Value, Along: p.Along.Value,
				InboardMm: p.InboardMm.Value, Centre: p.Centre, Thread: p.Thread.Value, Holes: int(p.Holes.Value),
				AlongMm: p.AlongMm.Value, AcrossMm: p.AcrossMm.Value})
		}
		for _, k := range o.Blocks {
			w.Blocks = append(w.Blocks, pack.Block{Option: i, Title: k.Title.Value, Share: k.Share.Value,
				From: k.From.Value, To: k.To.Value, InboardMm: k.InboardMm.Value, BreadthMm: k.BreadthMm.Value})
		}
	}
	// of all stages, so that a reader finds each at its place
	for _, s := range b.Stages {
		due := 0
		if s.Due.Value != "" {
			due = 1 + c.ids["operation"][s.Due.Value]
		}
		w.Due = append(w.Due, due)
	}
	w.PaymentDays = int(b.PaymentDays.Value)
	for _, m := range b.Materials {
		w.Supplies = append(w.Supplies, pack.Supply{Supplier: m.Supplier.Value, Article: m.Article.Value,
			LeadDays: int(m.LeadDays.Value)})
	}
	w.RatesAt = pack.RatesAt{OnLabour: c.rateAt(b.Overhead.OnLabour), OnMaterials: c.rateAt(b.Overhead.OnMaterials),
		Contingency: c.rateAt(b.Contingency)}
}

// learning is that of the hulls; nil where no hull has any.
func learning(hulls []book.Hull) (list []pack.Learning) {
	// one for each, so that an index of a hull leads to its own
	for i := range hulls {
		l := pack.Learning{Rate: 1, Steady: 1}
		if of := hulls[i].Learning; of != nil {
			l = pack.Learning{Rate: of.Rate.Value, Built: int(of.Built.Value), Steady: int(of.Steady.Value)}
		}
		list = append(list, l)
	}
	// most yards say nothing, and their packs need not say it for every hull
	if !slices.ContainsFunc(list, func(l pack.Learning) bool { return l.Rate != 1 }) {
		return nil
	}
	return list
}

// options are those of a book in the order of the pack.
func options(b *book.Book) (list []*book.Option) {
	for i := range b.Slots {
		for k := range b.Slots[i].Options {
			list = append(list, &b.Slots[i].Options[k])
		}
	}
	return list
}

// operationWork is how an operation is worked; names become indices.
func (c *compiler) operationWork(o *book.Operation) pack.OperationWork {
	out := pack.OperationWork{Crew: max(1, int(o.Crew.Value)), Spread: spread(o.Spread, c.pack.Work.Spread),
		Batch: pack.Batch(o.Batch.Value), SetUp: o.SetupHours.Value, Steps: texts(o.Steps)}
	// a supplier's days are what he has promised: the spread of the yard is one of its own hours
	if s := o.Subcontracted; s != nil {
		out.Crew, out.Days, out.Supplier = 0, int(s.Days.Value), s.Supplier.Value
		out.Spread = spread(o.Spread, pack.Exactly)
	}
	// a time that the book leaves out is no wait; a bound that it leaves out is none
	for _, a := range o.After {
		out.After = append(out.After, pack.Predecessor{Operation: c.ids["operation"][a.Operation.Value],
			Wait: a.WaitHours.Value, Within: optional(a.WithinHours)})
	}
	// counted from 1, so that 0 is no skill in a pack that leaves zeros out
	if i := slices.IndexFunc(c.book.Shops, func(s book.Shop) bool { return s.ID.Value == o.Shop.Value }); i >= 0 {
		out.Skill = 1 + slices.IndexFunc(c.book.Shops[i].Skills,
			func(k book.Skill) bool { return k.ID.Value == o.Skill.Value })
	}
	// a name may stand for a mould of each hull
	for _, u := range o.Uses {
		out.Uses = append(out.Uses, c.equipment(u)...)
	}
	// each of a kind with the same end: a boat holds the one that serves it
	for _, h := range o.Holds {
		for _, e := range c.equipment(h.Equipment) {
			out.Holds = append(out.Holds, pack.Hold{Equipment: e, Until: c.ids["operation"][h.Until.Value]})
		}
	}
	// the figure stays a name: the yard's desk has all figures, and looks it up as its sheets do
	for _, k := range o.Checks {
		out.Checks = append(out.Checks, pack.Check{ID: k.ID.Value, Title: k.Title.Value, Unit: k.Unit.Value,
			Least: optional(k.Least), Most: optional(k.Most), Figure: k.Figure.Value})
	}
	return out
}

// equipment is all that operations call so: a mould for each hull, of which a boat occupies the one that serves it.
func (c *compiler) equipment(name book.Text) (list []int) {
	for i := range c.book.Equipment {
		if c.book.Equipment[i].Name() == name.Value {
			list = append(list, i)
		}
	}
	return list
}

// slotWork is until when the choice of a slot is free, and what undoing takes.
func (c *compiler) slotWork(s *book.Slot) (out pack.SlotWork) {
	// counted from 1; 0 is the first operation of what is given up, which only an order can name
	if s.FreeUntil.Value != "" {
		out.FreeUntil = 1 + c.ids["operation"][s.FreeUntil.Value]
	}
	// without it there is no way back: a colour in the gelcoat stays
	if s.Undo != nil {
		out.Undo = &pack.Undo{ShareLost: s.Undo.ShareLost.Value}
		for _, h := range s.Undo.Hours {
			out.Undo.Hours = append(out.Undo.Hours, pack.ShopHours{Shop: c.ids["shop"][h.Shop.Value],
				Hours: h.Hours.Value})
		}
	}
	return out
}

// optional is a number that a book may leave out.
func optional(n book.Number) *float64 {
	if !n.Given() {
		return nil
	}
	return &n.Value
}

// spread is that of an operation, or that of the yard.
func spread(s *book.Spread, otherwise pack.Spread) pack.Spread {
	if s == nil {
		return otherwise
	}
	return pack.Spread{Low: s.Low.Value, High: s.High.Value}
}

// periods are the days that a book names; the checker of books has refused what is none.
func periods(days []book.Text) (list []pack.Period) {
	// in the order of the book; two that overlap close the same days once
	for _, d := range days {
		if first, last, err := book.Days(d.Value); err == nil {
			list = append(list, pack.Period{First: first.Format(time.DateOnly), Last: last.Format(time.DateOnly)})
		}
	}
	return list
}

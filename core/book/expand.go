package book

import (
	"fmt"
	"slices"
)

// What an owner writes in short is written out here, before anything is checked: options that are made from a table,
// parts that several options have, packages, prices of a group, by number or by day. Everything behind it, the digest
// too, knows the long form alone; each value keeps the place where the owner wrote it.

// Expand writes the book out as it is on the day of its edition. Names that lead nowhere are left for [Book.Validate].
func (b *Book) Expand() {
	day := b.Edition.Date.Value
	for i := range b.Materials {
		m := &b.Materials[i]
		if cost, ok := holding(m.Costs, day); ok {
			m.Cost = cost
		}
	}
	for i := range b.Hulls {
		b.Hulls[i].Price = priceOn(day, b.Hulls[i].Price, b.Hulls[i].Prices)
	}
	groups := map[string]Price{}
	for _, g := range b.PriceGroups {
		groups[g.ID.Value] = priceOn(day, g.Price, g.Prices)
	}
	parts := map[string]*Part{}
	for i := range b.Parts {
		parts[b.Parts[i].ID.Value] = &b.Parts[i]
	}
	for i := range b.Slots {
		s := &b.Slots[i]
		// behind the options that are written out, table after table
		s.Options = append(s.Options, s.Series...)
		s.Series = nil
		for j := range s.Options {
			o := &s.Options[j]
			o.Price = priceOn(day, o.Price, o.Prices)
			if p, ok := groups[o.PriceGroup.Value]; ok && len(o.Price.Terms) == 0 {
				o.Price = p
			}
			o.Price = broken(o.ID.Value, o.Price, o.Breaks)
			for _, id := range o.Parts {
				if p, ok := parts[id.Value]; ok {
					o.take(p)
				}
			}
		}
	}
	// last, since they read the prices of options
	var packed []Slot
	for i := range b.Packages {
		packed = append(packed, b.pack(&b.Packages[i]))
	}
	b.Slots = append(b.Slots, packed...)
}

// holding is the value whose day is the last that is not after a day.
func holding[T any](list Pairs[T], day string) (value T, ok bool) {
	from := ""
	for _, p := range list {
		// days of ISO 8601 sort as they follow each other
		if p.Key.Value <= day && p.Key.Value > from {
			from, value, ok = p.Key.Value, p.Value, true
		}
	}
	return value, ok
}

// priceOn is the list price on a day: the last of those by day that has begun, or else the one without a day.
func priceOn(day string, always Price, by Pairs[Price]) Price {
	if p, ok := holding(by, day); ok {
		return p
	}
	return always
}

// broken is a list price with what each costs from a number on: an amount for each range of the count, of which one
// holds on a boat.
func broken(id string, p Price, breaks []Break) Price {
	if len(breaks) == 0 || len(p.Terms) != 1 {
		return p
	}
	out := Price{At: p.At}
	term, from := p.Terms[0], 0.0
	for _, b := range append(slices.Clone(breaks), Break{}) {
		term.When = between(id, from, b.From.Value, term.Amount.At)
		out.Terms = append(out.Terms, term)
		term, from = PriceTerm{Amount: b.Price}, b.From.Value
	}
	return out
}

// between is the condition that a boat has from so many of an option on, and fewer than so many; 0 is no bound.
func between(id string, from, below float64, at Position) Formula {
	count := fmt.Sprintf("count(%q)", id)
	text := ""
	if from > 0 {
		text = fmt.Sprintf("%s >= %g", count, from)
	}
	if below > 0 {
		if text != "" {
			text += " and "
		}
		text += fmt.Sprintf("%s < %g", count, below)
	}
	return Formula{Value: text, At: at}
}

// take adds a part to an option. Its materials are taken by the part's own work where it has some, and so stand on the
// sheet of that shop.
func (o *Option) take(p *Part) {
	o.Carries = append(slices.Clip(o.Carries), p.Carries...)
	o.Operations = append(slices.Clip(o.Operations), p.Operations...)
	for _, q := range p.Materials {
		if q.Operation.Value == "" && len(p.Operations) > 0 {
			q.Operation = p.Operations[0].Operation
		}
		o.Materials = append(slices.Clip(o.Materials), q)
	}
}

// besideParts are the materials and the work that an option has beside those of its parts.
func (b *Book) besideParts(o *Option) (materials []Quantity, work []Work) {
	m, w := len(o.Materials), len(o.Operations)
	for _, id := range o.Parts {
		for i := range b.Parts {
			if p := &b.Parts[i]; p.ID.Value == id.Value {
				m, w = m-len(p.Materials), w-len(p.Operations)
			}
		}
	}
	return o.Materials[:m], o.Operations[:w]
}

// Sold says whether an option is sold on the day of the edition: not yet, or no longer.
func (b *Book) Sold(o *Option) (later, ended bool) {
	day := b.Edition.Date.Value
	return o.SoldFrom.Value > day, o.SoldUntil.Value != "" && o.SoldUntil.Value < day
}

// NextChange is the first day after that of the edition on which prices or what is sold change by themselves, and from
// which a new edition is wanted; "" for none.
func (b *Book) NextChange() string {
	day, next := b.Edition.Date.Value, ""
	note := func(t string) {
		if t > day && (next == "" || t < next) {
			next = t
		}
	}
	prices := func(list Pairs[Price]) {
		for _, p := range list {
			note(p.Key.Value)
		}
	}
	for _, m := range b.Materials {
		for _, c := range m.Costs {
			note(c.Key.Value)
		}
	}
	for _, h := range b.Hulls {
		prices(h.Prices)
	}
	for _, g := range b.PriceGroups {
		prices(g.Prices)
	}
	for _, s := range b.Slots {
		for _, o := range s.Options {
			prices(o.Prices)
			note(o.SoldFrom.Value)
			if o.SoldUntil.Value != "" {
				note(dayAfter(o.SoldUntil.Value))
			}
		}
	}
	return next
}

package book

import (
	"fmt"
	"time"

	"ribband/core/money"
)

// dayAfter is the day after one; "" after what is no day, which is reported where it stands.
func dayAfter(day string) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return ""
	}
	return t.AddDate(0, 0, 1).Format(time.DateOnly)
}

// day reports what is no day.
func (v *validation) day(t Text) bool {
	if t.Value == "" {
		return true
	}
	_, err := time.Parse(time.DateOnly, t.Value)
	if err != nil {
		v.error(t.At, "write it as 2027-03-31", "%.40q is no ISO 8601 date", t.Value)
	}
	return err == nil
}

// sale checks when what is sold at which price.
func (v *validation) sale() {
	b := v.book
	for i := range b.Materials {
		m := &b.Materials[i]
		for _, c := range m.Costs {
			v.day(c.Key)
		}
		if !m.Cost.Given() {
			v.error(m.ID.At, `add cost: "12.50", what one unit costs, or a day in costs: that is not after the edition`,
				"the material %s has no cost on the day of the edition", m.ID)
		}
	}
	for i := range b.Hulls {
		v.dated(b.Hulls[i].ID, b.Hulls[i].Prices, b.Hulls[i].Price)
	}
	used := map[string]bool{}
	for i := range b.Slots {
		for j := range b.Slots[i].Options {
			o := &b.Slots[i].Options[j]
			used["price group "+o.PriceGroup.Value] = true
			for _, p := range o.Parts {
				used["part "+p.Value] = v.known("part", p)
			}
			v.dated(o.ID, o.Prices, o.Price)
			v.grouped(o)
			v.breaks(&b.Slots[i], o)
			v.sold(&b.Slots[i], o)
			v.left(o)
		}
	}
	for _, g := range b.PriceGroups {
		v.dated(g.ID, g.Prices, g.Price)
		if len(g.Price.Terms) == 0 && len(g.Prices) == 0 {
			v.error(g.ID.At, `add price: "450"`, "the price group %s has no price", g.ID)
		}
		v.taken(used, "price group", g.ID)
	}
	for _, p := range b.Parts {
		v.taken(used, "part", p.ID)
	}
}

// taken warns of what no option names.
func (v *validation) taken(used map[string]bool, kind string, id Text) {
	if !v.unknown && !used[kind+" "+id.Value] {
		v.warn(id.At, "take it out of the book, or name it in an option", "no option has the %s %s", kind, id)
	}
}

// dated checks list prices by day; on the day of the edition one must hold.
func (v *validation) dated(id Text, by Pairs[Price], holds Price) {
	sound := true
	for _, p := range by {
		sound = v.day(p.Key) && sound
	}
	if len(by) > 0 && sound && len(holds.Terms) == 0 {
		v.error(by[0].Key.At, "add price: with what holds before, or a day that is not after the edition's",
			"no price of %s holds on %s, the day of the edition", id, v.book.Edition.Date)
	}
}

// grouped checks the price group of an option.
func (v *validation) grouped(o *Option) {
	if o.PriceGroup.Value == "" || !v.known("price group", o.PriceGroup) {
		return
	}
	if len(o.Prices) > 0 || o.Price.At != v.groupPrice(o.PriceGroup.Value) {
		v.error(o.PriceGroup.At, "leave out one of them", "%s has a price and a price group", o.ID)
	}
}

// groupPrice is where the price of a group stands that holds on the day of the edition.
func (v *validation) groupPrice(id string) Position {
	for _, g := range v.book.PriceGroups {
		if g.ID.Value == id {
			return priceOn(v.book.Edition.Date.Value, g.Price, g.Prices).At
		}
	}
	return Position{}
}

// breaks checks what each of an option costs from a number on.
func (v *validation) breaks(s *Slot, o *Option) {
	if len(o.Breaks) == 0 {
		return
	}
	if t := o.Price.Terms; len(t) == 0 || t[0].When.Empty() { // it was not written out
		v.error(o.Breaks[0].From.At, `add price: "30", one amount`,
			"%s has breaks, and no one list price before them", o.ID)
	}
	if s.Choose.Value != "multiple" {
		v.error(o.Breaks[0].From.At, "leave breaks out, or let the slot choose: multiple",
			"%s has breaks, and its slot %s takes one", o.ID, s.ID)
	}
	last := 1.0
	for _, b := range o.Breaks {
		v.count(b.From, 2, "a break of "+o.ID.Value)
		if b.From.Value <= last {
			v.error(b.From.At, "write the breaks with rising numbers, from 2 on",
				"the break of %s from %g does not come after the one before", o.ID, b.From.Value)
		}
		if o.Most.Given() && b.From.Value > o.Most.Value {
			v.warn(b.From.At, fmt.Sprintf("raise most: at %s, or leave the break out", o.Most.At),
				"no boat has %g of %s, of which it may have %g", b.From.Value, o.ID, o.Most.Value)
		}
		last = b.From.Value
	}
}

// sold checks the days between which an option is sold, and what takes its place.
func (v *validation) sold(s *Slot, o *Option) {
	if v.day(o.SoldFrom) && v.day(o.SoldUntil) && o.SoldUntil.Value != "" && o.SoldUntil.Value < o.SoldFrom.Value {
		v.error(o.SoldUntil.At, "write the first day as sold_from and the last as sold_until",
			"the last day on which %s is sold, %s, is before the first, %s", o.ID, o.SoldUntil, o.SoldFrom)
	}
	if i := o.Instead; i.Value != "" && v.known("option", i) {
		there := false
		for j := range s.Options {
			there = there || s.Options[j].ID.Value == i.Value && i.Value != o.ID.Value
		}
		switch {
		case !there:
			v.error(i.At, "name another option of the same slot",
				"%s takes the place of %s, and is not in its slot %s", i, o.ID, s.ID)
		case o.SoldUntil.Value == "":
			v.error(i.At, "add sold_until: with the last day on which it is sold, or leave instead: out",
				"%s says what takes its place, and is sold without end", o.ID)
		}
	}
}

// oldRate is after how many days before the edition a rate of exchange is likely to be forgotten.
const oldRate = 31

// exchange checks the other currency of a region.
func (v *validation) exchange(x *Exchange) {
	if x == nil {
		return
	}
	if _, err := money.CurrencyOf(x.Code.Value); err != nil {
		v.error(x.Code.At, "write an alphabetic code of ISO 4217, like SEK", "unknown currency %q", x.Code)
	} else if x.Code.Value == v.book.Currency.Value {
		v.error(x.Code.At, "leave currency: out of the region, or name another one",
			"%s is the currency of the book", x.Code)
	}
	if x.Rate.Value.Sign() <= 0 {
		v.error(x.Rate.At, `write what one unit of the book's currency is worth: "11.42"`,
			"the rate of %s is not above zero", x.Code)
	}
	if !v.day(x.Date) {
		return
	}
	day, err := time.Parse(time.DateOnly, v.book.Edition.Date.Value)
	of, _ := time.Parse(time.DateOnly, x.Date.Value)
	switch age := day.Sub(of).Hours() / 24; {
	case err != nil: // reported where it stands
	case age < 0:
		v.error(x.Date.At, "write the day on which the rate was looked up",
			"the rate of %s is of %s, after the edition", x.Code, x.Date)
	case age > oldRate:
		v.warn(x.Date.At, "look it up again, and write the day", "the rate of %s is %.0f days older than the edition",
			x.Code, age)
	}
}

// left checks how many of an option are left.
func (v *validation) left(o *Option) {
	switch {
	case o.Stock.Given():
		v.count(o.Stock, 0, "the stock of "+o.ID.Value)
	case o.StockShown:
		v.error(o.ID.At, "add stock: with how many are left, or leave stock_shown: out",
			"the stock of %s is to be shown, and it has none", o.ID)
	}
}

// soldStandard reports an option of the standard build that is not sold on the day of the edition.
func (v *validation) soldStandard(s *Slot, c Count) {
	for i := range s.Options {
		o := &s.Options[i]
		if o.ID.Value != c.Option.Value {
			continue
		}
		// the standard build is what everybody can have
		if o.Stock.Given() {
			v.error(c.Option.At, "name another option as the standard, or leave stock: out",
				"the standard of slot %s is %s, of which a number is left (%s)", s.ID, o.ID, o.Stock.At)
		}
		if later, ended := v.book.Sold(o); later || ended {
			at := o.SoldFrom.At
			if ended {
				at = o.SoldUntil.At
			}
			v.error(c.Option.At, "name another option as the standard, or mend the day",
				"the standard of slot %s is %s, which is not sold on the day of the edition (%s)", s.ID, o.ID, at)
		}
	}
}

package book

import (
	"fmt"
	"strings"

	"ribband/core/money"
)

// prices warns of list prices that are finer than the currency or off the price step, of rates that leave nothing, and
// reports discounts beyond the price.
func (v *validation) prices() {
	b := v.book
	for _, h := range b.Hulls {
		v.priced(h.ID, h.Price, h.Margin, h.Markup)
	}
	for _, s := range b.Slots {
		for _, o := range s.Options {
			v.priced(o.ID, o.Price, o.Margin, o.Markup)
			v.free(o)
		}
	}
	v.floored(b.Pricing.Margin, b.Pricing.Markup, "the book")
	if p := b.Pricing; p.Margin.Given() && p.Margin.Value.Sign() == 0 || p.Markup.Given() &&
		p.Markup.Value.Sign() == 0 {
		v.warn(orAt(p.Margin.At, p.Markup.At), `write a share such as margin: "0.30"`,
			"what has no list price sells at cost")
	}
	for _, s := range b.Shops {
		if s.Rate.Given() && s.Rate.Value.Sign() == 0 {
			v.warn(s.Rate.At, "write what an hour costs the yard", "the hours of the shop %s cost nothing", s.ID)
		}
	}
	for _, m := range b.Materials {
		if m.Cost.Given() && m.Cost.Value.Sign() == 0 {
			v.warn(m.Cost.At, "write what one unit of it costs, or leave the material out",
				"the material %s costs nothing", m.ID)
		}
	}
	for _, r := range b.Regions {
		if t := r.Tax; t.Rate.Given() && t.Rate.Value.Sign() == 0 && t.Mode.Value != "zero" {
			v.warn(t.Rate.At, "write mode: zero with the condition under which no tax is charged, or the rate",
				"the tax of %s is 0", r.ID)
		}
	}
}

// priced checks the list price of an item and its own margin or markup.
func (v *validation) priced(id Text, p Price, margin, markup Rate) {
	v.floored(margin, markup, id.Value)
	currency, err := money.CurrencyOf(v.book.Currency.Value)
	if err != nil {
		return
	}
	fine := false
	for _, t := range p.Terms {
		if _, whole := t.Amount.Value.Whole(-int32(currency.Digits)); t.Amount.Given() && t.Per.Empty() && !whole {
			fine = true
			v.warn(t.Amount.At, fmt.Sprintf("write it with at most %d decimals", currency.Digits),
				"the price %s of %s is finer than the currency %s", t.Amount.Value, id, currency.Code)
		}
	}
	step := v.book.Rounding.PriceStep.Value
	rounding, err := money.NewRounding(money.HalfUp, step)
	if fine || len(p.Terms) != 1 || !p.Terms[0].Per.Empty() || err != nil {
		return
	}
	if amount := p.Terms[0].Amount; !rounding.Round(amount.Value).Equal(amount.Value) {
		v.warn(amount.At, fmt.Sprintf("write %s, or make price_step: smaller", rounding.Round(amount.Value)),
			"the price %s of %s is off the price step of %s", amount.Value, id, step)
	}
}

// floored warns of a margin below the floor: no price that follows from it could be quoted without the owner.
func (v *validation) floored(margin, markup Rate, who string) {
	floor := v.book.Discounts.MarginFloor
	if !floor.Given() {
		return
	}
	if margin.Given() && margin.Value.Cmp(floor.Value) < 0 {
		v.warn(margin.At, fmt.Sprintf("raise it, or lower margin_floor at %s", floor.At),
			"the margin %s of %s is below the floor %s", margin.Value, who, floor.Value)
	}
	one := money.Exact(1, 0)
	if markup.Given() && one.Share(markup.Value).Cmp(one.Share(markup.Value).Add(one).Share(floor.Value)) < 0 {
		v.warn(markup.At, fmt.Sprintf("raise it, or lower margin_floor at %s", floor.At),
			"the markup %s of %s gives a margin below the floor %s", markup.Value, who, floor.Value)
	}
}

// dealers checks what dealers may give and get, and warns where the two together leave less than the floor of a price
// that follows from the general margin: each such boat would need the owner.
func (v *validation) dealers() {
	general, floor := v.book.Pricing, v.book.Discounts.MarginFloor
	for _, d := range v.book.Dealers {
		v.share(d.Authority, "1")
		v.share(d.Commission, "1")
		price, cost := money.Exact(1, 0), money.Exact(1, 0)
		if general.Margin.Given() {
			cost = cost.Sub(price.Share(general.Margin.Value))
		} else {
			price = price.Add(cost.Share(general.Markup.Value))
		}
		net := price.Sub(price.Share(d.Authority.Value))
		left, ok := money.MarginOf(net, cost.Add(net.Share(d.Commission.Value)))
		if ok && floor.Given() && left.Cmp(floor.Value) < 0 {
			v.warn(d.Authority.At, fmt.Sprintf("lower his authority or commission, or margin_floor at %s", floor.At),
				"the authority %s and the commission %s of %s leave a margin of %s, below the floor of %s",
				d.Authority.Value, d.Commission.Value, d.ID, left, floor.Value)
		}
	}
}

// free warns of an option that nothing gives a price.
func (v *validation) free(o Option) {
	if len(o.Price.Terms) == 0 && len(o.Materials) == 0 && len(o.Operations) == 0 {
		v.warn(o.ID.At, `add price: "0" if the yard gives it away, or its price, materials or operations`,
			"the option %s has no price and no cost: it sells free", o.ID)
	}
}

// repeated warns of an operation, or a quantity of a material for one operation, that stands twice in one item: mostly
// a line that was copied and not changed.
func (v *validation) repeated(id Text, materials []Quantity, work []Work) {
	first := map[string]Position{}
	for _, w := range work {
		if at, ok := first[w.Operation.Value]; ok {
			v.warn(w.Operation.At, fmt.Sprintf("the first is at %s; add the hours in one entry", at),
				"%s has the operation %s twice", id, w.Operation)
		} else {
			first[w.Operation.Value] = w.Operation.At
		}
	}
	clear(first)
	for i := range materials {
		q := &materials[i]
		if q.Material.Value == "" {
			continue
		}
		key := q.Material.Value + " " + measureText(q)
		if at, ok := first[key]; ok {
			v.warn(q.Material.At, fmt.Sprintf("the first is at %s; add the quantities in one entry", at),
				"%s takes the material %s twice", id, q.Material)
		} else {
			first[key] = q.Material.At
		}
	}
}

// measureText tells entries of one material apart: parts of different sizes are no repetition, nor are several cuts, or
// what several operations take.
func measureText(q *Quantity) string {
	text := q.Operation.Value + " " + q.Cut.Value + " " + q.SuppliedBy.Value
	for _, m := range q.Measures() {
		text += m.Form
		for _, p := range m.Parts {
			text += "|" + strings.Join(strings.Fields(p.Value), "")
		}
	}
	return text
}

package desk

import (
	"slices"
	"strconv"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/spec"
)

// What a salesperson adds to the boat: discounts, extra items and a trade-in, as they are typed.

// errBuyer refuses what a buyer's desk cannot do, errDealer what a dealer's cannot do either.
var (
	errBuyer  = msg.Fault("desk.for-the-yard")
	errDealer = msg.Fault("engine.no-extras")
)

// discount gives a discount on a line or on the whole boat: a share where the value ends in a per cent sign, else an
// amount as the customer sees it. Whether it is within somebody's authority, the answer's warnings say.
func (d *Desk) discount(r *Request, _ *Reply) error {
	if !d.engine.Can(pack.Discounts) {
		return errBuyer
	}
	s := d.answer.Spec.Clone()
	given := spec.Discount{Title: strings.TrimSpace(r.Form["title"]), On: r.Form["on"]}
	value := strings.TrimSpace(r.Form["value"])
	// "3 %" is a share, "500" an amount; which of the two somebody means stands in what they type
	if strings.HasSuffix(value, "%") {
		number, _, err := readNumber(value, 2)
		if err != nil {
			return err
		}
		a, err := money.Parse(number)
		if err != nil {
			return err
		}
		if given.Share, err = money.ParseRate(a.Scaled(1, -2).String()); err != nil {
			return err
		}
	} else {
		var err error
		if given.Amount, err = d.amount(value); err != nil {
			return err
		}
	}
	if on := given.On; on != "" && !slices.ContainsFunc(d.answer.Price.Lines,
		func(l price.ShownLine) bool { return l.Key == on && !l.Fixed }) {
		return msg.Fault("desk.no-line", quoted("line", on))
	}
	s.Discounts = append(s.Discounts, given)
	return d.checked(s)
}

// decimal lets people write a comma and spaces in numbers. Who reads a number of it decides whether its comma can be
// one of thousands: here it is a point.
func decimal(s string) string {
	return strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", ",", ".").Replace(strings.TrimSpace(s))
}

// amount reads money as people write it, in the currency of the book.
func (d *Desk) amount(s string) (money.Amount, error) {
	c := d.engine.Pricing.Currency()
	text, unit, err := readNumber(s, c.Digits)
	if err != nil {
		return money.Amount{}, err
	}
	if unit != "" && !strings.EqualFold(unit, c.Code) {
		return money.Amount{}, msg.Fault("desk.another-unit", quoted("value", s), msg.Text("unit", c.Code))
	}
	_, fraction, _ := strings.Cut(text, ".")
	if len(fraction) > c.Digits { // a slip, or a currency of another kind
		return money.Amount{}, msg.Fault("desk.too-many-digits", quoted("value", s), msg.Count("digits", c.Digits))
	}
	return money.Parse(text)
}

// checked settles a spec made of what was typed, under the same checks as one read from a file.
func (d *Desk) checked(s spec.Spec) error {
	s, err := spec.Decode(s.Encode())
	if err != nil {
		return err
	}
	return d.settle(s)
}

// extra adds an item that is in no list. It gets an identifier that no other item of the boat
// has: a discount on it, and a comparison of quotations, find it by that. How the price is meant has to be said, since
// a guess would be wrong by the tax.
func (d *Desk) extra(r *Request, _ *Reply) error {
	if !d.engine.Can(pack.Extras) {
		return errDealer
	}
	s := d.answer.Spec.Clone()
	l := spec.Extra{Title: strings.TrimSpace(r.Form["title"]), Basis: spec.Basis(r.Form["basis"])}
	if l.Basis != spec.Net && l.Basis != spec.WithTax {
		return msg.Fault("desk.which-price")
	}
	// an item that was removed leaves a gap, so the next number may be taken
	for n := len(s.Extras) + 1; l.ID == ""; n++ {
		l.ID = "line-" + strconv.Itoa(n)
		for _, other := range s.Extras {
			if other.ID == l.ID {
				l.ID = ""
			}
		}
	}
	var err error
	if l.Price, err = d.amount(r.Form["price"]); err != nil {
		return err
	}
	if text := r.Form["cost"]; decimal(text) != "" {
		if l.Cost, err = d.amount(text); err != nil {
			return err
		}
	}
	if l.Hours, err = d.hours(r.Form["shop"], decimal(r.Form["hours"])); err != nil {
		return err
	}
	s.Extras = append(s.Extras, l)
	return d.checked(s)
}

// hours reads the shop that has to do with an extra item, and its hours, none if it only fits in what comes ready.
func (d *Desk) hours(shop, text string) (map[string]measure.Hours, error) {
	var h measure.Hours
	switch {
	case shop == "" && text == "":
		return nil, nil
	case shop == "":
		return nil, msg.Fault("desk.hours-need-shop")
	case !slices.ContainsFunc(d.engine.Shops(), func(s engine.ShopName) bool { return s.ID == shop }):
		return nil, msg.Fault("desk.no-shop", quoted("shop", shop))
	case text != "":
		if err := h.UnmarshalText([]byte(text)); err != nil {
			return nil, err
		}
	}
	return map[string]measure.Hours{shop: h}, nil
}

// tradeIn takes something in payment, in the place of what was taken before.
func (d *Desk) tradeIn(r *Request, _ *Reply) (err error) {
	if !d.engine.Can(pack.Extras) {
		return errDealer
	}
	t := spec.TradeIn{Title: strings.TrimSpace(r.Form["title"])}
	if t.Allowance, err = d.amount(r.Form["allowance"]); err != nil {
		return err
	}
	if text := r.Form["value"]; decimal(text) != "" {
		if t.Value, err = d.amount(text); err != nil {
			return err
		}
	}
	s := d.answer.Spec.Clone()
	s.TradeIn = &t
	return d.checked(s)
}

// dealer names who sells the boat for the yard; nobody where the value is empty.
func (d *Desk) dealer(r *Request, _ *Reply) error {
	if r.Value != "" && !slices.ContainsFunc(d.engine.Dealers(),
		func(x pack.Dealership) bool { return x.ID == r.Value }) {
		return msg.Fault("desk.no-dealer", quoted("dealer", r.Value))
	}
	s := d.answer.Spec.Clone()
	s.Dealer = r.Value
	return d.settle(s)
}

// remove takes back a part of the deal by its place in the list.
func (d *Desk) remove(r *Request, _ *Reply) error {
	s := d.answer.Spec.Clone()
	i, err := strconv.Atoi(r.Field)
	switch {
	case r.Key == "trade-in" && s.TradeIn != nil:
		s.TradeIn = nil
	case err == nil && r.Key == "discount" && i >= 0 && i < len(s.Discounts):
		s.Discounts = append(s.Discounts[:i], s.Discounts[i+1:]...)
	case err == nil && r.Key == "extra" && i >= 0 && i < len(s.Extras):
		s.Extras = append(s.Extras[:i], s.Extras[i+1:]...)
	default:
		return msg.Fault("desk.nothing-to-remove")
	}
	return d.settle(s)
}

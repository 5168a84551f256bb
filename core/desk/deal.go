package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/spec"
)

// What a salesperson adds to the boat: discounts and free lines, as they are typed.

// errBuyer refuses what is for the yard's own desks.
var errBuyer = errors.New("discounts and extra items are for the yard's own desks")

func (d *Desk) discount(r *Request, _ *Reply) error {
	if d.engine.Costing == nil {
		return errBuyer
	}
	s := d.answer.Spec.Clone()
	given := spec.Discount{Title: strings.TrimSpace(r.Form["title"]), On: r.Form["on"]}
	value := strings.TrimSpace(r.Form["value"])
	if number, percent := strings.CutSuffix(value, "%"); percent {
		a, err := money.Parse(decimal(number))
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
	if on := given.On; on != "" && !slices.ContainsFunc(d.answer.Price.Lines, func(l price.ShownLine) bool { return l.Key == on && !l.Fixed }) {
		return fmt.Errorf("there is no line %.40q to give a discount on; choose one of the list", on)
	}
	s.Discounts = append(s.Discounts, given)
	return d.checked(s)
}

// decimal lets people write a comma and spaces in numbers.
func decimal(s string) string {
	return strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", ",", ".").Replace(strings.TrimSpace(s))
}

// amount reads money as people write it. A comma or point that may group thousands is refused: a guess could be wrong a thousandfold.
func (d *Desk) amount(s string) (money.Amount, error) {
	text, digits := decimal(s), d.engine.Pricing.Currency().Digits
	_, fraction, _ := strings.Cut(text, ".")
	if len(fraction) > digits || len(fraction) == 3 && strings.Contains(s, ",") {
		return money.Amount{}, fmt.Errorf("%.20q has too many digits behind its comma or point; write thousands without a sign between, as 1500, and at most %d digits behind the point", s, digits)
	}
	return money.Parse(text)
}

// checked settles a spec made of what was typed, under the same checks as one read from a file.
func (d *Desk) checked(s spec.Spec) error {
	s, err := spec.Decode(s.Encode())
	if err != nil {
		return err
	}
	return d.settle(s, nil)
}

func (d *Desk) line(r *Request, _ *Reply) error {
	if d.engine.Costing == nil {
		return errBuyer
	}
	s := d.answer.Spec.Clone()
	l := spec.Line{Title: strings.TrimSpace(r.Form["title"])}
	for n := len(s.Lines) + 1; l.ID == ""; n++ {
		l.ID = "line-" + strconv.Itoa(n)
		for _, other := range s.Lines {
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
	if text := decimal(r.Form["hours"]); text != "" {
		var h measure.Hours
		if err = h.UnmarshalText([]byte(text)); err != nil {
			return err
		}
		shop := r.Form["shop"]
		if !slices.ContainsFunc(d.engine.Pack.Trade.Shops, func(s pack.Shop) bool { return s.ID == shop }) {
			return fmt.Errorf("there is no shop %.40q; choose one of the list", shop)
		}
		l.Hours = map[string]measure.Hours{shop: h}
	}
	s.Lines = append(s.Lines, l)
	return d.checked(s)
}

func (d *Desk) remove(r *Request, _ *Reply) error {
	s := d.answer.Spec.Clone()
	i, err := strconv.Atoi(r.Field)
	switch {
	case err == nil && r.Key == "discount" && i >= 0 && i < len(s.Discounts):
		s.Discounts = append(s.Discounts[:i], s.Discounts[i+1:]...)
	case err == nil && r.Key == "line" && i >= 0 && i < len(s.Lines):
		s.Lines = append(s.Lines[:i], s.Lines[i+1:]...)
	default:
		return errors.New("there is nothing to remove")
	}
	return d.settle(s, nil)
}

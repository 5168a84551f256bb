package price

import (
	"fmt"

	"ribband/core/money"
	"ribband/core/pack"
)

// Line is one thing that a customer pays for. Net is without tax; a credit is negative. Fixed lines take no discount.
type Line struct {
	Key    string // what a discount on this line names: a slot, or a free line
	Title  string
	Detail string
	Net    money.Amount
	Fixed  bool
}

// Discount is given on one line (On is its key) or on everything that takes a discount (On is ""). It is a share or an amount;
// the amount is as the customer sees it, with tax where prices are shown with tax.
type Discount struct {
	On     string
	Title  string
	Share  money.Rate
	Amount money.Amount // used where Share is zero
}

// ShownLine is a line as the customer sees it: with tax in an inclusive region, without elsewhere.
type ShownLine struct {
	Line
	Shown money.Amount
}

// ShownDiscount is a discount as an amount above zero.
type ShownDiscount struct {
	Title  string
	On     string
	Amount money.Amount
}

// Stage is one payment.
type Stage struct {
	Title  string
	Share  money.Rate
	Amount money.Amount
}

// Sheet is what the customer pays and why. Goods is the sum of the shown lines; Shown is Goods less discounts. In an inclusive region
// Total is Shown and Tax is inside it; in an exclusive one Tax is added; in a zero-rated one there is none. Net is Total less Tax,
// and the stages add up to Total.
type Sheet struct {
	Currency  money.Currency
	Region    *pack.Region // nil where the book has none
	Lines     []ShownLine
	Discounts []ShownDiscount
	Goods     money.Amount
	Shown     money.Amount
	Net       money.Amount
	Tax       money.Amount
	Total     money.Amount
	Stages    []Stage
	// DiscountShare is the sum of the discounts over what takes a discount.
	DiscountShare money.Rate
}

// Show is a net amount as the customer of a region sees it.
//
// A line is shown with its tax rounded to the minor unit; the tax of the whole is then taken out of the total by the VAT fraction, so that
// shown lines add up. Source: HMRC Notice 700, 17.5 and tax notices on the VAT fraction.
func (p *Pricing) Show(net money.Amount, r *pack.Region) money.Amount {
	if r == nil || r.TaxMode != pack.Inclusive {
		return p.minor.Round(net)
	}
	return p.minor.Round(net.Add(net.Share(r.TaxRate)))
}

// Sheet adds lines and discounts up. It fails where a discount names no line, is more than what it is given on, or is negative.
func (p *Pricing) Sheet(lines []Line, discounts []Discount, r *pack.Region) (*Sheet, error) {
	s := &Sheet{Currency: p.currency, Region: r}
	for _, l := range lines {
		shown := p.Show(l.Net, r)
		s.Lines = append(s.Lines, ShownLine{l, shown})
		s.Goods = s.Goods.Add(shown)
	}
	if err := p.discount(s, discounts); err != nil {
		return nil, err
	}
	s.Shown = s.Goods
	for _, d := range s.Discounts {
		s.Shown = s.Shown.Sub(d.Amount)
	}
	p.tax(s)
	return s, p.stages(s)
}

// discount turns discounts into amounts: those on lines first, then shares of what is left, each in the order given. What is on
// everything counts only what takes a discount.
func (p *Pricing) discount(s *Sheet, discounts []Discount) error {
	left := map[string]money.Amount{}
	var all money.Amount
	for _, l := range s.Lines {
		if !l.Fixed {
			left[l.Key] = left[l.Key].Add(l.Shown)
			all = all.Add(l.Shown)
		}
	}
	whole := all
	for _, onLine := range []bool{true, false} {
		for _, d := range discounts {
			if (d.On != "") != onLine {
				continue
			}
			base := all
			if onLine {
				var ok bool
				if base, ok = left[d.On]; !ok {
					return fmt.Errorf("giving discount %q: there is no discountable line %q in this quote; name a slot that differs from the standard build, or an extra item, or remove the discount", d.Title, d.On)
				}
			}
			amount, err := p.amount(d, base)
			if err != nil {
				return err
			}
			left[d.On] = left[d.On].Sub(amount)
			all = all.Sub(amount)
			s.Discounts = append(s.Discounts, ShownDiscount{d.Title, d.On, amount})
		}
	}
	s.DiscountShare, _ = money.ShareOf(whole.Sub(all), whole)
	return nil
}

func (p *Pricing) amount(d Discount, base money.Amount) (money.Amount, error) {
	amount := p.minor.Round(d.Amount)
	if d.Share.Sign() != 0 {
		amount = p.minor.Round(base.Share(d.Share))
	}
	if d.Share.Sign() < 0 || amount.Sign() < 0 || amount.Cmp(base) > 0 { // a credit takes no discount
		return amount, fmt.Errorf("giving discount %q: %s is negative or more than the %s that it is given on", d.Title, amount, base)
	}
	return amount, nil
}

func (p *Pricing) tax(s *Sheet) {
	s.Total = s.Shown
	switch {
	case s.Region == nil || s.Region.TaxMode == pack.Zero:
	case s.Region.TaxMode == pack.Inclusive:
		s.Tax = money.TaxInside(s.Total, s.Region.TaxRate, p.minor)
	default:
		s.Tax = p.minor.Round(s.Shown.Share(s.Region.TaxRate))
		s.Total = s.Shown.Add(s.Tax)
	}
	s.Net = s.Total.Sub(s.Tax)
}

// stages divides the total by the method of the largest remainder, so that the stages add up to it exactly.
func (p *Pricing) stages(s *Sheet) error {
	if len(p.pack.Stages) == 0 {
		return nil
	}
	weights := make([]money.Amount, len(p.pack.Stages))
	for i, st := range p.pack.Stages {
		weights[i] = money.Exact(st.Share.Millionths(), -6)
	}
	parts, err := money.Allocate(s.Total, weights, p.currency.Minor())
	if err != nil {
		return fmt.Errorf("dividing the total into stages: %w", err)
	}
	for i, st := range p.pack.Stages {
		s.Stages = append(s.Stages, Stage{st.Title, st.Share, parts[i]})
	}
	return nil
}

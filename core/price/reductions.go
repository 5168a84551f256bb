package price

import (
	"ribband/core/money"
	"ribband/core/msg"
)

// Reductions is what a deal gives away, as the customer sees money, against the list price. Everything counts that
// lowers the price: discounts; extra items that are credits, at no charge or charged below their cost; options at no
// charge, by what they cost; and of a trade-in what is allowed beyond its value, or all of it where no value is stated.
type Reductions struct {
	List  money.Amount // what takes a discount, before it: lines by the book and extra items that are charged
	Parts []Reduction
	Total money.Amount
	// of the list, in steps of 0.0001; at least 1 where the list is not above zero and something is given away
	Share money.Rate
}

// Reduction is one of them. Its title says what it is, and why it counts where that is no discount.
type Reduction struct {
	Title  msg.Message
	Amount money.Amount
}

// Over is what is allowed for a trade-in beyond its value; zero where it is worth more, or there is none.
func (t *TradeIn) Over() money.Amount {
	if t == nil || t.Value.Cmp(t.Allowance) >= 0 {
		return money.Amount{}
	}
	return t.Allowance.Sub(t.Value)
}

// reduce counts what a deal gives away. It comes last, since it reads the shown lines, the discounts as amounts and the
// trade-in as it was rounded. A line that is charged above zero and below its cost is on the list with what is charged:
// what is missing is the reduction.
func (p *Pricing) reduce(s *Sheet) {
	r := &s.Reductions
	add := func(title msg.Message, a money.Amount) {
		if a.Sign() > 0 {
			r.Parts = append(r.Parts, Reduction{title, a})
			r.Total = r.Total.Add(a)
		}
	}
	for _, l := range s.Lines {
		if !l.Fixed && !(l.Extra && l.Shown.Sign() < 0) {
			r.List = r.List.Add(l.Shown)
		}
		why := msg.Code("price.below-cost")
		if l.Extra && l.Net.Sign() < 0 {
			why = "price.credit"
		}
		add(msg.New(why, msg.Words("title", l.Title)), p.Show(l.BelowCost, s.Region))
	}
	for _, d := range s.Discounts {
		add(msg.Plain(d.Title), d.Amount)
	}
	if s.TradeIn != nil {
		add(msg.New("price.above-resale", msg.Text("title", s.TradeIn.Title)), s.TradeIn.Over())
	}
	switch {
	case r.List.Sign() > 0:
		r.Share, _ = money.ShareOf(r.Total, r.List)
	case r.Total.Sign() > 0:
		r.Share = money.MustRate("1")
	}
}

package price

import (
	"fmt"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
)

// Deal is what a price is made of: what the boat comes to by the book, and what a salesperson added.
type Deal struct {
	Lines     []Line
	Discounts []Discount
	TradeIn   *TradeIn // nil for none
}

// Line is one thing that a customer pays for. Net is without tax; a credit is negative. Fixed lines take no discount.
type Line struct {
	Key    string // what a discount on this line names: a slot, or an extra item
	Title  msg.Message
	Detail msg.Message
	Net    money.Amount
	Fixed  bool
	Extra  bool // an extra item of the salesperson, in no list
	// net: what is supplied under this line for less than it costs, an extra item or options at no charge
	BelowCost money.Amount
}

// Discount is given on one line (On is its key) or on everything that takes a discount (On is ""). It is a share or an
// amount; the amount is as the customer sees it, with tax where prices are shown with tax.
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

// Stage is one payment: Amount is to be paid, after TradeIn of it was paid by a trade-in.
type Stage struct {
	Title   string
	Share   money.Rate // of the total
	Amount  money.Amount
	TradeIn money.Amount
}

// Sheet is what the customer pays and why. Goods is the sum of the shown lines; Shown is Goods less discounts. In an
// inclusive region Total is Shown and Tax is inside it; in an exclusive one Tax is added; in a zero-rated one there is
// none. Net is Total less Tax. Payable is Total less the trade-in, and the stages add up to it. All of them are above
// zero.
type Sheet struct {
	Currency   money.Currency
	Region     *pack.Region // nil where the book has none
	Lines      []ShownLine
	Discounts  []ShownDiscount
	TradeIn    *TradeIn // nil for none
	Goods      money.Amount
	Shown      money.Amount
	Net        money.Amount
	Tax        money.Amount
	Total      money.Amount
	Payable    money.Amount
	Stages     []Stage
	Reductions Reductions
	Converted  *Converted // nil where the region has no currency of its own
}

// Show is a net amount as the customer of a region sees it.
//
// A line is shown with its tax rounded to the minor unit; the tax of the whole is then taken out of the total by the
// VAT fraction, so that shown lines add up. Source: HMRC Notice 700, 17.5 and tax notices on the VAT fraction.
func (p *Pricing) Show(net money.Amount, r *pack.Region) money.Amount {
	if r == nil || r.TaxMode != pack.Inclusive {
		return p.minor.Round(net)
	}
	return p.minor.Round(net.Add(net.Share(r.TaxRate)))
}

// Rounded is an amount to the minor unit of the book's currency, by the rounding of the book.
func (p *Pricing) Rounded(a money.Amount) money.Amount { return p.minor.Round(a) }

// WithoutTax is the net amount of one with tax, to the ninth decimal, so that [Pricing.Show] gives the amount back
// where prices are shown with tax.
//
// Source: HMRC Notice 700, 17.5 (VAT fraction).
func (p *Pricing) WithoutTax(amount money.Amount, r *pack.Region) money.Amount {
	if r == nil || r.TaxMode == pack.Zero {
		return amount
	}
	return amount.Sub(money.TaxInside(amount, r.TaxRate, ninth))
}

// ninth is the step of what [Pricing.WithoutTax] gives: fine enough that no currency's minor unit is lost on the way
// back.
var ninth, _ = money.NewRounding(money.HalfEven, money.Exact(1, -9)) // the step is above zero

// Sheet adds a deal up. It fails where a discount names no line, is more than what it is given on, or is negative;
// where anything comes to zero or less that a customer pays or is taxed on; and where a trade-in is not less than the
// total.
func (p *Pricing) Sheet(d Deal, r *pack.Region) (*Sheet, error) {
	s := &Sheet{Currency: p.currency, Region: r}
	for _, l := range d.Lines {
		shown := p.Show(l.Net, r)
		s.Lines = append(s.Lines, ShownLine{l, shown})
		s.Goods = s.Goods.Add(shown)
	}
	if err := p.discount(s, d.Discounts); err != nil {
		return nil, err
	}
	s.Shown = s.Goods
	for _, d := range s.Discounts {
		s.Shown = s.Shown.Sub(d.Amount)
	}
	p.tax(s)
	if err := s.aboveZero(); err != nil {
		return nil, err
	}
	if err := p.tradeIn(s, d.TradeIn); err != nil {
		return nil, err
	}
	p.reduce(s)
	if err := p.convert(s); err != nil {
		return nil, err
	}
	return s, p.stages(s)
}

// aboveZero refuses a price at which nothing is sold: there is no invoice over nothing, and none that pays the
// customer.
func (s *Sheet) aboveZero() error {
	for _, sum := range []struct {
		what   string
		amount money.Amount
	}{{"lines", s.Goods}, {"less-discounts", s.Shown}, {"net", s.Net}, {"total", s.Total}} {
		if sum.amount.Sign() > 0 {
			continue
		}
		what, comes := msg.Choice("what", sum.what), s.money("sum", sum.amount)
		if title, most := s.largestReduction(); !title.Empty() {
			return msg.Fault("price.nothing-left", what, comes, msg.Words("title", title), s.money("most", most))
		}
		return msg.Fault("price.no-price", what, comes)
	}
	return nil
}

// money is an amount of the sheet as its region writes it.
func (s *Sheet) money(name string, a money.Amount) msg.Arg {
	region := ""
	if s.Region != nil {
		region = s.Region.ID
	}
	return msg.Money(name, a, s.Currency, region)
}

// largestReduction is the line or discount that takes the most off a price.
func (s *Sheet) largestReduction() (title msg.Message, amount money.Amount) {
	for _, l := range s.Lines {
		if l.Shown.Neg().Cmp(amount) > 0 {
			title, amount = l.Title, l.Shown.Neg()
		}
	}
	for _, d := range s.Discounts {
		if d.Amount.Cmp(amount) > 0 {
			title, amount = msg.Plain(d.Title), d.Amount
		}
	}
	return title, amount
}

// discount turns discounts into amounts: those on lines first, then shares of what is left, each in the order given.
// What is on everything counts only what takes a discount.
func (p *Pricing) discount(s *Sheet, discounts []Discount) error {
	left := map[string]money.Amount{}
	var all money.Amount
	for _, l := range s.Lines {
		if !l.Fixed {
			left[l.Key] = left[l.Key].Add(l.Shown)
			all = all.Add(l.Shown)
		}
	}
	for _, onLine := range []bool{true, false} {
		for _, d := range discounts {
			if (d.On != "") != onLine {
				continue
			}
			base := all
			if onLine {
				var ok bool
				if base, ok = left[d.On]; !ok {
					return msg.Fault("price.no-line", msg.Text("title", d.Title), msg.Text("line", d.On))
				}
			}
			amount, ok := p.amount(d, base)
			if !ok {
				return msg.Fault("price.discount-too-much", msg.Text("title", d.Title), s.money("amount", amount),
					s.money("base", base))
			}
			left[d.On] = left[d.On].Sub(amount)
			all = all.Sub(amount)
			s.Discounts = append(s.Discounts, ShownDiscount{d.Title, d.On, amount})
		}
	}
	return nil
}

// amount is what a discount comes to on a base, and whether that can be given: not less than nothing, and no more than
// there is. A credit takes no discount.
func (p *Pricing) amount(d Discount, base money.Amount) (amount money.Amount, ok bool) {
	amount = p.minor.Round(d.Amount)
	if d.Share.Sign() != 0 {
		amount = p.minor.Round(base.Share(d.Share))
	}
	return amount, d.Share.Sign() >= 0 && amount.Sign() >= 0 && amount.Cmp(base) <= 0
}

// tax divides what is shown into net and tax, or adds the tax to it, as the region has it. The tax is rounded once, of
// the whole: the lines of an exclusive region have none of their own.
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

// stages divides the total by the method of the largest remainder, so that the stages add up to it exactly. A trade-in
// is set against the last stage first, since the yard takes it over when the boat is handed over, then against the one
// before, until it is used up.
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
		s.Stages = append(s.Stages, Stage{Title: st.Title, Share: st.Share, Amount: parts[i]})
	}
	left := s.Total.Sub(s.Payable)
	for i := len(s.Stages) - 1; i >= 0 && left.Sign() > 0; i-- {
		st := &s.Stages[i]
		st.TradeIn = left
		if left.Cmp(st.Amount) > 0 {
			st.TradeIn = st.Amount
		}
		st.Amount, left = st.Amount.Sub(st.TradeIn), left.Sub(st.TradeIn)
	}
	return nil
}

package price

import (
	"fmt"

	"ribband/core/money"
)

// TradeIn is something that the yard takes in payment. Allowance is what the customer is credited with; Value is what
// the yard expects to get for it, zero where that is not known.
//
// Rule: a trade-in is a payment in kind. It leaves the tax and what is taxed as they are, and is taken off what is
// payable after tax.
// Valid: where tax is due on the whole consideration, as in the EU and the UK; many states of the US tax the price less
// the trade-in. Local tax advice decides.
// Source: HMRC internal manual VATVAL06110 (the value is what would have been charged had nothing been taken in part
// exchange); Directive 2006/112/EC, article 73, from memory. The rule for the stages: common practice, no source.
type TradeIn struct {
	Title     string
	Allowance money.Amount
	Value     money.Amount
}

// TradeInRule is the rule in a customer's words.
const TradeInRule = "The trade-in is a payment in kind: tax is due on the full price. It is set against the last " +
	"stage payment first. Subject to local tax law; take tax advice."

// tradeIn takes a trade-in off what is payable. One that is not less than the total is refused: nothing would be sold,
// or the customer be paid.
func (p *Pricing) tradeIn(s *Sheet, t *TradeIn) error {
	s.Payable = s.Total
	if t == nil {
		return nil
	}
	rounded := TradeIn{t.Title, p.minor.Round(t.Allowance), p.minor.Round(t.Value)}
	digits := s.Currency.Digits
	if rounded.Allowance.Sign() <= 0 || rounded.Value.Sign() < 0 {
		return fmt.Errorf("taking %q in payment: an allowance of %s at a value of %s; an allowance is above zero and "+
			"a value not below: correct them, or leave the trade-in out",
			t.Title, rounded.Allowance.Fixed(digits), rounded.Value.Fixed(digits))
	}
	if rounded.Allowance.Cmp(s.Total) >= 0 {
		return fmt.Errorf("taking %q in payment: the allowance of %s is not less than the total of %s, so that "+
			"nothing would be payable; lower it, and buy the rest of its worth separately",
			t.Title, rounded.Allowance.Fixed(digits), s.Total.Fixed(digits))
	}
	s.TradeIn, s.Payable = &rounded, s.Total.Sub(rounded.Allowance)
	return nil
}

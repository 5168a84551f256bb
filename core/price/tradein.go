package price

import (
	"ribband/core/money"
	"ribband/core/msg"
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
func TradeInRule() msg.Message { return msg.New("price.trade-in-rule") }

// tradeIn takes a trade-in off what is payable. One that is not less than the total is refused: nothing would be sold,
// or the customer be paid.
func (p *Pricing) tradeIn(s *Sheet, t *TradeIn) error {
	s.Payable = s.Total
	if t == nil {
		return nil
	}
	rounded := TradeIn{t.Title, p.minor.Round(t.Allowance), p.minor.Round(t.Value)}
	title, allowance := msg.Text("title", t.Title), s.money("allowance", rounded.Allowance)
	if rounded.Allowance.Sign() <= 0 || rounded.Value.Sign() < 0 {
		return msg.Fault("price.trade-in-amounts", title, allowance, s.money("value", rounded.Value))
	}
	if rounded.Allowance.Cmp(s.Total) >= 0 {
		return msg.Fault("price.trade-in-too-much", title, allowance, s.money("total", s.Total))
	}
	s.TradeIn, s.Payable = &rounded, s.Total.Sub(rounded.Allowance)
	return nil
}

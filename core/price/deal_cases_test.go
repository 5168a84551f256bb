package price_test

import (
	"fmt"
	"testing"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/testdata/published"
)

func TestDealCases(t *testing.T) {
	published.Run(t, "../../testdata/deals.json", 10, 0,
		map[string]func(*testing.T, published.Case){"deal": runDeal, "with tax": runWithTax})
}

func runDeal(t *testing.T, c published.Case) {
	var in struct {
		Mode  pack.TaxMode
		Rate  money.Rate
		Lines []struct {
			Net       money.Amount
			Extra     bool
			BelowCost money.Amount `json:"below_cost"`
		}
		Discount money.Rate
		TradeIn  money.Amount `json:"trade_in"`
		Value    money.Amount
	}
	var want struct {
		Goods, Net, Tax, Total, Payable, Given money.Amount
		Share                                  money.Rate
		Stages, Paid                           []money.Amount
	}
	c.Read(t, &in, &want)
	d := price.Deal{TradeIn: &price.TradeIn{Title: "Dinghy", Allowance: in.TradeIn, Value: in.Value}}
	for i, l := range in.Lines {
		d.Lines = append(d.Lines, price.Line{Key: fmt.Sprint(i), Title: msg.Plain(fmt.Sprint(i)), Net: l.Net,
			Extra: l.Extra, BelowCost: l.BelowCost})
	}
	if !in.Discount.IsZero() {
		d.Discounts = []price.Discount{{Title: "Trade", Share: in.Discount}}
	}
	s, err := compiled(t, yard()).Sheet(d, &pack.Region{TaxMode: in.Mode, TaxRate: in.Rate})
	if err != nil {
		t.Fatal(err)
	}
	wantSheet(t, s, want.Goods.String(), s.Shown.String(), want.Net.String(), want.Tax.String(), want.Total.String())
	same(t, "payable", s.Payable, want.Payable.String())
	same(t, "given away", s.Reductions.Total, want.Given.String())
	if !s.Reductions.Share.Equal(want.Share) {
		t.Errorf("share %s, want %s", s.Reductions.Share, want.Share)
	}
	for i := range want.Stages {
		same(t, "stage", s.Stages[i].Amount, want.Stages[i].String())
		same(t, "paid by the trade-in", s.Stages[i].TradeIn, want.Paid[i].String())
	}
}

func runWithTax(t *testing.T, c published.Case) {
	var in struct {
		Amount money.Amount
		Rate   money.Rate
	}
	want := map[pack.TaxMode]money.Amount{}
	c.Read(t, &in, &want)
	p := compiled(t, yard())
	for mode, shown := range want {
		r := &pack.Region{TaxMode: mode, TaxRate: in.Rate}
		same(t, string(mode), p.Show(p.WithoutTax(in.Amount, r), r), shown.String())
	}
	same(t, "without regions", p.WithoutTax(in.Amount, nil), in.Amount.String())
}

// A trade-in that is not less than the total, or not above zero, is refused.
func TestTradeInRefused(t *testing.T) {
	p := compiled(t, yard())
	for allowance, want := range map[string]string{
		"1000": `taking "Dinghy" in payment: the allowance of EUR 1 000.00 is not less than the total of EUR 1 000.00, so that nothing would be payable; lower it, and buy the rest of its worth separately`,
		"1200": `taking "Dinghy" in payment: the allowance of EUR 1 200.00 is not less than the total of EUR 1 000.00, so that nothing would be payable; lower it, and buy the rest of its worth separately`,
		"0":    `taking "Dinghy" in payment: an allowance of EUR 0.00 at a value of EUR 0.00; an allowance is above zero and a value not below: correct them, or leave the trade-in out`,
		"-5":   `taking "Dinghy" in payment: an allowance of EUR −5.00 at a value of EUR 0.00; an allowance is above zero and a value not below: correct them, or leave the trade-in out`,
	} {
		_, err := p.Sheet(price.Deal{Lines: []price.Line{net("boat", "1000")},
			TradeIn: &price.TradeIn{Title: "Dinghy", Allowance: money.MustParse(allowance)}}, nil)
		wantError(t, err, want)
	}
}

package export

import (
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// sums checks that a price adds up as it stands: its lines and discounts to its total, that with its tax, what is left
// after a trade-in, and the stages to that. A schema checks no sum, and whoever books from the file would find out.
// A file that was changed by hand is caught here, whatever its digest says.
func sums(p *quote.PricePart) error {
	lines := money.Amount{}
	for _, l := range append(append([]quote.LinePart{}, p.Lines...), p.Discounts...) {
		lines = lines.Add(l.Amount)
	}
	// where prices have tax in them, so have the lines
	goods := p.Net
	if p.TaxMode == pack.Inclusive {
		goods = p.Total
	}
	// a price without a trade-in or stages adds up by itself
	tradeIn, stages := money.Amount{}, p.Payable
	if p.TradeIn != nil {
		tradeIn = p.TradeIn.Amount
	}
	if len(p.Stages) > 0 {
		stages = money.Amount{}
	}
	for _, s := range p.Stages {
		stages = stages.Add(s.Amount)
	}
	for _, sum := range []struct {
		part        string
		is, becomes money.Amount
	}{{"lines", lines, goods}, {"tax", p.Net.Add(p.Tax), p.Total}, {"trade-in", p.Total.Add(tradeIn), p.Payable},
		{"stages", stages, p.Payable}} {
		if !sum.is.Equal(sum.becomes) {
			return msg.Fault("export.does-not-add-up", msg.Choice("part", sum.part),
				msg.Text("sum", sum.is.String()), msg.Text("stated", sum.becomes.String()))
		}
	}
	return taxed(p)
}

// taxed checks the tax against its rate. The yard's way of rounding is not in the quotation, so a minor unit of the
// currency is left to it.
func taxed(p *quote.PricePart) error {
	minor := money.Exact(1, -int32(p.Currency.Digits))
	nearest, err := money.NewRounding(money.HalfEven, minor)
	if err != nil {
		return err
	}
	// zero-rated, and without a region, there is none
	want := money.Amount{}
	switch p.TaxMode {
	case pack.Inclusive:
		want = money.TaxInside(p.Total, p.TaxRate, nearest)
	case pack.Exclusive:
		want = nearest.Round(p.Net.Share(p.TaxRate))
	}
	if p.Tax.Sub(want).Abs().Cmp(minor) > 0 {
		return msg.Fault("export.does-not-add-up", msg.Choice("part", "rate"), msg.Text("sum", want.String()),
			msg.Text("stated", p.Tax.String()))
	}
	return nil
}

// netLine is a line or discount without and with its tax.
type netLine struct {
	quote.LinePart
	net, tax money.Amount
}

// netLines are lines and discounts as amounts without tax that add up to the net price exactly. Where prices have tax
// in them, each line is what it adds to the net of all lines so far, so that no rounding is lost and each is within a
// minor unit of its own net. The last takes what the yard's own way of rounding leaves.
//
// Source: cumulative rounding, common practice; the VAT fraction as in [money.TaxInside].
func netLines(p *quote.PricePart) (lines, discounts []netLine, err error) {
	nearest, err := money.NewRounding(money.HalfEven, money.Exact(1, -int32(p.Currency.Digits)))
	if err != nil {
		return nil, nil, err
	}
	all := append(append([]quote.LinePart{}, p.Lines...), p.Discounts...)
	gross, net := money.Amount{}, money.Amount{}
	for i, l := range all {
		n := netLine{LinePart: l, net: l.Amount}
		if p.TaxMode == pack.Inclusive {
			gross = gross.Add(l.Amount)
			sofar := gross.Sub(money.TaxInside(gross, p.TaxRate, nearest))
			if i == len(all)-1 {
				sofar = p.Net
			}
			n.net, net = sofar.Sub(net), sofar
			n.tax = l.Amount.Sub(n.net)
		}
		if i < len(p.Lines) {
			lines = append(lines, n)
		} else {
			discounts = append(discounts, n)
		}
	}
	return lines, discounts, nil
}

package price_test

import (
	"testing"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/price"
)

func off(on, share, amount string) price.Discount {
	return price.Discount{On: on, Title: "Show", Share: money.MustRate(share), Amount: money.MustParse(amount)}
}

// Worked by hand from the order that Sheet states: lines first, then shares of what is left; fixed lines take none.
func TestDiscounts(t *testing.T) {
	p := compiled(t, yard())
	lines := []price.Line{net("boat", "1000"), net("cover", "200"),
		{Key: "freight", Title: msg.Plain("Freight"), Net: money.MustParse("300"), Fixed: true}}
	for _, c := range []struct {
		name      string
		discounts []price.Discount
		amounts   []string
		share     string
		shown     string
	}{
		{"none", nil, nil, "0", "1500"},
		{"share of everything", []price.Discount{off("", "0.10", "0")}, []string{"120"}, "0.1", "1380"},
		{"amount off everything", []price.Discount{off("", "0", "60")}, []string{"60"}, "0.05", "1440"},
		{"share of a line", []price.Discount{off("cover", "0.50", "0")}, []string{"100"}, "0.0833", "1400"},
		{"a line before everything, whatever the order",
			[]price.Discount{off("", "0.10", "0"), off("cover", "0", "200")}, []string{"200", "100"}, "0.25", "1200"},
		{"a share of what is left of a line", []price.Discount{off("cover", "0.50", "0"), off("cover", "0.50", "0")},
			[]string{"100", "50"}, "0.125", "1350"},
		{"a share of what is left of everything", []price.Discount{off("", "0.50", "0"), off("", "0.50", "0")},
			[]string{"600", "300"}, "0.75", "600"},
		{"all of it", []price.Discount{off("", "1", "0")}, []string{"1200"}, "1", "300"},
		{"a share goes before an amount", []price.Discount{off("cover", "0.10", "150")}, []string{"20"}, "0.0167",
			"1480"},
		{"an amount goes to the minor unit", []price.Discount{off("cover", "0", "0.125")}, []string{"0.12"}, "0.0001",
			"1499.88"},
	} {
		s, err := p.Sheet(price.Deal{Lines: lines, Discounts: c.discounts}, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		same(t, c.name, s.Shown, c.shown)
		if len(s.Discounts) != len(c.amounts) || s.Reductions.Share.String() != c.share {
			t.Errorf("%s: %d discounts of %s, want %d of %s", c.name, len(s.Discounts), s.Reductions.Share,
				len(c.amounts), c.share)
			continue
		}
		for i, d := range s.Discounts {
			same(t, c.name, d.Amount, c.amounts[i])
		}
	}
}

// Lines of one key count as one.
func TestDiscountOnLinesOfOneKey(t *testing.T) {
	s, err := compiled(t, yard()).Sheet(price.Deal{Lines: []price.Line{net("cover", "100"), net("cover", "60")},
		Discounts: []price.Discount{off("cover", "0.25", "0")}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "shown", s.Shown, "120")
}

// An amount is as the customer sees it: with tax in an inclusive region. 1000 is shown as 1200; 120 off leaves 1080, of
// which 180 is tax.
func TestDiscountAmountIncludesTax(t *testing.T) {
	s, err := compiled(t, yard()).Sheet(price.Deal{Lines: []price.Line{net("boat", "1000")},
		Discounts: []price.Discount{off("", "0", "120")}}, inclusive)
	if err != nil {
		t.Fatal(err)
	}
	wantSheet(t, s, "1200", "1080", "900", "180", "1080")
}

func TestDiscountErrors(t *testing.T) {
	p := compiled(t, yard())
	lines := []price.Line{
		net("boat", "1000"), net("cover", "200"), net("seats", "-100"),
		{Key: "freight", Title: msg.Plain("Freight"), Net: money.MustParse("300"), Fixed: true},
	}
	const noLine = " to give it on; name a slot that differs from the standard build, or an extra item, or " +
		"remove the discount"
	for _, c := range []struct {
		name     string
		discount price.Discount
		want     string
	}{
		{"unknown line", off("mast", "0.10", "0"),
			`giving the discount "Show": there is no line "mast"` + noLine},
		{"fixed line", off("freight", "0.10", "0"),
			`giving the discount "Show": there is no line "freight"` + noLine},
		{"more than the line", off("cover", "0", "200.01"),
			`giving the discount "Show": EUR 200.01 is negative or more than the EUR 200.00 that it is given on`},
		{"more than everything", off("", "0", "1100.01"),
			`giving the discount "Show": EUR 1 100.01 is negative or more than the EUR 1 100.00 that it is given on`},
		{"more than the whole share", off("cover", "1.01", "0"),
			`giving the discount "Show": EUR 202.00 is negative or more than the EUR 200.00 that it is given on`},
		{"negative share", off("cover", "-0.10", "0"),
			`giving the discount "Show": EUR −20.00 is negative or more than the EUR 200.00 that it is given on`},
		{"negative share too small to see", off("cover", "-0.00001", "0"),
			`giving the discount "Show": EUR 0.00 is negative or more than the EUR 200.00 that it is given on`},
		{"negative amount", off("cover", "0", "-5"),
			`giving the discount "Show": EUR −5.00 is negative or more than the EUR 200.00 that it is given on`},
		{"amount on a credit", off("seats", "0", "50"),
			`giving the discount "Show": EUR 50.00 is negative or more than the EUR −100.00 that it is given on`},
		{"share of a credit", off("seats", "0.10", "0"),
			`giving the discount "Show": EUR −10.00 is negative or more than the EUR −100.00 that it is given on`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := p.Sheet(price.Deal{Lines: lines, Discounts: []price.Discount{c.discount}}, nil)
			wantError(t, err, c.want)
		})
	}
}

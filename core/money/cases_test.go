package money_test

import (
	"fmt"
	"testing"

	"ribband/core/money"
	"ribband/testdata/published"
)

// runners say how a kind of case is run.
var runners = map[string]func(t *testing.T, c published.Case){
	"price":            runPrice,
	"markup of margin": runMarkupOfMargin,
	"rounding":         runRounding,
	"rounding twice":   runRoundingTwice,
	"minor units":      runMinorUnits,
	"division":         runDivision,
	"tax":              runTax,
	"tax of lines":     runTaxOfLines,
	"unit or late":     runUnitOrLate,
}

func TestPublishedCases(t *testing.T) {
	published.Run(t, "../../testdata/money.json", 28, 1, runners)
}

func runPrice(t *testing.T, c published.Case) {
	var in struct {
		Cost  money.Amount
		Share money.Rate
		Steps []money.Amount
	}
	var want struct {
		ByMarkup     []money.Amount `json:"by_markup"`
		ByMargin     []money.Amount `json:"by_margin"`
		MarkupProfit *money.Amount  `json:"markup_profit"`
		MarginProfit *money.Amount  `json:"margin_profit"`
	}
	c.Read(t, &in, &want)
	for _, mode := range modes {
		for i, step := range in.Steps {
			r := rounding(t, mode, step.String())
			if want.ByMarkup != nil {
				got := money.FromMarkup(in.Cost, in.Share, r)
				same(t, "by markup", got, want.ByMarkup[i])
				if want.MarkupProfit != nil {
					same(t, "profit of the markup", got.Sub(in.Cost), *want.MarkupProfit)
				}
			}
			if want.ByMargin != nil {
				got, err := money.FromMargin(in.Cost, in.Share, r)
				if err != nil {
					t.Fatal(err)
				}
				same(t, "by margin", got, want.ByMargin[i])
				if want.MarginProfit != nil {
					same(t, "profit of the margin", got.Sub(in.Cost), *want.MarginProfit)
				}
			}
		}
	}
}

func runMarkupOfMargin(t *testing.T, c published.Case) {
	var in struct{ Margins []money.Rate }
	var want struct{ Markups []money.Amount }
	c.Read(t, &in, &want)
	hundred := money.MustParse("100")
	for i, m := range in.Margins {
		price, err := money.FromMargin(hundred, m, rounding(t, money.HalfEven, "0.01"))
		if err != nil {
			t.Fatal(err)
		}
		same(t, "markup for "+m.String(), price.Sub(hundred), want.Markups[i])
		if back, ok := money.MarginOf(price, hundred); !ok || !back.Equal(m) {
			t.Errorf("margin of %s on 100: %s, want %s", price, back, m)
		}
	}
}

func runRounding(t *testing.T, c published.Case) {
	var in struct {
		Ranges []struct {
			Step   money.Amount
			Values []money.Amount
		}
	}
	want := map[money.Mode][][]money.Amount{}
	c.Read(t, &in, &want)
	for mode, ranges := range want {
		for i, rows := range ranges {
			r := rounding(t, mode, in.Ranges[i].Step.String())
			if len(rows) != len(in.Ranges[i].Values) {
				t.Fatalf("%d values, %d expected", len(in.Ranges[i].Values), len(rows))
			}
			for j, v := range in.Ranges[i].Values {
				same(t, fmt.Sprintf("%s %s to %s", mode, v, in.Ranges[i].Step), r.Round(v), rows[j])
			}
		}
	}
}

func runRoundingTwice(t *testing.T, c published.Case) {
	var in struct {
		Value money.Amount
		Steps []money.Amount
	}
	var want struct{ Once, Twice money.Amount }
	c.Read(t, &in, &want)
	fine, coarse := rounding(t, money.HalfEven, in.Steps[0].String()), rounding(t, money.HalfEven, in.Steps[1].String())
	same(t, "once", coarse.Round(in.Value), want.Once)
	same(t, "twice, which is wrong", coarse.Round(fine.Round(in.Value)), want.Twice)
}

func runMinorUnits(t *testing.T, c published.Case) {
	var in struct{ Codes []string }
	var want struct{ Digits []int }
	c.Read(t, &in, &want)
	for i, code := range in.Codes {
		got, err := money.CurrencyOf(code)
		if err != nil || got.Code != code || got.Digits != want.Digits[i] {
			t.Errorf("%s: %+v, %v; want %d digits", code, got, err, want.Digits[i])
		}
	}
}

func runDivision(t *testing.T, c published.Case) {
	var in struct {
		Divisions []struct {
			Total, Step money.Amount
			Weights     []money.Amount
		}
	}
	var want struct{ Parts [][]money.Amount }
	c.Read(t, &in, &want)
	for i, d := range in.Divisions {
		got, err := money.Allocate(d.Total, d.Weights, d.Step)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != len(want.Parts[i]) {
			t.Fatalf("%d parts, want %d", len(got), len(want.Parts[i]))
		}
		for j := range got {
			same(t, fmt.Sprintf("division %d part %d", i+1, j+1), got[j], want.Parts[i][j])
		}
	}
}

func runTax(t *testing.T, c published.Case) {
	var in struct {
		Amount money.Amount
		Rate   money.Rate
	}
	var want struct {
		Inside, Without, With *money.Amount
		OnTop                 *money.Amount `json:"on_top"`
	}
	c.Read(t, &in, &want)
	for _, mode := range modes {
		r := rounding(t, mode, "0.01")
		inside, onTop := money.TaxInside(in.Amount, in.Rate, r), r.Round(in.Amount.Share(in.Rate))
		for what, pair := range map[string][2]*money.Amount{
			"tax inside":  {&inside, want.Inside},
			"without tax": {new(in.Amount.Sub(inside)), want.Without},
			"tax on top":  {&onTop, want.OnTop},
			"with tax":    {new(in.Amount.Add(onTop)), want.With},
		} {
			if pair[1] != nil {
				same(t, what, *pair[0], *pair[1])
			}
		}
	}
}

func runTaxOfLines(t *testing.T, c published.Case) {
	var in struct {
		Net   money.Amount
		Lines int64
		Rate  money.Rate
	}
	var want struct {
		PerLine money.Amount `json:"per_line"`
		OnTotal money.Amount `json:"on_total"`
	}
	c.Read(t, &in, &want)
	for _, mode := range modes {
		r := rounding(t, mode, "0.01")
		same(t, "per line", r.Round(in.Net.Add(in.Net.Share(in.Rate))).Times(in.Lines), want.PerLine)
		total := in.Net.Times(in.Lines)
		same(t, "on the total", total.Add(r.Round(total.Share(in.Rate))), want.OnTotal)
	}
}

func runUnitOrLate(t *testing.T, c published.Case) {
	var in struct {
		Part, Whole money.Amount
		Times       int64
	}
	var want struct{ Unit, Late money.Amount }
	c.Read(t, &in, &want)
	for _, mode := range modes {
		r := rounding(t, mode, "0.01")
		same(t, "rounded unit", r.Ratio(in.Part, in.Whole).Times(in.Times), want.Unit)
		same(t, "rounded late", r.Ratio(in.Part.Times(in.Times), in.Whole), want.Late)
	}
}

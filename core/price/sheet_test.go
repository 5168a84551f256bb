package price_test

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
)

func net(key, amount string) price.Line {
	return price.Line{Key: key, Title: msg.Plain(key), Net: money.MustParse(amount)}
}

func wantSheet(t *testing.T, s *price.Sheet, goods, shown, netOf, tax, total string) {
	t.Helper()
	same(t, "goods", s.Goods, goods)
	same(t, "shown", s.Shown, shown)
	same(t, "net", s.Net, netOf)
	same(t, "tax", s.Tax, tax)
	same(t, "total", s.Total, total)
}

// Worked by hand: 5362.50 and a credit of 149.99, less 5 %.
func TestSheetInEveryTaxMode(t *testing.T) {
	p := compiled(t, yard())
	lines := []price.Line{net("boat", "5362.50"), net("flag", "-149.99")}
	discounts := []price.Discount{{Title: "Show discount", Share: money.MustRate("0.05")}}
	for _, c := range []struct {
		region                        *pack.Region
		goods, shown, net, tax, total string
	}{
		{nil, "5212.51", "4951.88", "4951.88", "0", "4951.88"},
		{zeroRated, "5212.51", "4951.88", "4951.88", "0", "4951.88"},
		{exclusive, "5212.51", "4951.88", "4951.88", "990.38", "5942.26"},
		{inclusive, "6255.01", "5942.26", "4951.88", "990.38", "5942.26"},
	} {
		s, err := p.Sheet(price.Deal{Lines: lines, Discounts: discounts}, c.region)
		if err != nil {
			t.Fatal(err)
		}
		wantSheet(t, s, c.goods, c.shown, c.net, c.tax, c.total)
		if s.Region != c.region || s.Currency.Code != "EUR" || s.Reductions.Share.String() != "0.05" {
			t.Errorf("region %v, currency %s, discounts %s", s.Region, s.Currency.Code, s.Reductions.Share)
		}
	}
}

// A sheet at zero or below once came out like any other, and could be frozen.
func TestNothingAtZeroOrBelow(t *testing.T) {
	p := compiled(t, yard())
	credit := price.Line{Key: "credit", Title: msg.Plain("Goodwill"), Net: money.MustParse("-100"), Extra: true}
	freight := price.Line{Key: "freight", Title: msg.Plain("Freight"), Net: money.MustParse("300"), Fixed: true}
	const end = ", and a quotation is above zero"
	for name, c := range map[string]struct {
		deal price.Deal
		want string // "" for none
	}{
		"nothing": {price.Deal{},
			"adding up the price: the lines come to EUR 0.00" + end +
				"; give the base boat or its options a price in the book"},
		"a boat without a price": {price.Deal{Lines: []price.Line{net("boat", "0")}},
			"adding up the price: the lines come to EUR 0.00" + end +
				"; give the base boat or its options a price in the book"},
		"less than a minor unit": {price.Deal{Lines: []price.Line{net("boat", "0.004")}},
			"adding up the price: the lines come to EUR 0.00" + end +
				"; give the base boat or its options a price in the book"},
		"a credit of all": {price.Deal{Lines: []price.Line{net("boat", "100"), credit}},
			`adding up the price: the lines come to EUR 0.00` + end +
				`; the most is taken off by "Goodwill", EUR 100.00: lower it or remove it`},
		"a credit of more": {price.Deal{Lines: []price.Line{net("boat", "99.99"), credit}},
			`adding up the price: the lines come to EUR −0.01` + end +
				`; the most is taken off by "Goodwill", EUR 100.00: lower it or remove it`},
		"a credit of nearly all": {price.Deal{Lines: []price.Line{net("boat", "100.01"), credit}}, ""},
		"a discount of all": {price.Deal{Lines: []price.Line{net("boat", "100")},
			Discounts: []price.Discount{off("", "1", "0")}},
			`adding up the price: the lines less the discounts come to EUR 0.00` + end +
				`; the most is taken off by "Show", EUR 100.00: lower it or remove it`},
		"two that add up to all": {price.Deal{Lines: []price.Line{net("boat", "100")},
			Discounts: []price.Discount{off("boat", "0", "40"), off("", "0", "60")}},
			`adding up the price: the lines less the discounts come to EUR 0.00` + end +
				`; the most is taken off by "Show", EUR 60.00: lower it or remove it`},
		"all but the freight": {price.Deal{Lines: []price.Line{net("boat", "100"), freight},
			Discounts: []price.Discount{off("", "1", "0")}}, ""},
		"discount beside a credit": {price.Deal{Lines: []price.Line{net("boat", "150"), credit},
			Discounts: []price.Discount{off("boat", "0", "60")}},
			`adding up the price: the lines less the discounts come to EUR −10.00` + end +
				`; the most is taken off by "Goodwill", EUR 100.00: lower it or remove it`},
	} {
		for _, r := range []*pack.Region{nil, zeroRated, exclusive} {
			s, err := p.Sheet(c.deal, r)
			if c.want == "" {
				if err != nil || s.Total.Sign() <= 0 || s.Net.Sign() <= 0 {
					t.Errorf("%s: %v", name, err)
				}
				continue
			}
			wantError(t, err, c.want)
		}
	}
}

func TestShow(t *testing.T) {
	p := compiled(t, yard())
	for _, c := range []struct {
		region *pack.Region
		want   string
		// 12.345 ties to even; with 20 % 14.814
	}{{nil, "12.34"}, {zeroRated, "12.34"}, {exclusive, "12.34"}, {inclusive, "14.81"}} {
		same(t, "shown", p.Show(money.MustParse("12.345"), c.region), c.want)
	}
}

// shared reads one case of testdata/money.json, which names its source.
func shared(t *testing.T, id string, inputs, expected any) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/money.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID               string
			Inputs, Expected json.RawMessage
		}
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		if c.ID == id {
			if err := json.Unmarshal(c.Inputs, inputs); err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(c.Expected, expected); err != nil {
				t.Fatal(err)
			}
			return
		}
	}
	t.Fatalf("case %s is not there", id)
}

// In an inclusive region tax is in every line, in an exclusive one it goes on the total.
func TestTaxOfLines(t *testing.T) {
	p := compiled(t, yard())
	for _, id := range []string{"G24", "G25"} {
		var in struct {
			Net   money.Amount
			Lines int
			Rate  money.Rate
		}
		var want struct {
			PerLine money.Amount `json:"per_line"`
			OnTotal money.Amount `json:"on_total"`
		}
		shared(t, id, &in, &want)
		var lines []price.Line
		for i := range in.Lines {
			lines = append(lines, price.Line{Key: fmt.Sprint(i), Net: in.Net})
		}
		for mode, total := range map[pack.TaxMode]money.Amount{pack.Inclusive: want.PerLine,
			pack.Exclusive: want.OnTotal} {
			s, err := p.Sheet(price.Deal{Lines: lines}, &pack.Region{TaxRate: in.Rate, TaxMode: mode})
			if err != nil {
				t.Fatal(err)
			}
			same(t, id+" "+string(mode), s.Total, total.String())
		}
	}
}

func TestStages(t *testing.T) {
	p := compiled(t, yard())
	for _, id := range []string{"G19", "G30"} {
		var in struct {
			Divisions []struct {
				Total   money.Amount
				Weights []money.Rate
			}
		}
		var want struct{ Parts [][]money.Amount }
		shared(t, id, &in, &want)
		s, err := p.Sheet(price.Deal{Lines: []price.Line{{Key: "boat", Net: in.Divisions[0].Total}}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, st := range s.Stages {
			if !st.Share.Equal(in.Divisions[0].Weights[i]) || st.Title != yard().Stages[i].Title {
				t.Errorf("%s: stage %q of %s, want %s", id, st.Title, st.Share, in.Divisions[0].Weights[i])
			}
			same(t, id+" "+st.Title, st.Amount, want.Parts[0][i].String())
		}
	}
}

func TestStagesErrorsAndNone(t *testing.T) {
	p := yard()
	p.Stages = []pack.Stage{{ID: "order", Title: "With the order"}}
	_, err := compiled(t, p).Sheet(price.Deal{Lines: []price.Line{net("boat", "100")}}, nil)
	wantError(t, err, "dividing the total into stages: dividing 100: the 1 weights add up to zero")
	p.Stages = nil
	s, err := compiled(t, p).Sheet(price.Deal{Lines: []price.Line{net("boat", "100")}}, nil)
	if err != nil || len(s.Stages) != 0 {
		t.Errorf("%d stages, %v", len(s.Stages), err)
	}
}

package price_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/cost"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// The yard of these tests is invented, with all its prices, costs and tax rates.

func program(text string) formula.Program {
	p, err := formula.Parse(text)
	if err != nil {
		panic(err)
	}
	return p
}

func method(rate string) *pack.Method { return &pack.Method{Rate: money.MustRate(rate), At: 2} }

func listed(amount string, per string) pack.Term {
	return pack.Term{Amount: money.MustParse(amount), Per: program(per), At: 3}
}

// Options of the invented yard.
const byList, byMargin, byMarkup, byLength = 0, 1, 2, 3

// yard has one hull, one material and one shop: the base boat costs 4290, an option 100.
func yard() *pack.Pack {
	takes := func(quantity string) []pack.BOMLine {
		return []pack.BOMLine{{Index: 0, Amount: program(quantity), At: 1}}
	}
	return &pack.Pack{
		Format: pack.Format, Desk: pack.Yard, Public: pack.Public{Currency: "EUR", Rounding: money.HalfEven,
			RegionField: -1,
			Yard:        pack.YardInfo{Name: "Heronmere Launch Yard"},
			Sections:    []pack.Section{{ID: "deck", Title: "Deck"}},
			Use: []pack.UseField{{ID: "cover", Title: "Length of the cover", Unit: "m", Min: -5, Max: 10, Step: 0.5,
				Standard: 2}},
			Hulls: []pack.Hull{{ID: "six", Title: "Launch of 6 m", Fields: []float64{}}},
			Slots: []pack.Slot{{ID: "fittings", Title: "Fittings", Multiple: true, First: 0, End: 4}},
			Options: []pack.Option{
				{ID: "flag", Title: "Flagstaff", Most: 9}, {ID: "locker", Title: "Locker", Most: 9},
				{ID: "shelf", Title: "Shelf", Most: 9}, {ID: "cover", Title: "Cover", Most: 9},
			},
			Stages: []pack.Stage{
				{ID: "order", Title: "With the order", Share: money.MustRate("0.150")},
				{ID: "mould", Title: "When the hull leaves the mould", Share: money.MustRate("0.300")},
				{ID: "systems", Title: "When deck and systems are joined", Share: money.MustRate("0.350")},
				{ID: "trial", Title: "After the trial in the tank", Share: money.MustRate("0.175")},
				{ID: "handover", Title: "At handover", Share: money.MustRate("0.025")},
			}},
		Selling: &pack.Selling{},
		Costs: &pack.Costs{
			PriceStep: money.MustParse("0.50"),
			Materials: []pack.Material{{ID: "stuff", Title: "Materials", Unit: "each", Cost: money.MustParse("1")}},
			Hulls:     []pack.BillOfMaterials{{Materials: takes("n4290"), Margin: method("0.20")}},
			Options: []pack.BillOfMaterials{
				byList:   {List: []pack.Term{listed("149.99", "")}, At: 4},
				byMargin: {Materials: takes("n100"), Margin: method("0.30"), At: 4},
				byMarkup: {Materials: takes("n100"), Markup: method("0.333"), At: 4},
				byLength: {List: []pack.Term{listed("80", ""), listed("61.30", "u0")}, At: 4},
			},
		},
		Work: &pack.Work{Launch: pack.Yard, Planning: pack.Planning{Spread: pack.Exactly},
			Slots:    make([]pack.SlotWork, 1),
			Supplies: make([]pack.Supply, 1), Sources: []pack.Source{
				{File: "boats.yaml", Line: 10, Column: 7}, {File: "boats.yaml", Line: 11, Column: 7},
				{File: "boats.yaml", Line: 12, Column: 7},
				{File: "boats.yaml", Line: 13, Column: 7}, {File: "boats.yaml", Line: 14, Column: 7},
			}},
	}
}

func state(cover float64, counts ...int) *formula.State {
	if len(counts) == 0 {
		counts = make([]int, 4)
	}
	sum := 0
	for _, n := range counts {
		sum += n
	}
	return &formula.State{Counts: counts, Slots: []int{sum}, Hull: []float64{}, Use: []float64{cover},
		Figures: []float64{}}
}

// compiled checks the pack as one that is read from outside, and makes its pricing.
func compiled(t rapid.TB, p *pack.Pack) *price.Pricing {
	t.Helper()
	text, err := p.Encode()
	if err != nil {
		t.Fatal(err)
	}
	if p, err = pack.Decode(text); err != nil {
		t.Fatal(err)
	}
	costing, err := cost.Compile(p, works.Compile(p), takeoff.New(p))
	if err != nil {
		t.Fatal(err)
	}
	pricing, err := price.Compile(p, costing)
	if err != nil {
		t.Fatal(err)
	}
	return pricing
}

func same(t testing.TB, what string, got money.Amount, want string) {
	t.Helper()
	if !got.Equal(money.MustParse(want)) {
		t.Errorf("%s: %s, want %s", what, got, want)
	}
}

// wantError compares an error with hard and narrow spaces written as plain ones.
func wantError(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil {
		t.Errorf("no error, want %q", want)
	} else if got := strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(err.Error()); got != want {
		t.Errorf("error %q\nwant  %q", got, want)
	}
}

// Regions with invented tax rates.
var (
	inclusive = &pack.Region{ID: "home", TaxName: "VAT", TaxRate: money.MustRate("0.20"), TaxMode: pack.Inclusive}
	exclusive = &pack.Region{ID: "away", TaxName: "Sales tax", TaxRate: money.MustRate("0.20"), TaxMode: pack.Exclusive}
	zeroRated = &pack.Region{ID: "export", TaxName: "VAT", TaxRate: money.MustRate("0.20"), TaxMode: pack.Zero,
		Condition: "proof of export"}
)

package cost_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/works"
)

// costingCase is one case of testdata/costing.json, which names the source of each.
type costingCase struct {
	ID, Kind, Source, Status, Note, Skip string
	Inputs, Expected                     json.RawMessage
}

func TestPublishedCases(t *testing.T) {
	text, err := os.ReadFile("../../testdata/costing.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Note, How string
		Statuses  map[string]string
		Cases     []costingCase
	}
	decode(t, text, &file)
	runners := map[string]func(*testing.T, costingCase){"burden": runBurden, "rate": runRate, "job": runJob}
	skipped := 0
	for _, c := range file.Cases {
		if c.Skip != "" {
			skipped++
		}
		t.Run(c.ID, func(t *testing.T) {
			if c.Source == "" || file.Statuses[c.Status] == "" {
				t.Errorf("source %q, status %q: want both", c.Source, c.Status)
			}
			if c.Skip != "" {
				t.Skip(c.Skip)
			}
			run, ok := runners[c.Kind]
			if !ok {
				t.Fatalf("kind %q has no runner", c.Kind)
			}
			run(t, c)
		})
	}
	if len(file.Cases) != 16 || skipped != 1 {
		t.Errorf("%d cases with %d skipped, want 16 with 1", len(file.Cases), skipped)
	}
}

func decode(t *testing.T, text []byte, into any) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatal(err)
	}
}

func cents(t *testing.T) money.Rounding {
	t.Helper()
	r, err := money.NewRounding(money.HalfUp, money.MustParse("0.01"))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// runBurden loads a wage with its burden, every item to the cent.
func runBurden(t *testing.T, c costingCase) {
	var in struct {
		Wage, Flat money.Amount
		Rates      []money.Rate
	}
	var want struct {
		Items          []money.Amount
		Loaded, Factor money.Amount
	}
	decode(t, c.Inputs, &in)
	decode(t, c.Expected, &want)
	loaded := in.Wage.Add(in.Flat)
	for i, r := range in.Rates {
		item := cents(t).Round(in.Wage.Share(r))
		same(t, fmt.Sprintf("item %d", i+1), item, want.Items[i].String())
		loaded = loaded.Add(item)
	}
	same(t, "loaded", loaded, want.Loaded.String())
	if factor, _ := money.ShareOf(loaded, in.Wage); factor.String() != want.Factor.String() {
		t.Errorf("factor %s, want %s", factor, want.Factor)
	}
}

// runRate divides a year's cost by its hours.
func runRate(t *testing.T, c costingCase) {
	var in struct{ Budget, Base money.Amount }
	var want struct{ Rate money.Amount }
	decode(t, c.Inputs, &in)
	decode(t, c.Expected, &want)
	rate, _ := money.ShareOf(in.Budget, in.Base)
	same(t, "rate", cents(t).Round(money.MustParse(rate.String())), want.Rate.String())
}

type hourly struct{ Rate, Hours money.Amount }

type jobInputs struct {
	Budget, Base, Variable money.Amount
	Materials              []struct{ Cost, Quantity money.Amount }
	Labour, Absorbed       []hourly
	Expense                money.Amount
	OnLabour               money.Rate `json:"on_labour"`
	OnMaterials            money.Rate `json:"on_materials"`
	Contingency            money.Rate
	Units                  *money.Amount
	Markup, Margin         *money.Rate
}

// runJob costs a job as a boat and prices it.
func runJob(t *testing.T, c costingCase) {
	var in jobInputs
	var want struct {
		Rate, Materials, Labour, Absorbed, Overhead, Contingency, Total, Unit *money.Amount
		ByMarkup                                                              *money.Amount `json:"by_markup"`
		ByMargin                                                              *money.Amount `json:"by_margin"`
	}
	decode(t, c.Inputs, &in)
	decode(t, c.Expected, &want)
	check := func(what string, got money.Amount, want *money.Amount) {
		if want != nil {
			same(t, what, got, want.String())
		}
	}

	costing := compiled(t, jobPack(&in))
	st := &formula.State{Counts: []int{}, Slots: []int{}}
	s, err := boat(costing, st, extra{works.Extra{Title: "Direct expense"}, in.Expense})
	if err != nil {
		t.Fatal(err)
	}
	var wages, absorbed money.Amount
	for _, l := range s.Work {
		if l.Shop < len(in.Labour) {
			wages = wages.Add(l.Amount)
		} else {
			absorbed = absorbed.Add(l.Amount)
		}
	}
	check("materials", s.Summary.Materials, want.Materials)
	check("labour", wages, want.Labour)
	check("absorbed by the hour", absorbed, want.Absorbed)
	check("overhead", s.Summary.OverheadOnLabour.Add(s.Summary.OverheadOnMaterials), want.Overhead)
	check("contingency", s.Summary.Contingency, want.Contingency)
	check("total", s.Summary.Total, want.Total)
	if want.Rate != nil {
		rate, _ := money.ShareOf(in.Budget, in.Base)
		check("absorption rate", money.MustParse(rate.String()).Add(in.Variable), want.Rate)
	}
	if in.Units != nil {
		unit, _ := money.ShareOf(s.Summary.Total, *in.Units)
		check("unit cost", cents(t).Round(money.MustParse(unit.String())), want.Unit)
	}
	if in.Markup != nil {
		check("price by markup", money.FromMarkup(s.Summary.Total, *in.Markup, cents(t)), want.ByMarkup)
	}
	if in.Margin != nil {
		price, err := money.FromMargin(s.Summary.Total, *in.Margin, cents(t))
		if err != nil {
			t.Fatal(err)
		}
		check("price by margin", price, want.ByMargin)
	}
}

// jobPack is a pack of one hull that takes the job's materials and hours, with a shop for every rate.
func jobPack(in *jobInputs) *pack.Pack {
	costs := &pack.Costs{
		PriceStep: money.MustParse("0.01"), OnLabour: in.OnLabour, OnMaterials: in.OnMaterials,
		Contingency: in.Contingency,
		Hulls:       []pack.BillOfMaterials{{Margin: &pack.Method{}}},
	}
	hull := &costs.Hulls[0]
	for i, m := range in.Materials {
		costs.Materials = append(costs.Materials,
			pack.Material{ID: fmt.Sprint("material", i), Unit: "each", Cost: m.Cost})
		hull.Materials = append(hull.Materials, need(i, "n"+m.Quantity.String(), 0))
	}
	for i, h := range append(append([]hourly{}, in.Labour...), in.Absorbed...) {
		costs.Shops = append(costs.Shops, pack.Shop{ID: fmt.Sprint("shop", i), Rate: h.Rate})
		costs.Operations = append(costs.Operations, pack.Operation{ID: fmt.Sprint("operation", i), Shop: i})
		hull.Operations = append(hull.Operations, need(i, "n"+h.Hours.String(), 0))
	}
	return &pack.Pack{
		Format: pack.Format, Desk: pack.Show, Public: pack.Public{Currency: "USD", Rounding: money.HalfUp,
			RegionField: -1, Hulls: []pack.Hull{{ID: "job", Title: "Job"}}},
		Selling: &pack.Selling{}, Costs: costs,
	}
}

// What the customer brings costs nothing, fills no pack and reaches no price by quantity: the resin of the hull stays
// as if the locker took none. Worked by hand as above: 264 kg, of eleven packs 11 kg are left.
func TestWhatTheCustomerBringsCostsNothing(t *testing.T) {
	p := yard()
	p.Costs.Options[locker].Materials[0].Customer = true
	p.Costs.Materials[resin].Breaks = []pack.Break{{Least: 270_000_000, Price: money.MustParse("1.00")}}
	s, err := boat(compiled(t, p), state(0, 5, 0))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "resin of the hull", s.Materials[0].Amount, "1108.80")
	l := s.Materials[len(s.Materials)-1]
	if l.For != works.Of(locker, 5) || !l.Customer || !l.Amount.IsZero() || l.Used.String() != "11" {
		t.Errorf("resin of the customer: %+v", l)
	}
	if b := s.Purchases[resin]; b.Packs != 11 || b.Leftover.String() != "11" || b.Used.String() != "264" {
		t.Errorf("bought: %+v", b)
	}
	same(t, "left of its packs", s.Summary.Leftovers, "46.20")
}

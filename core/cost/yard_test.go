package cost_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/cost"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// The yard of these tests is invented, with all its rates and quantities.

// Indices of the invented yard.
const (
	resin, cloth, cleat         = 0, 1, 2
	moulding, joinery           = 0, 1
	laminate, fitting, cabinets = 0, 1, 2
	cleats, locker, shelf       = 0, 1, 2
)

func program(text string) formula.Program {
	p, err := formula.Parse(text)
	if err != nil {
		panic(err)
	}
	return p
}

func need(index int, amount string, at int) pack.BOMLine {
	return pack.BOMLine{Index: index, Amount: program(amount), At: at}
}

// yard is a hull priced by margin with three options. Hull field 0 is the length, use field 0 the length of the locker.
func yard() *pack.Pack {
	return &pack.Pack{
		Format: pack.Format, Desk: pack.Yard, Public: pack.Public{Currency: "EUR", Rounding: money.HalfEven,
			RegionField: -1,
			Yard:        pack.YardInfo{Name: "Heronmere Launch Yard"},
			Sections:    []pack.Section{{ID: "deck", Title: "Deck"}},
			HullFields:  []pack.Field{{ID: "length", Title: "Length", Unit: "m"}},
			Use: []pack.UseField{{ID: "locker", Title: "Length of the locker", Unit: "m", Min: -10, Max: 10,
				Step: 0.5, Standard: 1}},
			Hulls: []pack.Hull{{ID: "six", Title: "Launch of 6 m", Fields: []float64{6}}},
			Slots: []pack.Slot{
				{ID: "fittings", Title: "Fittings", Multiple: true, First: 0, End: 2},
				{ID: "shelves", Title: "Shelves", Most: 1, First: 2, End: 3},
			},
			Options: []pack.Option{
				{ID: "cleats", Slot: 0, Title: "Cleat", Most: 12},
				{ID: "locker", Slot: 0, Title: "Locker", Most: 12},
				{ID: "shelf", Slot: 1, Title: "Shelf", Most: 1},
			}},
		Selling: &pack.Selling{},
		Costs: &pack.Costs{
			PriceStep: money.MustParse("5"), OnLabour: money.MustRate("0.42"), OnMaterials: money.MustRate("0.06"),
			Contingency: money.MustRate("0.03"),
			Shops: []pack.Shop{
				{ID: "moulding", Title: "Moulding", Rate: money.MustParse("32.50")},
				{ID: "joinery", Title: "Joinery", Rate: money.MustParse("36")},
			},
			Operations: []pack.Operation{
				{ID: "laminate", Title: "Laminate the hull", Shop: moulding},
				{ID: "fit", Title: "Fit deck gear", Shop: joinery},
				{ID: "cabinets", Title: "Build cabinets", Shop: joinery},
			},
			Materials: []pack.Material{
				{ID: "resin", Title: "Resin", Unit: "kg", Cost: money.MustParse("4.20"), Waste: money.MustRate("0.10"),
					Pack: money.MustRate("25")},
				{ID: "cloth", Title: "Glass cloth", Unit: "m2", Cost: money.MustParse("6.35"),
					Waste: money.MustRate("0.15"), Pack: money.MustRate("100"), Stock: true},
				{ID: "cleat", Title: "Cleat", Unit: "each", Cost: money.MustParse("18.90")},
			},
			Hulls: []pack.BillOfMaterials{{
				Materials:  []pack.BOMLine{need(resin, "h0 n40 *", 1), need(cloth, "h0 n22 *", 2)},
				Operations: []pack.BOMLine{need(laminate, "h0 n16 *", 3)},
				Margin:     &pack.Method{Rate: money.MustRate("0.32"), At: 0},
			}},
			Options: []pack.BillOfMaterials{
				{Materials: []pack.BOMLine{need(cleat, "n1", 4)}, Operations: []pack.BOMLine{need(fitting, "n0.25", 5)},
					Margin: &pack.Method{Rate: money.MustRate("0.32")}},
				{Materials: []pack.BOMLine{need(resin, "n2 u0 *", 6)},
					Operations: []pack.BOMLine{need(cabinets, "n8 u0 /", 7)},
					Margin:     &pack.Method{Rate: money.MustRate("0.32")}},
				{Materials: []pack.BOMLine{need(cloth, "n0", 8)},
					Operations: []pack.BOMLine{need(cabinets, "n0.0000001", 9)},
					Margin:     &pack.Method{Rate: money.MustRate("0.32")}},
			},
		},
		Work: &pack.Work{Launch: pack.Yard, Slots: make([]pack.SlotWork, 2), Planning: pack.Planning{
			Spread: pack.Exactly,
			Shops: []pack.ShopWork{{People: 2, Week: [7]float64{8, 8, 8, 8, 8}},
				{People: 1, Week: [7]float64{6, 6, 6}}},
			Operations: []pack.OperationWork{{Crew: 1, Spread: pack.Exactly}, {Crew: 1, Spread: pack.Exactly,
				After: []pack.Predecessor{{Operation: laminate}}}, {Crew: 1, Spread: pack.Exactly}}},
			Supplies: make([]pack.Supply, 3), Sources: sources(10)},
	}
}

func sources(n int) []pack.Source {
	s := make([]pack.Source, n)
	for i := range s {
		s[i] = pack.Source{File: "boats.yaml", Line: 10 + i, Column: 7}
	}
	return s
}

// state is the boat with some of the options and a locker of 1 m.
func state(counts ...int) *formula.State {
	return &formula.State{
		Counts: counts, Slots: []int{counts[cleats] + counts[locker], counts[shelf]},
		Hull: []float64{6}, Use: []float64{1}, Figures: []float64{},
	}
}

// compiled checks the pack as one that is read from outside, and makes its costing.
func compiled(t rapid.TB, p *pack.Pack) costed {
	t.Helper()
	text, err := p.Encode()
	if err != nil {
		t.Fatal(err)
	}
	if p, err = pack.Decode(text); err != nil {
		t.Fatal(err)
	}
	network := works.Compile(p)
	c, err := cost.Compile(p, network, takeoff.New(p))
	if err != nil {
		t.Fatal(err)
	}
	return costed{c, network}
}

// extra is an extra item with what is bought for it.
type extra struct {
	works.Extra
	bought money.Amount
}

// costed is a costing with the hours that it reads.
type costed struct {
	*cost.Costing
	network *works.Network
}

// boat costs a boat with its extra items.
func boat(c costed, st *formula.State, extras ...extra) (*cost.Sheet, error) {
	var list []works.Extra
	var bought []money.Amount
	for _, x := range extras {
		list, bought = append(list, x.Extra), append(bought, x.bought)
	}
	w, err := c.network.Boat(st, list)
	if err != nil {
		return nil, err
	}
	return c.Boat(st, w, bought)
}

func same(t testing.TB, what string, got money.Amount, want string) {
	t.Helper()
	if !got.Equal(money.MustParse(want)) {
		t.Errorf("%s: %s, want %s", what, got, want)
	}
}

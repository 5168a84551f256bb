package cost_test

import (
	"testing"

	"ribband/core/cost"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/takeoff"
	"ribband/core/works"
)

func wantSummary(t *testing.T, s cost.Summary, materials, leftovers, labour, onMaterials, onLabour, contingency,
	total string) {
	t.Helper()
	same(t, "materials", s.Materials, materials)
	same(t, "leftovers", s.Leftovers, leftovers)
	same(t, "labour", s.Labour, labour)
	same(t, "overhead on materials", s.OverheadOnMaterials, onMaterials)
	same(t, "overhead on labour", s.OverheadOnLabour, onLabour)
	same(t, "contingency", s.Contingency, contingency)
	same(t, "total", s.Total, total)
}

// Worked by hand from the invented yard: resin 6×40 = 240 kg and 10 % are 264 kg at 4.20, eleven packs of 25 of which
// 11 kg are left; cloth 6×22 = 132 m² and 15 % are 151.8 m² at 6.35, from stock; 96 h at 32.50; four cleats at 18.90
// with a quarter of an hour each at 36.
func TestBoat(t *testing.T) {
	s, err := boat(compiled(t, yard()), state(4, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	wantSummary(t, s.Summary, "2148.33", "46.20", "3156", "131.67", "1325.52", "204.23", "7011.95")

	for i, want := range []struct {
		cause         works.Cause
		material      int
		builtIn, used string
		amount        string
		at            int
	}{
		{works.Base(), resin, "240", "264", "1108.80", 1},
		{works.Base(), cloth, "132", "151.8", "963.93", 2},
		{works.Of(cleats, 4), cleat, "4", "4", "75.60", 4},
	} {
		l := s.Materials[i]
		if l.For != want.cause || l.Material != want.material || l.BuiltIn.String() != want.builtIn ||
			l.Used.String() != want.used || l.At != want.at {
			t.Errorf("material %d: %+v, want %+v", i, l, want)
		}
		same(t, "material", l.Amount, want.amount)
	}
	for i, want := range []struct {
		cause           works.Cause
		operation, shop int
		hours, amount   string
		at              int
	}{
		{works.Base(), laminate, moulding, "96", "3120", 3},
		{works.Of(cleats, 4), fitting, joinery, "1", "36", 5},
	} {
		l := s.Work[i]
		if l.For != want.cause || l.Operation != want.operation || l.Shop != want.shop ||
			l.Hours.String() != want.hours || l.At != want.at {
			t.Errorf("labour %d: %+v, want %+v", i, l, want)
		}
		same(t, "labour", l.Amount, want.amount)
	}
	for i, want := range []struct {
		material int
		used     string
		packs    int64
		leftover string
		charged  string
	}{
		{resin, "264", 11, "11", "46.20"},
		{cloth, "151.8", 2, "48.2", "0"}, // stock: what is left stays in the store
		{cleat, "4", 0, "0", "0"},        // by the unit
	} {
		p := s.Purchases[i]
		if p.Material != want.material || p.Used.String() != want.used || p.Packs != want.packs ||
			p.Leftover.String() != want.leftover {
			t.Errorf("purchase %d: %+v, want %+v", i, p, want)
		}
		same(t, "charged", p.Charged, want.charged)
	}
	if len(s.Materials) != 3 || len(s.Work) != 2 || len(s.Purchases) != 3 || len(s.Extras) != 0 {
		t.Errorf("%d materials, %d labour, %d purchases, %d extras", len(s.Materials), len(s.Work), len(s.Purchases),
			len(s.Extras))
	}
}

// The cost of the base boat and of one option leave out what is left of packs. Worked by hand.
func TestItems(t *testing.T) {
	c := compiled(t, yard())
	base, err := c.Item(state(4, 0, 0), works.Base())
	if err != nil {
		t.Fatal(err)
	}
	wantSummary(t, base, "2072.73", "0", "3120", "124.36", "1310.40", "198.82", "6826.31")
	option, err := c.Item(state(4, 0, 0), works.Of(cleats, 1))
	if err != nil {
		t.Fatal(err)
	}
	wantSummary(t, option, "18.90", "0", "9", "1.13", "3.78", "0.98", "33.79")
}

// A need of nothing makes no line, nor does one that is below half a millionth.
func TestNothingMakesNoLine(t *testing.T) {
	c := compiled(t, yard())
	with, err := boat(c, state(0, 0, 1))
	if err != nil {
		t.Fatal(err)
	}
	if len(with.Materials) != 2 || len(with.Work) != 1 {
		t.Errorf("%d materials, %d labour", len(with.Materials), len(with.Work))
	}
	without, err := boat(c, state(0, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "total with nothing more", with.Summary.Total, without.Summary.Total.String())
}

// Packs are filled over the whole boat: what the locker takes comes out of what is left of the hull's last pack. Worked
// by hand.
func TestPacksAreSharedByTheBoat(t *testing.T) {
	s, err := boat(compiled(t, yard()), state(0, 5, 0)) // 5 × 2 kg, with waste 11 kg: just what is left
	if err != nil {
		t.Fatal(err)
	}
	if p := s.Purchases[resin]; p.Packs != 11 || p.Leftover != 0 || p.Used.String() != "275" {
		t.Errorf("%+v", p)
	}
	same(t, "leftovers", s.Summary.Leftovers, "0")
}

// An extra item: 120.005 goes to 120.00 (a tie to even); 2 h at 32.50 and 1.5 h at 36 are 119. Worked by hand.
func TestExtras(t *testing.T) {
	c := compiled(t, yard())
	plain, err := boat(c, state(0, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	extra := extra{works.Extra{Title: "Name on the transom",
		Hours: map[int]measure.Hours{moulding: 2_000_000, joinery: 1_500_000}}, money.MustParse("120.005")}
	s, err := boat(c, state(0, 0, 0), extra)
	if err != nil {
		t.Fatal(err)
	}
	line := s.Extras[0]
	if line.Title != extra.Title || len(s.Work) != len(plain.Work)+2 {
		t.Errorf("%+v", line)
	}
	same(t, "bought", line.Bought, "120")
	same(t, "labour", line.Labour, "119")
	same(t, "materials more", s.Summary.Materials.Sub(plain.Summary.Materials), "120")
	same(t, "labour more", s.Summary.Labour.Sub(plain.Summary.Labour), "119")
	// 6 % of 120 and 42 % of 119 are 7.20 and 49.98, and 3 % of all that 8.89
	same(t, "alone", line.Alone, "305.07")
}

func TestBoatErrors(t *testing.T) {
	const guard = "; guard the formula so that it gives zero or more"
	for _, c := range []struct {
		locker   float64
		material bool // alone: hours are computed first
		want     string
	}{
		{-1, true, "computing the quantity at boats.yaml:16:7: -2 is negative" + guard},
		{-1, false, "computing the quantity at boats.yaml:17:7: -8 is negative" + guard},
		{0, false, "computing the quantity at boats.yaml:17:7: +Inf is not a quantity" + guard},
		{1e-12, false, "computing the quantity at boats.yaml:17:7: 8e+12 is not a quantity" + guard},
	} {
		p, st := yard(), state(0, 1, 0)
		if c.material {
			p.Costs.Options[locker].Operations = nil
		}
		costing := compiled(t, p)
		st.Use[0] = c.locker
		_, err := boat(costing, st)
		_, err2 := costing.Item(st, works.Of(locker, 1))
		if err == nil || err.Error() != c.want || err2 == nil || err2.Error() != c.want {
			t.Errorf("errors %v\nand    %v\nwant   %s", err, err2, c.want)
		}
	}
	p := yard()
	p.Costs.Hulls[0].Operations[0] = need(laminate, "n0 n0 /", 3)
	const want = "computing the quantity at boats.yaml:13:7: NaN is not a quantity" + guard
	costing := compiled(t, p)
	_, err := boat(costing, state(0, 0, 0))
	_, err2 := costing.Item(state(0, 0, 0), works.Base())
	if err == nil || err.Error() != want || err2 == nil || err2.Error() != want {
		t.Errorf("errors %v\nand    %v\nwant   %s", err, err2, want)
	}
}

func TestCompile(t *testing.T) {
	p := yard()
	p.Costs, p.Work = nil, nil
	if c, err := cost.Compile(p, works.Compile(p), takeoff.New(p)); c != nil || err != nil {
		t.Errorf("a pack without costs has a costing: %v, %v", c, err)
	}
	p = yard()
	p.Currency = "EURO"
	_, err := cost.Compile(p, works.Compile(p), takeoff.New(p))
	if want := `looking up currency "EURO": not an alphabetic code of ISO 4217 with a minor unit, like EUR`; err == nil || err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
	p = yard()
	p.Rounding = "up"
	_, err = cost.Compile(p, works.Compile(p), takeoff.New(p))
	if want := `making a rounding: mode "up" is unknown; want "half-even" or "half-up"`; err == nil ||
		err.Error() != want {
		t.Errorf("error %v, want %s", err, want)
	}
}

// Amounts are whole in a currency without a minor unit. Minor units: ISO 4217.
func TestMinorUnitOfTheBook(t *testing.T) {
	p := yard()
	p.Currency, p.Rounding = "JPY", money.HalfUp
	s, err := compiled(t, p).Item(&formula.State{Counts: []int{1, 0, 0}, Slots: []int{1, 0}, Hull: []float64{6},
		Use: []float64{1}}, works.Of(cleats, 1))
	if err != nil {
		t.Fatal(err)
	}
	// 18.90 goes to 19, 9 stays; overhead 1.14 to 1 and 3.78 to 4; contingency 0.99 to 1.
	wantSummary(t, s, "19", "0", "9", "1", "4", "1", "34")
}

// A price by quantity is that of all that a boat takes of the material, whichever items take it, and of what is left of
// its packs; an item by itself is charged by what it takes alone. Worked by hand: 264 kg of resin are above 250, so
// 264 × 3.90 and 11 × 3.90; four cleats by themselves reach the break at four, one does not.
func TestBreaks(t *testing.T) {
	p := yard()
	breaks := func(least int64, price string) []pack.Break {
		return []pack.Break{{Least: measure.Quantity(least * 1_000_000), Price: money.MustParse(price)}}
	}
	p.Costs.Materials[resin].Breaks = append(breaks(100, "4.10"), breaks(250, "3.90")...)
	p.Costs.Materials[cleat].Breaks = breaks(4, "17.00")
	s, err := boat(compiled(t, p), state(4, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "resin", s.Materials[0].Amount, "1029.60")
	same(t, "left of its packs", s.Purchases[0].Charged, "42.90")
	same(t, "cleats", s.Materials[2].Amount, "68.00")
	for count, want := range map[int]string{1: "18.90", 3: "56.70", 4: "68.00"} {
		lines, _, err := compiled(t, p).Lines(state(4, 0, 0), works.Of(cleats, count))
		if err != nil {
			t.Fatal(err)
		}
		same(t, "cleats by themselves", lines[0].Amount, want)
	}
}

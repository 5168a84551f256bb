package works_test

import (
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/works"
)

// The yard of these tests is invented, with all its hours.

// Indices of the invented yard.
const (
	moulding, joinery, afloat             = 0, 1, 2
	laminate, paint, fitOut, trial, sewer = 0, 1, 2, 3, 4
	antifouling, lockers, cover           = 0, 1, 2
)

func hours(operation int, amount string, at int) pack.BOMLine {
	p, err := formula.Parse(amount)
	if err != nil {
		panic(err)
	}
	return pack.BOMLine{Index: operation, Amount: p, At: at}
}

// yard builds two hulls: laminated, tried afloat. Bottoms are painted, lockers fitted and covers sewn for those who
// choose them. Hull field 0 is the length, use field 0 the length of a locker. In the book the trial stands before the
// operations that it comes after.
func yard() *pack.Pack {
	item := func(list ...pack.BOMLine) pack.BillOfMaterials { return pack.BillOfMaterials{Operations: list} }
	base := item(hours(laminate, "h0 n16 *", 1), hours(trial, "n4", 2))
	p := &pack.Pack{Public: pack.Public{
		HullFields: []pack.Field{{ID: "length_m"}},
		Use:        []pack.UseField{{ID: "locker_m"}},
		Hulls:      []pack.Hull{{ID: "five", Fields: []float64{5}}, {ID: "six", Fields: []float64{6}}},
		Slots:      []pack.Slot{{ID: "fittings", Multiple: true, End: 3}},
		Options:    []pack.Option{{ID: "antifouling"}, {ID: "lockers"}, {ID: "cover"}}},
		Selling: &pack.Selling{},
		Costs: &pack.Costs{
			Shops: []pack.Shop{{ID: "moulding", Title: "Moulding"}, {ID: "joinery", Title: "Joinery"},
				{ID: "afloat", Title: "Afloat"}},
			Operations: []pack.Operation{
				{ID: "laminate", Title: "Laminate the hull", Shop: moulding},
				{ID: "paint", Title: "Paint the bottom", Shop: moulding},
				{ID: "fit-out", Title: "Fit the lockers", Shop: joinery},
				{ID: "trial", Title: "Try the boat afloat", Shop: afloat},
				{ID: "sew", Title: "Sew the cover", Shop: joinery},
			},
			Hulls: []pack.BillOfMaterials{base, base},
			Options: []pack.BillOfMaterials{
				item(hours(paint, "h0 n0.75 *", 3)),
				item(hours(fitOut, "n1 u0 /", 4), hours(paint, "n0.25", 5)),
				item(hours(sewer, "n9 h0 n5 - /", 6)), // no number on the hull of 5 m
			},
		},
		Work: yardWork(),
	}
	for line := range 7 {
		p.Work.Sources = append(p.Work.Sources, pack.Source{File: "boats.yaml", Line: line, Column: 7})
	}
	return p
}

// yardWork is how the yard works: two people are at a laminate, which occupies the mould of its hull until the paint is
// dry or the trial is over; paint dries for 16 h, and is painted over within 48 h or not at all.
func yardWork() *pack.Work {
	within := 48.0
	after := func(list ...pack.Predecessor) []pack.Predecessor { return list }
	w := &pack.Work{Planning: pack.Planning{Spread: pack.Spread{Low: 0.9, High: 1.5},
		Shops: []pack.ShopWork{{People: 3, Week: [7]float64{8, 8, 8, 8, 6}, Skills: []pack.Skill{{ID: "laminator",
			Title: "Laminator", People: 2}}}, {People: 1, Week: [7]float64{8, 8, 8, 8, 8}},
			{People: 1, Week: [7]float64{8, 8, 8, 8, 8}}},
		Equipment: []pack.Equipment{{ID: "mould-five", Count: 1, Hulls: []int{0}}, {ID: "mould-six", Count: 1,
			Hulls: []int{1}}, {ID: "basin", Count: 1}},
		Operations: []pack.OperationWork{
			{Crew: 2, Skill: 1, Holds: []pack.Hold{{Equipment: 0, Until: paint}, {Equipment: 1, Until: paint}}},
			{Crew: 1, After: after(pack.Predecessor{Operation: laminate, Wait: 24})},
			{Crew: 1, After: after(pack.Predecessor{Operation: paint, Wait: 16, Within: &within},
				pack.Predecessor{Operation: laminate})},
			{Crew: 1, After: after(pack.Predecessor{Operation: fitOut, Wait: 2}), Uses: []int{2}},
			{Crew: 1},
		}}}
	for i := range w.Operations {
		w.Operations[i].Spread = pack.Spread{Low: 0.8, High: 2}
	}
	return w
}

// boat is one on a hull with so many of each option and lockers of 0.5 m.
func boat(hull int, counts ...int) *formula.State {
	filled := 0
	for _, n := range counts {
		filled += n
	}
	return &formula.State{HullID: hull, Hull: yard().Hulls[hull].Fields, Counts: counts, Slots: []int{filled},
		Use: []float64{0.5}}
}

func compiled() *works.Network { return works.Compile(yard()) }

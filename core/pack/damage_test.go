package pack_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
)

// damage is one thing that Decode must refuse. Desk is the pack that it is done to.
type damage struct {
	name string
	desk pack.Desk
	do   func(p *pack.Pack)
	want string
}

func program(t testing.TB, text string) formula.Program {
	t.Helper()
	p, err := formula.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestDecodeRefusesDamage(t *testing.T) {
	packs := published(t, smallBook)
	var all []damage
	for _, list := range [][]damage{damagedTerms(), damagedShop(t), damagedBoat(), damagedPrices(), damagedCosts(),
		damagedFormulas(t), damagedCircuits(t), damagedBrief(t), damagedWork()} {
		all = append(all, list...)
	}
	for _, d := range all {
		t.Run(d.name, func(t *testing.T) {
			p := copyOf(t, packs[d.desk])
			d.do(p)
			text, err := p.Encode()
			if err != nil {
				t.Fatal(err)
			}
			read, err := pack.Decode(text)
			if err == nil { // whole, but not what the packages that compute with it can use
				_, err = engine.Compile(read)
			}
			if err == nil || !strings.HasPrefix(err.Error(), "reading a pack: ") &&
				!strings.HasPrefix(err.Error(), "compiling a pack: ") || !strings.Contains(err.Error(), d.want) {
				t.Errorf("error %v, want one with %q", err, d.want)
			}
		})
	}
}

func damagedBrief(t testing.TB) []damage {
	with := func(w pack.Wish) func(p *pack.Pack) {
		return func(p *pack.Pack) { p.Brief = &pack.Brief{Most: -1, Wishes: []pack.Wish{w}} }
	}
	return []damage{
		{"slot tried", pack.Buyer, func(p *pack.Pack) { p.Brief = &pack.Brief{Slots: []int{99}, Most: -1} },
			"slot of the brief 99"},
		{"slot of several tried", pack.Buyer, func(p *pack.Pack) { p.Brief = &pack.Brief{Slots: []int{2}, Most: -1} },
			"takes several"},
		{"figure against the price", pack.Buyer, func(p *pack.Pack) { p.Brief = &pack.Brief{Most: 99, Step: 1} },
			"figure of the brief 99"},
		{"no step", pack.Buyer, func(p *pack.Pack) { p.Brief = &pack.Brief{Most: 0} }, "the step of the brief is 0"},
		{"kind of wish", pack.Buyer, with(pack.Wish{ID: "a", Kind: "dream"}), `of kind "dream"`},
		{"field of a wish", pack.Buyer, with(pack.Wish{ID: "a", Kind: pack.WishUse, Index: -1}),
			"use field of wish a -1"},
		{"choice with a bound", pack.Buyer, with(pack.Wish{ID: "a", Kind: pack.WishUse, Index: 1, Bound: pack.AtMost}),
			`the bound "at-most"`},
		{"figure of a wish", pack.Buyer, with(pack.Wish{ID: "a", Kind: pack.WishFigure, Index: 99, Bound: pack.AtMost}),
			"figure of wish a 99"},
		{"figure without a bound", pack.Buyer, with(pack.Wish{ID: "a", Kind: pack.WishFigure}), `the bound ""`},
		{"price at least", pack.Buyer, with(pack.Wish{ID: "a", Kind: pack.WishPrice, Bound: pack.AtLeast}),
			`the bound "at-least"`},
		{"wish without a condition", pack.Buyer, with(pack.Wish{ID: "a", Kind: pack.WishNeed}),
			"wish a has no formula"},
		{"wish for a number", pack.Buyer, with(pack.Wish{ID: "a", Kind: pack.WishNeed, Need: program(t, "n1")}),
			"gives a number"},
	}
}

func damagedTerms() []damage {
	return []damage{
		{"another format", pack.Yard, func(p *pack.Pack) { p.Format = 7 }, "format 7"},
		{"no format", pack.Yard, func(p *pack.Pack) { p.Format = 0 }, "format 0"},
		{"work without costs", pack.Yard, func(p *pack.Pack) { p.Costs = nil }, "work without costs"},
		{"shops of the work", pack.Yard, func(p *pack.Pack) { p.Work.Shops = p.Work.Shops[:1] },
			"the work has 1 shops, want 2"},
		{"supplies", pack.Yard, func(p *pack.Pack) { p.Work.Supplies = nil }, "the work has 0 materials"},
		{"runs of circuits", pack.Yard, func(p *pack.Pack) { p.Work.Runs = make([]pack.Run, 1) },
			"the work has 1 circuits"},
		{"circuit below the first", pack.Yard, func(p *pack.Pack) {
			p.Costs.Circuits = []pack.OtherCircuit{{Place: -1}}
		}, "at place -1"},
		{"circuit beyond the last", pack.Yard, func(p *pack.Pack) {
			p.Costs.Circuits = []pack.OtherCircuit{{Place: 1}}
		}, "at place 1"},
		{"two circuits in one place", pack.Yard, func(p *pack.Pack) {
			p.Costs.Circuits = []pack.OtherCircuit{{}, {}}
		}, "at place 0"},
		{"taker", pack.Yard, func(p *pack.Pack) { p.Work.Sources[0].Taker = 3 }, "operation 3 of 3"},
		{"unknown desk", pack.Yard, func(p *pack.Pack) { p.Desk = "owner" }, "owner"},
		{"unknown currency", pack.Yard, func(p *pack.Pack) { p.Currency = "EUC" }, "EUC"},
		{"unknown rounding", pack.Yard, func(p *pack.Pack) { p.Rounding = "half-odd" }, "half-odd"},
		{"negative stage", pack.Yard, func(p *pack.Pack) { p.Stages[0].Share = money.MustRate("-0.4") },
			"negative share"},
		{"use standard below", pack.Yard, func(p *pack.Pack) { p.Use[0].Standard = 0 }, "bounds"},
		{"use standard above", pack.Yard, func(p *pack.Pack) { p.Use[0].Standard = 7 }, "bounds"},
		{"use step zero", pack.Yard, func(p *pack.Pack) { p.Use[0].Step = 0 }, "bounds"},
		{"use min above max", pack.Yard, func(p *pack.Pack) { p.Use[0].Min = 9 }, "bounds"},
		{"choice below", pack.Yard, func(p *pack.Pack) { p.Use[1].Standard = -1 }, "standard of region"},
		{"choice above", pack.Yard, func(p *pack.Pack) { p.Use[1].Standard = 2 }, "standard of region"},
		{"choice far above", pack.Yard, func(p *pack.Pack) { p.Use[1].Standard = math.MaxFloat64 },
			"standard of region"},
		{"figure digits", pack.Yard, func(p *pack.Pack) { p.Public.Figures[0].Digits = 5 }, "5 digits"},
		{"tax mode", pack.Yard, func(p *pack.Pack) { p.Regions[0].TaxMode = "" }, "tax mode"},
		{"tax rate", pack.Yard, func(p *pack.Pack) { p.Regions[0].TaxRate = money.MustRate("-0.1") }, "tax mode"},
		{"latitude", pack.Yard, func(p *pack.Pack) { p.Regions[0].Latitude = 90 }, "no climate"},
		{"sunshine", pack.Yard, func(p *pack.Pack) { p.Regions[0].Sunshine = 1.5 }, "no climate"},
		{"region field below", pack.Yard, func(p *pack.Pack) { p.RegionField = -2 }, "region field"},
		{"region field above", pack.Yard, func(p *pack.Pack) { p.RegionField = 2 }, "region field"},
		{"region field of a number", pack.Yard, func(p *pack.Pack) { p.RegionField = 0 }, "does not choose a region"},
		// Without regions the number of choices agreed, and every answer panicked.
		{"region field without regions", pack.Yard, func(p *pack.Pack) { p.RegionField, p.Regions = 0, nil },
			"does not choose a region"},
	}
}

func damagedBoat() []damage {
	return []damage{
		{"hull fields", pack.Yard, func(p *pack.Pack) { p.Hulls[0].Fields = p.Hulls[0].Fields[:1] }, "has 1 fields"},
		{"standard above", pack.Yard, func(p *pack.Pack) { p.Hulls[0].Standard[0].Option = 6 }, "standard of hull"},
		{"standard below", pack.Yard, func(p *pack.Pack) { p.Hulls[0].Standard[0].Option = -1 }, "standard of hull"},
		{"standard of none", pack.Yard, func(p *pack.Pack) { p.Hulls[0].Standard[0].Count = 0 }, "standard option"},
		{"figure carried above", pack.Yard, func(p *pack.Pack) { p.Hulls[0].Carries[0].Figure = 2 },
			"figure of teasel-48"},
		{"figure carried below", pack.Yard, func(p *pack.Pack) { p.Options[0].Carries[0].Figure = -1 },
			"figure of top-folding"},
		{"figure carried is a formula", pack.Yard, func(p *pack.Pack) { p.Options[0].Carries[0].Figure = 1 },
			"which is no total"},
		{"section above", pack.Yard, func(p *pack.Pack) { p.Slots[0].Section = 1 }, "section of slot"},
		{"first option", pack.Yard, func(p *pack.Pack) { p.Slots[1].First = 3 }, "has options"},
		{"first option below", pack.Yard, func(p *pack.Pack) { p.Slots[0].First = -1 }, "has options"},
		{"last option", pack.Yard, func(p *pack.Pack) { p.Slots[2].End = 7 }, "has options"},
		{"last option before the first", pack.Yard, func(p *pack.Pack) { p.Slots[1].End = 1 }, "has options"},
		{"options without a slot", pack.Yard, func(p *pack.Pack) { p.Slots[2].End = 5 }, "without a slot"},
		{"most of a slot of one", pack.Yard, func(p *pack.Pack) { p.Slots[0].Most = 2 }, "takes 0 to 2"},
		{"least of a slot of one", pack.Yard, func(p *pack.Pack) { p.Slots[0].Least = 2 }, "takes 2 to 1"},
		{"negative least", pack.Yard, func(p *pack.Pack) { p.Slots[2].Least = -1 }, "takes -1"},
		{"hull of a slot", pack.Yard, func(p *pack.Pack) { p.Slots[0].Hulls = []int{1} }, "hull of top"},
		{"hull of an option", pack.Yard, func(p *pack.Pack) { p.Options[5].Hulls = []int{-1} }, "hull of pocket"},
		{"slot of an option", pack.Yard, func(p *pack.Pack) { p.Options[5].Slot = 1 }, "is not one of slot"},
		{"most of an option", pack.Yard, func(p *pack.Pack) { p.Options[5].Most = 0 }, "0 times"},
		{"most of an option, huge", pack.Yard, func(p *pack.Pack) { p.Options[5].Most = 1001 }, "1001 times"},
		{"most in a slot of one", pack.Yard, func(p *pack.Pack) { p.Options[0].Most = 2 }, "2 times"},
	}
}

func damagedCircuits(t *testing.T) []damage {
	with := func(change func(c *pack.Circuit)) func(p *pack.Pack) {
		return func(p *pack.Pack) {
			c := pack.Circuit{ID: "pump", Title: "Pump", Function: "pump", Amps: program(t, "n5"),
				Volts: program(t, "n12"), Length: program(t, "h0"), Insulation: 105}
			change(&c)
			p.Public.Circuits = append(p.Public.Circuits, c)
			if p.Work != nil {
				p.Work.Runs = append(p.Work.Runs, pack.Run{})
			}
		}
	}
	return []damage{
		{"circuit of no function", pack.Yard, with(func(c *pack.Circuit) { c.Function = "flux" }),
			"circuit pump: the function"},
		{"circuit without a current", pack.Yard, with(func(c *pack.Circuit) { c.Amps = formula.Program{} }),
			"the current of circuit pump has no formula"},
		{"circuit without a voltage", pack.Buyer, with(func(c *pack.Circuit) { c.Volts = formula.Program{} }),
			"the voltage of circuit pump has no formula"},
		{"circuit with a truth for its length", pack.Yard, with(func(c *pack.Circuit) { c.Length = program(t, "T") }),
			"the length of circuit pump gives a truth value"},
		{"circuit with a number for its condition", pack.Yard,
			with(func(c *pack.Circuit) { c.When = program(t, "n1") }), "circuit pump gives a number"},
		{"circuit that reads beyond the pack", pack.Yard, with(func(c *pack.Circuit) { c.Peak = program(t, "f99") }),
			"the highest voltage of circuit pump"},
		{"circuit of unknown insulation", pack.Yard, with(func(c *pack.Circuit) { c.Insulation = 100 }),
			"insulation for 100 °C"},
		{"circuit from nowhere", pack.Yard, func(p *pack.Pack) {
			with(func(*pack.Circuit) {})(p)
			p.Work.Runs[0].At.Length = 9999
		},
			"source of circuit pump 9999"},
	}
}

func damagedPrices() []damage {
	counted := func(sizes ...int) []pack.Axis {
		var axes []pack.Axis
		for _, n := range sizes {
			axes = append(axes, pack.Axis{Kind: pack.AxisCount, Size: n})
		}
		return axes
	}
	set := func(prices int, axes ...pack.Axis) func(p *pack.Pack) {
		return func(p *pack.Pack) {
			p.Prices.Options[5][0] = pack.Table{Axes: axes, Prices: make([]money.Amount, prices)}
		}
	}
	return []damage{
		{"no prices", pack.Buyer, func(p *pack.Pack) { p.Prices = nil }, "no prices"},
		{"bases", pack.Buyer, func(p *pack.Pack) { p.Prices.Base = nil }, "prices of 0 hulls"},
		{"options", pack.Buyer, func(p *pack.Pack) { p.Prices.Options = p.Prices.Options[:3] }, "3 options"},
		{"hulls of an option", pack.Buyer, func(p *pack.Pack) { p.Prices.Options[3] = nil }, "prices of 0 hulls"},
		{"axis kind", pack.Buyer, set(2, pack.Axis{Kind: "hours", Size: 2}), "unknown axis"},
		{"axis slot", pack.Buyer, set(2, pack.Axis{Kind: pack.AxisOneOf, Index: 3, Size: 2}), "slot of a price"},
		{"axis option of slot", pack.Buyer, set(3, pack.Axis{Kind: pack.AxisOneOf, Options: []int{6}, Size: 3}),
			"option of a price"},
		{"axis places of slot", pack.Buyer, set(2, pack.Axis{Kind: pack.AxisOneOf, Options: []int{0}, Size: 2}),
			"2 places"},
		{"axis option", pack.Buyer, set(2, pack.Axis{Kind: pack.AxisCount, Index: -1, Size: 2}), "option of a price"},
		{"axis use", pack.Buyer, set(2, pack.Axis{Kind: pack.AxisUse, Index: 2, Size: 2}), "use field of a price"},
		{"axis without places", pack.Buyer, set(2, counted(2, 0)...), "0 places"},
		{"too few prices", pack.Buyer, set(5, counted(2, 3)...), "5 prices"},
		{"too many prices", pack.Buyer, set(7, counted(2, 3)...), "7 prices"},
		{"prices without axes", pack.Buyer, set(2), "2 prices"},
		// The product of the places overflowed to the number of prices, and looking a price up panicked.
		{"axes that overflow", pack.Buyer, set(4, counted(2, 1<<62+1, 2)...), "places"},
	}
}

// damagedShop adds laminates and cuts that cannot be.
func damagedShop(t *testing.T) []damage {
	laminate := func(change func(l *pack.Laminate)) func(p *pack.Pack) {
		return func(p *pack.Pack) {
			l := pack.Laminate{ID: "shell", Title: "Shell", Part: "shell", AreaM2: program(t, "n2 h0 *"),
				Plies: []pack.Ply{{Cloth: "csm", GM2: 450, Count: 2}}, Process: "hand"}
			change(&l)
			p.Work.Laminates = append(p.Work.Laminates, l)
		}
	}
	cut := func(change func(c *pack.Cut)) func(p *pack.Pack) {
		return func(p *pack.Pack) {
			c := pack.Cut{ID: "cloth", Stocks: []pack.CutStock{{Options: []int{0}, WidthMm: 1520}},
				Pieces: []pack.CutPiece{{WidthMm: program(t, "n900"), LengthMm: program(t, "n900")}}}
			change(&c)
			p.Costs.Cuts = append(p.Costs.Cuts, c)
			p.Work.Cuts = append(p.Work.Cuts, pack.CutNames{Title: "Cloth", Stocks: []string{"Roll"},
				Pieces: []string{"Roof"}})
		}
	}
	return []damage{
		{"cloth", pack.Yard, laminate(func(l *pack.Laminate) { l.Plies[0].Cloth = "felt" }),
			"unknown part, process or cloth"},
		{"part", pack.Yard, laminate(func(l *pack.Laminate) { l.Part = "mast" }), "unknown part, process or cloth"},
		{"process", pack.Yard, laminate(func(l *pack.Laminate) { l.Process = "spray" }),
			"unknown part, process or cloth"},
		{"no ply", pack.Yard, laminate(func(l *pack.Laminate) { l.Plies = nil }), "no plies"},
		{"plies without end", pack.Yard, laminate(func(l *pack.Laminate) { l.Plies[0].Count = 1 << 40 }),
			"too many plies"},
		{"glass", pack.Yard, laminate(func(l *pack.Laminate) { l.Plies[0].GM2 = -1 }), "fibre weight is -1"},
		{"area of nothing", pack.Yard, laminate(func(l *pack.Laminate) { l.AreaM2 = program(t, "n0") }), "area is 0"},
		{"area over figures", pack.Yard, laminate(func(l *pack.Laminate) { l.AreaM2 = program(t, "f0") }),
			"reads more than the hull"},
		{"area beyond the hull", pack.Yard, laminate(func(l *pack.Laminate) { l.AreaM2 = program(t, "h9") }),
			"area of laminate shell"},
		{"hull of a laminate", pack.Yard, laminate(func(l *pack.Laminate) { l.Hulls = []int{3} }),
			"hull of laminate shell"},
		{"source of a laminate", pack.Yard, laminate(func(l *pack.Laminate) { l.At = -1 }), "source -1"},
		{"lay-up", pack.Buyer, func(p *pack.Pack) { p.Hulls[0].Layup = &pack.Layup{ShellKg: -1} }, "lay-up of hull"},
		{"option of a cut", pack.Yard, cut(func(c *pack.Cut) { c.Stocks[0].Options = []int{99} }),
			"option of cut cloth 99"},
		{"stock of a cut", pack.Yard, cut(func(c *pack.Cut) { c.Stocks[0].WidthMm = 0 }), "length of 0 mm"},
		{"piece of a cut", pack.Yard, cut(func(c *pack.Cut) { c.Pieces[0].LengthMm = formula.Program{} }),
			"has no formula"},
		{"source of a cut", pack.Yard, cut(func(c *pack.Cut) { c.Pieces[0].At = 99999 }), "source 99999"},
	}
}

func damagedCosts() []damage {
	item := func(p *pack.Pack) *pack.BillOfMaterials { return &p.Costs.Options[2] } // cloth-light
	takeoff := func(p *pack.Pack) **pack.Takeoff { return &p.Work.Sources[item(p).Materials[0].At].Takeoff }
	// by a cut or a circuit, which the small book lacks
	measured := func(n pack.BOMLine) func(p *pack.Pack) {
		return func(p *pack.Pack) {
			p.Costs.Cuts = []pack.Cut{{ID: "cloth", Stocks: []pack.CutStock{{WidthMm: 1520}}}}
			p.Work.Cuts = []pack.CutNames{{Stocks: []string{"Roll"}}}
			item(p).Materials[0] = n
		}
	}
	after := func(operation int) []pack.Predecessor { return []pack.Predecessor{{Operation: operation}} }
	return []damage{
		{"price step", pack.Yard, func(p *pack.Pack) { p.Costs.PriceStep = money.Amount{} }, "price step"},
		{"costs of hulls", pack.Yard, func(p *pack.Pack) { p.Costs.Hulls = nil }, "costs of 0 hulls"},
		{"costs of options", pack.Yard, func(p *pack.Pack) { p.Costs.Options = p.Costs.Options[:5] }, "5 options"},
		{"shop", pack.Yard, func(p *pack.Pack) { p.Costs.Operations[0].Shop = 2 }, "shop of sew-canvas"},
		{"operation before", pack.Yard, func(p *pack.Pack) { p.Work.Operations[1].After[0].Operation = 2 },
			"operation before fit-out"},
		{"operation after itself", pack.Yard, func(p *pack.Pack) { p.Work.Operations[0].After = after(0) },
			"in a circle, sew-canvas after sew-canvas;"},
		{"operations in a circle", pack.Yard, func(p *pack.Pack) { p.Work.Operations[0].After = after(1) },
			"in a circle, sew-canvas after fit-out after sew-canvas;"},
		{"material unit", pack.Yard, func(p *pack.Pack) { p.Costs.Materials[0].Unit = "" }, "no unit"},
		{"a picture elsewhere", pack.Buyer, func(p *pack.Pack) {
			p.Options[0].Pictures = []pack.Picture{{Title: "A", Files: []pack.PictureFile{{Name: "//a.example/b.jpg",
				Width: 1, Height: 1}}}}
		}, "no file of this site"},
		{"a picture of no size", pack.Buyer, func(p *pack.Pack) {
			p.Hulls[0].Pictures = []pack.Picture{{Title: "A", Files: []pack.PictureFile{{Name: "b.jpg"}}}}
		}, "has no size"},
		{"a picture of nothing", pack.Buyer, func(p *pack.Pack) { p.Hulls[0].Pictures = []pack.Picture{{Title: "A"}} },
			"has no file"},
		{"material cost", pack.Yard, func(p *pack.Pack) { p.Costs.Materials[0].Cost = money.MustParse("-1") },
			"negative"},
		{"material waste", pack.Yard, func(p *pack.Pack) { p.Costs.Materials[0].Waste = money.MustRate("-1") },
			"negative"},
		{"material pack", pack.Yard, func(p *pack.Pack) { p.Costs.Materials[0].Pack = money.MustRate("-1") },
			"negative"},
		{"item source", pack.Yard, func(p *pack.Pack) { item(p).At = -1 }, "source"},
		{"material", pack.Yard, func(p *pack.Pack) { item(p).Materials[0].Index = 2 }, "material 2"},
		{"material source", pack.Yard, func(p *pack.Pack) { item(p).Materials[0].At = 999 }, "source 999"},
		{"two measures", pack.Yard, func(p *pack.Pack) {
			item(p).Materials[0].Circuit = &pack.CircuitAmount{Part: pack.Wire}
		}, "circuit 0"},
		{"unknown cut", pack.Yard, measured(pack.BOMLine{Cut: &pack.CutAmount{Cut: 1}}), "cut 1 of"},
		{"unknown stock", pack.Yard, measured(pack.BOMLine{Cut: &pack.CutAmount{Stock: -1}}), "stock of cut cloth -1"},
		{"cut and formula", pack.Yard, func(p *pack.Pack) {
			measured(pack.BOMLine{Cut: &pack.CutAmount{}})(p)
			item(p).Materials[0].Amount = formula.Constant(1)
		}, "measured in 2 ways"},
		{"unknown circuit", pack.Yard, measured(pack.BOMLine{Index: -1,
			Circuit: &pack.CircuitAmount{Circuit: -1, Part: pack.Wire}}), "circuit -1"},
		{"unknown part of a circuit", pack.Yard, func(p *pack.Pack) {
			p.Work.Runs = []pack.Run{{}}
			p.Public.Circuits = []pack.Circuit{{ID: "pump", Title: "Pump", Function: "pump", Insulation: 105,
				Amps: formula.Constant(1), Volts: formula.Constant(12), Length: formula.Constant(1)}}
			measured(pack.BOMLine{Index: -1, Circuit: &pack.CircuitAmount{Part: "bell"}})(p)
		}, `the stock has nothing for the part "bell" of a circuit`},
		{"unknown form", pack.Yard, func(p *pack.Pack) { *takeoff(p) = &pack.Takeoff{Form: "bucket"} },
			"bucket"},
		{"parts of a form", pack.Yard, func(p *pack.Pack) { *takeoff(p) = &pack.Takeoff{Form: "foam"} },
			"with 0 parts"},
		{"unit of a form", pack.Yard, func(p *pack.Pack) {
			*takeoff(p) = &pack.Takeoff{Form: "foam",
				Parts: []formula.Program{formula.Constant(1), formula.Constant(2)}}
		}, "cloth-acrylic is measured as foam and not kept in m3"},
		{"part of a form", pack.Yard, func(p *pack.Pack) {
			p.Costs.Materials[item(p).Materials[0].Index].Unit = "m3"
			*takeoff(p) = &pack.Takeoff{Form: "foam", Parts: make([]formula.Program, 2)}
		}, "a part of a quantity has no formula"},
		{"cables out of order", pack.Yard, func(p *pack.Pack) { p.Stock.Sections = []float64{4, 2.5} },
			"a cable of 2.5 mm2 stands behind one of 4"},
		{"switches out of order", pack.Yard, func(p *pack.Pack) { p.Stock.Switches = []float64{300, 300} },
			"a battery switch of 300 A stands behind one of 300"},
		{"fuses out of order", pack.Yard, func(p *pack.Pack) {
			p.Stock.Fuses = []pack.FuseSize{{Amps: 20, Volts: 32, KiloAmps: 1}, {Amps: 10, Volts: 32, KiloAmps: 1}}
		}, "a fuse of 10 A stands behind one of 20"},
		{"fuse without voltage", pack.Buyer, func(p *pack.Pack) {
			p.Stock.Fuses = []pack.FuseSize{{Amps: 20,
				KiloAmps: 1}}
		}, "a fuse of 20 A is for 0 V"},
		{"cable without a material", pack.Yard, func(p *pack.Pack) { p.Stock.Sections = []float64{4} },
			"0 materials of a cable, want 1"},
		{"material of a cable", pack.Yard, func(p *pack.Pack) {
			p.Stock.Sections, p.Costs.Kept.Cables = []float64{4},
				[]int{9}
		}, "material of a cable 9"},
		{"fuse that is nothing", pack.Yard, func(p *pack.Pack) {
			p.Stock.Fuses = []pack.FuseSize{{Amps: 20, Volts: 32, KiloAmps: 1}}
			p.Costs.Kept.Fuses, p.Costs.Kept.Holders = []int{-1}, []int{-1}
		}, "material of a fuse -1"},
		{"operation", pack.Yard, func(p *pack.Pack) { item(p).Operations[0].Index = 2 }, "operation 2"},
		{"operation source", pack.Yard, func(p *pack.Pack) { item(p).Operations[0].At = 999 }, "source 999"},
		{"price source", pack.Yard, func(p *pack.Pack) { p.Costs.Options[5].List[0].At = 999 }, "source 999"},
		{"margin source", pack.Yard, func(p *pack.Pack) { item(p).Margin.At = 999 }, "source 999"},
		{"margin of the whole", pack.Yard, func(p *pack.Pack) { item(p).Margin.Rate = money.MustRate("1") },
			"a margin is 1"},
		{"no method", pack.Yard, func(p *pack.Pack) { item(p).Margin = nil }, "no price"},
		{"two methods", pack.Yard, func(p *pack.Pack) { item(p).Markup = item(p).Margin }, "more than one"},
		{"list and method", pack.Yard, func(p *pack.Pack) { p.Costs.Options[5].Margin = item(p).Margin },
			"more than one"},
	}
}

// damagedFormulas puts a formula of the wrong kind, one that names too much, and none where there must be one.
func damagedFormulas(t *testing.T) []damage {
	places := []struct {
		name  string
		truth bool
		must  bool
		at    func(p *pack.Pack) *formula.Program
	}{
		{"figure", false, false, func(p *pack.Pack) *formula.Program { return &p.Public.Figures[1].Formula }},
		{"carried by a hull", false, true,
			func(p *pack.Pack) *formula.Program { return &p.Hulls[0].Carries[0].Amount }},
		{"carried by an option", false, true,
			func(p *pack.Pack) *formula.Program { return &p.Options[0].Carries[0].Amount }},
		{"slot", true, false, func(p *pack.Pack) *formula.Program { return &p.Slots[1].When }},
		{"rule when", true, false, func(p *pack.Pack) *formula.Program { return &p.Rules[0].When }},
		{"rule need", true, true, func(p *pack.Pack) *formula.Program { return &p.Rules[0].Need }},
		{"quantity", false, true,
			func(p *pack.Pack) *formula.Program { return &p.Costs.Options[2].Materials[0].Amount }},
		{"hours", false, true, func(p *pack.Pack) *formula.Program { return &p.Costs.Options[2].Operations[0].Amount }},
		{"price", false, false, func(p *pack.Pack) *formula.Program { return &p.Costs.Options[5].List[1].Per }},
	}
	number, truth := program(t, "n1"), program(t, "T")
	outside := []string{"o6", "c6", "s3", "h2", "u2", "f2"} // each one beyond the last of the small book
	var all []damage
	for _, place := range places {
		put := func(q formula.Program) func(p *pack.Pack) {
			return func(p *pack.Pack) { *place.at(p) = q }
		}
		wrong := truth
		if place.truth {
			wrong = number
		}
		all = append(all, damage{place.name + " of the wrong kind", pack.Yard, put(wrong), "gives a"})
		if place.must {
			all = append(all, damage{place.name + " without a formula", pack.Yard, put(formula.Program{}),
				"has no formula"})
		}
		for _, step := range outside {
			text := step
			if isTruth := step[0] == 'o' || step[0] == 's'; isTruth && !place.truth {
				text += " n1 n0 ?"
			} else if !isTruth && place.truth {
				text += " n1 ="
			}
			all = append(all, damage{place.name + " names " + step, pack.Yard, put(program(t, text)), "names one of"})
		}
	}
	return all
}

func TestDecodeRefusesWhatIsNoPack(t *testing.T) {
	text := encode(t, published(t, smallBook)[pack.Yard])
	for n := 0; n < len(text); n += 7 {
		if _, err := pack.Decode(text[:n]); err == nil {
			t.Fatalf("the first %d of %d bytes are read as a pack", n, len(text))
		}
	}
	for _, bad := range []string{"", "null", "[]", "1", `"pack"`, "{}", `{"format":"1"}`, string(text) + "x",
		strings.Repeat("[", 1<<20)} {
		if _, err := pack.Decode([]byte(bad)); err == nil {
			t.Errorf("%.20q is read as a pack", bad)
		}
	}
	if _, err := pack.Decode(make([]byte, 64<<20+1)); err == nil || !strings.Contains(err.Error(), "at most") {
		t.Errorf("a pack that is too large: %v", err)
	}
}

// TestDecodedNeverPanics puts wrong values in every place of the small packs. What is read all the same must answer.
func TestDecodedNeverPanics(t *testing.T) {
	values := []any{nil, true, "", "x", -1.0, 0.5, 3.0, 1e18, "-1", "999999999999999", []any{}, map[string]any{}}
	for desk, p := range published(t, smallBook) {
		var tree any
		if err := json.Unmarshal(encode(t, p), &tree); err != nil {
			t.Fatal(err)
		}
		read := 0
		everywhere(tree, func(put func(any), old any) {
			for _, v := range values {
				put(v)
				text, err := json.Marshal(tree)
				if err != nil {
					t.Fatal(err)
				}
				if damaged, err := pack.Decode(text); err == nil {
					read++
					answerStandards(t, damaged, text)
				}
			}
			put(old)
		})
		if read == 0 {
			t.Errorf("%s: nothing is read, so nothing is tried", desk)
		}
	}
}

// everywhere visits every value of a JSON tree with a way to put another in its place.
func everywhere(tree any, visit func(put func(any), old any)) {
	switch tree := tree.(type) {
	case map[string]any:
		for key, v := range tree {
			visit(func(x any) { tree[key] = x }, v)
			everywhere(v, visit)
		}
	case []any:
		for i, v := range tree {
			visit(func(x any) { tree[i] = x }, v)
			everywhere(v, visit)
		}
	}
}

// answerStandards compiles a pack that was read and answers its standard builds; errors are good, panics are not.
func answerStandards(t testing.TB, p *pack.Pack, text []byte) {
	defer func() {
		if r := recover(); r != nil {
			t.Errorf("panic: %v\nthe pack: %s", r, text)
			panic(fmt.Sprint(r))
		}
	}()
	e, err := engine.Compile(p)
	if err != nil {
		return
	}
	for h := range p.Hulls {
		_, _ = e.AnswerStandard(h, "")
		for _, r := range p.Regions {
			if p.RegionField >= 0 {
				_, _ = e.AnswerStandard(h, r.ID)
			}
		}
	}
}

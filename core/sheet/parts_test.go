package sheet_test

import (
	"math"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/laminate"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// What the shops foam, mill, bend and coat is what the materials are: each part is one of their lines, with the same
// quantity.
func TestShopPartsAreTheMaterials(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	kinds := map[string]int{}
	for name, s := range enginetest.DemoSpecs(t) {
		y := sheet.ForYard(e, enginetest.Answer(t, e, s), quote.Details{})
		p := y.Parts
		if p == nil {
			t.Fatalf("%s: there are no parts", name)
		}
		lines := map[string]float64{}
		for _, m := range y.Materials {
			lines[m.Title] += m.BuiltIn.Float()
		}
		sum := map[string]float64{}
		for _, f := range p.Foam {
			kinds["foam"]++
			sum[f.Material] += f.Litres / 1000
			near(t, name+": litres of foam", f.Litres, f.AreaM2*f.ThicknessMm, 0.1)
			near(t, name+": board feet of foam", f.BoardFeet, f.Litres/laminate.LitresPerBoardFoot, 0.001)
		}
		for _, x := range p.Timber {
			kinds["timber"]++
			sum[x.Material] += x.NetDm3 / 1000
			near(t, name+": timber", x.NetDm3, x.ThicknessMm*x.WidthMm*x.LengthM*x.Count/1000, 0.002)
			if x.RoughDm3 <= x.NetDm3 || math.Abs(x.BoardFeet*laminate.LitresPerBoardFoot-x.RoughDm3) > 0.01 {
				t.Errorf("%s: %+v", name, x)
			}
		}
		for _, x := range p.Tube {
			kinds["tube"]++
			sum[x.Material] += x.TotalM
			near(t, name+": tube", x.TotalM, x.Hoops*x.HoopM+x.StraightM, 0.01)
			if x.Bends != 2*x.Hoops || x.Hoops < 2 {
				t.Errorf("%s: %+v", name, x)
			}
		}
		for _, x := range p.Coatings {
			kinds["coating"]++
			sum[x.Material] += x.Quantity
			if (x.Coats > 0) == (x.WetMm > 0) || (x.Unit == "kg") != (x.WetMm > 0) {
				t.Errorf("%s: %+v", name, x)
			}
		}
		for title, q := range sum {
			near(t, name+": "+title, q, lines[title], 0.002)
		}
	}
	for _, kind := range []string{"foam", "timber", "tube", "coating"} {
		if kinds[kind] < 3 {
			t.Errorf("only %d parts of %s", kinds[kind], kind)
		}
	}
}

// A layout feeds the material that it measures, with what is taken of its stock.
func TestCutsFeedTheirMaterials(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	fed := 0
	for name, s := range enginetest.DemoSpecs(t) {
		y := sheet.ForYard(e, enginetest.Answer(t, e, s), quote.Details{})
		for _, c := range y.Cuts {
			if len(c.Feeds) != 1 {
				t.Fatalf("%s: %s feeds %v", name, c.Title, c.Feeds)
			}
			for _, m := range y.Materials {
				if m.Title == c.Feeds[0].Title && m.Trace.Formula == "cut: "+c.ID {
					fed++
					if c.Feeds[0].Used != m.Used {
						t.Errorf("%s: %s takes %s of %s, among the materials stand %s", name, c.Title, c.Feeds[0].Used,
							m.Title, m.Used)
					}
					taken := c.TakenM2
					if m.Unit == "m" { // of a roll
						taken = c.UsedMm / 1000
					}
					near(t, name+": "+c.Title, m.BuiltIn.Float(), taken, 0.001)
				}
			}
			if c.TakenM2 > c.UsedM2+0.001 || c.TakenM2 < c.PiecesM2 {
				t.Errorf("%s: %s takes %v m2 of %v for %v", name, c.Title, c.TakenM2, c.UsedM2, c.PiecesM2)
			}
		}
	}
	if fed < 8 {
		t.Errorf("only %d layouts feed a material", fed)
	}
}

// The parts of a boat are the yard's; the other desks have its costs without them.
func TestShopPartsByDesk(t *testing.T) {
	for desk, e := range enginetest.Demo() {
		a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)["osier-76-fullest"])
		if got := sheet.AllParts(e, a) != nil; got != (desk == pack.Yard) {
			t.Errorf("%s: parts %v", desk, got)
		}
	}
	e := enginetest.Small()[pack.Yard]
	if p := sheet.AllParts(e, enginetest.Answer(t, e, enginetest.Teasel(t))); p != nil {
		t.Errorf("a book without measures has parts: %+v", p)
	}
}

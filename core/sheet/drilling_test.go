package sheet_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/sheet"
)

// The drilling plan of a boat has as many plates as its material, and as many holes as screws for them; each lies on
// the deck, the two of a pair opposite each other; and the drill is that of ISO 2306 for its thread (from memory: 5.0
// for M6, 6.8 for M8).
func TestDrillingPlan(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	plates := 0
	for name, s := range enginetest.ManyBoats(t, e, 3) {
		a := enginetest.Answer(t, e, s)
		list, err := sheet.Drilling(e, a.Build)
		if err != nil {
			t.Fatal(err)
		}
		var bought measure.Quantity
		for _, m := range a.Cost.Materials {
			if e.Pack.Costs.Materials[m.Material].ID == "plate-tapped-150" {
				bought += m.BuiltIn
			}
		}
		if float64(len(list)) != bought.Float() {
			t.Errorf("%s: %d plates are drilled, %s are laid", name, len(list), bought)
		}
		plates += len(list)
		across := 0.0
		length, beam := extent(e.Pack.Hulls[a.Build.State.HullID].Offsets)
		for _, p := range list {
			across += p.YM
			if p.XM < 0 || p.XM > length || math.Abs(p.YM) > beam/2 || (p.YM < 0) != (p.Side == "port") ||
				(p.YM > 0) != (p.Side == "starboard") {
				t.Errorf("%s: %+v lies on no deck of %v by %v m", name, p, length, beam)
			}
			if want := map[string]float64{"M6": 5, "M8": 6.8}[p.Thread]; p.DrillMm != want {
				t.Errorf("%s: the drill for %s is %v mm, want %v", name, p.Thread, p.DrillMm, want)
			}
		}
		if math.Abs(across) > 1e-9 {
			t.Errorf("%s: the plates are not alike on both sides", name)
		}
	}
	if plates < 50 {
		t.Errorf("only %d plates", plates)
	}
	a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)["reed-65-fullest"])
	for i, shop := range e.Pack.Costs.Shops {
		c, err := sheet.ForShop(e, a, i, nil)
		if err != nil {
			t.Fatal(err)
		}
		drawn := false
		for _, p := range c.Pictures {
			drawn = drawn || p.ID == "drilling" && strings.Contains(p.SVG, "Cleat forward, port: 4 × M6")
		}
		want := shop.ID == "lamination" || shop.ID == "deck-systems"
		if want != (len(c.Drilling) > 0) || want != drawn {
			t.Errorf("%s has %d plates, drawn %v", shop.ID, len(c.Drilling), drawn)
		}
	}
}

// extent is the length of a hull, and its breadth over the widest point.
func extent(stations []pack.Station) (length, beam float64) {
	for _, s := range stations {
		for _, y := range s.Y {
			beam = max(beam, 2*y)
		}
	}
	return stations[len(stations)-1].X - stations[0].X, beam
}

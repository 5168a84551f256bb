package sheet_test

import (
	"math"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/figures"
	"ribband/core/pack"
	"ribband/core/sheet"
)

// The blocks of a boat are all of its foam, by their litres and by their sizes, and no higher than the hull is deep.
func TestFoamPlanIsAllOfTheFoam(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	planned := 0
	for name, s := range enginetest.ManyBoats(t, e, 3) {
		a := enginetest.Answer(t, e, s)
		litres, sizes := 0.0, 0.0
		for _, p := range sheet.Flotation(e, a.Build) {
			planned++
			litres += 2 * p.Litres
			sizes += 2 * (p.ToM - p.FromM) * p.BreadthMm * p.HeightMm / 1000
			if p.HeightMm < 20 || p.HeightMm > 700 {
				t.Errorf("%s: the block %s is %v mm high", name, p.Title, p.HeightMm)
			}
		}
		foam := e.Figure(a.Build, figures.FoamL)
		if litres > 0 && (math.Abs(litres-foam) > 0.01 || math.Abs(sizes-foam) > 0.02*foam) || litres == 0 && foam > 0 {
			t.Errorf("%s: blocks of %v l, %v l by their sizes, for %v l of foam", name, litres, sizes, foam)
		}
	}
	if planned < 9 {
		t.Errorf("only %d blocks", planned)
	}
}

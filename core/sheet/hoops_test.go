package sheet_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/drawing"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/sheet"
)

// A hoop is as long along its marks as the tube that is bought for it, and is drawn on the card of the shop that bends
// it alone.
func TestHoopsAreOfTheTubeThatIsBought(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	hoops := 0
	for name, s := range enginetest.ManyBoats(t, e, 3) {
		a := enginetest.Answer(t, e, s)
		parts := sheet.AllParts(e, a)
		for _, p := range parts.Tube {
			if p.Hoops == 0 {
				continue
			}
			hoops++
			_, length, _ := drawing.Hoop{Width: p.WidthM, Height: p.HeightM, Radius: p.RadiusM, Crown: p.CrownM}.Bends()
			if math.Abs(length-p.HoopM) > 0.005 {
				t.Errorf("%s: a hoop of %v m is marked along %v m", name, p.HoopM, length)
			}
		}
	}
	if hoops < 3 {
		t.Errorf("only %d frames", hoops)
	}
	a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)["reed-65-fullest"])
	for i, shop := range e.Pack.Costs.Shops {
		c, err := sheet.ForShop(e, a, i, nil)
		if err != nil {
			t.Fatal(err)
		}
		drawn := false
		for _, p := range c.Pictures {
			drawn = drawn || strings.HasPrefix(p.ID, "hoop-")
		}
		if drawn != (shop.ID == "frame-shop") {
			t.Errorf("%s has a hoop drawn: %v", shop.ID, drawn)
		}
	}
}

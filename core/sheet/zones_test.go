package sheet_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/sheet"
)

// The zones of each hull are as thick as its schedule and its figures say, and are on the card of lamination alone.
func TestZonesAgreeWithTheLaminates(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for _, name := range []string{"sedge-46-plainest", "rush-54-plainest", "reed-65-fullest", "osier-76-fullest"} {
		a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)[name])
		l := sheet.Laminates(e, a.Build)
		for i, shop := range e.Pack.Costs.Shops {
			c, err := sheet.ForShop(e, a, i, nil)
			if err != nil {
				t.Fatal(err)
			}
			at := slices.IndexFunc(c.Pictures, func(p look.Picture) bool { return p.ID == "zones" })
			if (at >= 0) != (shop.ID == "lamination") {
				t.Fatalf("%s: %s has the zones: %v", name, shop.ID, at >= 0)
			}
			if at < 0 {
				continue
			}
			for _, mm := range []float64{l.Rows[0].ThicknessMm, l.BottomMm, l.KeelMm} {
				if want := ": " + measure.Decimal(mm, 1) + " mm. "; !strings.Contains(c.Pictures[at].SVG, want) {
					t.Errorf("%s: the zones lack %q", name, want)
				}
			}
		}
	}
}

// What a meter shows of a circuit's loop is its drop over its load (Ohm's law), and every circuit that begins with
// another at one place has a peg on the board, at its cut length less the tail.
func TestLoomIsMeasuredByItsCircuits(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)["reed-65-fullest"])
	circuits := sheet.Circuits(e, a.Build)
	for _, c := range circuits {
		if volts := c.Loop * c.Load / 1000; math.Abs(volts-c.Drop) > 0.001+0.00005*c.Load+0.005*c.Loop/1000 {
			t.Errorf("%s: %v mΩ at %v A lose %v V, not %v V", c.Title, c.Loop, c.Load, volts, c.Drop)
		}
	}
	electrical, err := e.FindShop("electrical")
	if err != nil {
		t.Fatal(err)
	}
	card, err := sheet.ForShop(e, a, electrical, nil)
	if err != nil {
		t.Fatal(err)
	}
	pegs := 0
	row := regexp.MustCompile(`leaves the bundle at ([0-9.]+) m; [^<;]* mm², ([0-9.]+) m`)
	for _, p := range card.Pictures {
		if !strings.HasPrefix(p.ID, "loom-board-") {
			continue
		}
		text := strings.ReplaceAll(p.SVG[strings.Index(p.SVG, "<desc"):strings.Index(p.SVG, "</desc>")], "\u00a0", " ")
		for _, m := range row.FindAllStringSubmatch(text, -1) {
			pegs++
			if at, length := number(t, m[1]), number(t, m[2]); math.Abs(length-at-0.3) > 0.006 {
				t.Errorf("a peg at %v m for a wire of %v m", at, length)
			}
		}
	}
	if pegs < 12 || len(circuits) < 12 {
		t.Errorf("%d pegs for %d circuits", pegs, len(circuits))
	}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

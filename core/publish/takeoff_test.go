package publish_test

import (
	"math"
	"os"
	"testing"

	"ribband/core/figures"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/takeoff"
)

// The parts that amounts were composed of are on the yard's desk alone; what costs follow from is on the show's too.
func TestTakeoffsByDesk(t *testing.T) {
	packs, _, diagnostics, err := publish.Load(os.DirFS(demoBook))
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, diagnostics)
	}
	for _, desk := range []pack.Desk{pack.Yard, pack.Show} {
		composed, cut, parts := 0, 0, map[pack.Part]int{}
		for _, items := range [][]pack.BillOfMaterials{packs[desk].Costs.Hulls, packs[desk].Costs.Options} {
			for _, item := range items {
				for _, n := range item.Materials {
					switch {
					case packs[desk].Work != nil && packs[desk].Work.Sources[n.At].Takeoff != nil:
						composed++
					case n.Cut != nil:
						cut++
					case n.Circuit != nil:
						parts[n.Circuit.Part]++
					}
				}
			}
		}
		if (composed > 50) != (desk == pack.Yard) || cut < 15 || parts[pack.Wire] < 50 ||
			parts[pack.Fuse] != parts[pack.Wire] || parts[pack.Holder] != parts[pack.Wire] || parts[pack.Switch] < 9 ||
			parts[pack.Spare] == 0 {
			t.Errorf("%s: %d composed amounts, %d cut and of circuits %v", desk, composed, cut, parts)
		}
	}
}

// Every composed amount of the demo book is made of the parts that the sheet shows, has a text, and is a quantity.
func TestTextsOfComposedAmounts(t *testing.T) {
	b := readDemo(t)
	yard, diagnostics := publish.Compile(b)
	if len(diagnostics) > 0 {
		t.Fatal(reported(diagnostics))
	}
	figs, err := figures.Compile(yard)
	if err != nil {
		t.Fatal(err)
	}
	st := figures.NewState(yard, 2, make([]float64, len(yard.Use)))
	figs.Fill(st)
	for _, item := range yard.Costs.Options {
		for _, n := range item.Materials {
			at := yard.Work.Sources[n.At]
			if at.Takeoff == nil {
				continue
			}
			form, _ := takeoff.FormOf(at.Takeoff.Form)
			amount, err := form.Compose(at.Takeoff.Parts)
			if err != nil || amount.String() != n.Amount.String() || at.Text == "" {
				t.Errorf("%s: %q and its parts differ (%v)", at, at.Text, err)
			}
			if v := n.Amount.Number()(st); math.IsNaN(v) || v < 0 {
				t.Errorf("%s: %q is %v", at, at.Text, v)
			}
		}
	}
}

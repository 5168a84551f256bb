package quote_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/quote"
)

// The sheets of all shops together hold every hour and every material of the boat that a shop works on; each has only its own.
func TestShopSheets(t *testing.T) {
	e := demo()[pack.Yard]
	for _, name := range []string{"osier-76-fullest", "free-lines-and-discount", "sedge-46-plainest"} {
		a := answer(t, e, demoSpecs(t)[name])
		y := e.YardSheet(a)
		materials, cut := map[string]bool{}, map[string]bool{}
		for i, shop := range e.Pack.Trade.Shops {
			s, err := e.ShopSheet(a, i)
			if err != nil {
				t.Fatal(err)
			}
			var sum measure.Hours
			for _, w := range s.Work {
				sum += w.Hours
				if len(w.For) == 0 || w.Hours < 0 {
					t.Errorf("%s, %s: %+v", name, shop.ID, w)
				}
			}
			if sum != s.Hours.Total {
				t.Errorf("%s: the operations of %s take %v h, the shop %v", name, shop.ID, sum, s.Hours.Total)
			}
			for _, m := range s.Materials {
				for _, p := range m.Parts {
					materials[p.For+" "+p.Material] = true
				}
				if slices.Contains(m.Others, shop.Title) || len(m.Parts) == 0 {
					t.Errorf("%s, %s: %s with %v", name, shop.ID, m.For, m.Others)
				}
			}
			if (s.Loom != nil) != (shop.ID == "electrical") || (s.Laminates != nil) != (shop.ID == "lamination") || shop.ID != "canvas-shop" && shop.ID != "frame-shop" && len(s.Cuts) > 0 {
				t.Errorf("%s: %s has lists of others", name, shop.ID)
			}
			for _, c := range s.Cuts {
				cut[c.ID] = true
				if name == "osier-76-fullest" && (c.ID == "panes") != (shop.ID == "frame-shop") { // rigid windows: the frame shop's alone
					t.Errorf("%s: %s cuts %s", name, shop.ID, c.ID)
				}
			}
			for _, p := range s.Pictures {
				if strings.HasPrefix(p.ID, "loom") != (shop.ID == "electrical") || strings.HasPrefix(p.ID, "cut-") && !slices.ContainsFunc(s.Cuts, func(c quote.CutPart) bool { return "cut-"+c.ID == p.ID }) {
					t.Errorf("%s: %s has the drawing %s", name, shop.ID, p.ID)
				}
			}
		}
		for _, c := range y.Cuts {
			if !cut[c.ID] {
				t.Errorf("%s: no shop cuts %s", name, c.ID)
			}
		}
		worked := map[string]bool{}
		for _, w := range y.Work {
			worked[w.For] = true
		}
		for _, m := range y.Materials {
			if worked[m.For] && !materials[m.For+" "+m.Material] {
				t.Errorf("%s: no shop has %s for %s", name, m.Material, m.For)
			}
		}
	}
	if _, err := e.FindShop("canvas-shp"); err == nil || !strings.Contains(err.Error(), `did you mean "canvas-shop"?`) {
		t.Errorf("an unknown shop: %v", err)
	}
	show := demo()[pack.Show]
	if s, err := show.ShopSheet(answer(t, show, demoSpecs(t)["export"]), 0); s != nil || err != nil {
		t.Errorf("the show has a sheet %+v, %v", s, err)
	}
}

// Labels at the bank state the voltage that a charger puts on it, too.
func TestWarningLabels(t *testing.T) {
	e := demo()[pack.Yard]
	list := e.YardSheet(answer(t, e, bound("sedge-46", "de"))).Papers.Warnings
	if len(list) != 4 || !strings.Contains(list[0], "V DC, up to ") || !strings.Contains(list[1], "At the fuse, Motor: ") || !strings.Contains(list[2], "At the fuse, Lead of the bank: ") {
		t.Errorf("the labels are %q", list)
	}
	little := small()[pack.Yard]
	if list := little.YardSheet(answer(t, little, teasel(t))).Papers.Warnings; list != nil {
		t.Errorf("a boat without a bank has the labels %q", list)
	}
}

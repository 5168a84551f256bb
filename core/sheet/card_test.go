package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// parts are all materials that an operation takes.
func parts(w sheet.CardWork) (list []sheet.CardMaterial) {
	for _, m := range w.Materials {
		list = append(list, m.Parts...)
	}
	return list
}

// Every material of a boat stands on exactly one card, with the operation that takes it: what all cards hold together
// is what is bought, and no card has what another shop's operation takes. Pieces are whole.
func TestEveryMaterialIsOnTheCardOfItsShop(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	shopOf := map[string]int{}
	for _, op := range e.Pack.Costs.Operations {
		shopOf[op.Title] = op.Shop
	}
	for name, s := range enginetest.ManyBoats(t, e, 1) {
		a := enginetest.Answer(t, e, s)
		sheets := map[string]measure.Quantity{}
		for i, shop := range e.Pack.Costs.Shops {
			one, err := sheet.ForShop(e, a, i, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range one.Work {
				for _, p := range parts(w) {
					sheets[p.Material] += p.Used
					if shopOf[w.Title] != i || measure.Counted(p.Unit) && p.Used%1_000_000 != 0 {
						t.Errorf("%s: %s of %s takes %s %s of %s", name, w.Title, shop.ID, p.Used, p.Unit, p.Title)
					}
				}
			}
		}
		for _, p := range a.Cost.Purchases {
			id := e.Pack.Costs.Materials[p.Material].ID
			if sheets[id] != p.Used {
				t.Errorf("%s: %s of %s are bought, and the sheets hold %s", name, p.Used, id, sheets[id])
			}
			delete(sheets, id)
		}
		if len(sheets) > 0 {
			t.Errorf("%s: on a sheet and not bought: %v", name, sheets)
		}
	}
}

// What a foreman would look for, read from the book by hand: who wets glass, who pulls cable, who sews, and that nobody
// else does.
func TestMaterialsOfTheBaseBoat(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)["osier-76-fullest"])
	for material, shops := range map[string][]string{
		"wax-mould": {"moulding"}, "glass-csm-450": {"lamination"}, "resin-ortho": {"lamination"},
		"foam-stringer-60": {"lamination"}, "cleaner-degreaser": {"bottom-paint"},
		"adhesive-joint": {"assembly"}, "battery-house-18": {"electrical"}, "fuse-way-blade": {"electrical"},
		"conduit-base-25": {"electrical"}, "plate-hull-number": {"despatch"},
	} {
		var found []string
		for i, shop := range e.Pack.Costs.Shops {
			one, err := sheet.ForShop(e, a, i, nil)
			if err != nil {
				t.Fatal(err)
			}
			takes := func(m sheet.CardMaterials) bool {
				return m.For == "Base boat" && slices.ContainsFunc(m.Parts,
					func(p sheet.CardMaterial) bool { return p.Material == material })
			}
			if slices.ContainsFunc(one.Work, func(w sheet.CardWork) bool {
				return slices.ContainsFunc(w.Materials, takes)
			}) {
				found = append(found, shop.ID)
			}
		}
		if !slices.Equal(found, shops) {
			t.Errorf("%s stands on the cards of %q, want %q", material, found, shops)
		}
	}
}

// No operation stands on a card before one that it comes after, be it through others that this boat does not have.
func TestOperationsStandAsTheyAreDone(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	ops, byTitle := e.Pack.Work.Operations, map[string]int{}
	for i, op := range e.Pack.Costs.Operations {
		byTitle[op.Title] = i
	}
	var waits func(op, on int) bool
	waits = func(op, on int) bool {
		return slices.ContainsFunc(ops[op].After, func(a pack.Predecessor) bool {
			return a.Operation == on || waits(a.Operation, on)
		})
	}
	for name, s := range enginetest.ManyBoats(t, e, 2) {
		a := enginetest.Answer(t, e, s)
		var all []int
		for _, w := range sheet.ForYard(e, a, quote.Details{}).Work {
			all = append(all, byTitle[w.Operation])
		}
		lists := map[string][]int{"the whole boat": all}
		for i, shop := range e.Pack.Costs.Shops {
			one, err := sheet.ForShop(e, a, i, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range one.Work {
				if op, ok := byTitle[w.Title]; ok {
					lists[shop.ID] = append(lists[shop.ID], op)
				}
			}
		}
		for of, list := range lists {
			for i, first := range list {
				for _, later := range list[i+1:] {
					if first != later && waits(first, later) {
						t.Fatalf("%s, %s: %q stands before %q, after which it is done", name, of,
							e.Pack.Costs.Operations[first].Title,
							e.Pack.Costs.Operations[later].Title)
					}
				}
			}
		}
	}
}

// The cards of all shops together hold every hour of the boat, and each has only its own lists and drawings.
func TestJobCards(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for _, name := range []string{"osier-76-fullest", "extras-and-discount", "sedge-46-plainest"} {
		a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)[name])
		y := sheet.ForYard(e, a, quote.Details{})
		cut := map[string]bool{}
		for i, shop := range e.Pack.Costs.Shops {
			s, err := sheet.ForShop(e, a, i, nil)
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
			if (s.Loom != nil) != (shop.ID == "electrical") || (s.Laminates != nil) != (shop.ID == "lamination") ||
				shop.ID != "canvas-shop" && shop.ID != "frame-shop" && len(s.Cuts) > 0 {
				t.Errorf("%s: %s has lists of others", name, shop.ID)
			}
			for _, c := range s.Cuts {
				cut[c.ID] = true
				// rigid windows: the frame shop's alone
				if name == "osier-76-fullest" && (c.ID == "panes-rigid") != (shop.ID == "frame-shop") {
					t.Errorf("%s: %s cuts %s", name, shop.ID, c.ID)
				}
			}
			for _, p := range s.Pictures {
				if strings.HasPrefix(p.ID, "loom") != (shop.ID == "electrical") || strings.HasPrefix(p.ID, "cut-") &&
					!slices.ContainsFunc(s.Cuts, func(c sheet.CutPart) bool { return "cut-"+c.ID == p.ID }) {
					t.Errorf("%s: %s has the drawing %s", name, shop.ID, p.ID)
				}
			}
		}
		for _, c := range y.Cuts {
			if !cut[c.ID] {
				t.Errorf("%s: no shop cuts %s", name, c.ID)
			}
		}
	}
	if _, err := e.FindShop("canvas-shp"); err == nil || !strings.Contains(err.Error(), `did you mean "canvas-shop"?`) {
		t.Errorf("an unknown shop: %v", err)
	}
	show := enginetest.Demo()[pack.Show]
	s, err := sheet.ForShop(show, enginetest.Answer(t, show, enginetest.DemoSpecs(t)["export"]), 0, nil)
	if s != nil || err != nil {
		t.Errorf("the show has a card %+v, %v", s, err)
	}
}

// Labels at the bank state the voltage that a charger puts on it, too.
func TestWarningLabels(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	list := msg.English.Texts(sheet.ForYard(e, enginetest.Answer(t, e, bound("sedge-46", "de")),
		quote.Details{}).Papers.Warnings)
	if len(list) != 4 || !strings.Contains(list[0], "V DC, up to ") ||
		!strings.Contains(list[1], "At the fuse, Motor: ") ||
		!strings.Contains(list[2], "At the fuse, Lead of the bank: ") {
		t.Errorf("the labels are %q", list)
	}
	little := enginetest.Small()[pack.Yard]
	list = msg.English.Texts(sheet.ForYard(little, enginetest.Answer(t, little, enginetest.Teasel(t)),
		quote.Details{}).Papers.Warnings)
	if list != nil {
		t.Errorf("a boat without a bank has the labels %q", list)
	}
}

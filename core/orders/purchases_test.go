package orders_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
)

// What is bought and in stock is what the boats still take: nothing is bought twice, and the stock is used once.
func TestPurchasesCoverNeeds(t *testing.T) {
	l := demoLoad(t)
	p, err := l.Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	stock := orders.Stock{}
	all := p.Purchases(nil)
	for i, b := range all {
		if i%3 == 0 {
			stock[b.Material] = b.Needed / 2
		}
		if i%3 == 1 {
			stock[b.Material] = b.Needed
		}
	}
	with := map[string]orders.Purchase{}
	for _, b := range p.Purchases(stock) {
		with[b.Material] = b
	}
	for i, b := range all {
		var needed, lacking measure.Quantity
		for _, n := range b.Needs {
			needed += n.Quantity
			lacking += n.Lacking
		}
		if needed != b.Needed || lacking != b.Buy || b.Buy != b.Needed {
			t.Errorf("%s: %v needed, %v lacking, buy %v of %v", b.Material, needed, lacking, b.Buy, b.Needed)
		}
		if b.Packs > 0 && (b.Pack*measure.Quantity(b.Packs) < b.Buy || b.Pack*measure.Quantity(b.Packs-1) >= b.Buy) {
			t.Errorf("%s: %d packs of %v for %v", b.Material, b.Packs, b.Pack, b.Buy)
		}
		if i > 0 && b.OrderBy.Before(all[i-1].OrderBy) {
			t.Errorf("%s, to be ordered by %v, comes after %v", b.Material, b.OrderBy, all[i-1].OrderBy)
		}
		w, ok := with[b.Material]
		switch i % 3 {
		case 0:
			if want := b.Needed - b.Needed/2; w.Buy != want || w.OrderBy.Before(b.OrderBy) {
				t.Errorf("%s with half in stock: buy %v by %v, want %v", b.Material, w.Buy, w.OrderBy, want)
			}
		case 1:
			if ok {
				t.Errorf("%s is in stock, and is bought", b.Material)
			}
		}
	}
	// together the boats reach a price by quantity that none of them reaches alone
	broken := 0
	for _, b := range all {
		m := materialOf(t, b.Material)
		if got := b.Price; !got.Equal(m.CostOf(b.Bought())) || !b.Amount.Equal(got.Scaled(int64(b.Bought()), -6)) {
			t.Errorf("%s: %v at %v are %v", b.Material, b.Bought(), b.Price, b.Amount)
		}
		if len(m.Breaks) > 0 && b.Price.Equal(m.Breaks[0].Price) {
			broken++
		}
	}
	if broken == 0 {
		t.Error("twelve boats reach no price by quantity")
	}
	if len(all) < 50 {
		t.Errorf("twelve boats buy %d materials", len(all))
	}
}

// Good rows of a stock are kept whatever is wrong with others.
func TestStock(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	id := e.Pack.Costs.Materials[0].ID
	other := e.Pack.Costs.Materials[1].ID
	s, faults, err := orders.ReadStock(
		[]byte("Material;Quantity;Shelf\n"+id+";2,5;A\n"+other+";-1;B\n"+id+";1;C\nfairy-dust;3;D\n"),
		e,
	)
	if err != nil || len(s) != 1 || s[id].String() != "2.5" {
		t.Fatal(s, err)
	}
	for i, want := range []string{"line 3: -1 of " + other, "line 4: " + id + " stands in the list already",
		`line 5: the book has no material "fairy-dust"`} {
		if !strings.Contains(faults[i].Error(), want) || !strings.HasPrefix(faults[i].Error(), "reading a stock: ") {
			t.Errorf("%v; want %s", faults[i], want)
		}
	}
	if _, _, err := orders.ReadStock([]byte("thing,number\n"), e); err == nil ||
		!strings.HasPrefix(err.Error(), "reading a stock: line 1") {
		t.Error(err)
	}
}

// materialOf is a material of the demo book.
func materialOf(t *testing.T, id string) *pack.Material {
	t.Helper()
	list := enginetest.Demo()[pack.Yard].Pack.Costs.Materials
	i := slices.IndexFunc(list, func(m pack.Material) bool { return m.ID == id })
	if i < 0 {
		t.Fatalf("the book has no material %s", id)
	}
	return &list[i]
}

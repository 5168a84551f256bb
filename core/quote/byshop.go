package quote

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/suggest"
)

// ShopSheet is what the foreman of one shop needs of a boat: operations, materials, and the drawings and lists that the book gives the shop.
// There is no money in it.
type ShopSheet struct {
	Shop      string
	Hull      string
	Spec      string // digest
	Edition   pack.Edition
	Clashes   []string
	Hours     ShopHours
	Work      []ShopWork
	Materials []ShopMaterials
	Parts     *ShopParts // nil where the shop does not get them, as the next three
	Laminates *LaminateSheet
	Cuts      []CutPart
	Circuits  []CircuitPart
	Loom      *LoomPart
	Pictures  []Picture
}

// ShopWork is an operation of the shop with all that it is for.
type ShopWork struct {
	Operation string
	For       []string
	Hours     measure.Hours
}

// ShopMaterials are the materials of one item that the shop works on. Where others work on it too, Others names them: they have the same list.
type ShopMaterials struct {
	For    string
	Others []string
	Parts  []MaterialPart
}

// FindShop is the index of a shop by its identifier.
func (e *Engine) FindShop(id string) (int, error) {
	if i, ok := e.shops[id]; ok {
		return i, nil
	}
	list := keys(e.shops)
	return 0, fmt.Errorf("choosing a shop: there is no %.40q; %s", id, suggest.Nearest(id, list, "the shops are "+strings.Join(list, ", ")))
}

// ShopSheet makes the sheet of a shop by its index; nil on the desks without hours by shop.
func (e *Engine) ShopSheet(a *Answer, shop int) (*ShopSheet, error) {
	if e.Pack.Desk != pack.Yard {
		return nil, nil
	}
	y, def := e.YardSheet(a), &e.Pack.Trade.Shops[shop]
	s := &ShopSheet{Shop: def.Title, Hull: y.Hull, Spec: y.Spec, Edition: y.Edition, Clashes: y.Clashes, Hours: y.Shops[shop], Work: e.shopWork(a, shop), Materials: e.shopMaterials(a, y, shop)}
	gets := func(paper string) bool { return slices.Contains(def.Papers, paper) }
	s.Parts = y.Parts.only(gets)
	if gets("laminates") {
		s.Laminates = y.Laminates
	}
	for _, c := range y.Cuts {
		if slices.Contains(e.cutters(a, c), shop) {
			s.Cuts = append(s.Cuts, c)
		}
	}
	if gets("loom") {
		s.Circuits, s.Loom = y.Circuits, y.Loom
	}
	pictures, err := e.ForYard(a.Build)
	for _, p := range pictures {
		kind, cut, _ := strings.Cut(p.ID, "-")
		if gets(kind) || kind == "cut" && slices.ContainsFunc(s.Cuts, func(c CutPart) bool { return c.ID == cut }) {
			s.Pictures = append(s.Pictures, p)
		}
	}
	return s, err
}

// shopWork are the operations of a shop in the order of the book, then its hours on free lines.
func (e *Engine) shopWork(a *Answer, shop int) (list []ShopWork) {
	for i, op := range e.Pack.Trade.Operations {
		w := ShopWork{Operation: op.Title}
		for _, l := range a.Cost.Labour {
			if l.Operation == i && l.Shop == shop {
				w.Hours += l.Hours
				w.For = append(w.For, e.itemTitle(l.Item))
			}
		}
		if len(w.For) > 0 {
			list = append(list, w)
		}
	}
	for _, x := range a.Cost.Extras {
		if h := x.Hours[shop]; h > 0 {
			list = append(list, ShopWork{x.Title, []string{"free line"}, h})
		}
	}
	return list
}

// cutters are the shops that get a layout: of those that work on the option at whose stock it lies, the ones that the book gives layouts, or else all of them; where none
// works on it, as on a cloth whose hours stand at what is sewn of it, those that the book gives layouts.
func (e *Engine) cutters(a *Answer, c CutPart) (shops []int) {
	works, both := shopsOf(a)[c.option], []int{}
	for i, def := range e.Pack.Trade.Shops {
		if !slices.Contains(def.Papers, "cuts") {
			continue
		}
		shops = append(shops, i)
		if slices.Contains(works, i) {
			both = append(both, i)
		}
	}
	switch {
	case len(both) > 0:
		return both
	case len(works) > 0:
		return works
	}
	return shops
}

// shopsOf are the shops that work on each item.
func shopsOf(a *Answer) map[int][]int {
	works := map[int][]int{}
	for _, l := range a.Cost.Labour {
		if !slices.Contains(works[l.Item], l.Shop) {
			works[l.Item] = append(works[l.Item], l.Shop)
		}
	}
	return works
}

// shopMaterials are the materials of the items on which a shop works: the book keeps materials by item and not by operation.
func (e *Engine) shopMaterials(a *Answer, y *YardSheet, shop int) (list []ShopMaterials) {
	works := shopsOf(a)
	at := map[int]int{}
	for i, l := range a.Cost.Materials {
		if !slices.Contains(works[l.Item], shop) {
			continue
		}
		if _, ok := at[l.Item]; !ok {
			at[l.Item] = len(list)
			m := ShopMaterials{For: e.itemTitle(l.Item)}
			for _, other := range works[l.Item] {
				if other != shop {
					m.Others = append(m.Others, e.Pack.Trade.Shops[other].Title)
				}
			}
			list = append(list, m)
		}
		m := &list[at[l.Item]]
		m.Parts = append(m.Parts, y.Materials[i])
	}
	return list
}

// warningLabels are what labels at bank and cables say, so that a stranger knows the voltage before he opens a cover.
//
// Source: common practice, no source; the standards for electric boats and the rules of her waters say what must stand there.
func (e *Engine) warningLabels(b *fit.Build) []string {
	v := e.look(b)
	volts, kwh := v.total("bank_v"), v.total("bank_kwh")
	if !(volts > 0) {
		return nil
	}
	highest := volts
	circuits, _ := e.sizedCircuits(b)
	for i := range circuits {
		c := &circuits[i].Computed.Circuit
		highest = max(highest, c.Volts, c.Peak)
	}
	list := []string{fmt.Sprintf("At the cover of the bank: “Battery %g V DC, up to %g V, %g kWh. Disconnect before work. Qualified persons only.”", rounded(volts, 1), rounded(highest, 1), rounded(kwh, 1))}
	for i := range circuits {
		if s := &circuits[i]; figures.ReadsCircuit(&e.Pack.Circuits[s.index]) {
			what := "At the fuse"
			if s.count > 1 {
				what = fmt.Sprintf("At each of the %d fuses", s.count)
			}
			c, interrupts := &s.Computed.Circuit, ""
			if s.Fuse.KiloAmps > 0 {
				interrupts = fmt.Sprintf(", interrupting %g kA", s.Fuse.KiloAmps)
			}
			list = append(list, fmt.Sprintf("%s, %s: “%g V DC, fuse %g A%s. Replace by the same only.”", what, c.Name, rounded(c.Volts, 1), s.Fuse.Amps, interrupts))
		}
	}
	return append(list, "Proposals, common practice, no source: the standards for electric boats and the rules of her waters say what must stand there.")
}

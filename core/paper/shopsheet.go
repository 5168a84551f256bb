//go:build !buyer

package paper

import (
	"errors"
	"strings"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/sheet"
)

// shopSheet is what the foreman of one shop works by. There is no money in it.
var shopSheet = Paper{
	ID:      "shop-sheet",
	ForYard: true,
	Formats: []Format{AsText, AsHTML},
	OnPage:  []Format{AsHTML, AsText},
	Gather: func(s *Source, e *engine.Engine, a *engine.Answer, shop string) error {
		// by identifier: a title may change with the language
		i, err := e.FindShop(shop)
		if err != nil {
			return err
		}
		if s.Shop, err = sheet.ForShop(e, a, i); err == nil && s.Shop == nil {
			err = errors.New("making the sheet of a shop: this desk knows no hours; ask the yard's")
		}
		return err
	},
	Build: func(s *Source) *doc.Doc { return s.shopSheet(s.Shop) },
}

// shopSheet goes from what is done to what it takes, then what is cut and laid up, then the drawings. What the shop
// does not get is nil in its sheet and leaves no title behind. The caution stands on every sheet, since each is handed
// out by itself.
func (s *Source) shopSheet(shop *sheet.Shop) *doc.Doc {
	subject, remarks := s.subject()
	// the shop at the head, since a foreman looks for his own sheet in a pile
	blocks := []doc.Block{
		doc.Letterhead{Name: shop.Shop, Address: []string{subject}, Note: remarks},
		doc.Heading(shop.Hull),
		s.clashes(shop.Clashes),
		s.operations(shop),
		s.materials(shop.Materials),
	}
	blocks = append(blocks, s.partSections(shop.Parts)...)
	blocks = append(blocks, s.laminates(shop.Laminates), s.cuts(shop.Cuts))
	blocks = append(blocks, s.loomSections(shop.Loom, shop.Circuits)...)
	blocks = append(blocks, drawings(shop.Pictures), s.caution(), doc.Footer{s.colophon(shop.Edition, shop.Spec)})
	return &doc.Doc{Title: s.named(shop.Shop, shop.Hull), Foot: s.foot(shop.Shop, shop.Hull), Dense: true,
		Blocks: blocks}
}

// operations stand as they are done, each with what it is for.
func (s *Source) operations(shop *sheet.Shop) doc.Section {
	// of the shop alone; what the boat takes in all is a matter of the office
	total := row(s.Say("paper.total"), doc.Hours(shop.Hours.Total))
	total.Style = "total"
	return titled(s.Say("paper.operations"), "", doc.Table{
		Columns: columns(s.Say("paper.operation"), s.Say("paper.hours")),
		Groups: doc.Rows(shop.Work, func(w sheet.ShopWork) doc.Row {
			// what it is for is small beside it: the man knows the operation, and looks which options it has today
			return doc.Row{Label: w.Operation, Detail: strings.Join(w.For, "; "), Cells: []doc.Cell{doc.Hours(w.Hours)}}
		}),
		Foot: []doc.Row{total}})
}

// materials are what each operation takes, item by item.
func (s *Source) materials(list []sheet.ShopMaterials) doc.Section {
	// under the operation that takes it, so that the store can hand it out when that begins
	t := doc.Table{Columns: columns(s.Say("paper.material"), s.Say("paper.used"))}
	for _, m := range list {
		g := doc.Group{Title: m.Operation, Sub: m.For}
		for _, p := range m.Parts {
			g.Rows = append(g.Rows, row(s.material(p), doc.Used(p.Used, p.Unit)))
		}
		t.Groups = append(t.Groups, g)
	}
	return titled(s.Say("paper.materials"), "", t)
}

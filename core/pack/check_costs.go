package pack

import (
	"math"

	"ribband/core/formula"
	"ribband/core/measure"
)

// costs checks what prices follow from. Nothing of it may be below zero: a negative cost would turn a margin into a
// gift.
func (c *checker) costs(k *Costs) {
	if k.PriceStep.Sign() <= 0 {
		c.fail("the price step is not above zero")
	}
	if len(k.Hulls) != len(c.pack.Hulls) || len(k.Options) != len(c.pack.Options) {
		c.fail("costs of %d hulls and %d options", len(k.Hulls), len(k.Options))
	}
	for _, o := range k.Operations {
		c.shopOf(k, &o)
	}
	for _, m := range k.Materials {
		if m.Unit == "" || m.Cost.Sign() < 0 || m.Waste.Sign() < 0 || m.Pack.Sign() < 0 {
			c.fail("material %s has no unit or something negative", m.ID)
		}
		least := measure.Quantity(0)
		for _, b := range m.Breaks {
			if b.Least <= least || b.Price.Sign() < 0 {
				c.fail("the prices of material %s by quantity are not in order", m.ID)
			}
			least = b.Least
		}
	}
	c.kept(k)
	for i := range k.Hulls {
		c.item(k, &k.Hulls[i])
	}
	for i := range k.Options {
		c.item(k, &k.Options[i])
	}
	c.cuts(k)
}

// shopOf checks that a shop does an operation, or a supplier at a price.
func (c *checker) shopOf(k *Costs, o *Operation) {
	if o.Outside == nil {
		c.index("shop of "+o.ID, o.Shop, len(k.Shops))
		return
	}
	if _, ok := measure.UnitOf(o.Outside.Unit); !ok || o.Outside.Price.Sign() < 0 || o.Shop != NoShop {
		c.fail("the outside work %s has a shop, an unknown unit or a price below zero", o.ID)
	}
}

// at checks a place in the book: only the work tells what stands there.
func (c *checker) at(at int) {
	if w := c.pack.Work; w != nil {
		c.index("source", at, len(w.Sources))
	}
}

// item checks what one takes, and that there is exactly one way to its price.
func (c *checker) item(k *Costs, item *BillOfMaterials) {
	c.at(item.At)
	for i := range item.Materials {
		c.material(k, &item.Materials[i])
	}
	for _, n := range item.Operations {
		c.index("operation", n.Index, len(k.Operations))
		c.at(n.At)
		c.program("hours", n.Amount, formula.Number, false)
	}
	for _, l := range item.List {
		c.at(l.At)
		c.program("a price", l.Per, formula.Number, true)
	}
	methods := 0
	for _, m := range []*Method{item.Margin, item.Markup} {
		if m != nil {
			methods++
			c.at(m.At)
		}
	}
	if m := item.Margin; m != nil && m.Rate.Complement().Sign() <= 0 {
		c.fail("a margin is %s", m.Rate)
	}
	if len(item.List) > 0 && methods > 0 || len(item.List) == 0 && methods != 1 {
		c.fail("an item has no price, or more than one")
	}
}

// material checks what an item takes of a material: a formula, a cut or a circuit, and no two of them.
func (c *checker) material(k *Costs, n *BOMLine) {
	if n.Circuit == nil || n.Index != -1 {
		c.index("material", n.Index, len(k.Materials))
	}
	c.at(n.At)
	ways := 0
	if !n.Amount.Empty() {
		ways++
		c.program("a quantity", n.Amount, formula.Number, false)
	}
	if n.Cut != nil {
		ways++
		c.index("cut", n.Cut.Cut, len(k.Cuts))
		if c.err == nil {
			c.index("stock of cut "+k.Cuts[n.Cut.Cut].ID, n.Cut.Stock, len(k.Cuts[n.Cut.Cut].Stocks))
		}
	}
	if n.Circuit != nil {
		ways++
		c.index("circuit", n.Circuit.Circuit, len(c.pack.Circuits))
		c.part(n.Circuit.Part)
	}
	if ways == 0 {
		c.fail("a quantity has no formula, cut or circuit")
	}
	if ways > 1 {
		c.fail("a quantity is measured in %d ways", ways)
	}
}

// part checks that the stock has what is taken of a circuit.
func (c *checker) part(p Part) {
	s := &c.pack.Stock
	kept, known := map[Part]int{Wire: len(s.Sections), Fuse: len(s.Fuses), Holder: len(s.Fuses), Spare: len(s.Fuses),
		Switch: len(s.Switches)}[p]
	if !known || kept == 0 {
		c.fail("the stock has nothing for the part %.40q of a circuit", p)
	}
}

// kept checks the materials of what the yard keeps. They stand beside the sizes of the public part, one for one: what a
// buyer's page chooses by size is what the yard buys.
func (c *checker) kept(k *Costs) {
	s := &c.pack.Stock
	for _, list := range []struct {
		what  string
		kept  []int
		sizes int
		least int
	}{{"cable", k.Kept.Cables, len(s.Sections), 0}, {"fuse", k.Kept.Fuses, len(s.Fuses), 0},
		{"fuse holder", k.Kept.Holders, len(s.Fuses), -1}, {"battery switch", k.Kept.Switches, len(s.Switches), 0}} {
		if len(list.kept) != list.sizes {
			c.fail("%d materials of a %s, want %d", len(list.kept), list.what, list.sizes)
		}
		for _, m := range list.kept {
			if m != list.least {
				c.index("material of a "+list.what, m, len(k.Materials))
			}
		}
	}
}

// cuts checks stocks and pieces. A roll without a width, or one of a kilometre, would keep the layout busy for ever.
func (c *checker) cuts(k *Costs) {
	length := func(id string, mm float64, least float64) {
		if math.IsNaN(mm) || mm < least || mm > 1e6 {
			c.fail("cut %s has a length of %v mm", id, mm)
		}
	}
	for _, cut := range k.Cuts {
		length(cut.ID, cut.SeamMm, 0)
		for _, s := range cut.Stocks {
			for _, o := range s.Options {
				c.index("option of cut "+cut.ID, o, len(c.pack.Options))
			}
			length(cut.ID, s.WidthMm, 1e-3)
			length(cut.ID, s.LengthMm, 0)
			length(cut.ID, s.KerfMm, 0)
		}
		for _, p := range cut.Pieces {
			c.panels(cut.ID, &p, len(cut.Stocks))
			c.program("a width of cut "+cut.ID, p.WidthMm, formula.Number, len(p.Panels) > 0)
			c.program("a length of cut "+cut.ID, p.LengthMm, formula.Number, len(p.Panels) > 0)
			c.program("an allowance of cut "+cut.ID, p.AllowanceMm, formula.Number, true)
			c.program("a count of cut "+cut.ID, p.Count, formula.Number, true)
			c.at(p.At)
		}
	}
}

// panels checks that a piece has panels on every hull for every stock, or none at all.
func (c *checker) panels(id string, p *CutPiece, stocks int) {
	sound := len(p.Panels) == 0 || len(p.Panels) == len(c.pack.Hulls)*stocks
	for _, list := range p.Panels {
		sound = sound && len(list) > 0
		for _, s := range list {
			sound = sound && min(s.WidthMm, s.LengthMm, s.AreaMm2) > 0 && max(s.WidthMm, s.LengthMm) <= 1e6
		}
	}
	if !sound {
		c.fail("a piece of cut %s lacks a size on some hull", id)
	}
}

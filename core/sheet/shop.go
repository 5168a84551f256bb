package sheet

import (
	"slices"

	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/works"
)

// Shop is what the foreman of one shop needs of a boat: operations, materials, and the drawings and lists that the
// book gives the shop. There is no money in it.
type Shop struct {
	Shop      string // title, like Hull
	Hull      string
	Spec      string // digest of what was chosen
	Edition   pack.Edition
	Clashes   []string
	Hours     ShopHours
	Work      []ShopWork      // as it is done, then extra items
	Materials []ShopMaterials // in the order of the work that takes them
	Parts     *ShopParts      // nil where the shop does not get them, as the next three
	Laminates *LaminateSheet
	Cuts      []CutPart
	Circuits  []CircuitPart
	Loom      *LoomPart
	Pictures  []look.Picture
}

// ShopWork is an operation of the shop with all that it is for.
type ShopWork struct {
	Operation string   // title; of an extra item its own
	For       []string // in the words of the shop, one by one
	Hours     measure.Hours
}

// ShopMaterials are what one operation of the shop takes for one item.
type ShopMaterials struct {
	Operation string
	For       string
	Parts     []ShopMaterial
}

// ShopMaterial is a material as it is taken from the store, with its waste. Several lines of the book that take the
// same one for the same work are one.
type ShopMaterial struct {
	Material string // identifier
	Title    string
	Unit     string // a word of package measure, of both quantities
	Used     measure.Quantity
	Pack     measure.Quantity // in which it is sold; 0 where it is sold by the unit
}

// ForShop makes the sheet of a shop by its index; nil on the desks without hours by shop.
func ForShop(e *engine.Engine, a *engine.Answer, shop int) (*Shop, error) {
	if !e.Pack.Can(pack.Sheets) {
		return nil, nil
	}
	// a part of the yard's own sheet, so that a foreman and the office never read two numbers for one thing
	y, papers := ForYard(e, a, quote.Details{}), e.Pack.Work.Shops[shop].Papers
	s := &Shop{Shop: e.Work.Shops[shop].Title, Hull: y.Hull, Spec: y.Spec, Edition: y.Edition, Clashes: y.Clashes,
		Hours: y.Shops[shop], Work: shopWork(e, a.Work, shop), Materials: shopMaterials(e, a, shop)}
	gets := func(paper string) bool { return slices.Contains(papers, paper) }
	s.Parts = shopParts(e, a, func(l *cost.MaterialLine) bool { return takes(e, shop, l) }).only(gets)
	if gets("laminates") {
		s.Laminates = y.Laminates
	}
	// layouts follow the work that takes what is cut, whatever papers the book gives the shop
	for _, c := range y.Cuts {
		if slices.Contains(cutters(e, &c), shop) {
			s.Cuts = append(s.Cuts, c)
		}
	}
	if gets("loom") {
		s.Circuits, s.Loom = y.Circuits, y.Loom
	}
	var err error
	s.Pictures, err = shopPictures(e, a.Build, s.Cuts, gets)
	return s, err
}

// takes says whether a line of material is taken by an operation of a shop.
func takes(e *engine.Engine, shop int, l *cost.MaterialLine) bool {
	return l.Operation >= 0 && e.Work.Operations[l.Operation].Shop == shop
}

// shopWork are the operations of a shop in the order in which they are done, then the extra items that it has to do
// with.
func shopWork(e *engine.Engine, w *works.Boat, shop int) (list []ShopWork) {
	for _, t := range w.Tasks() {
		switch {
		case t.Shop != shop:
		case t.Operation == works.NoOperation:
			x := &w.Extras[w.Lines[t.Lines[0]].For.Index]
			list = append(list, ShopWork{x.Title, []string{e.Say("sheet.for-extra-item")}, t.Hours})
		default:
			s := ShopWork{Operation: e.Work.Operations[t.Operation].Title, Hours: t.Hours}
			for _, i := range t.Lines {
				s.For = append(s.For, causeTitle(e, w.Lines[i].For))
			}
			list = append(list, s)
		}
	}
	return list
}

// cutters are the shops that get a layout: those whose operations take what is cut of it, or where it feeds no material
// those that the book gives layouts.
func cutters(e *engine.Engine, c *CutPart) (shops []int) {
	for _, n := range e.Pack.Costs.Options[c.option].Materials {
		taker := e.Pack.Taker(n.At)
		if n.Cut == nil || n.Cut.Cut != c.index || taker < 0 {
			continue
		}
		if shop := e.Work.Operations[taker].Shop; !slices.Contains(shops, shop) {
			shops = append(shops, shop)
		}
	}
	if len(shops) > 0 {
		return shops
	}
	// nobody takes a material by it, and somebody has to cut all the same
	for i, def := range e.Pack.Work.Shops {
		if slices.Contains(def.Papers, "cuts") {
			shops = append(shops, i)
		}
	}
	return shops
}

// shopMaterials are what the operations of a shop take, in the order in which they are done.
func shopMaterials(e *engine.Engine, a *engine.Answer, shop int) (list []ShopMaterials) {
	for _, op := range e.Work.Order {
		if e.Work.Operations[op].Shop != shop {
			continue
		}
		at := map[works.Cause]int{} // in the list, of what this operation takes for each
		for i := range a.Cost.Materials {
			l := &a.Cost.Materials[i]
			if l.Operation != op {
				continue
			}
			if _, ok := at[l.For]; !ok {
				at[l.For] = len(list)
				list = append(list, ShopMaterials{Operation: e.Work.Operations[op].Title,
					For: causeTitle(e, l.For)})
			}
			list[at[l.For]].add(&e.Pack.Costs.Materials[l.Material], l.Used)
		}
	}
	return list
}

// add puts a quantity to that of the same material: a storekeeper hands it out once.
func (m *ShopMaterials) add(def *pack.Material, used measure.Quantity) {
	if i := slices.IndexFunc(m.Parts, func(p ShopMaterial) bool { return p.Material == def.ID }); i >= 0 {
		m.Parts[i].Used += used
		return
	}
	m.Parts = append(m.Parts, ShopMaterial{def.ID, def.Title, def.Unit, used, measure.Quantity(def.Pack.Millionths())})
}

// warningLabels are what labels at bank and cables say, so that a stranger knows the voltage before he opens a cover.
//
// Source: common practice, no source; the standards for electric boats and the rules of its waters say what must stand
// there.
func warningLabels(e *engine.Engine, b *fit.Build) []msg.Message {
	volts, kwh := e.Figure(b, figures.BankV), e.Figure(b, figures.BankKWh)
	if !(volts > 0) {
		return nil
	}
	// a charger puts more on the bank than its nominal voltage, and what it puts is what bites
	highest := volts
	circuits, _ := e.SizedCircuits(b)
	for i := range circuits {
		c := &circuits[i].Computed.Circuit
		highest = max(highest, c.Volts, c.Peak)
	}
	// to a tenth, as a voltmeter shows it, and without a zero that says nothing
	number := func(name string, v float64) msg.Arg { return msg.Number(name, measure.Round(v, 1), msg.Exact) }
	list := []msg.Message{msg.New("sheet.label-bank", number("volts", volts), number("highest", highest),
		number("kwh", kwh))}
	for i := range circuits {
		s := &circuits[i]
		if !figures.ReadsCircuit(&e.Pack.Circuits[s.Index]) {
			continue
		}
		c := &s.Computed.Circuit
		says := []msg.Arg{msg.Count("n", s.Count), msg.Text("circuit", c.Name), number("volts", c.Volts),
			msg.Number("amps", s.Fuse.Amps, msg.Exact)}
		// the same amperes with less breaking capacity would burst
		if s.Fuse.KiloAmps > 0 {
			list = append(list, msg.New("sheet.label-fuse-breaking", append(says,
				msg.Number("kiloamps", s.Fuse.KiloAmps, msg.Exact))...))
		} else {
			list = append(list, msg.New("sheet.label-fuse", says...))
		}
	}
	return append(list, msg.New("sheet.labels-source"))
}

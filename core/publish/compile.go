// Package publish makes packs from a book: it checks and lowers every formula, and gives each desk what it may see.
//
// [Compile] makes the yard's pack, which holds everything; [Tabulate] lists its sell prices. [For] makes another desk's
// from it: the show's without suppliers, and the buyer's, which keeps the prices and has no cost, rate, margin or hour
// in it. The package runs natively only.
//
// A book with an error gives no pack at all. What is likely a slip is a warning, found by trying formulas out on the
// standard builds and on each option of its own; what holds of every boat is proved by core/proof, whose findings
// [Prove] brings to their places in the book. It reads no clock and asks no network: the same book gives the same
// packs, to the byte.
package publish

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/formula/source"
	"ribband/core/look"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/suggest"
)

// Compile makes the yard's pack of a book that [book.Book.Validate] found nothing wrong with. It reports every formula
// that is wrong. Lowering is the last time that the text of a formula is read: the pack has it as postfix, which every
// desk runs and none can misread. Names become indices, so that a pack names nothing twice. What is wrong is collected,
// and the compiler goes on, since an owner mends a file at a time.
func Compile(b *book.Book) (*pack.Pack, []book.Diagnostic) {
	c := &compiler{book: inBuildOrder(b), pack: &pack.Pack{Format: pack.Format, Desk: pack.Yard,
		Public: pack.Public{RegionField: -1}, Costs: &pack.Costs{}, Work: &pack.Work{}}}
	// everything has its index before the first formula is lowered: formulas read in all directions
	c.index()
	c.scope = c.formulaScope()
	// each part by itself; what formulas read is known by now
	c.terms()
	c.uses()
	c.figures()
	c.costs()
	c.work()
	c.stock()
	c.hulls()
	c.slots()
	c.rules()
	c.laminates()
	c.cuts()
	c.circuits()
	c.brief()
	// last, since both ask what the lowered formulas read
	c.figureCircle()
	c.yardOnly()
	takeDigests(c.pack)
	return c.pack, c.diagnostics
}

// inBuildOrder is the book with its slots in the order of the sections, whatever the order of the files, and the
// figures that no buyer knows behind the others, where their indices are none of his. Files are read in the order of
// their paths, which says nothing of a boat; papers and page go through it as it is built.
func inBuildOrder(b *book.Book) *book.Book {
	place := map[string]int{}
	// a section that is not there was reported, and counts as the first
	for i, s := range b.Sections {
		place[s.ID.Value] = i
	}
	// the book itself stays as it was read: its digest goes by its own order
	sorted := *b
	sorted.Slots = slices.Clone(b.Slots)
	slices.SortStableFunc(sorted.Slots, func(x, y book.Slot) int {
		return place[x.Section.Value] - place[y.Section.Value]
	})
	last := func(f book.Figure) int {
		if figures.YardOnly(figures.ID(f.Computed.Value)) {
			return 1
		}
		return 0
	}
	sorted.Figures = slices.Clone(b.Figures)
	slices.SortStableFunc(sorted.Figures, func(x, y book.Figure) int { return last(x) - last(y) })
	return &sorted
}

// compiler walks the book once, in its order.
type compiler struct {
	// in build order; what [book.Book.Validate] has checked is relied upon
	book *book.Book
	// the yard's, in the making
	pack *pack.Pack
	// what formulas may name
	scope       *source.Scope
	diagnostics []book.Diagnostic
	// index of each identifier, by kind: those of different kinds may be alike
	ids map[string]map[string]int
}

// error notes what no desk could compute: the compiler has no warnings.
func (c *compiler) error(at book.Position, advice, format string, args ...any) {
	c.diagnostics = append(c.diagnostics, book.Diagnostic{Position: at, Message: fmt.Sprintf(format, args...),
		Advice: advice})
}

// index numbers everything as the pack will. Indices are what a pack is held together by: they count from 0 in the
// order of the book, options through all slots.
func (c *compiler) index() {
	b := c.book
	c.ids = map[string]map[string]int{}
	add := func(kind string, id book.Text) {
		if c.ids[kind] == nil {
			c.ids[kind] = map[string]int{}
		}
		c.ids[kind][id.Value] = len(c.ids[kind])
	}
	for _, x := range b.Sections {
		add("section", x.ID)
	}
	for _, x := range b.HullFields {
		add("hull field", x.ID)
	}
	for _, x := range b.Use {
		add("use", x.ID)
	}
	for _, x := range b.Figures {
		add("figure", x.ID)
	}
	for _, x := range b.Regions {
		add("region", x.ID)
	}
	for _, x := range b.Shops {
		add("shop", x.ID)
	}
	for _, x := range b.Operations {
		add("operation", x.ID)
	}
	for _, x := range b.Materials {
		add("material", x.ID)
	}
	for _, x := range b.Hulls {
		add("hull", x.ID)
	}
	for _, x := range b.Cuts {
		add("cut", x.ID)
	}
	for _, x := range b.Circuits {
		add("circuit", x.ID)
	}
	for _, s := range b.Slots {
		add("slot", s.ID)
		for _, o := range s.Options {
			add("option", o.ID)
		}
	}
}

// formulaScope is what names a formula may read, with their indices.
func (c *compiler) formulaScope() *source.Scope {
	s := &source.Scope{
		Options: map[string]source.Option{}, Slots: map[string]source.Slot{}, Use: map[string]source.Use{},
		Hulls: c.ids["hull"], Hull: c.ids["hull field"], Figures: c.ids["figure"],
	}
	for i, slot := range c.book.Slots {
		s.Slots[slot.ID.Value] = source.Slot{Index: i, Multiple: slot.Choose.Value == "multiple"}
		for _, o := range slot.Options {
			s.Options[o.ID.Value] = source.Option{Index: c.ids["option"][o.ID.Value], Slot: i}
		}
	}
	for i, u := range c.book.Use {
		s.Use[u.ID.Value] = source.Use{Index: i, Choices: c.choices(u)}
	}
	return s
}

// choices are the words that a choice of the use may be, by their index; nil where it is a number.
func (c *compiler) choices(u book.UseField) map[string]int {
	// the regions are asked by the same index for tax and limits
	if u.Choices.FromRegions {
		return c.ids["region"]
	}
	if len(u.Choices.List) == 0 {
		return nil
	}
	m := map[string]int{}
	for i, x := range u.Choices.List {
		m[x.ID.Value] = i
	}
	return m
}

// lower checks a formula of the book and gives its lowered form.
func (c *compiler) lower(f book.Formula, kind formula.Kind) formula.Program {
	// an empty program stands for what the book leaves out: each reader says what that means
	if f.Empty() {
		return formula.Program{}
	}
	// wrong formulas give an empty program, too, so that the compiler can go on; nothing is made of the pack
	p, err := source.Lower(f.Value, c.scope, kind)
	if err != nil {
		c.diagnostics = append(c.diagnostics, book.Diagnostic{Position: f.Position(err.Offset),
			Width: f.Token(err.Offset), Advice: err.Advice,
			Message: fmt.Sprintf("in %q: %s", suggest.Clip(f.Value, 80), err.Message)})
	}
	return p
}

// place registers where something stands, with the text of its formula. The yard's papers name it beside each amount,
// so that an owner finds what a cost comes from.
func (c *compiler) place(at book.Position, text string) int {
	w := c.pack.Work
	w.Sources = append(w.Sources, pack.Source{File: at.File, Line: at.Line, Column: at.Column, Text: text})
	return len(w.Sources) - 1
}

// terms are what papers say and money follows: the yard, the edition, rounding, stages, sections and regions.
func (c *compiler) terms() {
	b, p := c.book, c.pack
	p.Yard = pack.YardInfo{Name: b.Yard.Name.Value, Note: b.Yard.Note.Value, Address: texts(b.Yard.Address),
		Email: b.Yard.Email.Value, Phone: b.Yard.Phone.Value,
		Register: b.Yard.Register.Value, TaxNumber: b.Yard.TaxNumber.Value,
		Bank: pack.Bank{Name: b.Yard.Bank.Name.Value, IBAN: book.GroupedIBAN(b.Yard.Bank.IBAN.Value),
			BIC: b.Yard.Bank.BIC.Value}}
	// the digest is of the book, not of the pack: all desks of one edition have the same
	p.Edition = pack.Edition{Name: b.Edition.Name.Value, Date: b.Edition.Date.Value}
	p.Currency, p.Rounding = b.Currency.Value, money.Mode(b.Rounding.Mode.Value)
	p.ValidityDays = int(b.ValidityDays.Value)
	p.Terms, p.Cautions = texts(b.Terms), texts(b.Cautions)
	p.Delivery, p.Exclusions, p.Warranty, p.Acceptance = texts(b.Delivery), texts(b.Exclusions), texts(b.Warranty),
		b.Acceptance.Value
	for _, s := range b.Stages {
		p.Stages = append(p.Stages, pack.Stage{ID: s.ID.Value, Title: s.Title.Value, Share: s.Share.Value})
	}
	for _, s := range b.Sections {
		p.Sections = append(p.Sections, pack.Section{ID: s.ID.Value, Title: s.Title.Value, Note: s.Note.Value})
	}
	for _, r := range b.Regions {
		p.Regions = append(p.Regions, pack.Region{ID: r.ID.Value, Title: r.Title.Value, TaxName: r.Tax.Name.Value,
			TaxRate: r.Tax.Rate.Value,
			TaxMode: pack.TaxMode(r.Tax.Mode.Value), Condition: r.Tax.Condition.Value, Limits: r.Limits.Value,
			Latitude: r.LatitudeDeg.Value, Sunshine: r.Sunshine.Value})
	}
}

// texts are the values of some texts; nil where there are none, so that the pack leaves them out.
func texts(list []book.Text) []string {
	var out []string
	for _, t := range list {
		out = append(out, t.Value)
	}
	return out
}

// uses are what hulls and buyers state. A choice is held as a number, its index, so that formulas compare numbers
// alone.
func (c *compiler) uses() {
	for _, f := range c.book.HullFields {
		c.pack.HullFields = append(c.pack.HullFields,
			pack.Field{ID: f.ID.Value, Title: f.Title.Value, Unit: f.Unit.Value, Quoted: f.Quoted})
	}
	for i, u := range c.book.Use {
		f := pack.UseField{ID: u.ID.Value, Title: u.Title.Value, Unit: u.Unit.Value, Min: u.Min.Value, Max: u.Max.Value,
			Step: u.Step.Value}
		if choices := c.choices(u); choices != nil {
			f.Standard = float64(choices[u.Standard.Value])
		} else {
			f.Standard, _ = strconv.ParseFloat(u.Standard.Value, 64) // validated with the book
		}
		for _, x := range u.Choices.List {
			// one list or the other: the check of the book allows no third
			f.Choices = append(f.Choices, pack.Choice{ID: x.ID.Value, Title: x.Title.Value})
		}
		if u.Choices.FromRegions {
			c.pack.RegionField = i
			for _, r := range c.book.Regions {
				f.Choices = append(f.Choices, pack.Choice{ID: r.ID.Value, Title: r.Title.Value})
			}
		}
		c.pack.Use = append(c.pack.Use, f)
	}
}

// figures are the numbers of a boat, in the book's order, which is the order of the page; what is computed first is
// settled by package figures.
func (c *compiler) figures() {
	for _, f := range c.book.Figures {
		// a figure of the yard's stands in the costs, which no buyer gets
		list := &c.pack.Public.Figures
		if figures.YardOnly(figures.ID(f.Computed.Value)) {
			list = &c.pack.Costs.Figures
		}
		*list = append(*list, pack.Figure{ID: f.ID.Value, Title: f.Title.Value, Unit: f.Unit.Value,
			Digits: int(f.Digits.Value),
			Hidden: f.Hidden, Quoted: f.Quoted, Compared: f.Compared, Short: f.Short.Value,
			Formula: c.lower(f.Formula, formula.Number), Computed: c.computed(f.Computed)})
	}
	c.pack.Assemble()
}

// computed checks the name of a figure that the program computes. The name chooses a module of the program, as a
// formula chooses its own inputs.
func (c *compiler) computed(name book.Text) string {
	if _, ok := figures.Find(figures.ID(name.Value)); name.Value != "" && !ok {
		var known []string
		for _, d := range figures.Registry() {
			known = append(known, string(d.ID))
		}
		c.error(name.At, suggest.Nearest(name.Value, known, "the computed figures are "+strings.Join(known, ", ")),
			"unknown computed figure %q", name)
	}
	return name.Value
}

// figureCircle reports a figure that depends on itself, by formulas or by what is carried. A computed figure counts
// with what its module reads only where that follows from the book, as circuits do.
func (c *compiler) figureCircle() {
	// a formula that could not be lowered reads nothing, which would hide a circle or make one up
	if len(c.diagnostics) > 0 {
		return
	}
	reads := make([]formula.Reads, len(c.pack.Figures))
	for i, f := range c.pack.Figures {
		reads[i] = f.Formula.Reads()
		if r, ok := figures.CircuitReads(c.pack, figures.ID(f.Computed)); ok {
			reads[i] = r
		}
	}
	carry := func(list []pack.Carry) {
		for _, y := range list {
			reads[y.Figure] = reads[y.Figure].With(y.Amount.Reads())
		}
	}
	for _, h := range c.pack.Hulls {
		carry(h.Carries)
	}
	for _, o := range c.pack.Options {
		carry(o.Carries)
	}
	if i := figures.Circle(reads); i >= 0 {
		c.error(c.book.Figures[i].ID.At, "let one of the figures on the way not read the next",
			"the figure %s depends on itself", c.book.Figures[i].ID)
	}
}

// yardOnly reports what would be another boat on the buyer's desk: formulas that read a figure which is not known
// there. Every desk must judge a boat alike: a boat that the buyer's desk allows and the yard's refuses would be sold.
func (c *compiler) yardOnly() {
	check := func(at book.Position, p formula.Program) {
		for _, i := range p.Reads().Figures {
			if f := &c.pack.Figures[i]; figures.YardOnly(figures.ID(f.Computed)) {
				c.error(at, "let only prices, costs and papers follow from it",
					"the figure %s is not known on the buyer's desk, so nothing of the boat may follow from it", f.ID)
			}
		}
	}
	for i, f := range c.book.Figures {
		check(f.Formula.At, c.pack.Figures[i].Formula)
	}
	for i, r := range c.book.Rules {
		check(r.Need.At, c.pack.Rules[i].Need)
		check(r.Need.At, c.pack.Rules[i].When)
	}
	// options are numbered through all slots
	option := 0
	for i, s := range c.book.Slots {
		check(s.When.At, c.pack.Slots[i].When)
		for _, o := range s.Options {
			for j, y := range o.Carries {
				check(y.Value.At, c.pack.Options[option].Carries[j].Amount)
			}
			option++
		}
	}
	for i, h := range c.book.Hulls {
		for j, y := range h.Carries {
			check(y.Value.At, c.pack.Hulls[i].Carries[j].Amount)
		}
	}
}

// costs are what prices and margins follow from. A buyer's prices are rounded already.
func (c *compiler) costs() {
	b, k := c.book, c.pack.Costs
	k.Maker = pack.Maker{Code: b.Yard.MakerCode.Value, Country: b.Yard.Country.Value}
	k.PriceStep = b.Rounding.PriceStep.Value
	k.OnLabour, k.OnMaterials, k.Contingency = b.Overhead.OnLabour.Value, b.Overhead.OnMaterials.Value,
		b.Contingency.Value
	k.Authority, k.MarginFloor = b.Discounts.Authority.Value, b.Discounts.MarginFloor.Value
	for _, s := range b.Shops {
		k.Shops = append(k.Shops, pack.Shop{ID: s.ID.Value, Title: s.Title.Value, Rate: s.Rate.Value})
	}
	for _, o := range b.Operations {
		k.Operations = append(k.Operations,
			pack.Operation{ID: o.ID.Value, Title: o.Title.Value, Shop: c.ids["shop"][o.Shop.Value]})
	}
	for _, m := range b.Materials {
		// as exact decimals: packs of 0.1 m would else not add up to a metre
		size, err := money.ParseRate(strconv.FormatFloat(m.Pack.Value, 'f', -1, 64))
		if err != nil {
			c.error(m.Pack.At, "write the size with at most nine decimals", "the pack of %s: %v", m.ID, err)
		}
		k.Materials = append(k.Materials, pack.Material{ID: m.ID.Value, Title: m.Title.Value, Unit: m.Unit.Value,
			Cost: m.Cost.Value, Waste: m.Waste.Value, Pack: size, Stock: m.Stock})
	}
}

// work is what the yard alone reads; its lists go along with those of the costs. A customer reads nothing of it: hours
// a week, suppliers, the order of the build, and where each amount stands.
func (c *compiler) work() {
	b, w := c.book, c.pack.Work
	for _, s := range b.Shops {
		w.Shops = append(w.Shops, pack.ShopWork{HoursWeek: s.HoursWeek.Value, Papers: texts(s.Papers)})
	}
	for _, o := range b.Operations {
		var after []int
		for _, a := range o.After {
			after = append(after, c.ids["operation"][a.Value])
		}
		w.Operations = append(w.Operations, after)
	}
	for _, m := range b.Materials {
		w.Supplies = append(w.Supplies, pack.Supply{Supplier: m.Supplier.Value, LeadDays: int(m.LeadDays.Value)})
	}
	w.RatesAt = pack.RatesAt{OnLabour: c.rateAt(b.Overhead.OnLabour), OnMaterials: c.rateAt(b.Overhead.OnMaterials),
		Contingency: c.rateAt(b.Contingency)}
}

// hulls gives each hull in two parts: what a desk shows and computes, and what its base boat costs.
func (c *compiler) hulls() {
	for i, h := range c.book.Hulls {
		fields := c.book.Dimensions(&c.book.Hulls[i])
		c.pack.Hulls = append(c.pack.Hulls, pack.Hull{ID: h.ID.Value, Title: h.Title.Value, Note: h.Note.Value,
			Includes: texts(h.Includes), Fields: fields,
			Carries: c.carries(h.Carries), Standard: c.standard(i), Place: c.placement(h.Place),
			Seats:  c.seats(h.Seats),
			Points: c.points(h.Heights, h.Depths, h.Openings), Offsets: c.offsets(h.ID), Trial: c.trial(h.ID),
			Submerged: h.Submerged.Value})
		// the two lists have one order: a hull and its costs have the same index
		c.pack.Costs.Hulls = append(c.pack.Costs.Hulls,
			c.item(h.At, "", h.Price, h.Margin, h.Markup, h.Materials, h.Operations))
	}
}

// placement lowers where a mass is; nil where the book does not say.
func (c *compiler) placement(p *book.Place) *pack.Place {
	if p == nil {
		return nil
	}
	at := c.at(p.X, p.Y, p.Z)
	at.Outside = p.Outside
	return &at
}

// at lowers a place, m; the aft end, the centre line and the base line are its zero.
func (c *compiler) at(x, y, z book.Formula) pack.Place {
	return pack.Place{X: c.lower(x, formula.Number), Y: c.lower(y, formula.Number), Z: c.lower(z, formula.Number)}
}

// seats lowers where persons sit; nil where the book does not say, and then nothing of their weight is computed.
func (c *compiler) seats(s *book.Seats) *pack.Seats {
	if s == nil {
		return nil
	}
	return &pack.Seats{Place: c.at(s.X, s.Y, s.Z), Side: c.lower(s.SideM, formula.Number)}
}

// extent lowers the size of an option, m; nil where the book does not say.
func (c *compiler) extent(x *book.Extent) *pack.Extent {
	if x == nil {
		return nil
	}
	return &pack.Extent{Length: c.lower(x.LengthM, formula.Number), Width: c.lower(x.WidthM, formula.Number),
		Height: c.lower(x.HeightM, formula.Number)}
}

// points lowers the high and low points and the openings of a hull or an option.
func (c *compiler) points(heights []book.Height, depths []book.Depth, openings []book.Opening) (p pack.Points) {
	for _, h := range heights {
		// without states it stands in all of them, as a fixed top does
		point := pack.Point{Title: h.Title.Value, Place: c.at(h.X, h.Y, h.Z), States: pack.States}
		if len(h.States) > 0 {
			point.States = nil
			for _, s := range h.States {
				point.States = append(point.States, pack.State(s.Value))
			}
		}
		p.Heights = append(p.Heights, point)
	}
	for _, d := range depths {
		p.Depths = append(p.Depths, pack.Point{Title: d.Title.Value, Place: c.at(d.X, d.Y, d.Z),
			Immersed: c.lower(d.ImmersedM, formula.Number)})
	}
	for _, o := range openings {
		p.Openings = append(p.Openings, pack.Point{Title: o.Title.Value, Place: c.at(o.X, o.Y, o.Z)})
	}
	return p
}

// offsets are the table of a hull; none where the book has none.
func (c *compiler) offsets(hull book.Text) []pack.Station {
	var out []pack.Station
	for i := range c.book.Offsets {
		if c.book.Offsets[i].Hull.Value == hull.Value {
			for _, s := range c.book.Offsets[i].Table().Stations {
				out = append(out, pack.Station{X: s.X, Z: s.Z, Y: s.Y})
			}
		}
	}
	return out
}

// trial is that of a hull; nil where the book has none.
func (c *compiler) trial(hull book.Text) *pack.Trial {
	for i := range c.book.Trials {
		if c.book.Trials[i].Hull.Value != hull.Value {
			continue
		}
		t := c.book.Trials[i].Table()
		out := &pack.Trial{DisplacementKg: t.DisplacementKg}
		for _, p := range t.Points {
			out.SpeedKn, out.PowerW = append(out.SpeedKn, p.SpeedKn), append(out.PowerW, p.PowerW)
		}
		return out
	}
	return nil
}

// carries lowers what an item adds to the totals.
func (c *compiler) carries(list book.Pairs[book.Formula]) []pack.Carry {
	var out []pack.Carry
	for _, p := range list {
		out = append(out, pack.Carry{Figure: c.ids["figure"][p.Key.Value], Amount: c.lower(p.Value, formula.Number)})
	}
	return out
}

// standard is the standard build of a hull, slot by slot, of options that are made for it. The pack lists counts, so
// that a slot filled with three fenders is one entry.
func (c *compiler) standard(hull int) []pack.Count {
	out := []pack.Count{}
	id := c.book.Hulls[hull].ID.Value
	for _, s := range c.book.Slots {
		// what is not made for the hull is left out where a boat is filled
		list := s.Standard.All
		// what is said by hull stands for the hulls named; the others have what is said for all
		for _, p := range s.Standard.ByHull {
			if p.Key.Value == id {
				list = p.Value
			}
		}
		for _, n := range list {
			out = append(out, pack.Count{Option: c.ids["option"][n.Option.Value], Count: int(n.Count.Value)})
		}
	}
	return out
}

// item lowers what a base boat (without an option's name) or an option takes, and settles how it is priced.
func (c *compiler) item(at book.Position, option string, price book.Price, margin, markup book.Rate,
	materials []book.Quantity, work []book.Work) pack.Item {
	item := pack.Item{At: c.place(at, "")}
	// the operation that takes it settles on whose sheet it stands, not what it costs
	for _, q := range materials {
		needs := c.materials(&q, option)
		for _, n := range needs {
			c.pack.Work.Sources[n.At].Taker = c.taker(q.Operation, work)
		}
		item.Materials = append(item.Materials, needs...)
	}
	for _, w := range work {
		item.Operations = append(item.Operations, c.need("operation", w.Operation, w.Hours))
	}
	for _, t := range price.Terms {
		// a plain amount is where it stands; one for each metre, say, is wrong by its formula
		where := t.Amount.At
		if !t.Per.Empty() {
			where = t.Per.At
		}
		item.List = append(item.List, pack.Term{Amount: t.Amount.Value, Per: c.lower(t.Per, formula.Number),
			At: c.place(where, t.Per.Value)})
	}
	// a list price is taken as it is: neither margin nor markup makes anything of it
	if len(item.List) > 0 {
		return item
	}
	general := c.book.Pricing
	// the item's own word goes before the book's; of a book without margin the markup is there, which its check demands
	switch {
	// a margin of nothing is given, too: the yard sells at cost
	case margin.Given():
		item.Margin = c.method(margin)
	case markup.Given():
		item.Markup = c.method(markup)
	case general.Margin.Given():
		item.Margin = c.method(general.Margin)
	default:
		item.Markup = c.method(general.Markup)
	}
	return item
}

// taker is the operation that takes a material, counted from 1: the one named, or else the first of its item. Counted
// from 1, so that 0 is none in a pack that leaves zeros out.
func (c *compiler) taker(operation book.Text, work []book.Work) int {
	if operation.Value == "" {
		if len(work) == 0 {
			return 0 // a book without operations
		}
		operation = work[0].Operation
	}
	return 1 + c.ids["operation"][operation.Value]
}

// rateAt registers a rate; one that the book leaves out stands where the book begins. Every share has a place, so that
// the unfolding of an amount can name the source of each factor.
func (c *compiler) rateAt(r book.Rate) int {
	if !r.Given() {
		return c.place(c.book.Edition.Name.At, "0")
	}
	return c.place(r.At, r.Value.String())
}

// method is a margin or markup with its place.
func (c *compiler) method(r book.Rate) *pack.Method {
	return &pack.Method{Rate: r.Value, At: c.rateAt(r)}
}

// need lowers how much is taken of a material or an operation, by the index of its kind.
func (c *compiler) need(kind string, id book.Text, f book.Formula) pack.Need {
	return pack.Need{Index: c.ids[kind][id.Value], Amount: c.lower(f, formula.Number), At: c.place(f.At, f.Value)}
}

// slots lowers the slots with their options, in build order. A slot holds its options from First up to End, so that the
// options of all slots lie side by side.
func (c *compiler) slots() {
	for i := range c.book.Slots {
		s := &c.book.Slots[i]
		slot := pack.Slot{ID: s.ID.Value, Section: c.ids["section"][s.Section.Value], Title: s.Title.Value,
			Note:     s.Note.Value,
			Multiple: s.Choose.Value == "multiple", Least: int(s.Least.Value), Most: int(s.Most.Value),
			Hulls: c.hullList(s.Hulls),
			When:  c.lower(s.When, formula.Truth), Place: c.placement(s.Place), Because: s.Because.Value,
			NoDiscount: s.Discount != nil && !*s.Discount,
			First:      len(c.pack.Options), End: len(c.pack.Options) + len(s.Options), Machinery: s.Machinery}
		// one is the usual slot: what says nothing must be filled
		if !slot.Multiple {
			slot.Most = 1
			if s.Choose.Value != "at most one" {
				slot.Least = 1
			}
		}
		c.pack.Slots = append(c.pack.Slots, slot)
		for _, o := range s.Options {
			c.option(i, o)
		}
	}
}

// option lowers an option in two parts, as hulls does.
func (c *compiler) option(slot int, o book.Option) {
	most := 1
	// the usual option is there once
	if o.Most.Given() {
		most = int(o.Most.Value)
	}
	c.pack.Options = append(c.pack.Options, pack.Option{ID: o.ID.Value, Slot: slot, Title: o.Title.Value,
		Note: o.Note.Value, Drawn: c.drawn(o), Colour: o.Colour.Value,
		Hulls: c.hullList(o.Hulls), Most: most, Carries: c.carries(o.Carries), Place: c.placement(o.Place),
		Extent: c.extent(o.Extent), Points: c.points(o.Heights, o.Depths, o.Openings),
		Submerged: c.submerged(slot, o)})
	// by the same index, too
	c.pack.Costs.Options = append(c.pack.Costs.Options,
		c.item(o.At, o.ID.Value, o.Price, o.Margin, o.Markup, o.Materials, o.Operations))
}

// submerged is what an option counts as under water: its own word, or the slot's. Flotation counts it by what it is
// made of, under 33 CFR 183.
func (c *compiler) submerged(slot int, o book.Option) string {
	if o.Submerged.Value != "" {
		return o.Submerged.Value
	}
	return c.book.Slots[slot].Submerged.Value
}

// circuits lowers the circuits, in the order of the book.
func (c *compiler) circuits() {
	// what the book leaves out stays empty or zero: package wiring has the defaults, one for all desks
	for i := range c.book.Circuits {
		w := &c.book.Circuits[i]
		rating := 105 // of the usual boat cable
		// the hottest that the conductor may get without harm to its insulation, which sizes it
		if w.Insulation.Given() {
			rating = int(w.Insulation.Value)
		}
		circuit := pack.Circuit{ID: w.ID.Value, Title: w.Title.Value, Function: w.Function.Value,
			Amps: c.lower(w.Amps, formula.Number), Volts: c.lower(w.Volts, formula.Number),
			Peak: c.lower(w.PeakV, formula.Number), Length: c.lower(w.LengthM, formula.Number),
			When: c.lower(w.When, formula.Truth), Count: c.lower(w.Count, formula.Number),
			Fault:   c.lower(w.FaultA, formula.Number),
			Bundled: int(w.Bundled.Value), Parallel: int(w.Parallel.Value), Critical: w.Critical,
			EngineSpace: w.EngineSpace, Insulation: rating}
		if figures.ReadsCircuit(&circuit) { // which a buyer's figures follow from
			c.pack.Public.Circuits = append(c.pack.Public.Circuits, circuit)
		} else {
			c.pack.Costs.Circuits = append(c.pack.Costs.Circuits, pack.OtherCircuit{Place: i, Circuit: circuit})
		}
		c.pack.Work.Runs = append(c.pack.Work.Runs, pack.Run{From: w.From.Value, To: w.To.Value,
			At: pack.CircuitAt{Circuit: c.place(w.At, ""), Amps: c.place(w.Amps.At, w.Amps.Value),
				Volts: c.place(w.Volts.At, w.Volts.Value), Length: c.place(w.LengthM.At, w.LengthM.Value)}})
	}
	c.pack.Assemble()
}

// colour is the form of a colour in the book.
var colour = regexp.MustCompile(`^#[0-9a-f]{6}$`)

// drawn checks what an option is on the drawing, and its colour there. The drawing knows a few words, each of which it
// draws in its own way.
func (c *compiler) drawn(o book.Option) string {
	word, known := look.Find(o.Drawn.Value)
	given := o.Colour.Value != ""
	switch {
	case o.Drawn.Value != "" && !known:
		var words []string
		for _, w := range look.Words() {
			words = append(words, w.Word)
		}
		c.error(o.Drawn.At, suggest.Nearest(o.Drawn.Value, words, "the words are "+strings.Join(words, ", ")),
			"%q is nothing that is drawn", o.Drawn)
	case given && !colour.MatchString(o.Colour.Value):
		c.error(o.Colour.At, `write "#1b3a5c" in quotes`, "%q is no colour", o.Colour)
	case given && !word.Colour:
		c.error(o.Colour.At, "say what has this colour with drawn:, or leave the colour out",
			"the colour of %s is shown nowhere", o.ID)
	case !given && word.Colour:
		c.error(o.Drawn.At, `add its colour: "#1b3a5c"`, "%s is drawn as %s, and its colour is missing", o.ID, o.Drawn)
	case word.Placed && o.Extent == nil:
		c.error(o.Drawn.At, "add extent: {length_m: 0.6, width_m: 0.5, height_m: 0.3}",
			"%s is drawn as %s, and how large it is is missing", o.ID, o.Drawn)
	}
	return o.Drawn.Value
}

// hullList are the indices of hulls that are named; none stands for all of them.
func (c *compiler) hullList(list []book.Text) []int {
	var out []int
	for _, h := range list {
		out = append(out, c.ids["hull"][h.Value])
	}
	return out
}

// rules lowers the rules, and makes rules of what options require and exclude. A link is a rule with its option as the
// condition, so that fit knows rules alone. Its name has the option and a number, since links have none of their own.
func (c *compiler) rules() {
	for _, r := range c.book.Rules {
		c.pack.Rules = append(c.pack.Rules, pack.Rule{ID: r.ID.Value, When: c.lower(r.When, formula.Truth),
			Need:    c.lower(r.Need, formula.Truth),
			Because: r.Because.Value, Advice: r.Advice.Value, Guard: r.Guard})
	}
	for _, s := range c.book.Slots {
		for _, o := range s.Options {
			for i, l := range o.Requires {
				c.link(o, l, fmt.Sprintf("%s-requires-%d", o.ID, i+1), false)
			}
			for i, l := range o.Excludes {
				c.link(o, l, fmt.Sprintf("%s-excludes-%d", o.ID, i+1), true)
			}
		}
	}
}

// link makes a rule of a link: with the option, one of the others must be aboard, or none of them may be. It is written
// in steps, not as text: the identifiers of a book need no quoting, and no parser runs a second time.
func (c *compiler) link(o book.Option, l book.Link, id string, exclude bool) {
	// in postfix: a, b or, c or, and not behind them
	need := []formula.Step{}
	for i, other := range l.AnyOf {
		// an option that is not known has been reported by the check of the book
		need = append(need, formula.Step{Op: formula.Has, Index: c.ids["option"][other.Value]})
		if i > 0 {
			need = append(need, formula.Step{Op: formula.Or})
		}
	}
	// none of them: the whole or is turned round
	if exclude {
		need = append(need, formula.Step{Op: formula.Not})
	}
	when, err := formula.New([]formula.Step{{Op: formula.Has, Index: c.ids["option"][o.ID.Value]}})
	if err == nil {
		var needed formula.Program
		needed, err = formula.New(need)
		c.pack.Rules = append(c.pack.Rules, pack.Rule{ID: id, When: when, Need: needed, Because: l.Because.Value,
			Advice: l.Advice.Value, Guard: l.Guard})
	}
	if err != nil {
		c.error(l.At, "name at least one option in any_of", "the link of %s is empty", o.ID)
	}
}

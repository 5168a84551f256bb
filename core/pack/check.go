package pack

import (
	"fmt"
	"math"
	"slices"

	"ribband/core/capacity"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/transport"
	"ribband/core/wiring"
)

// check makes sure that every index leads somewhere and every formula fits, so that nothing later has to ask.
func (p *Pack) check() error {
	c := &checker{pack: p, space: p.Space()}
	c.terms()
	c.hulls()
	c.slots()
	c.rules()
	c.circuits()
	c.stock(&c.pack.Stock)
	if p.Brief != nil {
		c.brief(p.Brief)
	}
	if p.Prices == nil && p.Trade == nil {
		c.fail("it has no prices")
	}
	if p.Prices != nil {
		c.prices(p.Prices)
	}
	if p.Trade != nil {
		c.trade(p.Trade)
	}
	c.words()
	return c.err
}

// checker keeps the first error.
type checker struct {
	pack  *Pack
	space formula.Space
	err   error
}

func (c *checker) fail(format string, args ...any) {
	if c.err == nil {
		c.err = fmt.Errorf(format, args...)
	}
}

func (c *checker) index(what string, i, n int) {
	if i < 0 || i >= n {
		c.fail("%s %d of %d", what, i, n)
	}
}

// program checks a formula; the empty one is good where it may be.
func (c *checker) program(what string, p formula.Program, kind formula.Kind, mayBeEmpty bool) {
	switch {
	case p.Empty():
		if !mayBeEmpty {
			c.fail("%s has no formula", what)
		}
	case p.Kind() != kind:
		c.fail("the formula of %s gives a %s, want a %s", what, p.Kind(), kind)
	default:
		if err := p.Within(c.space); err != nil {
			c.fail("the formula of %s: %w", what, err)
		}
	}
}

func (c *checker) terms() {
	p := c.pack
	if _, err := DeskOf(string(p.Desk)); err != nil {
		c.fail("%w", err)
	}
	if _, err := money.CurrencyOf(p.Currency); err != nil {
		c.fail("%w", err)
	}
	if _, err := money.NewRounding(p.Rounding, money.Exact(1, 0)); err != nil {
		c.fail("%w", err)
	}
	for _, s := range p.Stages {
		if s.Share.Sign() < 0 {
			c.fail("stage %s has a negative share", s.ID)
		}
	}
	for _, u := range p.Use {
		if len(u.Choices) > 0 {
			c.index("standard of "+u.ID, int(u.Standard), len(u.Choices))
		} else if !formula.Finite(u.Min) || !formula.Finite(u.Max) || !(u.Step > 0) || u.Max < u.Min ||
			u.Standard < u.Min || u.Standard > u.Max || math.IsNaN(u.Standard) {
			c.fail("use field %s has no bounds", u.ID)
		}
	}
	for _, f := range p.Figures {
		c.program("figure "+f.ID, f.Formula, formula.Number, true)
		if f.Digits < 0 || f.Digits > 4 {
			c.fail("figure %s is shown with %d digits", f.ID, f.Digits)
		}
	}
	for _, r := range p.Regions {
		if r.TaxMode != Inclusive && r.TaxMode != Exclusive && r.TaxMode != Zero || r.TaxRate.Sign() < 0 {
			c.fail("region %s has no tax mode or a negative rate", r.ID)
		}
		if _, err := transport.FindRegion(r.Limits); r.Limits != "" && err != nil {
			c.fail("region %s: %w", r.ID, err)
		}
		if !(r.Latitude >= -66 && r.Latitude <= 66) || !(r.Sunshine >= 0 && r.Sunshine <= 1) {
			c.fail("region %s has no climate: a latitude of %v, sunshine for a share of %v", r.ID, r.Latitude,
				r.Sunshine)
		}
	}
	if p.RegionField != -1 {
		c.index("region field", p.RegionField, len(p.Use))
		if c.err == nil && (len(p.Regions) == 0 || len(p.Use[p.RegionField].Choices) != len(p.Regions)) {
			c.fail("the use field %s does not choose a region", p.Use[p.RegionField].ID)
		}
	}
}

func (c *checker) hulls() {
	for _, h := range c.pack.Hulls {
		if len(h.Fields) != len(c.pack.HullFields) {
			c.fail("hull %s has %d fields, want %d", h.ID, len(h.Fields), len(c.pack.HullFields))
		}
		for _, v := range h.Fields {
			if !formula.Finite(v) {
				c.fail("hull %s has a field that is not finite", h.ID)
			}
		}
		c.carries(h.ID, h.Carries)
		c.place(h.ID, h.Place)
		if h.Seats != nil {
			c.place(h.ID, &h.Seats.Place)
			c.program("seats of "+h.ID, h.Seats.Side, formula.Number, true)
		}
		c.points(h.ID, &h.Points)
		c.submerged(h.ID, h.Submerged)
		c.lines(&h)
		for _, s := range h.Standard {
			c.index("standard of hull "+h.ID, s.Option, len(c.pack.Options))
			if s.Count < 1 {
				c.fail("hull %s has %d of a standard option", h.ID, s.Count)
			}
		}
	}
}

func (c *checker) place(id string, p *Place) {
	if p != nil {
		c.program("x of "+id, p.X, formula.Number, false)
		c.program("y of "+id, p.Y, formula.Number, true)
		c.program("z of "+id, p.Z, formula.Number, false)
	}
}

func (c *checker) points(id string, p *Points) {
	for _, x := range p.All() {
		c.place(x.Title+" of "+id, &x.Place)
		c.program("immersion of "+id, x.Immersed, formula.Number, true)
		for _, s := range x.States {
			if !slices.Contains(States, s) {
				c.fail("%s of %s stands in the unknown state %q", x.Title, id, s)
			}
		}
	}
}

// submerged checks what something counts as under water.
func (c *checker) submerged(id, material string) {
	if material == "" || material == NotSubmerged {
		return
	}
	if _, err := capacity.FindMaterial(material); err != nil {
		c.fail("what %s counts as under water: %w", id, err)
	}
}

// lines checks the tables of a hull by the packages that compute with them.
func (c *checker) lines(h *Hull) {
	if len(h.Offsets) > 0 {
		if _, err := h.NewHull(); err != nil {
			c.fail("offsets of hull %s: %w", h.ID, err)
		}
	}
	if h.Trial != nil {
		if _, err := h.NewCurve(); err != nil {
			c.fail("trial of hull %s: %w", h.ID, err)
		}
	}
	if l := h.Layup; l != nil {
		for _, v := range []float64{l.GlassKg, l.ResinKg, l.ShellKg, l.DeckKg, l.BottomMm, l.KeelMm} {
			if !formula.Finite(v) || v < 0 {
				c.fail("the lay-up of hull %s holds %v", h.ID, v)
			}
		}
	}
}

func (c *checker) carries(id string, carries []Carry) {
	for _, y := range carries {
		c.index("figure of "+id, y.Figure, len(c.pack.Figures))
		c.program("what "+id+" carries", y.Amount, formula.Number, false)
		if c.err == nil && (!c.pack.Figures[y.Figure].Formula.Empty() || c.pack.Figures[y.Figure].Computed != "") {
			c.fail("%s carries to figure %s, which is no total", id, c.pack.Figures[y.Figure].ID)
		}
	}
}

func (c *checker) slots() {
	next := 0
	for i, s := range c.pack.Slots {
		c.index("section of slot "+s.ID, s.Section, len(c.pack.Sections))
		c.program("slot "+s.ID, s.When, formula.Truth, true)
		if s.First != next || s.End < s.First || s.End > len(c.pack.Options) {
			c.fail("slot %s has options %d to %d", s.ID, s.First, s.End)
			return
		}
		if s.Least < 0 || s.Most < 0 || !s.Multiple && s.Most != 1 || !s.Multiple && s.Least > 1 {
			c.fail("slot %s takes %d to %d", s.ID, s.Least, s.Most)
		}
		c.hullList(s.ID, s.Hulls)
		c.place(s.ID, s.Place)
		for j := s.First; j < s.End; j++ {
			o := c.pack.Options[j]
			if o.Slot != i || o.Most < 1 || o.Most > 1000 || !s.Multiple && o.Most != 1 {
				c.fail("option %s is not one of slot %s, or may be there %d times", o.ID, s.ID, o.Most)
			}
			c.hullList(o.ID, o.Hulls)
			c.carries(o.ID, o.Carries)
			c.place(o.ID, o.Place)
			c.points(o.ID, &o.Points)
			if x := o.Extent; x != nil {
				c.program("length of "+o.ID, x.Length, formula.Number, false)
				c.program("width of "+o.ID, x.Width, formula.Number, false)
				c.program("height of "+o.ID, x.Height, formula.Number, false)
			}
			c.submerged(o.ID, o.Submerged)
		}
		next = s.End
	}
	if next != len(c.pack.Options) {
		c.fail("options without a slot")
	}
}

func (c *checker) hullList(id string, hulls []int) {
	for _, h := range hulls {
		c.index("hull of "+id, h, len(c.pack.Hulls))
	}
}

func (c *checker) rules() {
	for _, r := range c.pack.Rules {
		c.program("rule "+r.ID, r.When, formula.Truth, true)
		c.program("rule "+r.ID, r.Need, formula.Truth, false)
	}
}

func (c *checker) circuits() {
	for i := range c.pack.Circuits {
		w := &c.pack.Circuits[i]
		if _, err := wiring.ColoursOf(w.Function); err != nil {
			c.fail("circuit %s: %w", w.ID, err)
		}
		if !slices.Contains(wiring.Ratings(), w.Insulation) {
			c.fail("circuit %s has insulation for %d °C", w.ID, w.Insulation)
		}
		c.program("the current of circuit "+w.ID, w.Amps, formula.Number, false)
		c.program("the voltage of circuit "+w.ID, w.Volts, formula.Number, false)
		c.program("the highest voltage of circuit "+w.ID, w.Peak, formula.Number, true)
		c.program("the length of circuit "+w.ID, w.Length, formula.Number, false)
		c.program("circuit "+w.ID, w.When, formula.Truth, true)
		c.program("the count of circuit "+w.ID, w.Count, formula.Number, true)
		c.program("the fault current of circuit "+w.ID, w.Fault, formula.Number, true)
		if w.Bundled < 0 || w.Parallel < 0 || w.Parallel > wiring.MostParallel {
			c.fail("circuit %s has %d conductors side by side, and %d in its bundle", w.ID, w.Parallel, w.Bundled)
		}
		if t := c.pack.Trade; t != nil {
			for _, at := range []int{w.At.Circuit, w.At.Amps, w.At.Volts, w.At.Length} {
				c.index("source of circuit "+w.ID, at, len(t.Sources))
			}
		}
	}
}

func (c *checker) prices(p *Prices) {
	hulls := len(c.pack.Hulls)
	if len(p.Base) != hulls || len(p.Options) != len(c.pack.Options) {
		c.fail("prices of %d hulls and %d options, want %d and %d", len(p.Base), len(p.Options), hulls,
			len(c.pack.Options))
		return
	}
	for i := range p.Base {
		c.table(&p.Base[i])
	}
	for i := range p.Options {
		if len(p.Options[i]) != hulls {
			c.fail("option %s has prices of %d hulls, want %d", c.pack.Options[i].ID, len(p.Options[i]), hulls)
		}
		for j := range p.Options[i] {
			c.table(&p.Options[i][j])
		}
	}
}

func (c *checker) table(t *Table) {
	if len(t.Prices) == 0 && len(t.Axes) == 0 {
		return // an option that is not made for the hull
	}
	rows := 1
	for _, a := range t.Axes {
		switch a.Kind {
		case AxisOneOf:
			c.index("slot of a price", a.Index, len(c.pack.Slots))
			for _, o := range a.Options {
				c.index("option of a price", o, len(c.pack.Options))
			}
			if a.Size != len(a.Options)+2 {
				c.fail("an axis over %d options has %d places", len(a.Options), a.Size)
			}
		case AxisCount:
			c.index("option of a price", a.Index, len(c.pack.Options))
		case AxisUse:
			c.index("use field of a price", a.Index, len(c.pack.Use))
		default:
			c.fail("unknown axis %.40q of a price", a.Kind)
		}
		if a.Size < 1 || a.Size > len(t.Prices) || rows > len(t.Prices) { // so that the product cannot overflow
			c.fail("an axis of a price has %d places", a.Size)
			return
		}
		rows *= a.Size
	}
	if rows != len(t.Prices) {
		c.fail("a table has %d prices, want %d", len(t.Prices), rows)
	}
}

func (c *checker) trade(t *Trade) {
	if t.PriceStep.Sign() <= 0 {
		c.fail("the price step is not above zero")
	}
	for _, at := range []int{t.RatesAt.OnLabour, t.RatesAt.OnMaterials, t.RatesAt.Contingency} {
		c.index("source", at, len(t.Sources))
	}
	if len(t.Hulls) != len(c.pack.Hulls) || len(t.Options) != len(c.pack.Options) {
		c.fail("trade of %d hulls and %d options", len(t.Hulls), len(t.Options))
	}
	for _, o := range t.Operations {
		c.index("shop of "+o.ID, o.Shop, len(t.Shops))
		for _, a := range o.After {
			c.index("operation before "+o.ID, a, len(t.Operations))
		}
	}
	for _, m := range t.Materials {
		if _, ok := measure.UnitOf(m.Unit); !ok || m.Cost.Sign() < 0 || m.Waste.Sign() < 0 || m.Pack.Sign() < 0 {
			c.fail("material %s has an unknown unit or something negative", m.ID)
		}
	}
	c.kept(t)
	for i := range t.Hulls {
		c.item(t, &t.Hulls[i])
	}
	for i := range t.Options {
		c.item(t, &t.Options[i])
	}
	c.laminates(t)
	c.cuts(t)
}

func (c *checker) item(t *Trade, item *Item) {
	c.index("source", item.At, len(t.Sources))
	for i := range item.Materials {
		c.material(t, &item.Materials[i])
	}
	for _, n := range item.Operations {
		c.index("operation", n.Index, len(t.Operations))
		c.index("source", n.At, len(t.Sources))
		c.program("hours", n.Amount, formula.Number, false)
	}
	for _, l := range item.List {
		c.index("source", l.At, len(t.Sources))
		c.program("a price", l.Per, formula.Number, true)
	}
	methods := 0
	for _, m := range []*Method{item.Margin, item.Markup} {
		if m != nil {
			methods++
			c.index("source", m.At, len(t.Sources))
		}
	}
	if m := item.Margin; m != nil && m.Rate.Complement().Sign() <= 0 {
		c.fail("a margin is %s", m.Rate)
	}
	if len(item.List) > 0 && methods > 0 || len(item.List) == 0 && methods != 1 {
		c.fail("an item has no price, or more than one")
	}
}

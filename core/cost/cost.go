// Package cost computes what a boat costs the yard: materials with waste and whole packs, labour by shop, overhead and
// contingency.
//
// It is job-order costing: direct materials and direct labour are charged to the boat, overhead is absorbed by a rate
// on labour cost, on materials cost, or both, and a contingency is added to the sum. Every amount is rounded once, to
// the minor unit, where it arises; sums are sums of rounded amounts, so that parts always add up to wholes.
//
// Source: textbook chapters on job-order costing (direct materials, direct labour, overhead absorption rate); worked
// cases in testdata/costing.json.
package cost

import (
	"fmt"

	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/takeoff"
)

// Base is the item of a line that belongs to the base boat; other items are indices of options.
const Base = -1

// Costing is the costs of a pack, ready to compute.
type Costing struct {
	pack        *pack.Pack
	costs       *pack.Costs
	minor       money.Rounding
	hulls       []item
	options     []item
	store       []store
	hourReaders *formula.Index // who of the items reads what, for their hours
}

type item struct {
	materials, operations []need
	fixed                 [][]fixed // hours by hull; nil where they follow from more than that
}

type need struct {
	amount takeoff.Amount
	at     int
	taker  int
}

// store is a material in fixed point.
type store struct {
	waste   int64
	pack    measure.Quantity
	counted bool // in pieces, sets or pairs
}

// Compile prepares the costs of a pack; nil where the pack has none.
func Compile(p *pack.Pack) (*Costing, error) {
	if p.Costs == nil {
		return nil, nil
	}
	currency, err := money.CurrencyOf(p.Currency)
	if err != nil {
		return nil, err
	}
	minor, err := money.NewRounding(p.Rounding, currency.Minor())
	if err != nil {
		return nil, err
	}
	c := &Costing{pack: p, costs: p.Costs, minor: minor}
	t := takeoff.New(p)
	for i := range p.Costs.Hulls {
		c.hulls = append(c.hulls, c.compileItem(t, &p.Costs.Hulls[i]))
	}
	for i := range p.Costs.Options {
		c.options = append(c.options, c.compileItem(t, &p.Costs.Options[i]))
	}
	c.hourReaders = formula.NewIndex(c.hourReads(), p.Space())
	for _, m := range p.Costs.Materials {
		c.store = append(c.store, store{m.Waste.Millionths(), measure.Quantity(m.Pack.Millionths()),
			measure.Counted(m.Unit)})
	}
	return c, nil
}

func (c *Costing) compileItem(t *takeoff.Takeoffs, def *pack.Item) item {
	compile := func(list []pack.Need) (out []need) {
		for i := range list {
			out = append(out, need{t.Of(&list[i]), list[i].At, c.pack.Taker(list[i].At)})
		}
		return out
	}
	it := item{materials: compile(def.Materials), operations: compile(def.Operations)}
	for h := range c.pack.Hulls {
		list, _ := c.fixHours(def.Operations, h)
		it.fixed = append(it.fixed, list)
	}
	return it
}

// MaterialLine is a material that the base boat or an option takes.
type MaterialLine struct {
	Item      int
	Material  int
	Operation int // that takes it; -1 where the desk or the book has none
	BuiltIn   measure.Quantity
	Used      measure.Quantity // with waste; pieces are whole
	Amount    money.Amount
	At        int // where in the book
}

// LabourLine is the hours of an operation for the base boat or an option.
type LabourLine struct {
	Item      int
	Operation int
	Shop      int
	Hours     measure.Hours
	Amount    money.Amount
	At        int
}

// Extra is the cost of an extra item of the salesperson: what is bought for it, and hours by shop.
type Extra struct {
	Title string
	Cost  money.Amount
	Hours map[int]measure.Hours // by shop
}

// ExtraLine is an extra item with its labour.
type ExtraLine struct {
	Extra
	Labour money.Amount
	Total  measure.Hours
}

// Purchase is what is taken from the store or bought of one material for the whole boat.
type Purchase struct {
	Material int
	Used     measure.Quantity
	Packs    int64            // whole packs; 0 where the material is sold by the unit
	Rest     measure.Quantity // left of the last pack
	Charged  money.Amount     // of the rest: whole packs bought for this boat; zero for stock
}

// Summary is the cost in its parts. Total is the sum of the others.
type Summary struct {
	Materials           money.Amount
	Rests               money.Amount // of packs bought for this boat
	Labour              money.Amount
	OverheadOnMaterials money.Amount
	OverheadOnLabour    money.Amount
	Contingency         money.Amount
	Total               money.Amount
}

// Sheet is the cost of one boat. Hours are by shop.
type Sheet struct {
	Materials    []MaterialLine
	Labour       []LabourLine
	Extras       []ExtraLine
	Purchases    []Purchase
	BaseHours    []measure.Hours
	OptionHours  []measure.Hours
	OptionTotals map[int]measure.Hours // by option in the boat
	Summary      Summary
}

// Hours is the total by shop.
func (s *Sheet) Hours(shop int) measure.Hours { return s.BaseHours[shop] + s.OptionHours[shop] }

// TotalHours is the sum over all shops.
func (s *Sheet) TotalHours() (base, options measure.Hours) {
	for i := range s.BaseHours {
		base += s.BaseHours[i]
		options += s.OptionHours[i]
	}
	return base, options
}

// Boat computes the whole boat with its extra items, whose hours count as an option's. It fails, naming the place in
// the book, where a formula gives what cannot be a quantity.
func (c *Costing) Boat(st *formula.State, extras []Extra) (*Sheet, error) {
	s := &Sheet{
		BaseHours: make([]measure.Hours, len(c.costs.Shops)), OptionHours: make([]measure.Hours, len(c.costs.Shops)),
		OptionTotals: map[int]measure.Hours{},
	}
	if err := c.add(s, st, Base, &c.hulls[st.HullID], 1); err != nil {
		return nil, err
	}
	for o, n := range st.Counts {
		if n > 0 {
			if err := c.add(s, st, o, &c.options[o], n); err != nil {
				return nil, err
			}
		}
	}
	c.purchases(s)
	s.Summary = c.summarise(s.Materials, s.Labour)
	for _, e := range extras {
		c.addExtra(s, e)
	}
	for _, p := range s.Purchases {
		s.Summary.Rests = s.Summary.Rests.Add(p.Charged)
	}
	c.finish(&s.Summary)
	return s, nil
}

func (c *Costing) add(s *Sheet, st *formula.State, id int, it *item, n int) error {
	materials, labour, err := c.lines(st, id, it, n)
	if err != nil {
		return err
	}
	s.Materials = append(s.Materials, materials...)
	s.Labour = append(s.Labour, labour...)
	for _, l := range labour {
		if id == Base {
			s.BaseHours[l.Shop] += l.Hours
		} else {
			s.OptionHours[l.Shop] += l.Hours
			s.OptionTotals[id] += l.Hours
		}
	}
	return nil
}

// Extra is the cost of an extra item alone.
func (c *Costing) Extra(e Extra) Summary {
	s := &Sheet{OptionHours: make([]measure.Hours, len(c.costs.Shops))}
	c.addExtra(s, e)
	c.finish(&s.Summary)
	return s.Summary
}

func (c *Costing) addExtra(s *Sheet, e Extra) {
	line := ExtraLine{Extra: e}
	for shop := range c.costs.Shops {
		if h := e.Hours[shop]; h > 0 {
			s.OptionHours[shop] += h
			line.Total += h
			line.Labour = line.Labour.Add(c.minor.Round(c.costs.Shops[shop].Rate.Scaled(int64(h), measure.Exponent)))
		}
	}
	line.Cost = c.minor.Round(e.Cost)
	s.Summary.Materials = s.Summary.Materials.Add(line.Cost)
	s.Summary.Labour = s.Summary.Labour.Add(line.Labour)
	s.Extras = append(s.Extras, line)
}

// lines computes what n of an item take. What comes to nothing makes no line.
func (c *Costing) lines(st *formula.State, id int, it *item, n int) ([]MaterialLine, []LabourLine, error) {
	materials := make([]MaterialLine, 0, len(it.materials))
	for i := range it.materials {
		need := &it.materials[i]
		m, q, err := amount[measure.Quantity](c, need, st)
		if err != nil {
			return nil, nil, err
		}
		if q = q.Times(n); q > 0 && m >= 0 {
			used := q.Grown(c.store[m].waste)
			if c.store[m].counted {
				used = used.Whole() // nobody takes 7.35 sliders from the shelf
			}
			cost := c.minor.Round(c.costs.Materials[m].Cost.Scaled(int64(used), measure.Exponent))
			materials = append(materials, MaterialLine{id, m, need.taker, q, used, cost, need.at})
		}
	}
	labour := make([]LabourLine, 0, len(it.operations))
	for i := range it.operations {
		need := &it.operations[i]
		op, h, err := amount[measure.Hours](c, need, st)
		if err != nil {
			return nil, nil, err
		}
		if h = h.Times(n); h > 0 {
			shop := c.costs.Operations[op].Shop
			cost := c.minor.Round(c.costs.Shops[shop].Rate.Scaled(int64(h), measure.Exponent))
			labour = append(labour, LabourLine{id, op, shop, h, cost, need.at})
		}
	}
	return materials, labour, nil
}

// amount is of which material or operation an item takes, and how much.
func amount[T measure.Quantity | measure.Hours](c *Costing, n *need, st *formula.State) (int, T, error) {
	index, v, err := n.amount(st)
	if err != nil {
		return 0, 0, fmt.Errorf("computing the quantity at %s: %w", c.pack.Where(n.at), err)
	}
	q, err := measure.FromFloat[T](v)
	if err == nil && q < 0 {
		err = fmt.Errorf("%v is negative", v)
	}
	if err != nil {
		return 0, 0, fmt.Errorf("computing the quantity at %s: %w; guard the formula so that it gives zero or more",
			c.pack.Where(n.at), err)
	}
	return index, q, nil
}

// purchases sums each material over the boat, in the order of the book, and rounds up to whole packs.
func (c *Costing) purchases(s *Sheet) {
	used := make([]measure.Quantity, len(c.costs.Materials))
	for _, l := range s.Materials {
		used[l.Material] += l.Used
	}
	for m, q := range used {
		if q == 0 {
			continue
		}
		p := Purchase{Material: m, Used: q}
		if size := c.store[m].pack; size > 0 {
			p.Packs, p.Rest = q.Packs(size)
			if !c.costs.Materials[m].Stock {
				p.Charged = c.minor.Round(c.costs.Materials[m].Cost.Scaled(int64(p.Rest), measure.Exponent))
			}
		}
		s.Purchases = append(s.Purchases, p)
	}
}

func (c *Costing) summarise(materials []MaterialLine, labour []LabourLine) Summary {
	var s Summary
	for _, l := range materials {
		s.Materials = s.Materials.Add(l.Amount)
	}
	for _, l := range labour {
		s.Labour = s.Labour.Add(l.Amount)
	}
	return s
}

// finish adds overhead and contingency.
func (c *Costing) finish(s *Summary) {
	materials := s.Materials.Add(s.Rests)
	s.OverheadOnMaterials = c.minor.Round(materials.Share(c.costs.OnMaterials))
	s.OverheadOnLabour = c.minor.Round(s.Labour.Share(c.costs.OnLabour))
	before := money.Sum(materials, s.Labour, s.OverheadOnMaterials, s.OverheadOnLabour)
	s.Contingency = c.minor.Round(before.Share(c.costs.Contingency))
	s.Total = before.Add(s.Contingency)
}

// Lines are what one of an option takes, or the base boat for [Base].
func (c *Costing) Lines(st *formula.State, option int) ([]MaterialLine, []LabourLine, error) {
	if option == Base {
		return c.lines(st, Base, &c.hulls[st.HullID], 1)
	}
	return c.lines(st, option, &c.options[option], 1)
}

// BaseBoat is the cost of the base boat alone, without rests of packs: what its price follows from.
func (c *Costing) BaseBoat(st *formula.State) (Summary, error) {
	return c.item(st, Base, &c.hulls[st.HullID])
}

// Option is the cost of one of an option, without rests of packs: what its price follows from.
func (c *Costing) Option(st *formula.State, option int) (Summary, error) {
	return c.item(st, option, &c.options[option])
}

func (c *Costing) item(st *formula.State, id int, it *item) (Summary, error) {
	materials, labour, err := c.lines(st, id, it, 1)
	if err != nil {
		return Summary{}, err
	}
	s := c.summarise(materials, labour)
	c.finish(&s)
	return s, nil
}

// Package cost computes what a boat costs the yard: materials with waste and whole packs, labour by shop, outside work,
// overhead and contingency.
//
// It is job-order costing: direct materials and direct labour are charged to the boat, overhead is absorbed by a rate
// on labour cost, on materials cost, or both, and a contingency is added to the sum. Work that a supplier does is a
// direct expense: it bears no overhead, since it takes neither hands nor store of the yard, and bears the contingency,
// since it goes wrong like any other. Every amount is rounded once, to
// the minor unit, where it arises; sums are sums of rounded amounts, so that parts always add up to wholes. Hours come
// from package work, which alone computes them; what sells a boat is the matter of package price.
//
// Source: textbook chapters on job-order costing (direct materials, direct labour, overhead absorption rate); worked
// cases in testdata/costing.json.
package cost

import (
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// Costing is the costs of a pack, ready to compute.
type Costing struct {
	pack    *pack.Pack
	costs   *pack.Costs
	minor   money.Rounding
	network *works.Network
	hulls   [][]need // materials of the base boat, by hull
	options [][]need // materials of one of an option, by option
	store   []store  // by material
}

// need is a material that an item takes.
type need struct {
	amount takeoff.Amount
	at     int // where in the book it stands
	taker  int // operation that takes it; -1 where the desk or the book has none
	// the customer brings it
	customer bool
}

// store is a material in fixed point.
type store struct {
	waste   int64            // millionths of what is built in
	pack    measure.Quantity // 0: it is sold by the unit
	counted bool             // in pieces, sets or pairs
}

// Compile prepares the costs of a pack, given its hours and what it measures; nil where the pack has none.
func Compile(p *pack.Pack, network *works.Network, t *takeoff.Takeoffs) (*Costing, error) {
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
	c := &Costing{pack: p, costs: p.Costs, minor: minor, network: network}
	for i := range p.Costs.Hulls {
		c.hulls = append(c.hulls, c.compileItem(t, &p.Costs.Hulls[i]))
	}
	for i := range p.Costs.Options {
		c.options = append(c.options, c.compileItem(t, &p.Costs.Options[i]))
	}
	for _, m := range p.Costs.Materials {
		c.store = append(c.store, store{m.Waste.Millionths(), measure.Quantity(m.Pack.Millionths()),
			m.Whole})
	}
	return c, nil
}

func (c *Costing) compileItem(t *takeoff.Takeoffs, item *pack.BillOfMaterials) (list []need) {
	for i := range item.Materials {
		n := &item.Materials[i]
		list = append(list, need{t.Of(n), n.At, c.pack.Taker(n.At), n.Customer})
	}
	return list
}

// MaterialLine is a material that the base boat or an option takes.
type MaterialLine struct {
	For       works.Cause
	Material  int
	Operation int              // that takes it; -1 where the desk or the book has none
	BuiltIn   measure.Quantity // in the unit of the material, like Used
	Used      measure.Quantity // with waste; pieces are whole
	Amount    money.Amount     // nothing for what the customer brings
	At        int              // where in the book
	Customer  bool             // the customer brings it: it is neither bought nor taken from the store
}

// WorkLine is a line of work at the rate of its shop, or of outside work at the price of its supplier. Each is rounded
// by itself, so that labour by shop, by option and in all add up to the same.
type WorkLine struct {
	works.Line
	Amount money.Amount
}

// ExtraLine is what an extra item costs. Alone is with its overhead and contingency: what it adds to the boat, but for
// rounding.
type ExtraLine struct {
	Title  string
	Bought money.Amount
	Labour money.Amount
	Alone  money.Amount
}

// Purchase is what is taken from the store or bought of one material for the whole boat.
type Purchase struct {
	Material int
	Used     measure.Quantity // in the unit of the material, like Leftover
	Packs    int64            // whole packs; 0 where the material is sold by the unit
	Leftover measure.Quantity // of the last pack
	Charged  money.Amount     // for the leftover: whole packs are bought for this boat; zero for stock
}

// Summary is the cost in its parts. Total is the sum of the others.
type Summary struct {
	Materials           money.Amount
	Leftovers           money.Amount // of packs bought for this boat
	Labour              money.Amount
	Outside             money.Amount // work that suppliers do
	OverheadOnMaterials money.Amount
	OverheadOnLabour    money.Amount
	Contingency         money.Amount
	Total               money.Amount
}

// Sheet is the cost of one boat.
type Sheet struct {
	Materials []MaterialLine
	Work      []WorkLine // of each line of the boat's work, in its order
	Extras    []ExtraLine
	Purchases []Purchase
	Summary   Summary
}

// Boat computes the whole boat, given its work and what is bought for each of its extra items. It fails, naming the
// place in the book, where a formula gives what cannot be a quantity.
func (c *Costing) Boat(st *formula.State, w *works.Boat, bought []money.Amount) (*Sheet, error) {
	s := &Sheet{Work: c.workLines(w.Lines)}
	// the causes of work are all items of the boat, those without hours too, so that nobody's materials are left out
	for _, cause := range w.ByCause {
		if cause.Kind == works.ExtraItem {
			continue
		}
		var err error
		if s.Materials, err = c.materials(st, cause.Cause, s.Materials); err != nil {
			return nil, err
		}
	}
	c.charge(s.Materials)
	c.purchases(s)
	s.Summary = c.direct(s.Materials, s.Work)
	s.Extras = c.Extras(w.Extras, bought)
	for _, x := range s.Extras { // their labour is among that of the boat
		s.Summary.Materials = s.Summary.Materials.Add(x.Bought)
	}
	for _, p := range s.Purchases {
		s.Summary.Leftovers = s.Summary.Leftovers.Add(p.Charged)
	}
	c.finish(&s.Summary)
	return s, nil
}

// Extras are the lines of extra items, given what is bought for each.
func (c *Costing) Extras(list []works.Extra, bought []money.Amount) (lines []ExtraLine) {
	for i, x := range list {
		line := ExtraLine{Title: x.Title, Bought: c.minor.Round(bought[i])}
		for shop := range c.costs.Shops {
			line.Labour = line.Labour.Add(c.labour(shop, x.Hours[shop]))
		}
		alone := Summary{Materials: line.Bought, Labour: line.Labour}
		c.finish(&alone)
		line.Alone = alone.Total
		lines = append(lines, line)
	}
	return lines
}

// needs are the materials of an item of a boat on its hull.
func (c *Costing) needs(st *formula.State, cause works.Cause) []need {
	if cause.Kind == works.BaseBoat {
		return c.hulls[st.HullID]
	}
	return c.options[cause.Index]
}

// materials appends what an item takes, not yet charged. What comes to nothing makes no line.
func (c *Costing) materials(st *formula.State, cause works.Cause, to []MaterialLine) ([]MaterialLine, error) {
	list := c.needs(st, cause)
	for i := range list {
		n := &list[i]
		m, amount, err := n.amount(st)
		if err != nil {
			return nil, pack.Failed(c.pack, n.at, err)
		}
		q, err := pack.Fixed[measure.Quantity](c.pack, amount, n.at)
		if err != nil {
			return nil, err
		}
		if q = q.Times(cause.Count); q == 0 || m < 0 {
			continue
		}
		used := q.Grown(c.store[m].waste)
		if c.store[m].counted {
			used = used.Whole() // nobody takes 7.35 sliders from the shelf
		}
		to = append(to, MaterialLine{cause, m, n.taker, q, used, money.Amount{}, n.at, n.customer})
	}
	return to, nil
}

// charge enters what each line costs. A price by quantity is that of all that the lines take of the material.
func (c *Costing) charge(lines []MaterialLine) {
	// lines of one material stand apart where several operations take it
	for i := range lines {
		l := &lines[i]
		if l.Customer {
			continue
		}
		m, all := &c.costs.Materials[l.Material], l.Used
		if len(m.Breaks) > 0 { // few have any: the others need no sum
			all = takenOf(lines, l.Material)
		}
		l.Amount = c.minor.Round(m.CostOf(all).Scaled(int64(l.Used), measure.Exponent))
	}
}

// takenOf is how much of a material lines take together.
func takenOf(lines []MaterialLine, material int) (sum measure.Quantity) {
	// the few lines of a boat are gone through again rather than kept by material
	for i := range lines {
		if lines[i].Material == material && !lines[i].Customer {
			sum += lines[i].Used
		}
	}
	return sum
}

// labour is what hours of a shop cost.
func (c *Costing) labour(shop int, h measure.Hours) money.Amount {
	return c.minor.Round(c.costs.Shops[shop].Rate.Scaled(int64(h), measure.Exponent))
}

// workLines puts each line of work at the rate of its shop, or at the price of outside work.
func (c *Costing) workLines(lines []works.Line) []WorkLine {
	list := make([]WorkLine, len(lines))
	for i, l := range lines {
		if list[i].Line = l; l.Shop == works.Outside {
			price := c.costs.Operations[l.Operation].Outside.Price
			list[i].Amount = c.minor.Round(price.Scaled(int64(l.Quantity), measure.Exponent))
		} else {
			list[i].Amount = c.labour(l.Shop, l.Hours)
		}
	}
	return list
}

// purchases sums each material over the boat, in the order of the book, and rounds up to whole packs.
func (c *Costing) purchases(s *Sheet) {
	used := make([]measure.Quantity, len(c.costs.Materials))
	for _, l := range s.Materials {
		if !l.Customer {
			used[l.Material] += l.Used
		}
	}
	// in the order of the book, in which the store is sorted
	for m, q := range used {
		if q == 0 {
			continue
		}
		p := Purchase{Material: m, Used: q}
		if size := c.store[m].pack; size > 0 {
			p.Packs, p.Leftover = q.Packs(size)
			if !c.costs.Materials[m].Stock {
				p.Charged = c.minor.Round(c.costs.Materials[m].CostOf(q).Scaled(int64(p.Leftover), measure.Exponent))
			}
		}
		s.Purchases = append(s.Purchases, p)
	}
}

// direct sums what is charged to the boat directly.
func (c *Costing) direct(materials []MaterialLine, work []WorkLine) (s Summary) {
	for _, l := range materials {
		s.Materials = s.Materials.Add(l.Amount)
	}
	for _, l := range work {
		if l.Shop == works.Outside {
			s.Outside = s.Outside.Add(l.Amount)
		} else {
			s.Labour = s.Labour.Add(l.Amount)
		}
	}
	return s
}

// finish adds overhead and contingency to what is charged directly.
//
// Formula: overhead = rate × labour, rate × (materials + leftovers); contingency = rate × sum of all before it.
// Source: job-order costing with an absorption rate; see the package.
func (c *Costing) finish(s *Summary) {
	materials := s.Materials.Add(s.Leftovers)
	s.OverheadOnMaterials = c.minor.Round(materials.Share(c.costs.OnMaterials))
	s.OverheadOnLabour = c.minor.Round(s.Labour.Share(c.costs.OnLabour))
	before := money.Sum(materials, s.Labour, s.Outside, s.OverheadOnMaterials, s.OverheadOnLabour)
	s.Contingency = c.minor.Round(before.Share(c.costs.Contingency))
	s.Total = before.Add(s.Contingency)
}

// Lines are what the base boat or so many of an option take. An item by itself shares no packs with the boat, so that
// its lines hold no leftovers, and its prices by quantity are those of what it takes alone: a sell price does not move
// with what else is chosen.
func (c *Costing) Lines(st *formula.State, cause works.Cause) ([]MaterialLine, []WorkLine, error) {
	lines, err := c.network.Lines(st, cause)
	if err != nil {
		return nil, nil, err
	}
	materials, err := c.materials(st, cause, make([]MaterialLine, 0, len(c.needs(st, cause))))
	c.charge(materials)
	return materials, c.workLines(lines), err
}

// Item is the cost of the base boat or of so many of an option, without leftovers of packs: what its price follows
// from.
func (c *Costing) Item(st *formula.State, cause works.Cause) (Summary, error) {
	materials, work, err := c.Lines(st, cause)
	if err != nil {
		return Summary{}, err
	}
	s := c.direct(materials, work)
	c.finish(&s)
	return s, nil
}

package works

import (
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/pack"
)

// step is an operation that an item takes, for one of it. Of outside work the hours are its quantity: both are
// millionths.
type step struct {
	operation, shop int
	number          formula.NumberFunc // of hours
	byHull          []measure.Hours    // worked out ahead; nil where more than the hull decides
	at              int                // where in the book the hours stand
}

// notAhead marks a hull on which a formula gives no hours: a boat of it gets the error.
const notAhead measure.Hours = -1

// compileStep prepares hours. Most of a book follow from the hull alone, and effects ask for them by the hundred after
// every click.
func (n *Network) compileStep(need *pack.BOMLine) step {
	s := step{operation: need.Index, shop: n.Operations[need.Index].Shop, number: need.Amount.Number(), at: need.At}
	value := n.pack.Value(need.Amount)
	for hull := range n.pack.Hulls {
		v, ahead := value.ByHull(hull)
		if !ahead {
			break
		}
		h, err := pack.Fixed[measure.Hours](n.pack, v, s.at)
		if err != nil {
			h = notAhead
		}
		s.byHull = append(s.byHull, h)
	}
	return s
}

// hoursOf is the hours of a step in a boat, or its quantity: the one place where an hour is computed. It rounds to
// millionths before it is multiplied by a count, so that ten of an option take ten times what one takes.
func (n *Network) hoursOf(s *step, st *formula.State) (measure.Hours, error) {
	if s.byHull != nil && s.byHull[st.HullID] != notAhead {
		return s.byHull[st.HullID], nil
	}
	return pack.Fixed[measure.Hours](n.pack, s.number(st), s.at)
}

// steps are those of an item of a boat on its hull.
func (n *Network) steps(st *formula.State, c Cause) []step {
	if c.Kind == BaseBoat {
		return n.base[st.HullID]
	}
	return n.options[c.Index]
}

// causes are those of a boat without extra items.
func causes(st *formula.State) []Cause {
	list := []Cause{Base()}
	for o, n := range st.Counts {
		if n > 0 {
			list = append(list, Of(o, n))
		}
	}
	return list
}

// Lines are what the base boat or so many of an option take in a boat. What comes to nothing makes no line. The error
// names the place of a formula that gives no hours.
func (n *Network) Lines(st *formula.State, c Cause) ([]Line, error) {
	steps := n.steps(st, c)
	return n.lines(st, c, make([]Line, 0, len(steps)))
}

// lines appends those of an item.
func (n *Network) lines(st *formula.State, c Cause, to []Line) ([]Line, error) {
	steps := n.steps(st, c)
	for i := range steps {
		s := &steps[i]
		h, err := n.hoursOf(s, st)
		if err != nil {
			return nil, err
		}
		l := Line{For: c, Operation: s.operation, Shop: s.shop, At: s.at}
		if h = h.Times(c.Count); s.shop == Outside {
			l.Quantity = measure.Quantity(h)
		} else {
			l.Hours = h
		}
		if h > 0 {
			to = append(to, l)
		}
	}
	return to, nil
}

// Boat is the work of a boat with its extra items. It fails, naming the place in the book, where a formula gives what
// cannot be hours.
func (n *Network) Boat(st *formula.State, extras []Extra) (*Boat, error) {
	b := &Boat{ByShop: make([]KindHours, len(n.Shops)), Extras: extras, network: n,
		hull: st.HullID}
	for _, c := range causes(st) {
		first := len(b.Lines)
		var err error
		if b.Lines, err = n.lines(st, c, b.Lines); err != nil {
			return nil, err
		}
		b.count(c, first)
	}
	// an extra item may be named with no hours in a shop: it has to know of it all the same
	for i, x := range extras {
		c, first := Cause{ExtraItem, i, 1}, len(b.Lines)
		for shop := range n.Shops {
			if h, named := x.Hours[shop]; named {
				b.Lines = append(b.Lines, Line{For: c, Operation: NoOperation, Shop: shop, Hours: h})
			}
		}
		b.count(c, first)
	}
	return b, nil
}

// count adds up the lines of a cause, which are those from first on.
func (b *Boat) count(c Cause, first int) {
	sum := CauseHours{Cause: c}
	for _, l := range b.Lines[first:] {
		if l.Shop == Outside {
			continue
		}
		sum.Hours += l.Hours
		b.ByShop[l.Shop].add(c.Kind, l.Hours)
	}
	b.ByCause = append(b.ByCause, sum)
}

// Hours are those of a boat without extra items in all shops: what [Network.Boat] adds up to, and quicker.
func (n *Network) Hours(st *formula.State) (sum measure.Hours, err error) {
	for _, c := range causes(st) {
		steps := n.steps(st, c)
		for i := range steps {
			if steps[i].shop == Outside {
				continue
			}
			h, err := n.hoursOf(&steps[i], st)
			if err != nil {
				return 0, err
			}
			sum += h.Times(c.Count)
		}
	}
	return sum, nil
}

// More is what one boat takes more than another of its hull, by shop: exactly the difference of what [Network.Boat]
// gives, and quicker, since it computes only what reads something of the change. Changed must hold all in which the
// two differ.
func (n *Network) More(then, now *formula.State, changed formula.Reads) ([]measure.Hours, error) {
	var few [32]int // most changes affect fewer items, and then nothing is allocated
	byShop := make([]measure.Hours, len(n.Shops))
	for _, item := range n.readers.Affected(changed, few[:0]) {
		if err := n.addItem(then, item, 1, byShop); err != nil {
			return nil, err
		}
		if err := n.addItem(now, item, -1, byShop); err != nil {
			return nil, err
		}
	}
	return byShop, nil
}

// addItem adds the hours of an item of the readers, so many times: -1 takes them away.
func (n *Network) addItem(st *formula.State, item, times int, byShop []measure.Hours) error {
	c := Base()
	if item < len(n.options) {
		c = Of(item, st.Counts[item])
	}
	if c.Count == 0 {
		return nil // it is not in this boat, and its formulas need not hold
	}
	steps := n.steps(st, c)
	for i := range steps {
		if steps[i].shop == Outside {
			continue
		}
		h, err := n.hoursOf(&steps[i], st)
		if err != nil {
			return err
		}
		byShop[steps[i].shop] += h.Times(times * c.Count)
	}
	return nil
}

// reads is what the hours of each option depend on, with how many there are of it; behind the options stands the base
// boat, of whatever hull.
func reads(hulls, options []pack.BillOfMaterials) []formula.Reads {
	list := make([]formula.Reads, len(options)+1)
	add := func(i int, item *pack.BillOfMaterials) {
		for j := range item.Operations {
			list[i] = list[i].With(item.Operations[j].Amount.Reads())
		}
	}
	for o := range options {
		list[o] = formula.Reads{Options: []int{o}}
		add(o, &options[o])
	}
	for h := range hulls {
		add(len(options), &hulls[h])
	}
	return list
}

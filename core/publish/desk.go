package publish

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/cost"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// MaxRows is the largest table of prices of one option on one hull. A price that reads more combinations than this is
// an error of the book: a table so large would be slow to load and would show the yard's calculation to anybody who
// looked for it.
const MaxRows = 4096

// largest is the largest price that a pack holds: what money.Parse reads.
var largest = money.MustParse("999999999999999")

// Tabulate adds to the pack that [Compile] made the sell prices, listed over exactly the slots, counts and uses that
// they read, by hull.
func Tabulate(p *pack.Pack) []book.Diagnostic {
	t, diagnostics := newTabulation(p)
	if len(diagnostics) == 0 {
		p.Prices, diagnostics = t.prices()
		takeDigests(p)
	}
	return diagnostics
}

// For makes the pack of a desk of the parts that it gets, from the yard's tabulated pack, which has them all. Parts are
// shared, not copied: no desk changes its pack.
func For(yard *pack.Pack, desk pack.Desk) *pack.Pack {
	p := &pack.Pack{Format: yard.Format, Desk: desk, Public: yard.Public, Photos: yard.Photos}
	// parts are taken whole: what a part may hold was decided on its types
	switch desk {
	case pack.Buyer:
	case pack.Show:
		p.Selling, p.Costs = yard.Selling, yard.Costs
		if yard.Work.Launch != pack.Yard {
			p.Planning = yard.ForShow()
		}
	case pack.Yard:
		p.Selling, p.Costs, p.Work = yard.Selling, yard.Costs, yard.Work
	default:
		// of the dealers himself alone; no book has a desk for one that it does not name
		for i, d := range yard.Costs.Dealers {
			if pack.DeskOfDealer(d.ID) == desk {
				p.Selling = &pack.Selling{Maker: yard.Selling.Maker, Numbering: yard.Selling.Numbering,
					Dealer: &yard.Costs.Dealers[i]}
			}
		}
	}
	p.Assemble()
	return p
}

// baseBoat stands for the base boat among options.
const baseBoat = -1

// tabulation lists every sell price of a pack.
type tabulation struct {
	pack    *pack.Pack
	figures *figures.Figures
	pricing *price.Pricing
	// the use that the book assumes: what a price does not read is left so
	standard []float64
	// by hull: a boat without options, in which prices are tried
	states      []*formula.State
	diagnostics []book.Diagnostic
}

// newTabulation makes ready what prices are computed with. It fails where the pack does not compile, which the compiler
// of the book has not seen: a figure in a circle, or a formula over one that no desk has.
func newTabulation(p *pack.Pack) (*tabulation, []book.Diagnostic) {
	failed := func(err error) (*tabulation, []book.Diagnostic) {
		return nil, []book.Diagnostic{{Message: err.Error(), Advice: "see the place named"}}
	}
	figs, err := figures.Compile(p)
	if err != nil {
		return failed(err)
	}
	costing, err := cost.Compile(p, works.Compile(p), takeoff.New(p))
	if err != nil {
		return failed(err)
	}
	pricing, err := price.Compile(p, costing)
	if err != nil {
		return failed(err)
	}
	t := &tabulation{pack: p, figures: figs, pricing: pricing, states: make([]*formula.State, len(p.Hulls))}
	for _, u := range p.Use {
		t.standard = append(t.standard, u.Standard)
	}
	return t, nil
}

// prices lists the base boats by hull, and every option on every hull that it is made for. Each wrong price is
// reported, a table that fails once.
func (t *tabulation) prices() (*pack.Prices, []book.Diagnostic) {
	out := &pack.Prices{}
	for h := range t.pack.Hulls {
		out.Base = append(out.Base, t.table(&t.pack.Costs.Hulls[h], h, baseBoat))
	}
	for o := range t.pack.Options {
		row := make([]pack.Table, len(t.pack.Hulls))
		for h := range t.pack.Hulls {
			if t.pack.Made(o, h) {
				row[h] = t.table(&t.pack.Costs.Options[o], h, o)
			}
		}
		out.Options = append(out.Options, row)
	}
	return out, t.diagnostics
}

// reads is what the price of an item reads itself. A figure on the way is resolved by the caller.
func (t *tabulation) reads(item *pack.BillOfMaterials) formula.Reads {
	var r formula.Reads
	for _, l := range item.List {
		r = r.With(l.Per.Reads()).With(l.When.Reads())
	}
	// a list price stands by itself; otherwise the price follows from the cost, and so from all that the cost reads
	if len(item.List) == 0 {
		for i := range item.Materials {
			r = r.With(takeoff.Reads(t.pack, &item.Materials[i]))
		}
		for _, n := range item.Operations {
			r = r.With(n.Amount.Reads())
		}
	}
	return r
}

// axes are what the price of an option has to be listed over. Options that are not made for the hull are among it: a
// spec may name them all the same, and clashes, but its price is the same on every desk.
func (t *tabulation) axes(r formula.Reads, option int) []pack.Axis {
	var axes []pack.Axis
	bySlot, slots := map[int][]int{}, slices.Clone(r.Slots)
	// who reads whether an option is there reads its slot
	for _, o := range r.Options {
		s := t.pack.Options[o].Slot
		bySlot[s], slots = append(bySlot[s], o), append(slots, s)
	}
	slices.Sort(slots)
	for _, s := range slices.Compact(slots) {
		def := &t.pack.Slots[s]
		own := option >= 0 && t.pack.Options[option].Slot == s
		filled := contains(r.Slots, s)
		switch {
		// the price of an option is asked for only where it is there
		case own && !def.Multiple: // it holds the option itself
		case def.Multiple:
			// each option by its count: in a slot of multiple options they do not exclude each other
			for _, o := range bySlot[s] {
				axes = append(axes, pack.Axis{Kind: pack.AxisCount, Index: o, Size: t.pack.Options[o].Most + 1})
			}
			if filled && !own {
				axes = append(axes, pack.Axis{Kind: pack.AxisOneOf, Index: s, Size: 2})
			}
		// nothing, one of the options that are read, or any other: two places more than options
		case filled || len(bySlot[s]) > 0:
			axes = append(axes, pack.Axis{Kind: pack.AxisOneOf, Index: s, Options: bySlot[s], Size: len(bySlot[s]) + 2})
		}
	}
	// a use field in steps: a page asks for no value between them
	for _, u := range r.Use {
		axes = append(axes, pack.Axis{Kind: pack.AxisUse, Index: u, Size: t.pack.Use[u].Steps()})
	}
	return axes
}

func contains(list []int, x int) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// table lists the price of an option, or of the base boat, on one hull.
func (t *tabulation) table(item *pack.BillOfMaterials, hull, option int) pack.Table {
	reads := t.reads(item)
	axes, needed := t.axes(t.figures.Resolve(reads), option), t.figures.Needed(reads)
	// counted before anything is computed, since the product grows without bound
	rows := 1
	for _, a := range axes {
		if rows *= a.Size; rows > MaxRows {
			t.tooLarge(item, hull, axes)
			return pack.Table{}
		}
	}
	table := pack.Table{Axes: axes, Prices: make([]money.Amount, rows)}
	places := make([]int, len(axes))
	for row := range table.Prices {
		// the last axis changes fastest, as in every table of a pack
		for i, rest := len(axes)-1, row; i >= 0; i-- {
			places[i], rest = rest%axes[i].Size, rest/axes[i].Size
		}
		// a price that cannot be computed at one place makes the table useless: the others are not asked
		v, err := t.at(hull, option, axes, places, needed)
		// a pack that no desk could read back is worse than none
		if err == nil && v.Cmp(largest) > 0 {
			err = fmt.Errorf("the price %s is larger than any boat's", v)
		}
		if err != nil {
			t.fail(item, fmt.Sprintf("with %s: %v", t.describe(axes, places), err), t.guard(axes, places))
			return pack.Table{}
		}
		table.Prices[row] = v
	}
	// what a price reads need not change it: an axis without effect would double the table
	return reduce(table)
}

// at computes the price at one place of every axis. It leaves the state as it found it.
func (t *tabulation) at(hull, option int, axes []pack.Axis, places []int, needed figures.Needed) (money.Amount, error) {
	// one state for each hull is filled and emptied again: a table has thousands of rows
	st := t.states[hull]
	if st == nil {
		st = figures.NewState(t.pack, hull, t.standard)
		t.states[hull] = st
	}
	// what has to be emptied afterwards
	var filled []int // options
	put := func(o, n int) {
		st.Slots[t.pack.Options[o].Slot] += n - st.Counts[o]
		st.Counts[o] = n
		filled = append(filled, o)
	}
	if option >= 0 {
		put(option, 1)
	}
	for i, a := range axes {
		switch {
		// a value of the use by its step, from the least
		case a.Kind == pack.AxisUse:
			st.Use[a.Index] = t.pack.Use[a.Index].Value(places[i])
		case a.Kind == pack.AxisCount:
			put(a.Index, places[i])
		case places[i] > len(a.Options):
			st.Slots[a.Index] = 1
		case places[i] > 0:
			put(a.Options[places[i]-1], 1)
		}
	}
	// only the figures that the price reads, each of them from a boat that may be no boat at all
	t.figures.FillNeeded(st, needed)
	defer func() { // the state is empty for the next
		for _, o := range filled {
			st.Counts[o], st.Slots[t.pack.Options[o].Slot] = 0, 0
		}
		for _, a := range axes {
			if a.Kind == pack.AxisUse {
				st.Use[a.Index] = t.standard[a.Index]
			} else if a.Kind == pack.AxisOneOf {
				st.Slots[a.Index] = 0
			}
		}
	}()
	if option >= 0 {
		return t.pricing.Option(st, option)
	}
	return t.pricing.Base(st)
}

// reduce drops axes along which the price never changes.
func reduce(t pack.Table) pack.Table {
	for i := 0; i < len(t.Axes); {
		if smaller, ok := without(t, i); ok {
			t = smaller
		} else {
			i++
		}
	}
	return t
}

// without is a table less one axis, if the price is the same at every place of it. Prices lie in blocks: those of the
// axes behind it are inner, and the places of the axis are so far apart.
func without(t pack.Table, axis int) (pack.Table, bool) {
	inner := 1
	for _, a := range t.Axes[axis+1:] {
		inner *= a.Size
	}
	// each price is compared with that at the first place of the axis
	size := t.Axes[axis].Size
	out := pack.Table{Axes: append(append([]pack.Axis(nil), t.Axes[:axis]...), t.Axes[axis+1:]...)}
	for block := 0; block < len(t.Prices); block += inner * size {
		for i := range inner {
			for k := 1; k < size; k++ {
				if !t.Prices[block+i].Equal(t.Prices[block+i+k*inner]) {
					return t, false
				}
			}
			out.Prices = append(out.Prices, t.Prices[block+i])
		}
	}
	return out, true
}

// tooLarge names the axes with their sizes, so that the owner sees which of them to let go of.
func (t *tabulation) tooLarge(item *pack.BillOfMaterials, hull int, axes []pack.Axis) {
	t.fail(item, fmt.Sprintf("the price on the %s reads %s: more than %d combinations", t.pack.Hulls[hull].Title,
		t.describe(axes, nil), MaxRows),
		"give a list price, or let its quantities and hours read fewer slots")
}

// guard is the advice for a formula that fails at a place.
func (t *tabulation) guard(axes []pack.Axis, places []int) string {
	for i, a := range axes {
		// only an empty slot that every boat fills needs an explanation: an owner thinks of boats, not of tables
		if a.Kind != pack.AxisOneOf || places[i] > 0 {
			continue
		}
		if s := &t.pack.Slots[a.Index]; !s.Multiple && s.Least > 0 {
			return fmt.Sprintf("a price is listed with each slot that it reads empty, too, even %s, which takes one: "+
				"give a number that can be there, or say in the when: of a circuit chosen(%q) != \"\"", s.ID, s.ID)
		}
	}
	return "a price is listed over all combinations of what it reads, so its formula must hold for each; guard it"
}

// fail notes a diagnostic at the option or the hull whose price it is.
func (t *tabulation) fail(item *pack.BillOfMaterials, message, advice string) {
	at := t.pack.Work.Sources[item.At]
	t.diagnostics = append(t.diagnostics, book.Diagnostic{Position: book.Position{File: at.File, Line: at.Line,
		Column: at.Column}, Message: message, Advice: advice})
}

// describe names axes, or a place on each. The owner reads them in a message, and a table of many axes is hard to
// picture otherwise.
func (t *tabulation) describe(axes []pack.Axis, places []int) string {
	if len(axes) == 0 {
		return "nothing else chosen"
	}
	var words []string
	for i, a := range axes {
		name := ""
		switch a.Kind {
		case pack.AxisUse:
			name = "use." + t.pack.Use[a.Index].ID
		case pack.AxisCount:
			name = t.pack.Options[a.Index].ID
		default:
			name = t.pack.Slots[a.Index].ID
		}
		if places == nil {
			words = append(words, fmt.Sprintf("%s (%d)", name, a.Size))
			continue
		}
		words = append(words, fmt.Sprintf("%s at %s", name, t.placeName(a, places[i])))
	}
	return strings.Join(words, ", ")
}

// placeName is a place on an axis as an owner knows it: a value of the use, a count, an option.
func (t *tabulation) placeName(a pack.Axis, place int) string {
	switch {
	case a.Kind == pack.AxisUse && len(t.pack.Use[a.Index].Choices) > 0:
		return t.pack.Use[a.Index].Choices[place].ID
	case a.Kind == pack.AxisUse:
		return fmt.Sprint(t.pack.Use[a.Index].Value(place))
	case a.Kind == pack.AxisCount:
		return fmt.Sprint(place)
	case place == 0:
		return "nothing"
	case place <= len(a.Options):
		return t.pack.Options[a.Options[place-1]].ID
	}
	return "another option"
}

package works

import (
	"slices"

	"ribband/core/formula"
	"ribband/core/pack"
)

// Network is the operations of a book: which shop does each, what comes before, and what each item of a boat takes. It
// is compiled once for a pack and not changed afterwards, so that many boats may be asked for at once.
type Network struct {
	Shops      []Shop
	Operations []Operation
	Order      []int // of the operations, as they are done: see [buildOrder]

	pack      *pack.Pack
	base      [][]step // by hull, of the base boat
	options   [][]step // by option, of one of it
	readers   *formula.Index
	equipment []pack.Equipment
	spread    pack.Spread // of what has no operation
}

// Shop is a department of the yard; who works there and when is zero on a desk without the work.
type Shop struct {
	ID    string
	Title string
	pack.ShopWork
}

// Operation is one step of the build; how it is worked is zero on a desk without the work.
type Operation struct {
	ID    string
	Title string
	Shop  int // [Outside] where a supplier does it
	pack.OperationWork
}

// Compile prepares the operations of a pack; nil where the pack has none.
func Compile(p *pack.Pack) *Network {
	if p.Costs == nil {
		return nil
	}
	n := &Network{pack: p, spread: pack.Exactly}
	for _, s := range p.Costs.Shops {
		n.Shops = append(n.Shops, Shop{ID: s.ID, Title: s.Title})
	}
	for _, o := range p.Costs.Operations {
		n.Operations = append(n.Operations, Operation{ID: o.ID, Title: o.Title, Shop: o.Shop})
	}
	if w := p.Planned(); w != nil {
		n.equipment, n.spread = w.Equipment, w.Spread
		for i := range w.Shops {
			n.Shops[i].ShopWork = w.Shops[i]
		}
		for i := range w.Operations {
			n.Operations[i].OperationWork = w.Operations[i]
		}
	}
	n.Order = buildOrder(n.Operations) // that of the book where the desk knows no other
	for i := range p.Costs.Hulls {
		n.base = append(n.base, n.compileItem(&p.Costs.Hulls[i]))
	}
	for i := range p.Costs.Options {
		n.options = append(n.options, n.compileItem(&p.Costs.Options[i]))
	}
	n.readers = formula.NewIndex(reads(p.Costs.Hulls, p.Costs.Options), p.Space())
	return n
}

// Place is where a task is done: the title of its shop, or the supplier who does it; "" where the desk does not know
// him.
func (n *Network) Place(t *Task) string {
	if t.Shop == Outside {
		return n.Operations[t.Operation].Supplier
	}
	return n.Shops[t.Shop].Title
}

// compileItem prepares all that an item takes.
func (n *Network) compileItem(item *pack.BillOfMaterials) []step {
	list := make([]step, len(item.Operations))
	for i := range item.Operations {
		list[i] = n.compileStep(&item.Operations[i])
	}
	return list
}

// buildOrder are operations in an order in which they can be done: none before those that it comes after, otherwise in
// the order of the book. None wait for each other in a circle: the checker of books and the reader of packs refuse
// that.
//
// Source: topological order, A. B. Kahn, Communications of the ACM 5 (1962), 558-562.
func buildOrder(list []Operation) []int {
	order, done := make([]int, 0, len(list)), make([]bool, len(list))
	ready := func(i int) bool {
		return !slices.ContainsFunc(list[i].After, func(a pack.Predecessor) bool { return !done[a.Operation] })
	}
	for i := 0; i < len(done); i++ {
		if !done[i] && ready(i) {
			done[i] = true
			order = append(order, i)
			i = -1 // what stands before it in the book may be ready now
		}
	}
	return order
}

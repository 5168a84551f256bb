package works

import (
	"slices"

	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/pack"
)

// Network is the operations of a book: which shop does each, what comes before, and what each item of a boat takes. It
// is compiled once for a pack and not changed afterwards, so that many boats may be asked for at once.
type Network struct {
	Shops      []Shop
	Operations []Operation
	Order      []int // of the operations, as they are done: see [buildOrder]

	pack    *pack.Pack
	base    [][]step // by hull, of the base boat
	options [][]step // by option, of one of it
	readers *formula.Index
}

// Shop is a department of the yard.
type Shop struct {
	ID        string
	Title     string
	HoursWeek float64 // h that it works in a week; 0 on a desk without the work
}

// Operation is one step of the build.
type Operation struct {
	ID    string
	Title string
	Shop  int
	After []int // operations that must be done before it; none on a desk without the work
}

// Compile prepares the operations of a pack; nil where the pack has none.
func Compile(p *pack.Pack) *Network {
	if p.Costs == nil {
		return nil
	}
	n := &Network{pack: p}
	for _, s := range p.Costs.Shops {
		n.Shops = append(n.Shops, Shop{ID: s.ID, Title: s.Title})
	}
	for _, o := range p.Costs.Operations {
		n.Operations = append(n.Operations, Operation{ID: o.ID, Title: o.Title, Shop: o.Shop})
	}
	if w := p.Work; w != nil {
		for i := range w.Shops {
			n.Shops[i].HoursWeek = w.Shops[i].HoursWeek
		}
		for i, after := range w.Operations {
			n.Operations[i].After = after
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
		return !slices.ContainsFunc(list[i].After, func(a int) bool { return !done[a] })
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

// Task is an operation that a boat takes, with all that it is done for there; or an extra item's work in one shop.
type Task struct {
	Operation int // index in the book; [NoOperation] for an extra item
	Shop      int
	Hours     measure.Hours // for all causes; zero only for an extra item
	Lines     []int         // of [Boat.Lines], that it is made of
	After     []int         // tasks of the same list, all of them earlier, that must be done before
}

// Tasks is the network of a boat: its operations in the order in which they are done, then the work of its extra items,
// for which the book has no place in that order. What an operation waits for is looked for beyond operations that this
// boat does not have, so that the order of the book holds whatever is left out.
func (b *Boat) Tasks() []Task {
	n := b.network
	// an operation is done once for all that it is for, when everything for it can be done
	byOperation := make([][]int, len(n.Operations))
	var extras []Task
	for i, l := range b.Lines {
		if l.Operation == NoOperation {
			extras = append(extras, Task{Operation: NoOperation, Shop: l.Shop, Hours: l.Hours, Lines: []int{i}})
			continue
		}
		byOperation[l.Operation] = append(byOperation[l.Operation], i)
	}
	at := make([]int, len(n.Operations)) // of its task; -1: the boat does not have it, or not yet
	for i := range at {
		at[i] = -1
	}
	var tasks []Task
	for _, op := range n.Order {
		if len(byOperation[op]) == 0 {
			continue
		}
		t := Task{Operation: op, Shop: n.Operations[op].Shop, Lines: byOperation[op], After: n.before(op, at)}
		for _, i := range t.Lines {
			t.Hours += b.Lines[i].Hours
		}
		at[op] = len(tasks)
		tasks = append(tasks, t)
	}
	return append(tasks, extras...)
}

// before are the tasks that an operation waits for, in order, each once: those of the operations that it comes after,
// and where the boat does not have one of these, of what that one comes after. At holds the earlier tasks by operation.
func (n *Network) before(op int, at []int) (tasks []int) {
	seen := make([]bool, len(n.Operations)) // two ways may lead back to one operation
	open := slices.Clone(n.Operations[op].After)
	for len(open) > 0 {
		a := open[len(open)-1]
		open = open[:len(open)-1]
		switch {
		case seen[a]:
		case at[a] >= 0:
			tasks = append(tasks, at[a])
		default:
			open = append(open, n.Operations[a].After...)
		}
		seen[a] = true
	}
	slices.Sort(tasks)
	return tasks
}

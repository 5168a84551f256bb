package book

import (
	"fmt"
	"slices"
	"strings"
)

// Every material is taken by an operation, and stands on the sheet of its shop. A line may leave the operation out
// where all operations of its item are in one shop: the first of them takes it.

// hullTakers reports materials of a base boat of which nothing says which operation takes them, those of its laminates
// among them.
func (v *validation) hullTakers(h *Hull) {
	t := v.takersOf("base boat of "+h.ID.Value, h.Operations, nil)
	for i := range h.Materials {
		t.line(taken(&h.Materials[i]), h.Materials[i].Operation, h.Materials[i].At)
	}
	for i := range v.book.Laminates {
		l := &v.book.Laminates[i]
		on := len(l.Hulls) == 0 || slices.ContainsFunc(l.Hulls, func(x Text) bool { return x.Value == h.ID.Value })
		if on && (l.Resin.Value != "" || slices.ContainsFunc(l.Plies,
			func(p Ply) bool { return p.Material.Value != "" })) {
			t.line("laminate "+l.ID.Value, l.Operation, l.At)
		}
	}
}

// optionTakers reports materials of an option of which nothing says which operation takes them.
func (v *validation) optionTakers(s *Slot, o *Option) {
	t := v.takersOf("option "+o.ID.Value, o.Operations, v.baseOperations(s, o))
	for i := range o.Materials {
		t.line(taken(&o.Materials[i]), o.Materials[i].Operation, o.Materials[i].At)
	}
}

// baseOperations are those of the base boat of every hull that an option is made for.
func (v *validation) baseOperations(s *Slot, o *Option) (ids []string) {
	first := true
	for i := range v.book.Hulls {
		h := &v.book.Hulls[i]
		if !madeFor(s.Hulls, h.ID.Value) || !madeFor(o.Hulls, h.ID.Value) {
			continue
		}
		has := operationIDs(h.Operations)
		if first {
			ids, first = has, false
			continue
		}
		ids = slices.DeleteFunc(ids, func(id string) bool { return !slices.Contains(has, id) })
	}
	return ids
}

func madeFor(hulls []Text, hull string) bool {
	return len(hulls) == 0 || slices.ContainsFunc(hulls, func(h Text) bool { return h.Value == hull })
}

func operationIDs(work []Work) (ids []string) {
	for _, w := range work {
		ids = append(ids, w.Operation.Value)
	}
	return ids
}

// takerCheck holds what the materials of one item may name.
type takerCheck struct {
	*validation
	item      string
	own, base []string
	shops     []string // of its own operations
}

func (v *validation) takersOf(item string, work []Work, base []string) *takerCheck {
	t := &takerCheck{validation: v, item: item, own: operationIDs(work), base: base}
	for _, id := range t.own {
		for _, o := range v.book.Operations {
			if o.ID.Value == id && !slices.Contains(t.shops, o.Shop.Value) {
				t.shops = append(t.shops, o.Shop.Value)
			}
		}
	}
	return t
}

// taken names a line of material.
func taken(q *Quantity) string {
	if what, circuit := q.OfCircuit(); what != "" {
		return what + " of " + circuit.Value
	}
	return "material " + q.Material.Value
}

// line checks the operation of one material. An item without operations may name any: what is sewn of a cloth stands at
// the cover, and not at the cloth.
func (t *takerCheck) line(what string, operation Text, at Position) {
	switch {
	case len(t.book.Operations) == 0: // a book without work has no sheets of shops
	case operation.Value != "":
		if t.known("operation", operation) && len(t.own) > 0 && !slices.Contains(t.own, operation.Value) &&
			!slices.Contains(t.base, operation.Value) {
			t.error(operation.At, "name one of "+strings.Join(t.own, ", ")+
				", or one that every base boat goes through",
				"the %s has no operation %s that could take the %s", t.item, operation, what)
		}
	case len(t.own) == 0:
		t.error(at, "add operation: with the one that takes it",
			"the %s has no operation, and nothing says which shop takes the %s", t.item, what)
	case len(t.shops) > 1:
		t.error(at, fmt.Sprintf("add operation: with one of %s", strings.Join(t.own, ", ")),
			"the %s has operations in %d shops, and nothing says which of them takes the %s", t.item, len(t.shops),
			what)
	}
}

package fit

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
)

// dependencies is what a condition reads of the boat, figures resolved. What a question about a clash needs is which
// slots could be changed, and in a slot of multiple which of the options are worth changing.
type dependencies struct {
	slots   []int
	options []int // those named; of a slot asked whole, none
}

// dependenciesOf resolves figures to the options and slots that they follow from, through other figures and modules.
func (f *Fit) dependenciesOf(r formula.Reads) dependencies {
	r = f.figures.Resolve(r)
	slots := formula.Reads{Slots: r.Slots}
	for _, o := range r.Options {
		slots.Slots = append(slots.Slots, f.pack.Options[o].Slot)
	}
	return dependencies{slots.With(formula.Reads{}).Slots, r.Options}
}

// closure is what some slots touch in the end: with what opens or closes them. The slots whose options carry most come
// first, a bank before a colour. A change there resolves more limits at once, so that the search meets a valid boat
// sooner. The order is stable, since it is the order in which boats are tried.
func (f *Fit) closure(t dependencies) dependencies {
	t.slots, t.options = slices.Clone(t.slots), slices.Clone(t.options)
	found := newBitset(len(f.pack.Slots))
	for _, s := range t.slots {
		found.add(s)
	}
	for i := 0; i < len(t.slots); i++ {
		by := &f.slots[t.slots[i]].depends
		for _, s := range by.slots {
			if !found.has(s) {
				found.add(s)
				t.slots = append(t.slots, s)
			}
		}
		t.options = append(t.options, by.options...)
	}
	slices.SortStableFunc(t.slots, func(a, b int) int { return f.slots[b].carries - f.slots[a].carries })
	return t
}

// closureOf is everything that could be changed to resolve a clash.
func (b *boat) closureOf(x fault) dependencies {
	f := b.fit
	switch x.kind {
	case Broken:
		return b.rule(x.index).closure()
	case Closed:
		return f.slots[x.index].closing
	case TooFew:
		return f.slots[x.index].closure
	case TooMany:
		if x.index < len(f.slots) {
			return f.slots[x.index].closure
		}
	case Unsound:
		return f.modules
	}
	return dependencies{}
}

// alike says that two contents of a slot of one (-1 is nothing) are the same to a clash, because nothing that it reads
// tells them apart. It is what keeps the branches of a rule over the mass down to options that weigh something: of
// forty colours that weigh nothing none is tried. What a rule names itself it can always tell apart.
func (b *boat) alike(x fault, one, other int) bool {
	f := b.fit
	if x.kind != Broken && x.kind != Unsound {
		return false
	}
	if x.kind == Broken {
		r := b.rule(x.index)
		for _, o := range []int{one, other} {
			if o >= 0 && (slices.Contains(r.reads.Options, o) ||
				slices.Contains(r.reads.Slots, f.pack.Options[o].Slot)) {
				return false
			}
		}
	}
	return f.class(one) == f.class(other)
}

func (f *Fit) class(option int) int {
	if option < 0 {
		return 0
	}
	return f.classes[option]
}

// classify numbers options by what figures and conditions of slots can see of them: what they carry, where, and as
// what. Those that are the same get the same number, those that nothing sees 0. Rules are left out on purpose: a rule
// that names an option is asked about it by itself (see alike), and would otherwise put nearly every option into a
// class of its own.
func (f *Fit) classify() {
	p := f.pack
	seen := formula.Union(f.seen())
	numbers := map[string]int{"": 0}
	f.classes, f.visible = make([]int, len(p.Options)), make([]bool, len(p.Options))
	for i, o := range p.Options {
		key := ""
		if len(o.Carries)+len(o.Points.All()) > 0 {
			key = carried(p, &o)
		}
		_, named := slices.BinarySearch(seen.Options, i)
		_, asked := slices.BinarySearch(seen.Slots, o.Slot)
		if f.visible[i] = named || asked; f.visible[i] {
			key = fmt.Sprint("option ", i)
		}
		if _, known := numbers[key]; !known {
			numbers[key] = len(numbers)
		}
		f.classes[i] = numbers[key]
	}
}

// seen is what figures and conditions of slots read.
func (f *Fit) seen() (list []formula.Reads) {
	p := f.pack
	for _, x := range p.Figures {
		list = append(list, x.Formula.Reads())
	}
	for _, s := range p.Slots {
		list = append(list, s.When.Reads(), s.Place.Reads())
	}
	for _, h := range p.Hulls {
		list = append(list, h.Place.Reads(), seatReads(h.Seats), h.Points.Reads(), carryReads(h.Carries))
	}
	for _, o := range p.Options {
		list = append(list, o.Place.Reads(), o.Points.Reads(), carryReads(o.Carries))
	}
	for _, c := range p.Circuits {
		if figures.ReadsCircuit(&c) { // the buyer's desk has not the others, and goes the same ways
			list = append(list, figures.ReadsOf(&c))
		}
	}
	return list
}

// carried writes what an option carries, where, and as what. Formulas are compared as text: two that are written
// otherwise and mean the same are told apart, which costs a branch and no boat.
func carried(p *pack.Pack, o *pack.Option) string {
	var b strings.Builder
	for _, c := range o.Carries {
		fmt.Fprintf(&b, "%d %s; ", c.Figure, c.Amount)
	}
	at := o.Place
	if at == nil {
		at = p.Slots[o.Slot].Place
	}
	if at != nil {
		fmt.Fprintf(&b, "at %s, %s, %s ", at.X, at.Y, at.Z)
	}
	for _, x := range o.Points.All() {
		fmt.Fprintf(&b, "to %s, %s, %s, %v %s ", x.Place.X, x.Place.Y, x.Place.Z, x.States, x.Immersed)
	}
	fmt.Fprintf(&b, "as %s %v", o.Submerged, p.Slots[o.Slot].Machinery)
	return b.String()
}

func seatReads(s *pack.Seats) formula.Reads {
	if s == nil {
		return formula.Reads{}
	}
	return s.Place.Reads().With(s.Side.Reads())
}

func carryReads(list []pack.Contribution) (r formula.Reads) {
	for _, c := range list {
		r = r.With(c.Amount.Reads())
	}
	return r
}

// wide says that a clash is of a rule that reads many slots.
func (b *boat) wide(x fault) bool { return x.kind == Broken && b.rule(x.index).explained.wide }

package pack

import "slices"

// Exists says whether a hull has a slot at all.
func (p *Pack) Exists(slot, hull int) bool { return madeFor(p.Slots[slot].Hulls, hull) }

// Made says whether an option is made for a hull, and the hull has its slot.
func (p *Pack) Made(option, hull int) bool {
	o := &p.Options[option]
	return madeFor(o.Hulls, hull) && p.Exists(o.Slot, hull)
}

// Offered says whether an option can be chosen for a hull: it is made for it, sold on the day of the edition, and not
// sold out.
func (p *Pack) Offered(option, hull int) bool {
	s := p.Options[option].Sale
	return p.Made(option, hull) && (s == nil || !s.Off) && p.LeftOf(option) != 0
}

// Has says whether the boats of a hull have a figure.
func (p *Pack) Has(figure, hull int) bool { return madeFor(p.Figures[figure].Hulls, hull) }

func madeFor(hulls []int, hull int) bool { return len(hulls) == 0 || slices.Contains(hulls, hull) }

// Default is, by option, how many the slots of a hull hold by themselves: the standard build, and where a slot must
// hold something that this does not give, the first option that is offered for the hull.
func (p *Pack) Default(hull int) []int {
	counts, sums := make([]int, len(p.Options)), make([]int, len(p.Slots))
	for _, n := range p.Hulls[hull].Standard {
		if p.Offered(n.Option, hull) {
			counts[n.Option] = n.Count
			sums[p.Options[n.Option].Slot] += n.Count
		}
	}
	for o := range p.Options {
		def := &p.Options[o]
		if lacks := p.Slots[def.Slot].Least - sums[def.Slot]; lacks > 0 && p.Offered(o, hull) {
			more := min(lacks, def.Most-counts[o])
			counts[o] += more
			sums[def.Slot] += more
		}
	}
	return counts
}

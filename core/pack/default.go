package pack

import "slices"

// Exists says whether a hull has a slot at all.
func (p *Pack) Exists(slot, hull int) bool { return madeFor(p.Slots[slot].Hulls, hull) }

// Made says whether an option is made for a hull, and the hull has its slot.
func (p *Pack) Made(option, hull int) bool {
	o := &p.Options[option]
	return madeFor(o.Hulls, hull) && p.Exists(o.Slot, hull)
}

func madeFor(hulls []int, hull int) bool { return len(hulls) == 0 || slices.Contains(hulls, hull) }

// Default is, by option, how many the slots of a hull hold by themselves: the standard build, and where a slot must
// hold something that this does not give, the first option that is made for the hull.
func (p *Pack) Default(hull int) []int {
	counts, sums := make([]int, len(p.Options)), make([]int, len(p.Slots))
	for _, n := range p.Hulls[hull].Standard {
		if p.Made(n.Option, hull) {
			counts[n.Option] = n.Count
			sums[p.Options[n.Option].Slot] += n.Count
		}
	}
	for o := range p.Options {
		def := &p.Options[o]
		if lacks := p.Slots[def.Slot].Least - sums[def.Slot]; lacks > 0 && p.Made(o, hull) {
			more := min(lacks, def.Most-counts[o])
			counts[o] += more
			sums[def.Slot] += more
		}
	}
	return counts
}

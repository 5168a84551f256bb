package fit

import "slices"

// Repair is a way to have what clashes: other choices with which there is a boat.
type Repair struct {
	Choices Choices
	Changed []int // the settled slots that hold something else, or are set aside
	Changes int   // how many choices that are: in a slot of multiple each option counts
	Build   *Build
}

// repairTries bounds the search for repairs. More than for a verdict: it is asked for once, by somebody who waits for
// the answer, and boats of several changes have to be passed.
const repairTries = 3000

// repairWholes bounds the boats among them that modules compute, which take most of the time: where only the whole boat
// decides and nothing explains it, a person would wait for seconds, mostly for nothing.
const repairWholes = 400

// mostRepairs is how many repairs of the fewest changes are looked at. It keeps a book in which hundreds of ways cost
// the same from being completed one by one.
const mostRepairs = 60

// Repairs finds the ways to have a boat with what is wanted by the fewest changed choices: the choices are those of the
// boat with what is wanted among them; kept says which settled slots must stay. All ways with the fewest changes come,
// and complete says that there are no others; then some with one change more, where there are less than wanted. They
// are in the order in which they were found: who knows prices may order them. ~It is the search for the nearest boat,
// with the choices that may go made loose, at a price above all soft slots. The solver does not do here: it gives one
// nearest boat for each question, while the list wants all of the fewest changes, and forbidding each repair before
// asking for the next would take a question for each.
func (f *Fit) Repairs(hull int, use []float64, c Choices, kept func(slot int) bool, want int) (list []Repair,
	complete bool) {
	root := f.newBoat(Question{Hull: hull, Use: use, Choices: c})
	root.loose = make([]bool, len(f.slots))
	for slot, settled := range c.Settled {
		if root.loose[slot] = settled && !kept(slot); root.loose[slot] {
			root.unfilled.add(slot)
		}
	}
	root.settle()
	s := search{fit: f, why: f.newExplanations(), tries: repairTries, wholes: repairWholes}
	fewest, infeasible := -1, false
	var tried []Repair // with those that came to nothing: many boats differ in soft slots alone, and are one repair
	s.each(root, func(b *boat) bool {
		if infeasible = len(s.aside) > 0; infeasible {
			return true
		}
		// Boats come cheapest first, so that the first one has the fewest changes, and the visit may end the search as
		// soon as they get more.
		changes := b.cost() / settledCost
		if fewest < 0 {
			fewest = changes
		}
		if changes > fewest && len(list) >= want || changes > fewest+1 {
			return true
		}
		r := f.repaired(b, c)
		if r.among(tried) {
			return false
		}
		tried = append(tried, r)
		r.Build = f.completed(f.newBoat(Question{Hull: hull, Use: use, Choices: r.Choices}), DefaultTries, s.why)
		if len(r.Build.Clashes) == 0 {
			list = append(list, r)
		}
		return len(list) == mostRepairs
	})
	return list, infeasible || !s.cut && len(list) < mostRepairs
}

// repaired are the choices of a boat that was found, not yet completed. It may be a clash still: what the search left
// soft is completed anew from these choices, as the page will do it after the click, and only what comes out valid is
// offered.
func (f *Fit) repaired(b *boat, c Choices) Repair {
	r := Repair{Choices: c.Clone(), Changes: b.cost() / settledCost}
	for slot, loose := range b.loose {
		def := &f.pack.Slots[slot]
		now := b.live.State.Counts[def.First:def.End]
		if !loose || slices.Equal(now, c.Counts[def.First:def.End]) {
			continue
		}
		r.Changed = append(r.Changed, slot)
		copy(r.Choices.Counts[def.First:def.End], now)
		if !b.open[slot] {
			r.Choices = f.Drop(r.Choices, slot) // set aside
		}
	}
	return r
}

// among says whether another repair changes the same choices to the same.
func (r *Repair) among(list []Repair) bool {
	return slices.ContainsFunc(list, func(o Repair) bool {
		return slices.Equal(o.Choices.Counts, r.Choices.Counts) && slices.Equal(o.Choices.Settled, r.Choices.Settled)
	})
}

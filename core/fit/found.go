package fit

import "slices"

// Found is the boat with the choices whose slots hold what another search found to be nearest. It is judged here anew,
// and [Optimal] only if nothing clashes in it.
func (f *Fit) Found(hull int, use []float64, c Choices, counts []int) *Build {
	root := f.newBoat(hull, use, c)
	var deviations []deviation
	for i := range f.slots {
		if !root.fixed(i) {
			deviations = append(deviations, f.differences(i, f.defaults[hull], counts)...)
		}
	}
	found := root.clone()
	found.move(deviations)
	b := &Build{Choices: c, State: found.live.State, Clashes: found.clashes(), Status: Optimal, root: root}
	if len(b.Clashes) > 0 || !slices.Equal(b.State.Counts, counts) {
		b.Status = Unknown
	}
	return b
}

// differences are the deviations by which a slot comes to hold what is counted.
func (f *Fit) differences(slot int, from, to []int) (list []deviation) {
	def := &f.pack.Slots[slot]
	if !def.Multiple {
		d := deviation{slot, -1, 0}
		for o := def.First; o < def.End; o++ {
			if to[o] > 0 {
				d = deviation{slot, o, to[o]}
			}
		}
		if !slices.Equal(from[def.First:def.End], to[def.First:def.End]) {
			list = append(list, d)
		}
		return list
	}
	for o := def.First; o < def.End; o++ {
		if from[o] != to[o] {
			list = append(list, deviation{slot, o, to[o]})
		}
	}
	return list
}

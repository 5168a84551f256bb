package figures

import (
	"math"
	"slices"

	"ribband/core/formula"
)

// monotonicity says how outputs of a module move with its inputs: +1 they never fall when the input rises, -1 they
// never rise, 0 they do not move. Of inputs that are not named nothing is known. These are claims about package bank,
// held by a property test over the demo book's boats.
type monotonicity struct {
	outputs []ID
	inputs  map[Given]int
}

// group is a monotonicity in indices: of the module's outputs, and of the figures that are its inputs.
type group struct {
	outputs []int
	inputs  []input
}

// input is a figure of the book that a module reads, with the sign by which it moves the outputs of a group. One that
// the monotonicity does not name is not known: it must be the same on all boats of a box for a corner to bound
// anything.
type input struct {
	figure, sign int
	known        bool
}

// groups finds what the monotonicities of a module name.
func (n *parts) groups(m *module) (list []group) {
	for _, s := range m.moves {
		var g group
		for _, id := range s.outputs {
			g.outputs = append(g.outputs,
				slices.IndexFunc(m.outputs, func(d Definition) bool { return d.ID == id }))
		}
		for _, id := range slices.Concat(m.needs, m.asks) {
			if i, ok := n.givens[id]; ok {
				sign, known := s.inputs[id]
				g.inputs = append(g.inputs, input{i, sign, known})
			}
		}
		list = append(list, g)
	}
	return list
}

// Needed are the figures that some reads follow from in the end, and the steps to them.
type Needed struct{ figures, steps []bool }

// Needed finds them, for [Figures.Bounds].
func (f *Figures) Needed(r formula.Reads) Needed {
	n := Needed{make([]bool, len(f.pack.Figures)+1), make([]bool, len(f.order))}
	var add func(figure int)
	add = func(figure int) {
		n.figures[figure] = true
		i := slices.IndexFunc(f.order, func(s step) bool {
			return s.index == figure || s.masses != nil && figure == len(f.pack.Figures) || s.module != nil &&
				slices.Contains(s.module.places, figure)
		})
		if i < 0 || n.steps[i] {
			return
		}
		n.steps[i] = true
		for j := range n.figures {
			if slices.Contains(f.readers.Figure(j), i) {
				add(j)
			}
		}
	}
	for _, i := range r.Figures {
		add(i)
	}
	return n
}

// Bounds computes between which limits the figures of many boats lie: those that hold in each slot what a boat holds,
// but in the free ones anything that is made for the hull: in a slot of one that always is there and must hold
// something, one of its options; in others nothing, too. The limits stand in box.Figures then; of a figure that is not
// needed, or of which nothing is known, anything. Sums and formulas are bounded by interval arithmetic, modules by the
// monotonicity of their outputs at the corners of the box.
func (f *Figures) Bounds(st *formula.State, free []bool, needed Needed, box *formula.Box) {
	box.Use = sized(box.Use, len(st.Use))
	for i, v := range st.Use {
		box.Use[i] = formula.Exactly(v)
	}
	f.BoundsOfUses(st, free, needed, box)
}

// BoundsOfUses is [Figures.Bounds] for all the uses between the limits that stand in box.Use, each field by itself. The
// figures of a module that reads a field which is not known are not bounded.
func (f *Figures) BoundsOfUses(st *formula.State, free []bool, needed Needed, box *formula.Box) {
	f.contents(st, free, box)
	for i := range box.Figures {
		box.Figures[i] = formula.Anything
	}
	for i := range f.order {
		s := &f.order[i]
		switch {
		case !needed.steps[i] || s.masses != nil: // the mass is the figure of that name, the centre is not bounded
		case s.module != nil:
			f.moduleBounds(st, s.module, needed, box)
		case s.formula != nil:
			if b, sound := s.program.Bounds(box); sound {
				box.Figures[s.index] = b
			}
		default:
			box.Figures[s.index] = f.sumBounds(s, st, free, box)
		}
	}
}

// contents writes what the slots may hold into the box.
func (f *Figures) contents(st *formula.State, free []bool, box *formula.Box) {
	box.HullID, box.Hull = st.HullID, st.Hull
	box.Counts, box.Slots = sized(box.Counts, len(st.Counts)), sized(box.Slots, len(st.Slots))
	box.Figures = sized(box.Figures, len(st.Figures))
	for s := range f.pack.Slots {
		def := &f.pack.Slots[s]
		box.Slots[s] = formula.Exactly(float64(st.Slots[s]))
		sum := 0
		for o := def.First; o < def.End; o++ {
			box.Counts[o] = formula.Exactly(float64(st.Counts[o]))
			if free[s] {
				box.Counts[o] = formula.Interval{}
				if f.pack.Made(o, st.HullID) {
					box.Counts[o].Hi = float64(f.pack.Options[o].Most)
				}
			}
			sum += f.pack.Options[o].Most
		}
		if most := def.Most; free[s] {
			if most == 0 {
				most = sum
			}
			box.Slots[s] = formula.Interval{Lo: 0, Hi: float64(most)}
			if !def.Multiple && f.always[s] && f.fitting[st.HullID][s] > 0 {
				box.Slots[s].Lo = 1
			}
		}
	}
}

// sized makes room for the limits of a box. A search asks for one box after the other and hands the same one in again.
func sized(list []formula.Interval, n int) []formula.Interval {
	if len(list) != n {
		return make([]formula.Interval, n)
	}
	return list
}

// sumBounds bounds a total. It adds in the order in which [step.sum] does, so that rounding does not come between; a
// sum tree adds in another, and its limits are set apart by what rounding may make of it: n·u of the sum of the
// magnitudes in any order. Source: N. Higham, Accuracy and Stability of Numerical Algorithms, ch. 4.
func (f *Figures) sumBounds(s *step, st *formula.State, free []bool, box *formula.Box) formula.Interval {
	sum, size := formula.Interval{}, 0.0
	if h := &s.hulls[box.HullID]; h.amount.Given() {
		sum = f.amountBounds(h, st, free, box)
		size = max(-sum.Lo, sum.Hi)
	}
	for i := 0; i < len(s.options); {
		slot := f.pack.Options[s.options[i].option].Slot
		one := free[slot] && !f.pack.Slots[slot].Multiple // then one of them at most
		choice, carriers := formula.Interval{Lo: math.Inf(1), Hi: math.Inf(-1)}, 0
		for ; i < len(s.options) && f.pack.Options[s.options[i].option].Slot == slot; i++ {
			c := &s.options[i]
			n := box.Counts[c.option]
			if n.Hi == 0 {
				continue
			}
			each := f.amountBounds(c, st, free, box)
			b := formula.Interval{Lo: min(n.Lo*each.Lo, n.Hi*each.Lo), Hi: max(n.Lo*each.Hi, n.Hi*each.Hi)}
			if one {
				choice = choice.Join(formula.Interval{Lo: each.Lo, Hi: each.Hi})
				carriers++
			} else {
				sum.Lo, sum.Hi, size = sum.Lo+b.Lo, sum.Hi+b.Hi, size+max(-b.Lo, b.Hi)
			}
		}
		// The choice may fall on an option that adds nothing, or on none where the slot need not hold one: zero is then
		// among what it may add.
		if one && (carriers < f.fitting[box.HullID][slot] || !f.always[slot]) {
			choice = choice.Join(formula.Interval{}) // something else, or nothing
		}
		if one {
			sum.Lo, sum.Hi, size = sum.Lo+choice.Lo, sum.Hi+choice.Hi, size+max(-choice.Lo, choice.Hi)
		}
	}
	if s.treed() {
		const unit = 1.0 / (1 << 52) // twice the unit of rounding: either side rounds
		apart := float64(float64(len(s.options)+1) * unit * size)
		sum.Lo, sum.Hi = sum.Lo-apart, sum.Hi+apart
	}
	return sum
}

// amountBounds bounds what one piece of an option carries, or the base boat. Where nothing that the amount reads is
// open it is computed as on the boat: quicker, and exact where interval arithmetic would be a little wide.
func (f *Figures) amountBounds(c *carried, st *formula.State, free []bool, box *formula.Box) formula.Interval {
	if !c.figures && !slices.ContainsFunc(c.slots, func(s int) bool { return free[s] }) && usesKnown(c.uses, box) {
		return formula.Exactly(c.amount.Of(st))
	}
	b, sound := c.program.Bounds(box)
	if !sound {
		return formula.Anything
	}
	return b
}

// usesKnown says whether each of some fields of the use has one value on all boats of a box.
func usesKnown(fields []int, box *formula.Box) bool {
	return !slices.ContainsFunc(fields, func(i int) bool { return !box.Use[i].Known() })
}

// moduleBounds bounds the outputs of a module.
func (f *Figures) moduleBounds(st *formula.State, w *wanted, needed Needed, box *formula.Box) {
	// these follow from the hull alone, which all boats of a box share
	if w.module.byHull {
		for _, i := range w.places {
			if i >= 0 {
				box.Figures[i] = formula.Exactly(st.Figures[i])
			}
		}
		return
	}
	if w.module.bounds != nil {
		w.module.bounds(f.pack, box, func(id ID, b formula.Interval) {
			if i, ok := f.parts.computed[id]; ok {
				box.Figures[i] = b
			}
		})
		return
	}
	if !usesKnown(w.reads.Use, box) {
		return
	}
	// the module reads these fields as of a boat; there is only one value that they may have
	known := *st
	known.Use = make([]float64, len(box.Use))
	for i, b := range box.Use {
		known.Use[i] = b.Lo // of those that it reads, the value
	}
	st = &known
	for i := range w.groups {
		g := &w.groups[i]
		if !slices.ContainsFunc(g.outputs, func(j int) bool {
			return w.places[j] >= 0 &&
				needed.figures[w.places[j]]
		}) {
			continue
		}
		// an end that cannot be computed leaves both open: half of an interval would look like knowledge
		var lo, hi results
		if !f.corner(st, w, g, -1, box, &lo) || !f.corner(st, w, g, +1, box, &hi) {
			continue
		}
		for _, j := range g.outputs {
			if at := w.places[j]; at >= 0 {
				box.Figures[at] = formula.Interval{Lo: lo.values[j], Hi: hi.values[j]}
			}
		}
	}
}

// corner computes the outputs where the inputs make them least (end -1) or greatest (+1); false where an input may move
// them unknown which way.
func (f *Figures) corner(st *formula.State, w *wanted, g *group, end int, box *formula.Box,
	out *results) bool {
	c := *st
	c.Figures = slices.Clone(st.Figures)
	for _, in := range g.inputs {
		b := box.Figures[in.figure]
		v := b.Lo
		if in.sign*end > 0 {
			v = b.Hi
		}
		switch {
		case !in.known && !b.Known(), in.sign != 0 && !formula.Finite(v):
			return false
		case !in.known, in.sign != 0:
			c.Figures[in.figure] = v
		}
	}
	if i, ok := f.parts.givens[MassKg]; ok {
		c.Masses.Kg = c.Figures[i]
	}
	out.begin(w.module)
	return w.solve(&boat{State: &c}, out).None()
}

package fit

import (
	"slices"

	"ribband/core/formula"
)

// Quest is what [Fit.Seek] looks for: any valid boat. The fields of the use that vary may take other values.
type Quest struct {
	Question
	Vary  []int
	Boats int // that are judged at most; one that is met again is known
}

// Seek looks for any valid boat, however far from the standard build; nil where none is found, which proves nothing. It
// is for rules over figures that many slots carry together, a freeboard, which no few slots meet or break.
//
// It changes one slot, or one field of the use, after the other: one that a clash reads, to the content with which what
// clashes is least. What clashes counts by its distance from holding ([formula.Program.Distance]) times a weight; where
// no change of what a clash reads makes it less, the weights of all that clashes rise, so that the search moves on. It
// is deterministic: which slot is next comes from a fixed sequence. Source: breakout local search (P. Morris, The
// breakout method for escaping from local minima, AAAI 1993), from memory.
func (f *Fit) Seek(q Quest) *formula.State {
	for turn := range uint64(restarts) {
		s := seeking{fit: f, quest: q, left: q.Boats / restarts, steps: stepsOfBoat * q.Boats / restarts,
			dice: dice{turn*0x9E3779B97F4A7C15 + 0x2545F4914F6CDD1D}}
		s.prepare()
		if st := s.run(); st != nil {
			return st
		}
	}
	return nil
}

// stepsOfBoat is how many steps are taken for each boat judged: most steps meet boats that are known.
const stepsOfBoat = 4

// restarts is into how many searches the effort is divided, each with other dice.
const restarts = 2

// dice are a fixed sequence of numbers. Source: G. Marsaglia, Xorshift RNGs, J. Stat. Software 8 (2003).
type dice struct{ state uint64 }

func (d *dice) below(n int) int {
	d.state ^= d.state << 13
	d.state ^= d.state >> 7
	d.state ^= d.state << 17
	return int(d.state % uint64(n))
}

// seeking is one search under way. Its boat is moved in place, as in a search, but along one way and without a
// frontier: it never comes back to try what it passed.
type seeking struct {
	fit     *Fit
	quest   Quest
	boat    *boat
	faults  []apart // of the boat
	score   float64
	weights map[fault]float64
	rules   map[int]formula.NumberFunc // how far a boat is from keeping one
	met     map[string][]apart         // of boats that were judged
	known   map[fault]scope
	left    int // boats to judge
	steps   int // to take
	dice    dice
}

// apart is a clash with how far the boat is from being without it. A search by numbers of clashes alone has nothing to
// go by on a boat 20 mm short of its freeboard: every single change leaves it short.
type apart struct {
	fault
	by float64
}

// scope is what may be changed for a clash.
type scope struct {
	depends dependencies
	fields  []int
}

// prepare starts from the standard build with the choices; the first judgement counts among the boats.
func (s *seeking) prepare() {
	s.weights, s.rules, s.met, s.known = map[fault]float64{}, map[int]formula.NumberFunc{}, map[string][]apart{},
		map[fault]scope{}
	s.boat = s.fit.newBoat(s.quest.Question)
	s.faults, _ = s.judge(s.boat, -1)
	s.score = s.sum(s.faults)
}

// run changes the boat until nothing clashes. Which clash, and which slot of it, comes by the dice, which keeps it from
// going round in the same few. After twice as many tries as there are places without getting better it is stuck, and
// the weights rise.
func (s *seeking) run() *formula.State {
	for idle := 0; s.left > 0 && s.steps > 0; s.steps-- {
		if len(s.faults) == 0 {
			s.boat.judge(true)
			return s.boat.live.State
		}
		x := s.faults[s.dice.below(len(s.faults))].fault
		places := s.subject(x)
		n := len(places.depends.slots) + len(places.fields)
		if n == 0 {
			return nil // nothing mends this clash
		}
		before := s.score
		if at := s.dice.below(n); at < len(places.depends.slots) {
			s.fill(x, places.depends, places.depends.slots[at])
		} else {
			s.vary(places.fields[at-len(places.depends.slots)])
		}
		if idle++; s.score < before {
			idle = 0
		}
		if idle > 2*n {
			s.raise()
			idle = 0
		}
	}
	return nil
}

// heaviest is how much a clash counts before all count alike again.
const heaviest = 1 << 30

// raise makes what clashes count twice as much: a little short of a limit must come to count more than a rule over
// options that is broken.
func (s *seeking) raise() {
	for _, x := range s.faults {
		if s.weights[x.fault] = 2 * s.weight(x.fault); s.weights[x.fault] > heaviest {
			clear(s.weights)
			break
		}
	}
	s.score = s.sum(s.faults)
}

func (s *seeking) weight(x fault) float64 {
	if w, known := s.weights[x]; known {
		return w
	}
	return 1
}

// judge finds what clashes in a boat; whole is false where that alone which needs no module counts more than a limit.
// Without a limit it is negative. A boat that is turned down so is not remembered: with other weights it may be looked
// at again.
func (s *seeking) judge(b *boat, limit float64) (list []apart, whole bool) {
	st := b.live.State
	key := make([]byte, 0, len(st.Counts)+2*len(st.Use))
	for _, n := range st.Counts {
		key = appendNumbers(key, n)
	}
	for i, v := range st.Use {
		key = appendNumbers(key, s.fit.pack.Use[i].StepOf(v))
	}
	if list, known := s.met[string(key)]; known {
		return list, true
	}
	s.left--
	b.judge(false)
	if list = s.apart(b, b.faults(false)); limit >= 0 && s.sum(list) > limit {
		return list, false
	}
	// what floats takes longest by far, and most boats are turned down by the rest
	if limit >= 0 {
		if light, sound := b.lightFaults(); sound {
			if list = s.apart(b, light); s.sum(list) > limit {
				return list, false
			}
		}
	}
	b.judge(true)
	list = s.apart(b, b.faults(true))
	s.met[string(key)] = list
	return list, true
}

// unsound is what figures count that cannot be computed: more than the rules over them that cannot be judged then.
const unsound = 20

func (s *seeking) apart(b *boat, faults []fault) (list []apart) {
	for _, x := range faults {
		by := 1.0
		switch x.kind {
		case Broken:
			by = s.distance(x.index)(b.live.State)
		case Unsound:
			by = unsound
		}
		list = append(list, apart{x, by})
	}
	return list
}

// sum is how much clashes.
func (s *seeking) sum(list []apart) (sum float64) {
	for _, x := range list {
		sum += float64(s.weight(x.fault) * x.by)
	}
	return sum
}

// distance is how far boats are from keeping a rule. Far from counting is as good as near to being met: whichever is
// the less to do.
func (s *seeking) distance(rule int) formula.NumberFunc {
	d := s.rules[rule]
	if d == nil {
		r := s.boat.rule(rule)
		when, need := r.When.Distance(false), r.Need.Distance(true)
		d = need
		if !r.When.Empty() {
			d = func(st *formula.State) float64 { return min(when(st), need(st)) }
		}
		s.rules[rule] = d
	}
	return d
}

// subject is what a clash reads that may change. Explanations are of no use here: the rules that this is for have none.
// Remembered by clash, as it follows from the book and the choices alone.
func (s *seeking) subject(x fault) scope {
	if known, ok := s.known[x]; ok {
		return known
	}
	out := scope{depends: s.boat.closureOf(x)}
	out.depends.slots = slices.DeleteFunc(slices.Clone(out.depends.slots), s.boat.fixed)
	for _, field := range s.boat.fieldsOf(x) {
		if slices.Contains(s.quest.Vary, field) {
			out.fields = append(out.fields, field)
		}
	}
	s.known[x] = out
	return out
}

// fieldsOf are the fields of the use that a clash reads, and the conditions of slots that take part.
func (b *boat) fieldsOf(x fault) []int {
	f := b.fit
	var r formula.Reads
	slots := b.closureOf(x).slots
	switch x.kind {
	case Broken:
		r = b.rule(x.index).reads
	case Unsound:
		r = f.computed()
	case Closed, TooFew, TooMany:
		if x.index < len(f.slots) {
			slots = append(slices.Clip(slots), x.index)
		}
	}
	for _, slot := range slots {
		r = r.With(f.pack.Slots[slot].When.Reads())
	}
	return f.figures.Resolve(r).Use
}

// fill gives a slot the content with which least clashes, if no more does than before.
func (s *seeking) fill(x fault, deps dependencies, slot int) {
	b := s.boat
	if !b.open[slot] {
		return
	}
	best, found := b.deviations, false
	for _, to := range s.fit.contents(b, x, deps, slot) {
		b.put(slot, to)
		if s.take(b, !found) {
			best, found = to, true
		}
	}
	b.put(slot, best)
}

// take notes what clashes in a boat if it is less than in the best so far; if it is as much, always or now and then.
// Equal ones are taken now and then, so that it can cross a plain on which nothing gets better for some steps.
func (s *seeking) take(b *boat, always bool) bool {
	list, whole := s.judge(b, s.score)
	score := s.sum(list)
	if !whole || score > s.score || score == s.score && !always && s.dice.below(2) == 0 {
		return false
	}
	s.faults, s.score = list, score
	return true
}

// put gives the boat other deviations of one slot.
func (b *boat) put(slot int, deviations []deviation) {
	b.unfilled.add(slot)
	b.deviations = deviations
	b.refill()
}

// contents are the deviations of a boat with the other contents of a slot that a clash can tell from the present one.
func (f *Fit) contents(b *boat, x fault, deps dependencies, slot int) (list [][]deviation) {
	def, st := &f.pack.Slots[slot], b.live.State
	defaults := f.defaults[st.HullID]
	if b.choices.Settled[slot] {
		defaults = b.choices.Counts
	}
	without := func(option int) []deviation {
		return slices.DeleteFunc(slices.Clone(b.deviations),
			func(d deviation) bool { return d.slot == slot && (option < 0 || d.option == option) })
	}
	if def.Multiple {
		for o := def.First; o < def.End; o++ {
			if !f.made[o][st.HullID] || !(slices.Contains(deps.options, o) || x.kind == TooFew || x.kind == TooMany) {
				continue
			}
			now, most := st.Counts[o], f.pack.Options[o].Most
			counts := []int{now - 1, now + 1, 0, most}
			for i, n := range counts {
				if n < 0 || n > most || n == now || slices.Contains(counts[:i], n) {
					continue
				}
				to := without(o)
				if n != defaults[o] {
					to = append(to, deviation{slot, o, n})
				}
				list = append(list, to)
			}
		}
		return list
	}
	now, base := -1, -1
	for o := def.First; o < def.End; o++ {
		if st.Counts[o] > 0 {
			now = o
		}
		if defaults[o] > 0 {
			base = o
		}
	}
	for o := def.First - 1; o < def.End; o++ {
		to := max(o, -1)
		if o < def.First {
			to = -1
		}
		if to == now || to < 0 && def.Least > 0 || to >= 0 && !f.made[to][st.HullID] || b.alike(x, now, to) {
			continue
		}
		deviations := without(-1)
		if to != base {
			deviations = append(deviations, deviation{slot, to, min(to+1, 1)})
		}
		list = append(list, deviations)
	}
	return list
}

// vary gives a field of the use the value with which least clashes, if no more does than before.
func (s *seeking) vary(field int) {
	best := s.boat
	for _, v := range s.values(field) {
		q := s.quest.Question
		q.Use = slices.Clone(s.boat.live.State.Use)
		q.Use[field] = v
		b := s.fit.newBoat(q)
		b.move(s.boat.deviations)
		if s.take(b, best == s.boat) {
			best = b
		}
	}
	s.boat = best
}

// values are other values of a field: the next ones, some further off, and the ends.
func (s *seeking) values(field int) (list []float64) {
	u := &s.fit.pack.Use[field]
	steps, at := u.Steps(), u.StepOf(s.boat.live.State.Use[field])
	tries := []int{at - 1, at + 1, at - 5, at + 5, 0, steps - 1}
	if steps <= 6 {
		tries = []int{0, 1, 2, 3, 4, 5}
	}
	for i, k := range tries {
		if k >= 0 && k < steps && k != at && !slices.Contains(tries[:i], k) {
			list = append(list, u.Value(k))
		}
	}
	return list
}

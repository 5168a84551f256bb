package fit

import (
	"encoding/binary"
	"math"
	"slices"
	"sync"
)

// Clashes that have nothing to do with each other are solved apart. A search over two of them at once looks at every
// content of the slots of the one with every content of those of the other; apart they are a sum and not a product. And
// the answer to a group of clashes follows from few slots, so that it is kept by what these hold: of the hundreds of
// verdicts after a click most share the answers of the boat itself, and only an option that a group reads has it solved
// again.
//
// Only narrow clashes are parted: of rules that few slots decide and no module computes, and of slots by themselves.
// What the whole boat decides, its mass or trim, joins everything, and is judged on the boat that has all answers. A
// clash there that few other slots explain is mended in one of these; else the whole boat is searched as if nothing had
// been parted. That is sound, since rules over the whole boat only take boats away: a nearest boat by the narrow rules
// that keeps the others too is a nearest boat by all. A price is no rule, and parts nothing.
//
// Why the sum is a nearest boat: in the search of a group take part the slots that its clashes read. It proves that
// every valid boat deviates there in as many places as its answer does, whatever the other slots hold: a valid boat
// differs from each boat that the search looked at in some slot that the clash there reads. Where no slot takes part in
// two groups, a valid boat deviates in at least the sum; and the boat that has all answers, if nothing clashes in it,
// is one that deviates in so many. Where a slot takes part in two, or the answers clash with each other, the two become
// one. Source: independence detection (T. Standley, Finding optimal solutions to cooperative pathfinding problems, AAAI
// 2010, from memory).
//
// Of several boats that are as near, which one is found may be another than that of a search over all at once. It
// follows from hull, use and choices alone, whatever was asked before.

// group is some clashes of a boat that are solved together.
type group struct {
	faults []fault
	takes  bitset // slots that take part
	answer *answer
}

// answer is what the search for a group came to, and what it follows from. It is never changed.
type answer struct {
	deviations []deviation
	left       []fault // what of the group clashes all the same
	status     Status
	takes      bitset // slots that take part: every valid boat deviates in them as often as this does
	reads      []int  // the slots from which it follows
	held       []int  // for each of them whether it was settled, and what it held
}

// narrow says that a clash is one of a few slots, which can be judged without the rest of the boat.
func (b *boat) narrow(x fault) bool {
	return x.kind != Unsound && (x.kind != Broken || !b.rule(x.index).computed && !b.rule(x.index).explained.wide)
}

// nearest gives the nearest valid boat to one whose soft slots are as they are by themselves, or else the best that was
// seen, and what is proved. The boat is moved there, but one that stays, which is cloned first.
func (f *Fit) nearest(root, stays *boat, tries int, why *explanations) (*boat, Status) {
	// Where slots open by what modules compute, or in circles, nothing is narrow.
	if f.plain && !f.circular && tries >= DefaultTries {
		p := parting{fit: f, root: root, boat: root, stays: stays, tries: tries, why: why}
		if b, status := p.nearest(); b != nil {
			return b, status
		}
		if root != stays {
			root.move(nil)
		}
	}
	s := search{fit: f, tries: tries, why: why, stays: stays}
	return s.nearest(root)
}

// parting is a boat whose clashes are solved apart.
type parting struct {
	fit    *Fit
	root   *boat
	boat   *boat // that is moved
	stays  *boat
	counts []int // of the root
	tries  int   // for each group
	why    *explanations
	groups []*group
	aside  []fault // clashes that read no slot that may change
}

// nearest solves the narrow clashes of a boat by groups; nil where the whole boat has to be searched.
func (p *parting) nearest() (*boat, Status) {
	p.root.judge(false)
	p.part(p.root.faults(false))
	if len(p.groups) > 0 {
		p.counts = slices.Clone(p.root.live.State.Counts)
		if p.boat == p.stays {
			p.boat = p.root.clone()
		}
		for more := true; more; {
			p.solve()
			for more = false; p.joinOverlapping(); more = true {
			}
			if !more {
				var known bool
				if more, known = p.joinClashing(); !known {
					return nil, Unknown
				}
			}
		}
	}
	status := p.status()
	if status == Unknown || p.mend() || status == Infeasible {
		return p.boat, status
	}
	return nil, Unknown
}

// mend takes the boat that has all answers on to one that keeps the rules over the whole boat: each of their clashes
// that few other slots explain is mended by the first single deviation there which breaks nothing else. One is the
// least that it takes, and where these slots are none of a group's, it adds to theirs. False where that does not do. Of
// a boat that cannot be built all the same, the rest is mended as far as that goes.
func (p *parting) mend() bool {
	expected := p.expected()
	for {
		p.boat.judge(true)
		faults := p.boat.faults(true)
		first := slices.IndexFunc(faults, func(x fault) bool { return !slices.Contains(expected, x) })
		if first < 0 {
			return true
		}
		x := faults[first]
		deps := p.why.of(p.boat, x)
		g := &group{takes: newBitset(len(p.fit.slots))}
		soft := 0
		for _, s := range deps.slots {
			if !p.root.fixed(s) {
				g.takes.add(s)
				soft++
			}
		}
		if soft == 0 || soft > widest ||
			slices.ContainsFunc(p.groups, func(o *group) bool { return o.takes.meets(g.takes) }) {
			return false
		}
		if p.boat == p.stays {
			p.boat = p.root.clone()
		}
		d, found := p.single(x, deps, faults)
		if !found {
			return false
		}
		g.answer = &answer{deviations: []deviation{d}, status: Optimal}
		p.groups = append(p.groups, g)
	}
}

// single is the first deviation that mends a clash, and the boat with it. What else clashed may stay.
func (p *parting) single(x fault, deps dependencies, faults []fault) (found deviation, ok bool) {
	b, from := p.boat, p.boat.deviations
	worse := func(now []fault) bool {
		return slices.ContainsFunc(now, func(y fault) bool { return y == x || !slices.Contains(faults, y) })
	}
	for _, slot := range deps.slots {
		if b.fixed(slot) || !b.open[slot] {
			continue
		}
		for _, d := range p.fit.alternatives(b, x, deps, slot) {
			b.move(append(slices.Clip(from), d))
			if p.why.hopeless(b, x) {
				continue
			}
			if b.judge(false); worse(b.faults(false)) {
				continue
			}
			now, sound := b.lightFaults()
			if !sound || !worse(now) {
				b.judge(true)
				now = b.faults(true)
			}
			if !worse(now) {
				return d, true
			}
			if slices.Contains(now, x) {
				p.why.of(b, x) // is learnt, and spares the next options to judge it
			}
		}
		b.move(from)
	}
	return found, false
}

// part groups the narrow clashes of the root: two that read the same soft slot belong together from the start.
func (p *parting) part(faults []fault) {
	for _, x := range faults {
		if !p.root.narrow(x) {
			continue
		}
		if soft := p.soft(x); soft.empty() {
			p.aside = append(p.aside, x)
		} else {
			p.groups = append(p.groups, &group{faults: []fault{x}, takes: soft})
		}
	}
	for p.joinOverlapping() {
	}
}

// soft are the slots that a clash reads and that may change. What is settled parts groups: two clashes that read the
// same settled slot have nothing to do with each other.
func (p *parting) soft(x fault) bitset {
	set := newBitset(len(p.fit.slots))
	for _, s := range p.root.closureOf(x).slots {
		if !p.root.fixed(s) {
			set.add(s)
		}
	}
	return set
}

// joinOverlapping joins two groups in which the same slot takes part; false where there are none. Their answers may
// both count on the same deviation, so that their sum would be no bound.
func (p *parting) joinOverlapping() bool {
	for i, g := range p.groups {
		for j := i + 1; j < len(p.groups); j++ {
			if g.takes.meets(p.groups[j].takes) {
				p.merge(i, j)
				return true
			}
		}
	}
	return false
}

// merge makes one group of two, without an answer: that of the two together is another than both. The faults are put in
// order, so that the group is known again however it came about.
func (p *parting) merge(i, j int) {
	a, b := p.groups[i], p.groups[j]
	g := &group{faults: slices.Concat(a.faults, b.faults), takes: slices.Clone(a.takes)}
	b.takes.each(g.takes.add)
	slices.SortFunc(g.faults, fault.compare)
	p.groups[i] = g
	p.groups = slices.Delete(p.groups, j, j+1)
}

// solve finds the answers that are missing: those that are kept first, while the boat is at its root.
func (p *parting) solve() {
	var missing []*group
	for _, g := range p.groups {
		if g.answer != nil {
			continue
		}
		if g.answer = p.kept(g); g.answer == nil {
			missing = append(missing, g)
		} else {
			g.takes = g.answer.takes
		}
	}
	for _, g := range missing {
		g.answer = p.search(g)
		g.takes = g.answer.takes
		p.keep(g)
	}
}

// search solves one group from the root, and leaves all other clashes of the root as they are.
func (p *parting) search(g *group) *answer {
	p.boat.move(nil)
	s := search{fit: p.fit, tries: p.tries, why: p.why, stays: p.stays, only: g.faults,
		takes: newBitset(len(p.fit.slots))}
	b, status := s.nearest(p.boat)
	a := &answer{deviations: b.deviations, left: s.counted(b.faults(false)), status: status, takes: s.takes}
	if status == Infeasible || status == Unknown { // nothing rests on how far off its boat is
		a.takes = newBitset(len(p.fit.slots))
		for _, d := range a.deviations {
			a.takes.add(d.slot)
		}
	}
	reads := newBitset(len(p.fit.slots))
	s.takes.each(func(slot int) { p.fit.neighbours(slot).each(reads.add) })
	for _, x := range g.faults {
		for _, slot := range p.root.closureOf(x).slots {
			reads.add(slot)
		}
	}
	reads.each(func(slot int) { a.reads = append(a.reads, slot) })
	a.held = p.held(a.reads)
	return a
}

// held lists what slots of the root hold. A settled slot and a soft one that hold the same are told apart: only the
// second may change.
func (p *parting) held(slots []int) (list []int) {
	for _, s := range slots {
		settled := 0
		if p.root.choices.Settled[s] {
			settled = 1
		}
		def := &p.fit.pack.Slots[s]
		list = append(append(list, settled), p.counts[def.First:def.End]...)
	}
	return list
}

// holds says whether the root holds what an answer follows from. It is asked for every answer to the same clashes, a
// few dozen at most, and so compares in place.
func (p *parting) holds(a *answer) bool {
	at := 0
	for _, s := range a.reads {
		def := &p.fit.pack.Slots[s]
		end := at + 1 + def.End - def.First
		if p.root.choices.Settled[s] != (a.held[at] > 0) || !slices.Equal(p.counts[def.First:def.End], a.held[at+
			1:end]) {
			return false
		}
		at = end
	}
	return true
}

// joinClashing moves the boat to the answers of all groups, and joins those that clash with each other; false where
// none do. Known is false where it cannot be said which do.
func (p *parting) joinClashing() (joined, known bool) {
	var to []deviation
	expected := p.expected()
	for _, g := range p.groups {
		to = append(to, g.answer.deviations...)
	}
	p.boat.move(to)
	p.boat.judge(false)
	for _, x := range p.boat.faults(false) {
		if !p.boat.narrow(x) || slices.Contains(expected, x) {
			continue
		}
		first := -1
		reads := newBitset(len(p.fit.slots))
		for _, s := range p.boat.closureOf(x).slots {
			reads.add(s)
		}
		for i := 0; i < len(p.groups); i++ {
			switch deviates := slices.ContainsFunc(p.groups[i].answer.deviations,
				func(d deviation) bool { return reads.has(d.slot) }); {
			case deviates && first < 0:
				first = i
			case deviates:
				p.merge(first, i)
				return true, true
			}
		}
		return false, false
	}
	return false, true
}

// expected are the clashes that nothing mends.
func (p *parting) expected() []fault {
	list := slices.Clone(p.aside)
	for _, g := range p.groups {
		list = append(list, g.answer.left...)
	}
	return list
}

// status is what is proved of the boat that has all answers.
func (p *parting) status() Status {
	status := Optimal
	if len(p.aside) > 0 {
		return Infeasible
	}
	for _, g := range p.groups {
		if worse := g.answer.status; slices.Index(byCertainty, worse) < slices.Index(byCertainty, status) {
			status = worse
		}
	}
	return status
}

// byCertainty orders what is proved of a group by what it means for the whole.
var byCertainty = []Status{Infeasible, Unknown, Feasible, Optimal}

// neighbours are the slots from which it follows what clashes when one slot is changed: those that the same narrow
// rule, or the condition or number of the same slot, reads.
func (f *Fit) neighbours(slot int) bitset {
	f.near.Do(func() {
		f.neighbour = make([]bitset, len(f.slots))
		for s := range f.slots {
			f.neighbour[s] = newBitset(len(f.slots))
		}
		meet := func(slots []int) {
			for _, s := range slots {
				for _, t := range slots {
					f.neighbour[s].add(t)
				}
			}
		}
		for i := range f.slots {
			meet(f.slots[i].closure.slots)
		}
		for i := range f.rules {
			if r := &f.rules[i]; !r.computed && !r.explained.wide {
				meet(r.closure().slots)
			}
		}
	})
	return f.neighbour[slot]
}

// answers keeps what groups came to, by what they follow from. It serves every boat of a page, and changes how long
// something takes, never what comes out.
type answers struct {
	sync.Mutex
	known map[string][]*answer
	size  int
}

// mostAnswers bounds what is kept, about a kilobyte each. Beyond it everything is forgotten: what is still asked for
// is soon there again.
const mostAnswers = 2000

// key tells groups apart: by hull, use and what clashes.
func (p *parting) key(g *group) string {
	st := p.root.live.State
	key := appendNumbers(make([]byte, 0, 128), st.HullID, p.tries)
	for _, v := range st.Use {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(v))
	}
	for _, x := range g.faults {
		key = append(appendNumbers(key, x.index), x.kind...)
	}
	return string(key)
}

// The boat of a search may be at any node when an answer is looked for: what is compared is the root as it was copied.

// kept is the answer to a group that is known; nil for none. Answers under other rules than the book's are not kept.
func (p *parting) kept(g *group) *answer {
	if p.root.terms != nil {
		return nil
	}
	k := &p.fit.answers
	k.Lock()
	defer k.Unlock()
	for _, a := range k.known[p.key(g)] {
		if p.holds(a) {
			return a
		}
	}
	return nil
}

func (p *parting) keep(g *group) {
	if p.root.terms != nil {
		return
	}
	k := &p.fit.answers
	k.Lock()
	defer k.Unlock()
	if k.size++; k.size > mostAnswers || k.known == nil {
		k.known, k.size = map[string][]*answer{}, 1
	}
	key := p.key(g)
	k.known[key] = append(k.known[key], g.answer)
}

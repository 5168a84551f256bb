package fit

import (
	"container/heap"
	"slices"

	"ribband/core/formula"
)

// Prices price boats for a [Hunt], in whole units of whatever size.
type Prices interface {
	// Net is the price of a boat.
	Net(st *formula.State) (int64, error)
	// Least is the least that one of an option costs, or the base boat (option -1), on all boats that hold what a boat
	// does but in the free slots.
	Least(option int, st *formula.State, free []bool) int64
}

// Task is what a [Hunt] looks for: the cheapest boat of some hulls, for one use, that meets the wishes.
//
// The contents of the tried slots are tried out. Of the others, what is settled stays; the rest is as it is by itself:
// the standard build, or, where a rule over a few slots would clash, what goes with the tried ones by the fewest
// deviations. No slot but the tried ones changes for a wish, or for a rule over the mass or the trim of the boat:
// nobody wants a boat that goes a mile further because its fenders were left out.
type Task struct {
	Hulls   []int
	Use     []float64
	Choices Choices           // those in tried slots stay, too
	Tried   []bool            // by slot; slots of several are never tried out
	Wishes  []formula.Program // conditions that the boat meets
	Prices  Prices
	Most    int64 // no boat costs more; 0: no limit
	Accepts func(st *formula.State) bool
	Aim     *Aim // then more boats after the cheapest
}

// Aim asks for further boats: each the cheapest whose figure is better than that of the boat before by a step at least.
type Aim struct {
	Figure int
	Down   bool // less is better
	Step   float64
}

// Found is a boat of a hunt. Its choices give exactly this boat: every slot that is not as it would be by itself is
// settled.
type Found struct {
	Choices Choices
	State   *formula.State
	Net     int64
}

// Hunt finds the cheapest boats, in steps.
//
// It is a branch and bound, cheapest bound first. A branch has decided what some tried slots hold; its bound is the
// price of these, with the cheapest contents of those that are open. It is judged by its cheapest boat. Where that
// clashes or misses a wish, a boat of the branch that does not must differ in some open slot that takes part: those
// become branches, the first with the first slot changed, the second with the first slot as it is and the second
// changed, and so on, so that no boat is met twice. What takes part is found as in a search for the nearest boat; an
// unmet wish is treated like a broken rule. What is left when no branch is cheaper than a boat that was found proves it
// the cheapest, and when there is no branch left there is no further boat. Source: branch and bound; textbook method.
type Hunt struct {
	fit    *Fit
	task   Task
	why    *explanations
	narrow bitset // rules that other slots may follow
	wishes []*wish
	aim    *wish // of the boat after the one that was found
	hulls  []*grounds
	open   branches
	made   int
	found  []Found
	cut    bool
	done   bool
	judged int
}

// branch is the boats of a hull in which some tried slots are decided; in the others it has the cheapest contents.
type branch struct {
	on      *grounds
	content []int16 // by tried slot: what its branch holds, as an index of its contents
	decided []bool
	least   int64 // no boat of it costs less
	exact   bool  // that is more than an estimate from its parent
	turn    int64 // when it comes: at its least, or later where the cheaper boats of it are looked at elsewhere
	order   int
	boat    *Found // a boat that was found, waiting for all that may be cheaper; nil for a branch
}

type branches []*branch

func (q branches) Len() int { return len(q) }
func (q branches) Less(i, j int) bool {
	a, b := q[i], q[j]
	switch {
	case a.turn != b.turn:
		return a.turn < b.turn
	case (a.boat != nil) != (b.boat != nil):
		return a.boat != nil
	}
	return a.order < b.order
}
func (q branches) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *branches) Push(x any)   { *q = append(*q, x.(*branch)) }
func (q *branches) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}

// Hunt begins a hunt. It takes time only in its steps.
func (f *Fit) Hunt(t Task) *Hunt {
	h := &Hunt{fit: f, task: t, why: f.newExplanations(), narrow: newBitset(len(f.rules))}
	for i := range f.rules {
		if !f.rules[i].explained.wide {
			h.narrow.add(i)
		}
	}
	for _, hull := range t.Hulls {
		h.hulls = append(h.hulls, h.newGrounds(hull))
	}
	h.begin()
	return h
}

// Again begins a hunt for other wishes, another limit or aim; hulls, use, choices, tried slots and prices of the task
// are those of this hunt, whose preparations are taken over.
func (h *Hunt) Again(t Task) *Hunt {
	n := &Hunt{fit: h.fit, task: t, why: h.why, narrow: h.narrow}
	for _, g := range h.hulls {
		same := *g
		same.hunt = n
		n.hulls = append(n.hulls, &same)
	}
	n.begin()
	return n
}

// begin opens a branch for each hull, in which nothing is decided.
func (h *Hunt) begin() {
	for _, w := range h.task.Wishes {
		h.wishes = append(h.wishes, h.fit.wished(w))
	}
	for _, g := range h.hulls {
		h.push(&branch{on: g, content: make([]int16, len(g.slots)), decided: make([]bool, len(g.slots))})
	}
}

// wish is a condition that boats meet, as a rule that an unmet one breaks.
type wish struct {
	rule
	holds formula.TruthFunc
}

func (f *Fit) wished(need formula.Program) *wish {
	reads := need.Reads()
	r := rule{need: need, reads: reads, touches: func() touches { return f.touched(reads) },
		computed: !f.figures.Plain(reads)}
	r.reach = func() touches { return f.spread(r.touches()) }
	r.explained.needed = f.figures.Needed(reads)
	return &wish{r, need.Truth()}
}

func (h *Hunt) push(b *branch) {
	b.turn = max(b.turn, b.least)
	if h.task.Most > 0 && b.turn > h.task.Most {
		return
	}
	b.order = h.made
	h.made++
	heap.Push(&h.open, b)
}

// Found are the boats so far, the cheapest first; where there is an aim, each is better by it than those before.
func (h *Hunt) Found() []Found { return h.found }

// Proved says that nothing was left untried.
func (h *Hunt) Proved() bool { return !h.cut }

// Judged counts the boats that were looked at.
func (h *Hunt) Judged() int { return h.judged }

// Waiting counts the branches that are still open.
func (h *Hunt) Waiting() int { return len(h.open) }

// Step takes the cheapest branch; done says that the hunt has ended.
func (h *Hunt) Step() (done bool) {
	if h.done || len(h.open) == 0 {
		h.done = true
		return true
	}
	b := heap.Pop(&h.open).(*branch)
	if b.boat != nil {
		h.take(b.boat)
		return h.done
	}
	root := b.on.boat(b)
	if !b.exact {
		b.exact = true
		if least := b.on.least(b, root.live.State); least > b.least {
			b.least = least
			h.push(b)
			return false
		}
	}
	h.judge(b, root)
	return false
}

// take takes a boat that nothing open is cheaper than.
func (h *Hunt) take(b *Found) {
	if len(h.found) > 0 && !h.aim.holds(b.State) {
		return // found before the aim was raised
	}
	h.found = append(h.found, *b)
	aim := h.task.Aim
	if aim == nil {
		h.done = true
		return
	}
	h.aim = h.fit.wished(aim.beyond(b.State.Figures[aim.Figure]))
}

// beyond is the condition that a figure is better by a step.
func (a *Aim) beyond(last float64) formula.Program {
	steps := []formula.Step{{Op: formula.Const, Value: last + a.Step}, {Op: formula.Figure, Index: a.Figure},
		{Op: formula.AtMost}}
	if a.Down {
		steps = []formula.Step{{Op: formula.Figure, Index: a.Figure}, {Op: formula.Const, Value: last - a.Step},
			{Op: formula.AtMost}}
	}
	p, err := formula.New(steps)
	if err != nil { // three steps that fit; figures are finite where nothing clashes
		panic("making a condition: " + err.Error())
	}
	return p
}

// wanted are the wishes, and from the second boat on the aim.
func (h *Hunt) wanted() []*wish {
	if h.aim == nil {
		return h.wishes
	}
	return append(h.wishes[:len(h.wishes):len(h.wishes)], h.aim)
}

// judge looks at the cheapest boat of a branch.
func (h *Hunt) judge(b *branch, root *boat) {
	h.judged++
	g := b.on
	free := g.free(b)
	st := root.live.State
	for _, w := range h.wanted() {
		if h.brokenAnyhow(root, &w.rule, free) {
			return
		}
	}
	boat, part, refuted := h.follow(root)
	if boat == nil {
		if !refuted {
			h.cut = true
			part = nil
		}
		h.split(b, st, part, 0)
		return
	}
	if part, dead, clashes := h.blame(b, boat, free); clashes {
		if !dead {
			h.split(b, st, part, 0)
		}
		return
	}
	h.keep(b, st, boat)
}

// keep queues a boat that was found, with the branches that may be cheaper; the rest of its branch comes after it.
func (h *Hunt) keep(b *branch, st *formula.State, boat *boat) {
	net, err := h.task.Prices.Net(boat.live.State)
	if err != nil {
		h.cut = true
		return
	}
	h.split(b, st, nil, net)
	if h.task.Accepts == nil || h.task.Accepts(boat.live.State) {
		h.push(&branch{on: b.on, turn: net, boat: b.on.found(boat, net)})
		if h.task.Aim != nil {
			h.push(&branch{on: b.on, content: b.content, decided: b.decided, least: b.least, exact: true, turn: net})
		}
		return
	}
	h.split(b, st, nil, -net)
}

// split makes the branches in which one of some tried slots (nil: of all) is changed. With a limit above zero only
// those cheaper come, with one below only those that are not.
func (h *Hunt) split(b *branch, st *formula.State, part []int, limit int64) {
	g := b.on
	if part == nil {
		part = make([]int, len(g.slots))
		for i := range part {
			part[i] = i
		}
	}
	decided := b.decided
	free := g.free(b)
	for _, i := range part {
		if b.decided[i] {
			continue
		}
		now := g.leastIn(i, st, free)
		for c := range g.contents[i] {
			if c == int(b.content[i]) {
				continue
			}
			n := &branch{on: g, content: slices.Clone(b.content), decided: slices.Clone(decided)}
			n.content[i], n.decided[i] = int16(c), true
			n.least = b.least + g.price(g.contents[i][c], st, free) - now
			if limit > 0 && n.least >= limit || limit < 0 && n.least < -limit {
				continue
			}
			h.push(n)
		}
		decided = slices.Clone(decided)
		decided[i] = true
	}
}

// blame finds open slots of a branch of which one must change, where its boat clashes or misses a wish: those of the
// reason that has the fewest. Dead says that no change helps.
func (h *Hunt) blame(b *branch, boat *boat, free []bool) (part []int, dead, clashes bool) {
	var reasons []*rule
	for _, x := range boat.faults(true) {
		clashes = true
		if x.kind == Broken {
			reasons = append(reasons, &h.fit.rules[x.index])
		}
	}
	for _, w := range h.wanted() {
		if !w.holds(boat.live.State) {
			clashes = true
			reasons = append(reasons, &w.rule)
		}
	}
	for _, r := range reasons {
		p, known := h.explain(b, boat, r, free)
		switch {
		case !known:
		case len(p) == 0:
			return nil, true, true
		case part == nil || len(p) < len(part):
			part = p
		}
	}
	return part, false, clashes
}

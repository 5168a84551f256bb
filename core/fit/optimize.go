package fit

import (
	"container/heap"
	"slices"

	"ribband/core/formula"
)

// Prices price boats for an [Optimizer], in whole units of whatever size.
type Prices interface {
	// Net is the price of a boat.
	Net(st *formula.State) (int64, error)
	// Least is a lower bound of the unit price of an option, or of the base boat (option -1), over all boats that agree
	// with st outside the free slots.
	Least(option int, st *formula.State, free []bool) int64
}

// Task is what an [Optimizer] looks for: the cheapest boat of some hulls, for one use, that meets the wishes.
//
// The contents of the tried slots are tried out. Of the others, what is settled stays; the rest is as it is by itself:
// the standard build, or, where a rule over a few slots would clash, what goes with the tried ones by the fewest
// deviations. No slot but the tried ones changes for a wish, or for a rule over the mass or the trim of the boat:
// nobody wants a boat that goes a mile further because its fenders were left out.
type Task struct {
	Hulls   []int
	Use     []float64
	Choices Choices           // those in tried slots stay, too
	Tried   []bool            // by slot; slots of multiple are never tried out
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

// Found is a boat of a search. Its choices give exactly this boat: every slot that is not as it would be by itself is
// settled.
type Found struct {
	Choices Choices
	State   *formula.State
	Net     int64
}

// Optimizer finds the cheapest boats, in steps.
//
// It is a branch and bound, cheapest bound first. A branch has decided what some tried slots hold; its bound is the
// price of these, with the cheapest contents of those that are open. It is judged by its cheapest boat. Where that
// clashes or misses a wish, a boat of the branch that does not must differ in some open slot that takes part: those
// become branches, the first with the first slot changed, the second with the first slot as it is and the second
// changed, and so on, so that no boat is met twice. What takes part is found as in a search for the nearest boat; an
// unmet wish is treated like a broken rule. What is left when no branch is cheaper than a boat that was found proves it
// the cheapest, and when there is no branch left there is no further boat. Source: branch and bound; textbook method.
type Optimizer struct {
	fit    *Fit
	task   Task
	why    *explanations
	narrow bitset // rules that other slots may follow
	wishes []*condition
	aim    *condition // of the boat after the one that was found
	spaces []*space
	open   branches
	made   int
	found  []Found
	cut    bool
	done   bool
	judged int
}

// branch is the boats of a hull in which some tried slots are decided; in the others it has the cheapest contents.
// Content and decided are by tried slot; what is decided is never changed below it, so that branches do not overlap.
type branch struct {
	space   *space
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

// Less orders by turn; a boat comes before the branches of its price, since none of them can be cheaper.
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

// Optimize begins a search. It takes time only in its steps.
func (f *Fit) Optimize(t Task) *Optimizer {
	opt := &Optimizer{fit: f, task: t, why: f.newExplanations(), narrow: f.narrowRules()}
	for _, hull := range t.Hulls {
		opt.spaces = append(opt.spaces, opt.newSpace(hull))
	}
	opt.begin()
	return opt
}

// Again begins a search for other wishes, another limit or aim; hulls, use, choices, tried slots and prices of the task
// are those of this search, whose preparations are taken over.
func (opt *Optimizer) Again(t Task) *Optimizer {
	n := &Optimizer{fit: opt.fit, task: t, why: opt.why, narrow: opt.narrow}
	for _, g := range opt.spaces {
		same := *g
		same.optimizer = n
		n.spaces = append(n.spaces, &same)
	}
	n.begin()
	return n
}

// begin opens a branch for each hull, in which nothing is decided.
func (opt *Optimizer) begin() {
	for _, w := range opt.task.Wishes {
		opt.wishes = append(opt.wishes, opt.fit.newCondition(w))
	}
	for _, g := range opt.spaces {
		opt.push(&branch{space: g, content: make([]int16, len(g.slots)), decided: make([]bool, len(g.slots))})
	}
}

// Nothing above the limit of the task is queued, which ends a search for a boat that is too dear as soon as that is
// known.
func (opt *Optimizer) push(b *branch) {
	b.turn = max(b.turn, b.least)
	if opt.task.Most > 0 && b.turn > opt.task.Most {
		return
	}
	b.order = opt.made
	opt.made++
	heap.Push(&opt.open, b)
}

// Found are the boats so far, the cheapest first; where there is an aim, each is better by it than those before.
func (opt *Optimizer) Found() []Found { return opt.found }

// Proved says that nothing was left untried.
func (opt *Optimizer) Proved() bool { return !opt.cut }

// Judged counts the boats that were looked at.
func (opt *Optimizer) Judged() int { return opt.judged }

// Waiting counts the branches that are still open.
func (opt *Optimizer) Waiting() int { return len(opt.open) }

// Step takes the cheapest branch; done says that the search has ended. A branch comes with the bound of its parent plus
// a difference, which is quick and low; its own is worked out when its turn comes, and if it is higher the branch waits
// again. Most never come up and are never bounded.
func (opt *Optimizer) Step() (done bool) {
	if opt.done || len(opt.open) == 0 {
		opt.done = true
		return true
	}
	b := heap.Pop(&opt.open).(*branch)
	if b.boat != nil {
		opt.take(b.boat)
		return opt.done
	}
	root := b.space.boat(b)
	if !b.exact {
		b.exact = true
		if least := b.space.least(b, root.live.State); least > b.least {
			b.least = least
			opt.push(b)
			return false
		}
	}
	opt.judge(b, root)
	return false
}

// take takes a boat that nothing open is cheaper than.
func (opt *Optimizer) take(b *Found) {
	if len(opt.found) > 0 && !opt.aim.holds(b.State) {
		return // found before the aim was raised
	}
	opt.found = append(opt.found, *b)
	aim := opt.task.Aim
	if aim == nil {
		opt.done = true
		return
	}
	opt.aim = opt.fit.newCondition(aim.beyond(b.State.Figures[aim.Figure]))
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
func (opt *Optimizer) wanted() []*condition {
	if opt.aim == nil {
		return opt.wishes
	}
	return append(opt.wishes[:len(opt.wishes):len(opt.wishes)], opt.aim)
}

// judge looks at the cheapest boat of a branch. In this order, from what is quick: a wish missed by bounds ends the
// whole branch; then what follows; then the clashes of the whole boat.
func (opt *Optimizer) judge(b *branch, root *boat) {
	opt.judged++
	g := b.space
	free := g.free(b)
	st := root.live.State
	for _, w := range opt.wanted() {
		if opt.brokenAnyhow(root, &w.rule, free) {
			return
		}
	}
	boat, part, refuted := opt.follow(root)
	if boat == nil {
		if !refuted {
			opt.cut = true
			part = nil
		}
		opt.split(b, st, part, 0)
		return
	}
	if part, dead, clashes := opt.blame(b, boat, free); clashes {
		if !dead {
			opt.split(b, st, part, 0)
		}
		return
	}
	opt.keep(b, st, boat)
}

// keep queues a boat that was found, with the branches that may be cheaper; the rest of its branch comes after it. A
// boat waits in the same queue as branches, before those of the same price. When it comes up nothing open can be
// cheaper: that is the proof. With an aim its branch is queued again at that price, for boats that cost more and get
// further.
func (opt *Optimizer) keep(b *branch, st *formula.State, boat *boat) {
	net, err := opt.task.Prices.Net(boat.live.State)
	if err != nil {
		opt.cut = true
		return
	}
	opt.split(b, st, nil, net)
	if opt.task.Accepts == nil || opt.task.Accepts(boat.live.State) {
		opt.push(&branch{space: b.space, turn: net, boat: b.space.found(boat, net)})
		if opt.task.Aim != nil {
			opt.push(&branch{space: b.space, content: b.content, decided: b.decided, least: b.least, exact: true,
				turn: net})
		}
		return
	}
	opt.split(b, st, nil, -net)
}

// split makes the branches in which one of some tried slots (nil: of all) is changed. With a limit above zero only
// those cheaper come, with one below only those that are not. Each part after the first has the slots before it decided
// as they are, so that no boat is in two branches.
func (opt *Optimizer) split(b *branch, st *formula.State, part []int, limit int64) {
	g := b.space
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
			n := &branch{space: g, content: slices.Clone(b.content), decided: slices.Clone(decided)}
			n.content[i], n.decided[i] = int16(c), true
			n.least = b.least + g.price(g.contents[i][c], st, free) - now
			if limit > 0 && n.least >= limit || limit < 0 && n.least < -limit {
				continue
			}
			opt.push(n)
		}
		decided = slices.Clone(decided)
		decided[i] = true
	}
}

// blame finds open slots of a branch of which one must change, where its boat clashes or misses a wish: those of the
// reason that has the fewest. Dead says that no change helps. Any reason would do, since each has to be met; the fewest
// slots make the fewest branches. One that is decided by the closed slots alone ends the branch.
func (opt *Optimizer) blame(b *branch, boat *boat, free []bool) (part []int, dead, clashes bool) {
	var reasons []*rule
	for _, x := range boat.faults(true) {
		clashes = true
		if x.kind == Broken {
			reasons = append(reasons, &opt.fit.rules[x.index])
		}
	}
	for _, w := range opt.wanted() {
		if !w.holds(boat.live.State) {
			clashes = true
			reasons = append(reasons, &w.rule)
		}
	}
	for _, r := range reasons {
		p, known := opt.explain(b, boat, r, free)
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

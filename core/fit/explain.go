package fit

import (
	"slices"

	"ribband/core/fit/why"
	"ribband/core/formula"
	"ribband/core/pack"
)

// common is in how many slots a total must be carried to be taken for one that every option adds to, like the mass.
// Below that a total is the affair of its few slots, and they are worth naming; of the mass nobody is helped by a list
// of all that weighs.
const common = 8

// explained is a rule with what explanations start from.
type explained struct {
	wide  bool  // it reads more slots than are tried out one by one
	heavy []int // slots that it reads for more than common totals, in the order of the book
}

// prepareExplanations finds which rules need one. An option is light where it only adds to common totals: no few of its
// kind decide a rule, and no condition sees it otherwise. A slot of light options alone is freed from the start, which
// leaves few slots to ask about one by one.
func (f *Fit) prepareExplanations() {
	carriers := make([]map[int]bool, len(f.pack.Figures))
	for _, o := range f.pack.Options {
		for _, c := range o.Carries {
			if carriers[c.Figure] == nil {
				carriers[c.Figure] = map[int]bool{}
			}
			carriers[c.Figure][o.Slot] = true
		}
	}
	for i, o := range f.pack.Options {
		f.light = append(f.light, !f.visible[i] && !slices.ContainsFunc(o.Carries,
			func(c pack.Contribution) bool { return len(carriers[c.Figure]) < common }))
	}
	for i := range f.rules {
		f.explainRule(&f.rules[i])
	}
	f.doomed = f.explaining(f.figures.Dooming(), f.modules.slots)
	f.dooming = f.figures.Needed(f.figures.Dooming())
}

// explainRule prepares what explanations of a rule start from.
func (f *Fit) explainRule(r *rule) {
	closure := f.closure(f.dependenciesOf(r.reads)) // not kept: most rules never clash
	if r.explained = f.explaining(r.reads, closure.slots); r.explained.wide {
		r.Condition = why.NewCondition(f.figures, r.When, r.Need)
	}
}

// explaining is what explanations of a condition start from; of one that reads few slots, none is needed.
func (f *Fit) explaining(reads formula.Reads, slots []int) (x explained) {
	if x.wide = len(slots) > widest; !x.wide {
		return x
	}
	for _, s := range slots {
		def := &f.pack.Slots[s]
		heavy := slices.Contains(reads.Slots, s)
		for o := def.First; o < def.End; o++ {
			heavy = heavy || !f.light[o] || slices.Contains(reads.Options, o)
		}
		if heavy {
			x.heavy = append(x.heavy, s)
		}
	}
	slices.Sort(x.heavy)
	return x
}

// explanations remembers those of one hull, use and question. What it gives follows from the contents of the heavy and
// the fixed slots alone, so that a search with a memory goes the same way as one without. That matters for more than
// speed: with a memory that changed the way, the verdict on an option would depend on which were asked about before it.
type explanations struct {
	*why.Why
	fit   *Fit
	known map[string]*dependencies
	never map[fault][]holding
}

// holding is what some slots hold with which a clash is certain, whatever the others do.
type holding struct{ slots, counts []int }

func (f *Fit) newExplanations() *explanations {
	return &explanations{why.New(f.figures, len(f.slots)), f, map[string]*dependencies{}, map[fault][]holding{}}
}

// of is what could be changed to mend a clash of a boat: of a wide rule, or of figures that cannot be computed, only
// the slots of its explanation, where it has one. Fewer slots are fewer branches: from all that weighs to the bank and
// the motor, say. Where there is none the search branches over what the clash reads, and proves nothing any more if
// that is more than widest.
func (e *explanations) of(b *boat, x fault) dependencies {
	f := e.fit
	var from *explained
	switch {
	case b.wide(x):
		from = &b.rule(x.index).explained
	case x.kind == Unsound && f.doomed.wide:
		from, x.index = &f.doomed, 0 // whichever module it is
	default:
		return b.closureOf(x)
	}
	// Mostly the heavy slots say it, whatever is fixed; only where they do not, the fixed ones are asked too.
	slots := from.heavy
	for {
		key := e.key(b, x, slots)
		t, known := e.known[key]
		if !known {
			t = e.explain(b, x, slots)
			e.known[key] = t
		}
		if t != nil {
			return *t
		}
		all := slices.Clone(from.heavy)
		for s := range f.slots {
			if b.fixed(s) && !slices.Contains(from.heavy, s) {
				all = append(all, s)
			}
		}
		if len(all) == len(slots) {
			return b.closureOf(x)
		}
		slots = all
	}
}

// hopeless says that a clash is known to be certain whatever else the boat holds. It spares judging the boat; where it
// is not known, that says nothing.
func (e *explanations) hopeless(b *boat, x fault) bool {
	return slices.ContainsFunc(e.never[x], func(h holding) bool {
		at := 0
		for _, s := range h.slots {
			def := &e.fit.pack.Slots[s]
			end := at + def.End - def.First
			if !slices.Equal(b.live.State.Counts[def.First:def.End], h.counts[at:end]) {
				return false
			}
			at = end
		}
		return true
	})
}

// learn keeps what makes a clash certain.
func (e *explanations) learn(b *boat, x fault, slots []int) {
	h := holding{slots: slots}
	for _, s := range slots {
		def := &e.fit.pack.Slots[s]
		h.counts = append(h.counts, b.live.State.Counts[def.First:def.End]...)
	}
	e.never[x] = append(e.never[x], h)
}

// key tells apart what an explanation follows from: what the slots hold that it may name.
func (e *explanations) key(b *boat, x fault, slots []int) string {
	key := appendNumbers(append(make([]byte, 0, 128), x.kind[0]), x.index)
	for _, s := range slots {
		key = appendNumbers(key, s+1)
		def := &e.fit.pack.Slots[s]
		for o := def.First; o < def.End; o++ {
			if n := b.live.State.Counts[o]; n > 0 {
				key = appendNumbers(key, o+1, n)
			}
		}
		key = appendNumbers(key, 0) // is no slot and no option
	}
	return string(key)
}

// explain frees all slots but those given, then of these what it can, as long as there is the clash on every boat. The
// heavy ones come first; where light ones are needed, those that are fixed anyway stay as they are: an option may be so
// heavy by itself that nothing else counts. Nil where there are other boats all the same.
func (e *explanations) explain(b *boat, x fault, slots []int) *dependencies {
	st := b.live.State
	certain := func() bool { return e.Doomed(st, e.fit.dooming) }
	if x.kind == Broken {
		certain = func() bool { return e.Broken(st, &b.rule(x.index).Condition) }
	}
	few, ok := e.Few(nil, slots, certain)
	if !ok {
		return nil
	}
	e.learn(b, x, few)
	t := e.fit.closure(dependencies{few, b.closureOf(x).options})
	return &t
}

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
}

func (f *Fit) newExplanations() *explanations {
	return &explanations{why.New(f.figures, len(f.slots)), f, map[string]*dependencies{}}
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
	key := e.key(b, x, from)
	t, known := e.known[key]
	if !known {
		t = e.explain(b, x, from)
		e.known[key] = t
	}
	if t == nil {
		return b.closureOf(x)
	}
	return *t
}

// key tells apart what an explanation follows from. The heavy slots come in their order, so that they need no number;
// the fixed ones differ from question to question and are named.
func (e *explanations) key(b *boat, x fault, from *explained) string {
	key := appendNumbers(append(make([]byte, 0, 128), x.kind[0]), x.index)
	hold := func(s int) {
		def := &e.fit.pack.Slots[s]
		for o := def.First; o < def.End; o++ {
			if n := b.live.State.Counts[o]; n > 0 {
				key = appendNumbers(key, o+1, n) // 0 is the end of a slot's
			}
		}
	}
	for _, s := range from.heavy {
		hold(s)
	}
	key = appendNumbers(key, 0)
	for s := range e.fit.slots {
		if b.fixed(s) {
			key = appendNumbers(key, s)
			hold(s)
			key = appendNumbers(key, 0)
		}
	}
	return string(key)
}

// explain frees all light slots, then of the heavy ones what it can, as long as there is the clash on every boat. Where
// it needs light slots, those that are fixed anyway stay as they are: an option may be so heavy by itself that nothing
// else counts. Nil where there are other boats all the same.
func (e *explanations) explain(b *boat, x fault, from *explained) *dependencies {
	st := b.live.State
	certain := func() bool { return e.Doomed(st, e.fit.dooming) }
	if x.kind == Broken {
		certain = func() bool { return e.Broken(st, &b.rule(x.index).Condition) }
	}
	few, ok := e.Few(nil, from.heavy, certain)
	if !ok {
		slots := slices.Clone(from.heavy)
		for s := range e.fit.slots {
			if b.fixed(s) && !slices.Contains(from.heavy, s) {
				slots = append(slots, s)
			}
		}
		if len(slots) > len(from.heavy) {
			few, ok = e.Few(nil, slots, certain)
		}
	}
	if !ok {
		return nil
	}
	t := e.fit.closure(dependencies{few, b.closureOf(x).options})
	return &t
}

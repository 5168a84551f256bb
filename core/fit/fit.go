// Package fit says which boats can be built: what clashes in a boat, how what a person has left open is filled, and
// which options can still be had, with the reason where one cannot.
//
// A slot is settled when a person has chosen in it, be it nothing; every other slot is soft and holds the standard
// build, or what else goes with the settled slots. [Fit.Complete] finds the boat with the fewest deviations from the
// standard build; its [Status] says whether that is proved, and where there is no such boat, whether that is. Two
// strategies stand behind it: a best-first search over what clashes, which is quick and judges the hundreds of verdicts
// of a page, and the solver of package clauses, which proves most of what that leaves unknown ([Fit.CompleteDeep]).
// Both branch and learn by what package why finds. Effort is counted and never timed, so that a result is the same on
// every machine. Rules over options and rules over figures are treated alike: both are judged anew when something that
// they read has changed, and only then.
package fit

import (
	"slices"
	"sync"

	"ribband/core/figures"
	"ribband/core/fit/why"
	"ribband/core/formula"
	"ribband/core/msg"
	"ribband/core/pack"
)

// Fit is the rules of a pack, ready to judge. All of it follows from the pack and is worked out once, but for the
// clauses, which are written when a question first needs them: a buyer who only looks never does. After [Compile] it is
// not changed, so that one Fit serves every boat, question and search of a page.
type Fit struct {
	pack      *pack.Pack
	figures   *figures.Figures
	rules     []rule
	tests     *formula.Rules // the same rules, to be judged
	slots     []slot
	made      [][]bool       // by option, hull: is it made for the hull
	defaults  [][]int        // by hull, option: how many a soft slot holds by itself
	modules   dependencies   // what the figures of modules read
	doomed    explained      // what explains that modules can compute nothing: see figures.Doomed
	dooming   figures.Needed // steps to what decides that
	light     []bool         // by option: it adds to totals that most options add to, and nothing else sees it
	compiled  compiled       // clauses of some hulls and uses
	answers   answers        // to groups of clashes
	near      sync.Once
	neighbour []bitset       // by slot: see neighbours
	classes   []int          // by option: see classify
	visible   []bool         // by option: figures or conditions of slots ask for it
	plain     bool           // no slot's condition reads a figure that a module computes
	circular  bool           // conditions of slots read each other in a circle
	reads     *formula.Index // who of the conditions reads what: those of the slots, then the rules
	readers   []bitset       // by figure: the conditions that read it
	guards    *formula.Index // which rules an option or slot wakes
}

// rule is a rule of the book, or a condition that a question adds to them. It has no words: they stand in the pack
// under the same index, and are put in only for a clash that somebody sees.
type rule struct {
	why.Condition
	reads formula.Reads // what it names itself
	// worked out once, when the rule first clashes: of a rule over the mass it is nearly the whole book
	depends   func() dependencies
	closure   func() dependencies
	guard     *formula.Guard // without anything of it the rule is not broken; nil for none
	computed  bool           // reads a figure that a module computes, which may fail
	heavy     bool           // one of a module that takes longest
	explained explained
}

// slot is what is known of a slot beside what the pack says of it. Hulls and conditions are kept apart: what is not
// made for a hull is never there, whatever is chosen, while a condition may open the slot on the way.
type slot struct {
	when     formula.TruthFunc // nil where the slot is always there
	depends  dependencies      // what its condition reads
	closing  dependencies      // that, with what it depends on, and the slot
	closure  dependencies      // the slot with what opens and closes it
	hulls    []bool
	carries  int  // the most figures that one of its options carries
	overfull bool // the standard build of a hull has more of an option than the book allows
}

// Compile prepares the rules of a pack.
func Compile(p *pack.Pack, figs *figures.Figures) *Fit {
	f := &Fit{pack: p, figures: figs, plain: true}
	reads := make([]formula.Reads, len(p.Slots)+len(p.Rules))
	var tests []formula.Rule
	for i, s := range p.Slots {
		c := slot{hulls: make([]bool, len(p.Hulls))}
		for h := range c.hulls {
			c.hulls[h] = p.Exists(i, h)
		}
		if !s.When.Empty() {
			c.when, c.depends = s.When.Truth(), f.dependenciesOf(s.When.Reads())
			f.plain = f.plain && figs.Plain(s.When.Reads())
			reads[i] = s.When.Reads()
		}
		f.slots = append(f.slots, c)
	}
	for i, o := range p.Options {
		made := make([]bool, len(p.Hulls))
		for h := range made {
			made[h] = p.Offered(i, h)
		}
		f.made = append(f.made, made)
		f.slots[o.Slot].carries = max(f.slots[o.Slot].carries, len(o.Carries))
	}
	// Only now, with all conditions known, can be said what opens a slot in turn. A slot among what its own condition
	// depends on may have no settled state; most books have none, and theirs need fewer rounds (see boat.settle).
	for i := range f.slots {
		by := f.closure(f.slots[i].depends)
		f.circular = f.circular || slices.Contains(by.slots, i)
		f.slots[i].closing, f.slots[i].closure = dependencies{append(by.slots, i), by.options},
			f.closure(dependencies{slots: []int{i}})
	}
	for i, r := range p.Rules {
		own := r.When.Reads().With(r.Need.Reads())
		c := f.newRule(r.When, r.Need, own)
		f.rules, reads[len(p.Slots)+i] = append(f.rules, c), own
		tests = append(tests, formula.Rule{When: r.When, Need: r.Need})
	}
	// From here on each step needs those before: waking the index, explanations the classes of options.
	f.tests, f.reads = formula.NewRules(tests), formula.NewIndex(reads, p.Space())
	f.prepareWaking()
	f.modules = f.closure(f.dependenciesOf(f.computed()))
	f.classify()
	f.prepareExplanations()
	for h := range p.Hulls {
		f.noteOverfull(h)
		f.defaults = append(f.defaults, p.Default(h))
	}
	return f
}

// What it depends on is left until it clashes: resolving the figures of a rule over the mass goes through nearly the
// whole book, and most rules never clash.
func (f *Fit) newRule(when, need formula.Program, own formula.Reads) rule {
	r := rule{Condition: why.Condition{When: when, Need: need}, reads: own, guard: when.Guard(),
		computed: !f.figures.Plain(own), heavy: !f.figures.Light(own)}
	r.depends = sync.OnceValue(func() dependencies { return f.dependenciesOf(own) })
	r.closure = sync.OnceValue(func() dependencies { return f.closure(r.depends()) })
	return r
}

// prepareWaking notes whom figures concern, and what wakes a rule. Without it a change of the mass would have every
// rule over the mass judged anew, also those that count only with an option that is not aboard: on a page of hundreds
// of verdicts these are most. The last bit of each set is that of the condition which a question adds; no index reads
// it, see boat.markTerms.
func (f *Fit) prepareWaking() {
	for i := range f.pack.Figures {
		set := newBitset(len(f.slots) + len(f.rules) + 1)
		for _, c := range f.reads.Figure(i) {
			set.add(c)
		}
		f.readers = append(f.readers, set)
	}
	list := make([]formula.Reads, len(f.rules))
	for i := range f.rules {
		if g := f.rules[i].guard; g != nil {
			list[i] = formula.Reads{Options: g.Options, Slots: g.Slots}.With(formula.Reads{})
		}
	}
	f.guards = formula.NewIndex(list, f.pack.Space())
}

// computed are the figures of modules, as far as all desks know them. Those that the yard alone knows are left out, so
// that the desks search in the same way and find the same boat for the same link.
func (f *Fit) computed() (r formula.Reads) {
	for i := range f.pack.Figures {
		if c := figures.ID(f.pack.Figures[i].Computed); c != "" && !figures.YardOnly(c) {
			r.Figures = append(r.Figures, i)
		}
	}
	return r
}

// noteOverfull marks the slots whose default content is more than they may hold. What a person chose is looked at for
// that in every slot. Of what stands there by itself only these slots need it, since the checker of books lets nothing
// else pass.
func (f *Fit) noteOverfull(hull int) {
	for _, n := range f.pack.Hulls[hull].Standard {
		if o := &f.pack.Options[n.Option]; f.made[n.Option][hull] && n.Count > o.Most {
			f.slots[o.Slot].overfull = true
		}
	}
}

// Choices is what a person has settled: for each slot whether, and for each option how many of it. A settled slot
// without a count is settled as empty, which is not the same as open: the first stays empty, the second may be filled.
// Counts of slots that are not settled are zero.
type Choices struct {
	Settled []bool
	Counts  []int
}

// NewChoices has nothing settled. It is the standard build.
func (f *Fit) NewChoices() Choices {
	return Choices{make([]bool, len(f.pack.Slots)), make([]int, len(f.pack.Options))}
}

// Clone copies the choices.
func (c Choices) Clone() Choices {
	return Choices{append([]bool(nil), c.Settled...), append([]int(nil), c.Counts...)}
}

// Kind is what a clash breaks. All but the first follow from the cardinalities, hulls and days of slots and options, or
// from the modules; only rules have words of the book.
type Kind string

const (
	Broken    Kind = "rule"     // a rule of the book
	Closed    Kind = "closed"   // something stands in a slot that does not exist on this boat
	TooFew    Kind = "too-few"  // in a slot
	TooMany   Kind = "too-many" // in a slot, or of an option
	WrongHull Kind = "hull"     // an option that is not made for the hull
	NotSold   Kind = "sale"     // an option that is not sold on the day of the edition
	Unsound   Kind = "figures"  // figures that cannot be computed: it is too heavy to float, say
)

// Clash is one thing that keeps a boat from being built. Index is a rule, slot or option by Kind; Options are those in
// the boat that take part.
type Clash struct {
	Kind    Kind
	Index   int
	Reason  msg.Message   // the book's own words, or by the counts; see words.go
	Fault   formula.Fault // of Unsound, in the place of a reason
	Advice  msg.Message   // the book's
	Options []int
}

// Same says whether two clashes are about the same thing. Who else takes part, and in which words, may differ from boat
// to boat.
func (c Clash) Same(d Clash) bool { return c.Kind == d.Kind && c.Index == d.Index }

// Build is a complete boat, as far as it can be completed. With Clashes none, it can be built. Otherwise Status tells
// whether that is proved of the choices, or only of this boat.
type Build struct {
	Choices Choices
	State   *formula.State
	Clashes []Clash
	Status  Status
	root    *boat // with every soft slot as it is by itself
}

// word says what clashes.
func (b *boat) word(x fault) Clash {
	f, st := b.fit, b.live.State
	c := Clash{Kind: x.kind, Index: x.index}
	switch x.kind {
	case Broken:
		if x.index < len(f.rules) { // what the terms add has no words
			def := &f.pack.Rules[x.index]
			c.Reason, c.Advice = msg.Plain(def.Because), msg.Plain(def.Advice)
		}
		c.Options = f.present(b.rule(x.index).depends(), st)
	case Closed:
		c.Reason = msg.Plain(f.pack.Slots[x.index].Because)
		c.Options = append(f.present(dependencies{slots: []int{x.index}}, st),
			f.present(f.slots[x.index].depends, st)...)
	case TooFew:
		c.Reason = missing(&f.pack.Slots[x.index], st.Slots[x.index])
	case TooMany:
		if o := x.index - len(f.slots); o >= 0 {
			c.Reason, c.Options = tooManyOf(&f.pack.Options[o], st.Counts[o]), []int{o}
		} else {
			c.Reason, c.Options = tooMany(&f.pack.Slots[x.index], st.Slots[x.index]),
				f.present(dependencies{slots: []int{x.index}}, st)
		}
	case WrongHull:
		c.Reason, c.Options = wrongHull(&f.pack.Options[x.index], &f.pack.Hulls[st.HullID]), []int{x.index}
	case NotSold:
		c.Reason, c.Options = NotSoldNow(&f.pack.Public, x.index), []int{x.index}
	case Unsound:
		c.Fault = st.Faults[x.index]
	}
	return c
}

// present lists the options in the boat that a condition reads: those it names, and all of a slot that it asks whole.
// They are what a person is told of: options that are read and absent cannot be pointed at.
func (f *Fit) present(t dependencies, st *formula.State) []int {
	var out []int
	for _, s := range t.slots {
		def := &f.pack.Slots[s]
		for o := def.First; o < def.End; o++ {
			if st.Counts[o] > 0 {
				out = append(out, o)
			}
		}
	}
	return out
}

// Package fit says which boats can be built: what clashes in a boat, how what a person has left open is filled, and
// which options can still be had, with the reason where one cannot.
//
// A slot is settled when a person has chosen in it, be it nothing; every other slot is soft and holds the standard build, or
// what else goes with the settled slots. [Fit.Complete] finds that filling by a search that tries the fewest changes
// first and gives up after a stated number of tries; it is deterministic. It is not a proof: a boat that it cannot complete
// may have a completion that needs many changes at once. Rules over options and rules over figures are treated alike.
package fit

import (
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
)

// Fit is the rules of a pack, ready to judge.
type Fit struct {
	pack    *pack.Pack
	figures *figures.Figures
	rules   []rule
	broken  *formula.Rules // the same rules, to be judged
	slots   []slot
	made    [][]bool // by option, hull: is it made for the hull
	plain   bool     // no slot's condition reads a figure that a module computes
}

type rule struct {
	touches  touches
	computed bool // reads a figure that a module computes, which may fail
}

type slot struct {
	when    formula.TruthFunc // nil where the slot is always there
	touches touches           // what its condition reads
	hulls   []bool
	carries int // the most figures that one of its options carries
}

// touches is what a condition reads of the boat, figures resolved.
type touches struct {
	slots   []int
	options []int // those named; of a slot asked whole, none
}

// Compile prepares the rules of a pack.
func Compile(p *pack.Pack, figs *figures.Figures) *Fit {
	f := &Fit{pack: p, figures: figs, plain: true}
	var rules []formula.Rule
	for _, r := range p.Rules {
		reads := r.When.Reads().With(r.Need.Reads())
		f.rules = append(f.rules, rule{f.touched(reads), !figs.Plain(reads)})
		rules = append(rules, formula.Rule{When: r.When, Need: r.Need})
	}
	f.broken = formula.NewRules(rules)
	for _, s := range p.Slots {
		c := slot{hulls: f.madeFor(s.Hulls)}
		if !s.When.Empty() {
			c.when, c.touches = s.When.Truth(), f.touched(s.When.Reads())
			f.plain = f.plain && figs.Plain(s.When.Reads())
		}
		f.slots = append(f.slots, c)
	}
	for _, o := range p.Options {
		made := f.madeFor(o.Hulls)
		for h := range made {
			made[h] = made[h] && f.slots[o.Slot].hulls[h]
		}
		f.made = append(f.made, made)
		f.slots[o.Slot].carries = max(f.slots[o.Slot].carries, len(o.Carries))
	}
	return f
}

func (f *Fit) madeFor(hulls []int) []bool {
	made := make([]bool, len(f.pack.Hulls))
	for h := range made {
		made[h] = len(hulls) == 0
	}
	for _, h := range hulls {
		made[h] = true
	}
	return made
}

func (f *Fit) touched(r formula.Reads) touches {
	r = f.figures.Resolve(r)
	slots := formula.Reads{Slots: r.Slots}
	for _, o := range r.Options {
		slots.Slots = append(slots.Slots, f.pack.Options[o].Slot)
	}
	return touches{slots.With(formula.Reads{}).Slots, r.Options}
}

// Made says whether an option is made for a hull.
func (f *Fit) Made(option, hull int) bool { return f.made[option][hull] }

// Exists says whether a hull has a slot at all.
func (f *Fit) Exists(slot, hull int) bool { return f.slots[slot].hulls[hull] }

// Choices is what a person has settled: for each slot whether, and for each option how many of it.
type Choices struct {
	Settled []bool
	Counts  []int
}

// NewChoices has nothing settled.
func (f *Fit) NewChoices() Choices {
	return Choices{make([]bool, len(f.pack.Slots)), make([]int, len(f.pack.Options))}
}

// Clone copies the choices.
func (c Choices) Clone() Choices {
	return Choices{append([]bool(nil), c.Settled...), append([]int(nil), c.Counts...)}
}

// Kind is what a clash breaks.
type Kind string

const (
	Broken    Kind = "rule"     // a rule of the book
	Closed    Kind = "closed"   // something stands in a slot that does not exist on this boat
	TooFew    Kind = "too few"  // in a slot
	TooMany   Kind = "too many" // in a slot, or of an option
	WrongHull Kind = "hull"     // an option that is not made for the hull
	Unsound   Kind = "figures"  // figures that cannot be computed: she is too heavy to float, say
)

// Clash is one thing that keeps a boat from being built. Index is a rule, slot or option by Kind; Options are those in the boat that take part.
type Clash struct {
	Kind    Kind
	Index   int
	Reason  string
	Advice  string
	Options []int
}

// Same says whether two clashes are about the same thing.
func (c Clash) Same(d Clash) bool { return c.Kind == d.Kind && c.Index == d.Index }

// Build is a complete boat, as far as it can be completed.
type Build struct {
	Choices Choices
	State   *formula.State
	Clashes []Clash
}

// judge computes the figures of a state and lists every clash.
func (f *Fit) judge(st *formula.State) []Clash {
	f.figures.Fill(st)
	var clashes []Clash
	for i := range f.slots {
		clashes = f.judgeSlot(clashes, i, st)
	}
	for i, fault := range st.Faults {
		clashes = append(clashes, Clash{Kind: Unsound, Index: i, Reason: fault})
	}
	for _, i := range f.broken.Broken(st, nil) {
		r := &f.rules[i]
		if r.computed && len(st.Faults) > 0 {
			continue // the fault says more
		}
		def := &f.pack.Rules[i]
		clashes = append(clashes, Clash{Broken, i, def.Because, def.Advice, f.present(r.touches, st)})
	}
	return clashes
}

func (f *Fit) judgeSlot(clashes []Clash, i int, st *formula.State) []Clash {
	def := &f.pack.Slots[i]
	n := st.Slots[i]
	exists := f.slots[i].hulls[st.HullID]
	open := exists && (f.slots[i].when == nil || f.slots[i].when(st))
	if n > 0 {
		clashes = f.judgeOptions(clashes, def, st)
	}
	inSlot := touches{slots: []int{i}}
	switch {
	case !open && n > 0 && exists:
		clashes = append(clashes, Clash{Closed, i, def.Because, "", append(f.present(inSlot, st), f.present(f.slots[i].touches, st)...)})
	case open && n < def.Least:
		clashes = append(clashes, Clash{TooFew, i, missing(def, n), "", nil})
	case def.Most > 0 && n > def.Most:
		clashes = append(clashes, Clash{TooMany, i, tooMany(def, n), "", f.present(inSlot, st)})
	}
	return clashes
}

func (f *Fit) judgeOptions(clashes []Clash, def *pack.Slot, st *formula.State) []Clash {
	for o := def.First; o < def.End; o++ {
		n := st.Counts[o]
		if n > 0 && !f.made[o][st.HullID] {
			clashes = append(clashes, Clash{WrongHull, o, f.pack.Options[o].Title + " is not made for the " + f.pack.Hulls[st.HullID].Title + ".", "", []int{o}})
		}
		if n > f.pack.Options[o].Most {
			clashes = append(clashes, Clash{TooMany, len(f.slots) + o, tooManyOf(&f.pack.Options[o], n), "", []int{o}})
		}
	}
	return clashes
}

// present lists the options in the boat that a condition reads: those it names, and all of a slot that it asks whole.
func (f *Fit) present(t touches, st *formula.State) []int {
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

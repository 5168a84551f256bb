// Package proof holds a book against every boat that it allows, before anybody orders one.
//
// For each hull it proves that every option made for it stands in some valid boat, with that boat as witness, and names
// what stands in all of them; that every rule rules something out that the others let pass, with a boat as witness that
// breaks it and no other; that for every value of the use some boat can be built; and that no formula divides by zero
// or gives a negative quantity on any valid boat. What is neither proved nor refuted within the effort is listed as
// open, never passed over.
//
// There is no dead end on the way to a boat: the page offers an option as open only if a valid boat with it and all
// that is settled has been found, so that from a valid boat every step leads to one. What could begin without one is a
// use, and that is proved here; of several fields changed together, only the clash on the page tells.
//
// What each file does, in the order in which Prove tells:
//
//	questions.go which questions there are, and how they come to their answers: from memory, or on all cores
//	finding.go   what an answer is, in numbers of the pack
//	digest.go    what an answer follows from, so that it can be kept
//	lasting.go   what of an answer outlasts an edit of rules
//	memory.go    what the searches remember of the boats that they judge
//	options.go   each option in some boat; those that are in every boat
//	count.go     how many boats there are, and a second opinion on what is always or never there
//	uses.go      a boat for each value of each field of the use
//	rules.go     a boat that breaks each rule alone
//	formulas.go  which formulas there are, and what is wrong with one that fails
//	split.go     a formula over all boats and uses, by bounds and by dividing
//	decide.go    one question: for one use, and for all uses by what reasons rest on
//	judge.go     a boat judged afresh
//
// An answer follows from its question and the book alone, so that questions need no order. Those of two kinds come
// last, since what the others found is part of them: what is in every boat, and what a cut or a circuit measures.
//
// Every bound on the effort counts boats or questions and not time, so that a book is proved alike on every machine.
//
// The proofs rest on the search of package fit, which is held against the enumeration of small books, and on interval
// bounds. Each witness is judged afresh, by computing its figures as a whole and evaluating each rule by itself.
package proof

import (
	"fmt"
	"slices"
	"sync"

	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Kind is what a diagnostic is about. It says of what list of the pack Index is one.
type Kind string

const (
	NeverHad Kind = "option"  // an option that no valid boat of a hull has
	NoEffect Kind = "rule"    // a rule that rules nothing out
	DeadEnd  Kind = "use"     // a value of the use with which no boat of any hull can be built
	OfBoats  Kind = "hull"    // all boats of a hull
	Unsafe   Kind = "formula" // a formula that fails on a valid boat
)

// Diagnostic is something wrong with the book. Index is an option, a rule, a use field or a hull by Kind; of a formula
// it says whose it is. It knows no place: a pack has none but those of amounts. Package publish, which reads the book
// again, puts them in.
type Diagnostic struct {
	Kind    Kind
	Index   int
	Formula *Formula // of Unsafe
	Open    bool     // neither proved nor refuted
	Message string
	Advice  string
	Witness *spec.Spec // the boat that shows it, where there is one
}

// Proof is what was proved of a book. It is written beside the pack, for the yard to read and to keep: what is proved
// comes with boats that anybody can open and judge.
type Proof struct {
	Hulls       []Hull       `json:"hulls"`
	Rules       Rules        `json:"rules"`
	Formulas    Formulas     `json:"formulas"`
	Open        int          `json:"open" jsonschema:"description=how many questions are neither proved nor refuted: see the warnings"`
	Diagnostics []Diagnostic `json:"-"`
	Asked       int          `json:"-"` // questions that no memory answered
}

// Hull is what was proved of the boats of one hull. Lists that are empty are left out of the file; open questions stand
// among the diagnostics.
type Hull struct {
	ID        string    `json:"hull"`
	Options   []Witness `json:"options" jsonschema:"description=every option that can be had, with a boat that has it"`
	Never     []Never   `json:"never,omitempty" jsonschema:"description=options that the rules keep from every boat of this hull"`
	Always    []string  `json:"always,omitempty" jsonschema:"description=options that are in every boat"`
	Boats     string    `json:"boats,omitempty" jsonschema:"description=in decimal digits: how many there are for the standard use, exactly, over all rules but the uncounted"`
	Uncounted []string  `json:"uncounted,omitempty" jsonschema:"description=rules over figures that many slots carry together"`
	Without   []string  `json:"without,omitempty" jsonschema:"description=values of the use with which no boat of this hull can be built"`
}

// Witness is a valid boat that has an option. Its spec holds what differs from the standard build, and so reads like an
// order.
type Witness struct {
	Option string    `json:"option"`
	Spec   spec.Spec `json:"spec"`
}

// Never is an option with the rules that keep it from a hull. That is no fault by itself: a hull may be too small for a
// motor. Only an option that no hull can have is.
type Never struct {
	Option string `json:"option"`
	Why    string `json:"why"`
}

// Rules are those that were shown to rule something out, each with a boat that breaks it alone. A rule that no boat
// breaks looks like protection and is none, or says what another says already; whoever changes the other later should
// know.
type Rules struct {
	Effective []Breaking `json:"effective" jsonschema:"description=each with a boat that breaks it and no other"`
	Guards    []Guard    `json:"guards,omitempty" jsonschema:"description=marked as guards: no boat that was found breaks them, and none needs to"`
}

// Guard is a rule that is marked as one. Proved says that no boat breaks it alone; else none was found.
type Guard struct {
	Rule   string `json:"rule"`
	Proved bool   `json:"proved"`
}

// Breaking is a boat that breaks one rule and no other. Opened in the page, it shows the words of the rule as a
// customer would meet them.
type Breaking struct {
	Rule string    `json:"rule"`
	Spec spec.Spec `json:"spec"`
}

// prover works on one pack. Boats are kept for what comes later: an option that one of them lacks is not in every boat,
// and what formulas measure is tried on them.
type prover struct {
	engine *engine.Engine
	pack   *pack.Pack
	figs   *figures.Figures
	fit    *fit.Fit
	judge  judge
	boats  []*formula.State // valid ones that were found on the way
	// of these, those that are known by their counts alone: their figures are computed when somebody asks
	unfilled []*formula.State
	proof    Proof
	err      error                   // the ways to judge a boat disagree
	alike    []func() []string       // by field: see distinct
	bare     []func() *formula.State // by hull: see bareBoat

	how     How
	digests digests
	last    *lasting
	asked   int // questions that no memory answered
}

// How is how the questions are asked. It changes how long a proof takes and not what it says. The zero How has no
// memory.
type How struct {
	// Recall gives what Keep was given under a key, nil where there is none. A key has in it all that the answer
	// follows from, so that answers of several editions of a book may be kept beside each other.
	Recall func(key string) *Finding
	Keep   func(key string, f *Finding)
	// Lasting has answers taken over that were found by other rules, as far as they hold by those of this book. What is
	// told is as true as what a new proof tells, though the boats and reasons may be others; a guard that no boat was
	// found to break is not tried again. For whoever edits rules and waits; not for a proof that is kept.
	Lasting bool
	// Given says that all answers are there, but for those that follow from all boats together: see [Part].
	Given bool
	// First says of a subject, "rule ID", "option ID" and so on, whether its questions are asked before all others.
	First func(subject string) bool
}

// Prove holds the yard's pack of a book against every boat that it allows. An error says that no proof was made; what
// is wrong with the book is a diagnostic. The engine is compiled once and asked thousands of questions; no other rule
// set is compiled on the way, see [fit.Terms].
func Prove(e *engine.Engine, how How) (*Proof, error) {
	p, err := newProver(e, how)
	if err != nil {
		return nil, err
	}
	q := p.questions()
	if how.Given {
		if x := p.missing(q.all()); x != nil {
			return nil, fmt.Errorf("proving the book of answers that are given: there is none to %q", x.name)
		}
	}
	p.answer(q.all()...)
	// Options first: they bring the most boats, which spare questions of what follows. Formulas last, since they are
	// tried on all of them.
	p.options(q)
	for h := range e.Pack.Hulls {
		p.counted(h, q.hulls[h].is)
	}
	p.uses(q)
	p.rules(q)
	p.formulas(q)
	p.proof.Asked = p.asked
	if p.err != nil {
		return nil, fmt.Errorf("proving the book: %w", p.err)
	}
	return &p.proof, nil
}

// newProver prepares to ask. The engine remembers from then on, which makes its answers quicker and no others.
func newProver(e *engine.Engine, how How) (*prover, error) {
	figs, err := figures.Compile(e.Pack)
	if err != nil {
		return nil, fmt.Errorf("proving the book: %w", err)
	}
	p := &prover{engine: e, pack: e.Pack, figs: figs, fit: e.Fit, judge: newJudge(e.Pack, figs),
		how: how, digests: newDigests(e.Pack)}
	p.last = newLasting(p)
	// The judge has figures of its own, which remember nothing: it computes every boat that it judges.
	for h := range e.Pack.Hulls {
		p.proof.Hulls = append(p.proof.Hulls, Hull{ID: e.Pack.Hulls[h].ID})
		p.bare = append(p.bare, sync.OnceValue(func() *formula.State {
			st := figures.NewState(p.pack, h, p.engine.StandardUse())
			figs.Fill(st)
			return st
		}))
	}
	for i := range e.Pack.Use {
		p.alike = append(p.alike, sync.OnceValue(func() []string { return p.signatures(i) }))
	}
	e.Figures.Remember(&memory{})
	return p, nil
}

// bareBoat is a hull with nothing chosen for the standard use, a copy of its own. What follows from the hull alone is
// good for all boats.
func (p *prover) bareBoat(hull int) *formula.State {
	st := *p.bare[hull]()
	st.Counts, st.Slots, st.Figures = slices.Clone(st.Counts), slices.Clone(st.Slots), slices.Clone(st.Figures)
	st.Use = slices.Clone(st.Use)
	return &st
}

// find lists what is wrong or open.
func (p *prover) find(f Diagnostic) {
	p.proof.Diagnostics = append(p.proof.Diagnostics, f)
	if f.Open {
		p.proof.Open++
	}
}

// unknown lists what is neither proved nor refuted, with what was tried. What was tried belongs to it: the owner of the
// book has to judge how much a silence is worth.
func (p *prover) unknown(f Diagnostic, question, tried string) {
	f.Open, f.Message = true, fmt.Sprintf("%s is open. %s", question, tried)
	if f.Advice == "" {
		f.Advice = "split the rules over figures that take part into rules over fewer, or state the limit over the " +
			"options that decide it"
	}
	p.find(f)
}

// note notes a boat that was found under the rules of the book and perhaps one more, as a witness; it is judged afresh.
// Where the ways to judge disagree the program is wrong and not the book, and no proof is given at all.
func (p *prover) note(f *Finding, st *formula.State) {
	if st == nil {
		return
	}
	if rules, sound := p.judge.broken(st); len(rules) > 0 || !sound {
		f.err = fmt.Errorf("a boat of %s was taken to be valid; judged afresh, it breaks rules %v, sound: %v",
			p.pack.Hulls[st.HullID].ID, rules, sound)
	}
	f.Boats, f.states = append(f.Boats, boatOf(st)), append(f.states, st)
}

// found takes over the boats of an answer.
func (p *prover) found(f *Finding) {
	if f.err != nil {
		p.err = f.err
	}
	if len(f.states) == len(f.Boats) {
		p.boats = append(p.boats, f.states...)
		return
	}
	for i := range f.Boats {
		st := p.state(&f.Boats[i])
		p.boats, p.unfilled = append(p.boats, st), append(p.unfilled, st)
	}
}

// valid says that a boat can be built, nearest or not: a witness need not be the nearest.
func valid(b *fit.Build) bool { return b.Status == fit.Optimal || b.Status == fit.Feasible }

// least settles the slots of a valid boat that do not hold what they would by themselves: the spec of it completes to
// this boat. So the witness reads as few choices that matter, and not as a list of every fender.
func (p *prover) least(st *formula.State) fit.Choices {
	c, defaults := p.whole(st), p.pack.Default(st.HullID)
	for i := range p.pack.Slots {
		def, other := &p.pack.Slots[i], false
		for o := def.First; o < def.End; o++ {
			other = other || st.Counts[o] != defaults[o]
		}
		c.Settled[i] = c.Settled[i] && other
	}
	return c
}

// whole settles every slot that a boat has, so that the spec of it is this boat whatever the rules say. A boat that
// breaks a rule would otherwise be completed to one that does not.
func (p *prover) whole(st *formula.State) fit.Choices {
	c := p.fit.NewChoices()
	for i := range p.pack.Slots {
		c.Settled[i] = p.pack.Exists(i, st.HullID) && p.judge.present(i, st)
	}
	copy(c.Counts, st.Counts)
	return c
}

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
// The proofs rest on the search of package fit, which is held against the enumeration of small books, and on interval
// bounds. Each witness is judged afresh, by computing its figures as a whole and evaluating each rule by itself.
package proof

import (
	"fmt"

	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Kind is what a finding is about.
type Kind string

const (
	NeverHad Kind = "option"  // an option that no valid boat of a hull has
	NoEffect Kind = "rule"    // a rule that rules nothing out
	DeadEnd  Kind = "use"     // a value of the use with which no boat of any hull can be built
	OfBoats  Kind = "hull"    // all boats of a hull
	Unsafe   Kind = "formula" // a formula that fails on a valid boat
)

// Finding is something wrong with the book. Index is an option, a rule, a use field or a hull by Kind; of a formula it
// says whose it is.
type Finding struct {
	Kind    Kind
	Index   int
	Formula *Formula // of Unsafe
	Open    bool     // neither proved nor refuted
	Message string
	Advice  string
	Witness *spec.Spec // the boat that shows it, where there is one
}

// Proof is what was proved of a book.
type Proof struct {
	Hulls    []Hull    `json:"hulls"`
	Rules    Rules     `json:"rules"`
	Formulas Formulas  `json:"formulas"`
	Open     int       `json:"open" jsonschema:"description=how many questions are neither proved nor refuted: see the warnings"`
	Findings []Finding `json:"-"`
}

// Hull is what was proved of the boats of one hull.
type Hull struct {
	ID        string    `json:"hull"`
	Options   []Witness `json:"options" jsonschema:"description=every option that can be had, with a boat that has it"`
	Never     []Never   `json:"never,omitempty" jsonschema:"description=options that the rules keep from every boat of this hull"`
	Always    []string  `json:"always,omitempty" jsonschema:"description=options that are in every boat"`
	Boats     string    `json:"boats,omitempty" jsonschema:"description=in decimal digits: how many there are for the standard use, exactly, over all rules but the uncounted"`
	Uncounted []string  `json:"uncounted,omitempty" jsonschema:"description=rules over figures that many slots carry together"`
	Without   []string  `json:"without,omitempty" jsonschema:"description=values of the use with which no boat of this hull can be built"`
}

// Witness is a valid boat that has an option.
type Witness struct {
	Option string    `json:"option"`
	Spec   spec.Spec `json:"spec"`
}

// Never is an option with the rules that keep it from a hull.
type Never struct {
	Option string `json:"option"`
	Why    string `json:"why"`
}

// Rules are those that were shown to rule something out, each with a boat that breaks it alone.
type Rules struct {
	Effective []Breaking `json:"effective" jsonschema:"description=each with a boat that breaks it and no other"`
	Guards    []Guard    `json:"guards,omitempty" jsonschema:"description=marked as guards: no boat that was found breaks them, and none needs to"`
}

// Guard is a rule that is marked as one. Proved says that no boat breaks it alone; else none was found.
type Guard struct {
	Rule   string `json:"rule"`
	Proved bool   `json:"proved"`
}

// Breaking is a boat that breaks one rule and no other.
type Breaking struct {
	Rule string    `json:"rule"`
	Spec spec.Spec `json:"spec"`
}

// prover works on one pack.
type prover struct {
	engine *engine.Engine
	pack   *pack.Pack
	figs   *figures.Figures
	fit    *fit.Fit
	judge  judge
	boats  []*formula.State // valid ones that were found on the way
	proof  Proof
	err    error // the ways to judge a boat disagree

	alike [][]string // see distinct
}

// Prove holds the yard's pack of a book against every boat that it allows. An error says that no proof was made; what
// is wrong with the book is a finding.
func Prove(e *engine.Engine) (*Proof, error) {
	figs, err := figures.Compile(e.Pack)
	if err != nil {
		return nil, fmt.Errorf("proving the book: %w", err)
	}
	p := &prover{engine: e, pack: e.Pack, figs: figs, fit: e.Fit, judge: newJudge(e.Pack, figs)}
	for h := range e.Pack.Hulls {
		p.proof.Hulls = append(p.proof.Hulls, Hull{ID: e.Pack.Hulls[h].ID})
	}
	p.options()
	for h := range e.Pack.Hulls {
		p.count(h)
	}
	p.uses()
	p.rules()
	p.formulas()
	if p.err != nil {
		return nil, fmt.Errorf("proving the book: %w", p.err)
	}
	return &p.proof, nil
}

func (p *prover) find(f Finding) {
	p.proof.Findings = append(p.proof.Findings, f)
	if f.Open {
		p.proof.Open++
	}
}

// unknown lists what is neither proved nor refuted, with what was tried.
func (p *prover) unknown(f Finding, question, tried string) {
	f.Open, f.Message = true, fmt.Sprintf("%s is open: %s", question, tried)
	if f.Advice == "" {
		f.Advice = "split the rules over figures that take part into rules over fewer, or state the limit over the " +
			"options that decide it"
	}
	p.find(f)
}

// triedBoats is what was tried where a search for any boat found none.
func triedBoats(n int) string {
	return fmt.Sprintf("the searches over slots and rules gave up, and a walk over %d boats came to none", n)
}

// keep notes a boat that was found under the rules of the book and perhaps one more, as a witness; it is judged afresh.
func (p *prover) keep(st *formula.State) {
	if st == nil {
		return
	}
	if rules, sound := p.judge.broken(st); len(rules) > 0 || !sound {
		p.err = fmt.Errorf("a boat of %s was taken to be valid; judged afresh, it breaks rules %v, sound: %v",
			p.pack.Hulls[st.HullID].ID, rules, sound)
	}
	p.boats = append(p.boats, st)
}

func valid(b *fit.Build) bool { return b.Status == fit.Optimal || b.Status == fit.Feasible }

// least settles the slots of a valid boat that do not hold what they would by themselves: the spec of it completes to
// this boat.
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

// whole settles every slot that a boat has, so that the spec of it is this boat whatever the rules say.
func (p *prover) whole(st *formula.State) fit.Choices {
	c := p.fit.NewChoices()
	for i := range p.pack.Slots {
		c.Settled[i] = p.pack.Exists(i, st.HullID) && p.judge.present(i, st)
	}
	copy(c.Counts, st.Counts)
	return c
}

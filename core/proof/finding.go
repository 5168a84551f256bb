package proof

import (
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/spec"
)

// Finding is the answer to one question of a proof, in numbers of the pack. It follows from the book and the question
// alone and not from what was asked before, so that questions may be asked in any order, on any number of cores, on
// different machines, or not at all where the answer of an earlier time still holds: the report is the same. Of the
// words of the book none are in it but those of clashes that Worded vouches for.
type Finding struct {
	Boats  []Boat     `json:"boats,omitempty"`  // valid ones that were found
	Spec   *spec.Spec `json:"spec,omitempty"`   // the boat that shows it
	Never  bool       `json:"never,omitempty"`  // it is proved that there is no boat
	Effort *Effort    `json:"effort,omitempty"` // of what stays open
	// of an option: by what it cannot be had; of a value of the use: by what no boat of the first hull can be built
	Why   *Why  `json:"why,omitempty"`   // there is none
	Rules []int `json:"rules,omitempty"` // by which there is none; of the boats of a hull: that were not counted
	// of a rule: the boat that breaks it alone
	Breaks *Boat `json:"breaks,omitempty"`

	// of a value of the use: hulls that have no boat with nothing else changed, and those of which that is open
	Without []int    `json:"without,omitempty"`
	Unsure  []int    `json:"unsure,omitempty"`
	Unmade  []Effort `json:"unmade,omitempty"` // spent on each of these

	// of the boats of a hull: how many there are, what is in all of them and in none, and why that is not known
	Count    string `json:"count,omitempty"`
	Uncount  string `json:"uncount,omitempty"`
	Always   []int  `json:"always,omitempty"`
	Nowhere  []int  `json:"nowhere,omitempty"`
	Undecide bool   `json:"undecided,omitempty"`

	// of a formula: on how many hulls it is safe, on which it is open, and what it gives on the boat of Spec
	Safe    int    `json:"safe,omitempty"`
	Open    []int  `json:"open,omitempty"`
	Gives   string `json:"gives,omitempty"`
	Bounded bool   `json:"bounded,omitempty"` // bounds alone decided it, without a rule of the book
	Worded  string `json:"worded,omitempty"`  // digest of the words of the book, where Why has some

	// of no question: where the last answer to one stands, and by which rules it was found; and the marks of these
	Last  string   `json:"last,omitempty"`
	Under string   `json:"under,omitempty"`
	Marks []string `json:"marks,omitempty"`

	states []*formula.State // the boats with their figures, where they were found now
	err    error            // the ways to judge a boat disagree; never kept
}

// Boat is one by its counts alone: what it holds, in pairs of an option and how many of it.
type Boat struct {
	Hull  int       `json:"hull"`
	Use   []float64 `json:"use"`
	Holds [][2]int  `json:"holds"`
}

// boatOf notes what a boat holds. Figures are left out: they follow, and would be the most of it.
func boatOf(st *formula.State) Boat {
	b := Boat{Hull: st.HullID, Use: st.Use, Holds: [][2]int{}}
	for o, n := range st.Counts {
		if n > 0 {
			b.Holds = append(b.Holds, [2]int{o, n})
		}
	}
	return b
}

// state is the boat with its counts, as a search would have left it; its figures are still to compute.
func (p *prover) state(b *Boat) *formula.State {
	st := figures.NewState(p.pack, b.Hull, b.Use)
	for _, h := range b.Holds {
		st.Counts[h[0]] = h[1]
		st.Slots[p.pack.Options[h[0]].Slot] += h[1]
	}
	return st
}

// Why is the reason why there is no boat: rules of the book, and other clashes in words.
type Why struct {
	Rules   []int    `json:"rules,omitempty"`
	Clashes []string `json:"clashes,omitempty"`
}

// whyOf takes the reason without the conditions that a question added: they have no name in the book.
func (p *prover) whyOf(r *fit.Reason) *Why {
	if r == nil {
		return nil
	}
	w := &Why{}
	for _, rule := range r.Rules {
		if rule < len(p.pack.Rules) {
			w.Rules = append(w.Rules, rule)
		}
	}
	for _, x := range r.Clashes {
		w.Clashes = append(w.Clashes, engine.Because(x).String())
	}
	return w
}

// A reason is kept as numbers where it can be, since the words of a rule are the owner's to change: what is kept of a
// proof would else be lost with every comma.

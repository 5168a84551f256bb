package proof

import (
	"slices"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
)

// The edit of a rule touches every answer, since any boat might break it, and leaves nearly all of them true: a boat
// that keeps the new rule shows what it showed, and what other rules keep from being had they keep from it still. So
// boats are held against the rules that are new, and the rules of a reason have to be as they were. Nothing is taken
// over where hulls, slots, options or figures were changed: then every boat is another.

// lasting finds answers that were found by other rules.
type lasting struct {
	*prover
	marks  []string           // of the rules of this book
	placed map[string]int     // their numbers
	others map[string]*others // by digest of their rules; nil where the memory has lost them
}

// others are the rules of another edition, against those of this book.
type others struct {
	marks  []string
	fresh  []int // rules of this book that were not in that one
	needed figures.Needed
}

// newLasting prepares to look for such answers, and keeps by which rules those of this proof are found.
func newLasting(p *prover) *lasting {
	l := &lasting{prover: p, placed: map[string]int{}, others: map[string]*others{}}
	for i := range p.pack.Rules {
		l.marks = append(l.marks, markOf(&p.pack.Rules[i]))
		l.placed[l.marks[i]] = i
	}
	key := keyOfRules(p.digests.rules)
	if p.how.Keep != nil && p.recallKey(key) == nil {
		p.how.Keep(key, &Finding{Marks: l.marks})
	}
	return l
}

// markOf tells a rule from every other, and from itself as it was, but for its words.
func markOf(r *pack.Rule) string {
	plain := *r
	plain.Because, plain.Advice = "", ""
	return r.ID + " " + digestOf(plain)[:16]
}

// keyOfRules is under what the marks of an edition are kept.
func keyOfRules(digest string) string { return "rules " + digest[:24] }

// key is under what stands where the last answer to a question is, whatever the rules were.
func (l *lasting) key(x *ask) string {
	return "last " + x.name + " " + digestOf(l.digests.boats, x.more)[:24]
}

// note keeps where the answer to a question stands. Bounds read no rule: what they decide stands under a key without.
func (l *lasting) note(x *ask) {
	if l.how.Keep == nil || x.is.Bounded {
		return
	}
	if at := l.recallKey(l.key(x)); at == nil || at.Last != x.key() {
		l.how.Keep(l.key(x), &Finding{Last: x.key(), Under: l.digests.rules})
	}
}

// take takes over the last answer to a question if it holds by the rules of this book.
func (l *lasting) take(x *ask) bool {
	if !l.how.Lasting {
		return false
	}
	at := l.recallKey(l.key(x))
	if at == nil {
		return false
	}
	were, f := l.of(at.Under), l.recallKey(at.Last)
	if were == nil || f == nil || f.Worded != "" && f.Worded != l.digests.words || !l.stands(x, f, were) {
		return false
	}
	x.is = f
	return true
}

// of are the rules of another edition.
func (l *lasting) of(digest string) *others {
	if were, known := l.others[digest]; known {
		return were
	}
	l.others[digest] = nil
	f := l.recallKey(keyOfRules(digest))
	if f == nil {
		return nil
	}
	were, reads := &others{marks: f.Marks}, formula.Reads{}
	for i, m := range l.marks {
		if !slices.Contains(f.Marks, m) {
			were.fresh = append(were.fresh, i)
			reads = reads.With(l.pack.Rules[i].When.Reads()).With(l.pack.Rules[i].Need.Reads())
		}
	}
	were.needed = l.engine.Figures.Needed(reads)
	l.others[digest] = were
	return were
}

// stands says whether an answer of another edition holds in this one, and gives its rules the numbers of this one. What
// is open is asked anew, since a rule less may settle it. Of a guard nobody expects more than that no boat was found.
func (l *lasting) stands(x *ask, f *Finding, were *others) bool {
	guard := x.rule > 0 && l.pack.Rules[x.rule-1].Guard
	if x.all || slices.Contains(were.fresh, x.rule-1) || f.open() && !guard {
		return false
	}
	if !l.renumber(f.Rules, were) || f.Why != nil && !l.renumber(f.Why.Rules, were) {
		return false
	}
	for i := range f.Boats {
		if !l.keeps(&f.Boats[i], were) {
			return false
		}
	}
	return f.Breaks == nil || l.keeps(f.Breaks, were)
}

// open says that part of an answer is open, or is not told with the rules or the boat that it rests on.
func (f *Finding) open() bool {
	return f.Effort != nil || len(f.Unsure)+len(f.Without)+len(f.Open) > 0 || f.Gives != ""
}

// renumber gives rules of another edition their numbers in this one; false where one of them is not what it was.
func (l *lasting) renumber(rules []int, were *others) bool {
	for i, r := range rules {
		at, known := l.placed[were.marks[r]]
		if !known {
			return false
		}
		rules[i] = at
	}
	slices.Sort(rules)
	return true
}

// keeps says whether a boat of another edition keeps the rules that were not in it. The others it keeps, and all that
// is computed of it is as it was.
func (l *lasting) keeps(b *Boat, were *others) bool {
	if len(were.fresh) == 0 {
		return true
	}
	st := l.state(b)
	l.engine.Figures.FillNeeded(st, were.needed)
	return !slices.ContainsFunc(were.fresh, func(r int) bool { return l.judge.breaks(r, st) })
}

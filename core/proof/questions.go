package proof

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// ask is one question of a proof.
type ask struct {
	name string   // of this question alone, the same in every edition that has its subject
	more []any    // what the answer depends on beyond boats and rules
	keys []string // see digests.keys
	run  func() *Finding
	is   *Finding
	rule int  // what it is about, from 1; 0: no rule
	all  bool // it is about the boats of a hull together
}

// Questions with an answer are put together by options, counted, uses, rules and formulas, which find what is wrong and
// look for no boats, but for one: what is in every boat.

// questions are all that are asked before boats are known, in the order of the pack.
type questions struct {
	options  []map[int]*ask // by option, hull: can it be had
	hulls    []*ask         // by hull: how many boats
	values   [][]*ask       // by field, value: is there a boat
	rules    []*ask         // by rule: what breaks it alone
	formulas []*ask         // in the order of listed; nil where one can only be tried
	list     []Formula
	names    []string // of these
}

// questions lists them. A name has in it what an owner would call the question by, and no number of the pack: an option
// that is put in before others does not rename what is asked of these.
func (p *prover) questions() *questions {
	q := &questions{list: p.listed()}
	for o := range p.pack.Options {
		of := map[int]*ask{}
		for h := range p.pack.Hulls {
			if p.pack.Offered(o, h) {
				of[h] = &ask{name: fmt.Sprintf("option %s on %s", p.pack.Options[o].ID, p.pack.Hulls[h].ID),
					run: func() *Finding { return p.had(h, o) }}
			}
		}
		q.options = append(q.options, of)
	}
	for h := range p.pack.Hulls {
		q.hulls = append(q.hulls, &ask{name: "boats of " + p.pack.Hulls[h].ID,
			run: func() *Finding { return p.count(h) }, all: true})
	}
	for i := range p.pack.Use {
		var of []*ask
		for _, v := range values(&p.pack.Use[i]) {
			of = append(of, &ask{name: fmt.Sprintf("use %s %s", p.pack.Use[i].ID, p.engine.UseValue(i, v)),
				run: func() *Finding { return p.value(i, v) }})
		}
		q.values = append(q.values, of)
	}
	for r := range p.pack.Rules {
		q.rules = append(q.rules, &ask{name: "rule " + p.pack.Rules[r].ID,
			run: func() *Finding { return p.breaking(r) }, rule: r + 1})
	}
	named := map[string]int{}
	for i := range q.list {
		var of *ask
		f := &q.list[i]
		name := fmt.Sprintf("formula %s of %s %s", f.What, f.Owner, p.owner(f))
		if named[name]++; named[name] > 1 {
			name = fmt.Sprintf("%s, %d", name, named[name])
		}
		q.names = append(q.names, name)
		if f.measure == nil {
			of = &ask{name: name, more: []any{f.program, fmt.Sprint(f.atLeast), f.Owner, f.Index},
				run: func() *Finding { return p.formula(f) }}
		}
		q.formulas = append(q.formulas, of)
	}
	return q
}

// The order is no part of a report, which is put together in the order of the pack when all of them have an answer.

// all are the questions, those first that mostly take longest: so no core is left with a long one at the end.
func (q *questions) all() (list []*ask) {
	list = append(list, q.rules...)
	list = append(list, q.hulls...)
	for _, of := range q.values {
		list = append(list, of...)
	}
	for _, of := range q.formulas {
		if of != nil {
			list = append(list, of)
		}
	}
	for _, of := range q.options {
		for h := range len(q.hulls) {
			if x := of[h]; x != nil {
				list = append(list, x)
			}
		}
	}
	return list
}

// answer answers the questions that have no answer yet: from memory where one is kept, and else on all cores. Each
// answer follows from its question alone, so that who gives it, and when, makes no difference.
func (p *prover) answer(list ...*ask) {
	var open []*ask
	for _, x := range list {
		if x.is == nil {
			switch x.keys = p.digests.keys(x.name, x.more...); {
			case p.recall(x):
				p.last.note(x)
			case !p.last.take(x):
				open = append(open, x)
			}
		}
	}
	// Who is done takes the next one, so that one long question keeps one core and no more.
	if p.how.First != nil {
		slices.SortStableFunc(open, func(a, b *ask) int { return p.later(a) - p.later(b) })
	}
	var next atomic.Int64
	var work sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(open)) {
		work.Go(func() {
			for i := next.Add(1) - 1; int(i) < len(open); i = next.Add(1) - 1 {
				open[i].is = open[i].run()
			}
		})
	}
	work.Wait()
	// The memory is asked and told from here alone, and need not know of cores.
	for _, x := range open {
		p.asked++
		p.keep(x)
	}
}

// Two keys are tried of a formula: bounds may have decided it, whatever the rules were then; or else under these rules.

// later is 0 for a question that is asked first, and 1 for the others. Its subject begins its name.
func (p *prover) later(x *ask) int {
	subject, _, _ := strings.Cut(x.name, " on ")
	if p.how.First(subject) {
		return 0
	}
	return 1
}

// recall takes an answer from memory. One with clashes in other words than those of the book is of no use.
func (p *prover) recall(x *ask) bool {
	for _, key := range x.keys {
		if f := p.recallKey(key); f != nil && (f.Worded == "" || f.Worded == p.digests.words) {
			x.is = f
			return true
		}
	}
	return false
}

// recallKey is what the memory has under a key; nil where there is no memory.
func (p *prover) recallKey(key string) *Finding {
	if p.how.Recall == nil {
		return nil
	}
	return p.how.Recall(key)
}

// keep hands an answer to the memory. Where the ways to judge disagree there is none to keep: the next proof has to
// find that out, too.
func (p *prover) keep(x *ask) {
	if x.is.Why != nil && len(x.is.Why.Clashes) > 0 {
		x.is.Worded = p.digests.words
	}
	if p.how.Keep == nil || x.is.err != nil {
		return
	}
	p.how.Keep(x.key(), x.is)
	p.last.note(x)
}

// key is under which an answer is kept.
func (x *ask) key() string {
	if x.is.Bounded {
		return x.keys[0]
	}
	return x.keys[len(x.keys)-1]
}

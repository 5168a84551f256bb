package proof

import (
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"
)

// ask is one question of a proof.
type ask struct {
	name  string // of this question alone, the same in every edition that has its subject
	about string // digest of what the answer depends on, but for the rules where the name is of a formula
	run   func() *Finding
	is    *Finding
}

// questions are all that are asked before boats are known, in the order of the pack.
type questions struct {
	options  []map[int]*ask // by option, hull: can it be had
	hulls    []*ask         // by hull: how many boats
	values   [][]*ask       // by field, value: is there a boat
	rules    []*ask         // by rule: what breaks it alone
	formulas []*ask         // in the order of listed; nil where one can only be tried
	list     []Formula
}

// questions lists them.
func (p *prover) questions() *questions {
	q := &questions{list: p.listed()}
	for o := range p.pack.Options {
		of := map[int]*ask{}
		for h := range p.pack.Hulls {
			if p.pack.Made(o, h) {
				of[h] = &ask{name: fmt.Sprintf("option %s on %s", p.pack.Options[o].ID, p.pack.Hulls[h].ID),
					run: func() *Finding { return p.had(h, o) }}
			}
		}
		q.options = append(q.options, of)
	}
	for h := range p.pack.Hulls {
		q.hulls = append(q.hulls, &ask{name: "boats of " + p.pack.Hulls[h].ID,
			run: func() *Finding { return p.count(h) }})
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
			run: func() *Finding { return p.breaking(r) }})
	}
	named := map[string]int{}
	for i := range q.list {
		var of *ask
		if f := &q.list[i]; f.measure == nil {
			name := fmt.Sprintf("formula %s of %s %s", f.What, f.Owner, p.owner(f))
			if named[name]++; named[name] > 1 {
				name = fmt.Sprintf("%s, %d", name, named[name])
			}
			of = &ask{name: name, run: func() *Finding { return p.formula(f) }}
		}
		q.formulas = append(q.formulas, of)
	}
	return q
}

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

// answer answers the questions that have no answer yet, on all cores. Each answer follows from its question alone, so
// that who gives it, and when, makes no difference.
func (p *prover) answer(list []*ask) {
	var next atomic.Int64
	var work sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			for i := next.Add(1) - 1; int(i) < len(list); i = next.Add(1) - 1 {
				if list[i].is == nil {
					list[i].is = list[i].run()
				}
			}
		})
	}
	work.Wait()
}

package publish_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

// randomBook is an invented book of a few slots of one, small enough to try every boat.
type randomBook struct {
	slots []randomSlot
	rules []randomRule
}

type randomSlot struct {
	options  []int // numbers of the options
	optional bool
	when     clause // may close the slot; empty: it is always there
}

// randomRule: where the first holds, the second must.
type randomRule struct{ when, need clause }

// clause holds if one of its options is there, or, negative, is not: o+1, -(o+1). From many on it is of the use: many+n
// holds for n persons at most, negative for more.
type clause []int

const (
	many        = 1000
	mostPersons = 5 // of the use, which begins with 1
	standard    = 2
)

func (c clause) holds(has []bool, persons int) bool {
	return slices.ContainsFunc(c, func(l int) bool {
		is := l
		if l < 0 {
			is = -l
		}
		if is >= many {
			return (persons <= is-many) == (l > 0)
		}
		return has[is-1] == (l > 0)
	})
}

func (c clause) String() string {
	var parts []string
	for _, l := range c {
		if l >= many {
			parts = append(parts, fmt.Sprintf("use.persons <= %d", l-many))
		} else if l <= -many {
			parts = append(parts, fmt.Sprintf("use.persons > %d", -l-many))
		} else if l > 0 {
			parts = append(parts, fmt.Sprintf("has(%q)", name(l-1)))
		} else {
			parts = append(parts, fmt.Sprintf("not has(%q)", name(-l-1)))
		}
	}
	return strings.Join(parts, " or ")
}

func name(option int) string { return fmt.Sprintf("option-%d", option) }

func anyBook(r *rand.Rand) (b randomBook) {
	n := 0
	for range 3 + r.IntN(2) {
		s := randomSlot{optional: r.IntN(2) == 0}
		for range 1 + r.IntN(3) {
			s.options = append(s.options, n)
			n++
		}
		b.slots = append(b.slots, s)
	}
	anyClause := func(most int) (c clause) {
		for range 1 + r.IntN(most) {
			l := 1 + r.IntN(n)
			if r.IntN(4) == 0 {
				l = many + r.IntN(mostPersons+1)
			}
			if r.IntN(2) == 0 {
				l = -l
			}
			c = append(c, l)
		}
		return c
	}
	for range 1 + r.IntN(4) {
		b.rules = append(b.rules, randomRule{anyClause(1), anyClause(2)})
	}
	if last := &b.slots[len(b.slots)-1]; r.IntN(3) == 0 { // it reads only slots before it
		l := 1 + r.IntN(last.options[0])
		last.when = clause{l}
	}
	return b
}

// folder writes the book on the small book's yard.
func (b *randomBook) folder(t testing.TB) fstest.MapFS {
	folder := overlay(t, smallBook)
	var w strings.Builder
	w.WriteString(`sections: [{id: all, title: All}]
hull_fields: [{id: length_m, title: Length, unit: m}]
use:
  - {id: region, title: Home waters, choices: regions, standard: home}
  - {id: persons, title: Persons, unit: each, min: 1, max: 5, step: 1, standard: 2}
figures: [{id: mass_kg, title: Mass, unit: kg, total: true}]
hulls:
  - {id: hull, title: Hull, dimensions: {length_m: 5}, carries: {mass_kg: 300}, price: "9000"}
slots:
`)
	for i, s := range b.slots {
		choose := "one"
		if s.optional {
			choose = "at most one"
		}
		fmt.Fprintf(&w, "  - id: slot-%d\n    section: all\n    title: Slot %d\n    choose: %s\n", i, i, choose)
		if s.when != nil {
			fmt.Fprintf(&w, "    when: '%s'\n    because: Closed.\n", s.when)
		}
		fmt.Fprintf(&w, "    options:\n")
		for _, o := range s.options {
			fmt.Fprintf(&w, "      - {id: %s, title: Option %d, price: \"10\"}\n", name(o), o)
		}
	}
	w.WriteString("rules:\n")
	for i, r := range b.rules {
		fmt.Fprintf(&w, "  - {id: rule-%d, when: '%s', need: '%s', because: Rule %d.}\n", i, r.when, r.need, i)
	}
	folder["boat.yaml"] = &fstest.MapFile{Data: []byte(w.String())}
	return folder
}

// boats visits every filling of the slots that their conditions allow for so many persons, with the rules that it
// breaks.
func (b *randomBook) boats(persons int, visit func(has []bool, broken []int)) {
	has := make([]bool, b.options())
	var fill func(i int)
	fill = func(i int) {
		if i == len(b.slots) {
			var broken []int
			for r, rule := range b.rules {
				if rule.when.holds(has, persons) && !rule.need.holds(has, persons) {
					broken = append(broken, r)
				}
			}
			visit(has, broken)
			return
		}
		s := &b.slots[i]
		open := s.when == nil || s.when.holds(has, persons)
		if !open || s.optional {
			fill(i + 1)
		}
		for _, o := range s.options {
			if open {
				has[o] = true
				fill(i + 1)
				has[o] = false
			}
		}
	}
	fill(0)
}

// options is how many there are.
func (b *randomBook) options() int {
	last := b.slots[len(b.slots)-1].options
	return last[len(last)-1] + 1
}

// truth tries every boat for every use: how many are valid for the standard one, which options are in a valid one,
// which in all of them, and which rules some boat breaks alone.
func (b *randomBook) truth() (boats int64, had, always, effective []string) {
	there, lacking, alone := map[int]bool{}, map[int]bool{}, map[int]bool{}
	each := func(persons int, has []bool, broken []int) {
		switch len(broken) {
		case 0:
			if persons == standard {
				boats++
			}
			for o, is := range has {
				there[o], lacking[o] = there[o] || is, lacking[o] || !is
			}
		case 1:
			alone[broken[0]] = true
		}
	}
	for persons := 1; persons <= mostPersons; persons++ {
		b.boats(persons, func(has []bool, broken []int) { each(persons, has, broken) })
	}
	for o := range b.options() {
		if there[o] {
			had = append(had, name(o))
		}
		if !lacking[o] {
			always = append(always, name(o))
		}
	}
	for i := range b.rules {
		if alone[i] {
			effective = append(effective, fmt.Sprint("rule-", i))
		}
	}
	return boats, had, always, effective
}

// deadEnd says that there is no boat for some number of persons.
func (b *randomBook) deadEnd() bool {
	for persons := 1; persons <= mostPersons; persons++ {
		n := 0
		b.boats(persons, func(_ []bool, broken []int) {
			if len(broken) == 0 {
				n++
			}
		})
		if n == 0 {
			return true
		}
	}
	return false
}

// TestProofAgainstAllBoats holds the proofs against every boat of small random books: how many boats there are, which
// options can be had, which are in every boat, which rules rule anything out.
func TestProofAgainstAllBoats(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	proofs, idle, never := 0, 0, 0
	for range 1500 {
		b := anyBook(r)
		folder := b.folder(t)
		packs, _, diagnostics, err := publish.Load(folder)
		if err != nil {
			t.Fatal(err)
		}
		if diagnostics = book.Errors(diagnostics); len(diagnostics) > 0 { // its standard build clashes
			if !strings.Contains(diagnostics[0].Message, "clashes") {
				t.Fatal(diagnostics[0])
			}
			continue
		}
		proofs++
		p, refuted, err := publish.Prove(folder, new(source.Cache), packs[pack.Yard], proof.How{})
		if err != nil {
			t.Fatal(err)
		}
		boats, had, always, effective := b.truth()
		var gotHad, gotEffective []string
		for _, w := range p.Hulls[0].Options {
			gotHad = append(gotHad, w.Option)
		}
		for _, w := range p.Rules.Effective {
			gotEffective = append(gotEffective, w.Rule)
		}
		if n := p.Hulls[0].Boats; n != fmt.Sprint(boats) {
			t.Fatalf("%s boats, want %d, in\n%s", n, boats, folder["boat.yaml"].Data)
		}
		if p.Open > 0 {
			t.Fatalf("left open: %v", refuted)
		}
		for _, x := range []struct {
			what      string
			got, want []string
		}{{"can be had", gotHad, had}, {"in every boat", p.Hulls[0].Always, always},
			{"rules with an effect", gotEffective, effective}} {
			if !slices.Equal(x.got, x.want) {
				t.Fatalf("%s: %q, want %q, in\n%s", x.what, x.got, x.want, folder["boat.yaml"].Data)
			}
		}
		idle += len(b.rules) - len(effective)
		never += b.options() - len(had)
		if wrong := len(effective) < len(b.rules) || len(had) < b.options() ||
			b.deadEnd(); wrong != (len(refuted) > 0) {
			t.Fatalf("%d refuted, wrong: %v", len(refuted), wrong)
		}
	}
	t.Logf("%d books, %d rules without effect, %d options that cannot be had", proofs, idle, never)
	if proofs < 300 || idle < 100 || never < 50 {
		t.Errorf("%d books, %d idle rules, %d options make no test", proofs, idle, never)
	}
}

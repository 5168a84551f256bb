package source_test

import (
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ribband/core/book"
	bookfiles "ribband/core/book/source"
	"ribband/core/formula"
	"ribband/core/formula/source"
)

// Every formula of the demo book gives on random boats what the reference gives.
func TestFormulasOfTheDemoBook(t *testing.T) {
	b, scope := demoBook(t)
	states, envs := randomBoats(b, scope, 200)
	formulas := map[string]book.Position{}
	collect(reflect.ValueOf(b), formulas)
	for text, at := range formulas {
		kind := formula.Number
		if _, err := source.Lower(text, scope, kind); err != nil {
			kind = formula.Truth
		}
		if _, err := source.Lower(text, scope, kind); err != nil {
			t.Errorf("%s: %s: %v", at, text, err)
			continue
		}
		both := source.Pair(t, text, scope, kind)
		for i, st := range states {
			both.Agree(t, st, envs[i])
		}
	}
	t.Logf("%d formulas on %d boats", len(formulas), len(states))
	if len(formulas) < 100 {
		t.Errorf("the demo book has only %d different formulas", len(formulas))
	}
}

// The rules of the demo book, with those that follow from what options require and exclude, are broken on random boats
// where the reference finds them broken: more than a million pairs of a rule and a boat.
func TestRulesOfTheDemoBook(t *testing.T) {
	b, scope := demoBook(t)
	rules := rulesOf(t, b, scope)
	boats := 1_000_000/len(rules) + 1
	if testing.Short() {
		boats = 200
	}
	lowered := make([]formula.Rule, len(rules))
	for i, r := range rules {
		lowered[i] = r.lowered
	}
	together := formula.NewRules(lowered)
	broken := 0
	states, envs := randomBoats(b, scope, boats)
	for n, st := range states {
		var want []int
		for i := range rules {
			if rules[i].brokenByMachine(t, envs[n]) {
				want = append(want, i)
			}
			if is := len(want) > 0 && want[len(want)-1] == i; together.Breaks(i, st) != is {
				t.Fatalf("rule %d (%s) is broken: %v, want %v, on %+v", i, rules[i].text, !is, is, *st)
			}
		}
		if got := together.Broken(st, nil); !slices.Equal(got, want) {
			t.Fatalf("%v are broken, want %v, on %+v", got, want, *st)
		}
		broken += len(want)
	}
	t.Logf("%d rules on %d boats: %d pairs, %d broken", len(rules), boats, len(rules)*boats, broken)
	if len(rules) < 100 || broken == 0 || broken == len(rules)*boats {
		t.Errorf("of %d rules on %d boats %d were broken", len(rules), boats, broken)
	}
}

// rule is a rule of the book in both forms.
type rule struct {
	text    string
	machine [2]*source.Machine // when, which may be nil, and need
	lowered formula.Rule
}

func (r *rule) brokenByMachine(t *testing.T, env source.Environment) bool {
	when := true
	for i, m := range r.machine {
		if m == nil {
			continue
		}
		holds, err := m.TruthIn(env)
		if err != nil {
			t.Fatalf("%s: %v", r.text, err)
		}
		if i == 1 {
			return when && !holds
		}
		when = holds
	}
	return false
}

func rulesOf(t *testing.T, b *book.Book, scope *source.Scope) (rules []rule) {
	add := func(when, need string) {
		r := rule{text: "when " + when + " need " + need}
		for i, p := range []*formula.Program{&r.lowered.When, &r.lowered.Need} {
			text := []string{when, need}[i]
			if text == "" {
				continue
			}
			lowered, bad := source.Lower(text, scope, formula.Truth)
			if bad != nil {
				t.Fatalf("lowering %s: %v", text, bad)
			}
			m, err := source.Reference(text, scope)
			if err != nil {
				t.Fatal(err)
			}
			*p, r.machine[i] = lowered, m
		}
		rules = append(rules, r)
	}
	for _, r := range b.Rules {
		add(r.When.Value, r.Need.Value)
	}
	for _, s := range b.Slots {
		for _, o := range s.Options {
			for _, l := range o.Requires {
				add(has(o.ID), anyOf(l))
			}
			for _, l := range o.Excludes {
				add(has(o.ID), "not ("+anyOf(l)+")")
			}
		}
	}
	return rules
}

func has(id book.Text) string { return "has(" + strconv.Quote(id.Value) + ")" }

func anyOf(l book.Link) string {
	var list []string
	for _, o := range l.AnyOf {
		list = append(list, has(o))
	}
	return strings.Join(list, " or ")
}

func demoBook(t *testing.T) (*book.Book, *source.Scope) {
	b, problems, err := bookfiles.Read(os.DirFS("../../../rules"))
	if err != nil || len(problems) > 0 {
		t.Fatalf("reading the demo book: %v %v", err, problems)
	}
	return b, bookScope(b)
}

func randomBoats(b *book.Book, scope *source.Scope, n int) (states []*formula.State, envs []source.Environment) {
	r := rand.New(rand.NewPCG(46, 65))
	for range n {
		st := randomBoat(r, b, scope)
		states, envs = append(states, st), append(envs, scope.Environment(st))
	}
	return states, envs
}

// collect finds every formula below a value, whatever lists and structures it stands in.
func collect(v reflect.Value, into map[string]book.Position) {
	if f, ok := v.Interface().(book.Formula); ok {
		if !f.Empty() {
			into[f.Value] = f.At
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			collect(v.Elem(), into)
		}
	case reflect.Slice:
		for i := range v.Len() {
			collect(v.Index(i), into)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				collect(v.Field(i), into)
			}
		}
	}
}

func bookScope(b *book.Book) *source.Scope {
	s := &source.Scope{Options: map[string]source.Option{}, Slots: map[string]source.Slot{}, Hulls: map[string]int{},
		Hull: map[string]int{}, Use: map[string]source.Use{}, Figures: map[string]int{}}
	for i, slot := range b.Slots {
		s.Slots[slot.ID.Value] = source.Slot{Index: i, Multiple: slot.Choose.Value == "multiple"}
		for _, o := range slot.Options {
			s.Options[o.ID.Value] = source.Option{Index: len(s.Options), Slot: i}
		}
	}
	for i, h := range b.Hulls {
		s.Hulls[h.ID.Value] = i
	}
	for i, f := range b.HullFields {
		s.Hull[f.ID.Value] = i
	}
	for i, f := range b.Figures {
		s.Figures[f.ID.Value] = i
	}
	for i, u := range b.Use {
		var choices map[string]int
		if len(u.Choices.List) > 0 || u.Choices.FromRegions {
			choices = map[string]int{}
		}
		for j, c := range u.Choices.List {
			choices[c.ID.Value] = j
		}
		if u.Choices.FromRegions {
			for j, r := range b.Regions {
				choices[r.ID.Value] = j
			}
		}
		s.Use[u.ID.Value] = source.Use{Index: i, Choices: choices}
	}
	return s
}

// randomBoat makes a state that slots allow, with numbers of which some are zero.
func randomBoat(r *rand.Rand, b *book.Book, s *source.Scope) *formula.State {
	numbers := func(n int) []float64 {
		list := make([]float64, n)
		for i := range list {
			if r.IntN(4) > 0 {
				list[i] = float64(r.IntN(400)) / 8
			}
		}
		return list
	}
	st := &formula.State{Counts: make([]int, len(s.Options)), Slots: make([]int, len(s.Slots)),
		HullID: r.IntN(len(s.Hulls)),
		Hull:   numbers(len(s.Hull)), Use: numbers(len(s.Use)), Figures: numbers(len(s.Figures))}
	for _, field := range b.Use { // in order, so that the boats are always the same
		if u := s.Use[field.ID.Value]; u.Choices != nil {
			st.Use[u.Index] = float64(r.IntN(len(u.Choices)))
		}
	}
	for i, slot := range b.Slots {
		one := r.IntN(len(slot.Options) + 1)
		for j, o := range slot.Options {
			n := 0
			if slot.Choose.Value == "multiple" {
				n = r.IntN(3)
			} else if j == one {
				n = 1
			}
			st.Counts[s.Options[o.ID.Value].Index] = n
			st.Slots[i] += n
		}
	}
	return st
}

package source_test

import (
	"math/rand/v2"
	"os"
	"reflect"
	"testing"

	"ribband/core/book"
	bookfiles "ribband/core/book/source"
	"ribband/core/formula"
	"ribband/core/formula/source"
)

// Every formula of the demo book gives on random boats what the reference gives.
func TestFormulasOfTheDemoBook(t *testing.T) {
	b, problems, err := bookfiles.Read(os.DirFS("../../../rules"))
	if err != nil || len(problems) > 0 {
		t.Fatalf("reading the demo book: %v %v", err, problems)
	}
	scope := bookScope(b)
	r := rand.New(rand.NewPCG(46, 65))
	var states []*formula.State
	for range 20 {
		states = append(states, randomBoat(r, b, scope))
	}
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
		for _, st := range states {
			both.Agree(t, st)
		}
	}
	if len(formulas) < 100 {
		t.Errorf("the demo book has only %d different formulas", len(formulas))
	}
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
	s := &source.Scope{Options: map[string]source.Option{}, Slots: map[string]source.Slot{}, Hulls: map[string]int{}, Hull: map[string]int{}, Use: map[string]source.Use{}, Figures: map[string]int{}}
	for i, slot := range b.Slots {
		s.Slots[slot.ID.Value] = source.Slot{Index: i, Several: slot.Choose.Value == "several"}
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
	st := &formula.State{Counts: make([]int, len(s.Options)), Slots: make([]int, len(s.Slots)), HullID: r.IntN(len(s.Hulls)),
		Hull: numbers(len(s.Hull)), Use: numbers(len(s.Use)), Figures: numbers(len(s.Figures))}
	for _, field := range b.Use { // in order, so that the boats are always the same
		if u := s.Use[field.ID.Value]; u.Choices != nil {
			st.Use[u.Index] = float64(r.IntN(len(u.Choices)))
		}
	}
	for i, slot := range b.Slots {
		one := r.IntN(len(slot.Options) + 1)
		for j, o := range slot.Options {
			n := 0
			if slot.Choose.Value == "several" {
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

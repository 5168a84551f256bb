package spec

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
)

// Without takes a change back, whatever was changed after it: what the change made the spec say, it says again as it
// did before. Before and after are the spec on either side of the change. Not ok where some of it has been changed
// again since, or has been taken back already: then there is no saying what is wanted.
func (s Spec) Without(before, after Spec) (out Spec, ok bool) {
	out = s.Clone()
	w := withdrawal{}
	out.Hull = withdrawn(&w, s.Hull, before.Hull, after.Hull)
	out.Choices = withdrawnByName(&w, out.Choices, before.Choices, after.Choices)
	out.Use = withdrawnByName(&w, out.Use, before.Use, after.Use)
	out.Keep = withdrawnFrom(&w, s.Keep, before.Keep, after.Keep)
	out.Extras = withdrawnFrom(&w, s.Extras, before.Extras, after.Extras)
	out.Discounts = withdrawnFrom(&w, s.Discounts, before.Discounts, after.Discounts)
	out.TradeIn = withdrawn(&w, s.TradeIn, before.TradeIn, after.TradeIn)
	out.Dealer = withdrawn(&w, s.Dealer, before.Dealer, after.Dealer)
	return out, w.some && !w.clash
}

// A change is known by the two specs around it alone. So it can be taken back of a record that was stored, by a program
// that never saw the change being made, and a step of undo needs no way back of its own for each kind of change.

// withdrawal is what was found on the way: that there is something to take back, and that something cannot be.
type withdrawal struct{ some, clash bool }

// same compares as a file would: two decimals of one value may be held in different ways.
func same[T any](a, b T) bool {
	if reflect.DeepEqual(a, b) {
		return true
	}
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	return bytes.Equal(x, y)
}

// Where a value is otherwise than the change left it, a later change decided on it. To put back the value of before
// would undo that one too, silently; the caller says which it was instead.

// withdrawn is one value without the change from before to after.
func withdrawn[T any](w *withdrawal, is, before, after T) T {
	if same(before, after) {
		return is
	}
	w.some = true
	if !same(is, after) {
		w.clash = true
		return is
	}
	return before
}

// withdrawnByName goes through the entries that the change touched: a slot, a field of the use. An entry that is not
// there says something, too: that nobody chose.
func withdrawnByName[T any](w *withdrawal, is, before, after map[string]T) map[string]T {
	names := map[string]bool{}
	for _, m := range []map[string]T{before, after} {
		for name := range m {
			names[name] = true
		}
	}
	// nil for an entry that is not there, so that it can be told from one that is empty
	pointer := func(m map[string]T, name string) *T {
		if v, ok := m[name]; ok {
			return &v
		}
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		was := pointer(is, name)
		if v := withdrawn(w, was, pointer(before, name), pointer(after, name)); v == nil {
			delete(is, name)
		} else if v != was {
			if is == nil {
				is = map[string]T{}
			}
			is[name] = *v
		}
	}
	return is
}

// withdrawnFrom takes out of a list what the change put in, and puts in what it took out, where it stood, or at the end
// of a list that has become shorter.
func withdrawnFrom[T any](w *withdrawal, is, before, after []T) []T {
	out := slices.Clone(is)
	at := func(list []T, v T) int { return slices.IndexFunc(list, func(x T) bool { return same(x, v) }) }
	// what the change put in; gone already, somebody else took it out, and there is nothing to take back
	for _, v := range after {
		if at(before, v) >= 0 {
			continue
		}
		w.some = true
		if i := at(out, v); i >= 0 {
			out = slices.Delete(out, i, i+1)
		} else {
			w.clash = true
		}
	}
	// what it took out comes back, whatever was put in meanwhile
	for i, v := range before {
		if at(after, v) < 0 {
			w.some = true
			out = slices.Insert(out, min(i, len(out)), v)
		}
	}
	if len(out) == 0 { // as a spec has it that never had any
		return nil
	}
	return out
}

package formula

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestAffectedInOrderEachOnce(t *testing.T) {
	x := NewIndex([]Reads{{Options: []int{1, 2}}, {Slots: []int{0}, HullID: true},
		{Options: []int{2}, Figures: []int{4}}, {}, {Hull: []int{1}, Use: []int{2}}}, space)
	for _, c := range []struct {
		changed Reads
		want    []int
	}{
		{Reads{}, nil},
		{Reads{Options: []int{0, 3}}, nil},
		{Reads{Options: []int{2}}, []int{0, 2}},
		{Reads{Options: []int{1, 2}, Figures: []int{4}}, []int{0, 2}},
		{Reads{Figures: []int{4}, Slots: []int{0}}, []int{1, 2}},
		{Reads{HullID: true, Hull: []int{0, 1}}, []int{1, 4}},
		{Reads{Use: []int{2}, Options: []int{1}}, []int{0, 4}},
	} {
		if got := x.Affected(c.changed, []int{9}); !slices.Equal(got, append([]int{9}, c.want...)) {
			t.Errorf("%+v affects %v after the 9 that was there, want %v", c.changed, got, c.want)
		}
	}
}

// After any change, to evaluate only what reads something of it gives the same as to evaluate everything.
func TestOnlyTheAffectedChange(t *testing.T) {
	skipped, evaluated := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		programs := rapid.SliceOfN(rapid.Custom(program), 1, 12).Draw(t, "programs")
		var reads []Reads
		for _, p := range programs {
			reads = append(reads, p.Reads())
		}
		x := NewIndex(reads, space)
		st := state(t)
		kept := results(programs, st)
		for range rapid.IntRange(1, 6).Draw(t, "changes") {
			next := change(t, st)
			affected := x.Affected(Changed(st, next), nil)
			for _, i := range affected {
				kept[i] = result(programs[i], next)
			}
			if want := results(programs, next); !slices.Equal(kept, want) {
				t.Fatalf("from %+v to %+v %v are affected, which gives %v, want %v", *st, *next, affected, kept, want)
			}
			evaluated, skipped = evaluated+len(affected), skipped+len(programs)-len(affected)
			st = next
		}
	})
	if skipped == 0 || evaluated == 0 {
		t.Errorf("%d programs were evaluated again, %d not: want some of both", evaluated, skipped)
	}
}

func results(programs []Program, st *State) (list []string) {
	for _, p := range programs {
		list = append(list, result(p, st))
	}
	return list
}

// change draws a state that takes a few of its values from another.
func change(t *rapid.T, st *State) *State {
	from, next := state(t), *st
	next.Counts, next.Slots, next.Hull = slices.Clone(st.Counts), slices.Clone(st.Slots), slices.Clone(st.Hull)
	next.Use, next.Figures = slices.Clone(st.Use), slices.Clone(st.Figures)
	for range rapid.IntRange(1, 3).Draw(t, "values") {
		switch rapid.IntRange(0, 5).Draw(t, "of") {
		case 0:
			take(t, next.Counts, from.Counts)
		case 1:
			take(t, next.Slots, from.Slots)
		case 2:
			take(t, next.Hull, from.Hull)
		case 3:
			take(t, next.Use, from.Use)
		case 4:
			take(t, next.Figures, from.Figures)
		default:
			next.HullID = from.HullID
		}
	}
	return &next
}

func take[V any](t *rapid.T, to, from []V) {
	i := rapid.IntRange(0, len(to)-1).Draw(t, "place")
	to[i] = from[i]
}

func TestChangedTellsZerosApart(t *testing.T) {
	a := &State{Counts: []int{1, 0}, Slots: []int{1}, HullID: 1, Hull: []float64{4.5}, Use: []float64{0, 2},
		Figures: []float64{1, 0}}
	b := &State{Counts: []int{1, 2}, Slots: []int{1}, HullID: 2, Hull: []float64{5.4}, Use: []float64{0, 3},
		Figures: []float64{1, math.Copysign(0, -1)}}
	want := Reads{Options: []int{1}, Hull: []int{0}, HullID: true, Use: []int{1}, Figures: []int{1}}
	if got := Changed(a, b); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := Changed(a, a); !reflect.DeepEqual(got, Reads{}) {
		t.Errorf("a state differs from itself in %+v", got)
	}
}

package works_test

import (
	"reflect"
	"slices"
	"testing"

	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/works"
)

func h(whole float64) measure.Hours { return measure.Hours(whole * 1_000_000) }

// Worked by hand from the invented yard: 16 h for each of 6 m and 4 h afloat; 0.75 h a metre of paint; two lockers of
// half a metre, 2 h and 0.25 h of paint each; 9 h of sewing.
func TestBoat(t *testing.T) {
	extras := []works.Extra{{Title: "Name", Hours: map[int]measure.Hours{moulding: h(1), joinery: h(2.5)}},
		{Title: "Flag"}, {Title: "Delivery by the owner", Hours: map[int]measure.Hours{afloat: 0}}}
	b, err := compiled().Boat(boat(1, 1, 2, 1), extras)
	if err != nil {
		t.Fatal(err)
	}
	base, lines := works.Base(), []works.Line{
		{works.Base(), laminate, moulding, h(96), 0, 1}, {works.Base(), trial, afloat, h(4), 0, 2},
		{works.Of(antifouling, 1), paint, moulding, h(4.5), 0, 3},
		{works.Of(lockers, 2), fitOut, joinery, h(4), 0, 4}, {works.Of(lockers, 2), paint, moulding, h(0.5), 0, 5},
		{works.Of(cover, 1), sewer, joinery, h(9), 0, 6},
		{works.Cause{Kind: works.ExtraItem, Count: 1}, works.NoOperation, moulding, h(1), 0, 0},
		{works.Cause{Kind: works.ExtraItem, Count: 1}, works.NoOperation, joinery, h(2.5), 0, 0},
		{works.Cause{Kind: works.ExtraItem, Index: 2, Count: 1}, works.NoOperation, afloat, 0, 0, 0},
	}
	if !slices.Equal(b.Lines, lines) {
		t.Errorf("lines\n%v, want\n%v", b.Lines, lines)
	}
	causes := []works.CauseHours{{base, h(100)}, {works.Of(antifouling, 1), h(4.5)}, {works.Of(lockers, 2), h(4.5)},
		{works.Of(cover, 1), h(9)}, {works.Cause{Kind: works.ExtraItem, Count: 1}, h(3.5)},
		{works.Cause{Kind: works.ExtraItem, Index: 1, Count: 1}, 0},
		{works.Cause{Kind: works.ExtraItem, Index: 2, Count: 1}, 0}}
	if !slices.Equal(b.ByCause, causes) {
		t.Errorf("by cause\n%v, want\n%v", b.ByCause, causes)
	}
	shops := []works.KindHours{{h(96), h(5), h(1)}, {0, h(13), h(2.5)}, {Base: h(4)}}
	if !slices.Equal(b.ByShop, shops) || b.Hours() != (works.KindHours{h(100), h(18), h(3.5)}) {
		t.Errorf("by shop %v, in all %v", b.ByShop, b.Hours())
	}
}

// An item of a boat takes what it takes for that boat; what comes to nothing makes no line.
func TestLines(t *testing.T) {
	n := compiled()
	for _, c := range []struct {
		of   works.Cause
		want []works.Line
	}{
		{works.Base(), []works.Line{{works.Base(), laminate, moulding, h(80), 0, 1},
			{works.Base(), trial, afloat, h(4), 0, 2}}},
		{works.Of(antifouling, 1), []works.Line{{works.Of(antifouling, 1), paint, moulding, h(3.75), 0, 3}}},
		{works.Of(antifouling, 0), []works.Line{}},
	} {
		if list, err := n.Lines(boat(0, 0, 0, 0), c.of); err != nil || !slices.Equal(list, c.want) {
			t.Errorf("%+v: %v, %v; want %v", c.of, list, err, c.want)
		}
	}
}

// What of a book cannot be hours is an error at its place, on the hull and with the use for which it is so, and nowhere
// else.
func TestErrors(t *testing.T) {
	const guard = "; guard the formula so that it gives zero or more"
	with := func(st *formula.State, lockerM float64) *formula.State {
		st.Use[0] = lockerM
		return st
	}
	n := compiled()
	for _, c := range []struct {
		boat *formula.State
		want string
	}{
		{boat(0, 0, 0, 1), "computing the quantity at boats.yaml:6:7: +Inf is not a quantity" + guard},
		{with(boat(1, 0, 1, 0), -0.5), "computing the quantity at boats.yaml:4:7: -2 is negative" + guard},
		{with(boat(1, 0, 1, 0), 1e-12), "computing the quantity at boats.yaml:4:7: 1e+12 is not a quantity" + guard},
	} {
		_, err1 := n.Boat(c.boat, nil)
		_, err2 := n.Hours(c.boat)
		_, err3 := n.More(c.boat, boat(c.boat.HullID, 0, 0, 0), formula.Reads{Options: []int{lockers, cover}})
		_, err4 := n.More(boat(c.boat.HullID, 0, 0, 0), c.boat, formula.Reads{Options: []int{lockers, cover}})
		for _, err := range []error{err1, err2, err3, err4} {
			if err == nil || err.Error() != c.want {
				t.Errorf("error %v, want %s", err, c.want)
			}
		}
	}
	for _, st := range []*formula.State{boat(0, 0, 0, 0), boat(1, 0, 0, 1), with(boat(1, 0, 0, 0), -1)} {
		if _, err := n.Boat(st, nil); err != nil {
			t.Error(err)
		}
	}
}

// The order of the book holds beyond operations that a boat does not have.
func TestTasks(t *testing.T) {
	for name, c := range map[string]struct {
		boat       *formula.State
		operations []int
		after      [][]int
	}{
		"base boat: the trial waits for the hull": {boat(0, 0, 0, 0), []int{laminate, trial}, [][]int{nil, {0}}},
		"painted: and for the paint": {boat(0, 1, 0, 0), []int{laminate, paint, trial},
			[][]int{nil, {0}, {0, 1}}},
		"a cover is sewn at any time": {boat(1, 0, 1, 1), []int{laminate, paint, fitOut, trial, sewer},
			[][]int{nil, {0}, {0, 1}, {2}, nil}},
	} {
		b, err := compiled().Boat(c.boat, nil)
		if err != nil {
			t.Fatal(err)
		}
		var operations []int
		var after [][]int
		for _, task := range b.Tasks() {
			var earlier []int
			for _, l := range task.After {
				earlier = append(earlier, l.Task)
			}
			operations, after = append(operations, task.Operation), append(after, earlier)
		}
		if !slices.Equal(operations, c.operations) || !slices.EqualFunc(after, c.after, slices.Equal) {
			t.Errorf("%s: %v after %v, want %v after %v", name, operations, after, c.operations, c.after)
		}
	}
}

// Worked by hand: two people laminate 96 h in 48 h, the mould of the hull of 6 m is theirs until the paint is dry, or
// where no paint is, until the trial is over, which has to wait a day for the laminate itself.
func TestTasksAreWorked(t *testing.T) {
	tasks := func(st *formula.State, extras ...works.Extra) []works.Task {
		b, err := compiled().Boat(st, extras)
		if err != nil {
			t.Fatal(err)
		}
		return b.Tasks()
	}
	wide, likely := pack.Spread{Low: 0.8, High: 2}, pack.Spread{Low: 0.9, High: 1.5}
	painted := tasks(boat(1, 1, 1, 0), works.Extra{Hours: map[int]measure.Hours{joinery: h(1)}})
	want := []works.Task{
		{Operation: laminate, Shop: moulding, Hours: h(96), Crew: 2, Elapsed: h(48), Skill: 1, Spread: wide,
			Holds: []works.Hold{{Equipment: 1, Until: []int{1}}}},
		{Operation: paint, Shop: moulding, Hours: h(4.75), Crew: 1, Elapsed: h(4.75), Spread: wide,
			After: []works.Link{{Task: 0, Wait: h(24)}}},
		{Operation: fitOut, Shop: joinery, Hours: h(2), Crew: 1, Elapsed: h(2), Spread: wide,
			After: []works.Link{{Task: 0}, {Task: 1, Wait: h(16), Within: h(48), Bounded: true}}},
		{Operation: trial, Shop: afloat, Hours: h(4), Crew: 1, Elapsed: h(4), Spread: wide, Uses: []int{2},
			After: []works.Link{{Task: 2, Wait: h(2)}}},
		{Operation: works.NoOperation, Shop: joinery, Hours: h(1), Crew: 1, Elapsed: h(1), Spread: likely},
	}
	for i := range painted {
		painted[i].Lines = nil
	}
	if !reflect.DeepEqual(painted, want) {
		t.Errorf("tasks\n%+v, want\n%+v", painted, want)
	}
	bare := tasks(boat(0, 0, 0, 0))
	if !slices.Equal(bare[1].After, []works.Link{{Task: 0, Wait: h(24)}}) ||
		!reflect.DeepEqual(bare[0].Holds, []works.Hold{{Equipment: 0}}) {
		t.Errorf("a boat without paint waits %+v and holds %+v", bare[1].After, bare[0].Holds)
	}
	// whoever does not know how the yard works plans with one person and the hours as they are
	p := yard()
	p.Work = nil
	b, err := works.Compile(p).Boat(boat(0, 0, 0, 0), nil)
	if err != nil {
		t.Fatal(err)
	}
	if task := b.Tasks()[0]; task.Crew != 1 || task.Elapsed != h(80) || task.Spread != pack.Exactly {
		t.Errorf("on the show's desk %+v", task)
	}
}

func TestNothingToCompile(t *testing.T) {
	if n := works.Compile(&pack.Pack{}); n != nil {
		t.Errorf("a pack without operations has %+v", n)
	}
}

package brief_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/brief"
	"ribband/core/pack"
	"ribband/core/spec"
)

func TestBoatsAreSpecsThatCostWhatTheyAnswer(t *testing.T) {
	for _, c := range []struct {
		desk  pack.Desk
		pairs []any
	}{
		{pack.Buyer, nil},
		{pack.Show, []any{"persons", 6, "range", 25, "speed", 5.0, "weather", true}},
		{pack.Yard, []any{"water", "salt", "bridge", 1.8, "night", 8, "inlet", true, "price", "80000"}},
	} {
		e := compiled(packs()[c.desk])
		a := find(t, e, wishes(c.pairs...))
		if len(a.Boats) < 2 || !a.Proved || a.Most != len(a.Boats)-1 || (a.Soonest >= 0) != e.Can(pack.Hours) {
			t.Errorf("%v: %d boats, most %d, soonest %d, proved: %v", c.pairs, len(a.Boats), a.Most, a.Soonest,
				a.Proved)
		}
		most := e.Pack.Brief.Most
		for i := range a.Boats {
			b := &a.Boats[i]
			wantSound(t, e, b)
			if i > 0 && (b.Price.Cmp(a.Boats[i-1].Price) < 0 ||
				b.State.Figures[most] < a.Boats[i-1].State.Figures[most]+e.Pack.Brief.Step) {
				t.Errorf("boat %d is cheaper than the one before, or does not do more", i)
			}
			if a.Soonest >= 0 && b.Hours < a.Boats[a.Soonest].Hours {
				t.Errorf("boat %d takes %s h, the soonest %s", i, b.Hours, a.Boats[a.Soonest].Hours)
			}
		}
	}
}

// All desks find the same boats.
func TestDesksAgree(t *testing.T) {
	b := wishes("persons", 6, "range", 20, "weather", true)
	var want []brief.Boat
	for i, desk := range pack.Desks {
		a := find(t, compiled(packs()[desk]), b)
		if i == 0 {
			want = a.Boats
		}
		if len(a.Boats) != len(want) {
			t.Fatalf("%s finds %d boats, want %d", desk, len(a.Boats), len(want))
		}
		for j := range want {
			if !a.Boats[j].Price.Equal(want[j].Price) || !reflect.DeepEqual(a.Boats[j].Spec, want[j].Spec) {
				t.Errorf("%s finds another boat %d", desk, j)
			}
		}
	}
}

// A relaxed brief has the boat that is shown with it, and one step nearer to the wish there is none.
func TestRelaxationsAreTheNearest(t *testing.T) {
	e := buyer()
	stated := wishes("persons", 6, "range", 40, "speed", 5, "weather", true, "price", "75000")
	a := find(t, e, stated)
	if len(a.Boats) > 0 || !a.Proved || len(a.Relaxations) < 3 {
		t.Fatalf("%d boats and %d relaxations (proved: %v); want none, and some", len(a.Boats), len(a.Relaxations),
			a.Proved)
	}
	nearer := map[string]float64{"persons": 1, "range": 0.1, "speed": 0.5}
	for _, x := range a.Relaxations {
		w := &e.Pack.Brief.Wishes[x.Wish]
		wantSound(t, e, &x.Boat)
		then := find(t, e, x.Brief)
		if first, ok := then.Cheapest(); !ok || !first.Price.Equal(x.Boat.Price) {
			t.Errorf("relaxing %s gives %d boats, the first for %s, want one for %s", w.ID, len(then.Boats),
				first.Price, x.Boat.Price)
		}
		if !x.Sure {
			t.Errorf("relaxing %s is not proved to be the nearest", w.ID)
		}
		b := x.Brief
		switch step, stepped := nearer[w.ID]; {
		case stepped:
			b.Wishes[w.ID] = brief.Value{Number: x.To.Number + step}
		case w.Kind == pack.WishPrice:
			b.Wishes[w.ID] = brief.Value{Text: x.Boat.Price.Sub(e.Pricing.Currency().Minor()).String()}
		default:
			b.Wishes[w.ID] = stated.Wishes[w.ID]
		}
		if then := find(t, e, b); len(then.Boats) > 0 || !then.Proved {
			t.Errorf("%s nearer to the wish there is a boat, too: %v", w.ID, b.Wishes)
		}
	}
}

// What comes out is the same however a run is cut into steps.
func TestStepsDoNotMatter(t *testing.T) {
	for _, b := range []brief.Brief{wishes("range", 20), wishes("persons", 10, "range", 60, "speed", 6)} {
		want := find(t, buyer(), b)
		for _, boats := range []int{1, 7, 300} {
			r, err := brief.Start(buyer(), b)
			if err != nil {
				t.Fatal(err)
			}
			for done := false; !done; {
				if done, err = r.Step(boats); err != nil {
					t.Fatal(err)
				}
			}
			if got := r.Answer(); !reflect.DeepEqual(got.Report(buyer(), b), want.Report(buyer(), b)) ||
				got.Checked != want.Checked {
				t.Errorf("by %d: %d boats after %d looked at, want %d after %d", boats, len(got.Boats), got.Checked,
					len(want.Boats), want.Checked)
			}
			r.Stop()
		}
	}
}

func anyWishes(t *rapid.T) brief.Brief {
	all := []any{"persons", rapid.IntRange(1, 10).Draw(t, "persons"), "speed",
		float64(rapid.IntRange(4, 12).Draw(t, "speed")) / 2, "range", rapid.IntRange(5, 60).Draw(t, "range"),
		"weather", true, "water", rapid.SampledFrom([]string{"fresh", "salt"}).Draw(t, "water"), "trailer",
		rapid.IntRange(500, 1500).Draw(t, "trailer"), "inlet", true}
	var some []any
	for i := 0; i < len(all); i += 2 {
		if rapid.IntRange(0, 2).Draw(t, "wished") == 0 {
			some = append(some, all[i], all[i+1])
		}
	}
	b := wishes(some...)
	b.Hulls = []string{rapid.SampledFrom([]string{"sedge-46", "rush-54", "reed-65", "osier-76"}).Draw(t, "hull")}
	return b
}

// Of any wishes every boat is a valid spec that meets them.
func TestPropertyBoatsMeetTheirWishes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, e := anyWishes(t), buyer()
		a, err := brief.Find(e, b)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Boats {
			x := &a.Boats[i]
			got, err := e.Answer(x.Spec)
			if err != nil || len(got.Notes)+len(got.Build.Clashes) > 0 || !got.Price.Total.Equal(x.Price) {
				t.Fatalf("%s: %v, %+v", x.Spec.Encode(), err, got)
			}
			for id, v := range b.Wishes {
				w := e.Pack.Brief.Wishes[slices.IndexFunc(e.Pack.Brief.Wishes,
					func(w pack.Wish) bool { return w.ID == id })]
				st := got.Build.State
				met := true
				switch {
				case w.Kind == pack.WishUse && v.Text == "":
					met = st.Use[w.Index] == v.Number
				case w.Kind == pack.WishNeed:
					met = w.Need.Truth()(st)
				case w.Kind == pack.WishFigure && w.Bound == pack.AtLeast:
					met = st.Figures[w.Index] >= v.Number
				case w.Kind == pack.WishFigure:
					met = st.Figures[w.Index] <= v.Number
				}
				if !met {
					t.Fatalf("%s does not meet %s: %s", x.Spec.Encode(), id, v)
				}
			}
		}
	})
}

// What was chosen stays.
func TestChoicesStay(t *testing.T) {
	b := wishes("range", 15)
	b.Choices = map[string]map[string]int{"top": {"top-canopy": 1}, "gelcoat-hull": {"gelcoat-hull-navy": 1}}
	b.Use = map[string]spec.Value{"region": {Choice: "nl"}}
	a := find(t, buyer(), b)
	if len(a.Boats) == 0 {
		t.Fatal("no boat")
	}
	for i := range a.Boats {
		s := a.Boats[i].Spec
		wantSound(t, buyer(), &a.Boats[i])
		if s.Choices["top"]["top-canopy"] != 1 || s.Choices["gelcoat-hull"]["gelcoat-hull-navy"] != 1 ||
			s.Use["region"].Choice != "nl" {
			t.Errorf("%s lacks what was chosen", s.Encode())
		}
	}
}

func TestStopKeepsWhatWasFound(t *testing.T) {
	r, err := brief.Start(buyer(), wishes("range", 20))
	if err != nil {
		t.Fatal(err)
	}
	for r.Progress().Found == 0 {
		if done, err := r.Step(1); done || err != nil {
			t.Fatal("ended without a boat:", err)
		}
	}
	r.Stop()
	a := r.Answer()
	if done, err := r.Step(1); !done || err != nil || len(a.Boats) != 1 || a.Proved ||
		!strings.Contains(a.Summary().String(), "not every combination was checked") {
		t.Errorf("after stopping: done %v, %v, %d boats, %q", done, err, len(a.Boats), a.Summary())
	}
}

func TestRefusals(t *testing.T) {
	none := *packs()[pack.Buyer]
	none.Brief = nil
	for _, c := range []struct {
		name  string
		pack  *pack.Pack
		brief brief.Brief
		words []string
	}{
		{"no wishes in the book", &none, wishes(), []string{"declares no wishes"}},
		{"unknown wish", nil, wishes("rang", 20), []string{"wishes.rang", `"range"`}},
		{"no amount", nil, wishes("range", true), []string{"wishes.range", "write a number", "nm"}},
		{"text for a number", nil, wishes("range", "far"), []string{"wishes.range", "write a number"}},
		{"amount without need", nil, wishes("weather", 3), []string{"wishes.weather", "write true"}},
		{"out of bounds", nil, wishes("persons", 40), []string{"wishes.persons", "1 to 10"}},
		{"between steps", nil, wishes("persons", 2.5), []string{"wishes.persons", "multiple of 1"}},
		{"unknown choice", nil, wishes("water", "brackish"), []string{"wishes.water", "fresh, salt"}},
		{"no money", nil, wishes("price", "cheap"), []string{"wishes.price", "45000"}},
		{"unknown hull", nil, brief.Brief{Format: 1, Hulls: []string{"reed"}}, []string{"hulls[0]", "reed-65"}},
		{"unknown use", nil, brief.Brief{Format: 1, Use: map[string]spec.Value{"regon": {Choice: "nl"}}},
			[]string{"use.regon"}},
		{"unknown choice of an option", nil, brief.Brief{Format: 1,
			Choices: map[string]map[string]int{"top": {"top-glass": 1}}}, []string{"choices.top.top-glass"}},
		{"another format", nil, brief.Brief{Format: 2}, []string{"format", "write 1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := buyer()
			if c.pack != nil {
				e = compiled(c.pack)
			}
			_, err := brief.Start(e, c.brief)
			if err == nil {
				t.Fatal("is taken")
			}
			for _, w := range c.words {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
}

package figures_test

import (
	"math"
	"slices"
	"testing"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/hull"
	"ribband/core/pack"
)

// seatedAt is the demo book with the persons so far to starboard.
func seatedAt(t *testing.T, y string) *pack.Pack {
	t.Helper()
	p := *demo
	p.Hulls = slices.Clone(demo.Hulls)
	off, err := formula.Parse("n" + y)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Hulls {
		seats := *p.Hulls[i].Seats
		seats.Y = off
		p.Hulls[i].Seats = &seats
	}
	return &p
}

// solved is the load of a boat as package hull finds her at rest, free to heel and trim.
func solved(t *testing.T, p *pack.Pack, st *formula.State) hull.Floating {
	t.Helper()
	items := figures.MassTable(p, st)
	var load hull.Load
	for i, it := range items {
		share := 1 + figures.GrowthShare
		if i == len(items)-1 { // the persons
			share = 1
		}
		load = load.And(hull.Load{Mass: share * it.Mass, LCG: it.X, TCG: it.Y, VCG: it.Z})
	}
	h, err := p.Hulls[st.HullID].NewHull()
	if err != nil {
		t.Fatal(err)
	}
	f, err := h.Float(load, hull.FreshWater)
	if err != nil {
		t.Fatalf("%s: %v", p.Hulls[st.HullID].ID, err)
	}
	return f
}

// The heel by tan φ = TCG/GM against the whole solution on the demo hulls, four persons on board. One person of 80 kg who
// moves 0.4 m off the centre line is all four 0.1 m off it.
//
// Source: Barrass & Derrett, ch. 14, for the formula; package hull for the solution, whose closed forms are tests there.
func TestHeelAgainstTheWholeSolution(t *testing.T) {
	for _, c := range []struct {
		y, what            string
		heeled             float64 // as far as the four hulls heel
		degrees, freeboard float64 // largest difference on them, degrees and m
	}{
		{"0.1", "one person 0.4 m off", 3.1, 0.04, 0.0055},
		{"0.2", "one person 0.8 m off", 6.3, 0.16, 0.011},
		{"0.4", "all persons 0.4 m off", 12.9, 0.85, 0.023},
	} {
		p := seatedAt(t, c.y)
		f := compiled(t, p)
		var heeled, degrees, freeboard float64
		for h := range p.Hulls {
			st := standard(t, f, h)
			whole := solved(t, p, st)
			heel := whole.Heel * 180 / math.Pi
			heeled = max(heeled, heel)
			degrees = max(degrees, math.Abs(figure(t, st, "heel_deg")-heel))
			freeboard = max(freeboard, figure(t, st, "freeboard_m")-whole.Freeboard.Height)
			if figure(t, st, "freeboard_m") < whole.Freeboard.Height {
				t.Errorf("%s, %s: the freeboard is %v, and %v by the whole solution: how.go says that it is stated too high", p.Hulls[h].ID, c.what, figure(t, st, "freeboard_m"), whole.Freeboard.Height)
			}
		}
		t.Logf("%s: heeled up to %.2f°, by the formula %.3f° off, the freeboard %.4f m too high", c.what, heeled, degrees, freeboard)
		within := func(what string, got, want float64) {
			if !(got <= want && got > 0.7*want) { // no looser than it is
				t.Errorf("%s: %s is %v, want %v or a little less", c.what, what, got, want)
			}
		}
		within("the heel", heeled, c.heeled)
		within("the difference of heel", degrees, c.degrees)
		within("the difference of freeboard", freeboard, c.freeboard)
	}
}

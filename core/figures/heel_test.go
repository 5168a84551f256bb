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
	items := compiled(t, p).MassTable(st)
	var load hull.Load
	for i, it := range items {
		share := 1 + figures.GrowthShare
		if i == len(items)-1 { // the persons
			share = 1
		}
		load = load.And(hull.Load{Mass: share * it.Mass, LCG: it.X, TCG: it.Y, VCG: it.Z})
	}
	h, err := figures.NewHull(&p.Hulls[st.HullID])
	if err != nil {
		t.Fatal(err)
	}
	f, err := h.Float(load, hull.FreshWater)
	if err != nil {
		t.Fatalf("%s: %v", p.Hulls[st.HullID].ID, err)
	}
	return f
}

// The heel of the demo boats is that of the whole solution, whatever it is, and the freeboard is what that leaves. One
// person of 80 kg who moves 0.4 m off the centre line is all four 0.1 m off it.
//
// Source: package hull for the solution, which has closed forms and a second solver in its tests.
func TestHeelIsTheWholeSolution(t *testing.T) {
	for _, y := range []string{"0.1", "0.2", "0.4", "-0.4"} {
		p := seatedAt(t, y)
		f := compiled(t, p)
		for h := range p.Hulls {
			st := standard(t, f, h)
			whole := solved(t, p, st)
			near := func(what string, got, want float64) {
				if !(math.Abs(got-want) < 1e-9) {
					t.Errorf("%s, persons %s m off: %s %v, want %v", p.Hulls[h].ID, y, what, got, want)
				}
			}
			near("heel", figure(t, st, "heel_deg"), whole.Heel*180/math.Pi)
			near("freeboard", figure(t, st, "freeboard_m"), whole.Freeboard.Height)
			if (whole.Heel > 0) != (y[0] != '-') || math.Abs(whole.Heel) < 0.02 {
				t.Errorf("%s, persons %s m off: heel %v", p.Hulls[h].ID, y, whole.Heel)
			}
		}
	}
}

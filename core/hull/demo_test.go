package hull_test

import (
	"math"
	"testing"

	"ribband/core/hull"
)

// dimensions are those of a hull, m.
type dimensions struct{ Length, Waterline, Beam, Depth, Draft float64 }

// loadedMass is what each demo hull displaces at its draft, kg: invented with the hulls, near boat, bank and persons.
var loadedMass = map[string]float64{"sedge-46": 850, "rush-54": 1170, "reed-65": 1600, "osier-76": 2000}

// demoDimensions are those that the hulls were drawn to, depth at the lowest sheer: invented with them.
var demoDimensions = map[string]dimensions{
	"sedge-46": {Length: 4.6, Waterline: 4.25, Beam: 1.85, Depth: 0.72, Draft: 0.35},
	"rush-54":  {Length: 5.4, Waterline: 5.0, Beam: 2.0, Depth: 0.8, Draft: 0.4},
	"reed-65":  {Length: 6.5, Waterline: 6.05, Beam: 2.2, Depth: 0.9, Draft: 0.48},
	"osier-76": {Length: 7.6, Waterline: 7.1, Beam: 2.3, Depth: 0.98, Draft: 0.55},
}

// The offsets of the demo hulls have the dimensions that they were drawn to, and displace their load on an even keel at
// its draft.
func TestDemoHulls(t *testing.T) {
	dims, hulls := demoDimensions, demo(t)
	if len(hulls) != len(loadedMass) {
		t.Fatalf("%d hulls, want %d", len(hulls), len(loadedMass))
	}
	for id, o := range hulls {
		d, ok := dims[id]
		if !ok {
			t.Errorf("%s is not in the book", id)
			continue
		}
		h := build(t, o)
		beam, depth := 0.0, math.Inf(1)
		for _, s := range o.Stations {
			beam, depth = max(beam, 2*s.Y[len(s.Y)-1]), min(depth, s.Z[len(s.Z)-1])
		}
		near(t, id+" length", h.Length(), d.Length, 1e-9)
		near(t, id+" beam", beam, d.Beam, 0.015)
		near(t, id+" depth", depth, d.Depth, 0.005)
		y := at(t, h, d.Draft, 0, 0)
		near(t, id+" waterline", y.WaterlineLength, d.Waterline, 0.05)
		near(t, id+" displacement", y.Displacement(hull.FreshWater), loadedMass[id], 3)
		near(t, id+" depth below the water", y.Depth, d.Draft, 0.002)
		plausible(t, id, h, y)
	}
}

// plausible holds the form against the usual ranges of slow displacement launches: common practice, no source.
func plausible(t *testing.T, id string, h *hull.Hull, y hull.Hydrostatics) {
	t.Helper()
	for _, c := range []struct {
		what           string
		got, low, high float64
	}{
		{"prismatic coefficient", y.Prismatic, 0.55, 0.65},
		{"waterplane coefficient", y.Plane, 0.65, 0.8},
		{"LCB as a share of the length", (y.LCB - h.Aft()) / h.Length(), 0.44, 0.52},
		{"breadth to length of the waterline", y.WaterlineBeam / y.WaterlineLength, 0.25, 0.4},
	} {
		if !(c.got >= c.low && c.got <= c.high) {
			t.Errorf("%s: %s is %.3f, want %v to %v", id, c.what, c.got, c.low, c.high)
		}
	}
	f := float(t, h, hull.Load{Mass: loadedMass[id], LCG: y.LCB, VCG: 0.55}, hull.FreshWater)
	if f.GMt < 0.25 || f.Freeboard.Height < 0.3 {
		t.Errorf("%s: GM %.3f m and freeboard %.3f m are small", id, f.GMt, f.Freeboard.Height)
	}
}

// A fair sheer bends one way only, in plan and in profile, but for the rounding to millimetres.
func TestDemoHullsAreFair(t *testing.T) {
	for id, o := range demo(t) {
		for i := 1; i < len(o.Stations)-2; i++ { // the stemhead has the width of the stem
			bend := func(of func(s hull.Station) float64) float64 {
				return of(o.Stations[i-1]) - 2*of(o.Stations[i]) + of(o.Stations[i+1])
			}
			plan := bend(func(s hull.Station) float64 { return s.Y[len(s.Y)-1] })
			profile := bend(func(s hull.Station) float64 { return s.Z[len(s.Z)-1] })
			if plan > 0.0021 || profile < -0.0021 {
				t.Errorf("%s: the sheer is not fair at station %d: %.4f in plan, %.4f in profile", id, i+1, plan,
					profile)
			}
		}
	}
}

// Every second station left out changes the displacement of the demo hulls by less than 1 %, their stability by less
// than 2 %.
func TestDemoGrid(t *testing.T) {
	for id, o := range demo(t) {
		var half hull.Offsets
		for i := 0; i < len(o.Stations); i += 2 {
			half.Stations = append(half.Stations, o.Stations[i])
		}
		draft := demoDimensions[id].Draft
		fine, coarse := at(t, build(t, o), draft, 0, 0), at(t, build(t, half), draft, 0, 0)
		share(t, id+" volume", coarse.Volume, fine.Volume, 0.01)
		share(t, id+" KM", coarse.KB+coarse.BMt, fine.KB+fine.BMt, 0.02)
		near(t, id+" LCB", coarse.LCB, fine.LCB, 0.01*fine.WaterlineLength)
	}
}

// With the load 6 cm off the centre line each launch lies well within its deck edge; rest, deck edge and vanishing are
// in order.
func TestDemoRange(t *testing.T) {
	for id, o := range demo(t) {
		h := build(t, o)
		l := hull.Load{Mass: loadedMass[id], LCG: 0.46 * h.Length(), TCG: -0.06, VCG: 0.55}
		r, err := h.Range(l, hull.FreshWater)
		if err != nil {
			t.Fatal(id, err)
		}
		if !(r.Rest < 0 && r.DeckEdge < r.Rest-degrees(10) && r.Vanishing < r.DeckEdge && r.Vanishing >= -math.Pi) {
			t.Errorf("%s: %+v", id, r)
		}
		levers, err := h.RightingLevers(l, hull.FreshWater, []float64{r.Rest, r.DeckEdge, r.Vanishing})
		if err != nil {
			t.Fatal(id, err)
		}
		near(t, id+" lever at rest", levers[0].GZ, 0, 1e-8)
		near(t, id+" freeboard at the deck edge", levers[1].Freeboard, 0, 1e-8)
		near(t, id+" lever where it vanishes", levers[2].GZ, 0, 1e-8)
	}
}

// The box of 2 m beam, 1 m deep, at 0.4 m: its deck edge comes to the water where tan φ = (1 - 0.4)/1.
func TestBoxRange(t *testing.T) {
	h := build(t, box(6, 2, 1))
	r, err := h.Range(hull.Load{Mass: 4800, LCG: 3, VCG: 0.5}, hull.FreshWater)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rest", r.Rest, 0, 0)
	// The bilge comes out at tan φ = 0.4, before the deck goes in: between, the section below the water is a triangle
	// and the deck edge is under where its area of 0.8 m² fills the triangle of legs a and 1: a = 1.6, tan φ = 1/1.6.
	near(t, "deck edge", r.DeckEdge, math.Atan2(1, 1.6), 1e-9)
	if _, err := h.Range(hull.Load{Mass: 4800, LCG: 3, VCG: 2}, hull.FreshWater); err == nil {
		t.Error("an unstable boat has a range")
	}
}

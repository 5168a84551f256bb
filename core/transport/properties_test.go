package transport_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/transport"
)

// A check is right about its margin, and names its source.
func TestChecksAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		l := transport.Load{
			BedM: draw("bed", 0, 1), HeightUpM: draw("up", 1.5, 4), HeightDownM: draw("down", 0.5, 1.5),
			BeamM:         draw("beam", 1, 3),
			TrailerWidthM: draw("trailer", 1, 3), BoatKG: draw("boat", 100, 4000), LooseKG: draw("loose", 0, 300),
			TrailerKG: draw("empty", 100, 900), TrailerMostKG: draw("most", 500, 4000),
		}
		r, err := transport.FindRegion(rapid.SampledFrom([]string{transport.US, transport.EU, transport.GB}).Draw(t,
			"region"))
		if err != nil {
			t.Fatal(err)
		}
		checks, err := transport.OnRoad(r, l)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range checks {
			if !c.NoLimit && (c.OK != (c.Margin >= -1e-5) || math.Abs(c.Limit-c.Value-c.Margin) > 1e-9) {
				t.Errorf("%+v", c)
			}
			if c.Sentence.Empty() || c.Source.Empty() || c.Status == "" || c.Unit == "" {
				t.Errorf("%+v lacks words", c)
			}
		}
		if up, down := checks[1], checks[2]; up.OK && !down.OK || up.Value < down.Value {
			t.Errorf("up %+v, down %+v", up, down)
		}
		if checks[0].Value < l.BeamM || checks[0].Value < l.TrailerWidthM {
			t.Errorf("width %v", checks[0].Value)
		}
	})
}

// Film covers at least the plan of the boat; a bigger boat, a higher ridge and more waste never need less.
func TestWrapGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := transport.Wrap{
			LengthM: rapid.Float64Range(3, 9).Draw(t, "length"), BeamM: rapid.Float64Range(1, 3).Draw(t, "beam"),
			HeightM: rapid.Float64Range(0.5, 3).Draw(t, "height"),
			RidgeM:  rapid.Float64Range(0, 1).Draw(t, "ridge"), SkirtM: rapid.Float64Range(0, 1).Draw(t, "skirt"),
			Waste: rapid.Float64Range(0, 0.5).Draw(t, "waste"),
			Whole: rapid.Bool().Draw(t, "whole"),
		}
		area := func() float64 {
			a, err := transport.WrapArea(w)
			if err != nil {
				t.Fatal(err)
			}
			return a
		}
		before := area()
		if before < w.LengthM*w.BeamM {
			t.Errorf("%v m² over a plan of %v", before, w.LengthM*w.BeamM)
		}
		for _, part := range []*float64{&w.LengthM, &w.BeamM, &w.HeightM, &w.RidgeM, &w.SkirtM, &w.Waste} {
			*part += 0.1
			if after := area(); after < before-1e-9 {
				t.Errorf("%v m², before %v", after, before)
			}
			*part -= 0.1
		}
	})
}

// What fits still fits when it shrinks, and what fits a container fits the longer and higher ones.
func TestFitShrinks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := transport.Cargo{
			LengthM: rapid.Float64Range(3, 13).Draw(t, "length"), WidthM: rapid.Float64Range(1, 3).Draw(t, "width"),
			HeightM: rapid.Float64Range(0.5, 3).Draw(t, "height"),
			MassKG:  rapid.Float64Range(100, 40_000).Draw(t, "mass"), GapM: rapid.Float64Range(0, 0.1).Draw(t, "gap"),
		}
		big, err := transport.FitAll(g)
		if err != nil {
			t.Fatal(err)
		}
		g.LengthM, g.WidthM, g.HeightM, g.MassKG = g.LengthM*0.9, g.WidthM*0.9, g.HeightM*0.9, g.MassKG*0.9
		small, err := transport.FitAll(g)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range big {
			if f.Fits && (!small[i].Fits || small[i].OutOfGauge && !f.OutOfGauge) {
				t.Errorf("%s: %+v but the smaller one %+v", f.Container.ID, f, small[i])
			}
			if f.Sentence.Empty() {
				t.Errorf("%s has no sentence", f.Container.ID)
			}
		}
		if big[0].Fits && !big[1].Fits {
			t.Error("fits 20 ft, not 40 ft")
		}
	})
}

// A distance is in the one zone whose end it does not pass and whose beginning it does.
func TestZoneHoldsTheDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var zones []transport.Zone
		end := 0.0
		for i := range rapid.IntRange(1, 8).Draw(t, "zones") {
			end += rapid.Float64Range(0.5, 400).Draw(t, "step")
			zones = append(zones, transport.Zone{ID: string(rune('a' + i)), ToKM: end})
		}
		km := rapid.Float64Range(0, end).Draw(t, "km")
		i, err := transport.ZoneAt(zones, km)
		if err != nil || km > zones[i].ToKM || i > 0 && km <= zones[i-1].ToKM {
			t.Errorf("%v km in %+v: zone %d, %v", km, zones, i, err)
		}
	})
}

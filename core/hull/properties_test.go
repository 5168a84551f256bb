package hull_test

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/hull"
)

// fair draws a fair hull of a launch's size: full or fine, with a rockered keel and a rising sheer.
func fair(t *rapid.T) hull.Offsets {
	n := rapid.IntRange(5, 21).Draw(t, "stations")
	m := rapid.IntRange(3, 10).Draw(t, "points")
	length, depth := rapid.Float64Range(3, 10).Draw(t, "length"), rapid.Float64Range(0.5, 1.2).Draw(t, "depth")
	beam := rapid.Float64Range(1.2, 3).Draw(t, "beam")
	plan, bilge := rapid.Float64Range(1.5, 4).Draw(t, "plan"), rapid.Float64Range(0.3, 1.2).Draw(t, "bilge")
	rocker, spring := rapid.Float64Range(0, 0.3).Draw(t, "rocker"), rapid.Float64Range(0, 0.3).Draw(t, "spring")
	transom := rapid.Float64Range(0, 0.9).Draw(t, "transom")
	return stations(n, length, func(s float64) (z, y []float64) {
		x := 2*s - 1
		half := 1 - math.Pow(math.Abs(x), plan)
		if x < 0 {
			half = 1 - (1-transom)*math.Pow(-x, plan)
		}
		keel, sheer := depth*rocker*x*x, depth*(1+spring*x*x)
		for k := range m {
			f := float64(k) / float64(m-1)
			z, y = append(z, keel+(sheer-keel)*f), append(y, beam/2*half*math.Pow(f, bilge))
		}
		return z, y
	})
}

// loaded draws a load that such a hull may carry, or not.
func loaded(t *rapid.T, h *hull.Hull) hull.Load {
	mass := h.Volume() * 1000 * rapid.Float64Range(0.02, 0.9).Draw(t, "share of the volume")
	return hull.Load{
		Mass: mass, LCG: h.Aft() + h.Length()*rapid.Float64Range(0.3, 0.6).Draw(t, "LCG"),
		TCG: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-0.2, 0.2)).Draw(t, "TCG"),
		VCG: rapid.Float64Range(0.1, 0.9).Draw(t, "VCG"),
	}
}

// finite fails where any number within v is none.
func finite(t *rapid.T, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			t.Fatalf("%v in a result", v.Float())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			finite(t, v.Index(i))
		}
	}
}

// What floats displaces its load, and its centres of buoyancy and gravity are in one vertical, by the hydrostatics
// computed anew at the draft, trim and heel found. What does not says why.
func TestEquilibrium(t *testing.T) {
	floats := 0
	rapid.Check(t, func(t *rapid.T) {
		h := build(t, fair(t))
		l := loaded(t, h)
		f, err := h.Float(l, hull.FreshWater)
		if err != nil {
			if f != (hull.Floating{}) || !errors.Is(err, hull.ErrTooHeavy) && !errors.Is(err, hull.ErrUnstable) &&
				!errors.Is(err, hull.ErrNoBalance) {
				t.Fatalf("%v with %+v", err, f)
			}
			return
		}
		floats++
		finite(t, reflect.ValueOf(f))
		y := at(t, h, f.Draft, f.Trim, f.Heel)
		alike(t, reflect.ValueOf(f.Hydrostatics), reflect.ValueOf(y))
		if d := y.Displacement(hull.FreshWater) / l.Mass; math.Abs(d-1) > 1e-9 {
			t.Fatalf("displaces %v of the load", d)
		}
		along, across := apart(f)
		if math.Abs(along) > 1e-8*h.Length() || math.Abs(across) > 1e-8*h.Length() {
			t.Fatalf("buoyancy is %v m ahead and %v m to starboard of the vertical through the centre of gravity",
				along, across)
		}
		if !(f.GMt > 0) || !(f.Freeboard.Height > 0) {
			t.Fatalf("GM %v, freeboard %v", f.GMt, f.Freeboard)
		}
	})
	if floats == 0 {
		t.Error("nothing floats")
	}
}

// alike fails where two structures of numbers differ by more than rounding.
func alike(t *rapid.T, a, b reflect.Value) {
	for i := range a.NumField() {
		if x, y := a.Field(i).Float(), b.Field(i).Float(); math.Abs(x-y) > 1e-9*(1+math.Abs(x)) {
			t.Fatalf("%s is %v, anew %v", a.Type().Field(i).Name, x, y)
		}
	}
}

// apart gives how far the centre of buoyancy is from the vertical through the centre of gravity, in the plane of the
// water: along the boat and across.
func apart(f hull.Floating) (along, across float64) {
	x, y, z := f.LCB-f.Load.LCG, f.TCB-f.Load.TCG, f.KB-f.Load.VCG
	s, w := y*math.Cos(f.Heel)+z*math.Sin(f.Heel), z*math.Cos(f.Heel)-y*math.Sin(f.Heel)
	return x*math.Cos(f.Trim) - w*math.Sin(f.Trim), s
}

// A deeper hull displaces more, whatever its trim and heel.
func TestVolumeIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := build(t, fair(t))
		trim, heel := rapid.Float64Range(-0.5, 0.5).Draw(t, "trim"), rapid.Float64Range(-3, 3).Draw(t, "heel")
		a, b := rapid.Float64Range(-3, 3).Draw(t, "draft"), rapid.Float64Range(-3, 3).Draw(t, "draft")
		low, high := at(t, h, min(a, b), trim, heel), at(t, h, max(a, b), trim, heel)
		if low.Volume > high.Volume+1e-9 || low.Volume < 0 || high.Volume > h.Volume()+1e-9 {
			t.Fatalf("volumes %v and %v of %v", low.Volume, high.Volume, h.Volume())
		}
		finite(t, reflect.ValueOf(low))
		finite(t, reflect.ValueOf(high))
	})
}

// The two sides of a hull are the same: a heel to port mirrors one to starboard.
func TestSidesMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := build(t, fair(t))
		draft, trim, heel := rapid.Float64Range(-1, 1).Draw(t, "draft"), rapid.Float64Range(-0.3, 0.3).Draw(t, "trim"),
			rapid.Float64Range(0, 3).Draw(t, "heel")
		a, b := at(t, h, draft, trim, heel), at(t, h, draft, trim, -heel)
		for what, pair := range map[string][2]float64{
			"volume": {a.Volume, b.Volume}, "moment across": {a.TCB * a.Volume, -b.TCB * b.Volume},
			"moment up":                {a.KB * a.Volume, b.KB * b.Volume},
			"inertia":                  {a.BMt * a.Volume, b.BMt * b.Volume},
			"moment of the waterplane": {a.TCF * a.WaterplaneArea, -b.TCF * b.WaterplaneArea},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-6*(1+math.Abs(pair[0])) {
				t.Fatalf("%s: %v and %v", what, pair[0], pair[1])
			}
		}
	})
}

// The levers of a load on the centre line are odd, start at zero and rise by GM.
func TestLeversAreOdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := build(t, fair(t))
		l := loaded(t, h)
		l.TCG = 0
		f, err := h.Float(l, hull.SaltWater)
		if err != nil || f.Freeboard.Height < 0.001 {
			t.Skip("does not float, or only just")
		}
		heel := rapid.Float64Range(0.01, 1).Draw(t, "heel")
		levers, err := h.RightingLevers(l, hull.SaltWater, []float64{0, 1e-4, heel, -heel})
		if errors.Is(err, hull.ErrNoBalance) {
			t.Skip("trims too far")
		}
		if err != nil {
			t.Fatal(err)
		}
		finite(t, reflect.ValueOf(levers))
		if math.Abs(levers[0].GZ) > 1e-9 || math.Abs(levers[2].GZ+levers[3].GZ) > 1e-7 {
			t.Fatalf("levers %+v", levers)
		}
		// The heel turns the boat about its own length, GM is about the waterline's.
		if gm := levers[1].GZ / 1e-4 / math.Cos(f.Trim); math.Abs(gm-f.GMt) > 1e-3*(1+f.BMt) {
			t.Fatalf("the curve rises by %v, GM is %v", gm, f.GMt)
		}
	})
}

// Where the lever of a load off the centre line is zero, there the boat lies.
func TestLeverAtRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := build(t, fair(t))
		l := loaded(t, h)
		f, err := h.Float(l, hull.SaltWater)
		if err != nil {
			t.Skip("does not float")
		}
		levers, err := h.RightingLevers(l, hull.SaltWater, []float64{f.Heel})
		if err != nil {
			t.Fatal(err)
		}
		if got := levers[0]; math.Abs(got.GZ) > 1e-8 || math.Abs(got.Draft-f.Draft) > 1e-7 ||
			math.Abs(got.Trim-f.Trim) > 1e-7 || math.Abs(got.Freeboard-f.Freeboard.Height) > 1e-7 {
			t.Fatalf("%+v, at rest %+v", got, f)
		}
	})
}

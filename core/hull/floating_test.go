package hull_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"ribband/core/hull"
)

// A box floats at T = m/(ρ·L·B), with GM = T/2 + B²/(12·T) - KG.
func TestFloatBox(t *testing.T) {
	h := build(t, box(6, 2, 1))
	f := float(t, h, hull.Load{Mass: 4800, LCG: 3, VCG: 0.5}, hull.FreshWater)
	near(t, "draft", f.Draft, 0.4, 1e-10)
	near(t, "trim", f.Trim, 0, 1e-10)
	near(t, "draft aft", f.Drafts.Aft, 0.4, 1e-10)
	near(t, "draft fore", f.Drafts.Fore, 0.4, 1e-10)
	near(t, "GMt", f.GMt, 0.2+4/(12*0.4)-0.5, 1e-9)
	near(t, "GMl", f.GMl, 0.2+36/(12*0.4)-0.5, 1e-9)
	near(t, "freeboard", f.Freeboard.Height, 0.6, 1e-9)
	near(t, "displacement", f.Displacement(), 4800, 1e-6)
	near(t, "moment to trim", f.MCTC(), 4800*f.GMl/600, 1e-6)
	if f.Heel != 0 || f.Freeboard.Side != hull.Both {
		t.Errorf("heel %v, freeboard %+v: want upright", f.Heel, f.Freeboard)
	}
}

// The wall-sided box with its centre of gravity off the centre line: TCG·cos φ = (GM + ½·BM·tan² φ)·sin φ.
func TestFloatBoxHeels(t *testing.T) {
	h := build(t, box(6, 2, 1))
	for _, tcg := range []float64{0.03, -0.12, 0.2} {
		f := float(t, h, hull.Load{Mass: 4800, LCG: 3, TCG: tcg, VCG: 0.5}, hull.FreshWater)
		gm, bm := 0.2+4/(12*0.4)-0.5, 4/(12*0.4)
		near(t, "balance", hull.WallSidedGZ(gm, bm, f.Heel), tcg*math.Cos(f.Heel), 1e-9)
		near(t, "draft on the centre line", f.Drafts.Aft, 0.4, 1e-9)
		if side := map[bool]hull.Side{true: hull.Starboard, false: hull.Port}[tcg > 0]; f.Freeboard.Side != side ||
			f.Heel*tcg < 0 {
			t.Errorf("TCG %v: heel %v, lowest to %s", tcg, f.Heel, f.Freeboard.Side)
		}
		near(t, "freeboard", f.Freeboard.Height, 0.6*math.Cos(f.Heel)-math.Abs(math.Sin(f.Heel)), 1e-9)
	}
}

// A box whose centre of gravity is a forward of midlength trims by the bow until the centres are in one vertical:
// a = tan θ·(BMl·(1 + ½·tan² θ) - BG), the wall-sided formula along the length.
func TestFloatBoxTrims(t *testing.T) {
	h := build(t, box(6, 2, 1))
	f := float(t, h, hull.Load{Mass: 4800, LCG: 3.2, VCG: 0.5}, hull.FreshWater)
	tan := -math.Tan(f.Trim)
	near(t, "balance", tan*(7.5*(1+tan*tan/2)+0.2-0.5), 0.2, 1e-9)
	near(t, "trim over the length", f.Drafts.Trim(), -6*tan, 1e-9)
	near(t, "freeboard", f.Freeboard.Height, (1-f.Drafts.Fore)*math.Cos(f.Trim), 1e-9)
	near(t, "its place", f.Freeboard.X, 6, 1e-9)
}

// A person who steps to the side heels the box as the formula for small heels says.
func TestFloatAgainstHeelByShift(t *testing.T) {
	h := build(t, demo(t)["rush-54"])
	boat := hull.Load{Mass: 1100, LCG: 2.45, VCG: 0.45}
	upright := float(t, h, boat, hull.FreshWater)
	heeled := float(t, h, hull.Load{Mass: 1100, LCG: 2.45, TCG: 75 * 0.4 / 1100, VCG: 0.45}, hull.FreshWater)
	want, _ := hull.HeelByShift(1100, upright.GMt, 75, 0.4)
	share(t, "heel", heeled.Heel, want, 0.02)
}

// A small mass moved aft changes the drafts by moment/MCT, one put at the centre of flotation sinks it by mass/(kg/cm).
func TestFloatAgainstTrimAndImmersion(t *testing.T) {
	h := build(t, demo(t)["reed-65"])
	load := hull.Load{Mass: 1550, LCG: 3, VCG: 0.5}
	f := float(t, h, load, hull.FreshWater)
	moved := load
	moved.LCG -= 10.0 / load.Mass
	g := float(t, h, moved, hull.FreshWater)
	share(t, "change of trim, cm", 100*(g.Drafts.Trim()-f.Drafts.Trim()), 10/f.MCTC(), 0.01)
	g = float(t, h, load.And(hull.Load{Mass: 5, LCG: f.LCF, VCG: f.Draft}), hull.FreshWater)
	share(t, "sinkage, cm", 100*(g.Draft-f.Draft), 5/f.TPC(hull.FreshWater), 0.02)
	near(t, "change of trim at the centre of flotation, cm", 100*(g.Drafts.Trim()-f.Drafts.Trim()), 0, 0.01)
}

func TestAbove(t *testing.T) {
	h := build(t, box(6, 2, 1))
	f := float(t, h, hull.Load{Mass: 4800, LCG: 2.9, TCG: 0.05, VCG: 0.5}, hull.FreshWater)
	near(t, "lowest corner of the sheer", f.Above(0, 1, 1), f.Freeboard.Height, 1e-12)
	near(t, "top of a mast amidships", f.Above(3, 0, 3), (3*math.Cos(f.Heel)-f.Draft)*math.Cos(f.Trim), 1e-12)
	near(t, "water at the centre line aft", f.Above(0, 0, f.Drafts.Aft), 0, 1e-12)
	near(t, "water at the centre line fore", f.Above(6, 0, f.Drafts.Fore), 0, 1e-12)
}

func TestFloatRefuses(t *testing.T) {
	h := build(t, box(6, 2, 1))
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name    string
		load    hull.Load
		density float64
		why     error
		want    string
	}{
		{"no mass", hull.Load{}, 1000, hull.ErrLoad,
			"floating 0 kg: not a load: the mass is not above zero: give kilograms"},
		{"negative", hull.Load{Mass: -5}, 1000, hull.ErrLoad,
			"floating -5 kg: not a load: the mass is not above zero: give kilograms"},
		{"no number", hull.Load{Mass: nan}, 1000, hull.ErrLoad,
			"floating NaN kg: not a load: the mass is not above zero: give kilograms"},
		{"infinite", hull.Load{Mass: inf}, 1000, hull.ErrLoad,
			"floating +Inf kg: not a load: the mass is not above zero: give kilograms"},
		{"a gram", hull.Load{Mass: 1e-6}, 1000, hull.ErrLoad,
			"floating 0.000001 kg: not a load: the mass is next to nothing for this hull: give kilograms"},
		{"no centre", hull.Load{Mass: 900, LCG: nan}, 1000, hull.ErrLoad,
			"floating 900 kg: not a load: its centre at NaN, 0, 0 m is not usable: give metres from the aft end, to " +
				"starboard and above the base line"},
		{"no water", hull.Load{Mass: 900}, 0, hull.ErrLoad,
			"floating 900 kg: not a load: the density of the water is 0 kg/m³: give about 1000 for fresh water, 1025 " +
				"for salt"},
		{"more than the hull", hull.Load{Mass: 12500, LCG: 3}, 1000, hull.ErrTooHeavy,
			"floating 12500 kg: too heavy: the hull up to its sheer displaces 12000 kg: take off at least 500 kg"},
		{"sheer under aft", hull.Load{Mass: 9600, LCG: 2.6, VCG: 0.4}, 1000, hull.ErrTooHeavy,
			"floating 9600 kg: too heavy: the sheer is 0.227 m under water at 0.00 m from the aft end on both sides: " +
				"take weight off, or move it away from there"},
		{"sheer under to port", hull.Load{Mass: 4800, LCG: 3, TCG: -0.5, VCG: 0.4}, 1000, hull.ErrTooHeavy,
			"floating 4800 kg: too heavy: the sheer is 0.120 m under water at 0.00 m from the aft end on the port " +
				"side: take weight off, or move it away from there"},
		{"top heavy", hull.Load{Mass: 4800, LCG: 3, VCG: 1.2}, 1000, hull.ErrUnstable,
			"floating 4800 kg: unstable: GM is -0.167 m upright, so that the boat lolls or capsizes: carry weight " +
				"lower"},
		{"far off the centre line", hull.Load{Mass: 4800, LCG: 3, TCG: 1.4, VCG: 0.6}, 1000, hull.ErrUnstable,
			"floating 4800 kg: unstable: no heel up to 75° balances the centre of gravity 1.400 m off the centre " +
				"line: move weight inboard or lower"},
		{"beyond the bow", hull.Load{Mass: 4800, LCG: 7, VCG: 0.4}, 1000, hull.ErrNoBalance,
			"floating 4800 kg: no balance: the centre of gravity at 7.00 m from the aft end is so far forward that " +
				"no trim up to 35° balances it: move weight aft"},
		{"behind the stern", hull.Load{Mass: 4800, LCG: -1, VCG: 0.4}, 1000, hull.ErrNoBalance,
			"floating 4800 kg: no balance: the centre of gravity at -1.00 m from the aft end is so far aft that no " +
				"trim up to 35° balances it: move weight forward"},
	} {
		f, err := h.Float(c.load, c.density)
		if err == nil || err.Error() != c.want || !errors.Is(err, c.why) {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
		if f != (hull.Floating{}) {
			t.Errorf("%s: an error and %+v", c.name, f)
		}
	}
}

func TestAtRefuses(t *testing.T) {
	h := build(t, box(6, 2, 1))
	for _, c := range [][3]float64{{math.NaN(), 0, 0}, {math.Inf(1), 0, 0}, {0.3, 1.2, 0}, {0.3, math.NaN(), 0},
		{0.3, 0, 4}, {0.3, 0, math.Inf(-1)}} {
		want := fmt.Sprintf("computing hydrostatics at draught %v m, trim %v, heel %v: give a draught in metres, a "+
			"trim below 60° and a heel up to 180°, in radians", c[0], c[1], c[2])
		if y, err := h.At(c[0], c[1], c[2]); err == nil || err.Error() != want || y != (hull.Hydrostatics{}) {
			t.Errorf("%v: %v, %v", c, y, err)
		}
	}
}

// A hull clear of the water, or wholly under it, has figures without NaN.
func TestDryAndDrowned(t *testing.T) {
	h := build(t, box(6, 2, 1))
	if y := at(t, h, -0.2, 0, 0); y != (hull.Hydrostatics{Draft: -0.2}) {
		t.Errorf("dry: %+v", y)
	}
	y := at(t, h, 3, 0, 0)
	near(t, "volume", y.Volume, h.Volume(), 1e-12)
	near(t, "waterplane", y.WaterplaneArea, 0, 0)
	near(t, "BMt", y.BMt, 0, 0)
	near(t, "KB", y.KB, 0.5, 1e-12)
}

func TestMasses(t *testing.T) {
	items := []hull.Item{
		{Name: "hull", Mass: 300, X: 2.2, Z: 0.4}, {Name: "bank", Mass: 100, X: 1.2, Y: 0.1, Z: 0.2}, {Name: "nothing"},
	}
	got := hull.Sum(items)
	if want := (hull.Load{Mass: 400, LCG: 1.95, TCG: 0.025, VCG: 0.35}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := hull.Sum(nil); got != (hull.Load{}) {
		t.Errorf("the sum of nothing is %+v", got)
	}
	grown := got.WithMargin(0.05, 0.02)
	near(t, "mass", grown.Mass, 420, 1e-9)
	near(t, "VCG", grown.VCG, 0.37, 1e-12)
	near(t, "LCG", grown.LCG, got.LCG, 0)
	for _, c := range []struct {
		item hull.Item
		want string
	}{
		{hull.Item{Name: "bank", Mass: -3}, "adding the mass of bank: -3 kg: give a number of kilograms, 0 or more"},
		{hull.Item{Name: "bank", Mass: math.NaN()},
			"adding the mass of bank: NaN kg: give a number of kilograms, 0 or more"},
		{hull.Item{Name: "bank", Mass: math.Inf(1)},
			"adding the mass of bank: +Inf kg: give a number of kilograms, 0 or more"},
		{hull.Item{Name: "bank", Mass: 3, Y: math.NaN()},
			"adding the mass of bank: its place 0, NaN, 0 m is not usable: give x from the aft end, y to starboard " +
				"and z above the base line in metres"},
	} {
		if err := c.item.Check(); err == nil || err.Error() != c.want {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
	if err := items[1].Check(); err != nil {
		t.Error(err)
	}
}

func TestFormulasRefuse(t *testing.T) {
	if _, ok := hull.HeelByShift(900, 0, 75, 1); ok {
		t.Error("a heel without GM")
	}
	if _, ok := hull.HeelAtZeroGM(900, 0, 75, 1); ok {
		t.Error("a heel without BM")
	}
	before := hull.Drafts{Aft: 0.4, Fore: 0.3}
	if d, ok := before.After(75, 1, 0, 10, 0.5); ok || d != before {
		t.Error("drafts without kg/cm")
	}
	if _, ok := before.After(75, 1, 50, 0, 0.5); ok {
		t.Error("drafts without a moment to trim")
	}
	for what, got := range map[string]float64{"BM": hull.BoxBM(2, 0), "MCT": hull.MCTC(900, 5, 0),
		"KB": hull.MorrishKB(0.4, 0.3, 0)} {
		near(t, what, got, 0, 0)
	}
}

package sample_test

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/sample"
	"ribband/core/pack"
	"ribband/core/spec"
)

// afloat is a boat as its figures describe it.
type afloat struct {
	t     *testing.T
	name  string
	e     *engine.Engine
	a     *engine.Answer
	lines []pack.Station
}

func (b *afloat) figure(id string) float64 {
	b.t.Helper()
	i := slices.IndexFunc(b.e.Pack.Figures, func(f pack.Figure) bool { return f.ID == id })
	if i < 0 {
		b.t.Fatalf("the demo book has no figure %s", id)
	}
	return b.a.Build.State.Figures[i]
}

func (b *afloat) use(id string) float64 {
	i := slices.IndexFunc(b.e.Pack.Use, func(u pack.UseField) bool { return u.ID == id })
	return b.a.Build.State.Use[i]
}

func (b *afloat) field(id string) float64 {
	i := slices.IndexFunc(b.e.Pack.HullFields, func(f pack.Field) bool { return f.ID == id })
	return b.a.Build.State.Hull[i]
}

func (b *afloat) has(options ...string) bool {
	return slices.ContainsFunc(options, func(id string) bool {
		i := slices.IndexFunc(b.e.Pack.Options, func(o pack.Option) bool { return o.ID == id })
		return b.a.Build.State.Counts[i] > 0
	})
}

// water is how far a point of the centre line lies under water, m, by the draughts to the base line at the two ends: a
// straight line.
func (b *afloat) water(x, z float64) float64 {
	aft, fore := b.lines[0].X, b.lines[len(b.lines)-1].X
	level := b.figure("draft_aft_m") + (b.figure("draft_fore_m")-b.figure("draft_aft_m"))*(x-aft)/(fore-aft)
	return (level - z) * math.Cos(b.figure("trim_deg")*math.Pi/180) * math.Cos(b.figure("heel_deg")*math.Pi/180)
}

func (b *afloat) want(what string, ok bool) {
	b.t.Helper()
	if !ok {
		b.t.Errorf("%s: %s", b.name, what)
	}
}

// Of every boat the figures of floating agree with each other, with the offsets and with what stands on it.
//
// Source: geometry; the loads are stated in package figures.
func (b *afloat) check() {
	b.t.Helper()
	f := b.figure
	b.want("displacement is not the masses and the persons",
		math.Abs(f("displacement_kg")-1.03*f("mass_kg")-80*b.use("persons")) < 1e-6)
	deep, high, low := 0.0, 0.0, math.Inf(1)
	for _, s := range b.lines {
		deep = max(deep, b.water(s.X, slices.Min(s.Z)))
		high, low = max(high, -b.water(s.X, s.Z[len(s.Z)-1])), min(low, -b.water(s.X, s.Z[len(s.Z)-1]))
	}
	b.want("the draught is less than to the keel", f("draft_m") > deep-0.003)
	b.want("the draught is far more than to the keel, and there is no leg or pod", b.has("drive-leg", "drive-pod") ||
		f("draft_m") < deep+0.02)
	b.want("the draught does not reach to the foot of the leg", !b.has("drive-leg", "drive-pod") ||
		f("draft_m") > deep+0.03)
	b.want("the freeboard is more than the sheer has", f("freeboard_m") <= low+0.002 && f("freeboard_m") > low-0.06)
	b.want("the height is less than that of the stem", f("air_draft_m") > high-0.002)
	if top := f("top_height_m"); top > 0 {
		b.want("the height is less than that of the top",
			f("air_draft_m") > -b.water(0.5*b.field("length_m"), b.field("depth_m")+top)-0.03)
	}
	if fixed := b.has("top-canopy", "top-hard", "top-solar"); fixed {
		b.want("a top that does not fold has a folded height", f("air_draft_down_m") == 0)
	}
	b.want("the boat is higher folded than not", f("air_draft_down_m") <= f("air_draft_m"))
	b.want("a folding top has no folded height", !b.has("top-folding") || f("air_draft_down_m") > 0)
	bridge := f("air_draft_m")
	if f("air_draft_down_m") > 0 {
		bridge = f("air_draft_down_m")
	}
	b.want("the boat does not pass under its bridge", len(b.a.Build.Clashes) > 0 || bridge <= b.use("bridge_m"))
	b.want("on the trailer it is lower than its stem",
		f("transport_height_m") >= b.field("trailer_base_m")+
			b.lines[len(b.lines)-1].Z[len(b.lines[len(b.lines)-1].Z)-1]-1e-9)
	b.want("water would come aboard above the deck edge", f("flooding_height_m") <= f("freeboard_m")+1e-9)
	for _, load := range []string{"offset", "boarding"} {
		b.want("with a load to one side there is more freeboard", f(load+"_freeboard_m") < f("freeboard_m"))
		b.want("with a load to one side the boat does not heel further", f(load+"_heel_deg") > math.Abs(f("heel_deg")))
		b.want("it heels beyond where it floods", f(load+"_heel_deg") <= f("flooding_deg")+1)
	}
	b.want("the thruster is dry", len(b.a.Build.Clashes) > 0 || !b.has("bow-thruster-tunnel") || f("immersion_m") >= 0)
}

func look(t *testing.T, e *engine.Engine, name string, s spec.Spec) {
	t.Helper()
	a, err := e.Answer(s)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(a.Build.State.Faults) > 0 {
		t.Errorf("%s: faults %q", name, a.Build.State.Faults)
		return
	}
	b := &afloat{t: t, name: name, e: e, a: a, lines: e.Pack.Hulls[a.Hull].Offsets}
	b.check()
}

func TestSpecsAfloat(t *testing.T) {
	e := demo()[pack.Yard]
	names, err := filepath.Glob("../../../testdata/specs/*.json")
	if err != nil || len(names) < 10 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := spec.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		look(t, e, filepath.Base(name), s)
	}
}

func TestBoatsAfloat(t *testing.T) {
	e := demo()[pack.Yard]
	for s := range sample.Boats(e, *boats, rand.New(rand.NewPCG(5, 6))) {
		look(t, e, string(s.Encode()), s)
	}
}

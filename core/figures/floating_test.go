package figures_test

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/publish"
)

// demo is the yard's pack of the demo book, loaded once.
var demo = func() *pack.Pack {
	packs, _, problems, err := publish.Load(os.DirFS("../../rules"))
	if err != nil || len(problems) > 0 {
		panic("the demo book does not load")
	}
	return packs[pack.Yard]
}()

// standard is the state of a hull's standard build with its figures.
func standard(t *testing.T, f *figures.Figures, hull int) *formula.State {
	t.Helper()
	use := make([]float64, len(demo.Use))
	for i, u := range demo.Use {
		use[i] = u.Standard
	}
	st := figures.NewState(demo, hull, use)
	for _, n := range demo.Hulls[hull].Standard {
		o := &demo.Options[n.Option]
		if when := demo.Slots[o.Slot].When; when.Empty() || when.Truth()(st) {
			st.Counts[n.Option] += n.Count
			st.Slots[o.Slot] += n.Count
		}
	}
	f.Fill(st)
	return st
}

func compiled(t *testing.T, p *pack.Pack) *figures.Figures {
	t.Helper()
	f, err := figures.Compile(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func figure(t *testing.T, st *formula.State, id string) float64 {
	t.Helper()
	for i, f := range demo.Figures {
		if f.ID == id {
			return st.Figures[i]
		}
	}
	t.Fatalf("the demo book has no figure %s", id)
	return 0
}

func setUse(t *testing.T, st *formula.State, id string, v float64) {
	t.Helper()
	for i, u := range demo.Use {
		if u.ID == id {
			st.Use[i] = v
			return
		}
	}
	t.Fatalf("the demo book has no use %s", id)
}

// The displacement is the sum of the mass table with the margin of 3 %, and persons at 80 kg each with their things.
// Source: Archimedes' principle; the loading is our own, said in the docstrings.
func TestFloatingDisplacesTheMassTable(t *testing.T) {
	f := compiled(t, demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		items := compiled(t, demo).MassTable(st)
		light := 0.0
		for _, it := range items[:len(items)-1] {
			light += it.Mass
		}
		persons := items[len(items)-1]
		if math.Abs(light-figure(t, st, "mass_kg")) > 1e-9*light {
			t.Errorf("%s: the mass table adds up to %v, the figure is %v", demo.Hulls[h].ID, light,
				figure(t, st, "mass_kg"))
		}
		if want := 1.03*light + persons.Mass; math.Abs(figure(t, st, "displacement_kg")-want) > 1e-9*want ||
			persons.Mass != 4*80 {
			t.Errorf("%s: displacement %v, want %v with persons of %v", demo.Hulls[h].ID,
				figure(t, st, "displacement_kg"), want, persons.Mass)
		}
		hull, err := figures.NewHull(&demo.Hulls[h])
		if err != nil {
			t.Fatal(err)
		}
		draft := (figure(t, st, "draft_aft_m") + figure(t, st, "draft_fore_m")) / 2
		y, err := hull.Upright(draft*math.Cos(0), figure(t, st, "trim_deg")*math.Pi/180)
		if err != nil {
			t.Fatal(err)
		}
		if got := y.Displacement(1000); math.Abs(got-figure(t, st, "displacement_kg")) > 0.005*got {
			t.Errorf("%s: at the draft and trim found she displaces %v kg of fresh water, want %v", demo.Hulls[h].ID,
				got, figure(t, st, "displacement_kg"))
		}
	}
}

// Directions that every textbook gives: more persons sink her, salt water lifts her, a bank off the centre line heels
// her.
func TestFloatingGoesTheRightWay(t *testing.T) {
	f := compiled(t, demo)
	st := standard(t, f, 2)
	freeboard, draft := figure(t, st, "freeboard_m"), figure(t, st, "draft_m")
	setUse(t, st, "persons", 8)
	f.Fill(st)
	if figure(t, st, "freeboard_m") >= freeboard || figure(t, st, "draft_m") <= draft {
		t.Errorf("with eight persons the freeboard is %v after %v", figure(t, st, "freeboard_m"), freeboard)
	}
	sunk := figure(t, st, "draft_aft_m") + figure(t, st, "draft_fore_m")
	setUse(t, st, "water", 1) // salt
	f.Fill(st)
	if got := figure(t, st, "draft_aft_m") + figure(t, st, "draft_fore_m"); got >= sunk {
		t.Errorf("in salt water the drafts add up to %v after %v", got, sunk)
	}
}

// A boat that cannot float says so, and its figures are zero, not NaN.
func TestTooHeavyIsAFault(t *testing.T) {
	f := compiled(t, demo)
	st := standard(t, f, 0)
	setUse(t, st, "persons", 400)
	f.Fill(st)
	if len(st.Faults) == 0 || !st.Faults[0].Same(formula.Fault{Code: figures.TooHeavy}) {
		t.Errorf("faults %v", st.Faults)
	}
	if got := figure(t, st, "freeboard_m"); got != 0 {
		t.Errorf("freeboard %v", got)
	}
}

// Range is speed times endurance, falls with speed, and grows with the bank.
// Source: definition of range at constant speed (R = usable energy / power × speed).
func TestPower(t *testing.T) {
	f := compiled(t, demo)
	st := standard(t, f, 2)
	last := math.Inf(1)
	for _, speed := range []float64{3, 3.5, 4, 4.5, 5, 5.5} {
		setUse(t, st, "speed_kn", speed)
		f.Fill(st)
		got := figure(t, st, "range_nm")
		if want := speed * figure(t, st, "endurance_h"); math.Abs(got-want) > 1e-9*want || got >= last || got <= 0 {
			t.Errorf("at %v kn the range is %v, want %v and less than %v", speed, got, want, last)
		}
		last = got
	}
	setUse(t, st, "speed_kn", 9)
	f.Fill(st)
	if got := figure(t, st, "range_nm"); got != 0 {
		t.Errorf("beyond her trial the range is %v", got)
	}
	if curve, ok := compiled(t, demo).RangeCurve(st, 12); !ok || len(curve) != 12 {
		t.Errorf("the range curve has %d points, %v", len(curve), ok)
	}
}

// The speed for a range wanted has that range and no more; there is none where no range is wanted, or none has it.
func TestSpeedForRange(t *testing.T) {
	f := compiled(t, demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		if got := figure(t, st, "speed_for_range_kn"); got != 0 {
			t.Errorf("%s: without a range wanted the speed is %v", demo.Hulls[h].ID, got)
		}
		setUse(t, st, "speed_kn", 3)
		f.Fill(st)
		wanted := math.Floor(figure(t, st, "range_nm"))
		setUse(t, st, "range_nm", wanted)
		f.Fill(st)
		speed := figure(t, st, "speed_for_range_kn")
		setUse(t, st, "speed_kn", speed)
		f.Fill(st)
		if got := figure(t, st, "range_nm"); speed < 3 || got < wanted || got > wanted+0.05 {
			t.Errorf("%s: %v nm are wanted; at %v kn the range is %v", demo.Hulls[h].ID, wanted, speed, got)
		}
		setUse(t, st, "range_nm", 10000)
		f.Fill(st)
		if got := figure(t, st, "speed_for_range_kn"); got != 0 || len(st.Faults) > 0 {
			t.Errorf("%s: the speed for a range out of reach is %v, with faults %v", demo.Hulls[h].ID, got, st.Faults)
		}
	}
}

// The yield by month is that of the figure in July, and least in December.
func TestSolarYield(t *testing.T) {
	f := compiled(t, demo)
	st := standard(t, f, 3)
	if _, _, ok := compiled(t, demo).SolarYield(st); ok {
		t.Error("a boat without panels has a yield")
	}
	for i := range demo.Figures {
		if demo.Figures[i].ID == "solar_w" {
			st.Figures[i] = 560
		}
	}
	kwh, source, ok := compiled(t, demo).SolarYield(st)
	if !ok || math.Abs(kwh[6]-0.56*5.2*0.7) > 0.1 || slices.Min(kwh[:]) != kwh[11] ||
		!strings.Contains(source.String(), "52.5° north") {
		t.Errorf("the yield is %v, %v, %s", kwh, ok, source)
	}
	f.Fill(st)
}

// No random boat of the demo book has a figure that is not finite.
func TestFiguresAreFinite(t *testing.T) {
	f := compiled(t, demo)
	rapid.Check(t, func(rt *rapid.T) {
		use := make([]float64, len(demo.Use))
		for i := range demo.Use {
			use[i] = demo.Use[i].Value(rapid.IntRange(0, demo.Use[i].Steps()-1).Draw(rt, demo.Use[i].ID))
		}
		st := figures.NewState(demo, rapid.IntRange(0, len(demo.Hulls)-1).Draw(rt, "hull"), use)
		for range rapid.IntRange(0, 60).Draw(rt, "options") {
			o := rapid.IntRange(0, len(demo.Options)-1).Draw(rt, "option")
			st.Counts[o]++
			st.Slots[demo.Options[o].Slot]++
		}
		f.Fill(st)
		for i, v := range st.Figures {
			if !formula.Finite(v) {
				rt.Fatalf("figure %s is %v", demo.Figures[i].ID, v)
			}
		}
	})
}

// BenchmarkFigures times all figures of one spec.
func BenchmarkFigures(b *testing.B) {
	f, err := figures.Compile(demo)
	if err != nil {
		b.Fatal(err)
	}
	use := make([]float64, len(demo.Use))
	for i, u := range demo.Use {
		use[i] = u.Standard
	}
	for h := range demo.Hulls {
		st := figures.NewState(demo, h, use)
		for _, n := range demo.Hulls[h].Standard {
			st.Counts[n.Option] += n.Count
		}
		b.Run(demo.Hulls[h].ID, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				f.Fill(st)
			}
		})
	}
}

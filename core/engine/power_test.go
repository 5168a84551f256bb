package engine_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/figures"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

func hullField(t *testing.T, e *engine.Engine, a *engine.Answer, id string) float64 {
	t.Helper()
	i := slices.IndexFunc(e.Pack.HullFields, func(f pack.Field) bool { return f.ID == id })
	if i < 0 {
		t.Fatalf("the book has no hull field %s", id)
	}
	return a.Build.State.Hull[i]
}

// What is built into a boat follows from one place: shell and bottom from the offsets, the core of the deck and its
// inner skin from one area, catalyst from resin and gelcoat (1.5 to 2.5 % of the weight: common practice, no source),
// the shaft from where motor and propeller are.
func TestMaterialsFollowFromOnePlace(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	shafts := 0
	for name, s := range enginetest.ManyBoats(t, e, 7) {
		a := enginetest.Answer(t, e, s)
		if len(a.Build.State.Faults) > 0 {
			continue
		}
		sheet := sheet.ForYard(e, a, quote.Details{})
		of := func(ids ...string) (sum float64) {
			for _, m := range sheet.Materials {
				if slices.ContainsFunc(ids, func(id string) bool { return strings.HasPrefix(m.Material, id) }) {
					sum += m.BuiltIn.Float()
				}
			}
			return sum
		}
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-3*math.Max(1, want) {
				t.Errorf("%s: %s is %g, want %g", name, what, got, want)
			}
		}
		if share := of("catalyst-mekp") / of("resin-iso", "resin-ortho", "gelcoat-"); share < 0.015 || share > 0.025 {
			t.Errorf("%s: catalyst is %.2f %% of resin and gelcoat", name, 100*share)
		}
		core := hullField(t, e, a, "deck_core_m2")
		near("core of the deck", of("core-pvc-10"), core)
		for _, l := range sheet.Laminates.Rows {
			if l.Title == "Inner skin over the core of the deck" {
				near("inner skin", l.AreaM2, core)
			}
		}
		if coats := of("antifouling-", "coating-copper-free"); coats > 0 {
			near("antifouling, 2.5 coats of 9 m² a litre", coats, 2.5*hullField(t, e, a, "bottom_m2")/9)
		}
		if steel := of("shaft-stainless-25"); steel > 0 {
			shafts++
			near("shaft", steel, enginetest.FigureOf(t, e, a, "motor_x_m")-enginetest.FigureOf(t, e, a,
				"propeller_x_m")+0.3)
		}
		if persons := enginetest.FigureOf(t, e, a, "us_persons"); persons > hullField(t, e, a, "persons") {
			t.Errorf("%s: the label says %g persons", name, persons)
		}
	}
	if shafts < 4 {
		t.Errorf("only %d boats have a shaft", shafts)
	}
}

// The dimensions of the demo book are those of its offsets: the pack's fields are what the hull measures, to the
// millimetre.
func TestFieldsAreMeasured(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for h := range e.Pack.Hulls {
		made, err := figures.NewHull(&e.Pack.Hulls[h])
		if err != nil {
			t.Fatal(err)
		}
		field := func(id string) float64 {
			return e.Pack.Hulls[h].Fields[slices.IndexFunc(e.Pack.HullFields,
				func(f pack.Field) bool { return f.ID == id })]
		}
		x, err := made.Extents(field("draft_m"), field("boot_top_m"))
		if err != nil {
			t.Fatal(err)
		}
		for id, want := range map[string]float64{"length_m": x.Length, "beam_m": x.Beam, "depth_m": x.Depth,
			"shell_m2": x.Shell, "bottom_m2": x.Bottom, "waterline_m": x.Waterline, "gunwale_m": x.Gunwale} {
			if math.Abs(field(id)-want) > 0.0005001 {
				t.Errorf("%s: %s is %v, by the offsets %v", e.Pack.Hulls[h].ID, id, field(id), want)
			}
		}
	}
}

// shortened is the demo book's engine with trials that end at a speed.
func shortened(t *testing.T, speed float64) *engine.Engine {
	t.Helper()
	p := *enginetest.Demo()[pack.Yard].Pack
	p.Hulls = slices.Clone(p.Hulls)
	for i := range p.Hulls {
		trial := *p.Hulls[i].Trial
		n := slices.Index(trial.SpeedKn, speed) + 1
		trial.SpeedKn, trial.PowerW = trial.SpeedKn[:n], trial.PowerW[:n]
		p.Hulls[i].Trial = &trial
	}
	e, err := engine.Compile(&p)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func value(t *testing.T, e *engine.Engine, a *engine.Answer, id string) engine.Value {
	t.Helper()
	i := slices.IndexFunc(e.Pack.Figures, func(f pack.Figure) bool { return f.ID == id })
	return e.FigureValue(a.Build.State, i, measure.Sea)
}

func noted(v engine.Value, code engine.NoteCode) bool {
	return slices.ContainsFunc(v.Notes, func(n engine.Note) bool { return n.Code == code })
}

// Once the greatest speed was the end of the trial table, and a motor of 15 kW showed no more than one of 6. A larger
// motor is faster, and where the table still ends first, page, papers and JSON say at least.
func TestTopSpeedIsTheMotorsOrSaysAtLeast(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	s := enginetest.DemoSpecs(t)["osier-76-plainest"]
	last := 0.0
	for _, motor := range []string{"motor-48-6", "motor-48-10", "motor-48-15"} {
		s.Choices = map[string]map[string]int{"motor": {motor: 1}, "bank": {"bank-lfp-30": 1}}
		a := enginetest.Answer(t, e, s)
		v := value(t, e, a, "top_speed_kn")
		if now := enginetest.FigureOf(t, e, a, "top_speed_kn"); now < last+0.2 || v.State == engine.AtLeast {
			t.Errorf("%s: %v kn (%s) after %v", motor, now, v.State, last)
		} else {
			last = now
		}
	}
	for name, s := range enginetest.ManyBoats(t, e, 7) {
		if v := value(t, e, enginetest.Answer(t, e, s), "top_speed_kn"); v.State == engine.AtLeast {
			t.Errorf("%s: the trial ends before the motor does", name)
		}
	}
	short := shortened(t, 5)
	a := enginetest.Answer(t, short, s)
	const words = "at least, as the trial of this hull ends there"
	if v := value(t, short, a, "top_speed_kn"); *v.Number != 5 || v.Digits != 1 || v.State != engine.AtLeast ||
		!strings.HasSuffix(v.Message().String(), ", "+words) {
		t.Errorf("with a trial up to 5 kn: %+v", v)
	}
	q := quote.Draft(short, a)
	text, err := json.Marshal(q)
	if err != nil || !strings.Contains(string(text), `"state":"at-least"`) {
		t.Errorf("the JSON does not say at least: %v", err)
	}
	printed, err := paper.Papers[0].Write(&paper.Source{Quote: q}, paper.AsText)
	if err != nil || !strings.Contains(strings.Join(strings.Fields(string(printed)), " "), words) {
		t.Error("the paper does not say at least")
	}
}

// A boat much heavier than the one on trial says so beside range and speed, and beside nothing else.
func TestHeavierThanOnTrialIsSaid(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	said := 0
	for name, s := range enginetest.ManyBoats(t, e, 7) {
		a := enginetest.Answer(t, e, s)
		if len(a.Build.State.Faults) > 0 {
			continue
		}
		share := enginetest.FigureOf(t, e, a,
			"displacement_kg")/e.Pack.Hulls[a.Build.State.HullID].Trial.DisplacementKg - 1
		for i, f := range e.Pack.Figures {
			v := e.FigureValue(a.Build.State, i, measure.Sea)
			follows := f.ID == "range_nm" || f.ID == "top_speed_kn" || f.ID == "speed_for_range_kn"
			if want := follows && share > 0.15 &&
				a.Build.State.Figures[i] != 0; noted(v, engine.BeyondTrial) != want {
				t.Errorf("%s, %.3f over the trial: %s says %v", name, share, f.ID, v.Notes)
			} else if want {
				said++
			}
		}
	}
	if said == 0 {
		t.Error("no boat is heavier than on trial: this test needs one")
	}
}

// The sun is in range and endurance: what the panels bring between sunrise and sunset of a mean day of July, for the
// hours under way; the reserve does without. A region with less sun has less range. Source: energy balance.
func TestSunIsInTheRange(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	s := enginetest.DemoSpecs(t)["osier-76-plainest"]
	s.Choices = map[string]map[string]int{"top": {"top-solar": 1}}
	at := func(region string, hours float64) map[string]float64 {
		s.Use = map[string]spec.Value{"region": {Choice: region}, "hours": {Number: hours}, "speed_kn": {Number: 4.5}}
		a := enginetest.Answer(t, e, s)
		out := map[string]float64{}
		for _, id := range []string{"range_nm", "endurance_h", "reserve_nm", "demand_w", "solar_kwh", "solar_w"} {
			out[id] = enginetest.FigureOf(t, e, a, id)
		}
		return out
	}
	short, long := at("de", 1), at("de", 4)
	if v := value(t, e, enginetest.Answer(t, e, s), "range_nm"); !noted(v, engine.WithSun) {
		t.Errorf("the range does not say that the sun is in it: %+v", v)
	}
	if short["solar_w"] == 0 {
		t.Fatal("the boat has no panels")
	}
	// Daylight of 17 July at 52.5° N is 16.2 h (FAO-56, equation 34; almanacs give 16.4 h with refraction).
	gain := (long["endurance_h"] - short["endurance_h"]) * long["demand_w"] / 1000
	if want := long["solar_kwh"] / 16.2 * 3; math.Abs(gain-want) > 0.02*want {
		t.Errorf("three hours of sun more bring %.3f kWh, want %.3f", gain, want)
	}
	if math.Abs(long["range_nm"]-4.5*long["endurance_h"]) > 1e-9 || long["reserve_nm"] != short["reserve_nm"] {
		t.Errorf("range and reserve: %v after %v", long, short)
	}
	if britain := at("gb", 4); britain["range_nm"] >= long["range_nm"] || britain["solar_kwh"] >= long["solar_kwh"] {
		t.Errorf("less sun brings as much: %v, in Germany %v", britain, long)
	}
}

package hull_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"

	"ribband/core/hull"
)

// hydrostaticCase is one case of testdata/hydrostatics.json, which names the source of each.
type hydrostaticCase struct {
	ID, Kind, Source, Status, Note string
	Inputs, Expected               map[string]any
	Tolerance                      map[string]float64
}

const (
	tonne   = 1000.0
	longTon = 2240 * hull.Pound
)

// runner holds one case and checks values by name.
type runner struct {
	*testing.T
	c    hydrostaticCase
	seen map[string]bool
}

func (r *runner) in(name string) float64 {
	r.Helper()
	v, ok := r.c.Inputs[name].(float64)
	if !ok {
		r.Fatalf("input %s is %v, want a number", name, r.c.Inputs[name])
	}
	return v
}

func (r *runner) list(name string) []float64 {
	r.Helper()
	values, ok := r.c.Inputs[name].([]any)
	if !ok {
		r.Fatalf("input %s is %v, want numbers", name, r.c.Inputs[name])
	}
	var out []float64
	for _, v := range values {
		out = append(out, v.(float64))
	}
	return out
}

func (r *runner) want(name string, got ...float64) {
	r.Helper()
	r.seen[name] = true
	wants, ok := r.c.Expected[name].([]any)
	if !ok {
		wants = []any{r.c.Expected[name]}
	}
	if len(wants) != len(got) {
		r.Fatalf("%s: %v, want %v", name, got, wants)
	}
	for i := range got {
		near(r.T, name, got[i], wants[i].(float64), r.c.Tolerance[name])
	}
}

func TestPublishedCases(t *testing.T) {
	text, err := os.ReadFile("../../testdata/hydrostatics.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Note, How string
		Statuses  map[string]string
		Cases     []hydrostaticCase
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		t.Run(c.ID, func(t *testing.T) {
			if c.Source == "" || file.Statuses[c.Status] == "" {
				t.Errorf("source %q, status %q: want both", c.Source, c.Status)
			}
			run, ok := kinds[c.Kind]
			if !ok {
				t.Fatalf("kind %q has no runner", c.Kind)
			}
			r := &runner{t, c, map[string]bool{}}
			run(r)
			for name := range c.Expected {
				if !r.seen[name] {
					t.Errorf("%s is expected but not checked", name)
				}
			}
		})
	}
	if len(file.Cases) != 27 {
		t.Errorf("%d cases, want 27", len(file.Cases))
	}
}

var kinds = map[string]func(*runner){
	"box-heel": func(r *runner) {
		l, b, t := r.in("length"), r.in("beam"), r.in("draft")
		var heels, freeboards []float64
		for i, gm := range r.list("gm") {
			f := float(r, build(r, box(l, b, r.in("depth"))),
				hull.Load{Mass: 1000 * l * b * t, LCG: l / 2, TCG: r.list("tcg")[i], VCG: t/2 + hull.BoxBM(b, t) - gm},
				hull.FreshWater)
			heels, freeboards = append(heels, f.Heel*180/math.Pi), append(freeboards, f.Freeboard.Height)
		}
		r.want("heel", heels...)
		r.want("freeboard", freeboards...)
	},
	"box-flooding": func(r *runner) {
		l, b, t := r.in("length"), r.in("beam"), r.in("draft")
		opening := []hull.Point{{X: l / 2, Y: r.in("opening_y"), Z: r.in("opening_z")}}
		for what, c := range map[string]struct {
			openings []hull.Point
			sign     float64
		}{"deck_edge": {nil, 1}, "opening": {opening, 1}, "other_side": {opening, -1}} {
			h := build(r, box(l, b, r.in("depth")))
			heel := h.FloodingAngle(float(r, h, hull.Load{Mass: 1000 * l * b * t, LCG: l / 2, VCG: 0.5},
				hull.FreshWater), c.openings, c.sign)
			r.want(what, heel*180/math.Pi)
		}
	},
	"waterplane": func(r *runner) { r.want("area", hull.Waterplane(r.in("length"), r.in("beam"), r.in("cwp"))) },
	"immersion": func(r *runner) {
		area := hull.Waterplane(r.in("length"), r.in("beam"), r.in("cwp"))
		var tpc []float64
		for _, d := range r.list("densities") {
			tpc = append(tpc, hull.TPC(area, d*1000)/tonne)
		}
		r.want("tpc", tpc...)
	},
	"half-ordinates":   halfOrdinates,
	"list":             list,
	"box":              boxBarge,
	"wall-sided":       wallSided,
	"box list":         boxList,
	"zero GM":          zeroGM,
	"loading":          loading,
	"shift to draft":   shiftToDraft,
	"trim moment":      trimMoment,
	"lever in feet":    leverInFeet,
	"box in feet":      boxInFeet,
	"shift in feet":    shiftInFeet,
	"launch immersion": launchImmersion,
	"launch trim":      launchTrim,
	"pounds per inch":  poundsPerInch,
	"morrish": func(r *runner) {
		var kb []float64
		for _, f := range r.c.Inputs["forms"].([]any) {
			kb = append(kb, hull.MorrishKB(r.in("draft"), f.([]any)[0].(float64), f.([]any)[1].(float64)))
		}
		r.want("kb", kb...)
	},
	"inertia": func(r *runner) {
		l, b := r.in("length"), r.in("beam")
		i := hull.WaterplaneInertia(l, b, r.in("cwp"))
		r.want("factor", i*12/(l*b*b*b))
		r.want("inertia", i)
	},
	"densities": func(r *runner) {
		var d []float64
		for _, lb := range r.list("pounds_per_cubic_foot") {
			d = append(d, lb*hull.Pound/math.Pow(hull.Foot, 3))
		}
		r.want("kg_per_m3", d...)
		near(r.T, "fresh water of US rules", hull.FreshWaterUS, d[1], 1e-9)
		near(r.T, "salt water", hull.SaltWater, d[0], 0.2)
	},
}

// halfOrdinates stands the waterplane up as a wall-sided hull, so that the integrals are those of the package.
func halfOrdinates(r *runner) {
	y := r.list("half_ordinates_from_forward")
	n := len(y) - 1
	o := stations(n+1, r.in("length"), func(s float64) (z, half []float64) {
		v := y[n-int(math.Round(s*float64(n)))]
		return []float64{0, 1, 2}, []float64{v, v, v}
	})
	at := at(r, build(r, o), 1, 0, 0)
	r.want("area", at.WaterplaneArea)
	r.want("tpc", at.TPC(r.in("density")*1000)/tonne)
	r.want("aft_of_midship", r.in("length")/2-at.LCF)
}

// list is the heel after a mass is moved across, perhaps after another was lowered.
func list(r *runner) {
	kg := r.in("kg")
	if _, ok := r.c.Inputs["lowered"]; ok {
		kg -= r.in("lowered") * r.in("by") / r.in("mass")
		r.want("kg", kg)
		r.want("gm", hull.MetacentricHeight(0, r.in("km"), kg))
	}
	heel, ok := hull.HeelByShift(r.in("mass")*tonne, r.in("km")-kg, r.in("moved")*tonne, r.in("distance"))
	if !ok {
		r.Fatal("no heel")
	}
	r.want("heel", heel*180/math.Pi)
}

// boxBarge checks the closed forms and the hull itself: its KM is least at the draft named.
func boxBarge(r *runner) {
	b := r.in("beam")
	r.want("least_km", hull.BoxLeastKM(b))
	r.want("bm", hull.BoxBM(b, r.in("draft")))
	h := build(r, box(40, b, 8))
	km := func(draft float64) float64 { y := at(r, h, draft, 0, 0); return y.KB + y.BMt }
	least := hull.BoxLeastKM(b)
	r.want("at_draft", least)
	near(r.T, "KM of the hull", km(least), least, 1e-9)
	near(r.T, "BM of the hull", at(r, h, r.in("draft"), 0, 0).BMt, hull.BoxBM(b, r.in("draft")), 1e-9)
	if !(km(least-0.01) > km(least)) || !(km(least+0.01) > km(least)) {
		r.Errorf("KM of the hull is not least at %v", least)
	}
}

func wallSided(r *runner) {
	gm := hull.MetacentricHeight(r.in("kb"), r.in("bm"), r.in("kg"))
	var gz, moment []float64
	for _, d := range r.list("heels") {
		g := hull.WallSidedGZ(gm, r.in("bm"), degrees(d))
		gz, moment = append(gz, g), append(moment, g*r.in("mass"))
	}
	r.want("gz", gz...)
	r.want("moment", moment...)
}

// boxList floats the box as a hull, for which the wall-sided formula is exact; at the small heel the source uses GM·sin
// φ.
func boxList(r *runner) {
	h := build(r, box(r.in("length"), r.in("beam"), r.in("depth")))
	mass := r.in("length") * r.in("beam") * r.in("draft") * r.in("density")
	r.want("mass", mass)
	load := hull.Load{Mass: mass * tonne, LCG: r.in("length") / 2, VCG: r.in("kg")}
	f := float(r, h, load, r.in("density")*1000)
	near(r.T, "draft", f.Draft, r.in("draft"), 1e-9)
	r.want("bm", f.BMt)
	r.want("km", f.KB+f.BMt)
	r.want("gm", f.GMt)
	small, large := degrees(r.in("small")), degrees(r.in("large"))
	r.want("small_moment", hull.SmallAngleGZ(f.GMt, small)*mass)
	r.want("large_moment", hull.WallSidedGZ(f.GMt, f.BMt, large)*mass)
	levers, err := h.RightingLevers(load, r.in("density")*1000, []float64{small, large})
	if err != nil {
		r.Fatal(err)
	}
	for _, l := range levers {
		near(r.T, "lever of the hull", l.GZ, hull.WallSidedGZ(f.GMt, f.BMt, l.Heel), 1e-9)
	}
}

func zeroGM(r *runner) {
	heel, ok := hull.HeelAtZeroGM(r.in("mass"), r.in("km")-r.in("kb"), r.in("moved"), r.in("distance"))
	if !ok {
		r.Fatal("no heel")
	}
	r.want("heel", heel*180/math.Pi)
}

func loading(r *runner) {
	before := hull.Drafts{Aft: r.in("aft"), Fore: r.in("fore")}
	after, ok := before.After(r.in("mass")*tonne, r.in("forward"), r.in("tpc")*tonne, r.in("mct")*tonne, 0.5)
	if !ok {
		r.Fatal("no drafts")
	}
	r.want("rise", 100*(before.Aft+before.Fore-after.Aft-after.Fore)/2)
	r.want("trim", 100*(after.Trim()-before.Trim()))
	r.want("fore", after.Fore)
	r.want("aft", after.Aft)
}

func shiftToDraft(r *runner) {
	d := hull.Drafts{Aft: r.in("aft"), Fore: r.in("fore")}
	mass := 2 * 100 * (d.Aft - r.in("wanted_aft")) * r.in("mct") / r.in("distance")
	r.want("mass", mass)
	after, ok := d.AfterShift(mass*tonne, r.in("distance"), r.in("mct")*tonne, 0.5)
	if !ok {
		r.Fatal("no drafts")
	}
	near(r.T, "aft", after.Aft, r.in("wanted_aft"), 1e-9)
	r.want("fore", after.Fore)
}

// perCm turns a moment in long tons × feet for an inch into kg·m for a centimetre.
func perCm(itm float64) float64 { return itm * longTon * hull.Foot / 2.54 }

func trimMoment(r *runner) {
	moment := r.in("inches") * 2.54 * perCm(r.in("itm")) / (longTon * hull.Foot)
	r.want("moment", moment)
	r.want("distance", moment/r.in("mass"))
	after, _ := hull.Drafts{}.AfterShift(r.in("mass")*longTon, moment/r.in("mass")*hull.Foot, perCm(r.in("itm")), 0.5)
	near(r.T, "inches by the bow", -after.Trim()/hull.Inch, r.in("inches"), 1e-9)
}

func leverInFeet(r *runner) {
	gz := hull.SmallAngleGZ((r.in("km")-r.in("kg"))*hull.Foot, degrees(r.in("heel"))) / hull.Foot
	r.want("gz", gz)
	r.want("moment", gz*r.in("mass"))
}

func boxInFeet(r *runner) {
	b, draft := r.in("beam")*hull.Foot, r.in("draft")*hull.Foot
	y := at(r, build(r, box(50, b, 10)), draft, 0, 0)
	r.want("bm", y.BMt/hull.Foot)
	r.want("km", (y.KB+y.BMt)/hull.Foot)
	salt := longTon / (35 * math.Pow(hull.Foot, 3))
	y = at(r, build(r, box(r.in("length")*hull.Foot, r.in("width")*hull.Foot, 10)), draft, 0, 0)
	r.want("tpi", y.PoundsPerInch(salt)/2240)
}

func shiftInFeet(r *runner) {
	d := r.in("draft") * hull.Foot
	after, ok := hull.Drafts{Aft: d, Fore: d}.AfterShift(r.in("mass")*longTon, -r.in("distance")*hull.Foot,
		perCm(r.in("itm")), 0.5)
	if !ok {
		r.Fatal("no drafts")
	}
	r.want("inches", after.Trim()/hull.Inch)
	r.want("aft", after.Aft/hull.Foot)
	r.want("fore", after.Fore/hull.Foot)
}

func launchImmersion(r *runner) {
	r.want("salt", hull.TPC(r.in("area"), hull.SaltWater))
	r.want("fresh", hull.TPC(r.in("area"), hull.FreshWater))
}

func launchTrim(r *runner) {
	mct := hull.MCTC(r.in("mass"), r.in("gml"), r.in("length"))
	r.want("mct", mct)
	after, ok := hull.Drafts{}.AfterShift(r.in("moved"), -r.in("distance"), mct, 0.5)
	if !ok {
		r.Fatal("no drafts")
	}
	r.want("trim", after.Trim()*100)
}

func poundsPerInch(r *runner) {
	var ppi []float64
	for _, d := range r.list("densities") {
		ppi = append(ppi, hull.PoundsPerInch(r.in("area")*hull.Foot*hull.Foot, d*hull.Pound/math.Pow(hull.Foot, 3)))
	}
	r.want("ppi", ppi...)
}

package capacity_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/capacity"
	"ribband/core/msg"
)

var bad = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e9}

var fair = capacity.Weights{DisplacementKG: 2800, HullKG: 400, MotorKG: 40, DriveKG: 25, ControlsKG: 15, BatteryKG: 200}

// Each number in turn is replaced by what cannot be; the message names it and says what to do.
func TestWeightRefuses(t *testing.T) {
	for name, change := range map[string]func(*capacity.Weights, float64){
		"the maximum displacement": func(w *capacity.Weights, x float64) { w.DisplacementKG = x },
		"the hull":                 func(w *capacity.Weights, x float64) { w.HullKG = x },
		"the fuel":                 func(w *capacity.Weights, x float64) { w.FuelKG = x },
		"the motor":                func(w *capacity.Weights, x float64) { w.MotorKG = x },
		"the drive":                func(w *capacity.Weights, x float64) { w.DriveKG = x },
		"the control equipment":    func(w *capacity.Weights, x float64) { w.ControlsKG = x },
		"the batteries":            func(w *capacity.Weights, x float64) { w.BatteryKG = x },
	} {
		for _, x := range bad {
			w := fair
			change(&w, x)
			_, err := capacity.MaximumWeight(launch, w, capacity.Handbook)
			wantError(t, err, "working out the maximum weight capacity: "+name+" is ", "in kilograms")
		}
	}
	sunk := fair
	sunk.DisplacementKG = 680
	for _, r := range []capacity.Reading{capacity.Handbook, capacity.Literal} {
		_, err := capacity.MaximumWeight(launch, sunk, r)
		wantError(t, err, "weighs 680.0 kg by itself", "no capacity", "raise the sheer")
	}
	none := fair
	none.DisplacementKG = 681
	_, err := capacity.MaximumWeight(launch, none, capacity.Handbook)
	wantError(t, err, "nothing to mark", "lighten")
	_, err = capacity.MaximumWeight(launch, fair, capacity.Reading(7))
	wantError(t, err, "no reading 7", "Handbook or Literal")
	empty := fair
	empty.HullKG = 0
	_, err = capacity.MaximumWeight(launch, empty, capacity.Handbook)
	wantError(t, err, "the hull weighs nothing")
}

// A bank so heavy that the letter of the rule would load the boat till water comes aboard is marked as such.
func TestLiteralReadingOfAHeavyBank(t *testing.T) {
	w := capacity.Weights{DisplacementKG: 1400, HullKG: 300, MotorKG: 30, BatteryKG: 1000}
	got, err := capacity.MaximumWeight(launch, w, capacity.Literal)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Notes) != 1 || !strings.Contains(got.Notes[0].String(), "let water aboard") {
		t.Errorf("%v", got.Notes)
	}
	if got, err := capacity.MaximumWeight(launch, w, capacity.Handbook); err != nil || len(got.Notes) != 0 {
		t.Errorf("%v, %v", got.Notes, err)
	}
}

func TestCoverRefuses(t *testing.T) {
	for _, x := range append(bad, 0) {
		_, err := capacity.Cover(capacity.Boat{LengthM: x, Hull: capacity.Monohull, Drive: capacity.Inboard})
		wantError(t, err, "which US rules cover the boat", "length over deck", "in metres")
	}
	_, err := capacity.Cover(capacity.Boat{LengthM: 5, Hull: "punt", Drive: "sails"})
	wantError(t, err, `"punt" is no kind of hull`, "monohull", `"sails" is no kind of drive`, "inboard")
}

func TestDerated(t *testing.T) {
	w, err := capacity.MaximumWeight(launch, fair, capacity.Handbook)
	if err != nil {
		t.Fatal(err)
	}
	less, err := w.Derated(w.Marked - 50)
	if err != nil || less.Marked != w.Marked-50 || less.Computed != w.Computed ||
		!strings.Contains(less.Sentence.String(), "builder's choice") {
		t.Errorf("%+v, %v", less, err)
	}
	for _, lb := range []int{0, -5, w.Marked + 1, math.MaxInt} {
		_, err := w.Derated(lb)
		wantError(t, err, "mark no more than was computed")
	}
}

func TestPersonsRefuse(t *testing.T) {
	w := weighing(t, 547)
	for _, x := range bad {
		_, err := capacity.PersonsCapacity(w, capacity.ListTest{Done: true, AddedKG: x})
		wantError(t, err, "working out the persons capacity", "list test")
		_, err = capacity.WholePersons(x)
		wantError(t, err, "counting persons", "give pounds")
	}
	_, err := capacity.PersonsCapacity(w, capacity.ListTest{AddedKG: 200})
	wantError(t, err, "was not done")
	_, err = capacity.PersonsCapacity(w, capacity.ListTest{Done: true, AddedKG: 5})
	wantError(t, err, "carries no person", "widen the beam")
	_, err = capacity.PersonsCapacity(capacity.Weight{Applies: true}, capacity.ListTest{})
	wantError(t, err, "MaximumWeight")
}

func TestListTest(t *testing.T) {
	p, err := capacity.PersonsCapacity(weighing(t, 547), capacity.ListTest{})
	if err != nil || !p.Provisional || !strings.Contains(p.Sentence.String(), "Provisional") {
		t.Errorf("%+v, %v: want it provisional", p, err)
	}
	if l := capacity.CapacityLabel(p); l.Ready || !strings.Contains(l.Sentence.String(), "Do not print") {
		t.Errorf("%+v: not ready before the list test", l)
	}
	p, err = capacity.PersonsCapacity(weighing(t, 600), capacity.ListTest{Done: true, AddedKG: 10})
	if err != nil || p.Marked != 600 || len(p.Notes) != 1 {
		t.Errorf("%+v, %v: the list test counts only under 550 lb", p, err)
	}
}

func TestFlotationRefuses(t *testing.T) {
	good := func() capacity.Swamped {
		return capacity.Swamped{Parts: []capacity.Part{{Name: msg.Plain("hull"), Material: "grp", KG: 300}},
			MachineryKG: 80,
			Foam:        capacity.TwoPoundFoam,
			Batteries:   []capacity.Battery{{Name: msg.Plain("bank"), KG: 200}},
			Chambers:    []capacity.Chamber{{Name: "bow tank", VolumeM3: 0.02, KG: 1}}}
	}
	for name, change := range map[string]func(*capacity.Swamped, float64){
		`part 1 "hull"`:                  func(s *capacity.Swamped, x float64) { s.Parts[0].KG = x },
		"the machinery":                  func(s *capacity.Swamped, x float64) { s.MachineryKG = x },
		`battery 1 "bank"`:               func(s *capacity.Swamped, x float64) { s.Batteries[0].KG = x },
		`the sealed volume of battery 1`: func(s *capacity.Swamped, x float64) { s.Batteries[0].SealedM3 = x },
		`the volume of air chamber 1`:    func(s *capacity.Swamped, x float64) { s.Chambers[0].VolumeM3 = x },
		`air chamber 1 "bow tank" is `:   func(s *capacity.Swamped, x float64) { s.Chambers[0].KG = x },
		"the density of the foam":        func(s *capacity.Swamped, x float64) { s.Foam.DensityKGM3 = x },
		"the moisture of the foam":       func(s *capacity.Swamped, x float64) { s.Foam.Moisture = x },
		"no basis":                       func(s *capacity.Swamped, x float64) { s.Basis = 9 },
		"finding the material":           func(s *capacity.Swamped, x float64) { s.Parts[0].Material = "unobtainium" },
		"there are no parts":             func(s *capacity.Swamped, x float64) { s.Parts = nil },
		"is integral with the hull":      func(s *capacity.Swamped, x float64) { s.Chambers[0].Integral = true },
	} {
		for _, x := range bad {
			s := good()
			change(&s, x)
			_, err := capacity.Flotation(launch, marked(650, 740), s)
			wantError(t, err, name, ": ")
		}
	}
	_, err := capacity.Flotation(launch, capacity.Persons{}, good())
	wantError(t, err, "PersonsCapacity first")
	_, err = capacity.Flotation(launch, marked(800, 740), good())
	wantError(t, err, "more than the whole capacity")
}

func TestBatteriesUnderWater(t *testing.T) {
	s := capacity.Swamped{Parts: partsOf(map[string]float64{"grp": 1000}), Foam: capacity.TwoPoundFoam}
	for _, c := range []struct {
		battery capacity.Battery
		want    float64 // lb; source: 1 - 62.4·V/W, and 25/45, computed
	}{
		{capacity.Battery{KG: kg(450), LeadAcid: true}, 250},
		{capacity.Battery{KG: kg(450)}, 450},
		{capacity.Battery{KG: kg(450), SealedM3: 3 * capacity.CubicFootM3}, 450 - 187.2},
		{capacity.Battery{KG: kg(450), SealedM3: 0.5}, 0}, // it would lift; no credit
		{capacity.Battery{}, 0},
	} {
		s.Batteries = []capacity.Battery{c.battery}
		if got := flotation(t, marked(650, 740), s).Machines.LB; math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%+v: %v lb, want %v", c.battery, got, c.want)
		}
	}
}

// A boat of wood floats by the sum; the sum is not to be relied on.
func TestWoodenBoatNeedsNoFoam(t *testing.T) {
	f := flotation(t, marked(650, 740), capacity.Swamped{Parts: partsOf(map[string]float64{"cedar": 800}),
		Foam: capacity.TwoPoundFoam})
	if f.Volume.M3 != 0 || f.Provide.M3 != 0 || f.Total.LB >= 0 ||
		!strings.Contains(msg.Sentences(f.Notes...).String(), "swamping trial") {
		t.Errorf("%+v", f)
	}
}

func TestOtherRefusals(t *testing.T) {
	for _, x := range append(bad, 0) {
		_, err := capacity.SubmergedFactor(x)
		wantError(t, err, "specific gravity")
		_, err = capacity.MaximumDisplacement(x, 1)
		wantError(t, err, "in cubic metres")
	}
	for _, x := range append(bad, 0, 0.99, 1.3) {
		_, err := capacity.MaximumDisplacement(2, x)
		wantError(t, err, "the margin is", "1.05 for a measured hull")
	}
	_, err := capacity.SwampedLoad(math.NaN(), 700, capacity.RuleLoad)
	wantError(t, err, "persons capacity is NaN")
}

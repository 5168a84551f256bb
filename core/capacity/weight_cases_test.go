package capacity_test

import (
	"strings"
	"testing"

	"ribband/core/capacity"
	"ribband/testdata/published"
)

func runFormulas(t *testing.T, c published.Case) {
	var in struct{ MD, BW, MW float64 }
	var want struct{ W1, W2 float64 }
	c.Read(t, &in, &want)
	w1, w2 := capacity.WeightFormulas(in.MD, in.BW, in.MW)
	c.Near(t, "W1", w1, want.W1)
	c.Near(t, "W2", w2, want.W2)
}

func runCapacity(t *testing.T, c published.Case) {
	var in struct {
		Reading                                         string
		MD, Hull, Fuel, Motor, Drive, Controls, Battery float64
	}
	var want struct {
		W1, W2, Computed float64
		Marked, Persons  int
	}
	c.Read(t, &in, &want)
	reading := map[string]capacity.Reading{"handbook": capacity.Handbook, "literal": capacity.Literal}[in.Reading]
	got, err := capacity.MaximumWeight(launch, capacity.Weights{
		DisplacementKG: kg(in.MD), HullKG: kg(in.Hull), FuelKG: kg(in.Fuel), MotorKG: kg(in.Motor),
		DriveKG: kg(in.Drive), ControlsKG: kg(in.Controls), BatteryKG: kg(in.Battery),
	}, reading)
	if err != nil {
		t.Fatal(err)
	}
	c.Near(t, "W1", got.W1.LB, want.W1)
	c.Near(t, "W2", got.W2.LB, want.W2)
	c.Near(t, "W", got.Computed.LB, want.Computed)
	c.Near(t, "W in kg", got.Computed.KG, kg(want.Computed))
	persons, err := capacity.PersonsCapacity(got, capacity.ListTest{})
	if err != nil {
		t.Fatal(err)
	}
	if got.Marked != want.Marked || persons.Number != want.Persons || got.Reading != in.Reading {
		t.Errorf("marked %d lb for %d persons by reading %s, want %d for %d by %s", got.Marked, persons.Number,
			got.Reading, want.Marked, want.Persons, in.Reading)
	}
}

func runPersons(t *testing.T, c published.Case) {
	var in struct {
		Weight float64  `json:"weight_lb"`
		List   *float64 `json:"list_lb"`
	}
	var want struct {
		Pounds, Persons int
		Quotient        float64
		ByList          float64 `json:"by_list"`
	}
	c.Read(t, &in, &want)
	test := capacity.ListTest{}
	if in.List != nil {
		test = capacity.ListTest{Done: true, AddedKG: kg(*in.List)}
	}
	got, err := capacity.PersonsCapacity(weighing(t, in.Weight), test)
	if err != nil {
		t.Fatal(err)
	}
	if got.Marked != want.Pounds || got.Number != want.Persons || got.Provisional {
		t.Errorf("%+v, want %d lb and %d persons, not provisional", got, want.Pounds, want.Persons)
	}
	c.Near(t, "quotient", (float64(got.Marked)+32)/141, want.Quotient)
	c.Near(t, "by the list test", got.ByList.LB, want.ByList)
}

func runWholePersons(t *testing.T, c published.Case) {
	var in struct{ Pounds []float64 }
	var want struct{ Persons []int }
	c.Read(t, &in, &want)
	for i, lb := range in.Pounds {
		if got, err := capacity.WholePersons(lb); err != nil || got != want.Persons[i] {
			t.Errorf("%v lb: %d persons, %v; want %d", lb, got, err, want.Persons[i])
		}
	}
}

func runLeastPounds(t *testing.T, c published.Case) {
	var in struct{ From int }
	var want struct{ Pounds []float64 }
	c.Read(t, &in, &want)
	for i, lb := range want.Pounds {
		n := in.From + i
		c.Near(t, "least pounds", capacity.LeastPounds(n), lb)
		at, _ := capacity.WholePersons(lb)
		below, _ := capacity.WholePersons(lb - 0.1)
		if at != n || below != n-1 {
			t.Errorf("%v lb: %d persons, %d just below; want %d and %d", lb, at, below, n, n-1)
		}
	}
}

func runCovered(t *testing.T, c published.Case) {
	var in struct{ Metres []float64 }
	var want struct{ Covered []bool }
	c.Read(t, &in, &want)
	for i, m := range in.Metres {
		got, err := capacity.Cover(capacity.Boat{LengthM: m, Hull: capacity.Monohull, Drive: capacity.Inboard})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []capacity.Subpart{capacity.Marking, capacity.SafeLoading, capacity.BasicFlotation} {
			if got.Applies(s) != want.Covered[i] {
				t.Errorf("%v m, subpart %s: %t, want %t", m, s, got.Applies(s), want.Covered[i])
			}
		}
	}
}

func runSubparts(t *testing.T, c published.Case) {
	var in struct{ Boats []string }
	var want struct{ Subparts []string }
	c.Read(t, &in, &want)
	for i, text := range in.Boats {
		b := capacity.Boat{LengthM: 5}
		rest, long := strings.CutPrefix(text, "long ")
		if long {
			b.LengthM = 7
		}
		hull, drive, _ := strings.Cut(rest, " ")
		drive, b.Petrol = strings.CutSuffix(drive, " petrol")
		b.Hull, b.Drive = capacity.Hull(hull), capacity.Drive(drive)
		cover, err := capacity.Cover(b)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, d := range cover.Duties {
			if d.Because.Empty() || d.Section == "" || d.Name.Empty() {
				t.Errorf("%s: %+v lacks words", text, d)
			}
			if d.Applies {
				got += string(d.Subpart)
			}
		}
		if got != want.Subparts[i] {
			t.Errorf("%s: subparts %q, want %q", text, got, want.Subparts[i])
		}
	}
}

func runLabel(t *testing.T, c published.Case) {
	var in struct {
		Weight float64 `json:"weight_lb"`
	}
	var want struct{ Lines []string }
	c.Read(t, &in, &want)
	p, err := capacity.PersonsCapacity(weighing(t, in.Weight), capacity.ListTest{})
	if err != nil {
		t.Fatal(err)
	}
	l := capacity.CapacityLabel(p)
	if !l.Ready || len(l.Lines) != len(want.Lines) {
		t.Fatalf("%+v", l)
	}
	for i, line := range l.Lines {
		if line.Text != want.Lines[i] {
			t.Errorf("line %d %q, want %q", i+1, line.Text, want.Lines[i])
		}
	}
}

func runConstants(t *testing.T, c published.Case) {
	var in struct {
		LB    []float64
		LBFT3 []float64 `json:"lb_ft3"`
		FT3   float64
	}
	var want struct {
		KG   []float64
		KGM3 []float64 `json:"kg_m3"`
		M3   float64
	}
	c.Read(t, &in, &want)
	for i, lb := range in.LB {
		c.Near(t, "kg", capacity.Pounds(lb).KG, want.KG[i])
	}
	for i, d := range in.LBFT3 {
		c.Near(t, "kg/m³", capacity.PoundsPerCubicFoot(d).KGM3, want.KGM3[i])
	}
	c.Near(t, "m³ in millionths", capacity.CubicFeet(in.FT3).M3*1e4, want.M3*1e4)
}

// The handbook's worksheet divides a Simpson sum of three stations, in cubic inches over 1000, by a factor.
func runWorksheet(t *testing.T, c published.Case) {
	var in struct {
		CubicInches float64 `json:"cubic_inches"`
	}
	var want struct{ Divisor float64 }
	c.Read(t, &in, &want)
	md, err := capacity.MaximumDisplacement(in.CubicInches*0.0254*0.0254*0.0254, capacity.MeasuringMargin)
	if err != nil {
		t.Fatal(err)
	}
	c.Near(t, "divisor", 6*in.CubicInches/md.LB*1000, want.Divisor)
}

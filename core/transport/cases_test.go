package transport_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"ribband/core/transport"
)

// transportCase is one case of testdata/transport.json, which names the source of each.
type transportCase struct {
	ID, Kind, Source, Status, Note, Skip string
	Inputs, Expected                     json.RawMessage
	Tolerance                            float64
}

var runners = map[string]func(t *testing.T, c transportCase){
	"width":     runWidth,
	"inches":    runInches,
	"height":    runHeight,
	"outline":   runOutline,
	"wrap":      runWrap,
	"container": runContainer,
	"fit":       runFit,
	"zones":     runZones,
}

func TestPublishedCases(t *testing.T) {
	text, err := os.ReadFile("../../testdata/transport.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Note     string
		Statuses map[string]string
		Cases    []transportCase
	}
	decode(t, text, &file)
	skipped, seen := 0, map[string]bool{}
	for _, c := range file.Cases {
		if seen[c.ID] {
			t.Errorf("case %s is there twice", c.ID)
		}
		if seen[c.ID] = true; c.Skip != "" {
			skipped++
		}
		t.Run(c.ID, func(t *testing.T) {
			if c.Source == "" || file.Statuses[c.Status] == "" {
				t.Errorf("source %q, status %q: want both", c.Source, c.Status)
			}
			if c.Skip != "" {
				t.Skip(c.Skip)
			}
			run, ok := runners[c.Kind]
			if !ok {
				t.Fatalf("kind %q has no runner", c.Kind)
			}
			run(t, c)
		})
	}
	if len(file.Cases) != 15 || skipped != 3 {
		t.Errorf("%d cases with %d skipped, want 15 with 3", len(file.Cases), skipped)
	}
}

func decode(t *testing.T, text []byte, into any) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatal(err)
	}
}

func (c transportCase) read(t *testing.T, inputs, expected any) {
	t.Helper()
	decode(t, c.Inputs, inputs)
	decode(t, c.Expected, expected)
}

func (c transportCase) near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= c.Tolerance) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, c.Tolerance)
	}
}

func region(t testing.TB, id string) transport.Region {
	t.Helper()
	r, err := transport.FindRegion(id)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func runWidth(t *testing.T, c transportCase) {
	var in struct {
		Region string
		Metres []float64
	}
	var want struct {
		OK, Metric []bool
		Limit      float64
	}
	c.read(t, &in, &want)
	for i, m := range in.Metres {
		got, err := region(t, in.Region).CheckWidth(m)
		if err != nil {
			t.Fatal(err)
		}
		if got.OK != want.OK[i] || strings.Contains(got.Sentence, "metric equivalent") != want.Metric[i] || got.Limit != want.Limit {
			t.Errorf("%v m: %+v", m, got)
		}
		if strings.Contains(got.Sentence, "needs a permit") == got.OK {
			t.Errorf("%v m: %s", m, got.Sentence)
		}
	}
}

func runInches(t *testing.T, c transportCase) {
	var in struct {
		Metres []float64
		Inches float64
	}
	var want struct {
		Inches []float64
		Metres float64
	}
	c.read(t, &in, &want)
	for i, m := range in.Metres {
		c.near(t, "inches", m/transport.InchM, want.Inches[i])
	}
	c.near(t, "metres", in.Inches*transport.InchM, want.Metres)
	c.near(t, "the constant", transport.USWidthM, want.Metres)
}

// fair is a launch on its trailer that is within every limit.
var fair = transport.Load{BedM: 0.5, HeightUpM: 2.3, HeightDownM: 1.4, BeamM: 2, TrailerWidthM: 2.1, BoatKG: 800, LooseKG: 50, TrailerKG: 400, TrailerMostKG: 1600}

func runHeight(t *testing.T, c transportCase) {
	var in struct {
		Region   string
		Up, Down []float64
		Bed      float64
	}
	var want struct {
		UpOK   []bool `json:"up_ok"`
		DownOK []bool `json:"down_ok"`
		Limit  float64
	}
	c.read(t, &in, &want)
	for i := range in.Up {
		l := fair
		l.BedM, l.HeightUpM, l.HeightDownM = in.Bed, in.Up[i], in.Down[i]
		got, err := transport.OnRoad(region(t, in.Region), l)
		if err != nil {
			t.Fatal(err)
		}
		up, down := got[1], got[2]
		if up.OK != want.UpOK[i] || down.OK != want.DownOK[i] {
			t.Errorf("%v m up: %t, %v m down: %t", up.Value, up.OK, down.Value, down.OK)
		}
		c.near(t, "limit", up.Limit, want.Limit)
		if fold := !up.OK && down.OK; strings.Contains(up.Sentence, "Fold the top") != fold {
			t.Errorf("%s", up.Sentence)
		}
	}
}

func runOutline(t *testing.T, c transportCase) {
	var in struct {
		Bed, Up, Down, Beam        float64
		TrailerWidth               float64 `json:"trailer_width"`
		Boat, Loose, Trailer, Most float64
		Region                     string
	}
	var want struct {
		Up, Down, Width, Mass float64
		Margins               []float64
	}
	c.read(t, &in, &want)
	l := transport.Load{BedM: in.Bed, HeightUpM: in.Up, HeightDownM: in.Down, BeamM: in.Beam, TrailerWidthM: in.TrailerWidth, BoatKG: in.Boat, LooseKG: in.Loose, TrailerKG: in.Trailer, TrailerMostKG: in.Most}
	p, err := transport.Outline(l)
	if err != nil {
		t.Fatal(err)
	}
	c.near(t, "height up", p.HeightUpM, want.Up)
	c.near(t, "height down", p.HeightDownM, want.Down)
	c.near(t, "width", p.WidthM, want.Width)
	c.near(t, "mass", p.MassKG, want.Mass)
	checks, err := transport.OnRoad(region(t, in.Region), l)
	if err != nil || len(checks) != len(want.Margins) {
		t.Fatalf("%+v, %v", checks, err)
	}
	for i, k := range checks {
		c.near(t, k.Name, k.Margin, want.Margins[i])
	}
}

func runWrap(t *testing.T, c transportCase) {
	var in struct {
		Length, Beam, Height, Ridge, Skirt, Waste float64
		Whole                                     bool
	}
	var want struct{ M2 float64 }
	c.read(t, &in, &want)
	got, err := transport.WrapArea(transport.Wrap{LengthM: in.Length, BeamM: in.Beam, HeightM: in.Height, RidgeM: in.Ridge, SkirtM: in.Skirt, Waste: in.Waste, Whole: in.Whole})
	if err != nil {
		t.Fatal(err)
	}
	c.near(t, "film", got, want.M2)
}

func runContainer(t *testing.T, c transportCase) {
	var in struct{ IDs []string }
	var want struct{ Inches [][]float64 }
	c.read(t, &in, &want)
	for i, id := range in.IDs {
		k, err := transport.FindContainer(id)
		if err != nil {
			t.Fatal(err)
		}
		for j, m := range []float64{k.LengthM, k.WidthM, k.HeightM, k.DoorWidthM, k.DoorHeightM} {
			c.near(t, id, m, want.Inches[i][j]*transport.InchM)
		}
	}
}

func runFit(t *testing.T, c transportCase) {
	var in struct {
		Cargo [][4]float64
		Gap   float64
	}
	var want struct{ Fits []string }
	c.read(t, &in, &want)
	for i, g := range in.Cargo {
		all, err := transport.FitAll(transport.Cargo{LengthM: g[0], WidthM: g[1], HeightM: g[2], MassKG: g[3], GapM: in.Gap})
		if err != nil {
			t.Fatal(err)
		}
		var fits []string
		for _, f := range all {
			switch {
			case f.Fits && f.OutOfGauge:
				fits = append(fits, f.Container.ID+"!")
			case f.Fits:
				fits = append(fits, f.Container.ID)
			}
		}
		if got := strings.Join(fits, " "); got != want.Fits[i] {
			t.Errorf("%v: fits %q, want %q", g, got, want.Fits[i])
		}
	}
}

func runZones(t *testing.T, c transportCase) {
	var in struct{ Ends, KM []float64 }
	var want struct{ Zones []int }
	c.read(t, &in, &want)
	var zones []transport.Zone
	for i, end := range in.Ends {
		zones = append(zones, transport.Zone{ID: string(rune('A' + i)), ToKM: end})
	}
	for i, km := range in.KM {
		if got, err := transport.ZoneAt(zones, km); err != nil || got != want.Zones[i] {
			t.Errorf("%v km: zone %d, %v; want %d", km, got, err, want.Zones[i])
		}
	}
}

package transport_test

import (
	"strings"
	"testing"

	"ribband/core/transport"
	"ribband/testdata/published"
)

var runners = map[string]func(t *testing.T, c published.Case){
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
	published.Run(t, "../../testdata/transport.json", 15, 3, runners)
}

func region(t testing.TB, id string) transport.Region {
	t.Helper()
	r, err := transport.FindRegion(id)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func runWidth(t *testing.T, c published.Case) {
	var in struct {
		Region string
		Metres []float64
	}
	var want struct {
		OK, Metric []bool
		Limit      float64
	}
	c.Read(t, &in, &want)
	for i, m := range in.Metres {
		got, err := region(t, in.Region).CheckWidth(m)
		if err != nil {
			t.Fatal(err)
		}
		if got.OK != want.OK[i] || strings.Contains(got.Sentence.String(), "metric equivalent") != want.Metric[i] ||
			got.Limit != want.Limit {
			t.Errorf("%v m: %+v", m, got)
		}
		if strings.Contains(got.Sentence.String(), "needs a permit") == got.OK {
			t.Errorf("%v m: %s", m, got.Sentence)
		}
	}
}

func runInches(t *testing.T, c published.Case) {
	var in struct {
		Metres []float64
		Inches float64
	}
	var want struct {
		Inches []float64
		Metres float64
	}
	c.Read(t, &in, &want)
	for i, m := range in.Metres {
		c.Near(t, "inches", m/transport.InchM, want.Inches[i])
	}
	c.Near(t, "metres", in.Inches*transport.InchM, want.Metres)
	c.Near(t, "the constant", transport.USWidthM, want.Metres)
}

// fair is a launch on its trailer that is within every limit.
var fair = transport.Load{BedM: 0.5, HeightUpM: 2.3, HeightDownM: 1.4, BeamM: 2, TrailerWidthM: 2.1, BoatKG: 800,
	LooseKG: 50, TrailerKG: 400, TrailerMostKG: 1600}

func runHeight(t *testing.T, c published.Case) {
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
	c.Read(t, &in, &want)
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
		c.Near(t, "limit", up.Limit, want.Limit)
		if fold := !up.OK && down.OK; strings.Contains(up.Sentence.String(), "Fold the top") != fold {
			t.Errorf("%s", up.Sentence)
		}
	}
}

func runOutline(t *testing.T, c published.Case) {
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
	c.Read(t, &in, &want)
	l := transport.Load{BedM: in.Bed, HeightUpM: in.Up, HeightDownM: in.Down, BeamM: in.Beam,
		TrailerWidthM: in.TrailerWidth, BoatKG: in.Boat, LooseKG: in.Loose, TrailerKG: in.Trailer,
		TrailerMostKG: in.Most}
	p, err := transport.Outline(l)
	if err != nil {
		t.Fatal(err)
	}
	c.Near(t, "height up", p.HeightUpM, want.Up)
	c.Near(t, "height down", p.HeightDownM, want.Down)
	c.Near(t, "width", p.WidthM, want.Width)
	c.Near(t, "mass", p.MassKG, want.Mass)
	checks, err := transport.OnRoad(region(t, in.Region), l)
	if err != nil || len(checks) != len(want.Margins) {
		t.Fatalf("%+v, %v", checks, err)
	}
	for i, k := range checks {
		c.Near(t, k.Name.String(), k.Margin, want.Margins[i])
	}
}

func runWrap(t *testing.T, c published.Case) {
	var in struct {
		Length, Beam, Height, Ridge, Skirt, Waste float64
		Whole                                     bool
	}
	var want struct{ M2 float64 }
	c.Read(t, &in, &want)
	got, err := transport.WrapArea(transport.Wrap{LengthM: in.Length, BeamM: in.Beam, HeightM: in.Height,
		RidgeM: in.Ridge, SkirtM: in.Skirt, Waste: in.Waste, Whole: in.Whole})
	if err != nil {
		t.Fatal(err)
	}
	c.Near(t, "film", got, want.M2)
}

func runContainer(t *testing.T, c published.Case) {
	var in struct{ IDs []string }
	var want struct{ Inches [][]float64 }
	c.Read(t, &in, &want)
	for i, id := range in.IDs {
		k, err := transport.FindContainer(id)
		if err != nil {
			t.Fatal(err)
		}
		for j, m := range []float64{k.LengthM, k.WidthM, k.HeightM, k.DoorWidthM, k.DoorHeightM} {
			c.Near(t, id, m, want.Inches[i][j]*transport.InchM)
		}
	}
}

func runFit(t *testing.T, c published.Case) {
	var in struct {
		Cargo [][4]float64
		Gap   float64
	}
	var want struct{ Fits []string }
	c.Read(t, &in, &want)
	for i, g := range in.Cargo {
		all, err := transport.FitAll(transport.Cargo{LengthM: g[0], WidthM: g[1], HeightM: g[2], MassKG: g[3],
			GapM: in.Gap})
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

func runZones(t *testing.T, c published.Case) {
	var in struct{ Ends, KM []float64 }
	var want struct{ Zones []int }
	c.Read(t, &in, &want)
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

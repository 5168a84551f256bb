package transport_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/msg"
	"ribband/core/transport"
)

var bad = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e9}

func wantError(t *testing.T, err error, parts ...string) {
	t.Helper()
	if err == nil {
		t.Errorf("no error, want one with %q", parts)
		return
	}
	for _, p := range parts {
		if !strings.Contains(err.Error(), p) {
			t.Errorf("error %q\ndoes not say %q", err, p)
		}
	}
}

// Each number in turn is replaced by what cannot be; the message names it and says what to do.
func TestLoadRefuses(t *testing.T) {
	for name, change := range map[string]func(*transport.Load, float64){
		"the height of the bed":                  func(l *transport.Load, x float64) { l.BedM = x },
		"the boat's height with the top up":      func(l *transport.Load, x float64) { l.HeightUpM = x },
		"the boat's height with the top down":    func(l *transport.Load, x float64) { l.HeightDownM = x },
		"the beam":                               func(l *transport.Load, x float64) { l.BeamM = x },
		"the trailer's width":                    func(l *transport.Load, x float64) { l.TrailerWidthM = x },
		"the boat's mass":                        func(l *transport.Load, x float64) { l.BoatKG = x },
		"the mass of loose gear":                 func(l *transport.Load, x float64) { l.LooseKG = x },
		"the empty trailer's mass":               func(l *transport.Load, x float64) { l.TrailerKG = x },
		"the whole mass allowed for the trailer": func(l *transport.Load, x float64) { l.TrailerMostKG = x },
	} {
		for _, x := range bad {
			l := fair
			change(&l, x)
			_, err := transport.OnRoad(region(t, transport.EU), l)
			wantError(t, err, "measuring the boat on its trailer: "+name+" is ")
		}
	}
	l := fair
	l.HeightDownM = l.HeightUpM + 0.1
	_, err := transport.Outline(l)
	wantError(t, err, "top down", "exchange them")
	_, err = transport.OnRoad(transport.Region{}, fair)
	wantError(t, err, "FindRegion")
}

func TestRegions(t *testing.T) {
	for _, id := range []string{transport.US, transport.EU, transport.GB} {
		r := region(t, id)
		if r.Note().Empty() || r.Name.Empty() {
			t.Errorf("%s has no words", id)
		}
		for _, x := range append(bad, 0) {
			_, err := r.CheckWidth(x)
			wantError(t, err, "checking the width on the road", "in metres")
		}
	}
	_, err := transport.FindRegion("moon")
	wantError(t, err, `"moon"`, "us, eu, gb")
}

// Great Britain has no height by law: the check says so and gives no limit.
func TestNoHeightInGreatBritain(t *testing.T) {
	checks, err := transport.OnRoad(region(t, transport.GB), fair)
	if err != nil {
		t.Fatal(err)
	}
	if up := checks[1]; !up.NoLimit || !up.OK || up.Limit != 0 || up.Margin != 0 ||
		!strings.Contains(up.Sentence.String(), "bridges") {
		t.Errorf("%+v", up)
	}
}

func TestTooHeavy(t *testing.T) {
	l := fair
	l.BoatKG = 3500
	l.TrailerMostKG = 3500
	checks, err := transport.OnRoad(region(t, transport.GB), l)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range checks[3:] {
		if c.OK || c.Margin != -450 || !strings.Contains(c.Sentence.String(), "450 kg over the 3500 kg") {
			t.Errorf("%+v", c)
		}
	}
}

func TestWrapRefuses(t *testing.T) {
	good := transport.Wrap{LengthM: 5, BeamM: 2, HeightM: 1.5, RidgeM: 0.5, SkirtM: 0.4, Waste: 0.1}
	for name, change := range map[string]func(*transport.Wrap, float64){
		"the length": func(w *transport.Wrap, x float64) { w.LengthM = x },
		"the beam":   func(w *transport.Wrap, x float64) { w.BeamM = x },
		"the height": func(w *transport.Wrap, x float64) { w.HeightM, w.Whole = x, true },
		"the ridge":  func(w *transport.Wrap, x float64) { w.RidgeM = x },
		"the skirt":  func(w *transport.Wrap, x float64) { w.SkirtM = x },
		"the waste":  func(w *transport.Wrap, x float64) { w.Waste = x },
	} {
		for _, x := range bad {
			w := good
			change(&w, x)
			_, err := transport.WrapArea(w)
			wantError(t, err, "estimating the shrink film: "+name+" is ", "give ")
		}
	}
}

func TestFitRefuses(t *testing.T) {
	good := transport.Cargo{LengthM: 5, WidthM: 2, HeightM: 1.5, MassKG: 900, GapM: 0.03}
	for name, change := range map[string]func(*transport.Cargo, float64){
		"the length": func(c *transport.Cargo, x float64) { c.LengthM = x },
		"the width":  func(c *transport.Cargo, x float64) { c.WidthM = x },
		"the height": func(c *transport.Cargo, x float64) { c.HeightM = x },
		"the mass":   func(c *transport.Cargo, x float64) { c.MassKG = x },
		"the gap":    func(c *transport.Cargo, x float64) { c.GapM = x },
	} {
		for _, x := range bad {
			c := good
			change(&c, x)
			_, err := transport.FitAll(c)
			wantError(t, err, "fitting the boat into a container: "+name+" is ", "give ")
		}
	}
	_, err := transport.Fit(transport.Container{}, good)
	wantError(t, err, "FindContainer")
	_, err = transport.FindContainer("10ft")
	wantError(t, err, `"10ft"`, "20ft, 40ft")
}

func TestZonesRefuse(t *testing.T) {
	for _, c := range []struct {
		zones []transport.Zone
		parts []string
	}{
		{nil, []string{"there are none"}},
		{[]transport.Zone{{"", 50}}, []string{"zone 1 has no id"}},
		{[]transport.Zone{{"A", 50}, {"A", 90}}, []string{`zone 2 "A" has the id of zone 1`}},
		{[]transport.Zone{{"A", 50}, {"B", 50}}, []string{`zone 2 "B" ends at 50 km`, "order the zones"}},
		{[]transport.Zone{{"A", 0}}, []string{"the end of zone 1", "farthest road kilometre"}},
		{[]transport.Zone{{"A", math.NaN()}, {"B", math.Inf(1)}}, []string{"NaN", "+Inf"}},
	} {
		wantError(t, transport.CheckZones(c.zones), append(c.parts, "reading the freight zones")...)
		i, err := transport.ZoneAt(c.zones, 10)
		if wantError(t, err, c.parts...); i != -1 {
			t.Errorf("%+v: zone %d", c.zones, i)
		}
	}
	table := []transport.Zone{{"near", 50}, {"far", 300}}
	for _, x := range bad {
		_, err := transport.ZoneAt(table, x)
		wantError(t, err, "finding the freight zone")
	}
	_, err := transport.ZoneAt(table, 301)
	wantError(t, err, `beyond the last zone "far" (300 km)`, "by hand")
}

func TestCautions(t *testing.T) {
	if got := msg.Sentences(transport.Cautions()...).String(); !strings.Contains(got, "not legal text") ||
		!strings.Contains(got, "qualified person") {
		t.Error(got)
	}
}

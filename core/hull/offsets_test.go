package hull_test

import (
	"math"
	"slices"
	"testing"

	"ribband/core/hull"
)

// bad is a table of five good stations that change spoils.
func bad(change func(s []hull.Station)) hull.Offsets {
	o := stations(5, 4, func(float64) (z, y []float64) {
		return []float64{0, 0.1, 0.4, 0.8}, []float64{0.05, 0.5, 0.8, 0.9}
	})
	change(o.Stations)
	return o
}

func TestBadOffsets(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name   string
		change func(s []hull.Station)
		want   []string
	}{
		{"good", func([]hull.Station) {}, nil},
		{"a place that is no number", func(s []hull.Station) { s[1].X = nan },
			[]string{"station 2: its place NaN m is not usable: give its distance from the aft end as a number of " +
				"metres, at most 1000"}},
		{"millimetres", func(s []hull.Station) { s[4].X = 4600 },
			[]string{"station 5: its place 4600 m is not usable: give its distance from the aft end as a number of " +
				"metres, at most 1000"}},
		{"out of order", func(s []hull.Station) { s[2].X = 0.5 },
			[]string{"station 3: it stands at 0.5 m, the one before it at 1 m: sort the stations from the aft end " +
				"forward, each at least 1 mm from the last"}},
		{"twice the same place", func(s []hull.Station) { s[2].X = 1 },
			[]string{"station 3: it stands at 1 m, the one before it at 1 m: sort the stations from the aft end " +
				"forward, each at least 1 mm from the last"}},
		{"a half-breadth short", func(s []hull.Station) { s[0].Y = s[0].Y[:3] },
			[]string{"station 1: it has 4 heights but 3 half-breadths: give one half-breadth for each height"}},
		{"two points", func(s []hull.Station) { s[3].Z, s[3].Y = s[3].Z[:2], s[3].Y[:2] },
			[]string{"station 4: it has 2 points: give at least 3 from the keel to the sheer, better 6 or more"}},
		{"no points", func(s []hull.Station) { s[3].Z, s[3].Y = nil, nil },
			[]string{"station 4: it has 0 points: give at least 3 from the keel to the sheer, better 6 or more"}},
		{"infinite height and no number", func(s []hull.Station) { s[1].Z[3], s[1].Y[2] = inf, nan },
			[]string{"station 2, point 3: the half-breadth NaN m is not usable: give a number of metres, at most 1000",
				"station 2, point 4: the height +Inf m is not usable: give a number of metres, at most 1000"}},
		{"negative half-breadth", func(s []hull.Station) { s[2].Y[1] = -0.2 },
			[]string{"station 3, point 2: the half-breadth -0.2 m is below zero: measure it outward from the centre " +
				"line; both sides are the same"}},
		{"a height that falls", func(s []hull.Station) { s[2].Z = []float64{0, 0.3, 0.2, 0.8} },
			[]string{"station 3, point 3: the height 0.2 m is below the 0.3 m before it: give heights that rise from " +
				"the keel to the sheer; equal heights make a flat"}},
		{"points exchanged", func(s []hull.Station) {
			s[2].Z, s[2].Y = []float64{0, 0.6, 0.3, 0.3, 0.8}, []float64{0.05, 0.5, 0.8, 0.1, 0.9}
		}, []string{"station 3, point 4: the section crosses itself: the line to this point meets the one from point " +
			"1: put the points in order along the section from the keel to the sheer"}},
		{"a flat that runs back", func(s []hull.Station) {
			s[2].Z, s[2].Y = []float64{0, 0, 0, 0.8}, []float64{0, 0.6, 0.3, 0.9}
		}, []string{"station 3, point 3: the section crosses itself: the line to this point meets the one from point " +
			"1: put the points in order along the section from the keel to the sheer"}},
		{"all at one height", func(s []hull.Station) { s[4].Z = []float64{0.5, 0.5, 0.5, 0.5} },
			[]string{"station 5, point 4: the sheer is missing: all heights are 0.5 m: end every section with the " +
				"point of the sheer"}},
		{"a section that stops below", func(s []hull.Station) { s[2].Z = []float64{0, 0.1, 0.15, 0.2} },
			[]string{"station 3, point 4: the sheer is missing: the section ends at 0.2 m, those beside it at 0.8 " +
				"and 0.8 m: end every section with the point of the sheer"}},
	} {
		var got []string
		for _, f := range bad(c.change).Validate() {
			got = append(got, f.String())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%q\nwant\n%q", c.name, got, c.want)
		}
	}
}

func TestTooFewStations(t *testing.T) {
	o := bad(func([]hull.Station) {})
	o.Stations = o.Stations[:4]
	faults := o.Validate()
	want := hull.Fault{Station: -1, Point: -1, Message: "the table has 4 stations",
		Advice: "give at least 5 from the aft end to the stem, better 11 to 21"}
	if len(faults) != 1 || faults[0] != want || faults[0].String() != "the table has 4 stations: give at least 5 from "+
		"the aft end to the stem, better 11 to 21" {
		t.Errorf("%q", faults)
	}
}

func TestNewRefuses(t *testing.T) {
	flat := bad(func(s []hull.Station) {
		for i := range s {
			s[i].Y = make([]float64, len(s[i].Z))
		}
	})
	for _, c := range []struct {
		o    hull.Offsets
		want string
	}{
		{hull.Offsets{},
			"making a hull of its offsets: the table has 0 stations: give at least 5 from the aft end to " +
				"the stem, better 11 to 21"},
		{bad(func(s []hull.Station) { s[1].Y[0], s[1].Y[1] = -1, -2 }),
			"making a hull of its offsets: station 2, point 1: the half-breadth -1 m is below zero: measure it " +
				"outward from the centre line; both sides are the same (and 1 more)"},
		{flat, "making a hull of its offsets: they enclose no volume: give half-breadths above zero"},
	} {
		if _, err := hull.New(c.o); err == nil || err.Error() != c.want {
			t.Errorf("%v\nwant %s", err, c.want)
		}
	}
}

// What is shaped like real boats is taken: chines, flats, vertical sides, tumblehome, a point given twice.
func TestGoodSections(t *testing.T) {
	for name, section := range map[string][2][]float64{
		"flat bottom":  {{0, 0, 0.5}, {0, 0.7, 0.7}},
		"hard chines":  {{0, 0.1, 0.1, 0.4, 0.4, 0.8}, {0, 0.4, 0.5, 0.6, 0.75, 0.8}},
		"tumblehome":   {{0, 0.3, 0.8}, {0.1, 0.9, 0.7}},
		"point twice":  {{0, 0.3, 0.3, 0.8}, {0.1, 0.9, 0.9, 0.7}},
		"step inwards": {{0, 0.3, 0.3, 0.8}, {0.1, 0.9, 0.6, 0.7}},
	} {
		o := bad(func(s []hull.Station) { s[2].Z, s[2].Y = section[0], section[1] })
		if faults := o.Validate(); len(faults) > 0 {
			t.Errorf("%s: %q", name, faults)
		}
	}
}

func TestNewCopies(t *testing.T) {
	o := box(4, 2, 1)
	h := build(t, o)
	before := at(t, h, 0.5, 0, 0)
	o.Stations[3].Z[2], o.Stations[3].Y[2], o.Stations[4].X = 0.1, 7, 0
	if at(t, h, 0.5, 0, 0) != before {
		t.Error("the hull shares memory with the table that it was made of")
	}
}

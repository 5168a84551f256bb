package sheet_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

func bound(hull, region string) spec.Spec {
	return spec.Spec{Format: spec.Format, Hull: hull, Use: map[string]spec.Value{"region": {Choice: region}}}
}

// A boat of each hull bound for the United States: two are under 20 ft, for two these rules set no duty.
func TestPapersOfBoatsForTheUnitedStates(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for hull, covered := range map[string]bool{"sedge-46": true, "rush-54": true, "reed-65": false, "osier-76": false} {
		p := sheet.ForYard(e, enginetest.Answer(t, e, bound(hull, "us")), quote.Details{}).Papers
		if !p.Problem.Empty() || len(p.Cautions) == 0 {
			t.Errorf("%s: problem %q, cautions %v", hull, p.Problem, p.Cautions)
		}
		if !covered {
			if p.Weight != nil || p.Capacity != nil || p.Certification == nil || p.Certification.Applies ||
				!strings.Contains(p.Duty.String(), "set no duty") {
				t.Errorf("%s: %+v", hull, p)
			}
			continue
		}
		if p.Weight == nil || p.Capacity == nil || !p.Capacity.Ready || len(p.Capacity.Lines) != 4 ||
			!p.Certification.Applies || p.Reading.Empty() {
			t.Fatalf("%s: %+v", hull, p)
		}
		if p.FittedL < 1000*p.Foam.Provide.M3 {
			t.Errorf("%s: %v l of foam fitted, %v needed", hull, p.FittedL, 1000*p.Foam.Provide.M3)
		}
	}
	p := sheet.ForYard(e, enginetest.Answer(t, e, bound("sedge-46", "de")), quote.Details{}).Papers
	if p.Weight != nil || p.Certification != nil ||
		!strings.Contains(p.Duty.String(), "not bound for the United States") {
		t.Errorf("a boat for Germany: %+v", p)
	}
}

// More persons than may be marked is a clash with its reason for a boat bound there, and none elsewhere or from 20 ft
// up.
func TestCapacityRules(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	for _, c := range []struct {
		hull, region string
		persons      float64
		clash        bool
	}{{"sedge-46", "us", 5, false}, {"sedge-46", "us", 8, true}, {"sedge-46", "de", 8, false},
		{"osier-76", "us", 12, false}} {
		s := bound(c.hull, c.region)
		s.Use["persons"] = spec.Value{Number: c.persons}
		found := false
		for _, x := range enginetest.Answer(t, e, s).Build.Clashes {
			why := x.Reason.String()
			found = found || strings.Contains(why, "In the United States") && strings.Contains(why, "persons")
		}
		if found != c.clash {
			t.Errorf("%+v: clash %v", c, found)
		}
	}
}

// Form of the number: 33 CFR 181.25; ISO 10087, from memory. The code and the country are invented.
func TestHullNumber(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(t, e, bound("sedge-46", "us"))
	for _, c := range []struct {
		details quote.Details
		full    string
		missing string
	}{
		{quote.Details{}, "", "hull_serial"},
		{quote.Details{Serial: "00042"}, "", "hull_built"},
		{quote.Details{Serial: "00042", Built: "2027-03"}, "XX-XHL00042C727", ""},
		{quote.Details{Serial: "00042", Built: "March"}, "", "2027-03"},
		{quote.Details{Serial: "0004O", Built: "2027-03"}, "", "building a hull identification number"},
	} {
		y := sheet.ForYard(e, a, c.details)
		n := y.Papers.Number
		if n.Full != c.full || !strings.Contains(msg.Sentences(n.Missing...).String(), c.missing) ||
			(c.full == "") != (len(n.Missing) > 0) || len(n.Places) != 2 {
			t.Errorf("%+v: %+v", c.details, n)
		}
		onLabel := false
		for _, l := range y.Papers.Certification.Lines {
			onLabel = onLabel || l.Text == "HIN XHL00042C727"
		}
		if onLabel != (c.full != "") {
			t.Errorf("%+v: the number is on the certification label: %v", c.details, onLabel)
		}
	}
	// a yard without its country numbers boats for the United States alone: Regulation (EU) 2017/1, article 3(1)(a),
	// and the same in the law of Great Britain
	p := *e.Pack
	selling := *p.Selling
	selling.Maker.Country, p.Selling = "", &selling
	nowhere, err := engine.Compile(&p)
	if err != nil {
		t.Fatal(err)
	}
	for region, law := range map[string]string{"us": "33 CFR 181", "gb": "S.I. 2017/737", "de": "2013/53/EU",
		"ch": "ISO 10087"} {
		known := quote.Details{Serial: "00042", Built: "2027-03"}
		papers := sheet.ForYard(e, enginetest.Answer(t, e, bound("sedge-46", region)), known).Papers
		if papers.Number.Full != "XX-XHL00042C727" || !strings.Contains(papers.Number.Places[0].Section, law) {
			t.Errorf("%s: %+v", region, papers.Number)
		}
		plate := map[string]string{"gb": "UKCA", "de": "the CE mark"}[region]
		if got := papers.Duty.String(); !strings.Contains(got, plate) ||
			strings.Contains(got, "plate stands apart") != (plate != "") {
			t.Errorf("%s: %s", region, got)
		}
		n := sheet.ForYard(nowhere, enginetest.Answer(t, nowhere, bound("sedge-46", region)), known).Papers.Number
		if needs := region == "gb" || region == "de"; needs != (len(n.Missing) == 1) || needs == (n.Number != "") {
			t.Errorf("%s, without a country: %+v", region, n)
		}
	}
	small := enginetest.Small()[pack.Yard]
	n := sheet.ForYard(small, enginetest.Answer(t, small, enginetest.Teasel(t)), quote.Details{}).Papers.Number
	if len(n.Missing) != 3 ||
		!strings.Contains(n.Missing[0].String(), "maker_code") {
		t.Errorf("a book without a code: %+v", n)
	}
}

// Limits: 23 CFR 658.15(a), 2.6 m; Directive 96/53/EC, Annex I, 2.55 m and 4.00 m; Great Britain 2.55 m and no height.
func TestTransportByRegion(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for _, c := range []struct {
		region, name  string
		width, height float64
	}{{"us", "United States", 2.6, 13.5 * 0.3048}, {"de", "European Union", 2.55, 4}, {"gb", "Great Britain", 2.55, 0},
		{"ca", "", 0, 0}} {
		tr := sheet.ForYard(e, enginetest.Answer(t, e, bound("osier-76", c.region)), quote.Details{}).Transport
		if tr.Region.String() != c.name || !tr.Problem.Empty() || len(tr.Containers) != 5 || len(tr.Cautions) == 0 {
			t.Errorf("%s: %+v", c.region, tr)
		}
		if c.name == "" {
			if len(tr.Road) > 0 || !strings.Contains(tr.Notes[0].String(), "not in the book") {
				t.Errorf("%s: %+v", c.region, tr)
			}
			continue
		}
		if len(tr.Road) != 3 || tr.Road[0].Limit != c.width || math.Abs(tr.Road[1].Limit-c.height) > 1e-9 ||
			tr.Road[0].Value != 2.3 {
			t.Errorf("%s: %+v", c.region, tr.Road)
		}
		if !(tr.CoverM2 > 7.6*2.3) || !(tr.WholeM2 > tr.CoverM2) {
			t.Errorf("%s: film %v and %v m²", c.region, tr.CoverM2, tr.WholeM2)
		}
	}
}

// With a trailer of the yard the mass is checked against its plate, and the height with the top up and as shipped.
func TestTransportOnTheYardsTrailer(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	s := bound("rush-54", "de")
	s.Choices = map[string]map[string]int{"trailer": {"trailer-1500": 1}}
	a := enginetest.Answer(t, e, s)
	tr := sheet.ForYard(e, a, quote.Details{}).Transport
	if len(tr.Road) != 5 || tr.Road[3].Limit != 1500 || tr.Road[1].Value < tr.Road[2].Value {
		t.Fatalf("%+v", tr.Road)
	}
	mass := 0.0
	for i, f := range e.Pack.Figures {
		if f.ID == "mass_kg" {
			mass = a.Build.State.Figures[i]
		}
	}
	if math.Abs(tr.Road[3].Value-mass-320) > 1e-9 {
		t.Errorf("%v kg on the trailer, want %v and 320 of the trailer", tr.Road[3].Value, mass)
	}
	little := enginetest.Small()[pack.Yard]
	tr = sheet.ForYard(little, enginetest.Answer(t, little, enginetest.Teasel(t)), quote.Details{}).Transport
	if tr.Problem.Empty() {
		t.Error("a book without the fields says nothing")
	}
}

package capacity_test

import (
	"strings"
	"testing"

	"ribband/core/capacity"
	"ribband/core/msg"
)

// At 20 ft and above nothing is computed, nothing is an error, and each result says that there is no duty.
func TestNoDutyFromTwentyFeet(t *testing.T) {
	for _, b := range []capacity.Boat{
		{LengthM: 6.096, Hull: capacity.Monohull, Drive: capacity.Inboard},
		{LengthM: 7.6, Hull: capacity.Monohull, Drive: capacity.Inboard},
		{LengthM: 5, Hull: capacity.Canoe, Drive: capacity.Inboard},
		{LengthM: 5, Hull: capacity.Monohull, Drive: capacity.Outboard},
	} {
		w, err := capacity.MaximumWeight(b, capacity.Weights{}, capacity.Handbook)
		if err != nil || w.Applies || w.Marked != 0 || w.Sentence.Empty() {
			t.Errorf("%+v: weight %+v, %v", b, w, err)
		}
		p, err := capacity.PersonsCapacity(w, capacity.ListTest{})
		if err != nil || p.Applies || p.Sentence.String() != w.Sentence.String() {
			t.Errorf("%+v: persons %+v, %v", b, p, err)
		}
		f, err := capacity.Flotation(b, p, capacity.Swamped{})
		if err != nil || f.Applies || f.Volume.M3 != 0 || f.Sentence.Empty() {
			t.Errorf("%+v: foam %+v, %v", b, f, err)
		}
		if l := capacity.CapacityLabel(p); l.Applies || len(l.Lines) != 0 ||
			l.Sentence.String() != w.Sentence.String() {
			t.Errorf("%+v: label %+v", b, l)
		}
		if d, err := w.Derated(100); err != nil || d.Marked != 0 {
			t.Errorf("%+v: derated %+v, %v", b, d, err)
		}
		if long := b.LengthM >= capacity.Limit; long && !strings.Contains(w.Sentence.String()+f.Sentence.String(),
			"set no duty") {
			t.Errorf("%+v: %s %s", b, w.Sentence, f.Sentence)
		}
	}
}

func TestCertificationLabel(t *testing.T) {
	cover, err := capacity.Cover(launch)
	if err != nil {
		t.Fatal(err)
	}
	m := capacity.Maker{Name: "Heronmere Launch Yard", Address: "1 Staithe Lane, Heronmere", Model: "Rush 54",
		HIN: "US-HLY00042E627"}
	l, err := capacity.CertificationLabel(cover, m)
	if err != nil || !l.Ready {
		t.Fatalf("%+v, %v", l, err)
	}
	want := []string{m.Name, m.Address, "This boat complies with U.S. Coast Guard safety standards in effect on the " +
		"date of certification", "Model Rush 54", "HIN HLY00042E627", "Model year 27"}
	if len(l.Lines) != len(want) {
		t.Fatalf("%+v", l.Lines)
	}
	for i := range want {
		if l.Lines[i].Text != want[i] {
			t.Errorf("line %q, want %q", l.Lines[i].Text, want[i])
		}
	}
	long, err := capacity.Cover(capacity.Boat{LengthM: 7, Hull: capacity.Monohull, Drive: capacity.Inboard})
	if err != nil {
		t.Fatal(err)
	}
	if l, err := capacity.CertificationLabel(long, m); err != nil || l.Applies ||
		!strings.Contains(l.Sentence.String(), "confirm") {
		t.Errorf("%+v, %v", l, err)
	}
}

func TestCertificationLabelRefuses(t *testing.T) {
	cover, err := capacity.Cover(launch)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		maker capacity.Maker
		part  string
	}{
		{capacity.Maker{Address: "x"}, "the maker's name is empty"},
		{capacity.Maker{Name: "x", Address: " "}, "the maker's address is empty"},
		{capacity.Maker{Name: "two\nlines", Address: "x"}, "one line"},
		{capacity.Maker{Name: "\xff", Address: "x"}, "one line"},
		{capacity.Maker{Name: "x", Address: strings.Repeat("x", 201)}, "at most 200"},
		{capacity.Maker{Name: "x", Address: "x", HIN: "HLY"}, "3 characters"},
	} {
		_, err := capacity.CertificationLabel(cover, c.maker)
		wantError(t, err, c.part)
	}
}

func TestTexts(t *testing.T) {
	for _, r := range []capacity.Reading{capacity.Handbook, capacity.Literal} {
		if !strings.Contains(r.Text().String(), "183.3") || r.String() == "unknown" {
			t.Errorf("%s: %s", r, r.Text())
		}
	}
	if capacity.Reading(9).String() != "unknown" || capacity.Reading(9).Text().Empty() ||
		capacity.Basis(9).String() != "unknown" {
		t.Error("unknown readings and bases must say so")
	}
	if got := msg.Sentences(capacity.Cautions()...).String(); !strings.Contains(got, "not legal text") ||
		!strings.Contains(got, "qualified person") || !strings.Contains(got, "swamped") {
		t.Error(got)
	}
	if got := capacity.BilgeNote().String(); !strings.Contains(got, "(b)(d)(f)") || !strings.Contains(got, "102 mm") {
		t.Error(got)
	}
}

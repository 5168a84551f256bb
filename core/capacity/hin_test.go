package capacity_test

import (
	"errors"
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ribband/core/capacity"
	"ribband/testdata/published"
)

func runNumber(t *testing.T, c published.Case) {
	var in struct {
		Country, Maker, Serial string
		Year, Month            int
		ModelYear              int `json:"model_year"`
	}
	var want struct{ Short, Full string }
	c.Read(t, &in, &want)
	h, err := capacity.BuildHIN(capacity.Identity{Country: in.Country, Manufacturer: in.Maker, Serial: in.Serial,
		Year: in.Year, Month: time.Month(in.Month), ModelYear: in.ModelYear})
	if err != nil {
		t.Fatal(err)
	}
	if h.String() != want.Short || h.Full() != want.Full {
		t.Errorf("%s, %s; want %+v", h, h.Full(), want)
	}
}

// Source: 33 CFR 181.25 read as a pattern; ISO 10087 from memory for the country.
var (
	american = regexp.MustCompile(`^(US-)?[A-Z]{3}[A-HJ-NPR-Z0-9]{5}[A-L][0-9]{3}$`)
	abroad   = regexp.MustCompile(`^[A-Z]{2}-[A-Z0-9]{3}[A-HJ-NPR-Z0-9]{5}[A-L][0-9]{3}$`)
)

func formed(text string) bool {
	return american.MatchString(text) || abroad.MatchString(text) && !strings.HasPrefix(text, "US-")
}

func anyIdentity(t *rapid.T) capacity.Identity {
	year := rapid.IntRange(1985, 2099).Draw(t, "year")
	id := capacity.Identity{
		Country:      rapid.SampledFrom([]string{"", "US", "GB", "NL"}).Draw(t, "country"),
		Manufacturer: rapid.StringMatching(`[A-Z]{3}`).Draw(t, "maker"),
		Serial:       rapid.StringMatching(`[A-HJ-NPR-Z0-9]{5}`).Draw(t, "serial"), Year: year,
		Month:     time.Month(rapid.IntRange(1, 12).Draw(t, "month")),
		ModelYear: year + rapid.IntRange(-1, 1).Draw(t, "model year"),
	}
	if id.Country == "GB" {
		id.Manufacturer = rapid.StringMatching(`[A-Z0-9]{3}`).Draw(t, "maker abroad")
	}
	return id
}

// What is built is read back as it was, in both forms.
func TestHINRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		id := anyIdentity(t)
		h, err := capacity.BuildHIN(id)
		if err != nil {
			t.Fatal(err)
		}
		back, err := capacity.ParseHIN(h.Full())
		if err != nil || back != h || back.Full() != h.Full() || len(back.Doubts()) != 0 {
			t.Fatalf("%+v reads back as %+v, %v, doubts %v", h, back, err, back.Doubts())
		}
		if len(h.String()) != 12 || h.ModelYear != id.ModelYear%100 || h.YearDigit != id.Year%10 ||
			h.Month != id.Month {
			t.Fatalf("%+v is not %+v", h, id)
		}
	})
}

// Every single character put in place of another is found where it leaves the form wrong, and only there.
func TestHINDamage(t *testing.T) {
	for _, good := range []string{"HLY00042E627", "US-HLY00042E627", "GB-4BC00042A394"} {
		for i := range len(good) {
			for c := rune(0); c < 0x180; c++ {
				text := good[:i] + string(c) + good[i+1:]
				if _, err := capacity.ParseHIN(text); (err == nil) != formed(text) {
					t.Errorf("%q: %v, well formed is %t", text, err, formed(text))
				}
			}
			for _, text := range []string{good[:i] + good[i+1:], good[:i] + "A" + good[i:]} {
				if _, err := capacity.ParseHIN(text); (err == nil) != formed(text) {
					t.Errorf("%q: %v, well formed is %t", text, err, formed(text))
				}
			}
		}
	}
}

func TestMalformedHIN(t *testing.T) {
	for _, c := range []struct {
		text  string
		parts []string
	}{
		{"", []string{`reading hull identification number ""`, "0 characters", "write twelve"}},
		{"HLY00042E62", []string{"11 characters"}},
		{"HLY00042E6277", []string{"13 characters"}},
		{"HLY 0042E627", []string{"character 4", "no letter or digit", "without spaces"}},
		{" HLY00042E627", []string{"character 1"}},
		{"HLY00042é627", []string{"character 9", "'é'"}},
		{"HLY-0042E627", []string{"character 4", "interrupts", "without slashes"}},
		{"HLY/0042E627", []string{"character 4", "interrupts"}},
		{"hLY00042E627", []string{"character 1", "code of the maker", "capitals"}},
		{"H1Y00042E627", []string{"character 2", "three capitals"}},
		{"HLYO0042E627", []string{"character 4", `"O" is not allowed`, "digits 1 and 0"}},
		{"HLY0I042E627", []string{"character 5", `"I"`}},
		{"HLY00Q42E627", []string{"character 6", `"Q"`}},
		{"HLY000a2E627", []string{"character 7", "capitals and digits"}},
		{"HLY00042M627", []string{"character 9", "old form", "1984"}},
		{"HLY000420627", []string{"character 9", "a digit here"}},
		{"HLY00042N627", []string{"character 9", "no month", "A for January"}},
		{"HLY00042EX27", []string{"character 10", "last digit of the year"}},
		{"HLY00042E6X7", []string{"character 11", "model year"}},
		{"HLY00042E62X", []string{"character 12", "model year"}},
		{"us-HLY00042E627", []string{"character 1", "no country", "US or GB"}},
		{"US-HLYO0042E627", []string{"character 7"}},
		{"US-4LY00042E627", []string{"character 4", "three capitals"}},
		{"H1YO0042N62X", []string{"character 2", "character 4", "character 9", "character 12"}},
		{strings.Repeat("A", 1000), []string{"1000 characters", "…"}},
	} {
		_, err := capacity.ParseHIN(c.text)
		wantError(t, err, c.parts...)
		var all *capacity.HINError
		if !errors.As(err, &all) || len(all.Problems) == 0 {
			t.Errorf("%q: no list of problems", c.text)
		}
	}
}

func TestBuildHINRefuses(t *testing.T) {
	good := capacity.Identity{Country: "GB", Manufacturer: "HLY", Serial: "00042", Year: 2026, Month: time.May,
		ModelYear: 2026}
	for _, c := range []struct {
		change func(*capacity.Identity)
		parts  []string
	}{
		{func(i *capacity.Identity) { i.Year = 26 }, []string{"the year is 26", "four digits"}},
		{func(i *capacity.Identity) { i.Month = 0 }, []string{"month 0", "1 to 12"}},
		{func(i *capacity.Identity) { i.Month = 13 }, []string{"month 13"}},
		{func(i *capacity.Identity) { i.ModelYear = 2028 }, []string{"model year 2028", "2026"}},
		{func(i *capacity.Identity) { i.Country = "United Kingdom" }, []string{"no country"}},
		{func(i *capacity.Identity) { i.Manufacturer = "HL" }, []string{"has not three characters"}},
		{func(i *capacity.Identity) { i.Serial = "42" }, []string{"has not five characters", "zeros"}},
		{func(i *capacity.Identity) { i.Serial = "0004O" }, []string{"character 5", `"O"`}},
		{func(i *capacity.Identity) { i.Serial, i.Manufacturer = "0004O", "hly" }, []string{`"O"`, `"h"`}},
	} {
		id := good
		c.change(&id)
		_, err := capacity.BuildHIN(id)
		wantError(t, err, c.parts...)
	}
}

func TestSerialOf(t *testing.T) {
	if s, err := capacity.SerialOf(42); err != nil || s != "00042" {
		t.Errorf("%q, %v", s, err)
	}
	for _, n := range []int{-1, 100_000} {
		_, err := capacity.SerialOf(n)
		wantError(t, err, "0 to 99999")
	}
}

func TestDoubts(t *testing.T) {
	h, err := capacity.ParseHIN("HLY00042E620")
	if err != nil || len(h.Doubts()) != 1 {
		t.Errorf("a boat of a year ending in 6 and of model year 20: %v, %v", h.Doubts(), err)
	}
}

func TestHINPlaces(t *testing.T) {
	// each market names its own law, and none that of another
	for market, law := range map[string]string{"us": "33 CFR", "eu": "2013/53/EU", "gb": "S.I. 2017/737",
		"": "ISO 10087"} {
		for _, p := range capacity.HINPlaces(market, true) {
			for _, other := range []string{"33 CFR", "2013/53/EU", "S.I. 2017/737"} {
				if strings.Contains(p.Section, other) != (other == law) {
					t.Errorf("%q: %s", market, p.Section)
				}
			}
			if !strings.Contains(p.Section, law) || market != "us" && strings.Contains(p.Where.String(), "US-") {
				t.Errorf("%q: %s, %s", market, p.Section, p.Where)
			}
		}
		if capacity.NeedsCountry(market) != (market == "eu" || market == "gb") {
			t.Errorf("%q: %t", market, capacity.NeedsCountry(market))
		}
	}
	for _, transom := range []bool{true, false} {
		where := capacity.HINPlaces("gb", transom)[0].Where.String()
		if strings.Contains(where, "of the transom") != transom {
			t.Errorf("transom %t: %s", transom, where)
		}
		places := capacity.HINPlaces("us", transom)
		if len(places) != 2 || places[0].Name.String() != "primary" || places[1].Name.String() != "duplicate" {
			t.Fatalf("%+v", places)
		}
		if got := strings.Contains(places[0].Where.String(), "of the transom, within"); got != transom {
			t.Errorf("transom %t: %s", transom, places[0].Where)
		}
	}
}

func FuzzParseHIN(f *testing.F) {
	for _, s := range []string{"", "HLY00042E627", "US-HLY00042E627", "GB-4BC00042A394", "HLY00042M627", "US-",
		"--------------", "ÄÖÜ00042E627", "HLY00042E627\x00", "\xff\xfe"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h, err := capacity.ParseHIN(s)
		if (err == nil) != formed(s) {
			t.Fatalf("%q: %v, well formed is %t", s, err, formed(s))
		}
		if err == nil && h.Full() != s {
			t.Errorf("%q reads as %+v, which writes %q", s, h, h.Full())
		}
	})
}

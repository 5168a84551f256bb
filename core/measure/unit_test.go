package measure_test

import (
	"encoding/csv"
	"errors"
	"io/fs"
	"math"
	"os"
	"testing"

	"ribband/core/measure"
)

// rec20 is the code list of UN/CEFACT Recommendation 20, revision 17, where it is kept beside the repository.
const rec20 = "../../../shared/datasets/codes-unece-rec20/units-of-measure.csv"

func TestUnitsAreInRec20(t *testing.T) {
	f, err := os.Open(rec20)
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("the code list of Recommendation 20 is not beside the repository")
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	status := map[string]string{}
	for _, row := range rows[1:] {
		status[row[1]] = row[0]
	}
	for _, u := range append(measure.Units, measure.Unit{ID: "one", Rec20: "C62"}) {
		if s, ok := status[u.USCode]; u.US != "" && (!ok || s == "D" || s == "X") {
			t.Errorf("%s: code %q of %s has status %q, in the list: %v", u.ID, u.USCode, u.US, s, ok)
		}
		switch s, ok := status[u.Rec20]; {
		case !ok:
			t.Errorf("%s: code %s is not in the list", u.ID, u.Rec20)
		case s == "D" || s == "X":
			t.Errorf("%s: code %s has status %s (deprecated or deleted)", u.ID, u.Rec20, s)
		}
	}
}

func TestUnitsAreUnique(t *testing.T) {
	ids, codes := map[string]bool{}, map[string]bool{}
	for _, u := range measure.Units {
		if ids[u.ID] || codes[u.Rec20] {
			t.Errorf("%s (%s) is there twice", u.ID, u.Rec20)
		}
		if (u.US == "") != (u.Factor == 0) {
			t.Errorf("%s has a symbol without a factor, or a factor without a symbol", u.ID)
		}
		ids[u.ID], codes[u.Rec20] = true, true
		if got, ok := measure.UnitOf(u.ID); !ok || got != u {
			t.Errorf("UnitOf(%q) = %+v, %v", u.ID, got, ok)
		}
	}
	if _, ok := measure.UnitOf("furlong"); ok {
		t.Error("a unit that the book does not know was found")
	}
}

// Source: NIST Special Publication 811, appendix B, rounded as printed there; from memory.
func TestConversions(t *testing.T) {
	for _, c := range []struct {
		unit   string
		value  float64
		want   float64
		symbol string
		within float64
	}{
		{"m", 0.3048, 1, "ft", 1e-12},
		{"m", 7.6, 24.93, "ft", 0.005},
		{"m2", 1, 10.76391, "ft²", 5e-6},
		{"m3", 1, 35.31467, "ft³", 5e-6},
		{"l", 3.785412, 1, "US gal", 1e-6},
		{"kg", 1, 2.204623, "lb", 5e-7},
		{"km", 1.609344, 1, "mi", 1e-12},
		{"kmh", 1.609344, 1, "mph", 1e-12},
		{"kn", 5, 5, "kn", 0},
		{"nm", 5, 5, "nm", 0},
		{"kW", 4, 4, "kW", 0},
		{"each", 3, 3, "", 0},
	} {
		u, _ := measure.UnitOf(c.unit)
		got, in := u.In(measure.USCustomary, c.value)
		symbol := measure.SymbolOf(in)
		if math.Abs(got-c.want) > c.within || symbol != c.symbol {
			t.Errorf("%v %s: %v %s, want %v %s", c.value, c.unit, got, symbol, c.want, c.symbol)
		}
		if got, in := u.In(measure.Sea, c.value); got != c.value || in != u.ID {
			t.Errorf("%v %s at sea: %v %s", c.value, c.unit, got, in)
		}
	}
}

// The nautical mile is 1852 m and the statute mile 1609.344 m by definition (NIST Special Publication 811, appendix B,
// from memory): inland there are km and km/h alone, in the US statute miles beside those of the sea.
func TestSystems(t *testing.T) {
	for _, c := range []struct {
		system     measure.System
		unit       string
		value      float64
		number     float64
		symbol     string
		bracketsOf string
		beside     string
	}{
		{measure.Sea, "kn", 10, 10, "kn", "10", "(18.5\u00a0km/h)"},
		{measure.Inland, "kn", 10, 18.52, "km/h", "18.5", ""},
		{measure.USCustomary, "kn", 10, 10, "kn", "10", "(11.5\u00a0mph)"},
		{measure.Sea, "nm", 10, 10, "nm", "10", "(19\u00a0km)"},
		{measure.Inland, "nm", 10, 18.52, "km", "19", ""},
		{measure.USCustomary, "nm", 100, 100, "nm", "100", "(115\u00a0mi)"},
		{measure.Inland, "kg", 10, 10, "kg", "10", ""},
	} {
		u, _ := measure.UnitOf(c.unit)
		got, in := u.In(c.system, c.value)
		if math.Abs(got-c.number) > 1e-9 || measure.SymbolOf(in) != c.symbol ||
			measure.Ashore(c.bracketsOf, in) != c.beside {
			t.Errorf("%v %s in %s: %v %s %s, want %+v", c.value, c.unit, c.system, got, measure.SymbolOf(in),
				measure.Ashore(c.bracketsOf, in), c)
		}
	}
	for _, c := range []struct {
		language, region string
		want             measure.System
	}{{"en", "us", measure.USCustomary}, {"de", "us", measure.USCustomary}, {"de", "de", measure.Inland},
		{"nl", "", measure.Inland}, {"en", "nl", measure.Sea}, {"en", "eu-trade", measure.Sea}} {
		if got := measure.Usual(c.language, c.region); got != c.want {
			t.Errorf("%s in %q: %s, want %s", c.language, c.region, got, c.want)
		}
	}
}

// A unit of a book is shown as it is named, in every system of units.
func TestNamed(t *testing.T) {
	for _, s := range measure.Systems {
		if value, in := measure.Named("fm").In(s, 7.87); value != 7.87 || in != "fm" {
			t.Errorf("%s: %v %s", s, value, in)
		}
	}
	if u := measure.Named("m"); u.Rec20 != "MTR" {
		t.Errorf("a metre is %+v", u)
	}
}

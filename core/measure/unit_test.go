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
		{"kW", 4, 4, "kW", 0},
		{"each", 3, 3, "", 0},
	} {
		u, _ := measure.UnitOf(c.unit)
		got, symbol := u.In(measure.USCustomary, c.value)
		if math.Abs(got-c.want) > c.within || symbol != c.symbol {
			t.Errorf("%v %s: %v %s, want %v %s", c.value, c.unit, got, symbol, c.want, c.symbol)
		}
		if got, symbol := u.In(measure.Metric, c.value); got != c.value || symbol != u.Symbol {
			t.Errorf("%v %s in metric: %v %s", c.value, c.unit, got, symbol)
		}
	}
}

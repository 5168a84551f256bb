package bank_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"math"
	"os"
	"slices"
	"testing"

	"ribband/core/bank"
)

// numbers are read from one number, a list, or rows of a table, one after the other.
type numbers []float64

func (n *numbers) UnmarshalJSON(text []byte) error {
	var one float64
	if json.Unmarshal(text, &one) == nil {
		*n = numbers{one}
		return nil
	}
	var several []numbers
	if err := json.Unmarshal(text, &several); err != nil {
		return err
	}
	*n = slices.Concat(several...)
	return nil
}

// named are the inputs or results of a case.
type named map[string]numbers

// one is the first number of a name.
func (n named) one(name string) float64 { return n[name][0] }

// powerCase is one case of testdata/power.json, which names the source of each.
type powerCase struct {
	ID, Kind, Source, Status, Note, Skip string
	Inputs, Expected                     named
	Tolerance                            numbers
}

// runners say how a kind of case is run.
var runners = map[string]func(in named) named{
	"discharge table":             runTable,
	"exponent":                    runExponent,
	"discharge":                   runDischarge,
	"one ampere":                  runOneAmpere,
	"lead-acid at a temperature":  runTemperature,
	"cell size factor":            each("temperatures_c", "factor", bank.CellSizeFactor),
	"banks":                       runBanks,
	"two-stage charge":            runTwoStage,
	"simple charge":               runSimpleCharge,
	"device":                      runDevice,
	"continuous limit":            each("devices_a", "continuous_a", bank.ContinuousA),
	"charger on the mains":        runMains,
	"range":                       runRange,
	"hull speed in feet":          each("waterline_ft", "knots", bank.HullSpeedKnOfFt),
	"hull speed":                  each("waterline_m", "knots", bank.HullSpeedKn),
	"Froude number at hull speed": each("waterline_ft", "froude", froudeAtHullSpeed),
	"Froude number": func(in named) named {
		return named{"froude": {bank.Froude(in.one("speed_ms"),
			in.one("waterline_m"))}}
	},
	"Admiralty coefficient": runCoefficient,
	"Admiralty power":       runAdmiralty,
	"energy for a speed":    runEnergy,
	"speed/length of power": runSpeedLength,
	"power of speed/length": runGerr,
	"power between two":     runBetween,
	"wind in pounds":        runPounds,
	"wind":                  runWind,
	"propulsion":            runPropulsion,
	"density": each("lb_per_ft3", "kg_per_m3",
		func(d float64) float64 { return d * bank.KgPerLb / math.Pow(bank.MPerFt, 3) }),
}

func TestPublishedCases(t *testing.T) {
	cases, statuses := readCases(t)
	skipped := 0
	for _, c := range cases {
		if c.Skip != "" {
			skipped++
		}
		t.Run(c.ID, func(t *testing.T) {
			if _, ok := statuses[c.Status]; c.Source == "" || !ok {
				t.Errorf("source %q, status %q: want both", c.Source, c.Status)
			}
			if c.Skip != "" {
				t.Skip(c.Skip)
			}
			run, ok := runners[c.Kind]
			if !ok {
				t.Fatalf("kind %q has no runner", c.Kind)
			}
			c.compare(t, run(c.Inputs))
		})
	}
	if len(cases) != 40 || skipped != 0 {
		t.Errorf("%d cases with %d skipped, want 40 with 0", len(cases), skipped)
	}
}

func readCases(t *testing.T) ([]powerCase, map[string]string) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/power.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Note     string
		Statuses map[string]string
		Cases    []powerCase
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&file); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, c := range file.Cases {
		if seen[c.ID] {
			t.Errorf("case %s is there twice", c.ID)
		}
		seen[c.ID] = true
	}
	return file.Cases, file.Statuses
}

// compare wants every expected number; the tolerances follow the keys in the order of the alphabet.
func (c powerCase) compare(t *testing.T, got named) {
	t.Helper()
	n := 0
	for _, key := range slices.Sorted(maps.Keys(c.Expected)) {
		want := c.Expected[key]
		if len(got[key]) != len(want) {
			t.Fatalf("%s: %v, want %v", key, got[key], want)
		}
		for i := range want {
			tolerance := c.Tolerance[min(n, len(c.Tolerance)-1)]
			if n++; !(math.Abs(got[key][i]-want[i]) <= tolerance) {
				t.Errorf("%s %d: %v, want %v ± %v", key, i+1, got[key][i], want[i], tolerance)
			}
		}
	}
	if len(c.Tolerance) != 1 && len(c.Tolerance) != n {
		t.Errorf("%d tolerances for %d numbers", len(c.Tolerance), n)
	}
}

// each runs a function over a list.
func each(in, out string, f func(float64) float64) func(named) named {
	return func(given named) named {
		var results numbers
		for _, v := range given[in] {
			results = append(results, f(v))
		}
		return named{out: results}
	}
}

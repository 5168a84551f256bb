package capacity_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"
)

// capacityCase is one case of testdata/capacity.json, which names the source of each.
type capacityCase struct {
	ID, Kind, Source, Status, Note, Skip string
	Inputs, Expected                     json.RawMessage
	Tolerance                            float64
}

// runners say how a kind of case is run.
var runners = map[string]func(t *testing.T, c capacityCase){
	"persons":       runPersons,
	"persons share": runPersonsShare,
	"chambers":      runChambers,
	"submerged":     runSubmerged,
	"formulas":      runFormulas,
	"capacity":      runCapacity,
	"whole persons": runWholePersons,
	"least pounds":  runLeastPounds,
	"load":          runLoad,
	"load parts":    runLoadParts,
	"foam":          runFoam,
	"covered":       runCovered,
	"subparts":      runSubparts,
	"factors":       runFactors,
	"label":         runLabel,
	"constants":     runConstants,
	"worksheet":     runWorksheet,
	"bilge tests":   runBilgeTests,
	"net buoyancy":  runNetBuoyancy,
	"lift":          runLift,
	"number":        runNumber,
}

func TestPublishedCases(t *testing.T) {
	cases, statuses := readCases(t)
	skipped := 0
	for _, c := range cases {
		if c.Skip != "" {
			skipped++
		}
		t.Run(c.ID, func(t *testing.T) {
			if c.Source == "" || !statuses[c.Status] {
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
	if len(cases) != 39 || skipped != 7 {
		t.Errorf("%d cases with %d skipped, want 39 with 7", len(cases), skipped)
	}
}

func readCases(t *testing.T) ([]capacityCase, map[string]bool) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/capacity.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Note     string
		Statuses map[string]string
		Cases    []capacityCase
	}
	decode(t, text, &file)
	statuses := map[string]bool{}
	for s := range file.Statuses {
		statuses[s] = true
	}
	seen := map[string]bool{}
	for _, c := range file.Cases {
		if seen[c.ID] {
			t.Errorf("case %s is there twice", c.ID)
		}
		seen[c.ID] = true
	}
	return file.Cases, statuses
}

func decode(t *testing.T, text []byte, into any) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatal(err)
	}
}

func (c capacityCase) read(t *testing.T, inputs, expected any) {
	t.Helper()
	decode(t, c.Inputs, inputs)
	decode(t, c.Expected, expected)
}

// near compares with the tolerance of the case.
func (c capacityCase) near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= c.Tolerance) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, c.Tolerance)
	}
}

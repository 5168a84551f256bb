// Package published runs the published check cases in testdata, for the tests of the packages that they concern. A file
// of cases says what each status means; a case names its source, and one that is skipped says why. It stands beside the
// data, since no part of the program uses it.
package published

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"
)

// Case is one published case. Inputs and Expected have the form that the runner of its Kind reads. Tolerance is
// absolute, in the unit of what is expected: as many digits as the source prints.
type Case struct {
	ID, Kind, Source, Status, Note, Skip string
	Tolerance                            float64
	Inputs, Expected                     json.RawMessage
}

// Run runs every case of a file by the runner of its kind. It fails where the numbers of cases and of skipped ones are
// not those given, a case is there twice, has no source or an unknown status. The numbers are asked for so that a case
// that is dropped, or skipped for a while, does not go unnoticed.
func Run(t *testing.T, file string, cases, skipped int, runners map[string]func(*testing.T, Case)) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Note     string
		Statuses map[string]string
		Cases    []Case
	}
	Decode(t, text, &all)
	left, seen := 0, map[string]bool{}
	for _, c := range all.Cases {
		if seen[c.ID] {
			t.Errorf("case %s is there twice", c.ID)
		}
		if seen[c.ID] = true; c.Skip != "" {
			left++
		}
		t.Run(c.ID, func(t *testing.T) {
			if c.Source == "" || all.Statuses[c.Status] == "" {
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
	// a file that was cut short has fewer
	if len(all.Cases) != cases || left != skipped {
		t.Errorf("%d cases with %d skipped, want %d with %d", len(all.Cases), left, cases, skipped)
	}
}

// Decode reads JSON strictly. A key that is misspelt would otherwise leave a zero to compare with.
func Decode(t *testing.T, text []byte, into any) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	// case files are written by hand
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatal(err)
	}
}

// Read decodes what goes in and what is expected.
func (c Case) Read(t *testing.T, inputs, expected any) {
	t.Helper()
	Decode(t, c.Inputs, inputs)
	Decode(t, c.Expected, expected)
}

// Near compares with the tolerance of the case. What is no number is never near.
func (c Case) Near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= c.Tolerance) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, c.Tolerance)
	}
}

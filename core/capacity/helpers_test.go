package capacity_test

import (
	"strings"
	"testing"

	"ribband/core/capacity"
)

// launch is a boat that the rules cover.
var launch = capacity.Boat{LengthM: 5.4, Hull: capacity.Monohull, Drive: capacity.Inboard}

func kg(lb float64) float64 { return lb * capacity.PoundKG }

// weighing makes the maximum weight capacity whose marked value is a number of pounds.
func weighing(t testing.TB, lb float64) capacity.Weight {
	t.Helper()
	// W2 governs where MD - BW = 7·W and machinery is heavy enough.
	w := capacity.Weights{DisplacementKG: kg(7*lb + 1000), HullKG: kg(1000 - 900), BatteryKG: kg(900)}
	out, err := capacity.MaximumWeight(launch, w, capacity.Handbook)
	if err != nil {
		t.Fatal(err)
	}
	if out.Marked != int(lb) {
		out, err = out.Derated(int(lb)) // for capacities of which W1 gives more
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// marked makes the persons capacity with these two values marked.
func marked(personsLB, weightLB int) capacity.Persons {
	n, _ := capacity.WholePersons(float64(personsLB))
	return capacity.Persons{Applies: true, Marked: personsLB, WeightLB: weightLB, Number: n}
}

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

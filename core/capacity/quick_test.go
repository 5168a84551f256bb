package capacity_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/capacity"
	"ribband/core/msg"
)

// The quick numbers are those of the functions that say every step.
func TestQuickIsTheLongSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		w := capacity.Weights{DisplacementKG: draw("displacement", 100, 6000), HullKG: draw("hull", 50, 1500),
			MotorKG: draw("motor", 0, 200), BatteryKG: draw("bank", 0, 600)}
		basis := capacity.Basis(rapid.IntRange(0, 1).Draw(t, "basis"))
		submerged := 0.33*w.HullKG + capacity.MachineryShare*w.MotorKG + w.BatteryKG
		got, ok := capacity.Quick(w, capacity.Handbook, submerged, capacity.TwoPoundFoam, basis)
		weight, err := capacity.MaximumWeight(launch, w, capacity.Handbook)
		var persons capacity.Persons
		if err == nil {
			persons, err = capacity.PersonsCapacity(weight, capacity.ListTest{})
		}
		if ok != (err == nil) {
			t.Fatalf("quick says %v, the long sum %v", ok, err)
		}
		if !ok {
			if got != (capacity.Marks{}) {
				t.Fatalf("without a capacity: %+v", got)
			}
			return
		}
		foam, err := capacity.Flotation(launch, persons,
			capacity.Swamped{Parts: []capacity.Part{{Name: msg.Plain("hull"), Material: "grp", KG: w.HullKG}},
				MachineryKG: w.MotorKG,
				Batteries:   []capacity.Battery{{Name: msg.Plain("bank"), KG: w.BatteryKG}},
				Foam:        capacity.TwoPoundFoam,
				Basis:       basis})
		if err != nil {
			t.Fatal(err)
		}
		if got.WeightLB != weight.Marked || got.PersonsLB != persons.Marked || got.Persons != persons.Number ||
			math.Abs(got.FoamL-1000*foam.Provide.M3) > 1 {
			t.Fatalf("quick %+v; the long sum %d lb, %d lb for %d persons, %v l", got, weight.Marked, persons.Marked,
				persons.Number, 1000*foam.Provide.M3)
		}
	})
}

func BenchmarkQuick(b *testing.B) {
	w := capacity.Weights{DisplacementKG: 3000, HullKG: 340, MotorKG: 56, BatteryKG: 48}
	for b.Loop() {
		capacity.Quick(w, capacity.Handbook, 200, capacity.TwoPoundFoam, capacity.HandbookLoad)
	}
}

package capacity_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/capacity"
	"ribband/core/msg"
)

func anyWeights(t *rapid.T) capacity.Weights {
	draw := func(name string, most float64) float64 { return rapid.Float64Range(0, most).Draw(t, name) }
	w := capacity.Weights{
		HullKG: 50 + draw("hull", 1500), FuelKG: draw("fuel", 50), MotorKG: draw("motor", 150),
		DriveKG:    draw("drive", 80),
		ControlsKG: draw("controls", 40), BatteryKG: draw("battery", 900),
	}
	w.DisplacementKG = w.HullKG + w.FuelKG + w.MotorKG + w.DriveKG + w.ControlsKG + w.BatteryKG + 5 + draw("left over",
		5000)
	return w
}

// The capacity is never negative, never above a fifth of what the reading leaves, and what is marked never above it.
func TestCapacityBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWeights(t)
		for _, r := range []capacity.Reading{capacity.Handbook, capacity.Literal} {
			got, err := capacity.MaximumWeight(launch, w, r)
			if err != nil {
				t.Fatal(err)
			}
			bound := (got.Displacement.LB - got.Boat.LB) / 5
			if got.Computed.LB <= 0 || got.Computed.LB > bound+1e-5 {
				t.Errorf("%s: %v lb, bound %v", r, got.Computed.LB, bound)
			}
			if float64(got.Marked) > got.Computed.LB || got.Marked < 1 || got.Computed.LB-float64(got.Marked) >= 1 {
				t.Errorf("%s: marked %d of %v lb", r, got.Marked, got.Computed.LB)
			}
		}
	})
}

// The handbook's reading never gives more than the letter, and never more persons.
func TestHandbookIsTheSafeReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWeights(t)
		safe, err := capacity.MaximumWeight(launch, w, capacity.Handbook)
		if err != nil {
			t.Fatal(err)
		}
		letter, err := capacity.MaximumWeight(launch, w, capacity.Literal)
		if err != nil {
			t.Fatal(err)
		}
		if safe.Marked > letter.Marked {
			t.Errorf("handbook %d lb, letter %d lb", safe.Marked, letter.Marked)
		}
	})
}

// A heavier part of the boat never raises the capacity.
func TestHeavierBoatCarriesNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWeights(t)
		w.DisplacementKG += 200
		light, err := capacity.MaximumWeight(launch, w, capacity.Handbook)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []*float64{&w.HullKG, &w.FuelKG, &w.MotorKG, &w.DriveKG, &w.ControlsKG, &w.BatteryKG} {
			*part += 20
			heavy, err := capacity.MaximumWeight(launch, w, capacity.Handbook)
			if err != nil {
				t.Fatal(err)
			}
			if *part -= 20; heavy.Computed.LB > light.Computed.LB+1e-5 {
				t.Errorf("20 kg more carries %v lb, before %v", heavy.Computed.LB, light.Computed.LB)
			}
		}
	})
}

// Persons never weigh more than the boat may carry, and a test never raises what the weight allows.
func TestPersonsBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, err := capacity.MaximumWeight(launch, anyWeights(t), capacity.Handbook)
		if err != nil {
			t.Fatal(err)
		}
		a := rapid.Float64Range(0, 600).Draw(t, "A")
		p, err := capacity.PersonsCapacity(w, capacity.ListTest{Done: true, AddedKG: a})
		if err != nil {
			return // carries nobody
		}
		if p.Marked > w.Marked || float64(p.Marked) > p.Computed.LB {
			t.Errorf("persons of %d lb, computed %v, in %d lb", p.Marked, p.Computed.LB, w.Marked)
		}
		if w.Marked < capacity.ListBelowLB && float64(p.Marked) > capacity.Kilograms(a).LB/0.6 {
			t.Errorf("persons of %d lb, list test of %v kg", p.Marked, a)
		}
		if float64(p.Marked) < capacity.LeastPounds(p.Number) || float64(p.Marked) >= capacity.LeastPounds(p.Number+1) {
			t.Errorf("%d lb counts as %d persons", p.Marked, p.Number)
		}
	})
}

func anySwamped(t *rapid.T) capacity.Swamped {
	s := capacity.Swamped{
		MachineryKG: rapid.Float64Range(0, 300).Draw(t, "machinery"), Foam: capacity.TwoPoundFoam,
		Batteries: []capacity.Battery{
			{Name: msg.Plain("bank"), KG: rapid.Float64Range(0, 900).Draw(t, "bank"), LeadAcid: rapid.Bool().Draw(t,
				"lead"),
				SealedM3: rapid.Float64Range(0, 0.5).Draw(t, "sealed")},
		},
	}
	for _, id := range []string{"grp", "aluminium", "fir-ply", "mahogany"} {
		s.Parts = append(s.Parts, capacity.Part{Name: msg.Plain(id), Material: id, KG: rapid.Float64Range(0,
			800).Draw(t, id)})
	}
	return s
}

// A heavier boat of what sinks needs more foam; more of what floats needs less; what is provided is never less than
// computed.
func TestFoamOfHeavierBoat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySwamped(t)
		s.MachineryKG += 2500 // so that the foam is never nothing
		foam := func() capacity.Foam {
			f, err := capacity.Flotation(launch, marked(650, 740), s)
			if err != nil {
				t.Fatal(err)
			}
			return f
		}
		before := foam()
		for i, grows := range []bool{true, true, false, false} {
			s.Parts[i].KG += 10
			after := foam()
			if s.Parts[i].KG -= 10; after.Volume.M3 > before.Volume.M3 != grows ||
				after.Volume.M3 < before.Volume.M3 == grows {
				t.Errorf("10 kg more of %s: %v m³, before %v", s.Parts[i].Material, after.Volume.M3, before.Volume.M3)
			}
		}
		if s.MachineryKG += 10; foam().Volume.M3 <= before.Volume.M3 {
			t.Error("heavier machinery needs no more foam")
		}
		if s.MachineryKG, s.Basis = s.MachineryKG-10, capacity.HandbookLoad; foam().Volume.M3 <= before.Volume.M3 {
			t.Error("the handbook's load needs no more foam than the rule's")
		}
		if before.Provide.M3 < before.Volume.M3 || before.Provide.M3-before.Volume.M3 > 0.001 {
			t.Errorf("provide %v m³ for %v", before.Provide.M3, before.Volume.M3)
		}
		if sum := before.Boat.LB + before.Machines.LB +
			before.Load.LB - before.Chambers.LB; math.Abs(sum-before.Total.LB) > 1e-5 {
			t.Errorf("total %v, sum %v", before.Total.LB, sum)
		}
	})
}

// Marking less never needs more foam.
func TestDeratingLowersFoam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, lb := anySwamped(t), rapid.IntRange(60, 2000).Draw(t, "lb")
		most, err := capacity.Flotation(launch, marked(lb, lb), s)
		if err != nil {
			t.Fatal(err)
		}
		less, err := capacity.Flotation(launch, marked(lb-20, lb-20), s)
		if err != nil || less.Volume.M3 > most.Volume.M3 {
			t.Errorf("%v m³ for less, %v for more, %v", less.Volume.M3, most.Volume.M3, err)
		}
	})
}

// Converting there and back comes within a millionth.
func TestUnitsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 50_000).Draw(t, "x")
		for _, pair := range [][2]float64{
			{capacity.Pounds(capacity.Kilograms(x).LB).KG, x}, {capacity.Kilograms(capacity.Pounds(x).KG).LB, x},
			{capacity.CubicFeet(capacity.CubicMetres(x).FT3).M3, x},
			{capacity.PoundsPerCubicFoot(capacity.KilogramsPerCubicMetre(x).LBFT3).KGM3, x},
		} {
			if math.Abs(pair[0]-pair[1]) > 2e-5 {
				t.Errorf("%v comes back as %v", pair[1], pair[0])
			}
		}
	})
}

// The pounds of a derated capacity count as the persons that the builder marks, and no more pounds would, up to what is
// computed.
func TestPersonsThatTheBuilderMarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := capacity.PersonsCapacity(capacity.Weight{Applies: true,
			Marked: rapid.IntRange(110, 4000).Draw(t, "marked")}, capacity.ListTest{})
		if err != nil {
			t.Fatal(err)
		}
		n := rapid.IntRange(1, p.Number).Draw(t, "persons")
		d, err := p.Derated(n)
		if err != nil || d.Number != n || d.Marked > p.Marked || (d.Governs == capacity.ByWeight) != (n == p.Number) {
			t.Fatalf("%+v of %+v: %v", d, p, err)
		}
		same, _ := capacity.WholePersons(float64(d.Marked))
		more, _ := capacity.WholePersons(float64(d.Marked + 1))
		if same != n || d.Marked < p.Marked && more != n+1 {
			t.Fatalf("%d lb count as %d persons, and one more as %d; want %d", d.Marked, same, more, n)
		}
		for _, wrong := range []int{0, -1, p.Number + 1} {
			if _, err := p.Derated(wrong); err == nil {
				t.Fatalf("%d persons of %d are taken", wrong, p.Number)
			}
		}
	})
}

package bank_test

import (
	"math"
	"testing"

	"ribband/core/bank"
)

// Slips that were printed somewhere, and definitions that get mixed up, must not come back. Source of each: the
// published page against the formula that it claims to use; worked out again.

// slip checks one number: it is what is right, and not what was printed.
func slip(t *testing.T, name string, got, right, tolerance, printed float64) {
	t.Helper()
	if math.Abs(got-right) > tolerance {
		t.Errorf("%s: %v, want %v ± %v", name, got, right, tolerance)
	}
	if math.Abs(got-printed) <= tolerance {
		t.Errorf("%s: %v, as wrong as %v in print", name, got, printed)
	}
}

func TestPublishedSlipsOfBatteries(t *testing.T) {
	// An AGM page, 100 Ah over 20 h, exponent 1.1.
	for i, a := range []float64{10, 20, 50, 100} {
		slip(t, "Peukert", bank.PeukertAh(100, 20, 1.1, a), []float64{93.3, 87.1, 79.4, 74.1}[i], 0.05,
			[]float64{89, 79, 65, 58}[i])
	}
	// The 1-A form fed with the capacity of 20 h gives 14.5 h at 5 A.
	slip(t, "20 h rate", bank.PeukertHours(100, 20, 1.2, 5), 20, 1e-9, 14.5)
	slip(t, "1-A form of the same battery", bank.OneAmpere(100, 20, 1.2).Hours(1.2, 5), 20, 1e-9, 14.5)
	// A web copy of the cell-size factors gives that of 10 C for 0 C.
	slip(t, "factor at 0 C", bank.CellSizeFactor(0), 1.40, 0.01, 1.19)
	slip(t, "factor at 10 C", bank.CellSizeFactor(10), 1.19, 0.01, 1.40)
	// Two blocks of 6 V 370 Ah.
	two := bank.Bank{Chemistry: bank.Flooded(), Block: bank.Block{VoltageV: 6, CapacityAh: 370}, Series: 2, Parallel: 1}
	slip(t, "two blocks", 1000*two.EnergyKWh(), 4440, 1e-9, 4400)
}

func TestPublishedSlipsOfHullAndWind(t *testing.T) {
	// Hull-speed constants of 1.32 and 1.37, and 9.5 kn for 15 m.
	slip(t, "hull speed of 15 m", bank.HullSpeedKn(15), 9.41, 0.005, 9.5)
	theory := math.Sqrt(bank.GravityMS2/(2*math.Pi)) / bank.MSPerKn
	slip(t, "theory in feet", theory*math.Sqrt(bank.MPerFt), 1.3407, 0.0001, 1.32)
	slip(t, "constant in feet", bank.HullSpeedKnOfFt(1), theory*math.Sqrt(bank.MPerFt), 0.001, 1.37)
	slip(t, "constant in metres", bank.HullSpeedKn(1), theory, 0.002, 1.37/math.Sqrt(bank.MPerFt))
	// The Admiralty formula without its cube: twice the speed takes 8 times the power, not twice.
	slip(t, "twice the speed", bank.AdmiraltyPower(1, 8, 70)/bank.AdmiraltyPower(1, 4, 70), 8, 1e-9, 2)
	// The coefficient in kilowatts and in horsepower, taken for each other.
	kw, hp := bank.AdmiraltyCoefficient(1.2, 5, 2), bank.AdmiraltyCoefficient(1.2, 5, 2000/bank.WPerHP)
	slip(t, "kW against hp", kw/hp, 1.341, 0.001, 1)
	slip(t, "kW against metric hp", 1000/bank.WPerMetricHP, 1.360, 0.001, 1)
	// A harbour guide's density of air at 20 C is that of 16 C.
	slip(t, "air at 20 C", bank.AirDensity(20), 1.204, 0.001, 1.221)
	slip(t, "air at 16 C", bank.AirDensity(16), 1.221, 0.001, 1.204)
	slip(t, "air at 15 C", bank.AirDensity(15), 1.225, 0.0005, 1.221)
}

// Source: IEEE 485, Table 1, from memory; the polynomial is a public sizing page's.
func TestCellSizeFactorAgainstTable(t *testing.T) {
	for c, want := range map[float64]float64{
		1.7: 1.350, 4.4: 1.300, 7.2: 1.250, 10: 1.190, 12.8: 1.150, 15.6: 1.110, 18.3: 1.080, 20: 1.056, 22.2: 1.029,
		25: 1, 26.7: 0.980,
		29.4: 0.960, 32.2: 0.940, 35: 0.930, 37.8: 0.910,
	} {
		if got := bank.CellSizeFactor(c); math.Abs(got-want) > 0.02 {
			t.Errorf("%v C: %v, want %v", c, got, want)
		}
	}
	// 100 Ah at 25 C with 10 % margin and the age factor: computed.
	if got := bank.StationaryAh(100, 25, 1.10, 1.25); math.Abs(got-137.43) > 0.01 {
		t.Errorf("stationary bank: %v", got)
	}
}

// Source: Gerr by way of a calculation page, our own inputs: 2200 lb on 18 ft is a displacement/length ratio of 168.4.
func TestGerrHighestSpeedLength(t *testing.T) {
	if got := bank.GerrHighestSpeedLength(2200, 18); math.Abs(got-1.677) > 0.001 {
		t.Errorf("%v", got)
	}
}

package bank

import (
	"math"
	"slices"
)

// Formulas and data of handbooks that the program does not need: the tests hold its curves, banks and charging against
// them, and them against printed examples.

// AdmiraltyCoefficient is the Admiralty coefficient in tonnes, knots and kilowatts.
//
//	C = D^(2/3)·V³/P
//
//	D  displacement, t       V  speed, kn       P  power, kW
//
// Valid: to compare like boats at nearly the same Froude number. In horsepower C is 1.34 (metric 1.36) times smaller.
// It has been printed without the cube; that is wrong.
// Source: Stokoe; Schneekluth and Bertram. A launch lies far below a ship's 400 to 600.
func AdmiraltyCoefficient(displacementT, speedKn, powerKW float64) float64 {
	return AdmiraltyScale(displacementT, speedKn) / powerKW
}

// AdmiraltyPower is [AdmiraltyCoefficient] turned round.
//
//	P = D^(2/3)·V³/C
//
//	D  displacement, t       V  speed, kn       C  coefficient; P comes out in the unit that C was made with
//
// Valid, source: as [AdmiraltyCoefficient].
func AdmiraltyPower(displacementT, speedKn, coefficient float64) float64 {
	return AdmiraltyScale(displacementT, speedKn) / coefficient
}

// DeviceA is the overcurrent device that a circuit needs.
//
//	OCPD = 1.25·I_cont + I_other
//
//	OCPD  rating, A       I_cont  continuous current, A       I_other  other current, A
//
// Valid: the next standard rating is for [StandardDeviceA].
// Source: NEC 210.20(A).
func DeviceA(continuousA, otherA float64) float64 { return 1.25*continuousA + otherA }

// StandardDeviceA is the smallest standard rating that is enough; false above 100 A.
//
// Valid: 0 to 100 A.
// Source: NEC 240.6(A), from memory.
func StandardDeviceA(deviceA float64) (float64, bool) {
	i := slices.IndexFunc(standardDevices, func(s float64) bool { return s >= deviceA })
	if i < 0 {
		return 0, false
	}
	return standardDevices[i], true
}

// EnergyKWh is the rated energy.
//
//	E = V·C/1000
//
//	E  energy, kWh       V  nominal voltage, V       C  rated capacity, Ah
//
// Valid: at nominal voltage.
// Source: solar self-build manual.
func (b Bank) EnergyKWh() float64 { return b.VoltageV() * b.CapacityAh() / 1000 }

// Froude is the Froude number of a speed.
//
//	Fn = v/√(g·L)
//
//	v  speed, m/s       g  9.80665 m/s²       L  length of the waterline, m
//
// Valid: length above zero.
// Source: encyclopaedia; teaching page.
func Froude(speedMS, waterlineM float64) float64 { return speedMS / math.Sqrt(GravityMS2*waterlineM) }

// GerrHighestSpeedLength is the highest speed/length ratio that a hull of some displacement reaches without planing.
//
//	SL = 8.26/DLR^0.311          DLR = (LB/2240)/(0.01·L)³
//
//	LB  displacement, lb       L  length of the waterline, ft
//
// Valid: displacement and semi-displacement hulls, up to 2.9 (from memory).
// Source: as [GerrSpeedLength].
func GerrHighestSpeedLength(displacementLb, waterlineFt float64) float64 {
	l := 0.01 * waterlineFt
	return 8.26 / math.Pow(displacementLb/LbPerTon/(l*l*l), 0.311)
}

// GerrShaftHP is [GerrSpeedLength] turned round.
//
//	SHP = LB·(SL/10.665)³
//
//	LB  displacement, lb       SHP  power at the shaft, hp       SL  [SpeedLength]
//
// Valid, source: as [GerrSpeedLength].
func GerrShaftHP(displacementLb, speedLength float64) float64 {
	r := speedLength / 10.665
	return displacementLb * r * r * r
}

// GerrSpeedLength is the speed/length ratio that a shaft power gives.
//
//	SL = 10.665/(LB/SHP)^(1/3)
//
//	LB  displacement, lb       SHP  power at the shaft, hp
//
// Valid: displacement and semi-displacement hulls, true displacement ones up to about 1.5. A propeller of 50 to 60 % is
// inside the constant (from memory). Slow, easily driven hulls take less below hull speed.
// Source: D. Gerr, Propeller Handbook, ch. 2, by way of a calculation page.
func GerrSpeedLength(displacementLb, shaftHP float64) float64 {
	return 10.665 / math.Cbrt(displacementLb/shaftHP)
}

// HullSpeedKn is the speed at which a boat's wave is as long as its waterline.
//
//	V = 2.43·√L
//
//	V  speed, kn       L  length of the waterline, m
//
// Valid: displacement hulls in deep water; a guide, not a wall. Theory: √(g/2π), 2.4285.
// Source: many textbooks; derivation page. Constants of 1.32 and 1.37 per √ft are in print too, and 9.5 kn for 15 m:
// right are 1.34 and 9.41 kn.
func HullSpeedKn(waterlineM float64) float64 { return hullSpeedM * math.Sqrt(waterlineM) }

// HullSpeedKnOfFt is [HullSpeedKn] in feet.
//
//	V = 1.34·√L
//
//	V  speed, kn       L  length of the waterline, ft
//
// Valid: as [HullSpeedKn]. Theory: 1.3407.
// Source: many textbooks; derivation page.
func HullSpeedKnOfFt(waterlineFt float64) float64 { return hullSpeedFt * math.Sqrt(waterlineFt) }

// OneAmpere turns a rated capacity into the one at 1 A.
//
//	Cp = H·(C/H)^k
//
// Symbols as in [PeukertHours]; Cp in Ah.
// Valid: all above zero.
// Source: the rated form at 1 A; derived.
func OneAmpere(capacityAh, ratedHours, exponent float64) OneAmpereAh {
	return OneAmpereAh(PeukertHours(capacityAh, ratedHours, exponent, 1))
}

// PeukertExponent finds the exponent from two runs of the same battery at the same temperature.
//
//	k = (ln t2 - ln t1)/(ln I1 - ln I2)
//
//	t1, t2  times, h       I1, I2  currents, A
//
// Valid: both above zero, currents that differ.
// Source: battery-monitor maker's manual, High discharge rates and Peukert.
func PeukertExponent(one, two Run) (float64, error) {
	var fs faults
	for i, r := range []Run{one, two} {
		where := "run " + number(float64(i+1))
		fs.within(where, "the current", r.CurrentA, 1e-3, 1e5, "A")
		fs.within(where, "the time", r.Hours, 1e-3, 1e4, "h")
	}
	if one.CurrentA == two.CurrentA {
		fs.add("run 2", "its current is that of run 1", "take a run at another current")
	}
	if len(fs) > 0 {
		return 0, fs.err()
	}
	return math.Log(two.Hours/one.Hours) / math.Log(one.CurrentA/two.CurrentA), nil
}

// SpeedLength is the speed/length ratio.
//
//	SL = V/√L
//
//	V  speed, kn       L  length of the waterline, ft
//
// Valid: length above zero.
// Source: D. Gerr, Propeller Handbook, ch. 2, by way of a calculation page.
func SpeedLength(speedKn, waterlineFt float64) float64 { return speedKn / math.Sqrt(waterlineFt) }

// StationaryAh is the capacity that a stationary lead-acid battery needs for a load; a second opinion on a house bank.
//
//	C = C_load·Kt·design·age
//
//	C, C_load  capacity to buy and to draw, Ah       Kt  [CellSizeFactor]
//	design     margin for what is not known, 1.10 to 1.15       age  1.25
//
// Valid: lead-acid.
// Source: IEEE 485, 6.2, from memory.
func StationaryAh(loadAh, temperatureC, design, age float64) float64 {
	return loadAh * CellSizeFactor(temperatureC) * design * age
}

// TwoStageChargeHours is a charger manual's estimate for lead-acid that was drawn down deep: to about 80 %, and to
// full.
//
//	t_80 = Q/I          t = t_80 + t_abs
//
//	t_80, t  time, h       Q  capacity, Ah       I  current, A       t_abs  absorption, h, up to 8
//
// Valid: lead-acid after a deep discharge. [Charging.From] keeps a closer account.
// Source: charger maker's manual.
func TwoStageChargeHours(capacityAh, currentA, absorptionH float64) (toAbout80, full float64) {
	toAbout80 = capacityAh / currentA
	return toAbout80, toAbout80 + absorptionH
}

// WhPerNm is the electrical energy that a nautical mile takes, Wh.
func (p Passage) WhPerNm() float64 { return p.Demand.TotalW() / p.SpeedKn }

// WindForceLbf is the force of wind in pounds-force.
//
//	F = 0.0034·Cd·A·V²
//
//	F  force, lbf       Cd  drag coefficient       A  area, ft²       V  wind, kn
//
// Valid: standard air; 0.00339 is closer.
// Source: forum worked example.
func WindForceLbf(drag, areaFt2, windKn float64) float64 {
	return 0.0034 * drag * areaFt2 * windKn * windKn
}

// Flooded is lead-acid with liquid acid; it gasses and needs a ventilated locker.
//
// Source: k 1.2 to 1.6 from an encyclopaedia; charge efficiency 78 to 85 %; depth 50 % from memory; the temperature
// table is that of sealed lead-acid, from memory. The rest as [leadAcid].
func Flooded() Chemistry { return leadAcid("flooded", 1.30, 0.78) }

// Gel is sealed lead-acid with jellied acid.
//
// Source: k 1.10 to 1.25 from encyclopaedia and battery seller's page; charge efficiency 78 to 85 %; depth 50 % from
// memory. The rest as [leadAcid].
func Gel() Chemistry { return leadAcid("gel", 1.18, 0.82) }

// ContinuousW is the power that charging may take, W.
//
//	P = V·s·I_rated
//
//	V  mains, V; the rest as [Inlet.ContinuousA]
//
// Valid: single phase.
// Source: NEC 210.20(A) where s is 0.8; 120 V: 15, 20, 30 A give 1440, 1920, 2880 W.
func (i Inlet) ContinuousW() float64 { return i.VoltageV * i.ContinuousA() }

// Units, exact but for WPerHP, which is rounded.
const (
	MPerFt       = 0.3048     // m in a foot
	KgPerLb      = 0.45359237 // kg in a pound
	LbPerTon     = 2240       // pounds in a long ton
	WPerHP       = 745.69987  // W in a horsepower of 550 ft·lbf/s
	WPerMetricHP = 735.49875  // W in a metric horsepower of 75 kgf·m/s
	GravityMS2   = 9.80665    // m/s²
	hullSpeedFt  = 1.34       // kn/ft^0.5
	hullSpeedM   = 2.43       // kn/m^0.5
)

// standardDevices are ratings of overcurrent devices, A.
//
// Source: NEC 240.6(A) up to 100 A, from memory.
var standardDevices = []float64{15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100}

// CellSizeFactor is by how much a stationary lead-acid battery must be larger at a temperature than at 25 C.
//
//	Kt = -2.8117·x³ + 4.1916·x² - 2.4941·x + 1.405, x = T/100
//
//	Kt  factor       T  temperature of the electrolyte, C
//
// Valid: 0 to 40 C; it agrees with the table of IEEE 485 (from memory) within 0.02.
// Source: public sizing page; that x is in hundreds of C is our reading, and the only one that fits.
func CellSizeFactor(temperatureC float64) float64 {
	x := temperatureC / 100
	return ((-2.8117*x+4.1916)*x-2.4941)*x + 1.405
}

// PeukertHours is how long a battery lasts at a constant current: Peukert's law in its rated form.
//
//	t = H·(C/(I·H))^k
//
//	t  time, h             C  capacity rated over H hours, Ah
//	H  rated time, h       I  current, A           k  exponent
//
// Valid: currents above zero at or above C/H; constant; about 20 to 27 C; not far outside the rates of which k was
// found.
// Source: battery-monitor maker's manual, High discharge rates and Peukert; encyclopaedia article.
func PeukertHours(capacityAh, ratedHours, exponent, currentA float64) float64 {
	return ratedHours * math.Pow(capacityAh/(currentA*ratedHours), exponent)
}

// Run is one discharge at a constant current until empty.
type Run struct{ CurrentA, Hours float64 }

// OneAmpereAh is capacity measured at 1 A, in Ah. It is a type of its own, because the law's old form is right only for
// it: fed with the capacity of 20 hours it makes a battery of 100 Ah last 14.5 h at 5 A, where 20 h is right.
type OneAmpereAh float64

// Hours is how long a battery lasts at a constant current: Peukert's law in its old form.
//
//	t = Cp/I^k
//
//	t  time, h       Cp  capacity measured at 1 A, Ah       I  current, A       k  exponent
//
// Valid: Cp measured at 1 A and nothing else; currents above zero.
// Source: electrical teaching page; engineering calculator page.
func (c OneAmpereAh) Hours(exponent, currentA float64) float64 {
	return float64(c) / math.Pow(currentA, exponent)
}

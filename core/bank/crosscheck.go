package bank

import "math"

// Units, exact but for WPerHP, which is rounded.
const (
	MSPerKn      = 1852.0 / 3600 // m/s in a knot
	MPerFt       = 0.3048        // m in a foot
	KgPerLb      = 0.45359237    // kg in a pound
	LbPerTon     = 2240          // pounds in a long ton
	WPerHP       = 745.69987     // W in a horsepower of 550 ft·lbf/s
	WPerMetricHP = 735.49875     // W in a metric horsepower of 75 kgf·m/s
	GravityMS2   = 9.80665       // m/s²
	hullSpeedFt  = 1.34          // kn/ft^0.5
	hullSpeedM   = 2.43          // kn/m^0.5
)

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

// Froude is the Froude number of a speed.
//
//	Fn = v/√(g·L)
//
//	v  speed, m/s       g  9.80665 m/s²       L  length of the waterline, m
//
// Valid: length above zero.
// Source: encyclopaedia; teaching page.
func Froude(speedMS, waterlineM float64) float64 { return speedMS / math.Sqrt(GravityMS2*waterlineM) }

// SpeedLength is the speed/length ratio.
//
//	SL = V/√L
//
//	V  speed, kn       L  length of the waterline, ft
//
// Valid: length above zero.
// Source: D. Gerr, Propeller Handbook, ch. 2, by way of a calculation page.
func SpeedLength(speedKn, waterlineFt float64) float64 { return speedKn / math.Sqrt(waterlineFt) }

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

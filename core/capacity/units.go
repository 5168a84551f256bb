package capacity

import "math"

// The factors between the units of the rules and SI.
const (
	// kg per pound. Source: international yard and pound agreement, 1959; NIST SP 811, B.8
	PoundKG     = 0.45359237
	FootM       = 0.3048                   // m per foot. Source: the same
	CubicFootM3 = FootM * FootM * FootM    // m³ per cubic foot
	WaterLBFT3  = 62.4                     // lb/ft³, fresh water. Source: 33 CFR 183.105(a)(3)
	WaterKGM3   = WaterLBFT3 * densityKGM3 // kg/m³, the same water: 999.55

	densityKGM3 = PoundKG / CubicFootM3 // kg/m³ per lb/ft³
)

// Mass is a mass in both units. Both are rounded to a millionth, which takes away the noise of converting and no more.
type Mass struct {
	KG float64 `json:"kg"`
	LB float64 `json:"lb"`
}

// Volume is a volume in both units, rounded like a Mass.
type Volume struct {
	M3  float64 `json:"m3"`
	FT3 float64 `json:"ft3"`
}

// Density is a density in both units, rounded like a Mass.
type Density struct {
	KGM3  float64 `json:"kg_m3"`
	LBFT3 float64 `json:"lb_ft3"`
}

// Kilograms is a mass given in kilograms: lb = kg / 0.45359237.
//
// Valid: finite numbers. Source: [PoundKG].
func Kilograms(kg float64) Mass { return Mass{settled(kg), settled(kg / PoundKG)} }

// Pounds is a mass given in pounds: kg = lb × 0.45359237.
//
// Valid: finite numbers. Source: [PoundKG].
func Pounds(lb float64) Mass { return Mass{settled(lb * PoundKG), settled(lb)} }

// CubicMetres is a volume given in cubic metres: ft³ = m³ / 0.3048³.
//
// Valid: finite numbers. Source: [FootM].
func CubicMetres(m3 float64) Volume { return Volume{settled(m3), settled(m3 / CubicFootM3)} }

// CubicFeet is a volume given in cubic feet: m³ = ft³ × 0.3048³.
//
// Valid: finite numbers. Source: [FootM].
func CubicFeet(ft3 float64) Volume { return Volume{settled(ft3 * CubicFootM3), settled(ft3)} }

// KilogramsPerCubicMetre is a density given in kg/m³: lb/ft³ = kg/m³ × 0.3048³ / 0.45359237.
//
// Valid: finite numbers. Source: [PoundKG], [FootM].
func KilogramsPerCubicMetre(d float64) Density { return Density{settled(d), settled(d / densityKGM3)} }

// PoundsPerCubicFoot is a density given in lb/ft³: kg/m³ = lb/ft³ × 0.45359237 / 0.3048³.
//
// Valid: finite numbers. Source: [PoundKG], [FootM].
func PoundsPerCubicFoot(d float64) Density { return Density{settled(d * densityKGM3), settled(d)} }

// settled rounds to a millionth, half away from zero, and turns -0 into 0.
func settled(x float64) float64 { return math.Round(x*1e6)/1e6 + 0 }

// down is the whole number that may be marked for a computed value: it never exceeds it.
func down(x float64) int { return int(math.Floor(x)) }

package bank

// AirDensity is the density of dry air at sea level, kg/m³.
//
//	ρ = p/(R·T)
//
//	p  1013.25 hPa       R  287.05 J/(kg·K)       T  absolute temperature, K
//
// Valid: -40 to 50 C, dry air, standard pressure.
// Source: law of ideal gases with the constants of the standard atmosphere, from memory: 1.225 at 15 C, 1.204 at 20 C.
// A harbour guide prints 1.221 for 20 C; that is the density at 16 C.
func AirDensity(temperatureC float64) float64 { return 101325 / (287.05 * (temperatureC + 273.15)) }

// WindForceN is the force of wind on a shape above the water.
//
//	F = ½·ρ·Cd·A·V²
//
//	F  force, N       ρ  density of air, kg/m³       Cd  drag coefficient
//	A  area across the wind, m²       V  wind, m/s
//
// Valid: bluff shapes; Cd 0.7 to 1.2 as a rule, 2.0 as the worst case.
// Source: UFC 4-159-03 for the form; forum worked example.
func WindForceN(density, drag, areaM2, windMS float64) float64 {
	return float64(0.5 * density * drag * areaM2 * windMS * windMS)
}

// Windage is what stands in the wind.
type Windage struct {
	HullM2 float64 // area from ahead of what stood in the wind on trial too, m²
	TopM2  float64 // area from ahead of top and enclosure, which did not, m²
	Drag   float64 // drag coefficient Cd of both
}

// AddedN is the force of the air that is not in the power of the trial.
//
//	F = ½·ρ·Cd·(A_h·((v+w)² - v²) + A_t·(v+w)²)
//
//	F    force, N          ρ  density of air, kg/m³          v  speed of the boat, m/s          w  head wind, m/s
//	A_h  area that stood in the still air of the trial, m²   A_t  area that was added since, m²
//
// Valid: a trial in calm air; wind from ahead, the same at every height.
// Source: [WindForceN] at the apparent wind; the part already measured is taken off. Derived.
func (w Windage) AddedN(density, boatMS, headWindMS float64) float64 {
	apparent := float64(boatMS) + float64(headWindMS)
	return WindForceN(density, w.Drag, w.HullM2+w.TopM2, apparent) - WindForceN(density, w.Drag, w.HullM2, boatMS)
}

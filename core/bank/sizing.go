package bank

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

package bank

import "math"

// PeukertAh is the capacity that a battery gives at a constant current, at most the rated one.
//
//	C_I = C·(C/(I·H))^(k-1), and C where I <= C/H
//
//	C_I  capacity, Ah      C  capacity rated over H hours, Ah
//	H  rated time, h       I  current, A           k  exponent
//
// Valid: currents of zero and above; constant; about 20 to 27 C; not far outside the rates of which k was found.
// Source: battery-monitor maker's manual, whose table stands at 100 % up to the rated current.
func PeukertAh(capacityAh, ratedHours, exponent, currentA float64) float64 {
	if currentA*ratedHours <= capacityAh {
		return capacityAh
	}
	return capacityAh * math.Pow(capacityAh/(currentA*ratedHours), exponent-1)
}

package bank

import "math"

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

// PeukertAh is the capacity that a battery gives at a constant current, at most the rated one.
//
//	C_I = I·t = C·(C/(I·H))^(k-1), and C where I <= C/H
//
// Symbols as in [PeukertHours]; C_I in Ah.
// Valid: currents of zero and above; otherwise as [PeukertHours].
// Source: battery-monitor maker's manual, whose table stands at 100 % up to the rated current.
func PeukertAh(capacityAh, ratedHours, exponent, currentA float64) float64 {
	if currentA*ratedHours <= capacityAh {
		return capacityAh
	}
	return capacityAh * math.Pow(capacityAh/(currentA*ratedHours), exponent-1)
}

// Run is one discharge at a constant current until empty.
type Run struct{ CurrentA, Hours float64 }

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

// OneAmpereAh is capacity measured at 1 A, in Ah. It is a type of its own, because the law's old form is right only for
// it: fed with the capacity of 20 hours it makes a battery of 100 Ah last 14.5 h at 5 A, where 20 h is right.
type OneAmpereAh float64

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

package money

// Ratio opens the rounded quotient to the tests.
func (r Rounding) Ratio(n, d Amount) Amount { return r.ratio(n.d, d.d) }

// Codes lists the codes of the currency table.
func Codes() map[int]string { return minorUnits }

package measure

// Shown writes a quantity and its unit for a reader: whole pieces without decimals, cubic metres to the litre, all else to two decimals.
// A unit that is unknown, or a piece, is written as it is named.
func (q Quantity) Shown(unit string) (number, symbol string) {
	symbol = unit
	if u, ok := UnitOf(unit); ok && u.Symbol != "" {
		symbol = u.Symbol
	}
	switch unit {
	case "each", "set", "pair":
		if q%scale == 0 {
			return q.Fixed(0), symbol
		}
	case "m3":
		return q.Fixed(3), symbol
	}
	return q.Fixed(2), symbol
}

// Joined puts a number and the symbol of its unit together: a space between them, but none before the degrees of an angle, and nothing where there is no unit.
//
// Source: BIPM, The International System of Units, 9th edition, 5.4.3 (from memory).
func Joined(number, space, symbol string) string {
	if symbol == "" || symbol == "°" {
		return number + symbol
	}
	return number + space + symbol
}

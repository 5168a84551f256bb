package measure

import (
	"strconv"
	"strings"
)

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
// Knots and nautical miles have km/h and km behind them.
//
// Source: BIPM, The International System of Units, 9th edition, 5.4.3 (from memory).
func Joined(number, space, symbol string) string {
	if symbol == "" || symbol == "°" {
		return number + symbol
	}
	joined := number + space + symbol
	if ashore := Ashore(number, symbol); ashore != "" {
		joined += " " + ashore
	}
	return joined
}

// Ashore is a number of knots or nautical miles in km/h or km, in brackets and with as many decimals; nothing for another unit, for zero or for what is no number.
func Ashore(number, symbol string) string {
	for _, u := range Units {
		if u.Symbol != symbol || u.Ashore == "" {
			continue
		}
		plain := strings.NewReplacer("\u202f", "", "\u2212", "-").Replace(number)
		v, err := strconv.ParseFloat(plain, 64)
		if err != nil || v == 0 {
			return ""
		}
		_, fraction, _ := strings.Cut(plain, ".")
		digits := len(fraction)
		if u.Tenths {
			digits = max(digits, 1)
		}
		return "(" + strconv.FormatFloat(v*u.Land, 'f', digits, 64) + "\u00a0" + u.Ashore + ")"
	}
	return ""
}

package measure

import (
	"math"
	"strconv"
	"strings"
)

// steps are what a shop measures to, in millionths of the unit: lengths to 0.1 m, areas to 0.05 m², volumes to the
// litre, weights and liquids to 0.01. Common practice, no source.
var steps = map[string]Quantity{"each": scale, "set": scale, "pair": scale, "m": scale / 10, "m2": scale / 20,
	"m3": scale / 1000, "l": scale / 100, "kg": scale / 100}

// ForUse rounds a quantity of zero or more up to what a shop measures to: whole pieces, lengths to 0.1 m, areas to
// 0.05 m². A unit without a step stays as it is.
func (q Quantity) ForUse(unit string) Quantity {
	step, ok := steps[unit]
	if !ok {
		return q
	}
	return (q + step - 1) / step * step
}

// Shown writes a quantity and its unit for a reader, rounded up for use, see [Quantity.ForUse]. A unit of a book, or a
// piece, is written as it is named.
func (q Quantity) Shown(unit string) (number, symbol string) {
	symbol = unit
	u, known := UnitOf(unit)
	if u.Symbol != "" {
		symbol = u.Symbol
	}
	digits := map[string]int{"each": 0, "set": 0, "pair": 0, "m": 1, "m3": 3}
	n, ok := digits[unit]
	// whole drums of a book's own have no decimals, and parts of a fathom have
	if !ok && (known || q%scale != 0) {
		n = 2
	}
	return q.ForUse(unit).Fixed(n), symbol
}

// Decimal writes a number with so many decimals, half away from zero, without minus zero: the one way in which papers
// and drawings round what is no quantity of a material, so that 1178.5 mm are 1179 on both.
func Decimal(v float64, digits int) string {
	s := strconv.FormatFloat(Round(v, digits), 'f', digits, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// Round is a number as [Decimal] writes it.
func Round(v float64, digits int) float64 {
	step := math.Pow10(digits)
	return math.Round(v*step) / step
}

// Joined puts a number and the symbol of its unit together: a space between them, but none before the degrees of an
// angle, and nothing where there is no unit. Knots and nautical miles have km/h and km behind them.
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

// Ashore is a number of knots or nautical miles in km/h or km, or in mph or miles as the US has them, in brackets and
// with as many decimals; nothing for another unit by its ID, for zero or for what is no number.
func Ashore(number, unit string) string {
	if u, ok := UnitOf(unit); ok && u.Ashore != "" {
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

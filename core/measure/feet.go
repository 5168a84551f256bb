package measure

import (
	"math"
	"strconv"
)

// eighths are the fractions of an inch on a tape, by eighths.
var eighths = [8]string{"", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"}

// FeetInches writes a length in m as drawings of the US have it: in feet and inches to the half inch from a foot up,
// below it in inches to the eighth. Spaces do not break, and 15 ft have 0 in, so that nobody asks whether something was
// left out.
//
// Valid: lengths of things on a boat, also negative ones. What is no number is written as one.
// Source: common practice, no source; the inch has 25.4 mm by definition.
func FeetInches(m float64) string {
	inches := math.Abs(m) / 0.0254
	if math.IsNaN(inches) || inches > 1e9 {
		return Decimal(m/0.3048, 0) + "\u00a0ft"
	}
	parts := math.Round(inches * 8)
	if inches >= 12 {
		parts = math.Round(inches*2) * 4
	}
	n := int(parts)
	text := strconv.Itoa(n / 8)
	if n%96 < 8 && n%8 > 0 {
		text = "" // a fraction alone
	} else if n >= 96 {
		text = strconv.Itoa(n % 96 / 8)
	}
	text += eighths[n%8] + "\u00a0in"
	if n >= 96 {
		text = strconv.Itoa(n/96) + "\u00a0ft\u00a0" + text
	}
	if m < 0 && n > 0 {
		text = "-" + text
	}
	return text
}

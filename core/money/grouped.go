package money

import "strings"

// Grouped separates the digits before the point into groups of three by a narrow no-break space: four digits like five,
// so that amounts under each other look alike.
//
// Source: ISO 80000-1, 7.3.2 (small space between groups of three digits), from memory.
func Grouped(decimal string) string {
	sign := ""
	if strings.HasPrefix(decimal, "-") {
		sign, decimal = "\u2212", decimal[1:]
	}
	whole, fraction, point := strings.Cut(decimal, ".")
	var b strings.Builder
	b.WriteString(sign)
	for i, c := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString("\u202f")
		}
		b.WriteRune(c)
	}
	if point {
		b.WriteString("." + fraction)
	}
	return b.String()
}

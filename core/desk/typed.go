package desk

import (
	"math"
	"strconv"
	"strings"

	"ribband/core/measure"
	"ribband/core/msg"
)

// What people type for a number: 1,5 or 1.5, 90 000 or 90.000, 46 km, 4 %. A comma or a point that can be read in two
// ways is refused: a guess could be wrong a thousandfold.

// A field says which unit it is in, and most people leave it out. Who writes another one means it: 46 km in a field of
// nautical miles is 25 of them and never 46. What cannot be converted is refused with the unit of the field, since a
// number that loses its unit on the way is the worst that can happen to it.
//
// Space, comma, point and apostrophe group thousands in one country or another (number patterns of CLDR, from memory).
// Only comma and point also stand before decimals, so only with these is there anything to decide.

// numberAndRest takes a text apart: a sign, digits with what may stand between them, or a fraction without a whole
// before it; and what stands behind. By hand, since the engine has no regular expressions: they are large.
func numberAndRest(text string) (digits, behind string, ok bool) {
	const decimal, fraction = "0123456789", ".,"
	unsigned := text
	for _, sign := range []string{"-", "+", "−"} {
		if after, found := strings.CutPrefix(text, sign); found {
			unsigned = after
		}
	}
	// an accent or a letter among the digits belongs to what stands behind, and is no unit that anybody knows
	var rest string
	switch {
	case unsigned == "":
		return "", "", false
	case strings.Contains(decimal, unsigned[:1]):
		rest = strings.TrimLeft(unsigned, decimal+fraction+"' ")
	case strings.Contains(fraction, unsigned[:1]): // ,5
		rest = strings.TrimLeft(unsigned[1:], decimal)
		if len(rest) == len(unsigned)-1 {
			return "", "", false
		}
	default:
		return "", "", false
	}
	behind = strings.TrimSpace(rest)
	return text[:len(text)-len(rest)], behind, !strings.Contains(behind, "\n")
}

// blanks are what stands between groups of digits in one country or another, and what is no sign that a reader knows.
var blanks = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "’", "'")

// readNumber takes a text apart into a number, with a point before its decimals, and the unit behind it. Digits are the
// decimals that such a number has at most: three behind a lone comma or point are thousands where it has fewer.
func readNumber(text string, digits int) (number, unit string, err error) {
	number, unit, ok := numberAndRest(strings.TrimSpace(blanks.Replace(text)))
	if !ok {
		return "", "", noNumber(text)
	}
	number = strings.TrimSpace(number)
	sign := ""
	if strings.HasPrefix(number, "-") || strings.HasPrefix(number, "−") {
		sign = "-"
	}
	number = strings.TrimLeft(number, "-+−")
	// The sign before decimals is the last one, in every country; what comes before it, or more than once, groups
	// thousands. Of money three digits are never decimals, as no price has thousandths; of a length they may be.
	last := strings.LastIndexAny(number, ".,")
	whole, fraction := number, ""
	if last >= 0 {
		mark := number[last : last+1]
		others := strings.Count(number, mark) - 1
		behind := len(number) - last - 1
		grouped := strings.ContainsAny(number[:last], "., '")
		switch {
		// both signs, and the last one more than once: a slip
		case others > 0 && strings.ContainsAny(number, strings.Trim(".,", mark)):
			return "", "", twoWays(text) // 1.000,5.3
		case others > 0: // 1.000.000
		case behind == 3 && !grouped && digits < 3 && number[:last] != "" && number[:last] != "0": // 90.000
			if len(number[:last]) > 3 {
				return "", "", twoWays(text)
			}
		case behind == 3 && !grouped && digits >= 3 && number[:last] != "0":
			return "", "", twoWays(text)
		default:
			whole, fraction = number[:last], number[last+1:]
		}
	}
	plain, ok := ungrouped(whole)
	if !ok {
		return "", "", twoWays(text)
	}
	if plain == "" {
		plain = "0"
	}
	if fraction != "" {
		plain += "." + fraction
	}
	if strings.ContainsAny(fraction, " '") {
		return "", "", noNumber(text)
	}
	return sign + plain, unit, nil
}

func noNumber(text string) error { return msg.Fault("desk.no-number", quoted("value", text)) }

func twoWays(text string) error { return msg.Fault("desk.two-ways", quoted("value", text)) }

// ungrouped takes out what groups thousands; not ok where the groups are none.
func ungrouped(s string) (string, bool) {
	groups := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("., '", r) })
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && len(g) > 3 {
			return "", false
		}
	}
	return strings.Join(groups, ""), true
}

// factors are what a unit is of another, for what people write of distances, speeds, lengths and weights. By definition
// of the nautical mile (1852 m), the mile (1609.344 m), the foot (0.3048 m) and the pound (0.45359237 kg): NIST Special
// Publication 811, appendix B; from memory.
var factors = map[string]struct {
	of string // a unit of package measure
	is float64
}{
	"km": {"nm", 1 / 1.852}, "mi": {"nm", 1.609344 / 1.852}, "nm": {"nm", 1}, "sm": {"nm", 1}, "nmi": {"nm", 1},
	"km/h": {"kn", 1 / 1.852}, "kmh": {"kn", 1 / 1.852}, "kph": {"kn", 1 / 1.852}, "mph": {"kn", 1.609344 / 1.852},
	"kn": {"kn", 1}, "kt": {"kn", 1}, "kts": {"kn", 1}, "knots": {"kn", 1},
	"m": {"m", 1}, "cm": {"m", 0.01}, "mm": {"m", 0.001}, "ft": {"m", 0.3048}, "in": {"m", 0.0254},
	"kg": {"kg", 1}, "t": {"kg", 1000}, "lb": {"kg", 0.45359237}, "lbs": {"kg", 0.45359237},
	"kWh": {"kWh", 1}, "Wh": {"kWh", 0.001}, "kW": {"kW", 1}, "W": {"kW", 0.001}, "h": {"h", 1}, "min": {"h", 1.0 / 60},
}

// quantity reads a number for a field of a unit. Without a unit of its own it is in that in which the reader's system
// shows the field; another unit of the same kind is converted. Step is that of the field, to which what was converted
// is rounded; 0 for none.
func quantity(text, unit string, step float64, system measure.System) (float64, error) {
	number, written, err := readNumber(text, 3) // 1,500 may be one and a half
	if err != nil {
		return 0, err
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, noNumber(text)
	}
	u := measure.Named(unit)
	factor, in := u.In(system, 1)
	if written == "" && factor != 1 {
		return stepped(v/factor, step), nil
	}
	if written == "" || strings.EqualFold(written, u.Symbol) || strings.EqualFold(written, unit) {
		return v, nil
	}
	// kWh has its capital; what somebody wrote in capitals by habit is tried in small letters, too
	for _, name := range []string{written, strings.ToLower(written)} {
		f, known := factors[name]
		switch {
		case known && f.of == unit:
			v = float64(v * f.is)
		case known && unit == "km" && f.of == "nm": // a road is measured in kilometres
			v = float64(v * f.is * 1.852)
		default:
			continue
		}
		return stepped(v, step), nil
	}
	if u.Symbol == "" {
		return 0, noNumber(text)
	}
	return 0, msg.Fault("desk.another-unit", quoted("value", text), msg.Text("unit", measure.SymbolOf(in)))
}

// stepped is what was converted, at the nearest step of its field: nobody meant what lies between two.
func stepped(v, step float64) float64 {
	if step > 0 {
		v = math.Round(v/step) * step
	}
	return math.Round(v*1e6) / 1e6
}

// explicit is a text with the unit that is meant behind its number, where it is not that of the book: kept so, it
// still says the same when the reader has changed to other units.
func explicit(text, unit string, system measure.System) string {
	u := measure.Named(unit)
	factor, in := u.In(system, 1)
	if _, written, err := readNumber(text, 3); err != nil || written != "" || factor == 1 {
		return text
	}
	return strings.TrimSpace(text) + " " + measure.SymbolOf(in)
}

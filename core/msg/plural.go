package msg

import "strings"

// rule is a set of plural categories of CLDR for cardinal numbers. There are as many as the languages of tables.go
// need; the generator finds which one fits, and ends where none does.
type rule uint8

const (
	wholeOne  rule = iota // one: i = 1 and v = 0 (English, Dutch, German, Finnish, Swedish, Italian …)
	exactOne              // one: n = 1 (Spanish, Norwegian)
	danish                // one: n = 1, or t ≠ 0 and i = 0, 1
	upToOne               // one: i = 0, 1 (French, Portuguese)
	polish                // one: i = 1 and v = 0; few: i ends in 2–4, not 12–14; many: other whole ones
	czech                 // one: i = 1 and v = 0; few: i = 2–4 and v = 0; many: v ≠ 0
	ruleCount = iota
)

// category is the plural category of a decimal in ASCII as it is shown: "1" is one in English, "1.0" is other.
//
// Operands: n the absolute value, i its whole digits, v the number of digits after the point, t those digits without
// zeros at the end.
// Source: Unicode Technical Standard 35, part 3, 5 (plural operands) and the CLDR chart of cardinal rules; the tests
// compare each with golang.org/x/text.
func (r rule) category(decimal string) string {
	i, fraction, _ := strings.Cut(strings.TrimPrefix(decimal, "-"), ".")
	i = strings.TrimLeft(i, "0")
	v, t := len(fraction), strings.TrimRight(fraction, "0")
	tens, units := byte(0), byte(0)
	if n := len(i); n > 0 {
		units = i[n-1] - '0'
		if n > 1 {
			tens = i[n-2] - '0'
		}
	}
	few := units >= 2 && units <= 4
	switch {
	case r == wholeOne && i == "1" && v == 0,
		r == exactOne && i == "1" && t == "",
		r == danish && (i == "1" && t == "" || t != "" && (i == "" || i == "1")),
		r == upToOne && (i == "" || i == "1"),
		r >= polish && i == "1" && v == 0:
		return "one"
	case r == polish && v == 0 && few && tens != 1, r == czech && v == 0 && few && len(i) == 1:
		return "few"
	case r == polish && v == 0, r == czech && v != 0:
		return "many"
	}
	return "other"
}

func (l *Language) category(decimal string) string { whole(); return l.rule.category(decimal) }

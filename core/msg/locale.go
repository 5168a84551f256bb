package msg

import (
	"strconv"
	"strings"
	"time"

	"ribband/core/measure"
	"ribband/core/money"
)

//go:generate go run tables_gen.go

// locale is how a language writes numbers; tables.go has one for each. All of it follows from the tag; what the yard
// wants otherwise stands in the file of the language, as the spaces between thousands do.
type locale struct {
	tag     string
	self    string // what the language calls itself
	decimal string // between whole and fraction
	group   string // between thousands
	minus   string
	percent string // behind a number of per cent, with its space
	rule    rule   // the plural rule
	behind  bool   // the currency stands behind the amount
}

func localeOf(tag string) (locale, bool) {
	for _, l := range locales {
		if l.tag == tag {
			return l, true
		}
	}
	return locale{}, false
}

func tags() string {
	list := make([]string, len(locales))
	for i, l := range locales {
		list[i] = l.tag
	}
	return strings.Join(list, ", ")
}

// decimal is the number of an argument with an ASCII point and hyphen, as a plural rule reads it. Rules for plurals go
// by the digits that a reader sees: 1 boat, 1.0 m of cable.
func (a *Arg) decimal() string {
	switch {
	case a.kind == countKind:
		return strconv.FormatInt(int64(a.number), 10)
	case a.text != "" || a.kind < countKind:
		return a.text
	}
	return plainDecimal(a.number, int(a.digits))
}

// plainDecimal is [measure.Decimal], or all decimals of a number.
func plainDecimal(v float64, digits int) string {
	if digits == Exact {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return measure.Decimal(v, digits)
}

// Number writes a number without groups; digits may be [Exact].
func (l *Language) Number(v float64, digits int) string { return l.localised(plainDecimal(v, digits)) }

// localised writes a decimal of ASCII without groups.
func (l *Language) localised(decimal string) string {
	whole()
	if l.decimal != "." {
		decimal = strings.Replace(decimal, ".", l.decimal, 1)
	}
	if l.minus != "-" && strings.HasPrefix(decimal, "-") {
		decimal = l.minus + decimal[1:]
	}
	return decimal
}

// Grouped writes a number with its thousands set apart; digits may be [Exact].
func (l *Language) Grouped(v float64, digits int) string { return l.Decimal(plainDecimal(v, digits)) }

// Decimal writes an exact decimal with its thousands set apart. A language whose file has a space of its own for them
// ("language.group") follows [money.Grouped] and ISO 80000-1; others follow CLDR. What is no decimal stays as it is.
func (l *Language) Decimal(decimal string) string {
	whole()
	if !isDecimal(decimal) {
		return decimal
	}
	if l.house != "" {
		decimal = strings.Replace(money.Grouped(decimal), ".", l.decimal, 1) // before a house mark that is a point
		return strings.ReplaceAll(decimal, "\u202f", l.house)
	}
	sign, digits := "", decimal
	if strings.HasPrefix(digits, "-") {
		sign, digits = l.minus, digits[1:]
	}
	before, fraction, point := strings.Cut(digits, ".")
	for at := len(before) - 3; at > 0; at -= 3 {
		before = before[:at] + l.group + before[at:]
	}
	if point {
		fraction = l.decimal + fraction
	}
	return sign + before + fraction
}

// isDecimal says whether a text is digits with at most a sign before them and a point among them.
func isDecimal(s string) bool {
	s = strings.TrimPrefix(s, "-")
	return s != "" && strings.Trim(s, "0123456789.") == "" && s[0] != '.' && strings.Count(s, ".") < 2
}

// Quantity writes a number, its thousands set apart, and its unit by the ID of package measure; a unit that is
// unknown, or "", stands as it is named.
func (l *Language) Quantity(v float64, unit string, digits int) string {
	plain := plainDecimal(v, digits)
	return l.joined(l.Decimal(plain), plain, unit)
}

// Length writes a length in m for a reader of a system: with so many decimals, or in feet and inches.
func (l *Language) Length(m float64, system measure.System, digits int) string {
	if system == measure.USCustomary {
		return l.localised(measure.FeetInches(m))
	}
	return l.Quantity(m, "m", digits)
}

// Thickness writes a thickness in mm for a reader of a system: as it is, or in inches.
func (l *Language) Thickness(mm float64, system measure.System) string {
	if system == measure.USCustomary {
		return l.localised(measure.FeetInches(float64(mm / 1000)))
	}
	return l.Quantity(mm, "mm", Exact)
}

// joined puts number and unit together. Plain is the number in ASCII.
func (l *Language) joined(number, plain, unit string) string {
	symbol := l.Unit(unit)
	// A degree of an angle stands at its number; all other symbols after a space (ISO 80000-1). It does not break, so
	// that no line begins with a unit.
	if symbol == "" || symbol == "°" {
		return number + symbol
	}
	number += "\u00a0" + symbol
	if ashore := measure.Ashore(plain, unit); ashore != "" {
		number += " " + l.ashore(ashore)
	}
	return number
}

// Beside is what is read behind a number that stands in a field of its own: the symbol of its unit by the ID of package
// measure, and knots or nautical miles ashore in brackets.
func (l *Language) Beside(v float64, unit string) string {
	symbol := l.Unit(unit)
	if ashore := measure.Ashore(plainDecimal(v, Exact), unit); ashore != "" {
		return symbol + " " + l.ashore(ashore)
	}
	return symbol
}

// ashore localises the number of a pair of brackets as [measure.Ashore] writes it.
func (l *Language) ashore(s string) string {
	if l.decimal == "." {
		return s
	}
	return strings.Replace(s, ".", l.decimal, 1)
}

// Unit is the symbol of a unit, or the word of one that is a word: pieces, sets.
func (l *Language) Unit(id string) string {
	switch id {
	case "set":
		return l.Say("language.unit-set")
	case "pair":
		return l.Say("language.unit-pair")
	}
	if u, ok := measure.UnitOf(id); ok {
		return u.Symbol
	}
	return id
}

// Money writes an exact decimal with its currency, where the region of a price puts it; without a region, where the
// language does. The region is the identifier of the book, which begins with a country.
func (l *Language) Money(decimal, currency, region string) string {
	whole()
	if l.tag == "en" { // English is written in every country, and each puts the currency where it is used to
		return money.Priced(decimal, currency, region)
	}
	if l.behind {
		return l.Decimal(decimal) + "\u00a0" + currency
	}
	return currency + "\u00a0" + l.Decimal(decimal)
}

// Date writes a day of ISO 8601: 6 February 2027. What is no date stays as it is.
func (l *Language) Date(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	whole()
	return l.Say("language.date", Count("day", day.Day()), Text("month", l.months[day.Month()-1]),
		Count("year", day.Year()))
}

// Share writes a part of a whole in per cent.
func (l *Language) Share(rate money.Rate) string { return l.perCent(hundredfold(rate)) }

func (l *Language) perCent(decimal string) string {
	whole()
	return l.localised(decimal) + l.percent
}

// hundredfold is a rate in per cent, all its decimals. It is exact: rates are decimals, and 0.075 is 7.5 % and no more
// digits.
func hundredfold(rate money.Rate) string { return strings.TrimSuffix(rate.Percent(), "\u202f%") }

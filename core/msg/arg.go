package msg

import (
	"strconv"

	"ribband/core/money"
)

// kind is what an argument holds.
type kind uint8

const (
	textKind kind = iota
	insideKind
	choiceKind
	countKind
	numberKind
	groupedKind
	quantityKind
	moneyKind
	dateKind
	shareKind
	wordsKind
	listKind
)

// Arg is a named argument of a message. Only the functions below make one. One struct for all kinds, rather than an
// interface with a type for each: messages are made by the thousand while a page is worked out, and most are never put
// into words.
type Arg struct {
	Name   string
	kind   kind
	join   Join
	digits int8
	number float64
	text   string // words, a choice, a decimal, a date
	unit   string // of a quantity, its ID; of money, the currency
	region string // of money
	list   []Message
}

// Text is a text of the book, or of a person, as it is.
func Text(name, text string) Arg { return Arg{Name: name, kind: textKind, text: text} }

// Inside is a title of the book within a sentence: its capital is made small where the language has none there.
func Inside(name, title string) Arg { return Arg{Name: name, kind: insideKind, text: title} }

// Choice is a word of the program, by which the text selects: {kind, select, wood {…} other {…}}. It is no text:
// without an arm for it a reader gets that of "other", never the key.
func Choice(name, key string) Arg { return Arg{Name: name, kind: choiceKind, text: key} }

// Count is a number of whole things, by which the text may take its plural: {n, plural, one {# man} other {# men}}.
func Count[N ~int | ~int64](name string, n N) Arg {
	return Arg{Name: name, kind: countKind, number: float64(n)}
}

// Exact stands for as many digits as a number has.
const Exact = -1

// Number is a number with so many decimals, half away from zero, without groups: what stands in a sentence or beside
// a drawing. Digits may be [Exact].
func Number(name string, v float64, digits int) Arg {
	return Arg{Name: name, kind: numberKind, number: v, digits: int8(digits)}
}

// Significant is a number with so many significant figures, without zeros behind the last. It rounds to a decimal and
// back, so that 0.30000000000000004 is 0.3.
func Significant(name string, v float64, figures int) Arg {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', figures, 64), 64)
	if err != nil {
		rounded = v // infinite, or no number
	}
	return Number(name, rounded, Exact)
}

// Grouped is a number of which the thousands are set apart.
func Grouped(name string, v float64, digits int) Arg {
	return Arg{Name: name, kind: groupedKind, number: v, digits: int8(digits)}
}

// Quantity is a number with its unit, by the ID of package measure; thousands are set apart.
func Quantity(name string, v float64, unit string, digits int) Arg {
	return Arg{Name: name, kind: quantityKind, number: v, digits: int8(digits), unit: unit}
}

// Money is an amount in a currency as the region of a price writes it: the country, or "" for that of the language. The
// amount is taken as it is rounded already: a language only writes it.
func Money(name string, amount money.Amount, currency money.Currency, region string) Arg {
	return Arg{Name: name, kind: moneyKind, text: amount.Fixed(currency.Digits), unit: currency.Code, region: region}
}

// Date is a day of ISO 8601. What is no date is written as it is.
func Date(name, iso string) Arg { return Arg{Name: name, kind: dateKind, text: iso} }

// Share is a part of a whole, in per cent.
func Share(name string, rate money.Rate) Arg {
	return Arg{Name: name, kind: shareKind, text: hundredfold(rate)}
}

// Words is another message inside this one. That is for a part which is a whole by itself, a reason or a title; a
// sentence is never put together of halves, since other languages order them otherwise.
func Words(name string, m Message) Arg { return Arg{Name: name, kind: wordsKind, list: []Message{m}} }

// Join is how the parts of a list are put together. How a language joins them stands in its file: the comma before
// "and" is one of English and not of others.
type Join uint8

const (
	And    Join = iota // a, b and c
	Or                 // a, b or c
	Commas             // a, b, c
	All                // a and b and c
)

// List is several messages in a row.
func List(name string, join Join, parts ...Message) Arg {
	return Arg{Name: name, kind: listKind, join: join, list: parts}
}

// Texts are texts of the book as a list.
func Texts(name string, join Join, texts []string) Arg {
	parts := make([]Message, len(texts))
	for i, t := range texts {
		parts[i] = Plain(t)
	}
	return List(name, join, parts...)
}

package doc

import (
	"strconv"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
)

// Cell is one value of a table. The zero Cell is empty.
type Cell struct {
	kind kind
	text string // words; a number as exact decimal text; a date of ISO 8601
	unit string // of a quantity: ID of [measure.Units], or a symbol
	rate money.Rate
	// words that they are compared with, see [Against]
	other    string
	compared bool
}

// kind is what a cell holds.
type kind uint8

const (
	words kind = iota
	number
	quantity // a number with its unit
	amount   // of money, whose currency the head of the column names
	share
	date
	blank
)

// Text is words, written as they are.
func Text(s string) Cell { return Cell{text: s} }

// Number is a number rounded half away from zero to so many decimals.
func Number(v float64, digits int) Cell { return Cell{kind: number, text: measure.Decimal(v, digits)} }

// Exact is a number with all its decimals.
func Exact(v float64) Cell {
	return Cell{kind: number, text: strconv.FormatFloat(v, 'f', -1, 64)}
}

// Some is [Exact], and empty for zero: of a number that is not stated.
func Some(v float64) Cell {
	if v == 0 {
		return Cell{}
	}
	return Exact(v)
}

// Count is a number of whole things.
func Count[N ~int | ~int64](n N) Cell {
	return Cell{kind: number, text: strconv.FormatInt(int64(n), 10)}
}

// Hours are working time, shown to a tenth of an hour.
func Hours(h measure.Hours) Cell { return Cell{kind: number, text: h.Fixed(1)} }

// Decimal is exact decimal text, such as an amount of a file, with its thousands set apart; "" is an empty cell.
func Decimal(text string) Cell {
	if text == "" {
		return Cell{}
	}
	return Cell{kind: number, text: text}
}

// Used is a quantity of material as a shop measures it out, rounded up (see [measure.Quantity.Shown]).
func Used(q measure.Quantity, unit string) Cell {
	text, symbol := q.Shown(unit)
	return Cell{kind: quantity, text: text, unit: symbol}
}

// Quantity is a number of a unit, by its ID, with so many decimals.
func Quantity(v float64, digits int, unit string) Cell {
	return Cell{kind: quantity, text: measure.Decimal(v, digits), unit: unit}
}

// Money is an amount with the digits of its currency.
func Money(a money.Amount, c money.Currency) Cell {
	return Cell{kind: amount, text: a.Fixed(c.Digits)}
}

// Share is a part of a whole, in per cent.
func Share(r money.Rate) Cell { return Cell{kind: share, rate: r} }

// Date is a day of ISO 8601.
func Date(iso string) Cell { return Cell{kind: date, text: iso} }

// Blank is a place to write on, by hand: a number of a unit by its ID, or "" for anything.
func Blank(unit string) Cell { return Cell{kind: blank, text: "________", unit: unit} }

// IsBlank says that a cell is a place to write on.
func (c Cell) IsBlank() bool { return c.kind == blank }

// UnitOf is the unit of a quantity or of a place to write on, for a reader.
func (c Cell) UnitOf(l *msg.Language) string { return Unit(l, c.unit) }

// Empty says that there is nothing in the cell.
func (c Cell) Empty() bool { return c.kind != share && c.text == "" }

// IsNumber says that a cell stands at the right margin.
func (c Cell) IsNumber() bool { return c.kind != words && c.kind != date && c.kind != blank }

// IsMoney says that a number is an amount, for a form that has formats of cells.
func (c Cell) IsMoney() bool { return c.kind == amount }

// IsShare says that a number is a part of a whole.
func (c Cell) IsShare() bool { return c.kind == share }

// IsDate says that there is a day in the cell.
func (c Cell) IsDate() bool { return c.kind == date && c.text != "" }

// Words writes a cell for a reader.
func (c Cell) Words(l *msg.Language) string {
	switch c.kind {
	case number, amount:
		return l.Decimal(c.text)
	case quantity:
		return l.Decimal(c.text) + " " + Unit(l, c.unit)
	case blank:
		if c.unit != "" {
			return c.text + "\u00a0" + Unit(l, c.unit)
		}
	case share:
		return l.Share(c.rate)
	case date:
		return l.Date(c.text)
	}
	return c.text
}

// Unit is the symbol of a unit of material, or its word: pieces are counted by each.
func Unit(l *msg.Language, id string) string {
	if id == "each" {
		return l.Say("doc.each")
	}
	return l.Unit(id)
}

// Data writes a cell for a program: decimals with a point, dates of ISO 8601, no groups and no unit.
func (c Cell) Data() string {
	if c.kind == share {
		return c.rate.String()
	}
	return c.text
}

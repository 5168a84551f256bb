package book

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"

	"ribband/core/money"
)

// Position is a place in the files of a book; lines and columns count from 1, columns in characters.
type Position struct {
	// Path of the file within the folder of the book, with slashes.
	File string `json:"file"`
	// Line, from 1.
	Line int `json:"line"`
	// Character of the line, from 1.
	Column int `json:"column"`
}

func (p Position) String() string { return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column) }

// Text is words or an identifier.
type Text struct {
	// What the text says, in the first language of the book; empty where the book gives none.
	Value string
	// Where it stands.
	At Position
	// What it says by language, where the book gives it so; nil where it is plain.
	Words *Wordings
}

func (t Text) String() string { return t.Value }

// Formula is expr-lang text, or a number written as one.
type Formula struct {
	// The text of the formula; empty where the book gives none.
	Value string
	// Where it begins.
	At Position
	// Where its characters stand, in their order; none where that is not known.
	Marks []Mark
}

// Mark is where the character at a byte of a value stands in the file, and those that follow it on its line.
type Mark struct {
	// The byte of the value, from 0.
	Offset int
	// Line of the file, from 1.
	Line int
	// Character of that line, from 1.
	Column int
}

// Position is where the character at a byte of the formula stands in the files, or where the formula begins.
func (f Formula) Position(offset int) Position {
	at := f.At
	offset = max(0, min(offset, len(f.Value)))
	from := 0
	for _, m := range f.Marks {
		if m.Offset > offset {
			break
		}
		from, at.Line, at.Column = m.Offset, m.Line, m.Column
	}
	at.Column += utf8.RuneCountInString(f.Value[from:offset])
	return at
}

// Plain is the number that the formula is, where it is one and no more.
func (f Formula) Plain() (float64, bool) {
	n, err := strconv.ParseFloat(f.Value, 64)
	return n, err == nil && !math.IsNaN(n)
}

// Empty says that the book gives no formula here.
func (f Formula) Empty() bool { return f.Value == "" }

// Money is an amount in the book's currency.
type Money struct {
	// The amount, exact.
	Value money.Amount
	// The zero Position where the book gives none.
	At Position
}

// Given says whether the book states the amount.
func (m Money) Given() bool { return m.At.Line > 0 }

// Rate is a share such as 0.19.
type Rate struct {
	// The share, exact: 0.19 is 19 %.
	Value money.Rate
	// Where it stands; zero where the book gives none.
	At Position
}

// Given says whether the book states the rate.
func (r Rate) Given() bool { return r.At.Line > 0 }

// Number is a plain number: a dimension, a size, a limit.
type Number struct {
	// The number, finite; its unit follows from the key.
	Value float64
	// Where it stands; zero where the book gives none.
	At Position
}

// Given says whether the book states the number.
func (n Number) Given() bool { return n.At.Line > 0 }

// Pairs are the entries of a mapping in the order of the file.
type Pairs[T any] []Pair[T]

// Pair is one entry of a mapping.
type Pair[T any] struct {
	// The key.
	Key Text
	// What stands behind it.
	Value T
}

// In JSON, of which the digest is taken, every value stands without its position. An amount, rate or number that the
// book does not give is null: an option with a margin of zero has another price than one without.

func (f Formula) MarshalJSON() ([]byte, error) { return json.Marshal(f.Value) }
func (m Money) MarshalJSON() ([]byte, error)   { return given(m.Given(), m.Value) }
func (r Rate) MarshalJSON() ([]byte, error)    { return given(r.Given(), r.Value) }
func (n Number) MarshalJSON() ([]byte, error)  { return given(n.Given(), n.Value) }

func given[T comparable](given bool, value T) ([]byte, error) {
	var zero T
	if !given && value == zero {
		return []byte("null"), nil
	}
	return json.Marshal(value)
}

// Package measure holds quantities of material, hours of work, and the units that they are counted in.
//
// Quantities and hours are fixed-point millionths. They come from formulas, which are floats, and are rounded once on
// the way in ([FromFloat], half away from zero); from there on all sums are exact and the same on every machine.
package measure

import (
	"fmt"
	"math"
	"math/bits"
	"ribband/core/suggest"
	"strconv"
	"strings"
)

// Quantity is an amount of material in millionths of its unit.
type Quantity int64

// Hours is working time in millionths of an hour. It is a type of its own so that hours and quantities never mix.
type Hours int64

// Exponent is the power of ten of the integer inside a Quantity or Hours.
const Exponent = -6

const scale = 1_000_000

// limit keeps a thousand parts of this size addable without overflow.
const limit = math.MaxInt64 / 1000

// FromFloat rounds f to millionths. It fails on what is not finite or too large to be a quantity.
func FromFloat[T Quantity | Hours](f float64) (T, error) {
	scaled := math.Round(f * scale)
	if math.IsNaN(scaled) || math.Abs(scaled) >= limit {
		return 0, fmt.Errorf("%v is not a quantity", f)
	}
	return T(scaled), nil
}

// Times multiplies by a whole number.
func (q Quantity) Times(n int) Quantity { return q * Quantity(n) }
func (h Hours) Times(n int) Hours       { return h * Hours(n) }

// Grown adds a share in millionths, such as waste, and rounds to millionths, half up. Both are not negative.
func (q Quantity) Grown(share int64) Quantity {
	high, low := bits.Mul64(uint64(q), uint64(scale+share))
	low, carry := bits.Add64(low, scale/2, 0)
	high += carry
	if high >= scale { // beyond any quantity; FromFloat keeps far below
		return limit
	}
	n, _ := bits.Div64(high, low, scale)
	return Quantity(min(n, limit))
}

// Whole rounds up to whole pieces. It is for quantities of zero or more.
func (q Quantity) Whole() Quantity { return (q + scale - 1) / scale * scale }

// Packs is how many packs of a size hold q, and what is left over of the last one. Size is above zero.
func (q Quantity) Packs(size Quantity) (packs int64, rest Quantity) {
	packs = int64(q / size)
	if over := q % size; over > 0 {
		packs++
		rest = size - over
	}
	return packs, rest
}

func (q Quantity) Float() float64 { return float64(q) / scale }
func (h Hours) Float() float64    { return float64(h) / scale }

// String writes the exact decimal without trailing zeros.
func (q Quantity) String() string { return decimal(int64(q)) }
func (h Hours) String() string    { return decimal(int64(h)) }

// Fixed rounds to digits decimals for a reader, half away from zero.
func (q Quantity) Fixed(digits int) string { return fixed(int64(q), digits) }
func (h Hours) Fixed(digits int) string    { return fixed(int64(h), digits) }

// MarshalText makes a quantity an exact decimal string in JSON.
func (q Quantity) MarshalText() ([]byte, error) { return []byte(q.String()), nil }
func (h Hours) MarshalText() ([]byte, error)    { return []byte(h.String()), nil }

func (q *Quantity) UnmarshalText(b []byte) error {
	n, err := parse(string(b))
	*q = Quantity(n)
	return err
}

func (h *Hours) UnmarshalText(b []byte) error {
	n, err := parse(string(b))
	*h = Hours(n)
	return err
}

func decimal(n int64) string {
	s := fixed(n, 6)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func fixed(n int64, digits int) string {
	digits = max(0, min(digits, 6))
	drop := int64(math.Pow10(6 - digits))
	neg := n < 0
	u := uint64(n)
	if neg {
		u = -u
	}
	u = (u + uint64(drop)/2) / uint64(drop)
	s := strconv.FormatUint(u, 10)
	if digits > 0 {
		for len(s) <= digits {
			s = "0" + s
		}
		s = s[:len(s)-digits] + "." + s[len(s)-digits:]
	}
	if neg && u != 0 {
		s = "-" + s
	}
	return s
}

// ParseError says that a text is no quantity and no hours. A person may have typed it, so package msg has the words for
// it, and its own are for programs.
type ParseError struct{ Text string }

func (e *ParseError) Error() string {
	return fmt.Sprintf("reading a quantity %q: want digits with an optional decimal point and at most 6 decimals",
		suggest.Clip(e.Text, 40))
}

// parse reads what String writes: at most 12 digits before the point and 6 after it.
func parse(s string) (int64, error) {
	digits := strings.TrimPrefix(s, "-")
	whole, fraction, point := strings.Cut(digits, ".")
	ok := whole != "" && len(whole) <= 12 && len(fraction) <= 6 && (!point || fraction != "")
	n, err := strconv.ParseUint(whole+fraction+strings.Repeat("0", max(0, 6-len(fraction))), 10, 63)
	if !ok || err != nil || n > limit {
		return 0, &ParseError{s}
	}
	if strings.HasPrefix(s, "-") {
		return -int64(n), nil
	}
	return int64(n), nil
}

// Package money holds amounts, rates, rounding and exact division into parts.
//
// An Amount is an exact decimal number of the book's one currency. Nothing here is a float, and nothing rounds unless
// a Rounding is named in the call; whoever calls says where in the calculation that happens.
//
// Rounding follows ISO 80000-1, Annex B: to the nearest multiple of a range, once, from the exact value; ties go to
// the even multiple (rule A) or away from zero (rule B). Minor units are those of ISO 4217.
package money

import (
	"fmt"
	"ribband/core/suggest"
	"strings"

	"github.com/shopspring/decimal"
)

// Amount is an exact amount of money. The zero value is nothing.
type Amount struct{ d decimal.Decimal }

// Rate is an exact share: 0.19 is 19 %. It is a type of its own so that it cannot be added to money.
type Rate struct{ d decimal.Decimal }

// The widest number that Parse takes: plenty for a yard, and small enough that no input can make arithmetic slow.
const (
	maxWhole    = 15
	maxFraction = 9
)

// ParseError says that a text is no amount, or no rate. A person may have typed it, so package msg has the words for
// it, and its own are for programs.
type ParseError struct {
	Text string // as it was given, however long
	Rate bool   // a rate was wanted
	// how many digits may stand before the point and after it; zero where it is no number at all
	Whole, Fraction int
}

func (e *ParseError) Error() string {
	what := "an amount"
	if e.Rate {
		what = "a rate"
	}
	if e.Whole > 0 {
		return fmt.Sprintf("reading %s %q: at most %d digits before the point and %d after it", what,
			suggest.Clip(e.Text, 40), e.Whole, e.Fraction)
	}
	return fmt.Sprintf("reading %s %q: want digits with an optional decimal point, like 1450 or 3.85", what,
		suggest.Clip(e.Text, 40))
}

func parse(s string, rate bool) (decimal.Decimal, error) {
	digits := strings.TrimPrefix(s, "-")
	whole, fraction, point := strings.Cut(digits, ".")
	if whole == "" || !onlyDigits(whole) || point && (fraction == "" || !onlyDigits(fraction)) {
		return decimal.Decimal{}, &ParseError{Text: s, Rate: rate}
	}
	if len(whole) > maxWhole || len(fraction) > maxFraction {
		return decimal.Decimal{}, &ParseError{s, rate, maxWhole, maxFraction}
	}
	return decimal.NewFromString(s)
}

func onlyDigits(s string) bool {
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// Parse reads an amount such as "1450" or "-3.85": no exponent, no separators, at most 15 digits before and 9 after the
// point.
func Parse(s string) (Amount, error) {
	d, err := parse(s, false)
	return Amount{d}, err
}

// ParseRate reads a share such as "0.19" under the same limits as [Parse].
func ParseRate(s string) (Rate, error) {
	d, err := parse(s, true)
	return Rate{d}, err
}

// MustParse is Parse for constants in code and tests; it panics on bad input.
func MustParse(s string) Amount {
	a, err := Parse(s)
	if err != nil {
		panic(err)
	}
	return a
}

// MustRate is ParseRate for constants in code and tests; it panics on bad input.
func MustRate(s string) Rate {
	r, err := ParseRate(s)
	if err != nil {
		panic(err)
	}
	return r
}

// Exact makes an amount of value × 10^exponent.
func Exact(value int64, exponent int32) Amount { return Amount{decimal.New(value, exponent)} }

func (a Amount) Add(b Amount) Amount { return Amount{a.d.Add(b.d)} }
func (a Amount) Sub(b Amount) Amount { return Amount{a.d.Sub(b.d)} }
func (a Amount) Neg() Amount         { return Amount{a.d.Neg()} }
func (a Amount) Abs() Amount         { return Amount{a.d.Abs()} }

// Cmp is -1, 0 or 1 as a is less than, equal to or greater than b.
func (a Amount) Cmp(b Amount) int { return a.d.Cmp(b.d) }
func (a Amount) Sign() int        { return a.d.Sign() }
func (a Amount) IsZero() bool     { return a.d.IsZero() }

// Equal says whether two amounts are the same number, whatever digits they were written with.
func (a Amount) Equal(b Amount) bool { return a.d.Equal(b.d) }

// Times multiplies by a whole number.
func (a Amount) Times(n int64) Amount { return Amount{a.d.Mul(decimal.NewFromInt(n))} }

// Share is the exact share r of a, not rounded.
func (a Amount) Share(r Rate) Amount { return Amount{a.d.Mul(r.d)} }

// Whole is the amount in whole units of 10^exponent; false where it is no whole number of them, or too many for an
// int64.
func (a Amount) Whole(exponent int32) (int64, bool) {
	d := a.d.Shift(-exponent)
	if !d.IsInteger() || !d.BigInt().IsInt64() {
		return 0, false
	}
	return d.IntPart(), true
}

// Scaled is a × value × 10^exponent, exact: how a price for one unit meets a quantity.
func (a Amount) Scaled(value int64, exponent int32) Amount {
	return Amount{a.d.Mul(decimal.New(value, exponent))}
}

// String writes the amount with its own digits, without a currency.
func (a Amount) String() string { return a.d.String() }

// Fixed writes the amount with exactly digits decimals. The amount must already be rounded to them.
func (a Amount) Fixed(digits int) string { return a.d.StringFixed(int32(digits)) }

func (r Rate) String() string    { return r.d.String() }
func (r Rate) Cmp(s Rate) int    { return r.d.Cmp(s.d) }
func (r Rate) Sign() int         { return r.d.Sign() }
func (r Rate) Add(s Rate) Rate   { return Rate{r.d.Add(s.d)} }
func (r Rate) IsZero() bool      { return r.d.IsZero() }
func (r Rate) Equal(s Rate) bool { return r.d.Equal(s.d) }

// Complement is 1 - r: what is left of a whole when the share r is taken.
func (r Rate) Complement() Rate { return Rate{one.Sub(r.d)} }

// Millionths is the rate as a whole number of millionths, cut off below.
func (r Rate) Millionths() int64 { return r.d.Shift(6).IntPart() }

// Percent writes the rate for a reader: "25.5 %".
func (r Rate) Percent() string { return r.d.Shift(2).String() + "\u202f%" }

var one = decimal.NewFromInt(1)

// Sum adds amounts.
func Sum(amounts ...Amount) Amount {
	var total Amount
	for _, a := range amounts {
		total = total.Add(a)
	}
	return total
}

// MarshalText and UnmarshalText make an Amount a string in JSON, so that no reader turns it into a float.
func (a Amount) MarshalText() ([]byte, error) { return []byte(a.d.String()), nil }

func (a *Amount) UnmarshalText(b []byte) (err error) {
	*a, err = Parse(string(b))
	return err
}

func (r Rate) MarshalText() ([]byte, error) { return []byte(r.d.String()), nil }

func (r *Rate) UnmarshalText(b []byte) (err error) {
	*r, err = ParseRate(string(b))
	return err
}

package measure_test

import (
	"encoding/json"
	"math"
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"ribband/core/measure"
)

const limit = math.MaxInt64 / 1000

func anyQuantity(t *rapid.T) measure.Quantity {
	return measure.Quantity(rapid.Int64Range(-limit, limit).Draw(t, "quantity"))
}

// shopspring's decimals round half away from zero too; they serve as the reference.
func TestPropertyFixedAgainstDecimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, digits := rapid.Int64().Draw(t, "n"), rapid.IntRange(0, 6).Draw(t, "digits")
		want := decimal.New(n, measure.Exponent).StringFixed(int32(digits))
		if got := measure.Quantity(n).Fixed(digits); got != want {
			t.Fatalf("%d to %d digits: %s, want %s", n, digits, got, want)
		}
		if got := measure.Hours(n).String(); got != decimal.New(n, measure.Exponent).String() {
			t.Fatalf("%d: %s", n, got)
		}
	})
}

func TestPropertyRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyQuantity(t)
		text, err := json.Marshal(q)
		if err != nil {
			t.Fatal(err)
		}
		var back measure.Quantity
		if err := json.Unmarshal(text, &back); err != nil || back != q {
			t.Fatalf("%s through JSON is %s, %v", q, back, err)
		}
		var h measure.Hours
		if err := h.UnmarshalText([]byte(measure.Hours(q).String())); err != nil || h != measure.Hours(q) {
			t.Fatalf("%s printed and read is %s, %v", q, h, err)
		}
	})
}

// FromFloat is the nearest millionth of the float, up to the last bit of the float's product with a million.
func TestPropertyFromFloat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-9e9, 9e9).Draw(t, "f")
		q, err := measure.FromFloat[measure.Quantity](f)
		if err != nil {
			t.Fatal(err)
		}
		exact := new(big.Rat).Mul(new(big.Rat).SetFloat64(f), big.NewRat(1_000_000, 1))
		off := new(big.Rat).Sub(exact, big.NewRat(int64(q), 1))
		if most := new(big.Rat).SetFloat64(0.5 + math.Abs(f)*1e6*0x1p-52); off.Abs(off).Cmp(most) > 0 {
			t.Fatalf("%v is %s", f, q)
		}
		// What a quantity prints as a float comes back as the same quantity, as far as a float holds 15 digits.
		if q < 1e15 && q > -1e15 {
			if back, err := measure.FromFloat[measure.Quantity](q.Float()); err != nil || back != q {
				t.Fatalf("%s through a float is %s, %v", q, back, err)
			}
		}
	})
}

func TestPropertyFromFloatKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(-9e9, 9e9).Draw(t, "a"), rapid.Float64Range(-9e9, 9e9).Draw(t, "b")
		qa, _ := measure.FromFloat[measure.Quantity](a)
		qb, _ := measure.FromFloat[measure.Quantity](b)
		if a < b && qa > qb || a > b && qa < qb {
			t.Fatalf("%v and %v are %s and %s", a, b, qa, qb)
		}
	})
}

func TestPropertyGrown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, share := rapid.Int64Range(0, limit).Draw(t, "q"), rapid.Int64Range(0, 1_000_000_000).Draw(t, "share")
		want := new(big.Int).Mul(big.NewInt(q), big.NewInt(1_000_000+share))
		want.Add(want, big.NewInt(500_000)).Quo(want, big.NewInt(1_000_000))
		if want.Cmp(big.NewInt(limit)) > 0 {
			want.SetInt64(limit)
		}
		if got := measure.Quantity(q).Grown(share); int64(got) != want.Int64() {
			t.Fatalf("%d grown by %d is %d, want %s", q, share, got, want)
		}
	})
}

func TestPropertyPacksCoverTheQuantity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := measure.Quantity(rapid.Int64Range(0, math.MaxInt64).Draw(t, "q"))
		size := measure.Quantity(rapid.Int64Range(1, math.MaxInt64).Draw(t, "size"))
		packs, rest := q.Packs(size)
		if rest < 0 || rest >= size {
			t.Fatalf("%d of a pack of %d are left", rest, size)
		}
		bought := new(big.Int).Mul(big.NewInt(packs), big.NewInt(int64(size)))
		if used := bought.Sub(bought, big.NewInt(int64(rest))); used.Cmp(big.NewInt(int64(q))) != 0 {
			t.Fatalf("%d packs of %d less %d are %s, not %d", packs, size, rest, used, q)
		}
	})
}

package money_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
)

func list(values ...string) []money.Amount {
	amounts := make([]money.Amount, len(values))
	for i, v := range values {
		amounts[i] = money.MustParse(v)
	}
	return amounts
}

// Source: the rules written at Allocate; computed.
func TestAllocate(t *testing.T) {
	for _, c := range []struct {
		total, step   string
		weights, want []money.Amount
	}{
		{"0", "0.01", list("1", "2"), list("0", "0")},
		{"-5", "1", list("70", "30"), list("-4", "-1")},
		{"10", "1", list("0", "1", "0"), list("0", "10", "0")},
		{"0.01", "0.01", list("1", "1", "1"), list("0.01", "0", "0")},
		{"100.05", "0.05", list("1", "1"), list("50.05", "50.00")},
		{"7", "1", list("0.000000001", "0.000000001"), list("4", "3")},
		{"12", "12", list("1"), list("12")},
	} {
		got, err := money.Allocate(money.MustParse(c.total), c.weights, money.MustParse(c.step))
		if err != nil {
			t.Errorf("%s: %v", c.total, err)
			continue
		}
		for i := range got {
			same(t, "part of "+c.total, got[i], c.want[i])
		}
	}
}

func TestAllocateErrors(t *testing.T) {
	for _, c := range []struct {
		total, step string
		weights     []money.Amount
		want        string
	}{
		{"100", "0.01", list("1", "-2"), "dividing 100: weight 2 is -2; weights cannot be negative"},
		{"100", "0.01", list("0", "0"), "dividing 100: the 2 weights add up to zero"},
		{"100", "0.01", nil, "dividing 100: the 0 weights add up to zero"},
		{"100", "0", list("1"), "dividing 100: step 0 is not above zero"},
		{"100", "-1", list("1"), "dividing 100: step -1 is not above zero"},
		{"100.005", "0.01", list("1"), "dividing 100.005: not a multiple of 0.01"},
		{"-1", "2", list("1"), "dividing -1: not a multiple of 2"},
	} {
		_, err := money.Allocate(money.MustParse(c.total), c.weights, money.MustParse(c.step))
		wantError(t, err, c.want)
	}
}

func TestPropertyAllocate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := anyStep(t)
		total := step.Times(rapid.Int64Range(-1_000_000_000, 1_000_000_000).Draw(t, "steps"))
		weights := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) money.Amount { return abs(anyAmount(t, "weight")) }), 1,
			12).Draw(t, "weights")
		sum := money.Sum(weights...)
		if sum.IsZero() {
			weights[0], sum = money.MustParse("1"), money.MustParse("1")
		}
		parts, err := money.Allocate(total, weights, step)
		if err != nil {
			t.Fatal(err)
		}
		if !money.Sum(parts...).Equal(total) {
			t.Fatalf("the parts add up to %s, not to %s", money.Sum(parts...), total)
		}
		for i, p := range parts {
			// The quota is total×weight/sum; compared times sum, so that nothing is divided here.
			w, s := money.MustRate(weights[i].String()), rate(sum)
			if off := abs(p.Share(s).Sub(total.Share(w))); off.Cmp(step.Share(s)) >= 0 {
				t.Fatalf("part %d is %s: a step or more from its quota", i+1, p)
			}
			if weights[i].IsZero() && !p.IsZero() {
				t.Fatalf("part %d of no weight is %s", i+1, p)
			}
			if p.Sign()*total.Sign() < 0 {
				t.Fatalf("part %d is %s of %s", i+1, p, total)
			}
		}
	})
}

// rate takes a sum of amounts, which may be wider than what ParseRate reads.
func rate(a money.Amount) money.Rate {
	var r money.Rate
	for _, half := range split(a) {
		r = r.Add(half)
	}
	return r
}

func split(a money.Amount) []money.Rate {
	if r, err := money.ParseRate(a.String()); err == nil {
		return []money.Rate{r}
	}
	limit := money.MustParse("999999999999999")
	return append(split(a.Sub(limit)), money.MustRate(limit.String()))
}

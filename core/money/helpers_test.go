package money_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
)

var modes = []money.Mode{money.HalfEven, money.HalfUp}

func rounding(t testing.TB, mode money.Mode, step string) money.Rounding {
	t.Helper()
	r, err := money.NewRounding(mode, money.MustParse(step))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func wantError(t *testing.T, err error, want string) {
	t.Helper()
	switch {
	case err == nil:
		t.Errorf("no error, want %q", want)
	case err.Error() != want:
		t.Errorf("error %q\nwant  %q", err, want)
	}
}

func same(t testing.TB, what string, got, want money.Amount) {
	t.Helper()
	if !got.Equal(want) {
		t.Errorf("%s: %s, want %s", what, got, want)
	}
}

// anyAmount draws what Parse takes: up to 15 digits before the point and up to 9 after it.
func anyAmount(t *rapid.T, label string) money.Amount {
	return money.MustParse(rapid.StringMatching(`-?[0-9]{1,15}(\.[0-9]{1,9})?`).Draw(t, label))
}

// anyStep draws a step from a millionth to ten thousand, round or not.
func anyStep(t *rapid.T) money.Amount {
	return money.Exact(rapid.Int64Range(1, 250).Draw(t, "step"), rapid.Int32Range(-6, 2).Draw(t, "exponent"))
}

func anyRounding(t *rapid.T) money.Rounding {
	r, err := money.NewRounding(rapid.SampledFrom(modes).Draw(t, "mode"), anyStep(t))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func abs(a money.Amount) money.Amount {
	if a.Sign() < 0 {
		return a.Neg()
	}
	return a
}

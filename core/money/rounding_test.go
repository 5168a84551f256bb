package money_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
)

func TestNewRoundingErrors(t *testing.T) {
	for _, c := range []struct {
		mode       money.Mode
		step, want string
	}{
		{"", "1", `making a rounding: mode "" is unknown; want "half-even" or "half-up"`},
		{"bankers", "1", `making a rounding: mode "bankers" is unknown; want "half-even" or "half-up"`},
		{money.HalfEven, "0", `making a rounding: step 0 is not above zero`},
		{money.HalfUp, "-0.05", `making a rounding: step -0.05 is not above zero`},
	} {
		_, err := money.NewRounding(c.mode, money.MustParse(c.step))
		wantError(t, err, c.want)
	}
}

func TestRoundingSaysWhatItIs(t *testing.T) {
	r := rounding(t, money.HalfUp, "0.05")
	if r.Mode() != money.HalfUp || r.Step().String() != "0.05" {
		t.Errorf("%s in steps of %s", r.Mode(), r.Step())
	}
}

// Half-up is away from zero on both sides. Source: ISO 80000-1, Annex B, rule B, from memory.
func TestNegativeTies(t *testing.T) {
	for _, c := range []struct {
		mode            money.Mode
		step, in, value string
	}{
		{money.HalfUp, "1", "-2.5", "-3"},
		{money.HalfUp, "1", "-0.5", "-1"},
		{money.HalfUp, "0.05", "-20.125", "-20.15"},
		{money.HalfEven, "1", "-3.5", "-4"},
		{money.HalfEven, "1", "-0.5", "0"},
		{money.HalfEven, "0.05", "-20.125", "-20.1"},
		{money.HalfEven, "5", "1002.5", "1000"},
		{money.HalfEven, "5", "1007.5", "1010"},
		{money.HalfUp, "5", "1002.5", "1005"},
	} {
		same(t, string(c.mode)+" "+c.in, rounding(t, c.mode, c.step).Round(money.MustParse(c.in)),
			money.MustParse(c.value))
	}
}

// A published short cut for steps of 0.05 (add a half, cut off) takes 1.01 to 1.05. Source: spreadsheet pages, a known
// slip.
func TestFiveCentStepIsNotCeiling(t *testing.T) {
	for _, mode := range modes {
		same(t, "1.01", rounding(t, mode, "0.05").Round(money.MustParse("1.01")), money.MustParse("1"))
	}
}

func TestPropertyRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, a, b := anyRounding(t), anyAmount(t, "a"), anyAmount(t, "b")
		ra, rb := r.Round(a), r.Round(b)
		if abs(ra.Sub(a)).Times(2).Cmp(r.Step()) > 0 {
			t.Fatalf("%s went to %s, more than half of %s away", a, ra, r.Step())
		}
		if !r.Round(ra).Equal(ra) {
			t.Fatalf("%s rounds again to %s", ra, r.Round(ra))
		}
		if a.Cmp(b)*ra.Cmp(rb) < 0 {
			t.Fatalf("%s and %s change places: %s and %s", a, b, ra, rb)
		}
		if !r.Round(a.Neg()).Equal(ra.Neg()) {
			t.Fatalf("%s and its opposite round to %s and %s", a, ra, r.Round(a.Neg()))
		}
		if _, err := money.Allocate(ra, []money.Amount{money.MustParse("1")}, r.Step()); err != nil {
			t.Fatalf("%s is not a multiple of %s", ra, r.Step())
		}
	})
}

// Ties exactly: k+1/2 steps go to the even neighbour, or away from zero.
func TestPropertyTies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := anyStep(t)
		k := rapid.Int64Range(0, 1_000_000).Draw(t, "k")
		tie := step.Scaled(10*k+5, -1)
		even, _ := money.NewRounding(money.HalfEven, step)
		up, _ := money.NewRounding(money.HalfUp, step)
		if got := even.Round(tie); !got.Equal(step.Times(k + k%2)) {
			t.Fatalf("half-even: %s to %s", tie, got)
		}
		if got := up.Round(tie); !got.Equal(step.Times(k + 1)) {
			t.Fatalf("half-up: %s to %s", tie, got)
		}
	})
}

package money_test

import (
	"encoding/json"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
)

// What Parse takes is the book's own definition: digits with an optional point, 15 before it and 9 after it.

func TestParse(t *testing.T) {
	for _, c := range []struct{ in, out string }{
		{"0", "0"}, {"-0", "0"}, {"-0.00", "0"},
		{"1450", "1450"}, {"3.85", "3.85"}, {"-3.85", "-3.85"},
		{"007", "7"}, {"1.50", "1.5"}, {"100", "100"}, {"1000.000", "1000"},
		{"0.000000001", "0.000000001"},
		{"999999999999999.999999999", "999999999999999.999999999"},
	} {
		a, err := money.Parse(c.in)
		if err != nil || a.String() != c.out {
			t.Errorf("Parse(%q) = %s, %v; want %s", c.in, a, err, c.out)
		}
		r, err := money.ParseRate(c.in)
		if err != nil || r.String() != c.out {
			t.Errorf("ParseRate(%q) = %s, %v; want %s", c.in, r, err, c.out)
		}
	}
}

func TestParseErrors(t *testing.T) {
	const form = `: want digits with an optional decimal point, like 1450 or 3.85`
	const width = `: at most 15 digits before the point and 9 after it`
	for _, c := range []struct{ in, shown, want string }{
		{"", `""`, form},
		{"-", `"-"`, form},
		{"--1", `"--1"`, form},
		{"+1", `"+1"`, form},
		{".5", `".5"`, form},
		{"5.", `"5."`, form},
		{"1.2.3", `"1.2.3"`, form},
		{"1,450", `"1,450"`, form},
		{"1 450", `"1 450"`, form},
		{" 1", `" 1"`, form},
		{"1\n", `"1‹U+000A›"`, form},
		{"1e3", `"1e3"`, form},
		{"0x10", `"0x10"`, form},
		{"1_000", `"1_000"`, form},
		{"NaN", `"NaN"`, form},
		{"Infinity", `"Infinity"`, form},
		{"€5", `"€5"`, form},
		{"٣", `"٣"`, form},
		{"1-", `"1-"`, form},
		{"1.-5", `"1.-5"`, form},
		{"1000000000000000", `"1000000000000000"`, width},
		{"0.0000000001", `"0.0000000001"`, width},
		{strings.Repeat("9", 60), `"` + strings.Repeat("9", 40) + `…"`, width},
		{strings.Repeat("x", 60), `"` + strings.Repeat("x", 40) + `…"`, form},
	} {
		_, err := money.Parse(c.in)
		wantError(t, err, "reading an amount "+c.shown+c.want)
		_, err = money.ParseRate(c.in)
		wantError(t, err, "reading a rate "+c.shown+c.want)
	}
}

func TestMustPanicsOnBadConstants(t *testing.T) {
	for what, f := range map[string]func(){
		"MustParse": func() { money.MustParse("x") },
		"MustRate":  func() { money.MustRate("x") },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s took a bad constant", what)
				}
			}()
			f()
		}()
	}
}

func TestZeroValues(t *testing.T) {
	var a money.Amount
	var r money.Rate
	if !a.IsZero() || a.Sign() != 0 || a.String() != "0" || a.Fixed(2) != "0.00" || !a.Add(a).IsZero() {
		t.Errorf("the zero Amount is %s", a)
	}
	if !r.IsZero() || r.Sign() != 0 || r.String() != "0" || r.Complement().String() != "1" || r.Millionths() != 0 {
		t.Errorf("the zero Rate is %s", r)
	}
	if !money.Sum().IsZero() {
		t.Error("the sum of nothing is not zero")
	}
}

func TestWriting(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{money.MustParse("5362.5").Fixed(2), "5362.50"},
		{money.MustParse("-0.5").Fixed(2), "-0.50"},
		{money.MustParse("48250").Fixed(0), "48250"},
		{money.MustParse("1.234").Fixed(3), "1.234"},
		{money.MustRate("0.255").Percent(), "25.5\u202f%"},
		{money.MustRate("0.19").Percent(), "19\u202f%"},
		{money.MustRate("-0.005").Percent(), "-0.5\u202f%"},
		{money.Exact(385, -2).String(), "3.85"},
		{money.Exact(5, 3).String(), "5000"},
		{money.MustParse("3.85").Scaled(2_500_000, -6).String(), "9.625"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

func TestMillionths(t *testing.T) {
	for _, c := range []struct {
		rate string
		want int64
	}{{"0.19", 190_000}, {"0.175", 175_000}, {"1", 1_000_000}, {"0.0000019", 1}, {"25", 25_000_000}} {
		if got := money.MustRate(c.rate).Millionths(); got != c.want {
			t.Errorf("%s: %d, want %d", c.rate, got, c.want)
		}
	}
}

func TestRatesAddAndCompare(t *testing.T) {
	a, b := money.MustRate("0.15"), money.MustRate("0.30")
	if s := a.Add(b); s.String() != "0.45" || a.Cmp(b) != -1 || b.Cmp(a) != 1 || !a.Equal(money.MustRate("0.150")) {
		t.Errorf("0.15 + 0.30 = %s", s)
	}
}

func TestJSON(t *testing.T) {
	type pair struct {
		Price money.Amount
		Tax   money.Rate
	}
	text, err := json.Marshal(pair{money.MustParse("48250.37"), money.MustRate("0.2")})
	if err != nil || string(text) != `{"Price":"48250.37","Tax":"0.2"}` {
		t.Errorf("%s, %v", text, err)
	}
	var p pair
	if err := json.Unmarshal([]byte(`{"Price":48250.37}`), &p); err == nil {
		t.Error("a JSON number was taken for an amount; want text only")
	}
	if err := json.Unmarshal([]byte(`{"Tax":0.2}`), &p); err == nil {
		t.Error("a JSON number was taken for a rate; want text only")
	}
	err = json.Unmarshal([]byte(`{"Price":"much"}`), &p)
	wantError(t, err, `reading an amount "much": want digits with an optional decimal point, like 1450 or 3.85`)
}

func TestPropertyRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAmount(t, "a")
		if back, err := money.Parse(a.String()); err != nil || !back.Equal(a) || back.String() != a.String() {
			t.Fatalf("%s printed and parsed is %s, %v", a, back, err)
		}
		text, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var b money.Amount
		if err := json.Unmarshal(text, &b); err != nil || !b.Equal(a) {
			t.Fatalf("%s through JSON is %s, %v", a, b, err)
		}
		r := money.MustRate(a.String())
		text, err = json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var s money.Rate
		if err := json.Unmarshal(text, &s); err != nil || !s.Equal(r) {
			t.Fatalf("%s through JSON is %s, %v", r, s, err)
		}
	})
}

func TestPropertyArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyAmount(t, "a"), anyAmount(t, "b")
		n := rapid.Int64Range(-1000, 1000).Draw(t, "n")
		if !a.Add(b).Sub(b).Equal(a) || !a.Add(b).Equal(b.Add(a)) || !a.Neg().Neg().Equal(a) {
			t.Fatal("sums do not cancel")
		}
		if a.Cmp(b) != a.Sub(b).Sign() || a.Cmp(b) != -b.Cmp(a) || a.Equal(b) != (a.Cmp(b) == 0) {
			t.Fatal("comparison is not the sign of the difference")
		}
		if !a.Times(n).Equal(a.Scaled(n, 0)) || !money.Sum(a, b, a).Equal(a.Times(2).Add(b)) {
			t.Fatal("multiples do not agree")
		}
		r := money.MustRate(b.String())
		if !a.Share(r).Add(a.Share(r.Complement())).Equal(a) {
			t.Fatal("a share and its complement do not make the whole")
		}
	})
}

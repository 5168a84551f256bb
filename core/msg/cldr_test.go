package msg_test

import (
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"
	"pgregory.net/rapid"

	"ribband/core/money"
	"ribband/core/msg"
)

// tags are the languages of the tables.
var tags = strings.Fields("cs da de en es fi fr it nb nl pl pt sv")

const everyPlural = `, "t": "{n, plural, zero {zero} one {one} two {two} few {few} many {many} other {other}}"`

// bare is a language without a house style.
func bare(t testing.TB, tag string) *msg.Language {
	t.Helper()
	l, err := file(t, tag, everyPlural)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Numbers and shares are written as golang.org/x/text writes them from CLDR.
func TestNumbersFollowCLDR(t *testing.T) {
	for _, tag := range tags {
		l, p := bare(t, tag), message.NewPrinter(language.MustParse(tag))
		rapid.Check(t, func(t *rapid.T) {
			n, digits := rapid.Int64Range(-1e12, 1e12).Draw(t, "n"), rapid.IntRange(0, 3).Draw(t, "digits")
			v := float64(n) / 1000
			want := p.Sprint(number.Decimal(exactly(v, digits), number.Scale(digits)))
			if got := l.Grouped(v, digits); got != want {
				t.Errorf("%s: %v is %q, want %q", tag, v, got, want)
			}
			want = p.Sprint(number.Decimal(exactly(v, digits), number.Scale(digits), number.NoSeparator()))
			if got := l.Number(v, digits); got != want {
				t.Errorf("%s: without groups %v is %q, want %q", tag, v, got, want)
			}
		})
		if got, want := l.Share(money.MustRate("0.125")), p.Sprint(number.Percent(0.125,
			number.Scale(1))); got != want {
			t.Errorf("%s: a share is %q, want %q", tag, got, want)
		}
	}
}

// exactly is the decimal that is shown, so that the reference rounds nothing by its own rule.
func exactly(v float64, digits int) float64 {
	l := msg.English.Number(v, digits)
	f, err := strconv.ParseFloat(l, 64)
	if err != nil {
		panic(err)
	}
	return f
}

var forms = map[plural.Form]string{plural.Zero: "zero", plural.One: "one", plural.Two: "two", plural.Few: "few",
	plural.Many: "many", plural.Other: "other"}

// Plurals are those of golang.org/x/text, which is generated from CLDR's rules.
func TestPluralsFollowCLDR(t *testing.T) {
	for _, tag := range tags {
		l := bare(t, tag)
		check := func(decimal string) {
			v, err := strconv.ParseFloat(decimal, 64)
			if err != nil {
				t.Fatal(err)
			}
			whole, fraction, _ := strings.Cut(decimal, ".")
			i, _ := strconv.Atoi(whole)
			f, _ := strconv.Atoi("0" + fraction)
			short := strings.TrimRight(fraction, "0")
			b, _ := strconv.Atoi("0" + short)
			want := forms[plural.Cardinal.MatchPlural(language.MustParse(tag), i, len(fraction), len(short), f, b)]
			if got := l.Say("t", msg.Number("n", v, len(fraction))); got != want {
				t.Errorf("%s: the plural of %s is %s, want %s", tag, decimal, got, want)
			}
		}
		for i := range 250 {
			check(strconv.Itoa(i))
		}
		for tenths := range 250 {
			check(strconv.FormatFloat(float64(tenths)/10, 'f', 1, 64))
			check(strconv.FormatFloat(float64(tenths)/10, 'f', 2, 64))
		}
		for _, n := range []string{"1000", "1002", "1012", "10000", "1000000", "2000001"} {
			check(n)
		}
	}
}

package msg_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
)

// file reads a language that has what every file has, and these texts.
func file(t testing.TB, tag, texts string) (*msg.Language, error) {
	t.Helper()
	return msg.Read("test.json", fmt.Appendf(nil, `{"language.tag": %q, "language.name": "Test",
"language.months": "jan feb mrt apr mei jun jul aug sep okt nov dec"%s}`, tag, texts))
}

func TestTextsFollowTheirArguments(t *testing.T) {
	eur, err := money.CurrencyOf("EUR")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, want string }{
		{"plain", "plain"},
		{"the boat's sheer", "the boat's sheer"},
		{"it''s", "it's"},
		{"'{'name'}' is {name}", "{name} is Rush & Co"},
		{"'{a''b}'", "{a'b}"},
		{"{n} kg", "7 kg"},
		{"{n, plural, one {# person} other {# persons}}", "7 persons"},
		{"{one, plural, one {# person} other {# persons}}", "1 person"},
		{"{one, plural, =1 {one alone} one {# person} other {# persons}}", "one alone"},
		{"{zero, plural, =0 {nobody} one {# person} other {# persons}}", "nobody"},
		{"{zero, plural, one {# person} other {# persons}}", "0 persons"},
		{"{decimal, plural, one {# metre} other {# metres}}", "1.0 metres"},
		{"{n, plural, other {# '#'#}}", "7 #7"},
		{"{wood, select, teak {oiled} other {painted}}", "oiled"},
		{"{name, select, teak {oiled} other {painted}}", "painted"},
		{"{wood, select, teak {{n, plural, one {a board} other {# boards}}} other {}}", "7 boards"},
		{"# is itself", "# is itself"},
		{"{mass} at {length}", "1\u202f178.5\u00a0kg at 6.10\u00a0m"},
		{"{speed}", "5.5\u00a0kn (10.2\u00a0km/h)"},
		{"{angle}", "7°"},
		{"{price}", "EUR\u00a012\u202f345.60"},
		{"{abroad}", "12\u202f345.60\u00a0EUR"},
		{"{date}", "6\u00a0feb\u00a02027"},
		{"{share}", "7.25\u202f%"},
		{"{plain}, {exact}", "1178.5, 0.125"},
		{"{and}; {or}; {commas}", "a, b and c; a or b; a, b, c"},
		{"{inner}.", "6\u00a0February\u00a02027."},
		{"{missing}", "{missing}"},
	} {
		l, err := file(t, "en", fmt.Sprintf(`, "language.group": "\u202f", "language.percent": "\u202f%%", "t": %q`,
			c.text))
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		got := l.Say("t", msg.Count("n", 7), msg.Count("one", 1), msg.Count("zero", 0), msg.Number("decimal", 1, 1),
			msg.Text("name", "Rush & Co"), msg.Choice("wood", "teak"), msg.Quantity("mass", 1178.5, "kg", 1),
			msg.Quantity("length", 6.096, "m", 2), msg.Quantity("speed", 5.5, "kn", 1),
			msg.Quantity("angle", 7, "deg", 0), msg.Money("price", money.MustParse("12345.6"), eur, "nl"),
			msg.Money("abroad", money.MustParse("12345.6"), eur, "de"), msg.Date("date", "2027-02-06"),
			msg.Share("share", money.MustRate("0.0725")), msg.Number("plain", 1178.5, 1),
			msg.Number("exact", 0.125, msg.Exact), msg.Texts("and", msg.And, []string{"a", "b", "c"}),
			msg.Texts("or", msg.Or, []string{"a", "b"}), msg.Texts("commas", msg.Commas, []string{"a", "b", "c"}),
			msg.Words("inner", msg.New("language.date", msg.Count("day", 6), msg.Text("month", "February"),
				msg.Count("year", 2027))))
		if got != c.want {
			t.Errorf("%s: got %q, want %q", c.text, got, c.want)
		}
	}
}

func TestSlipsAreNamed(t *testing.T) {
	for text, want := range map[string]string{
		"{":                                   "want the name of an argument",
		"{}":                                  "want the name of an argument",
		"a}":                                  "at byte 1: a closing brace without an opening one",
		"{n":                                  "want a closing brace or a comma after {n",
		"{n, number}":                         "{n, number is neither plural nor select",
		"{n, plural}":                         "want a comma and the arms of {n",
		"{n, plural, one {a}}":                `{n has no arm "other"`,
		"{n, plural, singular {a} other {b}}": `"singular" is no plural`,
		"{n, plural, =x {a} other {b}}":       "want a whole number after the equals sign",
		"{n, plural, =01 {a} other {b}}":      "want a whole number after the equals sign",
		"{n, select, a {a} a {b} other {c}}":  `{n has two arms "a"`,
		"{n, select, a {a":                    "the brace after a is not closed",
		"{n, select, a b":                     "want a text in braces after a",
		"{n, select, ":                        "want an arm",
		strings.Repeat("{n, select, other {", 9) + strings.Repeat("}}", 9): "more than 8 arguments in each other",
	} {
		if _, err := file(t, "nl", fmt.Sprintf(", \"t\": %q", text)); err == nil ||
			!strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), `the text of "t"`) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

func TestBrokenFilesAreRefusedWithTheirPlace(t *testing.T) {
	for text, want := range map[string]string{
		"":                               "x.json:1:1: want an opening brace",
		"{\n \"a\" \"b\"}":               "x.json:2:6: want a code and a colon",
		"{\"a\": 1}":                     "x.json:1:7: want the text of \"a\" in quotes",
		"{\"a\": \"b\" \"c\": \"d\"}":    "x.json:1:11: want a comma or a closing brace",
		"{\"a\": \"b\",\n\"a\": \"c\"}":  "x.json:2:9: the code \"a\" is there twice",
		"{\"a\": \"b\"} {":               "x.json:1:12: something comes after the closing brace",
		"{\"a\": \"b":                    "want the text of \"a\" in quotes",
		"{\"a\": \"b\nc\"}":              "want the text of \"a\" in quotes on one line",
		"{}":                             "language.tag is \"\"; give one of cs, da, de, en,",
		"{\"language.tag\": \"tlh\"}":    "language.tag is \"tlh\"; give one of",
		"{\"language.tag\": \"nl\"}":     "language.months has 0 names; give twelve",
		"{\"a\": \"b\", \"c\": \"\\q\"}": "language.tag is",
	} {
		if _, err := msg.Read("x.json", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

// English writes what the engine's own formatting wrote before there were languages, byte for byte.
// Package money and measure word for programs what is worded here for people: in English it is the same.
func TestNumbersThatAreNoneAreWordedAlike(t *testing.T) {
	for _, text := range []string{"", "12,5", "1e3", "1234567890123456", "0.0000000001", strings.Repeat("9", 60)} {
		_, amount := money.Parse(text)
		_, rate := money.ParseRate(text)
		var q measure.Quantity
		for _, err := range []error{amount, rate, q.UnmarshalText([]byte(text))} {
			if err == nil {
				t.Fatalf("%q is taken", text)
			}
			if got := msg.Of(fmt.Errorf("somewhere: %w", err)).String(); got != err.Error() {
				t.Errorf("%q: the message %q, the error %q", text, got, err)
			}
		}
	}
}

func TestEnglishFollowsTheHouse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, digits := rapid.Float64Range(-1e9, 1e9).Draw(t, "v"), rapid.IntRange(0, 4).Draw(t, "digits")
		plain := measure.Decimal(v, digits)
		if got := msg.English.Number(v, digits); got != plain {
			t.Errorf("number: %q, want %q", got, plain)
		}
		if got := msg.English.Grouped(v, digits); got != money.Grouped(plain) {
			t.Errorf("grouped: %q, want %q", got, money.Grouped(plain))
		}
		if got, want := msg.English.Quantity(v, "kn", digits), measure.Joined(money.Grouped(plain), "\u00a0",
			"kn"); got !=
			want {
			t.Errorf("quantity: %q, want %q", got, want)
		}
		region := rapid.SampledFrom([]string{"", "nl", "de", "eu-trade", "us"}).Draw(t, "region")
		if got := msg.English.Money(plain, "EUR", region); got != money.Priced(plain, "EUR", region) {
			t.Errorf("money: %q, want %q", got, money.Priced(plain, "EUR", region))
		}
		rate := money.MustRate(rapid.StringMatching(`0\.[0-9]{1,4}`).Draw(t, "rate"))
		if got := msg.English.Share(rate); got != rate.Percent() {
			t.Errorf("share: %q, want %q", got, rate.Percent())
		}
	})
}

// A mark of the file's own may be the one that English has for decimals.
func TestHouseMarksOfThousands(t *testing.T) {
	for mark, want := range map[string]string{".": "-81.830,35", "\u202f": "-81\u202f830,35", "": "-81.830,35"} {
		l, err := file(t, "nl", fmt.Sprintf(`, "language.group": %q`, mark))
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Replace(l.Decimal("-81830.35"), "−", "-", 1); got != want {
			t.Errorf("%q: %s, want %s", mark, got, want)
		}
	}
}

func TestTextsNobodyHas(t *testing.T) {
	l, err := file(t, "nl", `, "language.date": "{day} {month} {year}"`)
	if err != nil {
		t.Fatal(err)
	}
	if got := l.Say("no.such"); got != "[no.such]" {
		t.Errorf("got %q", got)
	}
	if got := l.Date("2027-02-06"); got != "6 feb 2027" {
		t.Errorf("date %q", got)
	}
	if got := l.Date("soon"); got != "soon" {
		t.Errorf("date %q", got)
	}
	if got := l.List(msg.And, []string{"a", "b"}); got != "a and b" {
		t.Errorf("the English text did not serve: %q", got)
	}
	if got := l.Text(msg.Message{}); got != "" {
		t.Errorf("nothing is %q", got)
	}
	if got := l.Text(msg.Plain("{as it is}")); got != "{as it is}" {
		t.Errorf("plain is %q", got)
	}
	if l.Has("language.pair-and") || !l.Has("language.date") || l.Tag() != "nl" || l.Name() != "Test" {
		t.Error("the language does not know itself")
	}
}

func TestErrorsAreMessagesToo(t *testing.T) {
	err := fmt.Errorf("opening the boat: %w", msg.Fault("language.unit-pair"))
	var e *msg.Error
	if !errors.As(err, &e) || e.Message.Code != "language.unit-pair" || err.Error() != "opening the boat: pair" {
		t.Errorf("got %v", err)
	}
	if got := msg.English.Text(msg.Of(errors.New("as it\nis"))); got != "as it is" {
		t.Errorf("got %q", got)
	}
	l, lerr := file(t, "nl", `, "language.unit-pair": "paar"`)
	if lerr != nil {
		t.Fatal(lerr)
	}
	if got := l.Text(msg.Of(err)); got != "paar" {
		t.Errorf("got %q", got)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(`{n, plural, one {# boat} other {# boats}} of '{'name'}'`)
	f.Add(`{a, select, b {{c}} other {''}}`)
	f.Fuzz(func(t *testing.T, text string) {
		l, err := msg.Read("f.json", fmt.Appendf(nil, `{"language.tag": "pl", "language.months": "a b c d e f g h i j k l",
"t": %q}`, text))
		if err == nil {
			l.Say("t", msg.Count("n", 5), msg.Choice("a", "b"))
		}
		_, _ = msg.Read("f.json", []byte(text))
	})
}

func BenchmarkText(b *testing.B) {
	m := msg.New("language.date", msg.Count("day", 6), msg.Text("month", "February"), msg.Count("year", 2027))
	for b.Loop() {
		if msg.English.Text(m) == "" {
			b.Fatal("nothing")
		}
	}
}

// BenchmarkRead is what a page pays once for a language: the file, whole, and every text parsed.
func BenchmarkRead(b *testing.B) {
	data, err := os.ReadFile("en.json")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := msg.Read("en.json", data); err != nil {
			b.Fatal(err)
		}
	}
}

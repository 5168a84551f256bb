package begin

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ribband/core/book"
	"ribband/core/money"
	"ribband/core/suggest"
	"ribband/core/visible"
)

// Answers are what a book begins with. Lengths are in metres; every one is within the bounds of its question.
type Answers struct {
	// Name of the yard, as it stands on papers.
	Yard string
	// Currency of all amounts, a code of ISO 4217.
	Currency string
	// Country of the yard and of its first region, a code of ISO 3166-1.
	Country string
	// Tax on a boat there, percent, as decimal text: 19 or 25.5; 0 for none.
	Tax string
	// What the first boat is called.
	Hull string
	// Length of hull, greatest beam, and depth amidships from the base line to the sheer, m.
	Length, Beam, Depth float64
	// Power of the motor at its shaft, kW.
	MotorKW float64
	// Language of the texts: one of [Languages].
	Language string
}

// Question is one of those that a book begins with. They are asked in the order of [Questions]: a suggestion may follow
// from what was answered before.
type Question struct {
	// Name of the flag that answers it.
	Flag string
	// What a person is asked.
	Ask string
	// What holds where nothing is answered.
	Suggest func(a *Answers) string
	// Take puts an answer in its place. The error says what was wrong and what would do.
	Take func(a *Answers, text string) error
}

// Questions are all of them, in their order.
var Questions = []Question{
	{"yard", "Name of your yard", func(*Answers) string { return "My Yard" },
		func(a *Answers, text string) error { return named(&a.Yard, text, "the yard") }},
	{"currency", "Currency (code of ISO 4217)", func(*Answers) string { return "EUR" }, takeCurrency},
	{"country", "Country (two letters of ISO 3166-1)", suggestCountry, takeCountry},
	{"tax", "Tax on a boat there, percent", func(a *Answers) string { return of(a.Country).rate }, takeTax},
	{"hull", "Name of your first boat", func(*Answers) string { return "Launch 60" }, takeHull},
	{"length", "Length of hull, m", func(*Answers) string { return "6" },
		func(a *Answers, text string) error { return within(&a.Length, text, "the length", 4.5, 10) }},
	{"beam", "Beam, m", func(a *Answers) string { return metres(0.9 + float64(0.19*a.Length)) },
		func(a *Answers, text string) error {
			return within(&a.Beam, text, "the beam", max(1.75, 0.24*a.Length), 0.42*a.Length)
		}},
	{"depth", "Depth amidships, from the bottom to the top of the side, m",
		func(a *Answers) string {
			least, most := depths(a)
			return metres(min(max(0.5+float64(0.05*a.Length), least+0.01), most-0.01))
		},
		func(a *Answers, text string) error {
			least, most := depths(a)
			return within(&a.Depth, text, "the depth", least, most)
		}},
	{"motor", "Motor power at the shaft, kW", func(a *Answers) string { return tidy(suggestedMotor(a)) },
		func(a *Answers, text string) error {
			least := leastMotor(a)
			return within(&a.MotorKW, text, "the motor power", least, min(12, 5*least))
		}},
	{"language", "Language of the texts (en, nl or de)", func(*Answers) string { return Languages[0] },
		func(a *Answers, text string) error {
			if !slices.Contains(Languages, text) {
				return fmt.Errorf("%q is none of the languages that a book can begin in: en, nl or de; others are "+
					"added later", suggest.Clip(text, 20))
			}
			a.Language = text
			return nil
		}},
}

// depths are what the depth amidships may be: a side that stands well above the water, and a boat that is wider than it
// is deep. Our own bounds, wide enough for displacement launches.
func depths(a *Answers) (least, most float64) {
	return max(0.65, float64(0.32*a.Beam)), float64(0.48 * a.Beam)
}

// named takes a name: one line of letters that can be seen.
func named(into *string, text, what string) error {
	_, _, hidden := visible.Hidden(text, false)
	if hidden || !strings.ContainsFunc(text, unicode.IsLetter) || len(text) > 60 || !utf8.ValidString(text) {
		return fmt.Errorf("%q cannot be the name of %s: write it in one line, at most 60 letters",
			suggest.Clip(text, 60), what)
	}
	*into = text
	return nil
}

func takeCurrency(a *Answers, text string) error {
	c, err := money.CurrencyOf(strings.ToUpper(text))
	if err != nil {
		return fmt.Errorf("%q is no currency: write its three letters of ISO 4217, such as EUR, GBP or NOK",
			suggest.Clip(text, 20))
	}
	a.Currency = c.Code
	return nil
}

// suggestCountry is the first country that pays in the currency.
func suggestCountry(a *Answers) string {
	for _, c := range countries {
		if c.currency == a.Currency {
			return c.code
		}
	}
	return "XX"
}

// takeCountry takes any two letters: whether a country has them is said by the check of the book, and XX is nobody's.
func takeCountry(a *Answers, text string) error {
	code := strings.ToUpper(text)
	if code == "UK" {
		code = "GB" // as ISO 3166-1 has it
	}
	if !book.IsCountry(code) {
		return fmt.Errorf("%q is no country: write its two letters of ISO 3166-1, such as NL or GB; XX for none",
			suggest.Clip(text, 20))
	}
	a.Country = code
	return nil
}

var percent = regexp.MustCompile(`^\d{1,2}([.]\d{1,3})?$`)

func takeTax(a *Answers, text string) error {
	text = strings.TrimSpace(strings.TrimSuffix(strings.Replace(text, ",", ".", 1), "%"))
	if !percent.MatchString(text) {
		return fmt.Errorf("%q is no tax: write percent, such as 21 or 8.1, and 0 where there is none",
			suggest.Clip(text, 20))
	}
	a.Tax = text
	return nil
}

func takeHull(a *Answers, text string) error {
	if err := named(&a.Hull, text, "a boat"); err != nil {
		return err
	}
	if identifier(text) == "" {
		return fmt.Errorf("%q cannot be the name of a boat: a letter or digit of a to z and 0 to 9 must be in it, for "+
			"the identifier of the hull", suggest.Clip(text, 60))
	}
	return nil
}

// within takes a number between bounds, with a comma or a point, and perhaps its unit behind it.
func within(into *float64, text, what string, least, most float64) error {
	plain := strings.Replace(strings.TrimSpace(strings.TrimRight(text, "mkW ")), ",", ".", 1)
	n, err := strconv.ParseFloat(plain, 64)
	if err != nil || !(n >= least && n <= most) {
		return fmt.Errorf("%s cannot be %q: write a number from %.2f to %.2f", what, suggest.Clip(text, 20), least,
			most)
	}
	*into = n
	return nil
}

// metres is a length to the centimetre, tidy a number to the half.
func metres(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }
func tidy(x float64) string   { return strconv.FormatFloat(x, 'f', -1, 64) }

// identifier is a name as the book names a hull: lower-case words and digits joined by hyphens.
func identifier(name string) string {
	return strings.Trim(between.ReplaceAllString(strings.ToLower(name), "-"), "-")
}

var between = regexp.MustCompile(`[^a-z0-9]+`)

// Package numbering gives quotations their numbers by a yard's scheme. It knows neither the day nor what was given
// before: both come in from outside.
package numbering

import (
	"fmt"
	"strconv"
	"strings"
)

// Scheme is how a yard numbers its quotations: a text with {year}, {device} and {count} in it, such as
// "{year}-{device}{count}". Each device counts by itself, so that two without a network never give the same number;
// {device} keeps them apart.
type Scheme string

// Default is that of a book that states none.
const Default Scheme = "{year}-{device}{count}"

// Check says what is wrong with a scheme.
func (s Scheme) Check() error {
	rest := strings.NewReplacer("{year}", "", "{device}", "", "{count}", "").Replace(string(s))
	switch {
	case strings.Count(string(s), "{count}") != 1:
		return fmt.Errorf("the numbers of quotations, %.60q, need {count} once", string(s))
	case strings.ContainsAny(rest, "{}"):
		return fmt.Errorf("the numbers of quotations, %.60q, may hold {year}, {device} and {count}; take other braces "+
			"out", string(s))
	case len(s) > 60:
		return fmt.Errorf("the numbers of quotations, %.60q, are too long; shorten the text to 60 bytes", string(s))
	}
	return nil
}

// countDigits is how many digits a count has at least, so that a list of a year stands in order.
const countDigits = 3

// Number is the number of a quotation: of a day as 2027-03-31, on a device, the so manieth of it.
func (s Scheme) Number(day, device string, count int) string {
	year, _, _ := strings.Cut(day, "-")
	return strings.NewReplacer("{year}", year, "{device}", device,
		"{count}", fmt.Sprintf("%0*d", countDigits, max(1, count))).Replace(string(s))
}

// Count reads the count of a number that the scheme gave for a year and device; 0 of any other text.
func (s Scheme) Count(number, day, device string) int {
	year, _, _ := strings.Cut(day, "-")
	before, after, _ := strings.Cut(strings.NewReplacer("{year}", year, "{device}", device).Replace(string(s)),
		"{count}")
	text, ok := strings.CutPrefix(number, before)
	if !ok {
		return 0
	}
	if text, ok = strings.CutSuffix(text, after); !ok || len(text) < countDigits || len(text) > 9 {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// Next is the first number of a day and device beyond all that were given.
func (s Scheme) Next(day, device string, given []string) string {
	last := 0
	for _, n := range given {
		last = max(last, s.Count(n, day, device))
	}
	return s.Number(day, device, last+1)
}

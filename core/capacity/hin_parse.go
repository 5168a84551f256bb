package capacity

import (
	"fmt"
	"ribband/core/suggest"
	"strings"
	"time"
)

// HINProblem is one thing wrong with a hull identification number.
type HINProblem struct {
	Position int // of the character, from 1; 0 where it is the whole
	Message  string
	Remedy   string
}

// HINError is everything that is wrong with a hull identification number.
type HINError struct {
	Doing    string
	Text     string
	Problems []HINProblem
}

// Error says all problems with their remedies.
func (e *HINError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %q:", e.Doing, suggest.Clip(e.Text, 40))
	for i, p := range e.Problems {
		if i > 0 {
			b.WriteString(";")
		}
		if p.Position > 0 {
			fmt.Fprintf(&b, " character %d:", p.Position)
		}
		fmt.Fprintf(&b, " %s: %s", p.Message, p.Remedy)
	}
	return b.String()
}

// hinReader checks the parts of a number. Positions are counted in the whole text.
type hinReader struct {
	text     string
	problems []HINProblem
}

func (r *hinReader) wrong(position int, message, remedy string) {
	r.problems = append(r.problems, HINProblem{position, message, remedy})
}

func (r *hinReader) err(doing string) error {
	if len(r.problems) == 0 {
		return nil
	}
	return &HINError{doing, r.text, r.problems}
}

// ParseHIN reads a hull identification number, twelve characters with or without a country and a hyphen before them.
// All that is wrong with it is in one [*HINError]. Without a country, or with US, the code of the maker is three
// letters; elsewhere it may have digits. The code, the serial number and the model year carry no check character: a
// slip that leaves the form right cannot be found.
//
// Valid: the form since August 1984. Source: 33 CFR 181.25; ISO 10087, from memory and secondary sources.
func ParseHIN(text string) (HIN, error) {
	const doing = "reading hull identification number"
	r := hinReader{text: text}
	country, rest, from, ok := r.whole(text)
	if !ok {
		return HIN{}, r.err(doing)
	}
	r.manufacturer(rest[:3], country, from)
	r.serial(rest[3:8], from+3)
	h := HIN{Country: country, Manufacturer: rest[:3], Serial: rest[3:8], Month: r.month(rest[8], from+8)}
	h.YearDigit = r.digit(rest[9], from+9, "write the last digit of the year of manufacture")
	h.ModelYear = 10*r.digit(rest[10], from+10, "write the last two digits of the model year") + r.digit(rest[11],
		from+11, "write the last two digits of the model year")
	if err := r.err(doing); err != nil {
		return HIN{}, err
	}
	return h, nil
}

// whole parts the country from the twelve characters, which begin at from; ok is false where they cannot be told apart.
func (r *hinReader) whole(text string) (country, rest string, from int, ok bool) {
	position := 0
	for _, c := range text {
		position++
		if c < '!' || c > '~' {
			r.wrong(position, fmt.Sprintf("%q is no letter or digit", c),
				"write capitals A to Z and digits, without spaces")
			return "", "", 0, false
		}
	}
	rest = text
	if len(text) > 2 && text[2] == '-' {
		country, rest, from = text[:2], text[3:], 3
		r.country(country, 0)
	}
	if i := strings.IndexAny(rest, "-/"); i >= 0 {
		r.wrong(from+i+1, fmt.Sprintf("%q interrupts the number", rest[i]),
			"write the twelve characters without slashes, hyphens or spaces")
		return "", "", 0, false
	}
	if len(rest) != 12 {
		r.wrong(0, fmt.Sprintf("%d characters", len(rest)),
			"write twelve, with a country such as US- before them where wanted")
		return "", "", 0, false
	}
	return country, rest, from, true
}

func (r *hinReader) country(s string, from int) {
	if len(s) != 2 || !capital(s[0]) || !capital(s[1]) {
		r.wrong(from+1, fmt.Sprintf("%q is no country", suggest.Clip(s, 40)), "write two capitals of ISO 3166-1, like "+
			"US or GB")
	}
}

func (r *hinReader) manufacturer(s, country string, from int) {
	if len(s) != 3 {
		r.wrong(from+1, fmt.Sprintf("the code of the maker %q has not three characters", suggest.Clip(s, 40)),
			"write the code that was assigned to the maker")
		return
	}
	abroad := country != "" && country != "US"
	for i := range 3 {
		if !capital(s[i]) && !(abroad && digit(s[i])) {
			r.wrong(from+i+1, fmt.Sprintf("%q is not part of a code of the maker", s[i:i+1]),
				"write the three capitals that were assigned to the maker")
		}
	}
}

func (r *hinReader) serial(s string, from int) {
	if len(s) != 5 {
		r.wrong(from+1, fmt.Sprintf("the serial number %q has not five characters", suggest.Clip(s, 40)),
			"write five, with zeros before a short one")
		return
	}
	for i := range 5 {
		switch c := s[i]; {
		case strings.IndexByte("IOQ", c) >= 0:
			r.wrong(from+i+1, fmt.Sprintf("%q is not allowed in a serial number", s[i:i+1]),
				"write digits 1 and 0, or another letter")
		case !capital(c) && !digit(c):
			r.wrong(from+i+1, fmt.Sprintf("%q is not part of a serial number", s[i:i+1]), "write capitals and digits")
		}
	}
}

func (r *hinReader) month(c byte, position int) time.Month {
	switch {
	case c >= 'A' && c <= 'L':
		return time.January + time.Month(c-'A')
	case c == 'M':
		r.wrong(position+1, "M marks the old form with a model year, which ended in 1984",
			"write the month, A for January to L for December")
	case digit(c):
		r.wrong(position+1, fmt.Sprintf("%q: a digit here is the old form, which ended in 1984", string(c)),
			"write the month, A for January to L for December")
	default:
		r.wrong(position+1, fmt.Sprintf("%q is no month", string(c)), "write A for January to L for December")
	}
	return 0
}

func (r *hinReader) digit(c byte, position int, what string) int {
	if !digit(c) {
		r.wrong(position+1, fmt.Sprintf("%q is no digit", string(c)), what)
		return 0
	}
	return int(c - '0')
}

func capital(c byte) bool { return c >= 'A' && c <= 'Z' }
func digit(c byte) bool   { return c >= '0' && c <= '9' }

package book

import "strings"

// bank reports an account number with wrong check digits: money would go astray.
func (v *validation) bank() {
	iban := v.book.Yard.Bank.IBAN
	if iban.Value != "" && !soundIBAN(iban.Value) {
		v.error(iban.At, "copy it anew from the bank's papers",
			"the IBAN %q is none: its form or its check digits are wrong", iban)
	}
}

// soundIBAN checks the form and the check digits of an account number, spaces left out: two letters, two digits, up to
// 30 letters and digits; with the first four behind the others and letters as 10 to 35 the number leaves 1 when divided
// by 97.
//
// Valid: any country; the length that each country has is not known here. Source: ISO 13616-1 and ISO 7064 MOD 97-10,
// from memory.
func soundIBAN(s string) bool {
	s = strings.ReplaceAll(s, " ", "")
	if len(s) < 5 || len(s) > 34 {
		return false
	}
	for i := range len(s) {
		letter, digit := s[i] >= 'A' && s[i] <= 'Z', s[i] >= '0' && s[i] <= '9'
		if !letter && !digit || i < 2 && !letter || (i == 2 || i == 3) && !digit {
			return false
		}
	}
	rest := 0
	for _, c := range []byte(s[4:] + s[:4]) {
		if c >= 'A' {
			rest = (rest*100 + int(c-'A') + 10) % 97
		} else {
			rest = (rest*10 + int(c-'0')) % 97
		}
	}
	return rest == 1
}

// GroupedIBAN writes an account number in groups of four, as it is printed.
func GroupedIBAN(s string) string {
	s = strings.ReplaceAll(s, " ", "")
	var groups []string
	for len(s) > 4 {
		groups, s = append(groups, s[:4]), s[4:]
	}
	return strings.Join(append(groups, s), " ")
}

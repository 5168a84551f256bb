package supply

// A number of a list is text that three countries write in four ways: 1,250.50 and 1.250,50 and 1 250,50 and 1'250.50.
// Within one list all are written alike, since one program wrote them; so one that is beyond doubt tells the others.

import (
	"strings"
	"unicode"

	"ribband/core/money"
)

// digitsOf is a number as a list writes it without its currency, blanks and the dash for no cents: "€ 1.250,-" is
// "1.250". The currency is "" where none stands there.
func digitsOf(text string) (digits, currency string) {
	// before or behind the number, as the country has it
	text = strings.ToLower(strings.TrimSpace(text))
	for _, s := range signs {
		if rest, found := strings.CutPrefix(text, s[0]); found {
			text, currency = rest, s[1]
		} else if rest, found := strings.CutSuffix(text, s[0]); found {
			text, currency = rest, s[1]
		}
	}
	// spreadsheets part thousands by narrow and fixed blanks, and the Swiss by an apostrophe
	text = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '\'' || r == '’' {
			return -1
		}
		return r
	}, text)
	for _, end := range []string{",--", ".--", ",-", ".-", ",–", ".–", ",—"} {
		text = strings.TrimSuffix(text, end)
	}
	return text, currency
}

// signOf is the decimal sign of a number, ',' or '.'; 0 where it has none, or where it cannot be told from a sign
// between thousands, which open says.
func signOf(digits string) (sign rune, open bool) {
	commas, points := strings.Count(digits, ","), strings.Count(digits, ".")
	at := strings.LastIndexAny(digits, ",.")
	switch {
	case at < 0:
		return 0, false
	case commas > 0 && points > 0:
		return rune(digits[at]), false // the last of two is the decimal sign
	case commas > 1:
		return '.', false // one that stands there twice parts thousands
	case points > 1:
		return ',', false
	}
	// three digits behind the only sign may be thousands; all other numbers of digits are decimals
	whole, rest := digits[:at], digits[at+1:]
	if len(rest) != 3 || len(whole) == 0 || len(whole) > 3 || whole[0] == '0' {
		return rune(digits[at]), false
	}
	return 0, true
}

// amountOf is a number by the decimal sign of its file; false where it is none. Groups of thousands have three digits.
func amountOf(digits string, sign rune) (money.Amount, bool) {
	other := ","
	if sign == ',' {
		other = "."
	}
	whole, fraction, _ := strings.Cut(digits, string(sign))
	// a number in which the groups are not as people write them is a slip, and is not mended
	groups := strings.Split(whole, other)
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && (len(g) == 0 || len(g) > 3) {
			return money.Amount{}, false
		}
	}
	text := strings.Join(groups, "")
	if text == "" {
		text = "0"
	}
	if fraction != "" {
		text += "." + fraction
	}
	a, err := money.Parse(text)
	return a, err == nil && digits != "" && digits != string(sign)
}

// shareOf is a discount: "12,5 %", "12.5", "10 + 5" for one on what the other leaves. A number below one without the
// sign of per cent may be a share as well, and is none of the two.
func shareOf(text string, sign rune) (left money.Rate, ok bool) {
	// discounts on discounts multiply what each leaves: 10 + 5 leaves 0.9 × 0.95
	left = money.MustRate("1")
	bare := !strings.Contains(text, "%")
	for part := range strings.SplitSeq(strings.ReplaceAll(text, "%", ""), "+") {
		digits, _ := digitsOf(part)
		// 12.5 may stand beside prices with a comma: programs write the two by different hands
		if s, open := signOf(digits); s != 0 || open {
			if s != 0 {
				sign = s
			}
		}
		a, ok := amountOf(digits, sign)
		percent, hundred := a, money.Exact(100, 0)
		if !ok || a.Sign() < 0 || percent.Cmp(hundred) >= 0 || bare && !a.IsZero() && a.Cmp(money.Exact(1, 0)) < 0 {
			return left, false
		}
		// what is left of one: exact, since two digits move
		rest := money.Exact(1, 0).Sub(percent.Scaled(1, -2)).Share(left)
		if left, ok = rateOf(rest); !ok {
			return left, false
		}
	}
	return left, true
}

// Money knows no division by shares, and a share no text with a sign of per cent, so that one becomes the other here.

// rateOf takes an amount as a share.
func rateOf(a money.Amount) (money.Rate, bool) {
	r, err := money.ParseRate(a.String())
	return r, err == nil
}

package money

import "strings"

// codeBehind are the countries whose readers write the currency behind an amount in English text; "eu" stands for the
// European Union as a whole. All others write it before.
//
// Source: Unicode CLDR, currency patterns of English in each country (en-DE, en-FI, en-SE, en-150 behind; en-GB, en-NL,
// en-CH, en-US, en-CA before; for France, which has no English of its own, fr-FR), from memory.
var codeBehind = map[string]bool{"de": true, "fi": true, "fr": true, "se": true, "eu": true}

// Priced writes an amount for a reader, grouped, with the code of its currency where the region puts it. The region is
// the identifier in the book, which begins with the code of a country: de, eu-trade; "" where there is none.
func Priced(decimal, code, region string) string {
	country, _, _ := strings.Cut(region, "-")
	if codeBehind[country] {
		return Grouped(decimal) + "\u00a0" + code
	}
	return code + "\u00a0" + Grouped(decimal)
}

package supply

import (
	"strings"
	"unicode"
)

// heads are the words over columns, in English, Dutch and German, as [plain] writes them. A head may have a currency
// and a price unit behind it.
var heads = func() map[string]string {
	list := map[string]string{}
	for role, words := range map[string]string{
		"article": "article|article no|article nr|article number|art no|art nr|item|item no|item number|part no|" +
			"part number|sku|code|product code|order no|order number|artikel|artikelnr|artikel nr|artikelnummer|" +
			"artikelcode|bestelnr|bestelnummer|productcode|bestellnr|bestell nr|bestellnummer|teilenummer|sachnummer",
		"title": "title|description|name|product|omschrijving|benaming|bezeichnung|beschreibung|artikelbezeichnung",
		"price": "price|net|nett|net price|nett price|your price|unit price|prijs|netto|nettoprijs|netto prijs|" +
			"stuksprijs|eenheidsprijs|preis|nettopreis|netto preis|einzelpreis|stückpreis|ihr preis|uw prijs",
		"list": "list|list price|gross|gross price|catalogue price|brutoprijs|bruto prijs|bruto|catalogusprijs|" +
			"adviesprijs|listenpreis|bruttopreis|brutto preis|brutto|katalogpreis",
		"discount": "discount|disc|rebate|korting|rabatt|nachlass",
		"unit":     "unit|uom|unit of measure|sales unit|eenheid|verkoopeenheid|ehd|einheit|mengeneinheit|me",
		"per": "per|price unit|price per|per quantity|prijseenheid|prijs per|preiseinheit|preis je|preis pro|pe|" +
			"je",
		"currency": "currency|valuta|munt|währung|wkz",
		"from": "from|from quantity|quantity from|min qty|minimum quantity|quantity break|vanaf|vanaf aantal|" +
			"staffel|ab|ab menge|staffelmenge|mindestmenge",
		"date": "date|valid from|price date|geldig vanaf|ingangsdatum|prijsdatum|gültig ab|preisdatum|stand|" +
			"datum",
	} {
		for word := range strings.SplitSeq(words, "|") {
			list[word] = role
		}
	}
	return list
}()

// A word of the trade that means two things in two lists is in none of these: whoever has such a list names its
// columns.

// plain writes a head in small letters, with one blank for whatever else stands between words. Signs of currencies are
// words.
func plain(text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("€£$", r)
	})
	return strings.Join(words, " ")
}

// roleOf is what a column is by its head, with the price unit and the currency that the head states: 1 and "" for
// none.
func roleOf(head string) (role string, per int64, currency string) {
	// what a head says beside its word stands behind it, in any order: "Preis in EUR je 100"
	words, per := strings.Fields(plain(head)), 1
	for n := len(words); n > 0; n = len(words) {
		if r := heads[strings.Join(words, " ")]; r != "" {
			return r, per, currency
		}
		last := words[n-1]
		switch {
		case currencies[last] != "":
			currency, words = currencies[last], words[:n-1]
		case n > 1 && perWords[words[n-2]] && wholeOf(last) > 0:
			per, words = wholeOf(last), words[:n-2]
		case last == "in":
			words = words[:n-1]
		default:
			return "", 1, ""
		}
	}
	return "", 1, ""
}

// The words before a price unit are alike in the three languages; what follows is a number.

// perWords stand before the number of units that a price is for.
var perWords = map[string]bool{"per": true, "je": true, "pro": true}

// signs are those of the currencies that lists of the trade come in, and their words; what begins like another one
// stands before it.
var signs = [][2]string{{"€", "EUR"}, {"euro", "EUR"}, {"eur", "EUR"}, {"£", "GBP"}, {"gbp", "GBP"}, {"$", "USD"},
	{"usd", "USD"}, {"chf", "CHF"}, {"dkk", "DKK"}, {"sek", "SEK"}, {"nok", "NOK"}, {"pln", "PLN"}}

// currencies are the codes by sign and word.
var currencies = func() map[string]string {
	list := map[string]string{}
	for _, s := range signs {
		list[s[0]] = s[1]
	}
	return list
}()

// units are words for those of package measure. A drum, a box or a roll is none: how much is in it another list may say
// differently, so that its price is left to a person.
var units = func() map[string]string {
	list := map[string]string{}
	for unit, words := range map[string]string{
		"each": "each ea pc pcs piece pieces st stk stuk stuks stck stück stuck",
		"set":  "set sets satz", "pair": "pair pairs pr paar", "m": "m mtr metre metres meter lfm lm",
		"m2": "m2 m² sqm qm", "m3": "m3 m³ cbm", "l": "l ltr litre litres liter", "kg": "kg kgs kilo",
		"h": "h hr hour hours uur std stunde",
	} {
		for word := range strings.FieldsSeq(words) {
			list[word] = unit
		}
	}
	return list
}()

// unitOf takes apart a unit as lists write it: "100 m", "per 100", "Stk.", "1". Per is 1 where no number stands there,
// and 0 for one that no price can be divided by exactly.
func unitOf(text string) (unit string, per int64) {
	per = 1
	// words that are no unit of the book stay as they are, so that a report can say them
	var words []string
	for word := range strings.FieldsSeq(plain(text)) {
		switch {
		case perWords[word]:
		case wholeOf(word) > 0 || strings.Trim(word, "0") == "":
			per = wholeOf(word)
		default:
			words = append(words, word)
		}
	}
	unit = strings.Join(words, " ")
	if known := units[unit]; known != "" {
		unit = known
	}
	if !exact(per) {
		per = 0
	}
	return unit, per
}

// wholeOf is a number of up to six digits; 0 for what is none.
func wholeOf(text string) (n int64) {
	// longer ones are articles or barcodes, and no price unit
	if text == "" || len(text) > 6 {
		return 0
	}
	for _, c := range text {
		if c < '0' || c > '9' {
			return 0
		}
		n = 10*n + int64(c-'0')
	}
	return n
}

// exact says that a decimal can be divided by a number without a rest: it has no factor but 2 and 5.
func exact(n int64) bool {
	if n <= 0 {
		return false
	}
	// a third of a price would have to be rounded, and ten of them would not be the price
	for _, factor := range []int64{2, 5} {
		for n%factor == 0 {
			n /= factor
		}
	}
	return n == 1
}

package begin

import "ribband/core/book"

// country is what a first book knows of where its yard is.
type country struct {
	code, currency string
	// rate of the tax on a boat, percent; kind is its name, added whether it is added below the price instead of shown
	// in it.
	rate, kind string
	added      bool
	limits     string // whose limits hold: eu, gb or us; none else
	// latitude of its waters and the share of a summer day in which the sun shines, roughly
	latitude, sunshine string
}

// countries are the ones whose tax a question can suggest. Standard rates of value added tax as of 2026 and the places
// of the sun, all from memory: the book says so, and that a tax adviser confirms them. In the United States and Canada
// the rate is that of a state or province, so that the suggestion is no more than a number to be changed.
var countries = []country{
	{"NL", "EUR", "21", "VAT", false, "eu", "52.4", "0.41"},
	{"DE", "EUR", "19", "VAT", false, "eu", "52.5", "0.44"},
	{"BE", "EUR", "21", "VAT", false, "eu", "51", "0.4"},
	{"FR", "EUR", "20", "VAT", false, "eu", "48.9", "0.42"},
	{"AT", "EUR", "20", "VAT", false, "eu", "48.2", "0.5"},
	{"IE", "EUR", "23", "VAT", false, "eu", "53.3", "0.33"},
	{"IT", "EUR", "22", "VAT", false, "eu", "45.5", "0.55"},
	{"ES", "EUR", "21", "VAT", false, "eu", "41.4", "0.62"},
	{"PT", "EUR", "23", "VAT", false, "eu", "38.7", "0.68"},
	{"FI", "EUR", "25.5", "VAT", false, "eu", "60.2", "0.48"},
	{"EE", "EUR", "24", "VAT", false, "eu", "59.4", "0.5"},
	{"DK", "DKK", "25", "VAT", false, "eu", "55.7", "0.46"},
	{"SE", "SEK", "25", "VAT", false, "eu", "59.3", "0.53"},
	{"PL", "PLN", "23", "VAT", false, "eu", "53.8", "0.45"},
	{"CZ", "CZK", "21", "VAT", false, "eu", "50", "0.45"},
	{"HU", "HUF", "27", "VAT", false, "eu", "47", "0.55"},
	{"NO", "NOK", "25", "VAT", false, "", "59.9", "0.45"},
	{"IS", "ISK", "24", "VAT", false, "", "64.1", "0.3"},
	{"CH", "CHF", "8.1", "VAT", false, "", "47.4", "0.4"},
	{"GB", "GBP", "20", "VAT", false, "gb", "51.5", "0.35"},
	{"US", "USD", "6", "Sales tax", true, "us", "43.2", "0.66"},
	{"CA", "CAD", "13", "Sales tax", true, "", "43.7", "0.6"},
	{"AU", "AUD", "10", "GST", false, "", "-33.9", "0.55"},
	{"NZ", "NZD", "15", "GST", false, "", "-36.8", "0.5"},
	{"JP", "JPY", "10", "VAT", false, "", "35.7", "0.4"},
}

// of is what is known of a country; of one that is not listed a plain guess, which the book calls so.
func of(code string) country {
	for _, c := range countries {
		if c.code == code {
			return c
		}
	}
	return country{code: code, rate: "20", kind: "VAT", latitude: "50", sunshine: "0.45"}
}

// from says where the tax of a book is from.
func (c country) from() string {
	if c.currency == "" || !book.IsCountry(c.code) {
		return "The tax is as it was given: confirm it."
	}
	return "The tax is as it was given or from memory: confirm it."
}

// size is how many units of a currency make about as much as one euro: for the size of invented amounts alone, from
// memory and rounded, no rate of exchange. Of a currency that is not listed it is 1.
var size = map[string]int{"SEK": 11, "NOK": 12, "DKK": 7, "PLN": 4, "CZK": 25, "HUF": 400, "ISK": 150, "JPY": 160,
	"AUD": 2, "NZD": 2, "CAD": 1, "RON": 5, "TRY": 40, "ZAR": 20, "INR": 95, "CNY": 8, "KRW": 1600, "THB": 38,
	"BRL": 6, "MXN": 20}

package money

import (
	"fmt"
	"ribband/core/suggest"
	"strings"
)

// Currency is a currency of ISO 4217 with the digits of its minor unit.
type Currency struct {
	Code   string
	Digits int
}

// CurrencyOf looks up an alphabetic code of ISO 4217.
func CurrencyOf(code string) (Currency, error) {
	if len(code) == 3 {
		for digits, codes := range minorUnits {
			if i := strings.Index(codes, code+" "); i >= 0 && i%4 == 0 {
				return Currency{code, digits}, nil
			}
		}
	}
	return Currency{}, fmt.Errorf("looking up currency %q: not an alphabetic code of ISO 4217 with a minor unit, like "+
		"EUR", suggest.Clip(code, 40))
}

// MarshalText makes a currency its code in JSON, and UnmarshalText refuses a code that is none.
func (c Currency) MarshalText() ([]byte, error) { return []byte(c.Code), nil }

func (c *Currency) UnmarshalText(b []byte) (err error) {
	*c, err = CurrencyOf(string(b))
	return err
}

// Minor is the step of the currency's minor unit: 0.01 for EUR, 1 for JPY, 0.001 for KWD.
func (c Currency) Minor() Amount { return Exact(1, -int32(c.Digits)) }

// minorUnits lists the active codes of ISO 4217 by the digits of their minor unit.
//
// Source: ISO 4217, table of 2026-02-01. Codes without a minor unit (metals, tests) are left out: nobody is invoiced in
// them.
var minorUnits = map[int]string{
	0: "" +
		"BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF ",
	2: "" +
		"AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF " +
		"CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD " +
		"GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL " +
		"MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR " +
		"PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP " +
		"TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG ",
	3: "" +
		"BHD IQD JOD KWD LYD OMR TND ",
	4: "" +
		"CLF UYW ",
}

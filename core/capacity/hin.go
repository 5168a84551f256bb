package capacity

import (
	"fmt"
	"time"

	"ribband/core/msg"
)

// HIN is a hull identification number: the twelve characters of the US rule, and a country before them.
//
//	characters 1-3    manufacturer identification code
//	characters 4-8    serial number, letters and digits without I, O and Q
//	character  9      month, A January to L December
//	character  10     last digit of the year
//	characters 11-12  last two digits of the model year
//
// ISO 10087 writes the country of the maker (ISO 3166-1, two letters) and a hyphen before the same twelve; "US-" may
// stand before a US number (181.27).
//
// Source: 33 CFR 181.25, 181.27; ISO 10087 from memory and secondary sources.
type HIN struct {
	Country      string     `json:"country,omitempty"` // two capitals; empty where none was written
	Manufacturer string     `json:"manufacturer"`
	Serial       string     `json:"serial"`
	Month        time.Month `json:"month"`
	YearDigit    int        `json:"year_digit"`
	ModelYear    int        `json:"model_year"` // two digits
}

// String writes the number's twelve characters.
func (h HIN) String() string {
	return fmt.Sprintf("%s%s%c%d%02d", h.Manufacturer, h.Serial, 'A'+rune(h.Month-time.January), h.YearDigit,
		h.ModelYear)
}

// Full writes the number with its country before it, as ISO 10087 does; without a country, the twelve characters.
//
// Valid: numbers made by [BuildHIN] or [ParseHIN]. Source: ISO 10087 from memory; 33 CFR 181.27.
func (h HIN) Full() string {
	if h.Country == "" {
		return h.String()
	}
	return h.Country + "-" + h.String()
}

// Doubts are oddities that the form of a number allows: a model year that is neither the year of building nor next to
// it.
//
// Valid: numbers made by [BuildHIN] or [ParseHIN]. Source: common practice, no source.
func (h HIN) Doubts() []msg.Message {
	switch (h.ModelYear%10 - h.YearDigit + 10) % 10 {
	case 0, 1, 9:
		return nil
	}
	return []msg.Message{msg.New("capacity.hin-years", msg.Text("model", fmt.Sprintf("%02d", h.ModelYear)),
		msg.Count("digit", h.YearDigit))}
}

// Place is where the number is put on the boat.
type Place struct {
	Name     msg.Message `json:"name"`
	Where    msg.Message `json:"where"`
	Section  string      `json:"section"`
	Standing msg.Message `json:"status"`
}

// Markets whose law asks for the number, by the words of a region's limits. The Union and Great Britain call it the
// watercraft identification number: the country of the maker stands before it and is part of it, and a maker who sells
// in both has a code in the register of each. In Northern Ireland the rules of the Union hold.
//
// Source: Regulation (EU) 2017/1, articles 3 and 4, and the same as it stands in the law of Great Britain
// (legislation.gov.uk/eur/2017/1, read in part): country, code of the maker, serial number, month and year of
// production, model year, in this order; one code a maker for each market. Northern Ireland: from memory.
const (
	UnitedStates = "us"
	Union        = "eu"
	Britain      = "gb"
)

// NeedsCountry says whether a number has to begin with the country of its maker where the boat goes. In the United
// States it may.
//
// Valid: the words of a region's limits. Source: Regulation (EU) 2017/1, article 3(1)(a), in the Union and as it stands
// in Great Britain; 33 CFR 181.27.
func NeedsCountry(market string) bool { return market == Union || market == Britain }

// HINPlaces are the two places of the number on a boat for a market: the primary in sight, the duplicate hidden. Where
// no market is known they are those of the standard.
//
// Valid: monohulls. Source: 33 CFR 181.23 (two numbers), 181.27, 181.29; the places of 181.29 were read in a secondary
// source and agree with memory; the height of the characters is from memory. Elsewhere ISO 10087, from memory, to which
// Directive 2013/53/EU, annex I, part A, 2.1, and the Recreational Craft Regulations 2017 (S.I. 2017/737), schedule 1,
// part A, 2.1, leave it, from memory.
func HINPlaces(market string, transom bool) []Place {
	if market != UnitedStates {
		return standardPlaces(market, transom)
	}
	primary := msg.New("capacity.hin-on-transom")
	if !transom {
		primary = msg.New("capacity.hin-on-side")
	}
	how := msg.New("capacity.hin-how")
	return []Place{
		{msg.New("capacity.hin-primary"), msg.Sentences(primary, how), "33 CFR 181.29(a), (c), 181.27", secondary},
		{msg.New("capacity.hin-duplicate"), msg.Sentences(msg.New("capacity.hin-hidden"), how),
			"33 CFR 181.29(b), (c)", secondary},
	}
}

// standardPlaces are those of ISO 10087, with the law that asks for them.
//
// Source: as of [HINPlaces].
func standardPlaces(market string, transom bool) []Place {
	law := map[string]string{Union: "Directive 2013/53/EU, annex I, part A, 2.1; ",
		Britain: "S.I. 2017/737, schedule 1, part A, 2.1; "}[market] + "ISO 10087"
	primary := msg.New("capacity.win-on-transom")
	if !transom {
		primary = msg.New("capacity.win-on-side")
	}
	how := msg.New("capacity.win-how")
	return []Place{
		{msg.New("capacity.hin-primary"), msg.Sentences(primary, how), law, recalled},
		{msg.New("capacity.hin-duplicate"), msg.Sentences(msg.New("capacity.hin-hidden"), how), law, recalled},
	}
}

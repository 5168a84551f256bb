package measure

import (
	"slices"
	"strings"
)

// Unit is a unit that the yard buys, counts or states in.
type Unit struct {
	ID     string  // as written in the book
	Rec20  string  // common code of UN/CEFACT Recommendation 20, revision 17
	Symbol string  // as a reader sees it
	USCode string  // common code of the customary unit
	US     string  // symbol of the customary unit shown on request; "" where the same unit serves
	Factor float64 // how many customary units one unit is; 0 where the same unit serves
	Ashore string  // symbol of the unit ashore that is offered in brackets; "" for none
	Land   float64 // how many units ashore one unit is
	Tenths bool    // the unit ashore has at least one decimal
	Inland string  // ID of the unit of inland waters, Land times as many; "" where the same unit serves
}

// Units are all that the book knows. Factors are exact by definition of the inch (25.4 mm), the pound (0.45359237 kg)
// and the US gallon (231 cubic inches); so is the nautical mile (1852 m). Source: NIST Special Publication 811,
// appendix B; from memory.
var Units = []Unit{
	{ID: "each", Rec20: "H87", Symbol: ""},
	{ID: "set", Rec20: "SET", Symbol: "set"},
	{ID: "pair", Rec20: "PR", Symbol: "pair"},
	{ID: "m", Rec20: "MTR", Symbol: "m", US: "ft", USCode: "FOT", Factor: 1 / 0.3048},
	{ID: "mm", Rec20: "MMT", Symbol: "mm", US: "in", USCode: "INH", Factor: 1 / 25.4},
	{ID: "m2", Rec20: "MTK", Symbol: "m²", US: "ft²", USCode: "FTK", Factor: 1 / (0.3048 * 0.3048)},
	{ID: "mm2", Rec20: "MMK", Symbol: "mm²"},
	{ID: "m3", Rec20: "MTQ", Symbol: "m³", US: "ft³", USCode: "FTQ", Factor: 1 / (0.3048 * 0.3048 * 0.3048)},
	{ID: "l", Rec20: "LTR", Symbol: "l", US: "US gal", USCode: "GLL", Factor: 1 / 3.785411784},
	{ID: "kg", Rec20: "KGM", Symbol: "kg", US: "lb", USCode: "LBR", Factor: 1 / 0.45359237},
	{ID: "kgm", Rec20: "M94", Symbol: "kg·m"},
	{ID: "h", Rec20: "HUR", Symbol: "h"},
	{ID: "kW", Rec20: "KWT", Symbol: "kW"},
	{ID: "kWh", Rec20: "KWH", Symbol: "kWh"},
	{ID: "Ah", Rec20: "AMH", Symbol: "Ah"},
	{ID: "W", Rec20: "WTT", Symbol: "W"},
	{ID: "V", Rec20: "VLT", Symbol: "V"},
	{ID: "A", Rec20: "AMP", Symbol: "A"},
	{ID: "kn", Rec20: "KNT", Symbol: "kn", US: "kn-us", USCode: "KNT", Factor: 1, Ashore: "km/h", Land: 1.852,
		Tenths: true, Inland: "kmh"},
	{ID: "nm", Rec20: "NMI", Symbol: "nm", US: "nm-us", USCode: "NMI", Factor: 1, Ashore: "km", Land: 1.852,
		Inland: "km"},
	{ID: "deg", Rec20: "DD", Symbol: "°"},
	{ID: "km", Rec20: "KMT", Symbol: "km", US: "mi", USCode: "SMI", Factor: 1 / 1.609344},
}

// readers are units in which figures are shown to a reader, and which no book states anything in: km/h, and knots and
// nautical miles as the US has them, with statute miles ashore.
var readers = []Unit{
	{ID: "kmh", Rec20: "KMH", Symbol: "km/h", US: "mph", USCode: "HM", Factor: 1 / 1.609344},
	{ID: "kn-us", Rec20: "KNT", Symbol: "kn", Ashore: "mph", Land: 1.852 / 1.609344, Tenths: true},
	{ID: "nm-us", Rec20: "NMI", Symbol: "nm", Ashore: "mi", Land: 1.852 / 1.609344},
}

// Shop are units in which a shop measures what it has done, and no formula of a book does: insulation, torque,
// temperature, time, pressure, a resistance. Codes are from memory.
var Shop = []Unit{
	{ID: "Mohm", Rec20: "B75", Symbol: "MΩ"},
	{ID: "mohm", Rec20: "E45", Symbol: "mΩ"},
	{ID: "Nm", Rec20: "NU", Symbol: "N·m"},
	{ID: "degC", Rec20: "CEL", Symbol: "°C"},
	{ID: "min", Rec20: "MIN", Symbol: "min"},
	{ID: "bar", Rec20: "BAR", Symbol: "bar"},
	{ID: "um", Rec20: "4H", Symbol: "µm"},
	{ID: "percent", Rec20: "P1", Symbol: "%"},
}

// UnitOf finds a unit by its ID.
func UnitOf(id string) (Unit, bool) {
	for _, list := range [][]Unit{Units, Shop, readers} {
		for _, u := range list {
			if u.ID == id {
				return u, true
			}
		}
	}
	return Unit{}, false
}

// Named is the unit of an ID, or one of a book, which is shown as it is named and is the same for every reader.
func Named(unit string) Unit {
	if u, ok := UnitOf(unit); ok {
		return u
	}
	return Unit{ID: unit, Symbol: unit}
}

// Suffix is the unit in which an identifier of the book ends: kg of mass_kg, kWh of bank_kwh. False where it ends in
// none; what is counted has no suffix.
func Suffix(id string) (Unit, bool) {
	at := strings.LastIndexByte(id, '_')
	if at < 0 {
		return Unit{}, false
	}
	for _, u := range Units {
		if !Counted(u.ID) && strings.EqualFold(id[at+1:], u.ID) {
			return u, true
		}
	}
	return Unit{}, false
}

// Counted says whether a unit counts pieces, which are taken whole.
func Counted(unit string) bool { return unit == "each" || unit == "set" || unit == "pair" }

// System is a choice of units for a reader.
type System string

const (
	Sea         System = "sea"    // metric, with nautical miles and knots, and km and km/h beside them
	Inland      System = "inland" // metric, with km and km/h alone
	USCustomary System = "us"     // feet, pounds, gallons; nautical miles and knots with statute miles and mph
)

// Systems are all of them, in the order in which they are offered.
var Systems = []System{Sea, Inland, USCustomary}

// Known says whether a system is one of them.
func (s System) Known() bool { return s == Sea || s == Inland || s == USCustomary }

// Usual is the system in which people read figures of a boat, by their language and by the region of the book where it
// goes: US waters are charted in feet, German and Dutch boats mostly lie inland. Common practice, no source.
func Usual(language, region string) System {
	country, _, _ := strings.Cut(region, "-")
	switch {
	case country == "us":
		return USCustomary
	case language == "nl" || language == "de":
		return Inland
	}
	return Sea
}

// In converts a value of this unit for a reader and gives the unit that it is in then: its ID, or the symbol of a
// customary unit of the US, which has none.
func (u Unit) In(system System, value float64) (float64, string) {
	switch {
	case system == USCustomary && u.Factor != 0:
		return value * u.Factor, u.US
	case system == Inland && u.Inland != "":
		return value * u.Land, u.Inland
	}
	return value, u.ID
}

// Stated is a number that somebody stated, as [Unit.In] gives it: with its own decimals, but what was converted, now or
// when it was typed, to a tenth, since nobody stated more of it.
func (u Unit) Stated(system System, value float64) (float64, string) {
	shown, in := u.In(system, value)
	if shown != value || shown != Round(shown, 2) {
		shown = Round(shown, 1)
	}
	return shown, in
}

// SymbolOf is what a reader sees of a unit, by its ID or its symbol.
func SymbolOf(unit string) string {
	if u, ok := UnitOf(unit); ok {
		return u.Symbol
	}
	return unit
}

// Code is the common code of Recommendation 20 of a unit as an engine states it: by ID, or by the symbol of a customary
// unit of the US. What has no unit is counted: one (C62). False for a unit that is not known.
func Code(unit string) (string, bool) {
	if unit == "" {
		return "C62", true
	}
	if u, ok := UnitOf(unit); ok {
		return u.Rec20, true
	}
	for _, u := range slices.Concat(readers, Units) {
		if unit == u.US {
			return u.USCode, true
		}
	}
	return "", false
}

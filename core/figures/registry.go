package figures

import (
	"strings"

	"ribband/core/measure"
	"ribband/core/msg"
)

// ID names a figure that the program computes, as a book writes it behind `computed:`. The constants stand with the
// modules that compute them, and nothing else names such a figure, so that a misspelling does not compile.
type ID string

// Definition is all that the program knows of a figure that it computes, but for the words, which stand in the files of
// languages: what it is, how it comes about and from where. It stands in one place, the outputs of its module; the
// title that people read, digits and where it is shown are the book's.
type Definition struct {
	ID   ID
	Unit string // of package measure; the identifier ends in it

	NoneAtZero bool // zero means that the boat has none of it, as no top that folds
	YardOnly   bool // known on the show's and the yard's desk alone: no formula, rule or place may read it

	follows bool // from the power on the trial of the hull: see [Figures.Beyond]
	ends    bool // where the trial of the hull does: see [Figures.AtLeast]
	sunlit  bool // the sun of July is in it: see [Figures.WithSun]

	// uses are the fields of the use that it follows from, where it follows from fewer than its module.
	uses []UseField
}

// Title is what a figure is, in a few words, for remarks of the checker.
func (d Definition) Title() msg.Message { return msg.New(code(d.ID, "title")) }

// Formula is how a figure comes about, for a reader who wants to check it.
func (d Definition) Formula() msg.Message { return msg.New(code(d.ID, "formula")) }

// Source says where that is from. Figures of a module that have one source have one message, that of the module.
func (d Definition) Source() msg.Message {
	if own := code(d.ID, "source"); msg.English.Has(own) {
		return msg.New(own)
	}
	module, _, _ := strings.Cut(string(d.ID), ".")
	return msg.New(code(ID(module), "source"))
}

// code is that of a text on a figure: figures.power.range-nm.formula of power.range_nm.
func code(id ID, text string) msg.Code {
	return msg.Code("figures." + strings.ReplaceAll(string(id), "_", "-") + "." + text)
}

// Registry lists every figure that a book may ask to have computed, module by module.
func Registry() []Definition {
	var list []Definition
	for i := range modules {
		list = append(list, modules[i].outputs...)
	}
	return list
}

// registered are the definitions by their names.
var registered = func() map[ID]Definition {
	byID := map[ID]Definition{}
	for _, d := range Registry() {
		byID[d.ID] = d
	}
	return byID
}()

// Find is the definition of a computed figure; false where the program computes none of that name.
func Find(id ID) (Definition, bool) {
	d, ok := registered[id]
	return d, ok
}

// YardOnly says whether a computed figure is known on the show's and the yard's desk alone.
func YardOnly(id ID) bool { return registered[id].YardOnly }

// Given names a figure that the book gives, as a total or by a formula, and modules and papers read.
type Given string

// The figures of a book that the program reads, each in the unit in which its name ends.
const (
	MassKg            Given = "mass_kg" // of the boat without persons
	BankKWh           Given = "bank_kwh"
	BankV             Given = "bank_v"
	BankMaxA          Given = "bank_max_a" // that its management lets through
	BankKg            Given = "bank_kg"
	UsableShare       Given = "usable_share" // of the energy; 0.7 and above is taken for LiFePO4, below for AGM
	MotorKW           Given = "motor_kw"     // at the shaft
	MotorEfficiency   Given = "motor_efficiency"
	ChargerKW         Given = "charger_kw" // into the bank
	ChargerEfficiency Given = "charger_efficiency"
	ChargingV         Given = "charging_v"
	InletKW           Given = "inlet_kw" // continuous
	HotelW            Given = "hotel_w"
	SolarW            Given = "solar_w"
	TopHeightM        Given = "top_height_m" // above the gunwale, when up
	FoamL             Given = "foam_l"
	TrailerKg         Given = "trailer_kg"
	TrailerGrossKg    Given = "trailer_gross_kg"
)

// HullField names a field of the hull that modules and papers read.
type HullField string

// The fields of a hull that the program reads, m but for the persons.
const (
	HullLength      HullField = "length_m"
	HullBeam        HullField = "beam_m"
	HullDepth       HullField = "depth_m"
	HullDraft       HullField = "draft_m"
	HullBootTop     HullField = "boot_top_m"
	HullPersons     HullField = "persons"
	HullTrailerBase HullField = "trailer_base_m"
)

// UseField names a field of the use that modules and papers read.
type UseField string

// The fields of the use that the program reads.
const (
	UsePersons UseField = "persons"
	UseSpeed   UseField = "speed_kn"
	UseRange   UseField = "range_nm"
	UseHours   UseField = "hours"  // under way in a day
	UseWater   UseField = "water"  // a choice: fresh or salt
	UseRegion  UseField = "region" // the choice among the regions, whatever the book calls it
)

// Unit is the unit in which the program takes the figure; "" where nothing says it.
func (g Given) Unit() string {
	switch g {
	case UsableShare, MotorEfficiency, ChargerEfficiency:
		return "each"
	}
	return suffix(string(g))
}

// Unit is the unit in which the program takes the field; "" where nothing says it.
func (f HullField) Unit() string {
	if f == HullPersons {
		return "each"
	}
	return suffix(string(f))
}

// Unit is the unit in which the program takes the field; "" of a choice, and where nothing says it.
func (f UseField) Unit() string {
	switch f {
	case UsePersons:
		return "each"
	case UseHours:
		return "h"
	}
	return suffix(string(f))
}

// suffix is the unit in which an identifier ends; "" for none.
func suffix(id string) string {
	u, _ := measure.Suffix(id)
	return u.ID
}

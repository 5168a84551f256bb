package capacity

import (
	"fmt"
	"ribband/core/suggest"
	"slices"
)

// Hull is the kind of boat as the rules part them.
type Hull string

// The kinds of boat that the rules name. A monohull's waterplane is one closed curve at any operating draft (183.3).
const (
	Monohull      Hull = "monohull"
	Multihull     Hull = "multihull"
	Sailboat      Hull = "sailboat"
	Canoe         Hull = "canoe"
	Kayak         Hull = "kayak"
	Inflatable    Hull = "inflatable boat"
	Submersible   Hull = "submersible"
	SurfaceEffect Hull = "surface effect vessel"
	Amphibious    Hull = "amphibious vessel"
	Raceboat      Hull = "raceboat"
)

var hulls = []Hull{Monohull, Multihull, Sailboat, Canoe, Kayak, Inflatable, Submersible, SurfaceEffect, Amphibious,
	Raceboat}

// Drive is how the boat is driven, as the rules part it.
type Drive string

// The drives that the rules name. An inboard with an outdrive and an airboat count as inboards.
const (
	Inboard       Drive = "inboard"
	Outboard      Drive = "outboard over 2 hp"
	SmallOutboard Drive = "outboard up to 2 hp"
	Manual        Drive = "manual"
)

var drives = []Drive{Inboard, Outboard, SmallOutboard, Manual}

// Boat is what decides whether a rule covers a boat.
type Boat struct {
	// LengthM is the straight horizontal overall length over the deck in metres, parallel to the centreline, without
	// sheer; bowsprits, rudders, handles, bolt-on fittings and extensions do not count (183.3).
	LengthM float64
	Hull    Hull
	Drive   Drive
	// Petrol says that an engine burning gasoline drives the boat or a generator; an electric launch has none.
	Petrol bool
}

// Subpart is a letter of 33 CFR part 183.
type Subpart string

// The subparts of which [Cover] speaks.
const (
	Marking         Subpart = "B"
	SafeLoading     Subpart = "C"
	SafePowering    Subpart = "D"
	BasicFlotation  Subpart = "F"
	LevelFlotation  Subpart = "G"
	ModifiedLevel   Subpart = "H"
	PetrolElectrics Subpart = "I"
	PetrolFuel      Subpart = "J"
)

// Duty is one subpart of the rules, whether it applies to a boat, and why.
type Duty struct {
	Subpart Subpart `json:"subpart"`
	Section string  `json:"section"`
	Name    string  `json:"name"`
	Applies bool    `json:"applies"`
	Because string  `json:"because"`
}

// Coverage is what the rules ask of a boat.
type Coverage struct {
	Duties   []Duty `json:"duties"`
	Sentence string `json:"sentence"`
}

// Limit is the length in metres from which the rules for small boats no longer apply: 20 ft.
//
// Source: 33 CFR 183.21, 183.31, 183.101; 20 × 0.3048 m, computed.
const Limit = 20 * FootM

// scope is the reach of one subpart.
type scope struct {
	Duty
	short  bool    // only under 20 ft
	drives []Drive // nil: any
	except []Hull
	petrol bool // only with an engine burning gasoline
}

var (
	exempt   = []Hull{Multihull, Sailboat, Canoe, Kayak, Inflatable}
	noFloats = append(slices.Clone(exempt), Submersible, SurfaceEffect, Amphibious, Raceboat)
)

// scopes are the subparts and their reach. Source: 33 CFR 183.21, .31, .51, .101, .201, .301, .401, .405, .501.
var scopes = []scope{
	{Duty: Duty{Subpart: Marking, Section: "183.21", Name: "capacity label"}, short: true, except: exempt},
	{Duty: Duty{Subpart: SafeLoading, Section: "183.31", Name: "safe loading"}, short: true, except: exempt},
	{Duty: Duty{Subpart: SafePowering, Section: "183.51", Name: "safe powering"}, short: true, except: exempt,
		drives: []Drive{Outboard, SmallOutboard}},
	{Duty: Duty{Subpart: BasicFlotation, Section: "183.101", Name: "basic flotation"}, short: true, except: noFloats,
		drives: []Drive{Inboard}},
	{Duty: Duty{Subpart: LevelFlotation, Section: "183.201", Name: "level flotation"}, short: true, except: noFloats,
		drives: []Drive{Outboard}},
	{Duty: Duty{Subpart: ModifiedLevel, Section: "183.301", Name: "modified level flotation"}, short: true,
		except: noFloats, drives: []Drive{SmallOutboard, Manual}},
	{Duty: Duty{Subpart: PetrolElectrics, Section: "183.401", Name: "electrical system of gasoline boats"},
		drives: []Drive{Inboard}, petrol: true},
	{Duty: Duty{Subpart: PetrolFuel, Section: "183.501", Name: "fuel system of gasoline boats"},
		drives: []Drive{Inboard}, petrol: true},
}

// Cover says which subparts apply to a boat: those whose hull, drive and engine fit and, where the subpart is for small
// boats, LengthM < 20 ft = 6.096 m, strictly less.
//
// Valid: lengths above 0 to 100 m. Source: 33 CFR 183.3, .21, .31, .51, .101, .201, .301, .401, .405, .501, edition of
// 2015; confirm against the rules in force.
func Cover(b Boat) (Coverage, error) {
	in := inputs{doing: "finding which US rules cover the boat"}
	in.number("the length over deck", b.LengthM, 0.1, mostLength, "m",
		"measure it in metres along the centreline, without fittings")
	if !slices.Contains(hulls, b.Hull) {
		in.wrong("%q is no kind of hull: take one of %s", suggest.Clip(string(b.Hull), 40), joined(hulls))
	}
	if !slices.Contains(drives, b.Drive) {
		in.wrong("%q is no kind of drive: take one of %s", suggest.Clip(string(b.Drive), 40), joined(drives))
	}
	if err := in.err(); err != nil {
		return Coverage{}, err
	}
	c := Coverage{}
	for _, s := range scopes {
		c.Duties = append(c.Duties, s.of(b))
	}
	c.Sentence = c.said(b)
	return c, nil
}

func (s scope) of(b Boat) Duty {
	d := s.Duty
	switch {
	case s.short && b.LengthM >= Limit:
		d.Because = "the boat is 20 ft (6.096 m) or longer"
	case slices.Contains(s.except, b.Hull):
		d.Because = fmt.Sprintf("the rule leaves out: %s", b.Hull)
	case s.drives != nil && !slices.Contains(s.drives, b.Drive):
		d.Because = fmt.Sprintf("the rule is for: %s", joined(s.drives))
	case s.petrol && !b.Petrol:
		d.Because = "no engine on board burns gasoline"
	default:
		d.Applies, d.Because = true, "length, hull and drive are those of the rule"
	}
	return d
}

func (c Coverage) said(b Boat) string {
	switch {
	case b.LengthM >= Limit:
		return fmt.Sprintf("At %.3f m the boat is not under 20 ft (6.096 m): these US rules set no duty of capacity "+
			"label, safe loading or flotation.", b.LengthM)
	case c.Applies(SafeLoading):
		return fmt.Sprintf("At %.3f m the boat is under 20 ft (6.096 m): the US rules of safe loading and capacity "+
			"label apply.", b.LengthM)
	default:
		return fmt.Sprintf("The US rules of safe loading leave out: %s.", b.Hull)
	}
}

// Applies says whether a subpart applies.
//
// Valid: a coverage made by [Cover]; anything else applies nowhere. Source: as there.
func (c Coverage) Applies(s Subpart) bool {
	return slices.ContainsFunc(c.Duties, func(d Duty) bool { return d.Subpart == s && d.Applies })
}

// small asks for a subpart of an inboard boat; the sentence says why there is no duty, and is empty where there is one.
func small(b Boat, s Subpart) (sentence string, err error) {
	c, err := Cover(b)
	if err != nil || c.Applies(s) && b.Drive == Inboard {
		return "", err
	}
	if b.Drive != Inboard && b.LengthM < Limit {
		return fmt.Sprintf("Worked here are inboard boats only; the rules for a boat with drive %q are others.",
			b.Drive), nil
	}
	for _, d := range c.Duties {
		if d.Subpart == s && !d.Applies {
			return fmt.Sprintf("These US rules set no duty of %s (33 CFR %s): %s.", d.Name, d.Section, d.Because), nil
		}
	}
	return c.Sentence, nil
}

package capacity

import (
	"slices"

	"ribband/core/msg"
	"ribband/core/suggest"
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
	Inflatable    Hull = "inflatable"
	Submersible   Hull = "submersible"
	SurfaceEffect Hull = "surface-effect"
	Amphibious    Hull = "amphibious"
	Raceboat      Hull = "raceboat"
)

var hulls = []Hull{Monohull, Multihull, Sailboat, Canoe, Kayak, Inflatable, Submersible, SurfaceEffect, Amphibious,
	Raceboat}

// Drive is how the boat is driven, as the rules part it.
type Drive string

// The drives that the rules name. An inboard with an outdrive and an airboat count as inboards.
const (
	Inboard       Drive = "inboard"
	Outboard      Drive = "outboard"
	SmallOutboard Drive = "small-outboard"
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
	Subpart Subpart     `json:"subpart"`
	Section string      `json:"section"`
	Name    msg.Message `json:"name"`
	Applies bool        `json:"applies"`
	Because msg.Message `json:"because"`
}

// Coverage is what the rules ask of a boat.
type Coverage struct {
	Duties   []Duty      `json:"duties"`
	Sentence msg.Message `json:"sentence"`
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
	{Duty: Duty{Subpart: Marking, Section: "183.21", Name: msg.New("capacity.duty-label")}, short: true,
		except: exempt},
	{Duty: Duty{Subpart: SafeLoading, Section: "183.31", Name: msg.New("capacity.duty-loading")}, short: true,
		except: exempt},
	{Duty: Duty{Subpart: SafePowering, Section: "183.51", Name: msg.New("capacity.duty-powering")}, short: true,
		except: exempt,
		drives: []Drive{Outboard, SmallOutboard}},
	{Duty: Duty{Subpart: BasicFlotation, Section: "183.101", Name: msg.New("capacity.duty-basic-flotation")},
		short: true, except: noFloats,
		drives: []Drive{Inboard}},
	{Duty: Duty{Subpart: LevelFlotation, Section: "183.201", Name: msg.New("capacity.duty-level-flotation")},
		short: true, except: noFloats,
		drives: []Drive{Outboard}},
	{Duty: Duty{Subpart: ModifiedLevel, Section: "183.301", Name: msg.New("capacity.duty-modified-flotation")},
		short:  true,
		except: noFloats, drives: []Drive{SmallOutboard, Manual}},
	{Duty: Duty{Subpart: PetrolElectrics, Section: "183.401", Name: msg.New("capacity.duty-electrics")},
		drives: []Drive{Inboard}, petrol: true},
	{Duty: Duty{Subpart: PetrolFuel, Section: "183.501", Name: msg.New("capacity.duty-fuel")},
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
		d.Because = msg.New("capacity.because-long")
	case slices.Contains(s.except, b.Hull):
		d.Because = msg.New("capacity.because-hull", msg.Words("hull", b.Hull.words()))
	case s.drives != nil && !slices.Contains(s.drives, b.Drive):
		d.Because = msg.New("capacity.because-drive", msg.List("drives", msg.Commas, driveWords(s.drives)...))
	case s.petrol && !b.Petrol:
		d.Because = msg.New("capacity.because-no-petrol")
	default:
		d.Applies, d.Because = true, msg.New("capacity.because-all")
	}
	return d
}

func (c Coverage) said(b Boat) msg.Message {
	switch {
	case b.LengthM >= Limit:
		return msg.New("capacity.too-long", msg.Number("metres", b.LengthM, 3))
	case c.Applies(SafeLoading):
		return msg.New("capacity.covered", msg.Number("metres", b.LengthM, 3))
	default:
		return msg.New("capacity.left-out", msg.Words("hull", b.Hull.words()))
	}
}

// Applies says whether a subpart applies.
//
// Valid: a coverage made by [Cover]; anything else applies nowhere. Source: as there.
func (c Coverage) Applies(s Subpart) bool {
	return slices.ContainsFunc(c.Duties, func(d Duty) bool { return d.Subpart == s && d.Applies })
}

// words name a kind of hull, and a drive.
func (h Hull) words() msg.Message { return msg.New("capacity.hull", msg.Choice("hull", string(h))) }

func (d Drive) words() msg.Message { return msg.New("capacity.drive", msg.Choice("drive", string(d))) }

func driveWords(list []Drive) (words []msg.Message) {
	for _, d := range list {
		words = append(words, d.words())
	}
	return words
}

// small asks for a subpart of an inboard boat; the sentence says why there is no duty, and is empty where there is one.
func small(b Boat, s Subpart) (sentence msg.Message, err error) {
	c, err := Cover(b)
	if err != nil || c.Applies(s) && b.Drive == Inboard {
		return msg.Message{}, err
	}
	if b.Drive != Inboard && b.LengthM < Limit {
		return msg.New("capacity.other-drive", msg.Words("drive", b.Drive.words())), nil
	}
	for _, d := range c.Duties {
		if d.Subpart == s && !d.Applies {
			return msg.New("capacity.no-duty", msg.Words("duty", d.Name), msg.Text("section", d.Section),
				msg.Words("because", d.Because)), nil
		}
	}
	return c.Sentence, nil
}

package transport

import (
	"fmt"
	"ribband/core/suggest"
	"strings"
)

// The foot and the inch. Source: international yard and pound agreement, 1959; NIST SP 811, B.8.
const (
	FootM = 0.3048
	InchM = 0.0254
)

// USWidthM is the width that no State may refuse on the National Network without a permit: 102 in = 2.5908 m. The rule
// takes 2.6 m as its metric equivalent, which is 0.36 in more.
//
// Source: 23 CFR 658.15(a).
const (
	USWidthM       = 102 * InchM
	USWidthMetricM = 2.6
)

// limit is a most with where it comes from; no limit where Most is nothing.
type limit struct {
	most           float64
	source, status string
}

// Region is where the boat is on the road, with its limits without a permit.
type Region struct {
	ID, Name      string
	width, height limit
	light         limit // of a light trailer's whole mass
	note          string
}

// The ids of regions.
const (
	US = "us"
	EU = "eu"
	GB = "gb"
)

var regions = []Region{
	{
		ID: US, Name: "United States",
		width: limit{USWidthMetricM, "23 CFR 658.15(a)", "found"},
		height: limit{13.5 * FootM, "usual State limit of 13 ft 6 in; there is no federal one",
			"found in secondary sources"},
		note: "Federal width binds commercial vehicles on the National Network; private towing and other roads are " +
			"State law, and some States differ.",
	},
	{
		ID: EU, Name: "European Union",
		width:  limit{2.55, "Directive 96/53/EC, Annex I", "found in a secondary source"},
		height: limit{4.00, "Directive 96/53/EC, Annex I", "found in a secondary source"},
		light:  limit{3500, "trailer class O2, Regulation (EU) 2018/858", "from memory"},
		note:   "Member States may differ for national traffic and for towing by car.",
	},
	{
		ID: GB, Name: "Great Britain",
		width: limit{2.55, "Road Vehicles (Construction and Use) Regulations 1986 as amended; trailers up to 3500 kg",
			"found in a secondary source"},
		light: limit{3500, "trailer class O2, light trailers", "found in a secondary source"},
		note: "No height is set by law; unsigned bridges clear about 5.0 m, and a height over 3.0 m must be shown in " +
			"the cab of some vehicles (from memory).",
	},
}

// FindRegion finds the limits of a region by its id: us, eu or gb.
//
// Valid: the ids named. Source: as each limit says.
func FindRegion(id string) (Region, error) {
	ids := make([]string, len(regions))
	for i, r := range regions {
		if r.ID == id {
			return r, nil
		}
		ids[i] = r.ID
	}
	return Region{}, fmt.Errorf("finding the road limits of %q: take one of "+
		"%s", suggest.Clip(id, 40), strings.Join(ids, ", "))
}

// Note says what else is to be known of the region's limits.
//
// Valid: regions of [FindRegion]. Source: 23 CFR 658.15, 658.5 and the highway administration's answers; else from
// memory.
func (r Region) Note() string { return r.note }

// check compares a value with one of the region's limits.
func (l limit) check(name, unit string, value float64) Check {
	if l.most == 0 {
		return Check{Name: name, Unit: unit, Value: value, NoLimit: true, OK: true, Source: "no limit known",
			Status: "from memory",
			Sentence: fmt.Sprintf("%s %.3f %s; no general limit is known here: ask the authority and mind the bridges.",
				name, value, unit)}
	}
	return against(name, unit, value, l.most, l.source, l.status)
}

// CheckWidth compares the width of boat or trailer, whichever is wider, with the width that needs no permit.
//
//	United States 102 in (2.5908 m), or 2.6 m as the rule's metric equivalent; European Union and Great Britain 2.55 m
//
// In the United States the limit is 2.6 m; a width between the two is within it, and the sentence says on what ground.
//
// Valid: widths from 0.1 to 20 m. Source: 23 CFR 658.15(a); Directive 96/53/EC; GB regulations as [FindRegion] names
// them.
func (r Region) CheckWidth(widthM float64) (Check, error) {
	in := inputs{doing: "checking the width on the road"}
	in.number("the width", widthM, 0.1, 20, "m", "measure the widest of boat and trailer, fittings included, in metres")
	if r.ID == "" {
		in.wrong("there is no region: take one by FindRegion")
	}
	if err := in.err(); err != nil {
		return Check{}, err
	}
	c := r.width.check("Width on the trailer", "m", widthM)
	switch {
	case !c.OK:
		c.Sentence += " It needs a permit: ask the authority of each road, with its rules for signs and escorts."
	case r.ID == US && widthM > USWidthM+slack:
		c.Sentence += " It is over 102 in (2.591 m) and within only by the rule's metric equivalent of 2.6 m: ask " +
			"each State."
	}
	return c, nil
}

package transport

import (
	"fmt"
	"strings"

	"ribband/core/msg"
	"ribband/core/suggest"
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
	most   float64
	source msg.Message
	status Status
}

// Region is where the boat is on the road, with its limits without a permit.
type Region struct {
	ID            string
	Name          msg.Message
	width, height limit
	light         limit // of a light trailer's whole mass
	note          msg.Message
}

// The ids of regions.
const (
	US = "us"
	EU = "eu"
	GB = "gb"
)

var regions = []Region{
	{
		ID: US, Name: msg.New("transport.us"),
		width: limit{USWidthMetricM, msg.New("transport.source-us-width"), Found},
		height: limit{13.5 * FootM, msg.New("transport.source-us-height"),
			Several},
		note: msg.New("transport.us-note"),
	},
	{
		ID: EU, Name: msg.New("transport.eu"),
		width:  limit{2.55, msg.New("transport.source-eu"), Second},
		height: limit{4.00, msg.New("transport.source-eu"), Second},
		light:  limit{3500, msg.New("transport.source-eu-light"), Recalled},
		note:   msg.New("transport.eu-note"),
	},
	{
		ID: GB, Name: msg.New("transport.gb"),
		width: limit{2.55, msg.New("transport.source-gb-width"),
			Second},
		light: limit{3500, msg.New("transport.source-gb-light"), Second},
		note:  msg.New("transport.gb-note"),
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
func (r Region) Note() msg.Message { return r.note }

// check compares a value with one of the region's limits.
func (l limit) check(name msg.Message, unit string, value float64) Check {
	if l.most == 0 {
		return Check{Name: name, Unit: unit, Value: value, NoLimit: true, OK: true,
			Source: msg.New("transport.no-source"),
			Status: Recalled,
			Sentence: msg.New("transport.no-limit", msg.Words("name", name), msg.Number("value", value, 3),
				msg.Text("unit", unit))}
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
	c := r.width.check(msg.New("transport.width"), "m", widthM)
	switch {
	case !c.OK:
		c.Sentence = msg.Sentences(c.Sentence, msg.New("transport.permit"))
	case r.ID == US && widthM > USWidthM+slack:
		c.Sentence = msg.Sentences(c.Sentence, msg.New("transport.metric"))
	}
	return c, nil
}

package transport

import (
	"fmt"
	"math"

	"ribband/core/msg"
	"ribband/core/suggest"
)

// Zone is a step of a freight table: distances up to and with ToKM, from above the zone before.
type Zone struct {
	ID   string
	ToKM float64
}

// CheckZones says what is wrong with a freight table: no zones, a zone without or with the id of another, a distance
// that is no positive number or no farther than that of the zone before.
//
// Valid: any table. Source: common practice, no source.
func CheckZones(zones []Zone) error {
	in := inputs{doing: "reading the freight zones"}
	if len(zones) == 0 {
		in.wrong("there are none: list at least one zone with its farthest kilometre")
	}
	seen, before := map[string]int{}, 0.0
	for i, z := range zones {
		name := fmt.Sprintf("zone %d %q", i+1, suggest.Clip(z.ID, 40))
		if z.ID == "" {
			in.wrong("zone %d has no id: name it", i+1)
		} else if first, twice := seen[z.ID]; twice {
			in.wrong("%s has the id of zone %d: name it otherwise", name, first)
		} else {
			seen[z.ID] = i + 1
		}
		in.number("the end of "+name, z.ToKM, math.SmallestNonzeroFloat64, 40_000, "km",
			"give the farthest road kilometre of the zone")
		if z.ToKM <= before && z.ToKM > 0 {
			in.wrong("%s ends at %v km, no farther than the zone before (%v km): order the zones by distance", name,
				z.ToKM, before)
		}
		if z.ToKM > before {
			before = z.ToKM
		}
	}
	return in.err()
}

// ZoneAt is the place in a freight table of the zone that a distance falls in: the first whose end is not before it.
//
// The distance is the road's, in km; an end belongs to its zone.
//
// Valid: tables that pass [CheckZones]; distances from 0 to the end of the last zone. Source: common practice, no
// source.
func ZoneAt(zones []Zone, km float64) (int, error) {
	if err := CheckZones(zones); err != nil {
		return -1, err
	}
	in := inputs{doing: "finding the freight zone"}
	in.number("the distance", km, 0, 40_000, "km", "give road kilometres")
	if err := in.err(); err != nil {
		return -1, err
	}
	for i, z := range zones {
		if km <= z.ToKM {
			return i, nil
		}
	}
	return -1, msg.Fault("transport.beyond-zones", msg.Number("km", km, msg.Exact),
		msg.Text("zone", suggest.Clip(zones[len(zones)-1].ID, 40)), msg.Number("last", zones[len(zones)-1].ToKM,
			msg.Exact))
}

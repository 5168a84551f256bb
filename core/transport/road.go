package transport

import "ribband/core/msg"

// Load is a boat on its trailer.
type Load struct {
	BedM          float64 // from the road up to the underside of the keel where it rests, tyres at pressure
	HeightUpM     float64 // of the boat from the underside of the keel to its highest point, top up
	HeightDownM   float64 // the same with the top down or folded
	BeamM         float64 // widest, with rubbing strake and fittings
	TrailerWidthM float64 // over mudguards and lamps
	BoatKG        float64 // as it travels: with bank, gear and top aboard
	LooseKG       float64 // what else lies on the trailer
	TrailerKG     float64 // the empty trailer
	TrailerMostKG float64 // the whole mass allowed by the trailer's plate
}

// Profile is the outline of the loaded trailer.
type Profile struct {
	HeightUpM   float64 `json:"height_up_m"`
	HeightDownM float64 `json:"height_down_m"`
	WidthM      float64 `json:"width_m"`
	MassKG      float64 `json:"mass_kg"`
}

// Outline is the height, width and mass of the boat on its trailer.
//
//	height = bed + height of the boat, with the top up and with it down
//	width  = the greater of beam and trailer width
//	mass   = boat + loose gear + trailer
//
// Lengths in m, masses in kg. The mass is the same with the top up and down, since the top travels aboard.
//
// Valid: bed 0 to 3 m, heights 0.2 to 10 m, widths 0.3 to 10 m, masses 1 to 50 000 kg, top down no higher than up.
// Source: geometry; common practice, no source.
func Outline(l Load) (Profile, error) {
	in := inputs{doing: "measuring the boat on its trailer"}
	const metres, kilograms = "give it in metres", "weigh it, or add up its parts, in kilograms"
	in.number("the height of the bed", l.BedM, 0, 3, "m", metres)
	in.number("the boat's height with the top up", l.HeightUpM, 0.2, 10, "m", metres)
	in.number("the boat's height with the top down", l.HeightDownM, 0.2, 10, "m", metres)
	in.number("the beam", l.BeamM, 0.3, 10, "m", metres)
	in.number("the trailer's width", l.TrailerWidthM, 0.3, 10, "m", metres)
	in.number("the boat's mass", l.BoatKG, 1, 50_000, "kg", kilograms)
	in.number("the mass of loose gear", l.LooseKG, 0, 50_000, "kg", kilograms)
	in.number("the empty trailer's mass", l.TrailerKG, 1, 50_000, "kg", kilograms)
	in.number("the whole mass allowed for the trailer", l.TrailerMostKG, 1, 50_000, "kg",
		"read it from the trailer's plate")
	if len(in.errs) == 0 && l.HeightDownM > l.HeightUpM {
		in.wrong("the boat is %v m high with the top down and %v m with it up: exchange them, or measure again",
			l.HeightDownM, l.HeightUpM)
	}
	if err := in.err(); err != nil {
		return Profile{}, err
	}
	return Profile{l.BedM + l.HeightUpM, l.BedM + l.HeightDownM, max(l.BeamM, l.TrailerWidthM),
		l.BoatKG + l.LooseKG + l.TrailerKG}, nil
}

// OnRoad are the checks of a loaded trailer in a region, without a permit: width, height with the top up and with it
// down, mass against the trailer's plate and, where the region has one, against the class of light trailers.
//
// Valid: as [Outline]. Source: as each check says.
func OnRoad(r Region, l Load) ([]Check, error) {
	p, err := Outline(l)
	if err != nil {
		return nil, err
	}
	width, err := r.CheckWidth(p.WidthM)
	if err != nil {
		return nil, err
	}
	checks := []Check{
		width,
		r.height.check(msg.New("transport.height-up"), "m", p.HeightUpM),
		r.height.check(msg.New("transport.height-down"), "m", p.HeightDownM),
		against(msg.New("transport.mass-plate"), "kg", p.MassKG, l.TrailerMostKG, msg.New("transport.plate"),
			GivenHere),
	}
	if up, down := &checks[1], checks[2]; !up.OK && down.OK {
		up.Sentence = msg.Sentences(up.Sentence, msg.New("transport.fold", msg.Number("metres", p.HeightDownM, 3)))
	}
	if r.light.most > 0 {
		checks = append(checks, r.light.check(msg.New("transport.mass-light"), "kg", p.MassKG))
	}
	return checks, nil
}

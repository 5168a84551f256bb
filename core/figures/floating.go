package figures

import (
	"errors"
	"fmt"
	"math"

	"ribband/core/formula"
	"ribband/core/hull"
	"ribband/core/pack"
)

// The loading condition that the floating figures are for.
const (
	PersonKg    = 75.0 // of an adult on board; ISO 12217-1, from memory
	StoresKg    = 5.0  // of each person's things; common practice, no source
	GrowthShare = 0.03 // of the light boat, for what grows heavier in building; common practice, no source
)

// floating computes how the boat floats with its persons, from the table of offsets and the mass table.
//
// It reads the figure mass_kg and the places of hull, slots and options; use.persons and use.water; hull.depth_m and the figure
// top_height_m for the air draft, travel_height_m for that with the top down. Trim is solved; heel follows from the masses off the centre line by tan φ = TCG/GM.
//
// Valid: loads that float with the sheer clear; heel below about 6°, where tan φ = TCG/GM is within 0.2° of the whole solution of package hull
// on the demo hulls, and the freeboard up to 11 mm too high: the sheer is wider than the waterline that is reckoned with. Source: package hull; Barrass & Derrett, ch. 14.
var floating = module{
	name: "floating",
	outputs: []string{"displacement_kg", "draft_aft_m", "draft_fore_m", "trim_deg", "heel_deg", "freeboard_m", "gm_m", "lcg_m", "vcg_m",
		"kg_per_cm", "moment_to_trim", "air_draft_m", "air_draft_down_m"},
	needs:   []string{"mass_kg"},
	asks:    []string{"top_height_m", "travel_height_m"},
	uses:    []string{"persons", "water"},
	prepare: prepareFloating,
	dooms:   sinking,
}

func prepareFloating(p *pack.Pack, n *names) (solver, error) {
	hulls := make([]*hull.Hull, len(p.Hulls))
	for i := range p.Hulls {
		var err error
		if hulls[i], err = p.Hulls[i].NewHull(); err != nil {
			return nil, fmt.Errorf("the hull %s: %w; add its offsets", p.Hulls[i].ID, err)
		}
	}
	masses := n.table(p)
	salt := n.chosen(p, "water", "salt")
	depth, top, down := n.field("depth_m"), n.figure("top_height_m"), n.figure("travel_height_m")
	return func(st *formula.State, out []float64) error {
		h := hulls[st.HullID]
		density := hull.FreshWater
		if salt(st) {
			density = hull.SaltWater
		}
		load := masses.loaded(st)
		heeling := load.TCG
		load.TCG = 0
		f, err := h.Float(load, density)
		if err != nil {
			return floatingFault(err)
		}
		heel := math.Atan2(heeling, f.GMt)
		beam, middle := f.WaterlineBeam/2, (h.Aft()+h.Fore())/2
		copy(out, []float64{load.Mass, f.Drafts.Aft, f.Drafts.Fore, degrees(f.Trim), degrees(heel), f.Freeboard.Height - beam*math.Abs(math.Sin(heel)),
			f.GMt, load.LCG, load.VCG, f.KgPerCm(density), f.MomentToTrim(), f.Above(middle, 0, depth(st)+top(st)), f.Above(middle, 0, depth(st)+down(st))})
		return nil
	}, nil
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// floatingFault says why a boat does not float, in words for a buyer.
func floatingFault(err error) error {
	switch {
	case errors.Is(err, hull.ErrTooHeavy):
		return errors.New("The boat is too heavy: its sheer would be under water. Choose lighter options, or carry fewer persons.")
	case errors.Is(err, hull.ErrUnstable):
		return errors.New("The boat would not stay upright: too much weight is high up. Choose a lighter or lower top.")
	}
	return fmt.Errorf("How the boat floats cannot be computed: %w.", err)
}

// Levers are the righting levers of the loaded boat from upright to 60° by steps of 4°, with its metacentric height, m; there are none for a boat
// that does not float, or without offsets.
func Levers(p *pack.Pack, st *formula.State) (levers []hull.Lever, gm float64, ok bool) {
	n := namesOf(p)
	if _, known := n.figures["mass_kg"]; !known || len(p.Hulls[st.HullID].Offsets) == 0 {
		return nil, 0, false
	}
	h, err := p.Hulls[st.HullID].NewHull()
	if err != nil {
		return nil, 0, false
	}
	density := hull.FreshWater
	if n.chosen(p, "water", "salt")(st) {
		density = hull.SaltWater
	}
	load := n.table(p).loaded(st)
	load.TCG = 0
	f, err := h.Float(load, density)
	if err != nil {
		return nil, 0, false
	}
	var heels []float64
	for d := 0.0; d <= 60; d += 4 {
		heels = append(heels, d*math.Pi/180)
	}
	levers, err = h.RightingLevers(load, density, heels)
	return levers, f.GMt, err == nil
}

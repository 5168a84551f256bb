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
// It reads the figure mass_kg, the places of hull, seats, slots and options, and their heights and depths; use.persons
// and use.water. Draught, trim and heel are solved together. The heights are those of the highest of all points, at
// this draught, trim and heel; air_draft_down_m is 0 for a boat without a top that folds. draft_m is to the deepest
// point of hull and gear; immersion_m says by how much a point that must lie under water is deeper than it must be.
//
// Valid: loads that float with the sheer clear. Source: package hull.
var floating = module{
	name: "floating",
	outputs: []string{"displacement_kg", "draft_m", "draft_aft_m", "draft_fore_m", "trim_deg", "heel_deg",
		"freeboard_m", "gm_m", "lcg_m", "vcg_m",
		"kg_per_cm", "moment_to_trim", "air_draft_m", "air_draft_down_m", "immersion_m"},
	needs:   []string{"mass_kg"},
	uses:    []string{"persons", "water"},
	also:    pointReads,
	prepare: prepareFloating,
	dooms:   sinking,
}

// waters are the hulls of a pack and the water that a boat is used in.
type waters struct {
	hulls []*hull.Hull
	salt  func(*formula.State) bool
}

func newWaters(p *pack.Pack, n *names) (*waters, error) {
	w := &waters{make([]*hull.Hull, len(p.Hulls)), n.chosen(p, "water", "salt")}
	for i := range p.Hulls {
		var err error
		if w.hulls[i], err = p.Hulls[i].NewHull(); err != nil {
			return nil, fmt.Errorf("the hull %s: %w; add its offsets", p.Hulls[i].ID, err)
		}
	}
	return w, nil
}

func (w *waters) density(st *formula.State) float64 {
	if w.salt(st) {
		return hull.SaltWater
	}
	return hull.FreshWater
}

func (w *waters) float(st *formula.State, load hull.Load) (hull.Floating, error) {
	return w.hulls[st.HullID].Float(load, w.density(st))
}

func prepareFloating(p *pack.Pack, n *names) (solver, error) {
	w, err := newWaters(p, n)
	if err != nil {
		return nil, err
	}
	masses, points := n.table(p), newPoints(p, n.table(p))
	return func(st *formula.State, out []float64) error {
		load := masses.loaded(st)
		f, err := w.float(st, load)
		if err != nil {
			return floatingFault(err)
		}
		down := 0.0
		if points.folds(st) {
			down = points.above(st, &f, pack.Folded)
		}
		draught, immersion := points.deepest(st, &f)
		copy(out, []float64{load.Mass, draught, f.Drafts.Aft, f.Drafts.Fore, degrees(f.Trim), degrees(f.Heel),
			f.Freeboard.Height,
			f.GMt, load.LCG, load.VCG, f.KgPerCm(f.Density), f.MomentToTrim(), points.above(st, &f, pack.Up), down,
			immersion})
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

// Levers are the righting levers of the loaded boat from upright to 60° by steps of 4°, with its metacentric height, m;
// there are none for a boat that does not float, or without offsets.
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

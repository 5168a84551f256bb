package figures

import (
	"errors"
	"math"

	"ribband/core/formula"
	"ribband/core/hull"
	"ribband/core/msg"
	"ribband/core/pack"
)

// The loading condition that the floating figures are for.
const (
	PersonKg    = 75.0 // of an adult on board; ISO 12217-1, from memory
	StoresKg    = 5.0  // of each person's things; common practice, no source
	GrowthShare = 0.03 // of the light boat, for what grows heavier in building; common practice, no source
)

// How the boat floats with its persons.
const (
	FloatingDisplacement ID = "floating.displacement_kg"
	FloatingDraft        ID = "floating.draft_m"
	FloatingDraftAft     ID = "floating.draft_aft_m"
	FloatingDraftFore    ID = "floating.draft_fore_m"
	FloatingTrim         ID = "floating.trim_deg"
	FloatingHeel         ID = "floating.heel_deg"
	FloatingFreeboard    ID = "floating.freeboard_m"
	FloatingGM           ID = "floating.gm_m"
	FloatingLCG          ID = "floating.lcg_m"
	FloatingVCG          ID = "floating.vcg_m"
	FloatingTPC          ID = "floating.tpc_kg"
	FloatingMCTC         ID = "floating.mctc_kgm"
	FloatingAirDraft     ID = "floating.air_draft_m"
	FloatingAirDraftDown ID = "floating.air_draft_down_m"
	FloatingImmersion    ID = "floating.immersion_m"
)

// Why a boat does not float.
const (
	TooHeavy  formula.FaultCode = "too-heavy"
	Unstable  formula.FaultCode = "unstable"
	NotAfloat formula.FaultCode = "not-afloat" // with its cause
)

// floating computes how the boat floats with its persons, from the table of offsets and the mass table.
//
// Draught, trim and heel are solved together. The heights are those of the highest of all points, at this draught, trim
// and heel; air_draft_down_m is 0 for a boat without a top that folds. draft_m is to the deepest point of hull and
// gear; immersion_m says by how much a point that must lie under water is deeper than it must be.
//
// Formula: as the messages of the outputs say it. Valid: loads that float with the sheer clear. Source: package hull.
var floating = module{
	name:    "floating",
	needs:   []Given{MassKg},
	uses:    []UseField{UsePersons, UseWater},
	also:    pointReads,
	prepare: prepareFloating,
	dooms:   sinking,
	outputs: []Definition{
		{ID: FloatingDisplacement, Unit: "kg"},
		{ID: FloatingDraft, Unit: "m"},
		{ID: FloatingDraftAft, Unit: "m"},
		{ID: FloatingDraftFore, Unit: "m"},
		{ID: FloatingTrim, Unit: "deg"},
		{ID: FloatingHeel, Unit: "deg"},
		{ID: FloatingFreeboard, Unit: "m"},
		{ID: FloatingGM, Unit: "m"},
		{ID: FloatingLCG, Unit: "m"},
		{ID: FloatingVCG, Unit: "m"},
		{ID: FloatingTPC, Unit: "kg"},
		{ID: FloatingMCTC, Unit: "kgm"},
		{ID: FloatingAirDraft, Unit: "m"},
		{ID: FloatingAirDraftDown, Unit: "m", NoneAtZero: true},
		{ID: FloatingImmersion, Unit: "m"},
	},
}

// prepareFloating makes the solver of the module. All its figures come from one floating position: that of the boat at
// rest with its persons seated, in the water of its use.
func prepareFloating(n *parts) (solver, error) {
	w, err := newWaters(n)
	if err != nil {
		return nil, err
	}
	points := n.points()
	return func(b *boat, out *results) formula.Fault {
		st := b.State
		f, err := w.atRest(b)
		if err != nil {
			return floatingFault(err)
		}
		down := 0.0
		if points.folds(st) {
			down = points.above(st, f, pack.Folded)
		}
		draught, immersion := points.deepest(st, f)
		out.set(FloatingDisplacement, f.Load.Mass)
		out.set(FloatingDraft, draught)
		out.set(FloatingDraftAft, f.Drafts.Aft)
		out.set(FloatingDraftFore, f.Drafts.Fore)
		out.set(FloatingTrim, degrees(f.Trim))
		out.set(FloatingHeel, degrees(f.Heel))
		out.set(FloatingFreeboard, f.Freeboard.Height)
		out.set(FloatingGM, f.GMt)
		out.set(FloatingLCG, f.Load.LCG)
		out.set(FloatingVCG, f.Load.VCG)
		out.set(FloatingTPC, f.TPC(f.Density))
		out.set(FloatingMCTC, f.MCTC())
		out.set(FloatingAirDraft, points.above(st, f, pack.Up))
		out.set(FloatingAirDraftDown, down)
		out.set(FloatingImmersion, immersion)
		return formula.Fault{}
	}, nil
}

// waters are the hulls of a pack and the water that a boat is used in.
type waters struct {
	hulls  []*hull.Hull
	masses *masses
	salt   func(*formula.State) bool
}

// newWaters prepares the hulls of a pack. All of them need offsets: a figure that only some hulls had would let a rule
// over it pass on the others.
func newWaters(n *parts) (*waters, error) {
	hulls, err := n.allLines()
	if err != nil {
		return nil, err
	}
	return &waters{hulls, n.masses(), n.salt()}, nil
}

// salt says whether a boat is used in salt water.
func (n *parts) salt() func(*formula.State) bool { return n.chosen(UseWater, "salt") }

// density is that of the water, kg/m³.
func density(salt bool) float64 {
	if salt {
		return hull.SaltWater
	}
	return hull.FreshWater
}

// float floats any load in the water of the boat's use. The one with its persons seated is [waters.atRest], which is
// remembered.
func (w *waters) float(st *formula.State, load hull.Load) (hull.Floating, error) {
	return w.hulls[st.HullID].Float(load, density(w.salt(st)))
}

// rest is how a boat floats with its persons seated, and what that was computed from.
type rest struct {
	known bool
	hull  int
	salt  bool
	load  hull.Load

	floating hull.Floating
	err      error
}

// atRest is how the boat floats with its persons seated: computed once for all the modules that ask.
func (w *waters) atRest(b *boat) (*hull.Floating, error) {
	r, st := &b.rest, b.State
	load, salt := w.masses.loaded(st), w.salt(st)
	if !r.known || r.hull != st.HullID || r.salt != salt || r.load != load {
		*r = rest{known: true, hull: st.HullID, salt: salt, load: load}
		r.floating, r.err = w.hulls[st.HullID].Float(load, density(salt))
	}
	return &r.floating, r.err
}

// degrees is an angle as people read it; package hull computes in radians.
func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// floatingFault says why a boat does not float.
func floatingFault(err error) formula.Fault {
	switch {
	case errors.Is(err, hull.ErrTooHeavy):
		return formula.Fault{Code: TooHeavy}
	case errors.Is(err, hull.ErrUnstable):
		return formula.Fault{Code: Unstable}
	}
	return formula.Fault{Code: NotAfloat, Cause: msg.Of(err)}
}

// Levers are the righting levers of the loaded boat from upright to 60° by steps of 4°, with its metacentric height, m;
// there are none for a boat that does not float, or without offsets.
func (f *Figures) Levers(st *formula.State) (levers []hull.Lever, gm float64, ok bool) {
	n := f.parts
	if _, known := n.givens[MassKg]; !known || len(f.pack.Hulls[st.HullID].Offsets) == 0 {
		return nil, 0, false
	}
	h, err := n.lines[st.HullID]()
	if err != nil {
		return nil, 0, false
	}
	load, water := n.masses().loaded(st), density(n.salt()(st))
	// the curve is that of an upright boat: what leans it is the figure of its heel
	load.TCG = 0
	upright, err := h.Float(load, water)
	if err != nil {
		return nil, 0, false
	}
	var heels []float64
	for d := 0.0; d <= 60; d += 4 {
		heels = append(heels, d*math.Pi/180)
	}
	levers, err = h.RightingLevers(load, water, heels)
	return levers, upright.GMt, err == nil
}

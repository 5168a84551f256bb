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

const archimedes = "Archimedes' principle; Barrass & Derrett, Ship Stability for Masters and Mates"

// floating computes how the boat floats with its persons, from the table of offsets and the mass table.
//
// Draught, trim and heel are solved together. The heights are those of the highest of all points, at this draught, trim
// and heel; air_draft_down_m is 0 for a boat without a top that folds. draft_m is to the deepest point of hull and
// gear; immersion_m says by how much a point that must lie under water is deeper than it must be.
//
// Formula: as each output says it. Valid: loads that float with the sheer clear. Source: package hull.
var floating = module{
	name: "floating",
	follows: "`offsets` of the hull; the figure `mass_kg` and the places of the masses; `seats`, `heights` and " +
		"`depths`; `use.persons`, `use.water`. `draft_m` is the draught, to the deepest point; `draft_aft_m` and " +
		"`draft_fore_m` are to the base line, for the yard",
	valid:   "loads that float with the sheer clear",
	needs:   []Given{MassKg},
	uses:    []UseField{UsePersons, UseWater},
	also:    pointReads,
	prepare: prepareFloating,
	dooms:   sinking,
	outputs: []Definition{
		{ID: FloatingDisplacement, Title: "displacement with persons", Unit: "kg",
			Formula: "sum of the masses × 1.03 + persons × (75 + 5) kg",
			Source: "definition; 75 kg a person by ISO 12217-1, from memory; allowance and things: common practice, " +
				"no source"},
		{ID: FloatingDraft, Title: "draught to the deepest point", Unit: "m",
			Formula: "depth under water of the deepest point of hull, skeg, drive and propeller, at draught, trim " +
				"and heel",
			Source: archimedes},
		{ID: FloatingDraftAft, Title: "draught aft, to the base line", Unit: "m",
			Formula: "draught and trim at which the hull displaces the mass, read at the last station to the base line",
			Source:  archimedes},
		{ID: FloatingDraftFore, Title: "draught forward, to the base line", Unit: "m",
			Formula: "draught and trim at which the hull displaces the mass, read at the first station to the base " +
				"line",
			Source: archimedes},
		{ID: FloatingTrim, Title: "trim by the stern", Unit: "deg",
			Formula: "angle at which the centres of buoyancy and gravity are in one vertical", Source: archimedes},
		{ID: FloatingHeel, Title: "heel to starboard", Unit: "deg",
			Formula: "first heel from upright at which the righting lever is zero and rises",
			Source:  archimedes + ", ch. 14"},
		{ID: FloatingFreeboard, Title: "least freeboard", Unit: "m",
			Formula: "lowest height of the deck edge above the water, at draught, trim and heel", Source: archimedes},
		{ID: FloatingGM, Title: "metacentric height", Unit: "m", Formula: "GM = KB + BM − KG",
			Source: "Barrass & Derrett"},
		{ID: FloatingLCG, Title: "centre of gravity from the aft end", Unit: "m",
			Formula: "Σ m·x / Σ m, from the aft end",
			Source:  "definition of the centre of gravity"},
		{ID: FloatingVCG, Title: "centre of gravity above the base line", Unit: "m",
			Formula: "Σ m·z / Σ m, above the base line", Source: "definition of the centre of gravity"},
		{ID: FloatingTPC, Title: "mass that immerses the boat by 1 cm", Unit: "kg",
			Formula: "area of the waterplane × density / 100", Source: "Barrass & Derrett, ch. 9"},
		{ID: FloatingMCTC, Title: "moment that changes trim by 1 cm", Unit: "kgm",
			Formula: "W·GML / (100·L)", Source: "Barrass & Derrett"},
		{ID: FloatingAirDraft, Title: "height above the water", Unit: "m",
			Formula: "height above the water of the highest of deck edge, top, lights, staff and seated heads (0.90 " +
				"m above the seat)",
			Source: "geometry of the boat as it floats; sitting height from memory"},
		{ID: FloatingAirDraftDown, Title: "height above the water with the top folded", Unit: "m", NoneAtZero: true,
			Formula: "the same with the top folded; none where it does not fold",
			Source:  "geometry of the boat as it floats"},
		{ID: FloatingImmersion, Title: "immersion beyond what must be", Unit: "m",
			Formula: "depth under water of what must be immersed, less how deep it must be",
			Source: "geometry of the boat as it floats; one diameter to the axis of a tunnel: common practice, no " +
				"source"},
	},
}

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

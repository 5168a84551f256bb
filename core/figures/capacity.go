package figures

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"ribband/core/capacity"
	"ribband/core/formula"
	"ribband/core/msg"
	"ribband/core/pack"
)

// What the capacity of a boat is worked out with.
const (
	// CapacityReading is how the rule's boat weight is read; see [capacity.MaximumWeight].
	CapacityReading = capacity.Handbook
	// CapacityBasis is how the load of the swamped boat is read: the handbook's, which asks for more foam than the
	// rule.
	CapacityBasis = capacity.HandbookLoad
	// leadBelow is the usable share of the energy below which a bank is taken for lead-acid, as in the module power; a
	// bank of unknown share is not, since lead-acid weighs less of its dry weight under water than is counted for
	// others.
	leadBelow = 0.7
	// optionMaterial and hullMaterial are counted where the book names none. Only lead sinks harder than steel.
	optionMaterial = "steel"
	hullMaterial   = "grp"
)

// FlotationFoam is closed-cell foam in blocks of 35 kg/m³ with 5 % moisture. Lighter foam holds up more. Source: foam
// makers' data, from memory.
var FlotationFoam = capacity.FoamKind{DensityKGM3: 35, Moisture: 0.05}

// What may be marked on a boat in the United States.
const (
	CapacityWeight  ID = "capacity.weight_kg"
	CapacityPersons ID = "capacity.persons"
	CapacityFoam    ID = "capacity.foam_l"
)

// us computes the United States capacity and flotation of inboard monohulls under 20 ft.
//
//	MD = 62.4·V/1.05            V inside the offsets up to the lowest point of the sheer, level, ft³
//	W  = max(MD/5 - BW/5 - 4·MW/5, (MD - BW)/7)
//	N  = floor((W + 32)/141 + 0.5)
//	F  = (Σ(Wi·Ki) + 0.75·M + Σ(Bj·kj) + W/4)/B
//
// Each mass has the growth of [GrowthShare]; a bank whose usable share is below 0.7 is taken for lead-acid. weight_kg
// and persons are what may be marked, foam_l what flotation must be provided. All are zero from 20 ft up, where these
// rules set no duty, and for a boat to which nothing may be marked.
//
// CAUTION. The lowest point where water comes aboard of an open boat may lie below the sheer, at a cut-out, well or
// drain: it decides, not this sum. Below 550 lb the list test is still to come. The boat is tried, and a qualified
// person decides what is marked.
//
// Formula: these. Valid: inboard monohulls. Source: package capacity: 33 CFR 183.33, .39, .105; US Coast
// Guard, Boatbuilder's Handbook.
var us = module{
	name:    "capacity",
	needs:   []Given{MassKg},
	asks:    []Given{BankKg, UsableShare},
	prepare: prepareCapacity,
	outputs: []Definition{
		{ID: CapacityWeight, Unit: "kg"},
		{ID: CapacityPersons, Unit: "each"},
		{ID: CapacityFoam, Unit: "l"},
	},
}

// capacityInputs are what the module reads.
type capacityInputs struct {
	masses         *masses
	length, built  number // built: for how many persons
	bank, share    number
	displacements  []func() (float64, error) // MD by hull, kg
	hulls, options []part
	machinery      []bool // by option: of a machinery slot
}

// part is what something counts as under water.
type part struct {
	material string // empty where it is left out
	factor   float64
}

// partOf is what something counts as under water: by the book's word, or as another material where the book has none.
// The error is that of a word which is no material; what does not go under water counts as nothing.
func partOf(material, otherwise string) (part, error) {
	switch material {
	case pack.NotSubmerged:
		return part{}, nil
	case "":
		material = otherwise
	}
	m, err := capacity.FindMaterial(material)
	return part{material, m.Factor}, err
}

// prepareCapacity makes the solver of the module. It takes the sums of the mass table as they stand in the state, since
// thousands of boats are judged by these figures; every part by itself is written for papers alone, and a test compares
// the two on the boats of every hull.
func prepareCapacity(n *parts) (solver, error) {
	in, err := n.capacity()
	if err != nil {
		return nil, err
	}
	if _, err := each(n, in.displacements, "%w"); err != nil {
		return nil, err
	}
	return func(b *boat, out *results) formula.Fault {
		st := b.State
		// from there up the rules set no duty, and zero says so: a rule of the book over these figures holds then
		if in.length(st) >= capacity.Limit {
			return formula.Fault{}
		}
		if marks, ok := in.quick(st); ok {
			out.set(CapacityWeight, float64(marks.WeightLB)*capacity.PoundKG)
			out.set(CapacityPersons, float64(in.atMost(st, marks.Persons)))
			out.set(CapacityFoam, marks.FoamL)
		}
		return formula.Fault{}
	}, nil
}

// atMost is how many of some persons may be marked: no more than the hull is built for, where the book says that.
func (in *capacityInputs) atMost(st *formula.State, persons int) int {
	if built := int(in.built(st)); built > 0 {
		return min(persons, built)
	}
	return persons
}

// newCapacityInputs looks up what the rules ask of a book. What a hull displaces at most is the volume of its body,
// which takes long to compute: each hull's is computed when it is first asked for, and once.
func newCapacityInputs(n *parts) (*capacityInputs, error) {
	if _, ok := n.fields[HullLength]; !ok {
		return nil, errors.New("the book has no hull field length_m, which decides whether the rules hold; add it")
	}
	p := n.pack
	in := &capacityInputs{masses: n.masses(), length: n.field(HullLength), built: n.field(HullPersons),
		bank: n.given(BankKg), share: n.given(UsableShare)}
	for i := range p.Hulls {
		in.displacements = append(in.displacements, sync.OnceValues(func() (float64, error) {
			return n.maximumDisplacement(i)
		}))
		sunk, err := partOf(p.Hulls[i].Submerged, hullMaterial)
		if err != nil {
			return nil, fmt.Errorf("the hull %s: %w", p.Hulls[i].ID, err)
		}
		in.hulls = append(in.hulls, sunk)
	}
	for i := range p.Options {
		sunk, err := partOf(p.Options[i].Submerged, optionMaterial)
		if err != nil {
			return nil, fmt.Errorf("the option %s: %w", p.Options[i].ID, err)
		}
		in.options = append(in.options, sunk)
		in.machinery = append(in.machinery, p.Slots[p.Options[i].Slot].Machinery)
	}
	return in, nil
}

// maximumDisplacement is what a hull displaces, kg, level and down to the lowest point of its sheer.
func (n *parts) maximumDisplacement(of int) (float64, error) {
	lines, err := n.lines[of]()
	if err != nil {
		return 0, fmt.Errorf("%w; add its offsets", err)
	}
	sheer := math.Inf(1)
	for _, s := range n.pack.Hulls[of].Offsets {
		sheer = min(sheer, s.Z[len(s.Z)-1])
	}
	level, err := lines.Upright(sheer, 0)
	if err != nil {
		return 0, err
	}
	md, err := capacity.MaximumDisplacement(level.Volume, capacity.MeasuringMargin)
	return md.KG, err
}

// weighed is a boat as the rules divide it, kg.
type weighed struct {
	capacity.Weights
	submerged float64 // of hull, deck and gear
	lead      bool
}

// displacement is the greatest of a boat's hull, kg; whoever asks for it saw that there is one.
func (in *capacityInputs) displacement(st *formula.State) float64 {
	md, _ := in.displacements[st.HullID]()
	return md
}

// weigh sums the masses of a boat with their growth; visit sees each part that is no machinery.
func (in *capacityInputs) weigh(st *formula.State, visit func(option int, kg float64, p part)) weighed {
	w := weighed{Weights: capacity.Weights{DisplacementKG: in.displacement(st)}}
	machinery := 0.0
	in.masses.each(st, func(option int, kg float64, _ *place) {
		kg = float64(kg * (1 + GrowthShare))
		sunk := in.hulls[st.HullID]
		if option >= 0 {
			if in.machinery[option] {
				machinery += kg
				return
			}
			sunk = in.options[option]
		}
		w.HullKG += kg
		w.submerged += float64(kg * sunk.factor)
		visit(option, kg, sunk)
	})
	in.parted(st, &w, machinery)
	return w
}

// parted parts the machinery into bank and motor.
func (in *capacityInputs) parted(st *formula.State, w *weighed, machinery float64) {
	w.lead = in.share(st) > 0 && in.share(st) < leadBelow
	w.BatteryKG = min(in.bank(st)*(1+GrowthShare), machinery)
	w.MotorKG = machinery - w.BatteryKG
}

// summed is weigh from the sums of the mass table.
func (in *capacityInputs) summed(st *formula.State) weighed {
	const grown = 1 + GrowthShare
	m := &st.Masses
	w := weighed{Weights: capacity.Weights{DisplacementKG: in.displacement(st), HullKG: m.RestKg * grown},
		submerged: m.SubmergedKg * grown}
	in.parted(st, &w, m.MachineryKg*grown)
	return w
}

// quick gives the numbers alone.
func (in *capacityInputs) quick(st *formula.State) (capacity.Marks, bool) {
	w := in.summed(st)
	share := 1.0
	if w.lead {
		share = capacity.LeadAcidShare
	}
	return capacity.Quick(w.Weights, CapacityReading, w.submerged+float64(capacity.MachineryShare*w.MotorKG)+
		float64(share*w.BatteryKG),
		FlotationFoam, CapacityBasis)
}

// Capacity is the United States capacity and flotation of a boat with every step, for papers.
type Capacity struct {
	Boat     capacity.Boat
	Coverage capacity.Coverage
	Weight   capacity.Weight
	Persons  capacity.Persons
	Foam     capacity.Foam
}

// Plates is what a builder adds to what is computed, before the capacity is marked.
type Plates struct {
	ListTestKg float64 // weight that the boat carried in the list test, kg; 0: not done
	Persons    int     // that the builder marks; 0: as many as computed
}

// Capacity works out the capacity of a boat; ok is false where the book has nothing to work it out from. An error
// says why nothing may be marked on the boat. No more persons are marked than the hull is built for. Flotation is for
// the persons that are computed, not for fewer that are marked.
//
// Valid and Source: as the module capacity.
func (f *Figures) Capacity(st *formula.State, plates Plates) (c Capacity, ok bool, err error) {
	if _, known := f.parts.givens[MassKg]; !known || len(f.pack.Hulls[st.HullID].Offsets) == 0 {
		return c, false, nil
	}
	in, err := f.parts.capacity()
	if err == nil {
		_, err = in.displacements[st.HullID]()
	}
	if err != nil {
		return c, false, nil // a book without these figures
	}
	// a book holds launches with their motor inside: other hulls and drives have other rules
	c.Boat = capacity.Boat{LengthM: in.length(st), Hull: capacity.Monohull, Drive: capacity.Inboard}
	if c.Coverage, err = capacity.Cover(c.Boat); err != nil {
		return c, true, err
	}
	byMaterial := map[string]float64{}
	w := in.weigh(st, func(_ int, kg float64, sunk part) {
		if sunk.material != "" {
			byMaterial[sunk.material] += kg
		}
	})
	if c.Weight, err = capacity.MaximumWeight(c.Boat, w.Weights, CapacityReading); err != nil {
		return c, true, err
	}
	if c.Persons, err = capacity.PersonsCapacity(c.Weight,
		capacity.ListTest{Done: plates.ListTestKg != 0, AddedKG: plates.ListTestKg}); err != nil {
		return c, true, err
	}
	s := capacity.Swamped{MachineryKG: w.MotorKG, Foam: FlotationFoam, Basis: CapacityBasis}
	for _, m := range capacity.Materials() {
		if kg, sunk := byMaterial[m.ID]; sunk {
			s.Parts = append(s.Parts, capacity.Part{Name: m.Name, Material: m.ID, KG: kg})
		}
	}
	if w.BatteryKG > 0 {
		s.Batteries = []capacity.Battery{{Name: msg.New("capacity.batteries"), KG: w.BatteryKG, LeadAcid: w.lead}}
	}
	if c.Foam, err = capacity.Flotation(c.Boat, c.Persons, s); err != nil {
		return c, true, err
	}
	built := in.atMost(st, c.Persons.Number)
	switch {
	case plates.Persons > built && plates.Persons <= c.Persons.Number:
		return c, true, msg.Fault("figures.built-for", msg.Count("marked", plates.Persons), msg.Count("built", built))
	case plates.Persons != 0:
		c.Persons, err = c.Persons.Derated(plates.Persons)
	case built < c.Persons.Number:
		c.Persons, err = c.Persons.Derated(built)
	}
	return c, true, err
}

package capacity

import "ribband/core/msg"

// Basis is how the load that a swamped boat must carry is worked out.
type Basis int

const (
	// RuleLoad is the load of the rule: 2/15 of the persons capacity and a quarter of the rest.
	RuleLoad Basis = iota
	// HandbookLoad is the handbook's, deliberately on the safe side: a quarter of the whole weight capacity.
	HandbookLoad
)

// String names the basis.
func (b Basis) String() string {
	switch b {
	case RuleLoad:
		return "rule"
	case HandbookLoad:
		return "handbook"
	}
	return "unknown"
}

const (
	personsShare  = 2.0 / 15 // Source: 33 CFR 183.105(a)(1)
	deadShare     = 0.25     // Source: 33 CFR 183.105(a)(2)
	handbookShare = 0.25     // Source: US Coast Guard, Boatbuilder's Handbook, Flotation, introduction
)

// SwampedLoad is the submerged weight that the swamped boat must hold up for persons and gear.
//
//	L = (2/15)·P + 0.25·(C - P)   by the rule
//	L = 0.25·C                    by the handbook
//
// P persons capacity, C maximum weight capacity, both as marked; L in the same unit. C - P is the dead weight.
// What two largest air chambers add is in [Flotation].
//
// Valid: 0 <= P <= C, finite. Source: 33 CFR 183.105(a), (b); US Coast Guard, Boatbuilder's Handbook, Flotation,
// introduction.
func SwampedLoad(p, c float64, b Basis) (float64, error) {
	in := inputs{doing: "working out the swamped load"}
	in.number("the weight capacity", c, 0, mostKG/PoundKG, "lb", "take the marked maximum weight capacity")
	in.number("the persons capacity", p, 0, mostKG/PoundKG, "lb", "take the marked persons capacity")
	if len(in.errs) == 0 && p > c {
		in.wrong("persons of %v are more than the whole capacity of %v: the persons capacity is a part of it", p, c)
	}
	if b != RuleLoad && b != HandbookLoad {
		in.wrong("no basis %d: take RuleLoad or HandbookLoad", int(b))
	}
	if err := in.err(); err != nil {
		return 0, err
	}
	if b == HandbookLoad {
		return handbookShare * c, nil
	}
	return float64(personsShare*p) + float64(deadShare*(c-p)), nil
}

// MachineryShare is the share of its installed dry weight that inboard machinery weighs under water.
//
// Source: US Coast Guard, Boatbuilder's Handbook, Flotation; ABYC H-8; from memory.
const MachineryShare = 0.75

// LeadAcidShare is the share of its dry weight that a lead-acid battery weighs under water.
//
// Source: 33 CFR 183, Table 4, columns 3 and 4 (45 lb dry, 25 lb submerged), computed.
const LeadAcidShare = 25.0 / 45

// Battery is one battery or bank in the swamped boat.
type Battery struct {
	Name     msg.Message
	KG       float64 // dry
	LeadAcid bool    // then the published share is used
	// SealedM3 is the volume in m³ of cases that stay dry inside when swamped; 0 gives no credit for it.
	SealedM3 float64
}

// share is the part of the dry weight that counts under water: 25/45 for lead-acid; else 1 - 62.4·V/W from the sealed
// case, never below nothing, since a case that lifts is not flotation material.
func (b Battery) share() float64 {
	switch {
	case b.LeadAcid:
		return LeadAcidShare
	case b.KG <= 0:
		return 0
	}
	return max(0, 1-WaterKGM3*b.SealedM3/b.KG)
}

// Chamber is an air chamber used for flotation. It must not be integral with the hull (183.112(b)).
type Chamber struct {
	Name     string
	VolumeM3 float64
	KG       float64 // its own mass
	Integral bool
}

// Lift is what a closed volume holds up: V·ρ - m.
//
// V volume, ρ density of the water, m the mass of the closed thing itself; any units that agree.
//
// Valid: finite numbers. Source: Archimedes; US Coast Guard guide to flotation drums.
func Lift(volume, water, own float64) float64 { return float64(volume*water) - own }

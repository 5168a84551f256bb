package capacity

import (
	"fmt"
	"math"

	"ribband/core/msg"
)

// The numbers of the persons rule. Source: 33 CFR 183.39(a)(2), (b).
const (
	ListBelowLB = 550 // under this persons capacity the list test counts
	listDivisor = 0.6
	personsAdd  = 32  // lb
	personsUnit = 141 // lb
)

// ListTest is the trial of 183.39(a)(2): afloat in calm water with all gear, motors, controls, drives, batteries and
// full fuel, weight is put along one outboard edge of each passenger area at seat height until list or trim is just
// short of letting water in.
type ListTest struct {
	Done    bool
	AddedKG float64 // A: all the weight that was put in
}

// Governs is what decides the persons capacity.
type Governs string

// What may decide it. Source: 33 CFR 183.39(a); US Coast Guard, Boatbuilder's Handbook (the builder).
const (
	ByWeight  Governs = "weight"
	ByList    Governs = "list"
	ByBuilder Governs = "builder"
)

// Words name what decides.
//
// Valid: the three. Source: as there.
func (g Governs) Words() msg.Message { return msg.New("capacity.governs", msg.Choice("by", string(g))) }

// MarshalText writes what decides in words, in English.
//
// Valid: as [Governs.Words]. Source: as there.
func (g Governs) MarshalText() ([]byte, error) { return g.Words().MarshalText() }

// Persons is the persons capacity of a boat.
type Persons struct {
	Applies     bool          `json:"applies"`
	Sentence    msg.Message   `json:"sentence"`
	WeightLB    int           `json:"weight_marked_lb"` // the maximum weight capacity that is marked
	ByWeight    Mass          `json:"by_weight"`
	ByList      Mass          `json:"by_list"` // nothing where the test is not needed or not done
	Computed    Mass          `json:"computed"`
	Marked      int           `json:"marked_lb"` // whole pounds, rounded down
	Number      int           `json:"persons"`
	Governs     Governs       `json:"governs"`
	Provisional bool          `json:"provisional"` // the list test is needed and not yet done
	Notes       []msg.Message `json:"notes,omitempty"`
}

// PersonsCapacity is the persons capacity of an inboard boat under 20 ft.
//
//	P = min(W, A/0.6 where the capacity is under 550 lb)
//	N = floor((P + 32)/141 + 0.5)
//
// W marked maximum weight capacity in lb, A weight of the list test in lb, P persons capacity in lb, N persons. P is
// rounded down to whole pounds before N is taken. The rule names only the value of the list test for N; for heavier
// boats, where it is silent, the lesser of both is used as in 183.41(b).
//
// Valid: a weight capacity made by [MaximumWeight]; A from 0 to 50 t. Source: 33 CFR 183.39(a), (b).
func PersonsCapacity(w Weight, t ListTest) (Persons, error) {
	if !w.Applies {
		return Persons{Sentence: w.Sentence}, nil
	}
	in := inputs{doing: "working out the persons capacity"}
	in.number("the marked weight capacity", float64(w.Marked), 1, mostKG, "lb", "work it out with MaximumWeight")
	in.mass("the weight of the list test", t.AddedKG)
	if !t.Done && t.AddedKG != 0 {
		in.wrong("a list test that was not done put in %v kg: say that it was done, or give no weight", t.AddedKG)
	}
	if err := in.err(); err != nil {
		return Persons{}, err
	}
	p := Persons{Applies: true, WeightLB: w.Marked, ByWeight: Pounds(float64(w.Marked)), Governs: ByWeight}
	p.Computed = p.ByWeight
	p.list(t)
	p.Marked = down(p.Computed.LB)
	p.Number, _ = WholePersons(float64(p.Marked))
	if p.Number < 1 {
		return Persons{}, msg.Fault("capacity.no-person", msg.Count("lb", p.Marked))
	}
	p.say()
	return p, nil
}

// Derated is the persons capacity that a builder marks who allows fewer persons than are computed. The pounds are the
// most that still count as these persons, so that number and pounds of the label agree.
//
//	P = min(P, the greatest whole pounds with floor((P + 32)/141 + 0.5) = N)
//
// Valid: a persons capacity made by [PersonsCapacity]; 1 to as many persons as it has. Source: 33 CFR 183.39(b) turned
// round, computed; that a builder may mark less: US Coast Guard, Boatbuilder's Handbook, from memory.
func (p Persons) Derated(persons int) (Persons, error) {
	if !p.Applies {
		return p, nil
	}
	if persons < 1 || persons > p.Number {
		return Persons{}, fmt.Errorf("derating the persons capacity to %d: it is %d; give 1 to %d persons, or nothing "+
			"to mark what is computed", persons, p.Number, p.Number)
	}
	if persons == p.Number {
		return p, nil
	}
	p.Number, p.Marked, p.Governs = persons, min(p.Marked, int(math.Ceil(LeastPounds(persons+1)))-1),
		ByBuilder
	p.say()
	return p, nil
}

// list takes the list test into account.
func (p *Persons) list(t ListTest) {
	switch {
	case p.WeightLB >= ListBelowLB:
		if t.Done {
			p.Notes = append(p.Notes, msg.New("capacity.list-unused"))
		}
	case !t.Done:
		p.Provisional = true
		p.Notes = append(p.Notes, msg.New("capacity.list-waits"))
	default:
		p.ByList = Pounds(Kilograms(t.AddedKG).LB / listDivisor)
		if p.ByList.LB < p.Computed.LB {
			p.Computed, p.Governs = p.ByList, ByList
		}
	}
}

func (p *Persons) say() {
	p.Sentence = msg.New("capacity.persons", msg.Count("persons", p.Number), msg.Count("lb", p.Marked),
		msg.Number("kg", Pounds(float64(p.Marked)).KG, 1), msg.Words("by", p.Governs.Words()))
	if p.Provisional {
		p.Sentence = msg.Sentences(p.Sentence, msg.New("capacity.persons-provisional"))
	}
}

// WholePersons is the number of persons for a persons capacity: N = floor((P + 32)/141 + 0.5), halves up.
//
// P persons capacity in lb, N persons.
//
// Valid: P from 0 to 50 000 lb. Source: 33 CFR 183.39(b).
func WholePersons(lb float64) (int, error) {
	in := inputs{doing: "counting persons"}
	in.number("the persons capacity", lb, 0, mostKG, "lb", "give pounds")
	if err := in.err(); err != nil {
		return 0, err
	}
	return int(math.Floor((lb+personsAdd)/personsUnit + 0.5)), nil
}

// LeastPounds is the smallest persons capacity that counts as a number of persons: P = 141·(N - 0.5) - 32, in lb.
//
// Valid: N from 1. Source: 33 CFR 183.39(b) turned round, computed.
func LeastPounds(persons int) float64 {
	return float64(personsUnit*(float64(persons)-0.5)) - personsAdd
}

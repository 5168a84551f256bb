package figures

import (
	"ribband/core/formula"
	"ribband/core/hull"
)

// Memory keeps what takes longest, the stability of a boat, by all that it is computed from. Different boats often
// weigh the same at the same place: they have another colour, or an option that weighs nothing. It serves whoever
// judges ten thousands of boats, on several cores; without one everything is computed.
type Memory interface {
	Recall(key *StabilityKey) (values [MaxOutputs]float64, known bool)
	Keep(key *StabilityKey, values [MaxOutputs]float64)
}

// StabilityKey is all that the stability of a boat follows from, to the bit.
type StabilityKey struct {
	Hull     int
	Salt     bool
	Masses   formula.Masses
	People   hull.Load
	Side     float64
	Inlets   int
	Openings [mostInlets]hull.Point
}

// mostInlets are the openings that a key has room for; the stability of a boat with more is computed each time.
const mostInlets = 4

// Remember has a memory asked from now on. It is for who compiled the figures, before they are used.
func (f *Figures) Remember(m Memory) { f.parts.memory = m }

// key is what the stability of a boat follows from; nil where nothing is remembered, or it has no room.
func (s *stable) key(st *formula.State, openings []hull.Point) *StabilityKey {
	if s.parts.memory == nil || len(openings) > mostInlets {
		return nil
	}
	k := &StabilityKey{Hull: st.HullID, Salt: s.salt(st), Masses: st.Masses, People: s.masses.people(st),
		Side: s.masses.sides[st.HullID].Of(st), Inlets: len(openings)}
	copy(k.Openings[:], openings)
	return k
}

package look

import (
	"ribband/core/drawing"
	"ribband/core/drawing/solid"
	"ribband/core/engine"
	"ribband/core/fit"
)

// slotWords are the words whose slot decides on a part of the solid; of several slots the one that is aboard counts,
// and else the first in the book.
var slotWords = map[string][]string{
	solid.Hull: {"hull"}, solid.Bottom: {"bottom"}, solid.BootTop: {"boot-top"}, solid.Stripe: {"stripe"},
	solid.Deck: {"laid-deck", "deck"}, solid.Seats: {"deck"}, solid.Sole: {"sole", "planked-sole"},
	solid.Coaming: {"coaming"}, solid.Rail: {"rail"}, solid.Cushions: {"cushion"},
	solid.Top: {"top-folding", "top-canopy", "top-hard", "top-solar"}, solid.Edging: {"edging"},
	solid.Enclosure: {"enclosure-full", "enclosure-sides", "enclosure-front"}, solid.Dash: {"dash"},
	solid.Table: {"table"}, solid.Steering: {"wheel-side", "wheel-centre", "tiller"},
	solid.Drive: {"drive-shaft", "drive-leg", "drive-pod"}, solid.Thruster: {"thruster"}, solid.Motor: {"motor"},
	solid.Bank: {"bank"},
}

// Solid is the boat in three dimensions; nil where the book has no offsets of the hull.
func Solid(e *engine.Engine, build *fit.Build, detail solid.Detail) (*solid.Mesh, error) {
	b := newBoat(e, build)
	if b == nil {
		return nil, nil
	}
	return b.solid(b.persons(), detail)
}

// solid is the boat in three dimensions, with persons at some places.
func (b *boat) solid(persons []float64, detail solid.Detail) (*solid.Mesh, error) {
	return solid.New(&solid.Boat{Boat: b.Boat, Drafts: b.drafts(), Persons: persons, Poles: b.poles(),
		Seats: drawing.Benches(b.Cockpit, b.beam()/2, b.helm), Seat: b.engine.Figures.SeatHeight(b.build.State),
		Slot: b.slot}, detail)
}

// slot is the identifier of the slot that decides on a part; "" for none.
func (b *boat) slot(part string) string {
	// the first that is aboard; where none is, touching the part leads to where one can be chosen
	found := ""
	for _, word := range slotWords[part] {
		for o := range b.engine.Pack.Options {
			def := &b.engine.Pack.Options[o]
			if def.Drawn != word {
				continue
			}
			slot := b.engine.Pack.Slots[def.Slot].ID
			if b.build.State.Counts[o] > 0 {
				return slot
			}
			if found == "" {
				found = slot
			}
		}
	}
	return found
}

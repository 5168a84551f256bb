package drawing

import "ribband/core/hull"

// Boat is what all views of a boat show: each draws of it what can be seen from where it looks.
type Boat struct {
	Name    string // for the title
	Offsets hull.Offsets

	Cockpit   Cockpit
	Top       Top
	Enclosure Enclosure
	Drive     Drive
	Fittings  []Fitting // of those that overlap the later one is drawn in front
	Paint
}

// Paint holds the colours of the boat's surfaces; blank: the usual one of the surface, unless it says otherwise.
type Paint struct {
	Hull, Bottom, Rail         Colour // topsides, below the water, rubbing strake
	Deck, Sole, Coaming, Cloth Colour // Cloth is that of a hood or a canopy
	Cushion                    Colour
	Stripe                     Colour // below the sheer; blank: none
	LaidDeck                   Colour // the timber of a laid deck; blank: the deck is not laid
	PlankedSole                bool   // the sole is of planks, in its colour
	BootTop                    *Band  // nil: none; the bottom's colour then ends at the water
}

// newLines checks the boat and gives its lines; nil with the fault noted where there are none.
func (b *Boat) newLines(k *check) *lines {
	l := newLines(k, b.Offsets)
	if k.err != nil {
		return nil
	}
	b.Cockpit.check(k, l)
	b.Top.check(k, l)
	b.Enclosure.check(k, b.Top)
	b.Drive.check(k, l)
	b.Paint.check(k, l)
	for _, f := range b.Fittings {
		f.check(k, l)
	}
	return l
}

func (p *Paint) check(k *check, l *lines) {
	for _, c := range []struct {
		of string
		c  Colour
	}{{"hull", p.Hull}, {"bottom", p.Bottom}, {"rail", p.Rail}, {"deck", p.Deck}, {"sole", p.Sole},
		{"coaming", p.Coaming}, {"cloth", p.Cloth}, {"cushions", p.Cushion}, {"stripe", p.Stripe},
		{"laid deck", p.LaidDeck}} {
		k.colour(c.of, c.c)
	}
	p.BootTop.check(k, "boot top", l)
}

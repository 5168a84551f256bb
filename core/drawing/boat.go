package drawing

import "ribband/core/hull"

// Boat is what all views of a boat show: each draws of it what can be seen from where it looks.
type Boat struct {
	// For the title.
	Name    string
	Offsets hull.Offsets

	Cockpit   Cockpit
	Top       Top
	Enclosure Enclosure
	Drive     Drive
	// Of those that overlap the later one is drawn in front.
	Fittings []Fitting
	Paint
}

// Paint holds the colours of the boat's surfaces; blank: the usual one of the surface, unless it says otherwise.
type Paint struct {
	// Topsides, below the water, rubbing strake.
	Hull, Bottom, Rail Colour
	// Cloth is that of a hood or a canopy.
	Deck, Sole, Coaming, Cloth Colour
	Cushion                    Colour
	// The piping along the hem of the cloth; blank: none apart from the outline.
	Edging Colour
	// Below the sheer; blank: none.
	Stripe Colour
	// The timber of a laid deck; blank: the deck is not laid.
	LaidDeck Colour
	// What these are made of; blank: of timber. A moulded coaming and a deck laid in cork have no grain.
	RailOf, CoamingOf, LaidDeckOf Surface
	// The sole is of planks, in its colour.
	PlankedSole bool
	// Nil: none; the bottom's colour then ends at the water.
	BootTop *Band
}

// decks is the colour in which the decks are seen from afar: that of the planks where they are laid.
func (p *Paint) decks() string { return p.LaidDeck.Or(p.Deck.Or(DeckIvory)) }

// newLines checks the boat and gives its lines; nil with the fault noted where there are none. Profile and plan check
// the same, so that a boat is drawn in both or in neither.
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

// check asks for colours that can be drawn. Nothing else gets into an attribute of the drawing, whatever a book says.
func (p *Paint) check(k *check, l *lines) {
	for _, c := range []struct {
		of string
		c  Colour
	}{{"hull", p.Hull}, {"bottom", p.Bottom}, {"rail", p.Rail}, {"deck", p.Deck}, {"sole", p.Sole},
		{"coaming", p.Coaming}, {"cloth", p.Cloth}, {"edging", p.Edging}, {"cushions", p.Cushion}, {"stripe", p.Stripe},
		{"laid deck", p.LaidDeck}} {
		k.colour(c.of, c.c)
	}
	p.BootTop.check(k, "boot top", l)
}

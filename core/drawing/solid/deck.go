package solid

import (
	"math"

	"ribband/core/drawing"
)

// deckSteps are those across half of a deck.
const deckSteps = 2

// deck adds the decks, the sides of the cockpit below them, and its sole: the edge of the opening is on the centre line
// fore and aft of it.
func (b *builder) deck() {
	deck, finish := b.Deck, Finish(0)
	if b.LaidDeck != "" {
		deck, finish = b.LaidDeck, grain(b.LaidDeckOf)
	}
	var decks, sides, floor [][]Vec
	// Of all frames first: whether the well goes on depends on the neighbours of a frame.
	half := make([]float64, len(b.frames)) // of the opening
	for i, x := range b.frames {
		half[i] = min(breadth(b.opening, x), 0.9*b.sheer[i].Y) // a narrow bow keeps some deck
	}
	for i, x := range b.frames {
		inner := b.onDeck(b.sheer[i], half[i])
		row := make([]Vec, deckSteps+1)
		for k := range row {
			row[k] = b.onDeck(b.sheer[i], lerp(inner.Y, b.sheer[i].Y, float64(k)/deckSteps))
		}
		// Exactly: the side of the hull and the sides of the cockpit begin there, and the shell has to be closed.
		row[0], row[deckSteps] = inner, b.sheer[i]
		decks = append(decks, row)
		// the well reaches to the frames beyond its ends, where its sides meet on the centre line
		if half[max(i-1, 0)] == 0 && half[i] == 0 && half[min(i+1, len(half)-1)] == 0 {
			continue
		}
		low := b.soleAt(x)
		side := make([]Vec, wellSteps+1)
		for k := range side {
			z := lerp(low, inner.Z, float64(k)/wellSteps)
			side[k] = Vec{x, min(b.wellHalf(x, z), inner.Y), z}
		}
		side[wellSteps] = inner
		sides = append(sides, side)
		floor = append(floor, []Vec{{x, 0, low}, side[0]})
	}
	b.patch(b.part(Deck, deck.Or(drawing.DeckIvory), finish), decks, mirror)
	inside := b.part(Deck, b.Deck.Or(drawing.DeckIvory), 0)
	b.patch(inside, sides, mirror)
	// A sole has planks of its own, whether the deck is laid or not.
	finish = 0
	if b.PlankedSole {
		finish = Grain
	}
	sole := b.part(Sole, b.Sole.Or(drawing.SoleGrey), finish)
	b.patch(sole, floor, mirror)
	b.seams(sole)
}

// grain is the finish of what may be timber or something else.
func grain(s drawing.Surface) Finish {
	if s.Grained() {
		return Grain
	}
	return 0
}

// onDeck is the place on deck at a distance from the centre line, m. A deck rises to the centre line by a twentieth of
// its half-breadth, as in the profile, but not at the transom, whose upper edge is straight.
func (b *builder) onDeck(sheer Vec, y float64) Vec {
	// Both ends are flat, since the hull ends there in a plane of its own.
	aft, fore := b.Ends()
	// Towards the stem it is flat as well: there the deck is too narrow for a rise of a millimetre.
	flat := min(1, (sheer.X-aft)/0.4, (fore-sheer.X)/0.1)
	share := y / sheer.Y
	// A parabola across, as a mould for deck beams is set out: common practice, no source.
	rise := float64(0.05 * sheer.Y * flat * (1 - float64(share*share)))
	return Vec{sheer.X, y, sheer.Z + rise}
}

// wellSteps are those of the sides of the cockpit from the sole to the deck.
const wellSteps = 3

// soleAt is the height of the sole at x: it rises where the bottom of the hull does.
func (b *builder) soleAt(x float64) float64 { return max(b.sole, b.section(x)[0].Z+0.05) }

// wellHalf is half the breadth of the cockpit at x and a height, m: that of its opening, and within the hull.
func (b *builder) wellHalf(x, z float64) float64 {
	return max(0, min(breadth(b.opening, x), at(b.section(x), z).Y-0.05))
}

// section is that of the body, which much on board asks for.
func (b *builder) section(x float64) []Vec {
	s, ok := b.sections[x]
	if !ok {
		s = b.body.section(x)
		b.sections[x] = s
	}
	return s
}

// breadth is half the breadth of an opening at x, straight between its points; 0 beyond its ends.
func breadth(opening []drawing.Point, x float64) float64 {
	// The ends of the opening are square to the boat, where two points have the same place; the first of them counts.
	for i := 1; i < len(opening); i++ {
		if p, q := opening[i-1], opening[i]; x >= p.X && x <= q.X && q.X > p.X {
			return lerp(p.Y, q.Y, (x-p.X)/(q.X-p.X))
		}
	}
	return 0
}

// seams are the lines between planks: sprung along the sheer on a laid deck, straight on a sole of planks. They lie a
// millimetre above it. A still picture, where they would run together, has every third.
func (b *builder) seams(sole int) {
	step := 1
	if !b.fine {
		step = 3
	}
	opening := b.Opening(0.03)
	if b.LaidDeck != "" {
		deck := b.part(Deck, string(b.LaidDeck), grain(b.LaidDeckOf))
		// Seen along the middle, where the planks of both sides meet.
		b.seam(deck, 0, func(i int) (Vec, bool) { // the king plank
			p := b.onDeck(b.sheer[i], 0)
			return p, breadth(opening, p.X) == 0
		})
		for k := 0; float64(k)*drawing.Plank < b.Widest(); k += step {
			inside := drawing.CoveringBoard + float64(float64(k)*drawing.Plank)
			b.seam(deck, inside, func(i int) (Vec, bool) {
				y := b.sheer[i].Y - inside
				p := b.onDeck(b.sheer[i], y)
				// They end at the king plank, and at the coaming.
				return p, y > 0.06 && y > breadth(opening, p.X)
			})
		}
	}
	if !b.PlankedSole {
		return
	}
	for k := 0; float64(k)*drawing.SolePlank < b.Widest(); k += step {
		// Half a plank from the middle, as in the plan: one lies on it.
		y := drawing.SolePlank * (float64(k) + 0.5)
		b.seam(sole, y, func(i int) (Vec, bool) {
			x := b.frames[i]
			return Vec{x, y, b.soleAt(x)}, y < b.wellHalf(x, b.soleAt(x))-0.01
		})
	}
}

// seam draws a line through the frames, in as many pieces as it is there.
func (b *builder) seam(part int, _ float64, place func(frame int) (Vec, bool)) {
	var line []Place
	// A line that is there at one frame alone is none.
	end := func() {
		if len(line) > 1 {
			b.m.Lines = append(b.m.Lines, Line{part, line})
		}
		line = nil
	}
	for i := range b.frames {
		p, there := place(i)
		if !there {
			end()
			continue
		}
		p.Z += 0.002
		line = append(line, round(p))
	}
	end()
}

// rail adds the rubbing strake along the sheer, 50 mm high as in the profile, and half as broad.
func (b *builder) rail() {
	part := b.part(Rail, b.Rail.Or(drawing.Timber), grain(b.RailOf))
	rows := make([][]Vec, len(b.sheer))
	for i, p := range b.sheer {
		// A little below the edge of the deck, whose line is seen above it.
		p.Z -= 0.008
		// Into the side by a centimetre, so that no gap is seen where the side is curved between two frames.
		rows[i] = []Vec{{p.X, max(0, p.Y-0.01), p.Z - 0.025}, {p.X, p.Y + 0.022, p.Z - 0.02}, {p.X, p.Y + 0.022, p.Z +
			0.02},
			{p.X, max(0, p.Y-0.01), p.Z + 0.02}}
	}
	b.closed(part, rows, capped|mirror)
}

// cockpit adds coaming, seats and cushions.
func (b *builder) cockpit() {
	b.coaming()
	for _, a := range b.Seats {
		top := b.seat
		// A boat without cushions has bare seats, as high as those with them: the book gives one height for both.
		if b.Cushion != "" {
			top -= cushionDepth
			b.seatBlock(Cushions, string(b.Cushion), a, top, b.seat, 0.008)
		}
		b.seatBlock(Seats, b.Deck.Or(drawing.DeckIvory), a, b.sole, top, 0)
	}
}

// seatBlock adds what fills an area between two heights, within the sides of the cockpit and some metres from them.
func (b *builder) seatBlock(name, colour string, a drawing.Area, from, to, inset float64) {
	var rows [][]Vec
	add := func(x float64) {
		half := func(z float64) float64 { return b.wellHalf(x, z) - 0.008 }
		// a seat along the side ends below where the side comes in under it
		low := max(from, b.soleAt(x))
		for edge := max(a.Port, -a.Starboard) + 0.03; low < to && half(low) < edge; {
			low += 0.02
		}
		port, starboard := max(a.Port, -half(to))+inset, min(a.Starboard, half(to))-inset
		if low > to-0.01 || starboard-port < 0.05 {
			return
		}
		rows = append(rows, []Vec{{x, max(a.Port+inset, -half(low)), low}, {x, port, to}, {x, starboard, to},
			{x, min(a.Starboard-inset, half(low)), low}})
	}
	// Its ends are square to the boat. The frames between follow the side where that is curved.
	add(a.Aft + inset + 0.03)
	for _, x := range b.frames {
		if x > a.Aft+inset+0.06 && x < a.Fore-inset-0.06 {
			add(x)
		}
	}
	add(a.Fore - inset)
	if len(rows) > 1 {
		b.closed(b.part(name, colour, 0), rows, capped)
	}
}

// coaming goes round the opening, 30 mm outside and 20 mm inside of its edge, as in the plan, and rises from the aft
// end as in the profile.
func (b *builder) coaming() {
	outer, inner := b.Opening(0.03), b.Opening(-0.02)
	c := b.Cockpit
	step := 1
	if !b.fine {
		step = 2
	}
	section := func(i int, side float64) []Vec {
		o, n := outer[i], inner[i]
		// Not to nothing at the aft end: it would lie in the deck, and be seen in patches.
		up := min(1, max(0.25, (o.X-c.Aft)/min(0.35, (c.Fore-c.Aft)/4)))
		height := float64(drawing.CoamingHeight * math.Sqrt(up))
		// It leans inwards, as the side of a coaming that is bent round does.
		top := b.SheerAt(o.X) + height
		foot := func(p drawing.Point) Vec {
			v := b.onDeck(Vec{p.X, b.HalfAt(p.X), b.SheerAt(p.X)}, p.Y)
			return Vec{v.X, side * v.Y, v.Z + 0.002}
		}
		return []Vec{foot(o), {o.X, side * lerp(o.Y, n.Y, 0.3), top}, {n.X, side * n.Y, top}, foot(n)}
	}
	// Round the opening, starboard forward and port back.
	var rows [][]Vec
	for i := 0; i < len(outer); i += step {
		rows = append(rows, section(i, 1))
	}
	for i := (len(outer) - 1) / step * step; i >= 0; i -= step {
		rows = append(rows, section(i, -1))
	}
	b.closed(b.part(Coaming, b.Coaming.Or(drawing.Timber), grain(b.CoamingOf)), rows, ring)
}

// below is a thing below seats and decks: as high as it usually is, on the bottom of the hull.
func (b *builder) below(name string, a drawing.Area, height float64) {
	middle := (a.Aft + a.Fore) / 2
	// The height of a motor or a bank is not in the book. It is seen from below or where it is asked for alone.
	floor := b.BottomAt(middle) + 0.03
	b.box(name, "#5d6f78", Hidden, a, floor, floor+height, 0)
}

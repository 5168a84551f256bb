package look

import (
	"slices"
	"strings"

	"ribband/core/drawing"
)

// Word is what an option may be on the drawing of the boat: a value of the key drawn of the book.
type Word struct {
	Word   string
	Means  string // what is drawn, for who writes the book
	Colour bool   // the colour of the option is shown, and so the book must give one
	Views  Views

	put func(*boat, *option) // sets the input of the drawing
}

// Views are the views of the boat in which something can be seen.
type Views uint8

// The views whose lines options change. The sections are those of the bare hull.
const (
	Side  Views = 1 << iota // the profile
	Above                   // the plan

	both = Side | Above
)

// String names the views.
func (v Views) String() string {
	var names []string
	for i, name := range []string{"profile", "plan"} {
		if v&(1<<i) != 0 {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

const coloured = true

// words are all that can be drawn. Of those that overlap on the drawing, and of those of which a boat shows only one,
// the later one wins.
var words = []Word{
	{"hull", "topsides", coloured, Side, func(b *boat, o *option) { b.Hull = o.colour }},
	{"stripe", "stripe below the sheer", coloured, Side, func(b *boat, o *option) { b.Stripe = o.colour }},
	{"boot-top", "boot top, from the hull field `boot_top_m` upwards", coloured, Side,
		func(b *boat, o *option) { b.BootTop = b.bootTop(o.colour) }},
	{"bottom", "bottom up to the boot top, else to the water", coloured, Side,
		func(b *boat, o *option) { b.Bottom = o.colour }},
	{"rail", "rubbing strake", coloured, both, func(b *boat, o *option) { b.Rail = o.colour }},
	{"deck", "decks", coloured, Above, func(b *boat, o *option) { b.Deck = o.colour }},
	{"laid-deck", "decks laid in planks of timber", coloured, Above,
		func(b *boat, o *option) { b.LaidDeck = o.colour }},
	{"coaming", "coaming round the cockpit", coloured, both, func(b *boat, o *option) { b.Coaming = o.colour }},
	{"sole", "cockpit sole", coloured, Above, func(b *boat, o *option) { b.Sole, b.PlankedSole = o.colour, false }},
	{"planked-sole", "cockpit sole of planks", coloured, Above,
		func(b *boat, o *option) { b.Sole, b.PlankedSole = o.colour, true }},
	{"cushion", "cushions of the seats", coloured, Above, func(b *boat, o *option) { b.Cushion = o.colour }},
	{"cloth", "cloth of a folding hood or a canopy", coloured, Side,
		func(b *boat, o *option) { b.Cloth = o.colour }},
	{"top-folding", "folding hood, and dashed where it is folded: its `heights` in the state folded", false, both,
		func(b *boat, o *option) { b.Top = b.top(drawing.FoldingHood, o) }},
	{"top-canopy", "canopy on a fixed frame", false, both,
		func(b *boat, o *option) { b.Top = b.top(drawing.Canopy, o) }},
	{"top-hard", "hard top", coloured, both, func(b *boat, o *option) { b.Top = b.top(drawing.HardTop, o) }},
	{"top-solar", "hard top with solar panels", coloured, both,
		func(b *boat, o *option) { b.Top = b.top(drawing.SolarTop, o) }},
	{"enclosure-front", "front window under the top", false, Side,
		func(b *boat, _ *option) { b.Enclosure = drawing.FrontEnclosure }},
	{"enclosure-sides", "side curtains under the top", false, Side,
		func(b *boat, _ *option) { b.Enclosure = drawing.SideEnclosure }},
	{"enclosure-full", "windows all round under the top", false, Side,
		func(b *boat, _ *option) { b.Enclosure = drawing.FullEnclosure }},
	{"drive-shaft", "propeller on a shaft, with a rudder", false, both,
		func(b *boat, _ *option) { b.Drive = drawing.Drive{Kind: drawing.Shaft} }},
	{"drive-leg", "leg below the hull", false, both,
		func(b *boat, _ *option) { b.Drive = drawing.Drive{Kind: drawing.Leg, X: b.along(driveAt)} }},
	{"drive-pod", "pod below the hull", false, both,
		func(b *boat, _ *option) { b.Drive = drawing.Drive{Kind: drawing.Pod, X: b.along(driveAt)} }},
	{"thruster", "tunnel of a bow thruster", false, Side, func(b *boat, _ *option) { b.fit(drawing.Thruster{}) }},
	{"dash", "dashboard", false, both, func(b *boat, _ *option) { b.fit(drawing.Dash{X: b.along(dashAt)}) }},
	{"table", "table in the cockpit", coloured, Above,
		func(b *boat, o *option) { b.fit(drawing.Table{Area: b.table(), Colour: o.colour}) }},
	{"wheel-side", "steering wheel to starboard", false, both, func(b *boat, _ *option) { b.steer(wheelOff * b.beam()) }},
	{"wheel-centre", "steering wheel on the centre line", false, both, func(b *boat, _ *option) { b.steer(0) }},
	{"tiller", "tiller on the aft deck", false, both, func(b *boat, _ *option) { b.fit(drawing.Tiller{}) }},
	{"motor", "motor below the seats, by its `place` and `extent`", false, Above, func(b *boat, o *option) {
		if a, ok := b.room(o); ok {
			b.fit(drawing.Motor{Area: a})
		}
	}},
	{"bank", "battery bank below the seats, by its `place` and `extent`", false, Above, func(b *boat, o *option) {
		if a, ok := b.room(o); ok {
			b.fit(drawing.Bank{Area: a})
		}
	}},
}

// Words are all that an option may be on the drawing.
func Words() []Word { return slices.Clone(words) }

// Find is the word of this name; false where nothing of that name is drawn.
func Find(name string) (Word, bool) {
	i := slices.IndexFunc(words, func(w Word) bool { return w.Word == name })
	if i < 0 {
		return Word{}, false
	}
	return words[i], true
}

// Table is the table of the words in the README of the book.
func Table() string {
	var b strings.Builder
	b.WriteString("| `drawn` | what it is | its colour | seen in |\n| --- | --- | --- | --- |\n")
	for _, w := range words {
		colour := ""
		if w.Colour {
			colour = "yes"
		}
		b.WriteString("| `" + w.Word + "` | " + w.Means + " | " + colour + " | " + w.Views.String() + " |\n")
	}
	return b.String()
}

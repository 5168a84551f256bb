package look

import (
	"slices"

	"ribband/core/drawing"
	"ribband/core/pack"
)

// Word is what an option may be on the drawing of the boat: a value of the key drawn of the book.
type Word struct {
	Word   string
	Means  string // what is drawn, for who writes the book
	Colour bool   // the colour of the option is shown, and so the book must give one
	// what is usually of this colour; an option may say otherwise
	Surface drawing.Surface
	Placed  bool // it lies where the option's place and extent say, and so the book must give both
	Views   Views
	Shape   bool // it is told from others by how it stands on the boat, and not by its colour

	put func(*boat, *option) // sets the input of the drawing; nil where the boat is drawn without it
}

// Views are the views of the boat in which something can be seen.
type Views uint8

// The views whose lines options change. The sections are those of the bare hull.
const (
	Side     Views = 1 << iota // the profile
	Above                      // the plan
	Cushions                   // no view of the boat, but the sections of its cushions

	both = Side | Above
)

// words are all that can be drawn. Of those that overlap on the drawing the later one lies in front; of those of which
// a boat shows one alone the later one stands.
//
// An entry is all that there is of a word: checks of the book, its README and the views follow from here. What it puts
// on the boat is drawn by core/drawing, which knows no options.
var words = []Word{
	{Word: "hull", Means: "topsides", Colour: true, Surface: drawing.OfGelcoat, Views: Side,
		put: func(b *boat, o *option) { b.Hull = o.colour }},
	{Word: "stripe", Means: "stripe below the sheer", Colour: true, Surface: drawing.OfGelcoat, Views: Side,
		put: func(b *boat, o *option) { b.Stripe = o.colour }},
	{Word: "boot-top", Means: "boot top, from the hull field `boot_top_m` " +
		"upwards", Colour: true, Surface: drawing.OfGelcoat, Views: Side,
		put: func(b *boat, o *option) { b.BootTop = b.bootTop(o.colour) }},
	{Word: "bottom", Means: "bottom up to the boot top, else to the " +
		"water", Colour: true, Surface: drawing.OfPaint, Views: Side,
		put: func(b *boat, o *option) { b.Bottom = o.colour }},
	{Word: "rail", Means: "rubbing strake", Colour: true, Surface: drawing.OfTimber, Views: both,
		put: func(b *boat, o *option) { b.Rail, b.RailOf = o.colour, o.of }},
	{Word: "deck", Means: "decks", Colour: true, Surface: drawing.OfGelcoat, Views: both,
		put: func(b *boat, o *option) { b.Deck = o.colour }},
	{Word: "laid-deck", Means: "decks laid in planks of timber", Colour: true, Surface: drawing.OfPlanks, Views: both,
		put: func(b *boat, o *option) { b.LaidDeck, b.LaidDeckOf = o.colour, o.of }},
	{Word: "coaming", Means: "coaming round the cockpit", Colour: true, Surface: drawing.OfTimber, Views: both,
		put: func(b *boat, o *option) { b.Coaming, b.CoamingOf = o.colour, o.of }},
	{Word: "sole", Means: "cockpit sole", Colour: true, Surface: drawing.OfPaint, Views: Above,
		put: func(b *boat, o *option) { b.Sole, b.PlankedSole = o.colour, false }},
	{Word: "planked-sole", Means: "cockpit sole of planks", Colour: true, Surface: drawing.OfPlanks, Views: Above,
		put: func(b *boat, o *option) { b.Sole, b.PlankedSole = o.colour, true }},
	{Word: "cushion", Means: "cushions of the seats", Colour: true, Surface: drawing.OfVinyl,
		Views: Above | Cushions,
		put:   func(b *boat, o *option) { b.Cushion = o.colour }},
	{Word: "piping", Means: "piping in the seams of cushions; without it their seams are plain", Colour: true,
		Surface: drawing.OfVinyl, Views: Cushions},
	{Word: "cloth", Means: "cloth of a folding hood or a canopy", Colour: true, Surface: drawing.OfCloth, Views: Side,
		put: func(b *boat, o *option) { b.Cloth = o.colour }},
	{Word: "edging", Means: "piping along the hem of that cloth", Colour: true, Surface: drawing.OfCloth, Views: Side,
		put: func(b *boat, o *option) { b.Edging = o.colour }},
	{Word: "top-folding", Means: "folding hood; dashed where its `heights` in the state `folded` alone have " +
		"it", Shape: true,
		Views: both,
		put:   func(b *boat, o *option) { b.Top = b.top(drawing.FoldingHood, o) }},
	{Word: "top-canopy", Means: "canopy on a fixed frame", Shape: true, Views: both,
		put: func(b *boat, o *option) { b.Top = b.top(drawing.Canopy, o) }},
	{Word: "top-hard", Means: "hard top", Shape: true, Colour: true, Surface: drawing.OfGelcoat, Views: both,
		put: func(b *boat, o *option) { b.Top = b.top(drawing.HardTop, o) }},
	{Word: "top-solar", Means: "hard top with solar panels", Shape: true, Colour: true, Surface: drawing.OfGelcoat,
		Views: both,
		put:   func(b *boat, o *option) { b.Top = b.top(drawing.SolarTop, o) }},
	{Word: "enclosure-front", Means: "front window under the top", Shape: true, Views: Side,
		put: func(b *boat, _ *option) { b.Enclosure = drawing.FrontEnclosure }},
	{Word: "enclosure-sides", Means: "side curtains under the top", Shape: true, Views: Side,
		put: func(b *boat, _ *option) { b.Enclosure = drawing.SideEnclosure }},
	{Word: "enclosure-full", Means: "windows all round under the top", Shape: true, Views: Side,
		put: func(b *boat, _ *option) { b.Enclosure = drawing.FullEnclosure }},
	{Word: "drive-shaft", Means: "propeller on a shaft, with a rudder", Shape: true, Views: both,
		put: func(b *boat, _ *option) { b.Drive = drawing.Drive{Kind: drawing.Shaft} }},
	{Word: "drive-leg", Means: "leg below the hull", Shape: true, Views: both,
		put: func(b *boat, _ *option) { b.Drive = b.below(drawing.Leg) }},
	{Word: "drive-pod", Means: "pod below the hull", Shape: true, Views: both,
		put: func(b *boat, _ *option) { b.Drive = b.below(drawing.Pod) }},
	{Word: "thruster", Means: "tunnel of a bow thruster", Views: Side,
		put: func(b *boat, _ *option) { b.fit(drawing.Thruster{}) }},
	{Word: "dash", Means: "dashboard", Views: both,
		put: func(b *boat, _ *option) { b.fit(drawing.Dash{X: b.along(dashAt)}) }},
	{Word: "table", Means: "table in the cockpit", Colour: true, Surface: drawing.OfTimber, Views: Above,
		put: func(b *boat, o *option) { b.fit(drawing.Table{Area: b.table(), Colour: o.colour, Of: o.of}) }},
	{Word: "wheel-side", Means: "steering wheel to starboard", Views: both,
		put: func(b *boat, _ *option) { b.steer(wheelOff * b.beam()) }},
	{Word: "wheel-centre", Means: "steering wheel on the centre line", Views: both,
		put: func(b *boat, _ *option) { b.steer(0) }},
	{Word: "tiller", Means: "tiller on the aft deck", Views: both,
		put: func(b *boat, _ *option) { b.fit(drawing.Tiller{}) }},
	{Word: "motor", Means: "motor below seats and decks, with a shaft drive its shaft", Placed: true, Views: Above,
		put: func(b *boat, o *option) { b.fit(drawing.Motor{Area: b.room(o)}) }},
	{Word: "bank", Means: "battery bank below seats and decks", Placed: true, Views: Above,
		put: func(b *boat, o *option) { b.fit(drawing.Bank{Area: b.room(o)}) }},
}

// Words are all that an option may be on the drawing, in the order in which they are drawn. The list is a copy.
func Words() []Word { return slices.Clone(words) }

// Swatch is a piece of what an option is made of, as an SVG; "" for one of which only its name can be shown.
func Swatch(o *pack.Option) (string, error) {
	if o.Colour == "" {
		return "", nil
	}
	return drawing.Swatch(surface(o), drawing.Colour(o.Colour))
}

// surface is what an option is made of: what the book says, or what is usual for what is drawn.
func surface(o *pack.Option) drawing.Surface {
	if w, _ := Find(o.Drawn); o.Surface == "" {
		return w.Surface
	}
	return drawing.Surface(o.Surface)
}

// Find is the word of this name; false where nothing of that name is drawn, and then the checker says which one is
// near.
func Find(name string) (Word, bool) {
	i := slices.IndexFunc(words, func(w Word) bool { return w.Word == name })
	if i < 0 {
		return Word{}, false
	}
	return words[i], true
}

package drawing

import (
	"fmt"
	"strings"

	"ribband/core/measure"
	"ribband/core/msg"
)

// Format is how a drawing is laid out.
type Format struct {
	// Begins every id of the drawing, so that several stand on one page; blank: the kind of drawing.
	ID string
	// User units, from 320 to 2000, one for a pixel; 0: 720.
	Width float64
	// What words and numbers of the drawing are written in; nil: English.
	Language *msg.Language
	// Units of ranges and speeds; blank: nautical miles and knots. The boat itself is drawn in metres.
	System measure.System
}

// Widths in user units, which are pixels on a screen at its usual size: 320 is the narrowest telephone.
const (
	usualWidth = 720.0
	leastWidth = 320.0
	mostWidth  = 2000.0
	narrow     = 520.0 // below it labels stand above things rather than beside them
)

// canvas makes the canvas of a kind of drawing. The id is checked since it gets into attributes and into references by
// url(#…), where few characters are safe.
func (f Format) canvas(kind string) (*canvas, error) {
	c := &canvas{id: f.ID, kind: kind, words: f.Language, system: f.System, width: f.Width}
	if c.words == nil {
		c.words = msg.English
	}
	if c.id == "" {
		c.id = c.key()
	}
	if c.width == 0 {
		c.width = usualWidth
	}
	if !(c.width >= leastWidth && c.width <= mostWidth) {
		return nil, fmt.Errorf("drawing the %s: the width is %v; give %v to %v units, or 0", kind, f.Width, leastWidth,
			mostWidth)
	}
	for i, r := range c.id {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || !strings.ContainsRune("0123456789-_", r)) {
			return nil, fmt.Errorf("drawing the %s: %.40q is no id; begin with a letter and use letters, digits, "+
				"- and _", kind, f.ID)
		}
	}
	return c, nil
}

// key is the kind of drawing as an id or a message may have it.
func (c *canvas) key() string { return strings.ReplaceAll(c.kind, " ", "-") }

// Numbers on a drawing: the sign before their decimals is the language's, how many there are is said here once.

// metres writes a length to the centimetre, which is as well as a hull is known before it is built. In a sentence it
// is a [msg.Quantity] with as many digits.
func (c *canvas) metres(v float64) string { return c.words.Quantity(v, "m", 2) }

// kilograms writes a mass as [kilos] has it.
func (c *canvas) kilograms(v float64) string { return c.words.Number(kilos(v), msg.Exact) + "\u00a0kg" }

// millimetres writes a size in the workshop: whole ones, from five digits with thousands set apart. Four digits stay
// together, as they stand on a rule.
func (c *canvas) millimetres(v float64) string {
	if v = measure.Round(v, 0); v >= 1e4 {
		return c.words.Grouped(v, 0)
	}
	return c.words.Number(v, 0)
}

// unit is what a reader sees of the unit that his system has in the place of another.
func (c *canvas) unit(id string) string {
	u, _ := measure.UnitOf(id)
	_, in := u.In(c.system, 0)
	return measure.SymbolOf(in)
}

// amount is an argument of a message: a number in the reader's unit, to a tenth, with its symbol.
func (c *canvas) amount(name string, v float64, unit string) msg.Arg {
	return msg.Text(name, c.words.Number(tenths(v), msg.Exact)+"\u00a0"+c.unit(unit))
}

// kilos is a mass to the kilogram, a small one to a tenth; it is written as it is.
func kilos(v float64) float64 {
	if v < 10 {
		return tenths(v)
	}
	return measure.Round(v, 0)
}

// tenths is a number to one decimal, for ranges, speeds and angles, which are not known better; it is written as it
// is, so that a whole one has no decimal.
func tenths(v float64) float64 { return measure.Round(v, 1) + 0 } // no minus zero

// yes is the choice of a message between saying something and not.
func yes(says bool) string {
	if says {
		return "yes"
	}
	return "no"
}

// Colour is a colour of the boat as #rrggbb; blank is the usual one of the thing.
type Colour string

// Or is the colour, or the usual one where it is blank.
func (c Colour) Or(usual string) string {
	if c == "" {
		return usual
	}
	return string(c)
}

// Colours of the page; the fallbacks serve a file that stands alone.
const (
	ink    = "var(--ink, #16262d)"
	soft   = "var(--soft, #52646a)"
	rule   = "var(--rule, #cfd3c9)"
	strong = "var(--strong, #98a39f)"
	water  = "var(--water, #17586a)"
	wood   = "var(--wood, #86481c)"
	paper  = "var(--sheet, #ffffff)"
	alarm  = "var(--alarm, #9c241c)"
)

// Usual colours of the boat.
const (
	HullWhite   = "#f4f3ee"
	Timber      = "#b07a4a"
	DeckIvory   = "#ece6d6"
	SoleGrey    = "#d3cfc2"
	ClothNavy   = "#2b3d58"
	CushionGrey = "#8a9aa3"
	BottomGrey  = "#5d4a45"
	Metal       = "#9aa5ab"
	dark        = "#1b2a30" // lines on the boat, whose colours do not change with the page
)

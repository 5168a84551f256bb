package drawing

import (
	"fmt"
	"math"
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
	// Units of lengths, ranges and speeds; blank: metres, nautical miles and knots.
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

// length writes a length in m beside a dimension line: to the centimetre, which is as well as a hull is known before it
// is built, or to the half inch. Feet and inches have their strokes there, which take little room.
func (c *canvas) length(v float64) string { return strokes.Replace(c.words.Length(v, c.system, 2)) }

var strokes = strings.NewReplacer("\u00a0ft", "′", "\u00a0in", "″")

// long is a length in a sentence, where feet and inches are words: who hears the page would hear strokes.
func (c *canvas) long(name string, v float64) msg.Arg {
	return msg.Text(name, c.words.Length(v, c.system, 2))
}

// foot in m, by definition.
const foot = 0.3048

// heights are round ones between two, m: 6 at most in feet and inches, at steps of 3, 6, 12 or more inches.
func (c *canvas) heights(low, high float64) (list []float64) {
	if c.system != measure.USCustomary {
		return Ticks(low, high, 6)
	}
	step := foot / 4
	for (high-low)/step > 6 {
		step *= 2
	}
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9; k++ {
		list = append(list, k*step)
	}
	return list
}

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

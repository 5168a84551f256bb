package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Surface is what something is made of, as the eye tells it: a colour alone does not say whether it shines, or has a
// grain.
type Surface string

// The surfaces.
const (
	OfGelcoat Surface = "gelcoat"
	OfFlakes  Surface = "metallic" // gelcoat with flakes of metal, and film of metal
	OfPaint   Surface = "paint"    // antifouling, and what else is matt
	OfTimber  Surface = "timber"
	OfPlanks  Surface = "planks" // timber, or what is laid like it, with seams
	OfCork    Surface = "cork"
	OfCloth   Surface = "cloth"
	OfVinyl   Surface = "vinyl"
	OfCarpet  Surface = "carpet"
)

// Surfaces are all of them.
func Surfaces() []Surface {
	return []Surface{OfGelcoat, OfFlakes, OfPaint, OfTimber, OfPlanks, OfCork, OfCloth, OfVinyl, OfCarpet}
}

// Grained says that it shows the grain of timber, which what nobody says otherwise of is made of.
func (s Surface) Grained() bool { return s == "" || s == OfTimber || s == OfPlanks }

// Size of a swatch, user units: as high as a line of text with a note below it.
const (
	swatchWidth  = 44.0
	swatchHeight = 30.0
)

// Swatch draws a piece of a surface in a colour, which stands beside its name and says nothing to who hears the page.
// It holds no id, so that a page may have any number of the same. The error names a surface or a colour that there is
// not.
func Swatch(s Surface, colour Colour) (string, error) {
	if !sixDigits(colour) {
		return "", fmt.Errorf(`drawing a swatch: %.20q is no colour; write it as "#1b3a5c"`, string(colour))
	}
	c := &canvas{kind: "swatch", width: swatchWidth, height: swatchHeight}
	w := &swatch{c, colour}
	c.rect(0, 0, c.width, c.height, "fill", string(colour))
	switch s {
	case OfGelcoat:
		w.gloss("0.3")
	case OfFlakes:
		w.gloss("0.3")
		w.flecks(40, "0.9", w.shade(0.5))
	case OfPaint: // no light comes back from it
	case OfTimber:
		w.grain()
	case OfPlanks:
		w.grain()
		for y := 0.5; y < c.height; y += 9.75 {
			c.line(pt{0, y}, pt{c.width, y}, "stroke", dark, "stroke-width", "1.2")
		}
	case OfCork:
		w.flecks(40, "1.8", w.shade(-0.3))
	case OfCloth:
		w.weave()
	case OfCarpet:
		w.flecks(42, "2", w.shade(-0.22))
		w.flecks(18, "1.4", w.shade(0.25))
	case OfVinyl:
		w.seam()
	default:
		return "", fmt.Errorf("drawing a swatch: %.40q is no surface; the surfaces are %v", string(s), Surfaces())
	}
	// an edge, so that white is seen on white
	c.rect(0.5, 0.5, c.width-1, c.height-1, "fill", "none", "stroke", strong)
	if c.bad != nil {
		return "", c.bad
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="swatch" width="%[1]v" height="%[2]v" `+
		`viewBox="0 0 %[1]v %[2]v" aria-hidden="true">`+"\n%[3]s</svg>\n", c.width, c.height, c.body.String()), nil
}

// sixDigits is the only form of a colour that gets into a drawing.
func sixDigits(c Colour) bool {
	return len(c) == 7 && c[0] == '#' && strings.Trim(string(c[1:]), "0123456789abcdef") == ""
}

// swatch is one that is being drawn.
type swatch struct {
	*canvas
	colour Colour
}

// shade is the colour lighter or darker by a share of what there is to white or black.
func (w *swatch) shade(by float64) Colour {
	n, _ := strconv.ParseUint(string(w.colour[1:]), 16, 32)
	part := func(shift uint) int {
		v, to := float64(n>>shift&255), 0.0
		if by > 0 {
			to = 255
		}
		return int(math.Round(v + float64((to-v)*math.Abs(by))))
	}
	return Colour(fmt.Sprintf("#%02x%02x%02x", part(16), part(8), part(0)))
}

// gloss is the light that a polished surface gives back: a broad stripe and a narrow one.
func (w *swatch) gloss(strength string) {
	for _, s := range [][2]float64{{8, 9}, {21, 3}} {
		p := w.pen().move(pt{s[0] + 10, 0}).to(pt{s[0] + s[1] + 10, 0}, pt{s[0] + s[1], w.height}, pt{s[0], w.height})
		w.path(p.String(), "fill", "#fff", "fill-opacity", strength)
	}
}

// grain are the lines of slow growth in a board sawn through its length, closer at one edge than at the other.
func (w *swatch) grain() {
	w.group("g", func() {
		for i := range 7 {
			y := 2 + float64(float64(i*i)*0.35) + float64(float64(i)*2.1)
			if y > w.height {
				break
			}
			sway := 1.2 + float64(0.3*float64(i%3))
			w.path(fmt.Sprintf("M0 %s C14 %s 26 %s 44 %s", w.number(y), w.number(y-sway), w.number(y+sway),
				w.number(y-0.4)))
		}
	}, "fill", "none", "stroke", string(w.shade(-0.3)), "stroke-width", "0.9")
}

// weave are the threads of a cloth, as far apart as the eye can still tell them.
func (w *swatch) weave() {
	const step = 2.5
	down, across := w.pen(), w.pen()
	for x := step / 2; x < w.width; x += step {
		down.move(pt{x, 0}).to(pt{x, w.height})
	}
	for y := step / 2; y < w.height; y += step {
		across.move(pt{0, y}).to(pt{w.width, y})
	}
	w.path(down.String(), "stroke", string(w.shade(-0.35)), "stroke-width", "0.5")
	w.path(across.String(), "stroke", string(w.shade(0.25)), "stroke-width", "0.5")
}

// seam is where two pieces of vinyl meet on a cushion: the crease, and a row of stitches on either side.
func (w *swatch) seam() {
	x := float64(w.width * 0.62)
	w.rect(x-5, 0, 10, w.height, "fill", string(w.shade(-0.12)))
	w.line(pt{x, 0}, pt{x, w.height}, "stroke", string(w.shade(-0.45)), "stroke-width", "1.4")
	for _, d := range []float64{-3.2, 3.2} {
		w.line(pt{x + d, 1}, pt{x + d, w.height}, "stroke", string(w.shade(0.4)), "stroke-dasharray", "2.6 1.6")
	}
}

// flecks lie in places that look random and are the same in every drawing.
func (w *swatch) flecks(n int, size string, colour Colour) {
	p := w.pen()
	for i := range n {
		// Steps by the plastic number: no two near each other, and no rows (R2 sequence; from memory).
		_, x := math.Modf(0.5 + float64(float64(i+1)*0.7548776662))
		_, y := math.Modf(0.5 + float64(float64(i+1)*0.5698402910))
		at := pt{float64(x * w.width), float64(y * w.height)}
		p.move(at).to(at) // a line of no length, whose round ends make the fleck
	}
	w.path(p.String(), "stroke", string(colour), "stroke-width", size, "stroke-linecap", "round")
}

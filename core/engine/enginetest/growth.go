package enginetest

import (
	"fmt"
	"math"
	"strings"
)

// Growth is a picture of how times grow with the options of a book, over logarithmic axes: on them linear growth is a
// line at one slope, whatever it is that grows.
type Growth struct {
	Unit        string // of the times
	Least, Most int    // powers of ten between which they lie
	// of the books, the smallest first
	Options []float64
	Series  []Series // the first has a line of linear growth through its first point
}

// Series are the times of one thing, one for each number of options; the largest books may be missing.
type Series struct {
	Title, Colour string
	Times         []float64
}

// The plane of the picture, in its units: titles of the series stand above it.
const (
	left, right = 70.0, 600.0
	height      = 440.0
	lineHeight  = 20
)

// SVG draws the picture. Three decades of options fit, from a hundred on.
func (g Growth) SVG() string {
	top := float64(40 + lineHeight*(len(g.Series)+1))
	x := func(options float64) float64 { return left + float64((right-left)*(decades(options)-2)/3) }
	y := func(time float64) float64 {
		return top + height - float64(height*(decades(time)-float64(g.Least))/float64(g.Most-g.Least))
	}
	var s strings.Builder
	draw := func(format string, args ...any) { fmt.Fprintf(&s, format+"\n", args...) }
	draw(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 %g" font-family="sans-serif" font-size="13">`,
		top+height+60)
	draw(`<title>Time over the number of options</title><rect width="640" height="%g" fill="white"/>`, top+height+60)
	draw(`<text x="10" y="20">%s</text><text x="%g" y="%g" text-anchor="end">Options of the book</text>`, g.Unit, right,
		top+height+40)
	// the grid: a line for each decade
	for v := 100.0; v <= 1e5; v *= 10 {
		draw(`<path d="M%.1f %g V%g" stroke="#ccd"/><text x="%.1f" y="%g" text-anchor="middle">%g</text>`, x(v), top,
			top+height, x(v), top+height+18, v)
	}
	for e := g.Least; e <= g.Most; e++ {
		v := math.Pow10(e)
		draw(`<path d="M%g %.1f H%g" stroke="#ccd"/><text x="%g" y="%.1f" text-anchor="end">%g</text>`, left, y(v),
			right, left-6, y(v)+4, v)
	}
	// each with its numbers, since nobody reads a logarithmic axis to a digit
	for i, r := range g.Series {
		at := 40 + lineHeight*i
		var path []string
		for k, t := range r.Times {
			path = append(path, fmt.Sprintf("%.1f %.1f", x(g.Options[k]), y(t)))
			draw(`<circle cx="%.1f" cy="%.1f" r="4.5" fill="%s"/><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`,
				x(g.Options[k]), y(t), r.Colour, x(g.Options[k])-9, y(t)-6, digits(t))
		}
		draw(`<path d="M%s" fill="none" stroke="%s" stroke-width="2"/>`, strings.Join(path, " L"), r.Colour)
		draw(`<path d="M90 %d h24" stroke="%s" stroke-width="2"/><text x="120" y="%d">%s</text>`, at, r.Colour, at+4,
			r.Title)
	}
	// what is steeper than this line a larger book makes dearer by the option
	first, last := g.Options[0], g.Options[len(g.Options)-1]
	from, at := g.Series[0].Times[0], 40+lineHeight*len(g.Series)
	draw(`<path d="M%.1f %.1f L%.1f %.1f" stroke="#888" stroke-dasharray="5 4"/>`, x(first), y(from), x(last),
		y(from*last/first))
	draw(`<path d="M90 %d h24" stroke="#888" stroke-dasharray="5 4"/><text x="120" y="%d">linear growth</text>`, at,
		at+4)
	// the same times give the same bytes, so that a kept picture can be compared
	draw(`</svg>`)
	return s.String()
}

// decades are those above one. The logarithm ends in a product, which a processor may join to the sum that follows.
func decades(v float64) float64 { return float64(math.Log10(v)) }

// digits are three of a time, and all of a long one before its point.
func digits(time float64) string {
	if time >= 1000 {
		return fmt.Sprintf("%.0f", time)
	}
	return fmt.Sprintf("%.3g", time)
}

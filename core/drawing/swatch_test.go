package drawing_test

import (
	"strings"
	"testing"

	"ribband/core/drawing"
)

// All surfaces stand in one file, to be looked at beside each other: a light and a dark piece of each.
func TestSwatchesAreAsKept(t *testing.T) {
	var all strings.Builder
	for _, s := range drawing.Surfaces() {
		for _, c := range []drawing.Colour{"#f4f3ee", "#b98a54", "#1f2f4a"} {
			svg, err := drawing.Swatch(s, c)
			if err != nil {
				t.Fatal(err)
			}
			if strings.Contains(svg, " id=") {
				t.Errorf("%s: two of it on one page would have the same id", s)
			}
			if n := len(svg); n > 1800 {
				t.Errorf("%s is drawn in %d bytes; a slot has a dozen of them", s, n)
			}
			if again, _ := drawing.Swatch(s, c); again != svg {
				t.Errorf("%s is drawn otherwise the second time", s)
			}
			all.WriteString(string(s) + " " + string(c) + "\n" + svg)
		}
	}
	compare(t, folder+"/swatches.txt", all.String())
}

// What gets into a drawing is a colour and a surface, and nothing that somebody may have written.
func TestSwatchRefusals(t *testing.T) {
	for _, c := range []struct {
		surface drawing.Surface
		colour  drawing.Colour
		want    string
	}{
		{drawing.OfCloth, `red" onload="x`, "is no colour"},
		{drawing.OfCloth, "#12345", "is no colour"},
		{drawing.OfCloth, "", "is no colour"},
		{"leather", "#123456", `"leather" is no surface; the surfaces are [gelcoat`},
		{"", "#123456", "is no surface"},
	} {
		if svg, err := drawing.Swatch(c.surface, c.colour); err == nil || svg != "" || !strings.Contains(err.Error(),
			c.want) {
			t.Errorf("%q in %q: %v, want %q", c.surface, c.colour, err, c.want)
		}
	}
}

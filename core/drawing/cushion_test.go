package drawing_test

import (
	"strings"
	"testing"

	"ribband/core/drawing"
)

// cushions are of each kind of foam, base and seam.
var cushions = []struct {
	name string
	in   drawing.Cushion
}{
	{"two layers, plain", drawing.Cushion{Cover: "#b4b2aa",
		Layers: []drawing.FoamLayer{{MM: 50, KgM3: 60}, {MM: 30, KgM3: 35}}}},
	{"three layers, piped", drawing.Cushion{Cover: "#26385a", Piping: "#f2f1ec",
		Layers: []drawing.FoamLayer{{MM: 40, KgM3: 60}, {MM: 30, KgM3: 45}, {MM: 30, KgM3: 25}}}},
	{"open foam", drawing.Cushion{Cover: "#f2f1ec", Layers: []drawing.FoamLayer{{MM: 80, KgM3: 30, Open: true}}}},
	{"thin, on a board", drawing.Cushion{Board: true, Piping: "#6b2532",
		Layers: []drawing.FoamLayer{{MM: 40, KgM3: 45}}}},
}

// elements are those of a name.
func elements(t *testing.T, svg, name string) (list []*element) {
	t.Helper()
	for _, e := range parse(t, svg) {
		if e.name == name {
			list = append(list, e)
		}
	}
	return list
}

func TestCushionsAreAsKept(t *testing.T) {
	var all strings.Builder
	for _, c := range cushions {
		svg, err := c.in.SVG()
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(svg, " id=") {
			t.Errorf("%s: two of it on one page would have the same id", c.name)
		}
		if n := len(svg); n > 4000 {
			t.Errorf("%s is drawn in %d bytes; a slot has five of them", c.name, n)
		}
		all.WriteString(c.name + "\n" + svg)
	}
	compare(t, folder+"/cushions.txt", all.String())
}

// Layers are as thick as they are, to the scale of all cushions: 0.42 units for 1 mm, drawn from the base up.
func TestLayersAreToScale(t *testing.T) {
	for _, c := range cushions {
		svg, err := c.in.SVG()
		if err != nil {
			t.Fatal(err)
		}
		e := elements(t, svg, "rect")
		below := 0.0
		for i, l := range c.in.Layers {
			h, y := number(t, e[i], "height"), number(t, e[i], "y")
			if near := h - 0.42*l.MM; near > 0.006 || near < -0.006 {
				t.Errorf("%s: layer %d of %v mm is %v units high", c.name, i+1, l.MM, h)
			}
			if i > 0 && (y+h-below > 0.011 || y+h-below < -0.011) {
				t.Errorf("%s: layer %d ends at %v, and the one below begins at %v", c.name, i+1, y+h, below)
			}
			below = y
		}
	}
}

// Denser foam has more lines, and open foam lines both ways.
func TestHatchFollowsDensity(t *testing.T) {
	lines := func(l drawing.FoamLayer) int {
		svg, err := drawing.Cushion{Layers: []drawing.FoamLayer{l}}.SVG()
		if err != nil {
			t.Fatal(err)
		}
		return strings.Count(elements(t, svg, "path")[0].attrs["d"], "M")
	}
	last := 0
	for _, kgM3 := range []float64{25, 30, 35, 45, 60, 80} {
		n := lines(drawing.FoamLayer{MM: 40, KgM3: kgM3})
		if n <= last {
			t.Errorf("foam of %v kg/m³ has %d lines, and lighter foam %d", kgM3, n, last)
		}
		last = n
	}
}

func TestCushionRefusals(t *testing.T) {
	sound := []drawing.FoamLayer{{MM: 50, KgM3: 60}}
	for _, c := range []struct {
		in   drawing.Cushion
		want string
	}{
		{drawing.Cushion{}, "no layers"},
		{drawing.Cushion{Layers: []drawing.FoamLayer{{MM: 0.05, KgM3: 60}}}, "layer 1 has 0.05 mm"},
		{drawing.Cushion{Layers: []drawing.FoamLayer{{MM: 50}}}, "a density above zero"},
		{drawing.Cushion{Layers: sound, Cover: `red" onload="x`}, "is no colour"},
		{drawing.Cushion{Layers: sound, Piping: "#12345"}, "is no colour"},
	} {
		if svg, err := c.in.SVG(); err == nil || svg != "" || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.in, err, c.want)
		}
	}
}

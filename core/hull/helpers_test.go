package hull_test

import (
	"math"
	"os"
	"testing"

	"github.com/goccy/go-yaml"

	"ribband/core/hull"
)

// near says that got is within tolerance of want; NaN is near nothing.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g ± %.2g", what, got, want, tolerance)
	}
}

// share says that got is within a share of want.
func share(t testing.TB, what string, got, want, part float64) {
	t.Helper()
	near(t, what, got, want, part*math.Abs(want))
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

type fataler interface {
	Helper()
	Fatal(args ...any)
}

func build(t fataler, o hull.Offsets) *hull.Hull {
	t.Helper()
	h, err := hull.New(o)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func at(t fataler, h *hull.Hull, draft, trim, heel float64) hull.Hydrostatics {
	t.Helper()
	y, err := h.At(draft, trim, heel)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

func float(t fataler, h *hull.Hull, l hull.Load, density float64) hull.Floating {
	t.Helper()
	f, err := h.Float(l, density)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// stations makes a hull of n equally spaced stations, each with the section that shape gives at a share of the length.
func stations(n int, length float64, shape func(share float64) (z, y []float64)) hull.Offsets {
	var o hull.Offsets
	for i := range n {
		s := float64(i) / float64(n-1)
		z, y := shape(s)
		o.Stations = append(o.Stations, hull.Station{X: length * s, Z: z, Y: y})
	}
	return o
}

// box is a barge with a flat bottom and vertical sides.
func box(length, beam, depth float64) hull.Offsets {
	return stations(11, length, func(float64) (z, y []float64) {
		return []float64{0, 0, depth / 2, depth}, []float64{0, beam / 2, beam / 2, beam / 2}
	})
}

// wedge is a prism with a V section: its half-breadth at the height z is beam/2·z/depth.
func wedge(length, beam, depth float64) hull.Offsets {
	return stations(11, length, func(float64) (z, y []float64) {
		return []float64{0, depth / 2, depth}, []float64{0, beam / 4, beam / 2}
	})
}

// wigley is Wigley's hull with m points below the waterline and a vertical side of half the draft above it:
// y = B/2·(1-(2x/L)²)·(1-(ζ/T)²) with x from midlength and ζ below the waterline.
func wigley(n, m int, length, beam, draft float64) hull.Offsets {
	return stations(n, length, func(s float64) (z, y []float64) {
		along := 1 - (2*s-1)*(2*s-1)
		for k := range m {
			zeta := 1 - float64(k)/float64(m-1)
			z = append(z, draft*(1-zeta))
			y = append(y, beam/2*along*(1-zeta*zeta))
		}
		return append(z, 1.5*draft), append(y, beam/2*along)
	})
}

// demo are the offsets of the demo hulls by their id.
func demo(t testing.TB) map[string]hull.Offsets {
	t.Helper()
	text, err := os.ReadFile("../../rules/offsets.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Offsets []struct {
			Hull         string `yaml:"hull"`
			hull.Offsets `yaml:",inline"`
		}
	}
	if err := yaml.UnmarshalWithOptions(text, &file, yaml.Strict()); err != nil {
		t.Fatal(err)
	}
	hulls := map[string]hull.Offsets{}
	for _, l := range file.Offsets {
		hulls[l.Hull] = l.Offsets
	}
	return hulls
}

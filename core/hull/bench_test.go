package hull_test

import (
	"testing"

	"ribband/core/hull"
)

// BenchmarkFloat floats the demo hulls upright and with a person off the centre line.
func BenchmarkFloat(b *testing.B) {
	for _, id := range []string{"sedge-46", "osier-76"} {
		h := build(b, demo(b)[id])
		for name, tcg := range map[string]float64{"upright": 0, "heeled": 0.04} {
			load := hull.Load{Mass: loadedMass[id] * 0.9, LCG: 0.44 * h.Length(), TCG: tcg, VCG: 0.5}
			b.Run(id+"/"+name, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := h.Float(load, hull.FreshWater); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkRightingLevers computes a curve of 19 heels.
func BenchmarkRightingLevers(b *testing.B) {
	h := build(b, demo(b)["rush-54"])
	var heels []float64
	for d := 0.0; d <= 90; d += 5 {
		heels = append(heels, degrees(d))
	}
	load := hull.Load{Mass: 1100, LCG: 2.4, VCG: 0.5}
	for b.Loop() {
		if _, err := h.RightingLevers(load, hull.FreshWater, heels); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRange(b *testing.B) {
	h := build(b, demo(b)["rush-54"])
	load := hull.Load{Mass: 1100, LCG: 2.4, VCG: 0.5}
	for b.Loop() {
		if _, err := h.Range(load, hull.FreshWater); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNew(b *testing.B) {
	o := demo(b)["rush-54"]
	for b.Loop() {
		if _, err := hull.New(o); err != nil {
			b.Fatal(err)
		}
	}
}

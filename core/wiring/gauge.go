package wiring

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Gauge is an American wire gauge by the number n of ASTM B258: 18 is AWG 18, 0 is 1/0, -1 is 2/0, -3 is 4/0.
type Gauge int

// SquareMillimetres is the section of one circular mil in mm².
//
// Formula: mm² = CM × 5.067075×10⁻⁴ (a circle of 0.001 in diameter).
// Source: ASTM B258.
const SquareMillimetres = 5.067075e-4

// Diameter is the diameter of the solid conductor in inches.
//
// Formula: d = 0.005 × 92^((36-n)/39), d in in.
// Valid: n from -3 (4/0) to 40. A stranded wire is thicker outside; this is the copper.
// Source: ASTM B258.
func (g Gauge) Diameter() float64 { return 0.005 * math.Pow(92, float64(36-g)/39) }

// CircularMils is the nominal section in circular mils.
//
// Formula: CM = (1000 d)², d in in.
// Valid: as [Gauge.Diameter].
// Source: ASTM B258. SAE wire may be thinner, see [Gauge.SAEMinimum].
func (g Gauge) CircularMils() float64 { return math.Pow(1000*g.Diameter(), 2) }

// Area is the nominal section in mm².
//
// Formula: mm² = CM × 5.067075×10⁻⁴.
// Valid: as [Gauge.Diameter].
// Source: ASTM B258.
func (g Gauge) Area() float64 { return g.CircularMils() * SquareMillimetres }

// saeMinimum is in circular mils. 18 to 10: found; 8 and larger: from memory. There is no size 3.
var saeMinimum = map[Gauge]float64{
	18: 1537, 16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 25910, 4: 37360,
	2: 62450, 1: 77790, 0: 98980, -1: 125100, -2: 158600, -3: 205500,
}

// SAEMinimum is the least section in circular mils that wire sold under this gauge may have; ok is false where there is
// none.
//
// Valid: AWG 18 to 4/0 without 3.
// Source: SAE J1127 and J1128; sizes 18 to 10 found, 8 and larger from memory. It is up to 11 % less than ASTM B258 and
// changes the size of a wire that is near its limit.
func (g Gauge) SAEMinimum() (cm float64, ok bool) {
	cm, ok = saeMinimum[g]
	return cm, ok
}

var gauges = []Gauge{18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3}

// Gauges lists the gauges of a boat's wiring, thinnest first.
func Gauges() []Gauge { return slices.Clone(gauges) }

// String writes the gauge as the trade does: "18", "1/0", "4/0".
func (g Gauge) String() string {
	if g > 0 {
		return strconv.Itoa(int(g))
	}
	return fmt.Sprintf("%d/0", 1-int(g))
}

// ParseGauge reads a gauge of [Gauges] as the trade writes it.
func ParseGauge(s string) (Gauge, error) {
	i := slices.IndexFunc(gauges, func(g Gauge) bool { return g.String() == s })
	if i < 0 {
		var names []string
		for _, g := range gauges {
			names = append(names, g.String())
		}
		return 0, fmt.Errorf("reading a wire gauge %.20q: give one of %s", s, strings.Join(names, ", "))
	}
	return gauges[i], nil
}

// sections of conductors in mm²; ISO/IEC 60228, from memory.
var sections = []float64{0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150}

// Sections lists the standard conductor sections in mm², thinnest first.
//
// Source: ISO/IEC 60228, from memory.
func Sections() []float64 { return slices.Clone(sections) }

// TableGauge is the thickest gauge that has no more copper than a section in mm²; its ampacity is safe for the section.
//
// Valid: from 0.823 mm² (AWG 18). ok is false below it.
// Source: common practice, no source; it errs to the safe side, since the table of ampacities knows gauges only.
func TableGauge(section float64) (g Gauge, ok bool) {
	for _, candidate := range gauges {
		if candidate.Area() <= section {
			g, ok = candidate, true
		}
	}
	return g, ok
}

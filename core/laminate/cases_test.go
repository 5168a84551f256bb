package laminate

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"
)

// materialCase is one case of testdata/materials.json, which names the source of each.
type materialCase struct {
	ID, Kind, Source, Status, Note, Skip string
	Inputs                               json.RawMessage
	Expected, Tolerance                  []float64
}

// inputs are those of all kinds of case; a case has those that its runner reads.
type inputs struct {
	Weights, Psi, Kilograms, Mils, Covers, Dimensions, Factors, Yields, Shares, Gravities []float64
	Kinds                                                                                 []Kind
	Boards                                                                                [][]float64
	Single, Span, Pressure, K2, Knots, Area, Factor, Convert, Cover, Pieces, Each         float64
	Printed                                                                               float64
	Coats                                                                                 int
}

var runners = map[string]func(t *testing.T, in inputs) []float64{
	"ply": runPly, "mixed plies": runMixed, "single skin": runSkin, "resin": runResin, "density": runDensity,
	"stack":       runStack,
	"least glass": runLeastGlass, "gelcoat cover": runCover, "gelcoat": runGelcoat, "wet-out": runWetOut,
	"antifouling":    runAntifouling,
	"bottom by beam": runByBeam, "bottom by length": runByLength, "antifouling factors": runFactors,
	"board feet": runBoardFeet,
	"cushion":    runCushion, "yield": runYield, "nominal": runNominal, "fibres": runFibres, "submerged": runSubmerged,
	"foam density": runFoamDensity, "wet-out covers": runCovers, "other areas": runOtherAreas,
	"trap: resin ratio": runTrapRatio, "trap: gelcoat": runTrapGelcoat, "trap: plywood": runTrapPlywood,
	"trap: factor 0": runTrapFactor, "trap: factors": runTrapFactors,
}

func TestPublishedCases(t *testing.T) {
	text, err := os.ReadFile("../../testdata/materials.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Note     string
		Statuses map[string]string
		Cases    []materialCase
	}
	decode(t, text, &file)
	seen := map[string]bool{}
	skipped := 0
	for _, c := range file.Cases {
		if seen[c.ID] || c.Source == "" || file.Statuses[c.Status] == "" {
			t.Errorf("case %s is there twice, or has no source or known status: %q, %q", c.ID, c.Source, c.Status)
		}
		seen[c.ID] = true
		if c.Skip != "" {
			skipped++
		}
		t.Run(c.ID, func(t *testing.T) { runCase(t, c) })
	}
	if len(file.Cases) != 37 || skipped != 5 {
		t.Errorf("%d cases with %d skipped, want 37 with 5", len(file.Cases), skipped)
	}
}

func runCase(t *testing.T, c materialCase) {
	if c.Skip != "" {
		t.Skip(c.Skip)
	}
	run, ok := runners[c.Kind]
	if !ok {
		t.Fatalf("kind %q has no runner", c.Kind)
	}
	var in inputs
	decode(t, c.Inputs, &in)
	got := run(t, in)
	if len(got) != len(c.Expected) {
		t.Fatalf("%v, want %v", got, c.Expected)
	}
	for i, v := range got {
		tolerance := c.Tolerance[0]
		if len(c.Tolerance) > 1 {
			tolerance = c.Tolerance[i]
		}
		if !(math.Abs(v-c.Expected[i]) <= tolerance) {
			t.Errorf("number %d is %v, want %v ± %v", i+1, v, c.Expected[i], tolerance)
		}
	}
}

func decode(t *testing.T, text []byte, into any) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatal(err)
	}
}

func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func wantError(t *testing.T, err error, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("error %v, want one with %q", err, part)
		}
	}
}

func runPly(t *testing.T, in inputs) (got []float64) {
	for i, w := range in.Weights {
		mm := must[float64](t)(PlyThickness(EGlass, w, in.Psi[i]))
		if back := must[float64](t)(GlassFor(mm, in.Psi[i])); math.Abs(back-w/1000) > 1e-12 {
			t.Errorf("%v mm is %v kg/m², want %v", mm, back, w/1000)
		}
		got = append(got, mm)
	}
	return got
}

func runMixed(t *testing.T, in inputs) []float64 {
	var plies []Ply
	total := 0.0
	for i, w := range in.Weights {
		plies = append(plies, Ply{Weight: w, Psi: in.Psi[i]})
		total += w
	}
	l := must[Laminate](t)(Stack("case", plies, HandSimple))
	mixed := must[float64](t)(PlyThickness(EGlass, total, l.Psi))
	if math.Abs(mixed-l.Thickness) > 1e-9 {
		t.Errorf("by the mixed psi %v mm, ply by ply %v mm", mixed, l.Thickness)
	}
	return []float64{l.Psi, must[float64](t)(PlyThickness(EGlass, total, in.Single)), l.Thickness}
}

func runSkin(t *testing.T, in inputs) []float64 {
	strength := must[float64](t)(FlexuralStrength(in.Psi[0]))
	panel := Panel{"case", in.Span, 1, in.Pressure, in.K2}
	mm := must[float64](t)(SkinThickness(panel, strength/2))
	return []float64{strength, strength / 2, mm, must[float64](t)(GlassFor(mm, in.Psi[0]))}
}

func runResin(t *testing.T, in inputs) (got []float64) {
	for _, psi := range in.Psi {
		ratio := must[float64](t)(ResinNeed(1, psi))
		if back := must[float64](t)(FractionOfRatio(ratio)); math.Abs(back-psi) > 1e-12 {
			t.Errorf("%v is a fraction of %v, want %v", ratio, back, psi)
		}
		got = append(got, ratio)
	}
	return got
}

func runDensity(t *testing.T, in inputs) (got []float64) {
	for _, psi := range in.Psi {
		got = append(got, must[float64](t)(Density(psi)))
	}
	return got
}

func runStack(t *testing.T, in inputs) []float64 {
	var plies []Ply
	for i, w := range in.Weights {
		plies = append(plies, Ply{Kind: in.Kinds[i], Weight: w})
	}
	l := must[Laminate](t)(Stack("case", plies, HandSimple))
	if byVolume := l.Total() / l.Thickness; math.Abs(byVolume-l.Density) > 1e-9 {
		t.Errorf("density %v, by volume %v", l.Density, byVolume)
	}
	return []float64{l.Glass, l.Resin, l.Total(), l.Thickness, l.Psi, l.Density}
}

func runLeastGlass(t *testing.T, in inputs) (got []float64) {
	for _, kg := range in.Kilograms {
		bottom, side, err := LeastGlass(kg, in.Knots, 1)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, bottom, side)
	}
	return got
}

func runCover(t *testing.T, in inputs) (got []float64) {
	for _, mils := range in.Mils {
		got = append(got, must[float64](t)(GelcoatCover(mils)))
	}
	return got
}

func runGelcoat(t *testing.T, in inputs) []float64 {
	got := runCover(t, in)
	const gallon, squareFoot = 3.785411784, 0.09290304
	for i, mils := range in.Mils {
		litres := 0.0254 * mils // a mm over a m² is a litre
		if byCover := gallon / got[i] / squareFoot; math.Abs(byCover-litres) > 1e-9 {
			t.Errorf("%v mil: %v l/m², by the cover %v", mils, litres, byCover)
		}
		got = append(got, litres)
	}
	return got
}

func runWetOut(t *testing.T, in inputs) []float64 {
	return []float64{in.Area / runCover(t, in)[0], must[float64](t)(WetOut(in.Area, in.Covers...))}
}

func runCovers(t *testing.T, in inputs) (got []float64) {
	for _, c := range in.Covers {
		got = append(got, must[float64](t)(WetOut(c, c)))
	}
	return got
}

func runAntifouling(t *testing.T, in inputs) []float64 {
	d := in.Dimensions
	feet := must[float64](t)(AntifoulingArea(d[0], d[1], d[2], in.Factor))
	litres := feet * in.Convert * float64(in.Coats) / in.Cover
	return []float64{feet, feet * in.Convert, litres, math.Ceil(litres)}
}

func runByBeam(t *testing.T, in inputs) []float64 {
	return []float64{must[float64](t)(BottomAreaByBeam(in.Dimensions[0], in.Dimensions[1]))}
}

func runByLength(t *testing.T, in inputs) (got []float64) {
	for _, lwl := range in.Dimensions {
		area := must[float64](t)(BottomAreaByLength(lwl))
		got = append(got, area, area*float64(in.Coats)/in.Cover)
	}
	return got
}

func runFactors(t *testing.T, in inputs) (got []float64) {
	d := in.Dimensions
	for _, f := range in.Factors {
		got = append(got, must[float64](t)(AntifoulingArea(d[0], d[1], d[2], f)))
	}
	return got
}

func runOtherAreas(t *testing.T, in inputs) []float64 {
	d := in.Dimensions
	return []float64{must[float64](t)(TopsidesArea(d[0], d[1], d[2])), must[float64](t)(DeckArea(d[0], d[1]))}
}

func runBoardFeet(t *testing.T, in inputs) (got []float64) {
	for _, b := range in.Boards {
		got = append(got, b[3]*must[float64](t)(BoardFeet(b[0], b[1], b[2])))
	}
	return got
}

func runCushion(t *testing.T, in inputs) []float64 {
	d := in.Dimensions
	bf := must[float64](t)(FoamBoardFeet(d[0], d[1], d[2]))
	if litres := d[0] * d[1] * d[2] * 0.016387064; math.Abs(litres/LitresPerBoardFoot-bf) > 1e-9 {
		t.Errorf("%v l are %v bf, want %v", litres, litres/LitresPerBoardFoot, bf)
	}
	return []float64{bf}
}

func runYield(t *testing.T, in inputs) (got []float64) {
	for _, y := range in.Yields {
		got = append(got, must[float64](t)(Rough(in.Pieces*in.Each, y)))
	}
	return got
}

func runNominal(t *testing.T, in inputs) (got []float64) {
	methods := []Method{HandSimple, HandComplex, Vacuum}
	for _, k := range []Kind{Mat, Roving, Multidirectional, Unidirectional} {
		for _, m := range methods {
			got = append(got, must[float64](t)(NominalFraction(k, m)))
		}
	}
	for _, r := range in.Shares {
		for _, m := range methods {
			got = append(got, must[float64](t)(NominalMixed(r, m)))
		}
	}
	return got
}

func runFibres(t *testing.T, _ inputs) []float64 {
	return []float64{must[float64](t)(PlyThickness(Carbon, 1000, 0.5)),
		must[float64](t)(PlyThickness(Aramid, 1000, 0.5))}
}

func runSubmerged(t *testing.T, in inputs) (got []float64) {
	for _, sg := range in.Gravities {
		got = append(got, must[float64](t)(SubmergedFactor(sg)))
	}
	return got
}

func runFoamDensity(*testing.T, inputs) []float64 { return []float64{FlotationDensity} }

// Trap 15: mat of 30 % glass takes 2.333 parts of resin; 2.5 parts are another fraction.
func runTrapRatio(t *testing.T, in inputs) []float64 {
	ratio := must[float64](t)(ResinNeed(1, 0.30))
	if ratio == in.Printed {
		t.Error("the printed ratio is reproduced")
	}
	return []float64{ratio, must[float64](t)(FractionOfRatio(in.Printed))}
}

// Trap 16: 0.15 in of gelcoat is refused, and the error gives the thickness that was meant.
func runTrapGelcoat(t *testing.T, in inputs) []float64 {
	_, err := GelcoatCover(in.Printed)
	wantError(t, err, "the wet thickness in mil is 150; give 5 to 40 mil", "15 mil is 0.015 in")
	wantError(t, CheckGelcoat(0.0254*in.Printed), "the wet thickness in mm is 3.81")
	return []float64{math.Round(0.381 / 25.4 * 1000)} // what a square metre takes at 15 mil: see E11
}

// Trap 17: plywood floats and takes away from what has to be held up.
func runTrapPlywood(t *testing.T, in inputs) []float64 {
	load := 198 + 200*must[float64](t)(SubmergedFactor(in.Gravities[0]))
	if math.Abs(load-in.Printed) < 1 {
		t.Error("the printed load is reproduced")
	}
	return []float64{load}
}

// Trap 18: a factor of 0 is refused, and 7 m have their own area.
func runTrapFactor(t *testing.T, in inputs) []float64 {
	_, err := AntifoulingArea(7, 2, 0.4, 0)
	wantError(t, err, "the factor is 0; give 0.5 to 1 as the paint maker says; 1 is no reduction")
	area := must[float64](t)(BottomAreaByLength(in.Dimensions[0]))
	if area == in.Printed {
		t.Error("the printed area is reproduced")
	}
	return []float64{area}
}

// Trap 19: the factor is a setting, so what is asked for is what comes out.
func runTrapFactors(t *testing.T, in inputs) []float64 {
	d := in.Dimensions
	full := must[float64](t)(AntifoulingArea(d[0], d[1], d[2], 1))
	motor := must[float64](t)(AntifoulingArea(d[0], d[1], d[2], 0.85))
	byBeam := must[float64](t)(BottomAreaByBeam(d[0], d[1]))
	if full/byBeam < 1.15 || full/motor < 1.15 {
		t.Errorf("%v, %v and %v m² agree", full, motor, byBeam)
	}
	return []float64{motor / full}
}

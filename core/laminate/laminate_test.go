package laminate

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// hull is an invented lay-up.
func hull() []Ply {
	return []Ply{{"skin mat", Mat, 300, 0}, {"mat", Mat, 450, 0}, {"roving", Roving, 600, 0}, {"mat", Mat, 450, 0}}
}

// Every number of every formula, replaced by what is no number, infinite, negative, zero or beyond reason.
func TestFormulasRefuse(t *testing.T) {
	formulas := map[string]struct {
		f    func(v []float64) error
		good []float64
	}{
		"ply": {func(v []float64) error { _, err := PlyThickness(EGlass, v[0], v[1]); return err },
			[]float64{450, 0.3}},
		"glass":   {func(v []float64) error { _, err := GlassFor(v[0], v[1]); return err }, []float64{5, 0.3}},
		"resin":   {func(v []float64) error { _, err := ResinNeed(v[0], v[1]); return err }, []float64{5, 0.3}},
		"ratio":   {func(v []float64) error { _, err := FractionOfRatio(v[0]); return err }, []float64{2}},
		"density": {func(v []float64) error { _, err := Density(v[0]); return err }, []float64{0.3}},
		"least": {func(v []float64) error { _, _, err := LeastGlass(v[0], v[1], v[2]); return err },
			[]float64{900, 6, 1}},
		"strength": {func(v []float64) error { _, err := FlexuralStrength(v[0]); return err }, []float64{0.3}},
		"skin": {func(v []float64) error {
			_,
				err := SkinThickness(Panel{"p", v[0], v[1], v[2], v[3]}, v[4])
			return err
		}, []float64{400, 1, 48, 0.5, 60}},
		"cover":   {func(v []float64) error { _, err := GelcoatCover(v[0]); return err }, []float64{15}},
		"wet-out": {func(v []float64) error { _, err := WetOut(v[0], 40, v[1]); return err }, []float64{100, 30}},
		"antifoul": {func(v []float64) error { _, err := AntifoulingArea(v[0], v[1], v[2], v[3]); return err },
			[]float64{5, 2, 0.4, 1}},
		"by length": {func(v []float64) error { _, err := BottomAreaByLength(v[0]); return err }, []float64{5}},
		"by beam":   {func(v []float64) error { _, err := BottomAreaByBeam(v[0], v[1]); return err }, []float64{5, 2}},
		"deck":      {func(v []float64) error { _, err := DeckArea(v[0], v[1]); return err }, []float64{5, 2}},
		"topsides": {func(v []float64) error { _, err := TopsidesArea(v[0], v[1], v[2]); return err },
			[]float64{5, 2, 0.6}},
		"foam": {func(v []float64) error { _, err := FlotationFoam(v[0], v[1], 0.1); return err },
			[]float64{0.3, 32}},
		"submerged": {func(v []float64) error { _, err := SubmergedFactor(v[0]); return err }, []float64{1.5}},
		"foam feet": {func(v []float64) error { _, err := FoamBoardFeet(v[0], v[1], v[2]); return err },
			[]float64{24, 72, 4}},
		"board": {func(v []float64) error { _, err := BoardFeet(v[0], v[1], v[2]); return err }, []float64{2, 6, 10}},
		"rough": {func(v []float64) error { _, err := Rough(v[0], v[1]); return err }, []float64{75, 0.8}},
		"part": {func(v []float64) error {
			_, err := NewSchedule([]Part{{Name: "hull", Area: v[0], Method: HandSimple,
				Plies: []Ply{{"m", Mat, v[1], v[2]}}}})
			return err
		}, []float64{14, 450, 0.3}},
	}
	for name, c := range formulas {
		if err := c.f(c.good); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for i := range c.good {
			for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e300, 5e-324} {
				if name == "part" && i == 2 && bad == 0 { // the nominal fraction
					continue
				}
				in := append([]float64(nil), c.good...)
				in[i] = bad
				err := c.f(in)
				if err == nil || !strings.Contains(err.Error(), "; give ") {
					t.Errorf("%s with %v at %d: %v", name, bad, i+1, err)
				}
			}
		}
	}
}

func TestRefusalsNameThePlace(t *testing.T) {
	nan := math.NaN()
	part := Part{Name: "hull", Area: 14, Method: HandSimple, Plies: hull()}
	schedule := func(change func(p *Part)) error {
		p := part
		change(&p)
		_, err := NewSchedule([]Part{p})
		return err
	}
	wantError(t, schedule(func(p *Part) { p.Laps = -0.1 }), `part 1, "hull": the share of laps is -0.1; give a share`)
	wantError(t, schedule(func(p *Part) { p.Offcuts = nan }), "the share of offcuts is NaN; give a share")
	wantError(t, schedule(func(p *Part) { p.ResinLoss = 3 }), "the share of resin lost is 3; give a share")
	wantError(t, schedule(func(p *Part) { p.Plies = nil }), `stacking laminate "hull": it has no plies; list each`)
	wantError(t, schedule(func(p *Part) { p.Method = "by spray" }), `ply 1, "skin mat"`,
		`the method "by spray" is unknown; give one of: hand, simple`)
	wantError(t, schedule(func(p *Part) { p.Plies = []Ply{{"x", "felt", 300, 0}} }),
		`the reinforcement "felt" is unknown; give one of: chopped strand mat`)
	wantError(t, schedule(func(p *Part) { p.Name = "" }), "it has no name of its own; name each part once")
	_, err := NewSchedule([]Part{part, part})
	wantError(t, err, `part 2, "hull": it has no name of its own`)
	_, err = PlyThickness("flax", 300, 0.3)
	wantError(t, err, `the fibre "flax" is unknown; give one of E-glass`)
	_, err = NominalMixed(1.1, HandSimple)
	wantError(t, err, "the share of mat R is 1.1; give")
	_, err = NominalMixed(0.5, "by spray")
	wantError(t, err, `the method "by spray" is unknown`)
	_, err = FlotationFoam(0.3, 32, nan)
	wantError(t, err, "the share of loss is NaN; give")
	_, err = CheckSkin(Panel{Name: "bottom"}, Laminate{})
	wantError(t, err, `checking panel "bottom": working out a strength: the glass fraction psi is 0; give`)
	_, err = CheckSkin(Panel{Name: "bottom"}, must[Laminate](t)(Stack("x", hull(), HandSimple)))
	wantError(t, err, `panel "bottom": the short span is 0 mm; give`)
	_, err = CheckGlass("side", Laminate{}, 1.2)
	wantError(t, err, `checking the glass of "side": the laminate's figure is 0 kg/m²; give`)
	_, err = CheckGlass("side", Laminate{Glass: 1}, nan)
	wantError(t, err, `checking the glass of "side": the least glass is NaN kg/m²; give`)
}

func TestSchedule(t *testing.T) {
	deck := []Ply{{"mat", Mat, 450, 0}, {"mat", Mat, 300, 0}}
	s := must[Schedule](t)(NewSchedule([]Part{
		{Name: "hull", Area: 10, Method: HandSimple, Plies: hull(), Laps: 0.1, Offcuts: 0.2, ResinLoss: 0.05},
		{Name: "deck", Area: 5, Method: HandSimple, Plies: deck},
	}))
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	near("glass of the hull", s.Rows[0].Glass, 1.8*11)
	near("resin of the hull", s.Rows[0].Resin, (1.2*7/3+0.65)*11)
	near("glass to cut", s.Rows[0].GlassToCut, 1.8*11*1.2)
	near("resin to mix", s.Rows[0].ResinToMix, 3.45*11*1.05)
	near("weight", s.Weight(), s.Rows[0].Weight()+0.75*(1+7./3)*5)
	near("glass of all", s.GlassToCut, 1.8*11*1.2+0.75*5)
	near("resin of all", s.ResinToMix, 3.45*11*1.05+0.75*7/3*5)
	if len(s.Cloths) != 4 || s.Caution.Empty() {
		t.Fatalf("%+v", s.Cloths)
	}
	near("mat 450", s.Cloths[1].Area, 2*10*1.1*1.2+5) // both plies of the hull and one of the deck
	near("mat 300 of the deck", s.Cloths[3].Area, 5)
}

func TestChecks(t *testing.T) {
	thin := must[Laminate](t)(Stack("thin", []Ply{{"mat", Mat, 900, 0}}, HandSimple))
	thick := must[Laminate](t)(Stack("thick", []Ply{{"mat", Mat, 3600, 0}}, HandSimple))
	panel := Panel{"bottom", 400, 1, 48.6, 0.5}
	bottom, _, err := LeastGlass(900, 6, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		laminate Laminate
		ok       bool
	}{{thin, false}, {thick, true}} {
		skin := must[Check](t)(CheckSkin(panel, c.laminate))
		glass := must[Check](t)(CheckGlass("bottom", c.laminate, bottom))
		if skin.OK != c.ok || glass.OK != c.ok || math.Abs(skin.Need-7.99) > 0.005 || skin.Caution.Empty() ||
			glass.Unit != "kg/m²" || skin.Unit != "mm" {
			t.Errorf("%+v\n%+v", skin, glass)
		}
	}
}

func TestFoamAndBoards(t *testing.T) {
	foam := must[Foam](t)(FlotationFoam(0.3, FlotationDensity, 0.1))
	if math.Abs(foam.Litres-330) > 1e-9 || math.Abs(foam.Kilograms-10.572) > 0.001 {
		t.Errorf("%+v", foam)
	}
	if thin := must[float64](t)(BoardFeet(0.75, 6, 10)); thin != 5 {
		t.Errorf("a board of 3/4 in has %v bf, want the 5 of one inch", thin)
	}
}

func anyPlies(t *rapid.T) []Ply {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Ply {
		p := Ply{Name: "drawn", Kind: rapid.SampledFrom([]Kind{Mat, Roving, Multidirectional, Unidirectional}).Draw(t,
			"kind"), Weight: rapid.Float64Range(50, 1500).Draw(t, "weight")}
		if rapid.Bool().Draw(t, "measured") {
			p.Psi = rapid.Float64Range(0.15, 0.75).Draw(t, "psi")
		}
		return p
	}), 1, 8).Draw(t, "plies")
}

// The mass of a laminate is that of its volume, its psi lies between those of its plies, and another ply makes it
// thicker.
func TestStackIsConsistent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plies := anyPlies(t)
		method := rapid.SampledFrom([]Method{HandSimple, HandComplex, Vacuum}).Draw(t, "method")
		l, err := Stack("drawn", plies, method)
		if err != nil {
			t.Fatal(err)
		}
		low, high := 1.0, 0.0
		for _, p := range l.Plies {
			low, high = min(low, p.Psi), max(high, p.Psi)
		}
		if math.Abs(l.Thickness*l.Density-l.Total()) > 1e-9*l.Total() || l.Psi < low*(1-1e-12) ||
			l.Psi > high*(1+1e-12) {
			t.Fatalf("%+v", l)
		}
		more, err := Stack("drawn", append(plies, Ply{Weight: 300, Kind: Mat}), method)
		if err != nil || more.Thickness <= l.Thickness || more.Total() <= l.Total() {
			t.Fatalf("%+v\nafter\n%+v, %v", more, l, err)
		}
	})
}

// What is bought is never less than what ends in the boat, and the cloth by area weighs what the rows say.
func TestScheduleAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []Part
		for i := range rapid.IntRange(1, 5).Draw(t, "parts") {
			some := rapid.Float64Range(0, 0.5)
			parts = append(parts, Part{
				Name: string(rune('a' + i)), Area: rapid.Float64Range(0.1, 40).Draw(t, "area"), Method: HandSimple,
				Plies: anyPlies(t),
				Laps:  some.Draw(t, "laps"), Offcuts: some.Draw(t, "offcuts"), ResinLoss: some.Draw(t, "loss"),
			})
		}
		s, err := NewSchedule(parts)
		if err != nil {
			t.Fatal(err)
		}
		cloth := 0.0
		for _, c := range s.Cloths {
			cloth += c.Area * c.Weight / 1000
		}
		if s.GlassToCut < s.Glass || s.ResinToMix < s.Resin || math.Abs(cloth-s.GlassToCut) > 1e-9*cloth {
			t.Fatalf("%v kg of cloth; %+v", cloth, s)
		}
	})
}

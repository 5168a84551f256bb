package quote_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/drawing"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/wiring"
)

const feet = 1 / 0.3048

func gauge(t *testing.T, name string) wiring.Gauge {
	t.Helper()
	g, err := wiring.ParseGauge(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// figureOf is a figure of the answered boat by its identifier.
func figureOf(t *testing.T, e *quote.Engine, a *quote.Answer, id string) float64 {
	t.Helper()
	i := slices.IndexFunc(e.Pack.Figures, func(f pack.Figure) bool { return f.ID == id })
	if i < 0 {
		t.Fatalf("the book has no figure %s", id)
	}
	return a.Build.State.Figures[i]
}

// Every wire on the sheet passes both tests by its own: the drop by K = 10.75 (ABYC E-11) and the ampacity (33 CFR 183.425), and its fuse
// protects it (33 CFR 183.455).
func TestLoomSatisfiesBothTests(t *testing.T) {
	e := demo()[pack.Yard]
	for name, s := range demoSpecs(t) {
		l := e.YardSheet(answer(t, e, s)).Loom
		if l == nil || len(l.Faults) > 0 || len(l.Circuits) < 4 || len(l.Wires) != 2*len(l.Circuits) || l.Caution != wiring.Caution {
			t.Fatalf("%s: loom %+v", name, l)
		}
		copper := 0.0
		for i, c := range l.Circuits {
			plus, minus := l.Wires[2*i], l.Wires[2*i+1]
			g := gauge(t, plus.AWG)
			needed, err := wiring.NeededCircularMils(c.Load, 2*c.OneWay*feet, c.Allowed)
			if err != nil || needed > 1.01*g.CircularMils() {
				t.Errorf("%s: %s: AWG %s has %.0f CM, the drop needs %.0f (%v)", name, c.Circuit, plus.AWG, g.CircularMils(), needed, err)
			}
			most, err := wiring.MostFuse(c.Ampacity, max(c.Volts, c.Peak))
			if err != nil || float64(c.Ampacity) < c.Load || c.Fuse > most || c.Fuse < c.Load || plus.Fuse != c.Fuse || minus.Fuse != 0 {
				t.Errorf("%s: %s: %d A carry %v A behind a fuse of %v A, at most %v (%v)", name, c.Circuit, c.Ampacity, c.Load, c.Fuse, most, err)
			}
			if plus.Circuit != c.Circuit || plus.Pole != "+" || minus.Pole != "-" || plus.AWG != minus.AWG || c.Share > 100*c.Allowed/c.Volts+0.01 {
				t.Errorf("%s: %s: wires %+v %+v", name, c.Circuit, plus, minus)
			}
			copper += plus.Copper + minus.Copper
		}
		if math.Abs(copper-l.Copper) > 0.02 {
			t.Errorf("%s: the wires hold %v kg of copper, the sheet says %v", name, copper, l.Copper)
		}
	}
}

// withCircuits is the small book with circuits.
func withCircuits(t *testing.T, text string) desks {
	return edited(t, edit{"boat.yaml", "hulls:\n  - id: teasel-48", "circuits:\n" + text + "hulls:\n  - id: teasel-48"})
}

// Case B7 of testdata/wiring.json by way of a book: 100 A over 10 ft there and back at 24 V and 3 %. The drop alone allows AWG 8; the current asks for AWG 6.
// Source: marine-wire page (answers AWG 6); 33 CFR 183.425 Table 5.
func TestLoomOfThePublishedCase(t *testing.T) {
	e := withCircuits(t, "  - {id: b7, title: Windlass, function: accessories, amps: 100, volts: 24, length_m: 5 * 0.3048, critical: true}\n")[pack.Yard]
	l := e.YardSheet(answer(t, e, teasel(t))).Loom
	if l == nil || len(l.Circuits) != 1 || l.Wires[0].AWG != "6" || l.Circuits[0].Decides != "ampacity" || math.Abs(l.Circuits[0].Needed-14930.6) > 1 {
		t.Errorf("%+v", l)
	}
	if c := l.Circuits[0]; c.LoadTrace.Formula != "100" || !strings.HasPrefix(c.LoadTrace.At, "boat.yaml:") || c.OneWayFrom.Formula != "5 * 0.3048" {
		t.Errorf("traces %+v", c)
	}
}

// A circuit that cannot be sized is named with its place; the others stay, and so does the sheet.
func TestLoomFaults(t *testing.T) {
	e := withCircuits(t, `  - {id: pump, title: Pump, function: pump, amps: 5, volts: 12, length_m: 2}
  - {id: heater, title: Heater, function: accessories, amps: "use.persons > 5 ? 900 : 9", volts: 12, length_m: 2}
`)[pack.Yard]
	s := teasel(t)
	l := e.YardSheet(answer(t, e, s)).Loom
	if len(l.Faults) > 0 || len(l.Circuits) != 2 {
		t.Errorf("%+v", l)
	}
	a := answer(t, e, s)
	a.Build.State.Use[0] = 6
	l = e.YardSheet(a).Loom
	if len(l.Faults) != 1 || !strings.HasPrefix(l.Faults[0], "boat.yaml:") || !strings.Contains(l.Faults[0], `sizing circuit "Heater"`) || len(l.Circuits) != 1 {
		t.Errorf("faults %q, circuits %+v", l.Faults, l.Circuits)
	}
}

// What the house circuits draw is what the options carry as hotel_w; pumps and horn, which run for moments, and the dash socket come on top.
func TestCircuitsAgreeWithTheHotelLoad(t *testing.T) {
	e := demo()[pack.Yard]
	for name, s := range demoSpecs(t) {
		a := answer(t, e, s)
		watts := 0.0
		for _, c := range e.YardSheet(a).Loom.Circuits {
			if c.Volts == 12 && !slices.Contains([]string{"bilge-pump", "horn", "dash-socket"}, c.ID) {
				watts += c.Load * c.Volts
			}
		}
		if want := figureOf(t, e, a, "hotel_w"); math.Abs(watts-want) > 0.7 { // loads are shown with two decimals
			t.Errorf("%s: the house circuits draw %v W, hotel_w is %v", name, watts, want)
		}
	}
}

// The main wire is that of the figures on every desk; the buyer has no loom.
func TestMainWireAgreesWithFigures(t *testing.T) {
	e, buyer := demo()[pack.Yard], demo()[pack.Buyer]
	for name, s := range demoSpecs(t) {
		a := answer(t, e, s)
		main := e.YardSheet(a).Loom.Wires[0]
		if main.Function != "drive" || figureOf(t, e, a, "main_mm2") != main.Section || figureOf(t, e, a, "main_fuse_a") != main.Fuse {
			t.Errorf("%s: main wire %+v, figures %v mm2 and %v A", name, main, figureOf(t, e, a, "main_mm2"), figureOf(t, e, a, "main_fuse_a"))
		}
		b := answer(t, buyer, s)
		if figureOf(t, buyer, b, "main_mm2") != main.Section || figureOf(t, buyer, b, "main_fuse_a") != main.Fuse || buyer.Loom(b.Build) != nil {
			t.Errorf("%s: the buyer's figures differ, or the buyer has a loom", name)
		}
	}
}

// Each wire of a loom is bought once, in the cable that the sheet names for its size: metres taken net are those of the loom, cable by cable.
func TestPropertyWiresBoughtAreThoseOfTheLoom(t *testing.T) {
	e := demo()[pack.Yard]
	wired := map[string]bool{}
	for _, src := range e.Pack.Trade.Sources {
		if strings.HasPrefix(src.Text, "wire: ") {
			wired[src.String()] = true
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a, err := e.Answer(anySpec(t, e.Pack, 8))
		if err != nil {
			t.Fatal(err)
		}
		y := e.YardSheet(a)
		if len(a.Build.Clashes) > 0 || len(y.Loom.Faults) > 0 {
			return // such a boat is not built
		}
		bought, loom := map[string]float64{}, map[string]float64{}
		for _, m := range y.Materials {
			if wired[m.Trace.At] {
				bought[m.Title] += m.BuiltIn.Float()
			}
		}
		for _, r := range y.Loom.Rolls {
			loom[r.Cable] += r.Length
		}
		for title := range loom {
			if math.Abs(bought[title]-loom[title]) > 0.05 || title == "" { // rolls are shown with two decimals
				t.Fatalf("%v m of %q are bought, the loom takes %v m", bought[title], title, loom[title])
			}
		}
		if len(bought) != len(loom) {
			t.Fatalf("bought are %v, the loom takes %v", bought, loom)
		}
	})
}

// The converter's feed is sized for its 360 W, and what hangs on it is no more, with pumps, horn and socket at once.
func TestConverterCarriesTheHouse(t *testing.T) {
	e := demo()[pack.Yard]
	for name, s := range demoSpecs(t) {
		a := answer(t, e, s)
		house, feed := 0.0, 0.0
		for _, c := range e.YardSheet(a).Loom.Circuits {
			if c.Volts == 12 {
				house += c.Load * c.Volts
			}
			if c.ID == "house-converter" {
				feed = 0.9 * c.Load * c.Volts
			}
		}
		if math.Abs(feed-360) > 0.5 || house > 360 {
			t.Errorf("%s: the converter gives %v W, the house draws %v W", name, feed, house)
		}
	}
}

// The rules over the figures of the wiring clash where they should: 10 kW need a fuse of 350 A, two AGM groups have 300 A.
func TestMainFuseWithinBankFuse(t *testing.T) {
	e := demo()[pack.Buyer]
	s := demoSpecs(t)["osier-76-plainest"]
	const reason = "The motor needs a larger fuse than the fuses of this bank."
	for motor, want := range map[string]bool{"motor-48-6": false, "motor-48-10": true} {
		s.Choices = map[string]map[string]int{"bank": {"bank-agm-48-20": 1}, "motor": {motor: 1}}
		a := answer(t, e, s)
		if got := slices.ContainsFunc(a.Build.Clashes, func(c fit.Clash) bool { return c.Reason == reason }); got != want {
			t.Errorf("%s with a fuse of %v A: clashes %v", motor, figureOf(t, e, a, "main_fuse_a"), a.Build.Clashes)
		}
	}
}

// The loom is among the pictures of the yard's sheet: what hangs on the bank, and what hangs on the converter.
func TestLoomPictures(t *testing.T) {
	e := demo()[pack.Yard]
	list, err := e.ForYard(answer(t, e, demoSpecs(t)["osier-76-fullest"]).Build)
	if err != nil {
		t.Fatal(err)
	}
	var titles []string
	for _, p := range list {
		if strings.HasPrefix(p.ID, "loom-") {
			titles = append(titles, p.Title)
			if !strings.Contains(p.SVG, "ISO 16315") || strings.Contains(p.SVG, "thruster") != (p.Title == "The loom at 48 V") {
				t.Errorf("%s lacks its caution, or has the circuits of another voltage", p.Title)
			}
		}
	}
	wantList(t, "looms", titles, []string{"The loom at 48 V", "The loom at 12 V"})
	e = small()[pack.Yard]
	if list, err := e.LoomPictures(answer(t, e, teasel(t)).Build, drawing.Format{}); err != nil || len(list) > 0 {
		t.Errorf("a book without circuits has a loom: %v", err)
	}
}

func BenchmarkLoom(b *testing.B) {
	e := demo()[pack.Yard]
	a := answer(b, e, demoSpecs(b)["osier-76-fullest"])
	b.ReportAllocs()
	for b.Loop() {
		e.Loom(a.Build)
	}
}

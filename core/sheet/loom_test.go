package sheet_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// withCircuits is the small book with circuits.
func withCircuits(t *testing.T, text string) enginetest.Desks {
	return enginetest.Edited(t, enginetest.Edit{"boat.yaml", "hulls:\n  - id: teasel-48",
		"circuits:\n" + text + "hulls:\n  - id: teasel-48"})
}

// Case B7 of testdata/wiring.json by way of a book: 100 A over 10 ft there and back at 24 V and 3 %. The drop alone
// allows AWG 8; the current asks for AWG 6.
// Source: marine-wire page (answers AWG 6); 33 CFR 183.425 Table 5.
func TestLoomOfThePublishedCase(t *testing.T) {
	e := withCircuits(t, "  - {id: b7, title: Windlass, function: accessories, amps: 100, volts: 24, "+
		"length_m: 5 * 0.3048, critical: true}\n")[pack.Yard]
	list := sheet.ForYard(e, enginetest.Answer(t, e, enginetest.Teasel(t)), quote.Details{}).Circuits
	if len(list) != 1 || list[0].Cable.AWG != "6" || list[0].Cable.Computed != 16 ||
		math.Abs(list[0].Needed-14930.6) > 1 {
		t.Errorf("%+v", list)
	}
	// What is bought carries its fuse of 125 A too: 25 mm2 counts as AWG 4, 160 A at 105 °C; AWG 6 carries 120 A.
	if c := list[0]; c.Cable.Bought != 25 || c.Cable.AllowedA != 160 || c.Fuse.Bought != 125 ||
		c.Cable.Decides.String() != "fuse" {
		t.Errorf("bought are %+v and %+v", c.Cable, c.Fuse)
	}
	if c := list[0]; c.LoadTrace.Formula != "100" || !strings.HasPrefix(c.LoadTrace.At, "boat.yaml:") ||
		c.OneWayFrom.Formula != "5 * 0.3048" {
		t.Errorf("traces %+v", c)
	}
}

// A circuit that cannot be sized is named with its place; the others stay, and so does the sheet.
func TestLoomFaults(t *testing.T) {
	e := withCircuits(t, `  - {id: pump, title: Pump, function: pump, amps: 5, volts: 12, length_m: 2}
  - {id: heater, title: Heater, function: accessories, amps: "use.persons > 5 ? 900 : 9", volts: 12, length_m: 2}
`)[pack.Yard]
	s := enginetest.Teasel(t)
	y := sheet.ForYard(e, enginetest.Answer(t, e, s), quote.Details{})
	if len(y.Loom.Faults) > 0 || len(y.Circuits) != 2 {
		t.Errorf("%+v", y.Loom)
	}
	a := enginetest.Answer(t, e, s)
	a.Build.State.Use[0] = 6
	y = sheet.ForYard(e, a, quote.Details{})
	if f := y.Loom.Faults; len(f) != 1 || !strings.HasPrefix(f[0], "boat.yaml:") ||
		!strings.Contains(f[0], `sizing circuit "Heater"`) || len(y.Circuits) != 1 {
		t.Errorf("faults %q, circuits %+v", f, y.Circuits)
	}
}

// What the house circuits draw is what the options carry as hotel_w; pumps and horn, which run for moments, and the
// dash socket come on top.
func TestCircuitsAgreeWithTheHotelLoad(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for name, s := range enginetest.DemoSpecs(t) {
		a := enginetest.Answer(t, e, s)
		watts := 0.0
		for _, c := range sheet.ForYard(e, a, quote.Details{}).Circuits {
			if c.Volts == 12 && !slices.Contains([]string{"bilge-pump", "horn", "dash-socket", "house-lead",
				"house-feed"}, c.ID) {
				watts += c.Load * c.Volts
			}
		}
		if want := enginetest.FigureOf(t, e, a, "hotel_w"); math.Abs(watts-want) > 0.7 { // loads have two decimals
			t.Errorf("%s: the house circuits draw %v W, hotel_w is %v", name, watts, want)
		}
	}
}

// The converter's feed is sized for its 360 W, and what hangs on it is no more, with pumps, horn and socket at once.
func TestConverterCarriesTheHouse(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for name, s := range enginetest.DemoSpecs(t) {
		a := enginetest.Answer(t, e, s)
		house, feed := 0.0, 0.0
		for _, c := range sheet.ForYard(e, a, quote.Details{}).Circuits {
			if c.Volts == 12 && c.ID != "house-lead" && c.ID != "house-feed" {
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

// What no cable and fuse carries is refused in a buyer's words, on every desk: three motors; and a bank whose lead
// needs a larger fuse than the yard keeps.
func TestTooMuchForTheLeads(t *testing.T) {
	for desk, e := range enginetest.Demo() {
		st := enginetest.Answer(t, e, enginetest.DemoSpecs(t)["osier-76-plainest"]).Build.State
		wantFaults := func(what string, p *pack.Pack, want ...string) {
			t.Helper()
			f, err := figures.Compile(p)
			if err != nil {
				t.Fatal(err)
			}
			f.Fill(st)
			said := func(f formula.Fault, want string) bool {
				return strings.HasPrefix(engine.FaultWords(f).String(), want)
			}
			if !slices.EqualFunc(st.Faults, want, said) {
				t.Errorf("%s, %s: %v", desk, what, st.Faults)
			}
		}
		few := *e.Pack // the motor of 6 kW has a fuse of 200 A, the lead one of 225 A
		few.Stock.Fuses = slices.DeleteFunc(slices.Clone(few.Stock.Fuses),
			func(f pack.FuseSize) bool { return f.Amps > 200 })
		for o := range e.Pack.Options {
			if e.Pack.Options[o].ID == "motor-48-6" && st.Counts[o] != 1 {
				t.Fatal("the plainest boat has another motor")
			}
		}
		for o := range e.Pack.Options {
			if e.Pack.Options[o].ID == "bow-thruster-tunnel" {
				st.Counts[o], st.Slots[e.Pack.Options[o].Slot] = 1, 1
			}
		}
		const leads = "Motor, thruster and house together would take more current than " +
			"the cables and fuses of this bank"
		wantFaults("a thruster, and no fuse above 200 A", &few, leads)
		for o := range e.Pack.Options {
			if e.Pack.Options[o].ID == "motor-48-6" {
				st.Counts[o] = 4
			}
		}
		wantFaults("four motors", e.Pack, "The motor would take more current than its cable and fuse carry.", leads)
	}
}

// The loom is among the pictures of the yard's sheet: what hangs on the bank, and what hangs on the converter; and the
// board of each.
func TestLoomPictures(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	list, err := sheet.Pictures(e, enginetest.Answer(t, e, enginetest.DemoSpecs(t)["osier-76-fullest"]).Build)
	if err != nil {
		t.Fatal(err)
	}
	var titles []string
	for _, p := range list {
		if strings.HasPrefix(p.ID, "loom-") {
			titles = append(titles, p.Title)
			if !strings.Contains(p.SVG, "ISO 16315") ||
				strings.Contains(p.SVG, "thruster") != strings.HasSuffix(p.Title, " at 48 V") {
				t.Errorf("%s lacks its caution, or has the circuits of another voltage", p.Title)
			}
		}
	}
	enginetest.WantList(t, "looms", titles, []string{"The loom at 48 V", "The loom at 12 V",
		"Board of the loom at 48 V", "Board of the loom at 12 V"})
	e = enginetest.Small()[pack.Yard]
	list, err = sheet.LoomPictures(e, enginetest.Answer(t, e, enginetest.Teasel(t)).Build, drawing.Format{})
	if err != nil || len(list) > 0 {
		t.Errorf("a book without circuits has a loom: %v", err)
	}
}

func BenchmarkLoom(b *testing.B) {
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(b, e, enginetest.DemoSpecs(b)["osier-76-fullest"])
	b.ReportAllocs()
	for b.Loop() {
		sheet.Loom(e, a.Build)
	}
}

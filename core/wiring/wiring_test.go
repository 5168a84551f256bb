package wiring

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// bilge is an invented circuit.
func bilge() Circuit {
	return Circuit{Name: "bilge pump", Function: Pump, Load: 6, Length: 3.2, Volts: 12, Critical: true, Insulation: 105}
}

func wantError(t *testing.T, err error, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("error %v, want one with %q", err, part)
		}
	}
}

func TestSizeRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(c *Circuit, r *Rules)
		want   string
	}{
		"no name": {func(c *Circuit, _ *Rules) { c.Name = "" }, "it has no name; name it"},
		"function": {func(c *Circuit, _ *Rules) { c.Function = "flux" },
			`the function "flux" is unknown; give one of: battery lead, main feed`},
		"load NaN": {func(c *Circuit, _ *Rules) { c.Load = math.NaN() },
			"the load is NaN A; give a number above zero"},
		"load zero":     {func(c *Circuit, _ *Rules) { c.Load = 0 }, "the load is 0 A; give"},
		"load infinite": {func(c *Circuit, _ *Rules) { c.Load = math.Inf(1) }, "the load is +Inf A; give"},
		"length":        {func(c *Circuit, _ *Rules) { c.Length = -1 }, "the length one way is -1 m; give"},
		"volts": {func(c *Circuit, _ *Rules) { c.Volts = math.NaN() },
			"the nominal voltage is NaN V; give"},
		"peak below nominal": {func(c *Circuit, _ *Rules) { c.Peak = 11 },
			"below the nominal 12 V or no number; give the charging voltage"},
		"peak NaN": {func(c *Circuit, _ *Rules) { c.Peak = math.NaN() }, "the highest voltage is NaN V"},
		"rating": {func(c *Circuit, _ *Rules) { c.Insulation = 70 },
			"the insulation rating is 70 °C; give one of 60, 75"},
		"bundle":   {func(c *Circuit, _ *Rules) { c.Bundled = -1 }, "-1 bundled conductors; give"},
		"parallel": {func(c *Circuit, _ *Rules) { c.Parallel = 9 }, "9 conductors side by side; give 1 to 4"},
		"fault": {func(c *Circuit, _ *Rules) { c.Fault = math.NaN() },
			"the fault current is NaN A; give what"},
		"margin": {func(_ *Circuit, r *Rules) { r.FuseMargin = math.NaN() },
			"the fuse margin is NaN; give a factor from 1 to 1.5"},
		"slack":              {func(_ *Circuit, r *Rules) { r.Slack = -1 }, "the slack is -1 m; give a length"},
		"too much for fuses": {func(c *Circuit, _ *Rules) { c.Load = 900 }, "split the load over more circuits"},
		"too much for wires": {func(c *Circuit, _ *Rules) { c.Load, c.Length = 400, 30 },
			"no single conductor carries 400 A over 30 m at 12 V; split the load"},
	} {
		t.Run(name, func(t *testing.T) {
			circuit, rules := bilge(), DefaultRules()
			c.change(&circuit, &rules)
			_, err := Size(circuit, rules)
			wantError(t, err, c.want)
			if strings.HasPrefix(name, "load") {
				wantError(t, err, `sizing circuit "bilge pump"`)
			}
			if _, sheet := NewSizer(rules, Stock{}).Sheet([]Circuit{circuit}); sheet == nil {
				t.Error("the loom sheet takes it")
			}
		})
	}
}

func TestFormulasRefuse(t *testing.T) {
	three := map[string]func(a, b, c float64) (float64, error){
		"circular mils": NeededCircularMils, "section": NeededSection, "German": NeededSectionGerman, "drop": DropISO,
		"fuse": func(a, _, _ float64) (float64, error) { return FuseFor(a, 1.25) },
	}
	for name, f := range three {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e300, 5e-324} {
			for i := range 3 {
				in := [3]float64{1, 1, 1}
				in[i] = bad
				if name == "fuse" && i > 0 {
					continue
				}
				if got, err := f(in[0], in[1], in[2]); err == nil ||
					!strings.Contains(err.Error(), "give a number above zero") || got != 0 {
					t.Errorf("%s of %v: %v, %v", name, in, got, err)
				}
			}
		}
	}
	_, err := MostFuse(0, 12)
	wantError(t, err, "the ampacity is 0 A; give")
	_, err = MostFuse(10, math.NaN())
	wantError(t, err, "the voltage is NaN V; give")
	_, err = FuseFor(10, 2)
	wantError(t, err, "the margin is 2; give a factor")
	_, err = Ampacity(5, 105, false)
	wantError(t, err, "there is no row for AWG 5; give a gauge")
	_, err = Ampacity(4, 100, false)
	wantError(t, err, "there is no column for 100 °C; give one of")
	_, err = ParseGauge("5/0")
	wantError(t, err, `reading a wire gauge "5/0": give one of 18, 16`)
}

func TestMostFuseAtFiftyVolts(t *testing.T) {
	for _, c := range []struct {
		ampacity int
		volts    float64
		want     float64
	}{
		{100, 49.9, 150},
		{100, 50, 100}, // a standard size itself
		{95, 50, 100},  // the next standard size up
		{120, 58.4, 125},
		{3000, 60, 3000}, // no standard size above it
	} {
		if got, err := MostFuse(c.ampacity, c.volts); err != nil || got != c.want {
			t.Errorf("%d A at %v V: %v, %v; want %v", c.ampacity, c.volts, got, err, c.want)
		}
	}
}

// A 48 V bank charges above 50 V: with its highest voltage given, the stricter fuse rule asks for a thicker wire.
func TestPeakVoltageBringsTheStricterRule(t *testing.T) {
	c := Circuit{Name: "drive", Function: Drive, Load: 115, Length: 1.2, Volts: 48, Critical: true, Insulation: 105}
	nominal := must[Choice](t)(Size(c, DefaultRules()))
	c.Peak = 58.4
	peak := must[Choice](t)(Size(c, DefaultRules()))
	if nominal.AWG.Gauge != 6 || nominal.AWG.Decides.String() != "ampacity" || peak.AWG.Gauge != 4 ||
		peak.AWG.Decides.String() != "fuse" || peak.Fuse != 150 {
		t.Errorf("nominal AWG %s by %s, peak AWG %s by %s, fuse %v", nominal.AWG.Gauge, nominal.AWG.Decides,
			peak.AWG.Gauge, peak.AWG.Decides, peak.Fuse)
	}
}

func TestSmallestSizeAllowed(t *testing.T) {
	c := Circuit{Name: "cabin light", Function: CabinLights, Load: 0.4, Length: 2, Volts: 12, Insulation: 105}
	open := must[Choice](t)(Size(c, DefaultRules()))
	c.Sheathed = true
	sheathed := must[Choice](t)(Size(c, DefaultRules()))
	const decides = "the smallest size allowed"
	if open.AWG.Gauge != 16 || open.AWG.Decides.String() != decides || open.Metric.Section != 1.5 ||
		sheathed.AWG.Gauge != 18 ||
		sheathed.Metric.Section != 1 || sheathed.AWG.Decides.String() != decides {
		t.Errorf("open %+v\nsheathed %+v", open, sheathed)
	}
}

func TestNotesTellOfACriticalCircuit(t *testing.T) {
	c := bilge()
	if ch := must[Choice](t)(Size(c, DefaultRules())); ch.Notes != nil {
		t.Errorf("notes %q", ch.Notes)
	}
	c.Critical = false
	if ch := must[Choice](t)(Size(c, DefaultRules())); len(ch.Notes) != 1 ||
		!strings.Contains(ch.Notes[0].String(), "3 % drop, not 10 %") {
		t.Errorf("notes %q", ch.Notes)
	}
}

func TestSheet(t *testing.T) {
	light := Circuit{Name: "stern light", Function: NavigationLights, Load: 0.5, Length: 4, Volts: 12, Critical: true,
		Insulation: 105, From: "switch panel", To: "taffrail"}
	z := NewSizer(DefaultRules(), Stock{})
	loom := must[Loom](t)(z.Sheet([]Circuit{bilge(), light}))
	if len(loom.Wires) != 4 || loom.Caution.String() != Caution.String() || len(loom.Sized) != 2 ||
		math.Abs(loom.Length-2*(3.35+4.15)) > 1e-9 {
		t.Fatalf("%+v", loom)
	}
	plus, minus := loom.Wires[2], loom.Wires[3]
	if plus.Colour != DarkGrey || plus.Fuse != 1 || plus.Ends[0].Place.String() != "switch panel" ||
		plus.Ends[1].Place.String() != "taffrail" || plus.Place.String() == "" {
		t.Errorf("%+v", plus)
	}
	if minus.Colour != "black" || minus.Fuse != 0 || minus.Ends[0].Place.String() != "negative bus "+
		"bar" || minus.Place.String() != "" ||
		minus.Positive {
		t.Errorf("%+v", minus)
	}
	if want := 1.5 * 4.15 * 8.89e-3; math.Abs(plus.Copper-want) > 1e-12 {
		t.Errorf("%v kg, want %v", plus.Copper, want)
	}
	copper, length := 0.0, 0.0
	for _, r := range loom.Rolls {
		copper, length = copper+r.Copper, length+r.Length
	}
	if math.Abs(copper-loom.Copper) > 1e-12 || math.Abs(length-loom.Length) > 1e-9 {
		t.Errorf("rolls hold %v kg and %v m, the loom %v and %v", copper, length, loom.Copper, loom.Length)
	}
	if len(loom.Terminals) != 1 || loom.Terminals[0].N != 8 || len(loom.Fuses) != 2 ||
		loom.Fuses[0].Article.String() != "Fuse 1 A" {
		t.Errorf("terminals %v, fuses %v", loom.Terminals, loom.Fuses)
	}
	_, err := z.Sheet([]Circuit{bilge(), bilge()})
	wantError(t, err, `circuit 2 of 2: the name "bilge pump" is there twice; give each`)
}

func TestFunctionsHaveColours(t *testing.T) {
	for _, f := range []Function{BatteryLead, MainFeed, Drive, Charger, NavigationLights, CabinLights, Pump, Blower,
		Instruments, Accessories} {
		if c, err := ColoursOf(f); err != nil || c.Positive == "" || c.Positive == c.Negative {
			t.Errorf("%s: %+v, %v", f, c, err)
		}
	}
	for section, want := range map[float64]string{1: "red", 1.5: "blue", 2.5: "blue", 4: "yellow", 6: "yellow",
		10: "lug, 10 mm²", 150: "lug, 150 mm²"} {
		if got := TerminalOf(section).Words().String(); !strings.Contains(got, want) {
			t.Errorf("%v mm² ends in %q, want %q", section, got, want)
		}
	}
}

func anyCircuit(t *rapid.T) Circuit {
	c := Circuit{
		Name: "drawn", Function: rapid.SampledFrom(functions).Draw(t, "function").Function,
		Load: rapid.Float64Range(0.01, 300).Draw(t, "load"), Length: rapid.Float64Range(0.1, 10).Draw(t, "length"),
		Volts:       rapid.SampledFrom([]float64{12, 24, 36, 48, 72, 96}).Draw(t, "volts"),
		Critical:    rapid.Bool().Draw(t, "critical"),
		EngineSpace: rapid.Bool().Draw(t, "engine space"), Insulation: rapid.SampledFrom(ratings).Draw(t, "rating"),
		Sheathed: rapid.Bool().Draw(t, "sheathed"), Bundled: rapid.IntRange(0, 30).Draw(t, "bundled"),
	}
	if rapid.Bool().Draw(t, "charging") {
		c.Peak = 1.2 * c.Volts
	}
	return c
}

// A size satisfies every test, its fuse protects the wire, and one size less would fail.
func TestSizesSatisfyEveryTest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCircuit(t)
		rules := DefaultRules()
		rules.SAE = rapid.Bool().Draw(t, "SAE")
		ch, err := Size(c, rules)
		if err != nil {
			return
		}
		for _, p := range []Pick{ch.AWG, ch.Metric} {
			if f := names(fails(&ch, &p)); len(f) > 0 {
				t.Fatalf("%+v fails %v", p, f)
			}
			if p.Drop > ch.AllowedDrop*(1+1e-12) || float64(p.Ampacity) < c.Load || ch.Fuse > p.MostFuse ||
				ch.Fuse < 1.25*c.Load {
				t.Fatalf("%+v\nof %+v", p, ch)
			}
			if p.MostFuse > 1.5*float64(p.Ampacity) || p.Decides.String() == "" || math.IsNaN(p.Share+p.Drop) {
				t.Fatalf("%+v", p)
			}
		}
		awg, _ := candidates(rules)
		thinner := awg[0]
		for _, k := range awg {
			if k.gauge > ch.AWG.Gauge {
				thinner = k
			}
		}
		if thinner.gauge > ch.AWG.Gauge {
			if again, err := pick(&ch, []candidate{thinner}, 0, byPractice); err == nil {
				t.Fatalf("AWG %s would do", again.Gauge)
			}
		}
	})
}

// A bigger load, a longer run, a hotter place or a fuller bundle never gives a thinner wire.
func TestMoreNeverGivesAThinnerWire(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyCircuit(t)
		b := a
		b.Load *= rapid.Float64Range(1, 2).Draw(t, "more load")
		b.Length *= rapid.Float64Range(1, 2).Draw(t, "longer")
		b.EngineSpace = b.EngineSpace || rapid.Bool().Draw(t, "hotter")
		b.Bundled += rapid.IntRange(0, 5).Draw(t, "fuller")
		b.Critical = b.Critical || rapid.Bool().Draw(t, "more critical")
		small, err := Size(a, DefaultRules())
		big, err2 := Size(b, DefaultRules())
		if err != nil && err2 == nil {
			t.Fatalf("%+v cannot be sized, but %+v can", a, b)
		}
		if err != nil || err2 != nil {
			return
		}
		if big.AWG.Gauge > small.AWG.Gauge || big.Metric.Section < small.Metric.Section || big.Fuse < small.Fuse {
			t.Fatalf("%+v\nis thinner than\n%+v", big, small)
		}
	})
}

// The copper of a loom is never negative and grows with each circuit.
func TestLoomGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var circuits []Circuit
		last := 0.0
		for i := range rapid.IntRange(1, 6).Draw(t, "circuits") {
			c := anyCircuit(t)
			c.Name = string(rune('a' + i))
			next := append(circuits[:len(circuits):len(circuits)], c)
			loom, err := NewSizer(DefaultRules(), Stock{}).Sheet(next)
			if err != nil {
				continue
			}
			circuits = next
			if !(loom.Copper > last) || len(loom.Wires) != 2*len(circuits) {
				t.Fatalf("%v kg after %v kg, %d wires", loom.Copper, last, len(loom.Wires))
			}
			last = loom.Copper
		}
	})
}

func BenchmarkSize(b *testing.B) {
	c := Circuit{Name: "drive", Function: Drive, Load: 347, Length: 3.8, Volts: 48, Peak: 57.6, Critical: true,
		Insulation: 125}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(c, DefaultRules()); err != nil {
			b.Fatal(err)
		}
	}
}

package wiring

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"
)

// wiringCase is one case of testdata/wiring.json, which names the source of each.
type wiringCase struct {
	ID, Kind, Source, Status, Note, Skip string
	Inputs                               json.RawMessage
	Expected, Tolerance                  []float64
}

// inputs are those of all kinds of case; a case has those that its runner reads.
type inputs struct {
	Amps, Feet, Metres, Volts, Share, Drop, Section, Needed, Printed float64
	B258, SAE, Decides                                               string
	WithAmpacity                                                     string `json:"with_ampacity"`
	Gauges                                                           []any
	CircularMils                                                     []float64 `json:"circular_mils"`
	Diameters, Standard, K                                           []float64
	Rating                                                           Rating
	Ratings                                                          []Rating
	Ampacities, Conductors                                           []int
}

var runners = map[string]func(t *testing.T, in inputs) []float64{
	"diameter":                runDiameter,
	"gauge table":             runGaugeTable,
	"circular mils":           runCircularMils,
	"metric drop":             runMetricDrop,
	"German form":             runGermanForm,
	"both forms":              runBothForms,
	"fuse":                    runFuse,
	"engine space":            runEngineSpace,
	"ampacity table":          runAmpacityTable,
	"SAE table":               runSAETable,
	"sections":                func(*testing.T, inputs) []float64 { return Sections() },
	"resistivity":             runResistivity,
	"engine space factors":    runFactors,
	"bundling":                runBundling,
	"fuse place":              runFusePlace,
	"trap: section of AWG 12": runTrapSection,
	"trap: two forms":         runTrapForms,
	"trap: drop alone":        runTrapDropAlone,
	"trap: cut off":           runTrapCutOff,
}

func TestPublishedCases(t *testing.T) {
	text, err := os.ReadFile("../../testdata/wiring.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Note     string
		Statuses map[string]string
		Cases    []wiringCase
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
	if len(file.Cases) != 24 || skipped != 0 {
		t.Errorf("%d cases with %d skipped, want 24 with 0", len(file.Cases), skipped)
	}
}

func runCase(t *testing.T, c wiringCase) {
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

func (in inputs) gauges(t *testing.T) (list []Gauge) {
	for _, name := range in.Gauges {
		list = append(list, must[Gauge](t)(ParseGauge(name.(string))))
	}
	return list
}

func runDiameter(_ *testing.T, in inputs) (got []float64) {
	for _, n := range in.Gauges {
		got = append(got, Gauge(n.(float64)).Diameter())
	}
	return got
}

func runGaugeTable(t *testing.T, in inputs) (got []float64) {
	list := in.gauges(t)
	if !slices.Equal(list, Gauges()) {
		t.Errorf("gauges are %v, want %v", Gauges(), list)
	}
	for i, g := range list {
		if math.Abs(g.CircularMils()-in.CircularMils[i]) > 0.05 || math.Abs(g.Diameter()-in.Diameters[i]) > 0.000005 {
			t.Errorf("AWG %s: %v CM, %v in; want %v, %v", g, g.CircularMils(), g.Diameter(), in.CircularMils[i],
				in.Diameters[i])
		}
		got = append(got, g.Area())
	}
	return got
}

// circuit makes a circuit of the inputs.
func (in inputs) circuit(r Rating) Circuit {
	return Circuit{Name: "case", Function: Accessories, Load: in.Amps, Length: in.Feet * footMetres / 2,
		Volts: in.Volts, Critical: in.Share < 0.05, Insulation: r}
}

// byDrop is the first gauge that passes the drop, whatever its ampacity.
func byDrop(t *testing.T, needed float64, sae bool) string {
	awg, _ := candidates(Rules{SAE: sae})
	for _, k := range awg {
		if k.cm >= needed && k.gauge <= 16 {
			return k.gauge.String()
		}
	}
	t.Fatalf("no gauge has %v CM", needed)
	return ""
}

func runCircularMils(t *testing.T, in inputs) []float64 {
	needed := must[float64](t)(NeededCircularMils(in.Amps, in.Feet, in.Share*in.Volts))
	if got := byDrop(t, needed, false); got != in.B258 {
		t.Errorf("by ASTM B258 AWG %s, want %s", got, in.B258)
	}
	if got := byDrop(t, needed, true); got != in.SAE {
		t.Errorf("by SAE minimum AWG %s, want %s", got, in.SAE)
	}
	ch := must[Choice](t)(Size(in.circuit(105), DefaultRules()))
	if math.Abs(ch.NeededCM-needed) > 1e-6*needed {
		t.Errorf("the choice needs %v CM, want %v", ch.NeededCM, needed)
	}
	if in.WithAmpacity != "" && (ch.AWG.Gauge.String() != in.WithAmpacity || ch.AWG.Decides.String() != in.Decides) {
		t.Errorf("AWG %s by %s, want %s by %s", ch.AWG.Gauge, ch.AWG.Decides, in.WithAmpacity, in.Decides)
	}
	return []float64{needed}
}

func runMetricDrop(t *testing.T, in inputs) []float64 {
	return []float64{must[float64](t)(DropISO(in.Amps, in.Metres, in.Section))}
}

func runGermanForm(t *testing.T, in inputs) []float64 {
	needed := must[float64](t)(NeededSectionGerman(in.Amps, in.Metres, in.Drop))
	return []float64{needed, standardSection(needed)}
}

func standardSection(needed float64) float64 {
	i, _ := slices.BinarySearch(sections, needed)
	return sections[i]
}

func runBothForms(t *testing.T, in inputs) []float64 {
	drop := in.Share * in.Volts
	metric := must[float64](t)(NeededSection(in.Amps, in.Metres, drop))
	cm := must[float64](t)(NeededCircularMils(in.Amps, in.Metres/footMetres, drop))
	return []float64{metric, cm, cm * SquareMillimetres, standardSection(metric),
		standardSection(cm * SquareMillimetres)}
}

func runFuse(t *testing.T, in inputs) (got []float64) {
	for i, g := range in.gauges(t) {
		amps := must[int](t)(Ampacity(g, in.Rating, false))
		if amps != in.Ampacities[i] {
			t.Errorf("AWG %s carries %d A, want %d", g, amps, in.Ampacities[i])
		}
		largest := must[float64](t)(MostFuse(amps, in.Volts))
		got = append(got, largest)
		j, exact := slices.BinarySearch(fuses, largest)
		if !exact {
			j--
		}
		if fuses[j] != in.Standard[i] {
			t.Errorf("AWG %s: standard fuse %v A, want %v", g, fuses[j], in.Standard[i])
		}
	}
	return got
}

func runEngineSpace(t *testing.T, in inputs) (got []float64) {
	for _, g := range Gauges() {
		got = append(got, float64(must[int](t)(Ampacity(g, in.Rating, true))))
	}
	return got
}

func runAmpacityTable(t *testing.T, in inputs) (got []float64) {
	if !slices.Equal(in.Ratings, Ratings()) {
		t.Errorf("ratings %v, want %v", Ratings(), in.Ratings)
	}
	for _, g := range Gauges() {
		for _, r := range in.Ratings {
			got = append(got, float64(must[int](t)(Ampacity(g, r, false))))
		}
	}
	return got
}

func runSAETable(t *testing.T, in inputs) (got []float64) {
	for _, g := range in.gauges(t) {
		cm, ok := g.SAEMinimum()
		if ok != (cm > 0) || cm > g.CircularMils() {
			t.Errorf("AWG %s: %v, %v", g, cm, ok)
		}
		got = append(got, cm)
	}
	return got
}

// One circular mil and one foot against one mm² and one metre: the two forms have to agree on what K stands for.
func runResistivity(t *testing.T, in inputs) (got []float64) {
	perK := SquareMillimetres / footMetres
	if math.Abs(CopperISO/perK-9.87) > 0.005 {
		t.Errorf("0.0164 is K %v, want 9.87", CopperISO/perK)
	}
	for _, k := range in.K {
		got = append(got, k*perK)
	}
	return got
}

func runFactors(_ *testing.T, in inputs) (got []float64) {
	for _, r := range in.Ratings {
		got = append(got, float64(engineSpace[slices.Index(ratings, r)])/100)
	}
	return got
}

func runBundling(t *testing.T, in inputs) (got []float64) {
	for _, n := range in.Conductors {
		got = append(got, float64(Bundle(n, 50)))
		if Bundle(n, 49.9) != 100 {
			t.Errorf("%d conductors below 50 V: %d %%, want 100", n, Bundle(n, 49.9))
		}
	}
	return got
}

func runFusePlace(t *testing.T, _ inputs) []float64 {
	if a, b := PlaceOf(false, true).Inches, PlaceOf(true, false).Inches; a != 7 || b != 40 {
		t.Errorf("without a sheath %d in, in one %d in; want 7 and 40", a, b)
	}
	return []float64{float64(PlaceOf(false, false).Inches), float64(PlaceOf(true, false).Inches),
		float64(PlaceOf(true, true).Inches)}
}

// Trap 5: the section of AWG 12 is that of the standard that the rules name, and the two give two answers.
func runTrapSection(t *testing.T, in inputs) []float64 {
	sae, _ := Gauge(12).SAEMinimum()
	if byDrop(t, in.Needed, false) == byDrop(t, in.Needed, true) {
		t.Error("both standards give one answer")
	}
	return []float64{Gauge(12).CircularMils(), sae}
}

// Trap 6: the two forms are 9 % apart; sizing takes the larger and shows the other.
func runTrapForms(t *testing.T, in inputs) []float64 {
	iso := must[float64](t)(NeededSection(in.Amps, in.Metres, in.Drop))
	cm := must[float64](t)(NeededCircularMils(in.Amps, in.Metres/footMetres, in.Drop))
	ch := must[Choice](t)(Size(Circuit{Name: "x", Function: Pump, Load: in.Amps, Length: in.Metres / 2, Volts: 12,
		Critical: true, Insulation: 105}, DefaultRules()))
	if ch.Metric.Section < cm*SquareMillimetres || math.Abs(ch.NeededSection-iso) > 1e-9 ||
		ch.NeededCM*SquareMillimetres <= ch.NeededSection {
		t.Errorf("%+v does not hold %v mm²", ch, cm*SquareMillimetres)
	}
	return []float64{cm * SquareMillimetres / iso}
}

// Trap 7: the drop alone allows AWG 8; the size has to carry the current too.
func runTrapDropAlone(t *testing.T, in inputs) []float64 {
	in.Share = 0.03
	ch := must[Choice](t)(Size(in.circuit(105), DefaultRules()))
	alone := must[Gauge](t)(ParseGauge(byDrop(t, ch.NeededCM, false)))
	return []float64{float64(alone), float64(ch.AWG.Gauge)}
}

// Trap 8: 29.75 is 30, not the 29 of a cut-off fraction.
func runTrapCutOff(t *testing.T, in inputs) []float64 {
	got := float64(must[int](t)(Ampacity(14, 105, true)))
	if got == in.Printed {
		t.Error("the fraction is cut off")
	}
	return []float64{got}
}

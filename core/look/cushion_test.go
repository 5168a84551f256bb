package look_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
)

// optionNamed is one of the demo book by its identifier.
func optionNamed(t *testing.T, e *engine.Engine, id string) int {
	t.Helper()
	for o := range e.Pack.Options {
		if e.Pack.Options[o].ID == id {
			return o
		}
	}
	t.Fatalf("the demo book has no option %s", id)
	return -1
}

// What a cushion is made of is said in each language, with its cases, and in the units of the reader.
func TestCushionsInWords(t *testing.T) {
	demo := enginetest.Demo()[pack.Buyer]
	for _, c := range []struct {
		language, option string
		piped            bool
		units            measure.System
		want             string
	}{
		{"en", "cushion-two", true, measure.Sea, "50 mm firm foam under 30 mm soft foam, piped cover, vented base"},
		{"en", "cushion-two", false, measure.USCustomary,
			"2 in firm foam under 1⅛ in soft foam, plain seams, vented base"},
		{"en", "cushion-three", false, measure.Inland,
			"40 mm firm foam under 30 mm medium foam under 30 mm very soft foam, plain seams, vented base"},
		{"en", "cushion-dry", false, measure.Sea, "80 mm quick-drying foam, plain seams, vented base"},
		{"en", "back-low", false, measure.Sea, "40 mm medium foam, plain seams, on a board"},
		{"nl", "cushion-two", true, measure.Sea, "50 mm stevig schuim onder 30 mm zacht schuim, bekleding met bies, " +
			"ventilerende bodem"},
		{"de", "cushion-two", true, measure.Sea, "50 mm fester Schaum unter 30 mm weichem Schaum, Bezug mit Keder, " +
			"belüfteter Boden"},
		{"de", "back-high", false, measure.Sea, "50 mm mittelfester Schaum unter 30 mm sehr weichem Schaum, " +
			"glatte Nähte, auf Bodenplatte"},
		{"en", "back-rolled", false, measure.Sea, ""}, // a roll, and no sheets
	} {
		e, ok, err := demo.Speaking(c.language)
		if !ok || err != nil {
			t.Fatal(c.language, err)
		}
		var aboard []int
		if c.piped {
			aboard = append(aboard, optionNamed(t, e, "pipe-claret"))
		}
		svg, words, err := look.Cushion(e, bare(t, e, aboard...), optionNamed(t, e, c.option), c.units)
		got := strings.ReplaceAll(words, "\u00a0", " ")
		if got != c.want || err != nil || (svg == "") != (c.want == "") {
			t.Errorf("%s: %q, %v, want %q", c.option, got, err, c.want)
		}
		if strings.Contains(svg, "#6b2532") != c.piped {
			t.Errorf("%s: its piping is drawn: %v", c.option, !c.piped)
		}
	}
}

// Cushions have the colour of what they are covered with on the boat.
func TestCushionsAreInTheirCover(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	navy := optionNamed(t, e, "vinyl-navy")
	svg, _, err := look.Cushion(e, bare(t, e, navy), optionNamed(t, e, "cushion-two"), measure.Sea)
	if err != nil || !strings.Contains(svg, e.Pack.Options[navy].Colour) {
		t.Errorf("no %s in %.200s, %v", e.Pack.Options[navy].Colour, svg, err)
	}
}

// The demo book's titles say how thick a cushion is in all: what its layers add up to. No cushion weighs less than its
// foam, by density and thickness alone.
func TestDemoCushionsAreTheirLayers(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	b := bare(t, e)
	stated, layered := regexp.MustCompile(`(\d+) mm`), 0
	for _, o := range e.Pack.Options {
		if o.Cushion == nil {
			continue
		}
		layered++
		thick, foam := 0.0, 0.0
		for _, l := range o.Cushion.Layers {
			thick, foam = thick+l.MM, foam+l.MM/1000*l.KgM3
		}
		if m := stated.FindStringSubmatch(o.Title); m != nil {
			if said, _ := strconv.ParseFloat(m[1], 64); said != thick {
				t.Errorf("%s: %q, and its layers have %v mm", o.ID, o.Title, thick)
			}
		}
		area := 0.0 // from the foam that is taken, m3 of each sheet over its thickness
		for i, n := range e.Pack.Costs.Options[optionNamed(t, e, o.ID)].Materials[:len(o.Cushion.Layers)] {
			a := n.Amount.Number()(b.State) / (o.Cushion.Layers[i].MM / 1000)
			if i > 0 && fmt.Sprintf("%.9f", a) != fmt.Sprintf("%.9f", area) {
				t.Errorf("%s: %v m² of layer %d, %v of the one below", o.ID, a, i+1, area)
			}
			area = a
		}
		for _, y := range o.Carries {
			if e.Pack.Figures[y.Figure].ID == "mass_kg" {
				if kg := y.Amount.Number()(b.State); !(area > 0) || kg < foam*area {
					t.Errorf("%s weighs %v kg, and its foam alone %v", o.ID, kg, foam*area)
				}
			}
		}
	}
	if layered < 8 {
		t.Errorf("only %d options have layers", layered)
	}
}

// The still of the customer's paper is small: what is usual within 15 kB, and a boat with every option within 24.
func TestPaperStillsAreSmall(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	specs := enginetest.DemoSpecs(t)
	for name, most := range map[string]int{"sedge-46-plainest": 15_000, "rush-54-plainest": 15_000,
		"reed-65-plainest": 15_000, "osier-76-plainest": 15_000, "osier-76-fullest": 24_000} {
		list, err := look.ForCustomer(e, enginetest.Answer(t, e, specs[name]).Build, measure.Sea)
		if err != nil {
			t.Fatal(err)
		}
		still := list[0]
		if still.ID != "still" || still.Caption == "" || len(still.SVG) > most || len(still.SVG) < 5_000 {
			t.Errorf("%s: the picture at the head is %q, %q, of %d bytes, want at most %d", name, still.ID,
				still.Caption, len(still.SVG), most)
		}
	}
}

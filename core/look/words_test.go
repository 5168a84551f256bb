package look_test

import (
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
)

var update = flag.Bool("update", false, "write the table of what is drawn into the README of the book")

const manual = "../../rules/README.md"

// The README of the book has the table of the words as it is.
func TestManualHasTheWords(t *testing.T) {
	const begin, end = "<!-- what is drawn -->\n", "<!-- end of what is drawn -->\n"
	text, err := os.ReadFile(manual)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(text), begin)
	got, after, ended := strings.Cut(rest, end)
	if !found || !ended {
		t.Fatalf("the manual has no table between %q and %q", begin, end)
	}
	if got == table() {
		return
	}
	if !*update {
		t.Fatalf("the table of what is drawn is another; run go test ./core/look -update\n%s", table())
	}
	if err := os.WriteFile(manual, []byte(before+begin+table()+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

// table is the table of the words in Markdown.
func table() string {
	var b strings.Builder
	b.WriteString("| `drawn` | what it is | with | seen in |\n| --- | --- | --- | --- |\n")
	for _, w := range look.Words() {
		with := ""
		switch {
		case w.Colour:
			with = "`colour`"
		case w.Placed:
			with = "`place`, `extent`"
		}
		seen := map[look.Views]string{look.Cushions: "sections of cushions",
			look.Above | look.Cushions: "plan, sections of cushions", look.Side: "profile", look.Above: "plan",
			look.Side | look.Above: "profile, plan"}
		b.WriteString("| `" + w.Word + "` | " + w.Means + " | " + with + " | " + seen[w.Views] + " |\n")
	}
	return b.String()
}

func TestFind(t *testing.T) {
	for _, w := range look.Words() {
		if got, ok := look.Find(w.Word); !ok || got.Means != w.Means {
			t.Errorf("%q is not found", w.Word)
		}
		if w.Colour && w.Placed {
			t.Errorf("%q wants a colour and a place: the manual's column has room for one", w.Word)
		}
	}
	for _, unknown := range []string{"", "Hull", "sail", "hull "} {
		if _, ok := look.Find(unknown); ok {
			t.Errorf("%q is found", unknown)
		}
	}
}

// bare is a boat that floats, with none of the options that are drawn but those given.
func bare(t *testing.T, e *engine.Engine, aboard ...int) *fit.Build {
	t.Helper()
	b := *enginetest.Answer(t, e, enginetest.DemoSpecs(t)["osier-76-fullest"]).Build
	st := *b.State
	st.Counts = slices.Clone(st.Counts)
	for o := range st.Counts {
		if e.Pack.Options[o].Drawn != "" {
			st.Counts[o] = 0
		}
	}
	for _, o := range aboard {
		st.Counts[o] = 1
	}
	b.State = &st
	return &b
}

// optionDrawn is the last option of the demo book that is drawn as a word: the first one often has the usual colour.
func optionDrawn(t *testing.T, e *engine.Engine, word string) int {
	t.Helper()
	for o := len(e.Pack.Options) - 1; o >= 0; o-- {
		if e.Pack.Options[o].Drawn == word {
			return o
		}
	}
	t.Fatalf("no option of the demo book is drawn as %q", word)
	return -1
}

// goesWith is what must be aboard for something to be seen.
var goesWith = map[string]string{"cloth": "top-canopy", "edging": "top-canopy", "enclosure-front": "top-canopy",
	"enclosure-sides": "top-canopy",
	"enclosure-full":  "top-canopy", "drive-shaft": "motor"}

// Every word changes the views that it is said to be seen in, and no other; its colour is in one of them.
func TestWordsAreSeenWhereTheySay(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	views := []struct {
		name string
		view look.Views
		draw func(*engine.Engine, *fit.Build, drawing.Format) (look.Picture, error)
	}{{"profile", look.Side, look.Profile}, {"plan", look.Above, look.Plan}, {"sections", 0, look.SectionsPicture},
		{"section of a cushion", look.Cushions, firstCushion}}
	for _, w := range look.Words() {
		var under []int
		if from, ok := goesWith[w.Word]; ok {
			under = append(under, optionDrawn(t, e, from))
		}
		o := optionDrawn(t, e, w.Word)
		without, with := bare(t, e, under...), bare(t, e, append(under, o)...)
		coloured := false
		for _, v := range views {
			a, b := svg(t, v.draw, e, without), svg(t, v.draw, e, with)
			if seen := a != b; seen != (w.Views&v.view != 0) {
				t.Errorf("%s: seen in the %s: %v", w.Word, v.name, seen)
			}
			coloured = coloured || strings.Contains(b, e.Pack.Options[o].Colour)
		}
		if w.Colour && !coloured {
			t.Errorf("%s: its colour %s is seen nowhere", w.Word, e.Pack.Options[o].Colour)
		}
	}
}

// firstCushion draws the section of the first cushion of the book, as a view.
func firstCushion(e *engine.Engine, b *fit.Build, _ drawing.Format) (look.Picture, error) {
	layered := slices.IndexFunc(e.Pack.Options, func(o pack.Option) bool { return o.Cushion != nil })
	svg, _, err := look.Cushion(e, b, layered, measure.Sea)
	return look.Picture{SVG: svg}, err
}

func svg(t *testing.T, draw func(*engine.Engine, *fit.Build, drawing.Format) (look.Picture, error), e *engine.Engine,
	b *fit.Build) string {
	t.Helper()
	p, err := draw(e, b, drawing.Format{})
	if err != nil {
		t.Fatal(err)
	}
	return p.SVG
}

// Who gives a colour expects to see it: on the drawing, or on the swatch beside the name.
func TestDemoBookGivesColoursOfWhatIsSeen(t *testing.T) {
	swatches := 0
	for _, o := range enginetest.Demo()[pack.Yard].Pack.Options {
		w, _ := look.Find(o.Drawn)
		if (o.Colour != "") != (w.Colour || o.Surface != "") {
			t.Errorf("%s is drawn as %q with the colour %q", o.ID, o.Drawn, o.Colour)
		}
		svg, err := look.Swatch(&o)
		if err != nil || (svg != "") != (o.Colour != "") || !strings.Contains(svg, o.Colour) {
			t.Errorf("%s has the swatch %q, %v", o.ID, svg, err)
		}
		if svg != "" {
			swatches++
		}
	}
	if swatches < 60 {
		t.Errorf("only %d options have a swatch", swatches)
	}
}

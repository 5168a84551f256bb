package publish_test

import (
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
)

// timed is a line of BenchmarkLarge: the work, its nanoseconds, and what else is counted, if anything.
var timed = regexp.MustCompile(`(?m)^BenchmarkLarge/\d+/([a-z-]+)-\d+\s+\d+\s+(\d+) ns/op(?:\s+([\d.]+))?`)

// The picture of how work grows is that of the times beside it, as BenchmarkLarge printed them: who measures anew puts
// its lines there and draws with -update.
func TestPictureOfLargeBooks(t *testing.T) {
	const folder = "../../testdata/pictures/"
	text, err := os.ReadFile(folder + "large.txt")
	if err != nil {
		t.Fatal(err)
	}
	colours := []string{"#1b5e8c", "#a8501f", "#2f7d4f", "#7a4fa3", "#b58900", "#444", "#c2417c"}
	g := enginetest.Growth{Unit: "Seconds, natively", Least: -4, Most: 4}
	for _, m := range timed.FindAllStringSubmatch(string(text), -1) {
		what := strings.ReplaceAll(m[1], "-", " ")
		if what == "compile" { // tells how many options there are
			g.Options = append(g.Options, number(t, m[3]))
		}
		i := slices.IndexFunc(g.Series, func(s enginetest.Series) bool { return s.Title == what })
		if i < 0 {
			i = len(g.Series)
			g.Series = append(g.Series, enginetest.Series{Title: what, Colour: colours[i%len(colours)]})
		}
		g.Series[i].Times = append(g.Series[i].Times, number(t, m[2])/1e9)
	}
	if len(g.Options) < 3 || len(g.Series) < 7 {
		t.Fatalf("large.txt has %d books and %d kinds of work", len(g.Options), len(g.Series))
	}
	if *update {
		if err := os.WriteFile(folder+"large.svg", []byte(g.SVG()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if kept, err := os.ReadFile(folder + "large.svg"); err != nil || string(kept) != g.SVG() {
		t.Errorf("large.svg is not the picture of large.txt; -update draws it; %v", err)
	}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("reading large.txt: %v", err)
	}
	return v
}

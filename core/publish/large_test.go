package publish_test

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
)

// The picture of how work grows is that of the times beside it, as BenchmarkLarge printed them: who measures anew puts
// its lines there and draws with -update.
func TestPictureOfLargeBooks(t *testing.T) {
	const folder = "../../testdata/pictures/"
	file, err := os.Open(folder + "large.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	colours := []string{"#1b5e8c", "#a8501f", "#2f7d4f", "#7a4fa3", "#b58900", "#444", "#c2417c"}
	g := enginetest.Growth{Unit: "Seconds, natively", Least: -4, Most: 4}
	for lines := bufio.NewScanner(file); lines.Scan(); {
		words := strings.Fields(lines.Text())
		if len(words) < 4 || !strings.HasPrefix(words[0], "BenchmarkLarge/") {
			continue
		}
		parts := strings.Split(words[0], "/")
		what, _, _ := strings.Cut(strings.ReplaceAll(parts[2], "first-answer", "first answer"), "-")
		ns, err := strconv.ParseFloat(words[2], 64)
		if err != nil || words[3] != "ns/op" {
			t.Fatalf("large.txt: %q is no line of a benchmark", lines.Text())
		}
		// compiling tells how many options there are
		if what == "compile" {
			n, err := strconv.ParseFloat(words[4], 64)
			if err != nil {
				t.Fatalf("large.txt: %q has no number of options", lines.Text())
			}
			g.Options = append(g.Options, n)
		}
		i := 0
		for i < len(g.Series) && g.Series[i].Title != what {
			i++
		}
		if i == len(g.Series) {
			g.Series = append(g.Series, enginetest.Series{Title: what, Colour: colours[i%len(colours)]})
		}
		g.Series[i].Times = append(g.Series[i].Times, ns/1e9)
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

package drawing_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/drawing"
)

const folder = "../../testdata/drawings"

var update = flag.Bool("update", false, "write the drawings in testdata/drawings anew")

// widths are a telephone's and a page's.
var widths = []float64{340, 900}

func TestDrawingsAreAsKept(t *testing.T) {
	wanted := map[string]bool{}
	for name, d := range cases(t) {
		for _, w := range widths {
			file := fmt.Sprintf("%s-%.0f.svg", name, w)
			wanted[file] = true
			got, err := d.SVG(drawing.Format{ID: fmt.Sprintf("%s-%.0f", name, w), Width: w})
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			compare(t, filepath.Join(folder, file), got)
		}
	}
	files, err := filepath.Glob(folder + "/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !wanted[filepath.Base(f)] {
			t.Errorf("%s is the drawing of no case", f)
		}
	}
}

func compare(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; if it should, run go test ./core/drawing -update and look at the drawing\n%s", path,
			lineDiff(string(want), got))
	}
}

// lineDiff shows the first lines that are only in want (-) or only in got (+).
func lineDiff(want, got string) string {
	const most = 20
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for len(w) > 0 && len(g) > 0 && w[len(w)-1] == g[len(g)-1] {
		w, g = w[:len(w)-1], g[:len(g)-1]
	}
	first := 0
	for first < len(w) && first < len(g) && w[first] == g[first] {
		first++
	}
	var out []string
	for i := first; i < max(len(w), len(g)) && len(out) < 2*most; i++ {
		if i < len(w) && (i >= len(g) || w[i] != g[i]) {
			out = append(out, fmt.Sprintf("-%4d %s", i+1, w[i]))
		}
		if i < len(g) && (i >= len(w) || w[i] != g[i]) {
			out = append(out, fmt.Sprintf("+%4d %s", i+1, g[i]))
		}
	}
	return strings.Join(out, "\n")
}

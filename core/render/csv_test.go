package render_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"ribband/core/doc"
	"ribband/core/render"
)

// No text begins a formula, whatever a spreadsheet parts cells at, in whatever width its sign is written, and whatever
// stands unseen before it. The texts are written by hand here and not by the pattern of the writer.
func TestCSVGuardsEverySeparatorAndForm(t *testing.T) {
	starts := []string{"", " ", "\u00a0", "\u3000", "\u200b", "\ufeff", "\u202e", "\x1f", `"`, `""`, "＂"}
	for _, separator := range []string{"", "x;", "x；", "x﹔", "x|", "x｜", "x\t", "x\n", "x\r", "x\r\n", "x\v", "x\f",
		"x\u0085", "x\u2028", "x\u2029", "x;;", "x; ;"} {
		for _, sign := range strings.Split("= + - @ ＝ ＋ － ＠ ﹦ ﹢ ﹣ ﹫", " ") {
			for _, start := range starts {
				text := separator + start + sign + "1+cmd|' /C calc'!A0"
				written := cellOf(t, text)
				before, _, ok := strings.Cut(written, sign)
				// the apostrophe stands at once before the sign, or before all of the cell
				if !ok || !strings.HasSuffix(before, "'") && !strings.HasPrefix(before, "'") {
					t.Errorf("%q is written as %q", text, written)
				}
				if separator != "" && !strings.HasSuffix(before, "'") {
					t.Errorf("behind a separator %q is written as %q", text, written)
				}
				// of line ends, which RFC 4180 writes in one way, the line feed is left
				if plain := strings.NewReplacer("'", "", "\r", ""); plain.Replace(written) != plain.Replace(text) {
					t.Errorf("%q lost something: %q", text, written)
				}
			}
		}
	}
}

// What is no formula stays as it is.
func TestCSVLeavesWordsAlone(t *testing.T) {
	for _, text := range []string{"a - b", "x, -5 °C", "2 × 3", "48 V; 10 kW", "a; b - c", "e@yard.example", "A=B",
		"“Reed”", "see page 3 | 4"} {
		if got := cellOf(t, text); got != text {
			t.Errorf("%q is written as %q", text, got)
		}
	}
}

// cellOf is a text as it comes back from a file of its own, in the column of words.
func cellOf(t *testing.T, text string) string {
	t.Helper()
	file, err := render.CSV(&doc.Doc{Data: &doc.Table{Columns: make([]doc.Column, 2),
		Groups: []doc.Group{{Rows: []doc.Row{{Label: "line", Cells: []doc.Cell{doc.Text(text)}}}}}}})
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(file))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1][1]
}

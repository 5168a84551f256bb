package paper_test

import (
	"strings"
	"testing"

	"ribband/core/paper"
	"ribband/core/wiring"
)

// The yard's sheet has every wire of the loom with its size, and the caution, in every form that is read; in JSON it
// has every circuit with the cable and fuse computed and bought.
func TestYardSheetHasTheLoom(t *testing.T) {
	q, y := papersOf(t, yardEngine(), "osier-76-fullest", nil)
	text := strings.Join(strings.Fields(yard(t, y, q, paper.AsText)), " ")
	html, json := strings.ReplaceAll(yard(t, y, q, paper.AsHTML), "\u00a0", " "), yard(t, y, q, paper.AsJSON)
	for _, w := range y.Loom.Wires {
		if line := w.Circuit + " "; !strings.Contains(text, line) || !strings.Contains(html, line) {
			t.Errorf("the sheet lacks %s", w.Circuit)
		}
	}
	if !strings.Contains(text, wiring.Caution.String()) || !strings.Contains(html, wiring.Caution.String()) ||
		!strings.Contains(json, wiring.Caution.String()) {
		t.Error("a form lacks the caution of the loom")
	}
	for _, key := range []string{"mm2", "length_m", "fuse_a", "circuits", "computed_mm2", "bought_mm2", "allowed_a",
		"computed_a", "bought_a", "drop", "drop_percent", "load_a", "copper_kg"} {
		if !strings.Contains(json, `"`+key+`":`) {
			t.Errorf("the JSON has no %s", key)
		}
	}
	bare := *y
	bare.Loom = nil
	if strings.Contains(yard(t, &bare, q, paper.AsHTML)+yard(t, &bare, q, paper.AsText), "Caution for the loom") {
		t.Error("the sheet of a book without circuits speaks of a loom")
	}
}

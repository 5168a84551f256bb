package paper_test

import (
	"strings"
	"testing"

	"ribband/core/paper"
	"ribband/core/sheet"
)

// The card of a shop has its work and no other shop's, and no money, as HTML and as text.
func TestJobCard(t *testing.T) {
	e := yardEngine()
	a := answer(t, e, readSpec(t, "reed-65-fullest"))
	for i, def := range e.Pack.Costs.Shops {
		s, err := sheet.ForShop(e, a, i, nil)
		if err != nil {
			t.Fatal(err)
		}
		html, text := card(t, s, nil, paper.AsHTML), card(t, s, nil, paper.AsText)
		checkWidth(t, def.ID, text)
		doc := parse(t, html)
		for form, all := range map[string]string{"HTML": doc.text,
			"text": strings.Join(strings.Fields(text), " ")} {
			for _, w := range s.Work {
				if !strings.Contains(all, w.Title) {
					t.Errorf("%s of %s lacks %s", form, def.ID, w.Title)
				}
			}
			for _, never := range []string{"EUR", "Margin", "Cost"} {
				if strings.Contains(all, never) {
					t.Errorf("%s of %s speaks of %s", form, def.ID, never)
				}
			}
			if !strings.Contains(all, "qualified persons") {
				t.Errorf("%s of %s lacks the caution", form, def.ID)
			}
		}
		if has := strings.Contains(html, "picture-loom-1"); has != (def.ID == "electrical") {
			t.Errorf("%s has the loom: %v", def.ID, has)
		}
		if _, err := entry(t, "job-card").Write(&paper.Source{Card: s}, paper.AsCSV); err == nil ||
			!strings.Contains(err.Error(), "want text or html") {
			t.Errorf("as CSV: %v", err)
		}
	}
}

// The yard's CSV has every wire, what the loom takes, and what labels say.
func TestCSVHasLoomAndLabels(t *testing.T) {
	_, y := papersOf(t, yardEngine(), "reed-65-fullest", nil)
	kinds := map[string]int{}
	labels := map[string]bool{}
	for _, row := range readCSV(t, yard(t, y, nil, paper.AsCSV)) {
		kinds[row[0]]++
		if row[0] == "label" {
			labels[row[1]] = true
		}
		if row[0] == "wire" && (row[2] == "" || row[5] == "" || !strings.Contains(row[3], " from ") || row[13] == "") {
			t.Errorf("a wire is %q", row)
		}
	}
	if kinds["wire"] != len(y.Loom.Wires) || kinds["roll"] != len(y.Loom.Rolls) ||
		kinds["terminal"] != len(y.Loom.Terminals) || kinds["fuse"] != len(y.Loom.Fuses) || kinds["copper"] != 1 {
		t.Errorf("the rows are %v", kinds)
	}
	if !labels["Hull identification number"] || !labels["Warning labels"] {
		t.Errorf("the labels are %v", labels)
	}
	us, sheet := papersOf(t, yardEngine(), "clash-us-without-foam", nil)
	if text := yard(t, sheet, us, paper.AsCSV); !strings.Contains(text, "label,Capacity label") ||
		!strings.Contains(text, "Persons or") {
		t.Error("the capacity label is not in the CSV")
	}
}

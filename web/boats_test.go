package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The table of demo boats in DEVELOPERS.md is what the command prints.
func TestBoatsInTheDocuments(t *testing.T) {
	const doc, begin, end = "../DEVELOPERS.md", "<!-- go run ./web boats -->\n", "<!-- end of boats -->"
	table := worked(t, tool(t, "", "boats", "-book", rulesFolder, "-specs", specsFolder)).out
	text, err := os.ReadFile(doc)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(text), begin)
	old, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatalf("%s has no table between %q and %q", doc, begin, end)
	}
	if old == table {
		return
	}
	if !*update {
		t.Fatalf("%s has another table of demo boats than the command prints; run this test with -update", doc)
	}
	if err := os.WriteFile(doc, []byte(before+begin+table+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestBoatsByFigure(t *testing.T) {
	var table boatTable
	text := worked(t, tool(t, "", "boats", "-book", rulesFolder, "-specs", specsFolder, "-figures", "mass_kg,gm_m",
		"-format", "json")).out
	if err := json.Unmarshal([]byte(text), &table); err != nil {
		t.Fatal(err)
	}
	validate(t, schemaNamed(t, "boats"), "the table", text)
	list := table.Boats
	specs, err := filepath.Glob(filepath.Join(specsFolder, "*.json"))
	if err != nil || len(list) != len(specs) {
		t.Fatalf("%d boats of %d specs, %v", len(list), len(specs), err)
	}
	for _, b := range list {
		if len(b.Figures) != 2 || b.Figures[0].ID != "mass_kg" || b.Figures[1].ID != "gm_m" || b.Total == "" ||
			b.Currency != "EUR" {
			t.Errorf("%+v", b)
		}
		if clash := strings.HasPrefix(b.Name, "clash-"); clash != (b.Clashes > 0) {
			t.Errorf("%s has %d clashes", b.Name, b.Clashes)
		}
	}
}

func TestBoatsRefuses(t *testing.T) {
	for _, args := range [][]string{{"-figures", "mass"}, {"-figures", "mass_kg,"}, {"-format", "csv"}} {
		if got := tool(t, "", append([]string{"boats", "-book", rulesFolder, "-specs", specsFolder},
			args...)...); got.code != 2 || got.err == "" {
			t.Errorf("%q: code %d, %s", args, got.code, got.err)
		}
	}
	if got := tool(t, "", "boats", "-book", rulesFolder, "-specs", t.TempDir()); got.code != 1 ||
		!strings.Contains(got.err, "holds no file") {
		t.Errorf("an empty folder: code %d, %s", got.code, got.err)
	}
}

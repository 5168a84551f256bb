package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Cards go into a folder, a file for each shop that has work left, in the language that is asked for; one alone is
// printed, and text has a form feed between two.
func TestCardsOfOrders(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "cards")
	base := []string{"cards", "-book", rulesFolder, "-orders", ordersFolder, "-effort", "quick", "-order", "2026-036"}
	told := worked(t, tool(t, "", append(base, "-format", "html", "-language", "de", "-out", dir)...)).out
	files, err := filepath.Glob(dir + "/2026-036-*.html")
	if err != nil || len(files) < 8 || strings.Count(told, "\n") != len(files) {
		t.Fatalf("%d cards, told are\n%s", len(files), told)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil || !strings.Contains(string(text), `<html lang="de">`) ||
			!strings.Contains(string(text), "Auftrag 2026-036") {
			t.Errorf("%s: %v", name, err)
		}
	}
	one := worked(t, tool(t, "", append(base, "-shop", "moulding", "-format", "html")...)).out
	if strings.Count(one, "<html") != 1 || !strings.Contains(one, "2026-036/spray-gelcoat") {
		t.Errorf("the card of the moulding shop is %.300s", one)
	}
	all := worked(t, tool(t, "", base...)).out
	if n := strings.Count(all, "\f") + 1; n != len(files) {
		t.Errorf("%d cards are printed, %d were written", n, len(files))
	}
	refused(t, tool(t, "", append(base, "-format", "html")...), 1, "give -out DIR for a page of each")
	refused(t, tool(t, "", append(base, "-shop", "mouldng")...), 1, `did you mean "moulding"?`)
	refused(t, tool(t, "", append(base[:7:7], "-order", "2027-006")...), 1, `there is no order "2027-006"`)
	refused(t, tool(t, "", append(base, "-language", "fr")...), 1, "in no language")
	refused(t, tool(t, "", "cards"), 2, "-orders DIR")
}

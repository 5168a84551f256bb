package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Papers printed by the command line, read back: of the size that was asked for, with number and page on each page, the
// boat and its customer at the head of all but the first, no page without anything between them, and tagged for who
// hears them. The same paper has the same bytes.
func TestPapersArePrinted(t *testing.T) {
	fullBrowser.path(t) // is what prints
	for _, of := range []struct {
		size, box, desk, spec, head string
		least, most                 int // pages
	}{
		{"A4", "594.96 x 841.92", "show", "reed-65-fullest", "Reed 65, Ottilie Sandmark", 5, 12},
		{"letter", "612 x 792", "show", "sedge-46-plainest", "Sedge 46, Ottilie Sandmark", 3, 8},
		{"letter", "612 x 792", "yard", "sedge-46-plainest", "", 5, 20},
	} {
		args := []string{"quote", "-book", rulesFolder, "-spec", filepath.Join(specsFolder, of.spec+".json"), "-desk",
			of.desk, "-details", "../testdata/details.json", "-format", "pdf", "-size", of.size}
		pdf := worked(t, tool(t, "", args...)).out
		if of.size == "A4" && worked(t, tool(t, "", args...)).out != pdf {
			t.Error("printed again it has other bytes")
		}
		file := write(t, filepath.Join(t.TempDir(), "paper.pdf"), pdf)
		info := said(t, "pdfinfo", file)
		if !strings.Contains(info, of.box) || !regexp.MustCompile(`Tagged: +yes`).MatchString(info) ||
			!strings.Contains(info, "2027") {
			t.Errorf("%v: %s", of, info)
		}
		pages := strings.Split(strings.TrimSuffix(said(t, "pdftotext", "-layout", file, "-"), "\f"), "\f")
		if len(pages) < of.least || len(pages) > of.most {
			t.Errorf("%v: %d pages", of, len(pages))
		}
		for i, page := range pages {
			number := fmt.Sprintf("Page %d of %d", i+1, len(pages))
			if !strings.Contains(page, number) || !strings.Contains(page, "Quotation HL-2027-014") {
				t.Errorf("%v, page %d: no number of the quotation, or no %s: %s", of, i+1, number, page)
			}
			if of.head != "" && strings.HasPrefix(strings.TrimSpace(page), of.head) != (i > 0) {
				t.Errorf("%v, page %d begins %.60q", of, i+1, strings.TrimSpace(page))
			}
			between := strings.NewReplacer(of.head, "", number, "").Replace(page)
			if words := strings.Fields(between); len(words) < 15 {
				t.Errorf("%v, page %d has only %q", of, i+1, words)
			}
		}
	}
}

// said is what a tool of poppler-utils prints.
func said(t testing.TB, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skip("no ", name, " (package poppler-utils) to read the print with")
	}
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatal(name, err)
	}
	return string(out)
}

// Where there is no browser the error says what to do instead, and nothing is written.
func TestPrintingWithoutABrowser(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	refused(t, tool(t, "", "quote", "-book", rulesFolder, "-spec", filepath.Join(specsFolder, "sedge-46-plainest.json"),
		"-format", "pdf"), 1, "no Chromium", "-format html")
}

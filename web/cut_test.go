package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The command writes a file for each roll and sheet, names it on standard output, and says what it cannot do.
func TestCut(t *testing.T) {
	// a folder in a folder that is not there yet, and labels in another language than the book was written in
	spec, out := "../testdata/specs/extras-and-discount.json", filepath.Join(t.TempDir(), "new", "cut")
	o := worked(t, tool(t, "", "cut", "-book", rulesFolder, "-spec", spec, "-out", out, "-language", "nl"))
	names := strings.Fields(o.out)
	if len(names) != 4 || o.err != "" {
		t.Fatalf("it names %q and says %q", names, o.err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(text, []byte("Reed 65, 1 van 1")) {
			t.Errorf("%s has no label in Dutch", name)
		}
	}
	// a quotation's number tells two boats of one hull apart
	details := filepath.Join(t.TempDir(), "details.json")
	if err := os.WriteFile(details, []byte(`{"number": "HL-9", "date": "2027-02-06", "approval": "The owner",
		"customer": {"name": "Ottilie Sandmark"}}`), 0o666); err != nil {
		t.Fatal(err)
	}
	worked(t, tool(t, "", "cut", "-book", rulesFolder, "-spec", spec, "-out", out, "-details", details))
	if text, err := os.ReadFile(names[0]); err != nil || !bytes.Contains(text, []byte("HL-9, Reed 65, 1 of 1")) ||
		bytes.Contains(text, []byte("Sandmark")) {
		t.Errorf("%s has no number, or the customer's name: %v", names[0], err)
	}
	// every boat has seats, so that the plainest has something to cut, and nothing of the folder is in the way
	plain := "../testdata/specs/reed-65-plainest.json"
	if o := worked(t, tool(t, "", "cut", "-book", rulesFolder, "-spec", plain, "-out", out)); !strings.Contains(o.out,
		"upholstery.dxf") {
		t.Errorf("the plainest boat has %q", o.out)
	}
	// a spec that is not there is no boat without pieces
	refused(t, tool(t, "", "cut", "-book", rulesFolder, "-spec", "nowhere.json", "-out", out), 1, "nowhere.json")
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The command writes what the page saves, names each file on standard output, and says what it cannot do.
func TestCut(t *testing.T) {
	// a folder in a folder that is not there yet, and labels in another language than the book was written in
	spec, out := "../testdata/specs/extras-and-discount.json", filepath.Join(t.TempDir(), "new", "cut")
	o := worked(t, tool(t, "", "cut", "-book", rulesFolder, "-spec", spec, "-out", out, "-language", "nl"))
	names := strings.Fields(o.out)
	if len(names) != 4 || o.err != "" {
		t.Fatalf("it names %q and says %q", names, o.err)
	}
	// the archive has its files as they are, not packed
	zip := worked(t, tool(t, "", "quote", "-book", rulesFolder, "-spec", spec, "-desk", "yard", "-format", "dxf",
		"-language", "nl"))
	// what the page saves has the same bytes
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains([]byte(zip.out), text) || !bytes.Contains(text, []byte("Reed 65, 1 van 1")) {
			t.Errorf("%s is not in the page's file, or not in Dutch", name)
		}
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

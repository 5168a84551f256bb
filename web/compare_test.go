package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// Two saved quotations are compared without a book; a file that is none, and a command without files, are errors.
func TestCompareCommand(t *testing.T) {
	dir := t.TempDir()
	var files []string
	for i, name := range []string{"reed-65-plainest", "reed-65-fullest"} {
		text := worked(t, tool(t, "", "quote", "-book", rulesFolder, "-desk", "show", "-spec",
			filepath.Join(specsFolder, name+".json"), "-details", "../testdata/details.json", "-format", "json")).out
		files = append(files, write(t, filepath.Join(dir, string(rune('a'+i))+".json"), text))
	}
	out := worked(t, tool(t, "", "compare", "-was", files[0], "-now", files[1])).out
	for _, want := range []string{"Difference", "Battery", "Total •"} {
		if !strings.Contains(out, want) {
			t.Errorf("the comparison lacks %q: %.500s", want, out)
		}
	}
	if again := worked(t, tool(t, "", "compare", "-was", files[0], "-now", files[1])).out; again != out {
		t.Error("it is another the second time")
	}
	refused(t, tool(t, "", "compare", "-was", files[0]), 2, "-now FILE")
	spec := filepath.Join(specsFolder, "reed-65-fullest.json")
	refused(t, tool(t, "", "compare", "-was", files[0], "-now", spec), 1, spec)
}

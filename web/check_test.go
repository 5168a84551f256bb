package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// copySmall copies the small book, which loads in no time.
func copySmall(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"boat.yaml", "yard.yaml"} {
		text, err := os.ReadFile(filepath.Join("..", "testdata", "books", "small", name))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, name), string(text))
	}
	return dir
}

// The same fault in many places is told once, with the first of them and how many more there are.
func TestSameFaultIsToldOnce(t *testing.T) {
	dir := copySmall(t)
	file := filepath.Join(dir, "more.yaml")
	text := "materials:\n"
	for _, id := range []string{"a", "b", "c", "d", "e"} {
		text += "  - {id: bolt-" + id + ", title: Bolt " + id + ", unit: furlong, cost: \"1\"}\n"
	}
	write(t, file, text)
	o := tool(t, "", "check", "-book", dir)
	want := file + ":2:39: error: unknown unit \"furlong\"\n"
	also := "    the same at " + file + ":3:39, " + file + ":4:39 and 2 more\n"
	if o.code != 1 || !strings.Contains(o.out, want) || !strings.Contains(o.out, also) ||
		strings.Count(o.out, "unknown unit") != 1 || !strings.Contains(o.out, ": 5 errors, ") {
		t.Errorf("check says %s", o.out)
	}
}

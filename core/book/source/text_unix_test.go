//go:build unix

package source_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"ribband/core/book/source"
)

// What editors, version control and the machine keep beside the files of a book is none of them.
func TestReadPassesOver(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(smallBook)); err != nil {
		t.Fatal(err)
	}
	want := digest(t, os.DirFS(dir))
	for _, name := range []string{".boat.yaml", ".git/hooks/more.yaml", "deep/.cache/more.yaml",
		"folder.yaml/notes.txt"} {
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte("{[ no YAML"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("owner@machine.1234", filepath.Join(dir, ".#boat.yaml")); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.yaml"), 0o600); err != nil {
		t.Skip("no pipe can be made here: ", err)
	}
	if got := digest(t, os.DirFS(dir)); got != want {
		t.Error("it is another book")
	}
	file := filepath.Join(t.TempDir(), "elsewhere.txt")
	if err := os.WriteFile(file, []byte("terms: [Of a link.]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, filepath.Join(dir, "link.yaml")); err != nil {
		t.Fatal(err)
	}
	if b, list, err := source.Read(os.DirFS(dir)); err != nil || len(list) > 0 || len(b.Terms) != 1 {
		t.Error("a link to a file is not read: ", err, list)
	}
}

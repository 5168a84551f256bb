package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// What is kept is believed only whole and from this program: damaged, cut short or of another program it is as good as
// none, and the next check writes it anew.
func TestDamagedMemoryIsNone(t *testing.T) {
	book, keep := filepath.Join("..", "testdata", "books", "small"), t.TempDir()
	first := worked(t, tool(t, "", "check", "-json", "-cache", keep, "-book", book))
	files, err := filepath.Glob(filepath.Join(keep, "*"))
	if err != nil || len(files) != 1 {
		t.Fatalf("%d files are kept: %v", len(files), err)
	}
	text, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	again := func(what, damaged string, anew bool) {
		t.Helper()
		write(t, files[0], damaged)
		o := worked(t, tool(t, "", "check", "-json", "-cache", keep, "-book", book))
		if o.out != first.out {
			t.Errorf("%s: another report", what)
		}
		if kept := strings.Contains(o.err, ", 0 questions anew"); kept == anew {
			t.Errorf("%s: it says %q", what, o.err)
		}
	}
	good := string(text)
	again("as it was", good, false)
	again("one letter changed", strings.Replace(good, `"never"`, `"nevir"`, 1)+" ", true)
	again("cut short", good[:len(good)/2], true)
	again("without a line", "", true)
	again("of another program", strings.Replace(good, `"program":"`, `"program":"0`, 1), true)
	if err := os.Remove(files[0]); err != nil {
		t.Fatal(err)
	}
	if o := worked(t, tool(t, "", "check", "-json", "-cache", "off", "-book", book)); o.out != first.out {
		t.Error("without a memory the report is another")
	}
	if left, _ := filepath.Glob(filepath.Join(keep, "*")); len(left) > 0 {
		t.Errorf("with -cache off %q is kept", left)
	}
}

// FuzzMemory reads what may stand in the file.
func FuzzMemory(f *testing.F) {
	f.Add([]byte("{}\n{}"))
	f.Add([]byte("{\"program\":\"x\",\"sum\":\"" + digest([]byte("{}")) + "\"}\n{}"))
	f.Fuzz(func(t *testing.T, text []byte) {
		m := memory{kept: readMemory(text, "x")}
		how := m.how()
		for key := range m.kept.Findings {
			how.Recall(key)
		}
	})
}

// With -lasting the edit of a rule leaves fewer questions than without, and the report of a book in which nothing else
// is wrong is the same.
func TestCheckTakesOverWhatLasts(t *testing.T) {
	dir, kept := copySmall(t), [2]string{t.TempDir(), t.TempDir()}
	for _, keep := range kept {
		worked(t, tool(t, "", "check", "-cache", keep, "-book", dir))
	}
	edit(t, filepath.Join(dir, "boat.yaml"), `need: has\("top-fixed"\)`,
		`need: has("top-fixed") and use.persons > 0`)
	anew := regexp.MustCompile(`, (\d+) questions anew`)
	asked := func(args ...string) (out, n string) {
		o := worked(t, tool(t, "", append([]string{"check", "-book", dir}, args...)...))
		m := anew.FindStringSubmatch(o.err)
		if m == nil {
			t.Fatalf("it says %q", o.err)
		}
		return o.out, m[1]
	}
	was, all := asked("-cache", kept[0])
	is, few := asked("-cache", kept[1], "-lasting")
	if is != was {
		t.Errorf("by what lasts it says\n%s, anew\n%s", is, was)
	}
	if a, b := number(t, all), number(t, few); b*2 > a {
		t.Errorf("%d questions by what lasts, %d without", b, a)
	}
}

func number(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

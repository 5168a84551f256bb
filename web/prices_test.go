package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/book/amend"
)

const (
	demoPrices = "../testdata/prices/copperbeck.csv"
	pricesRun  = "prices -book " + rulesFolder + " -supplier copperbeck-cable -csv " + demoPrices
)

// golden compares a text with a file, or writes it there. Whoever writes it reads the diff before he commits it.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		write(t, file, got)
	}
	if want, err := os.ReadFile(file); err != nil || string(want) != got {
		t.Errorf("%s (go test ./web -run %s -update): %v, got\n%s", file, t.Name(), err, got)
	}
}

// What is read and what is left out has its tests in core/supply; here it is what an owner sees and what is written.

// commanded runs a command that is written in one line.
func commanded(t *testing.T, line string) outcome {
	t.Helper()
	return tool(t, "", strings.Fields(line)...)
}

// textOf is the text of a file.
func textOf(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// amended is an edit that puts a comment behind the first line of some files.
func amended(t *testing.T, dir string, names ...string) *amend.Edit {
	t.Helper()
	e := amend.New(os.DirFS(dir))
	for _, name := range names {
		lines, err := e.Lines(name)
		if err != nil {
			t.Fatal(err)
		}
		e.Set(name, 0, lines[0]+" #")
	}
	return e
}

// The demo's list, with its planted trouble, as it is reported; what could not be read gives the exit code 1.
func TestPrices(t *testing.T) {
	o := commanded(t, pricesRun+" -quotations ../testdata/specs")
	if o.code != 1 || strings.Count(o.err, "\n") != 2 {
		t.Errorf("exit code %d, it said %s", o.code, o.err)
	}
	golden(t, "../testdata/prices/report.txt", o.out)
	// the same for a program, with a quotation that is out
	some, schema := t.TempDir(), schemaNamed(t, "prices")
	const name = "reed-65-fullest.json"
	write(t, filepath.Join(some, name), textOf(t, filepath.Join(specsFolder, name)))
	whole := commanded(t, pricesRun+" -json -quotations "+some).out
	validate(t, schema, "the demo's list", whole)
	invalid(t, schema, strings.Replace(whole, `"kind": "missing"`, `"kind": "lost"`, 1))
	invalid(t, schema, strings.Replace(whole, `"floor": "`, `"floor": "EUR `, 1))
	// each part of it is there, or the schema would have been held to little
	for _, part := range []string{`"changes": [`, `"left": [`, `"moves": [`, `"quotations": [`, `"faults": [`} {
		if !strings.Contains(whole, part) {
			t.Errorf("the report has no %s", part)
		}
	}
}

// What -diff prints applies with patch, and makes what -apply writes. The list once more changes nothing.
func TestPricesApplied(t *testing.T) {
	tool, err := exec.LookPath("patch")
	if err != nil {
		t.Skip("no patch on this machine")
	}
	// the same edit by two hands
	patched, applied := copyBook(t), copyBook(t)
	diff := commanded(t, pricesRun+" -diff -apply -book "+applied)
	golden(t, "../testdata/prices/copperbeck.diff", diff.out)
	cmd := exec.Command(tool, "-p1", "--fuzz=0")
	cmd.Dir, cmd.Stdin = patched, strings.NewReader(diff.out)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("patch: %v\n%s", err, said)
	}
	changed := 0
	for _, file := range yamlFiles(t, applied) {
		name, err := filepath.Rel(applied, file)
		if err != nil {
			t.Fatal(err)
		}
		got, was := textOf(t, file), textOf(t, filepath.Join(rulesFolder, name))
		if got != textOf(t, filepath.Join(patched, name)) {
			t.Errorf("patch makes another %s than -apply", name)
		}
		if got != was {
			changed++
		}
	}
	if changed != 1 {
		t.Errorf("%d files were changed", changed)
	}
	// a report without a change is one, too
	again := commanded(t, pricesRun+" -json -book "+applied)
	if !strings.Contains(again.out, `"changes": []`) || strings.Contains(again.out, `"place"`) {
		t.Errorf("a second time the list changes\n%s", again.out)
	}
	validate(t, schemaNamed(t, "prices"), "no change", again.out)
}

// Two files are enough to see that both are looked at before the first is written.

// A book that was changed meanwhile and a file that lies elsewhere are not written; where one file cannot be, none is.
func TestApplyRefuses(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	a, b := write(t, filepath.Join(dir, "a.yaml"), "a: 1\n"), filepath.Join(dir, "b.yaml")
	outside := write(t, filepath.Join(elsewhere, "b.yaml"), "b: 1\n")
	if err := os.Symlink(outside, b); err != nil {
		t.Skip(err)
	}
	e := amended(t, dir, "a.yaml", "b.yaml")
	if _, err := applyEdit(dir, e); err == nil || !strings.Contains(err.Error(), "outside of the book") {
		t.Errorf("%v", err)
	}
	// in the folder itself it may be written, unless somebody was faster
	if err := os.Remove(b); err != nil {
		t.Fatal(err)
	}
	write(t, b, "b: 1\n")
	e = amended(t, dir, "a.yaml", "b.yaml")
	write(t, b, "b: 2\n")
	if _, err := applyEdit(dir, e); err == nil || !strings.Contains(err.Error(), "it was changed since it was read") {
		t.Errorf("%v", err)
	}
	if textOf(t, a) != "a: 1\n" {
		t.Error("a file was written, and another could not be")
	}
	write(t, b, "b: 1\n")
	if _, err := applyEdit(dir, e); err != nil || textOf(t, a) != "a: 1 #\n" || textOf(t, b) != "b: 1 #\n" {
		t.Errorf("%v: %q, %q", err, textOf(t, a), textOf(t, b))
	}
}

// What cannot be meant is told with its remedy.
func TestPricesAsked(t *testing.T) {
	for args, want := range map[string]string{
		"prices":                   "which list, and whose?",
		pricesRun + " -jump much":  "-jump \"much\" is no share",
		pricesRun + " -date soon":  "-date \"soon\" is no day",
		pricesRun + " -json -diff": "-json and -diff are two",
		pricesRun + " -columns x":  "write what a column is and its head",
		strings.Replace(pricesRun, "copperbeck-cable", "nobody", 1): "the book has no supplier \"nobody\"; " +
			"it has Ashquern Timber",
	} {
		if o := commanded(t, args); o.code == 0 || !strings.Contains(o.err, want) {
			t.Errorf("%s: exit code %d, %s", args, o.code, o.err)
		}
	}
}

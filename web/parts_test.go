package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

var demoParts = flag.Bool("parts", false, "prove the demo book in sixteen parts, and as a whole")

// TestPartsMakeTheWhole proves a small book in parts, each without what the others know, and joins them: to the byte
// the report of the whole. With -parts the demo book, too.
func TestPartsMakeTheWhole(t *testing.T) {
	books := map[string]int{filepath.Join("..", "testdata", "books", "small"): 5}
	if *demoParts {
		books[rulesFolder] = 16
	}
	for folder, of := range books {
		whole := tool(t, "", "check", "-json", "-cache", "off", "-book", folder)
		files := partsOf(t, folder, of)
		for _, file := range files {
			validate(t, schemaNamed(t, "check-part"), file, textOf(t, file))
		}
		joined := worked(t, tool(t, "", append([]string{"merge", "-book", folder}, files...)...))
		if joined.out != whole.out {
			t.Errorf("%s in %d parts gives another report", folder, of)
		}
	}
}

// partsOf are the files of all parts of a proof, the last first.
func partsOf(t *testing.T, folder string, of int) (files []string) {
	dir := t.TempDir()
	for k := of; k >= 1; k-- {
		o := worked(t, tool(t, "", "check", "-part", fmt.Sprintf("%d/%d", k, of), "-cache", "off", "-book", folder))
		name := filepath.Join(dir, fmt.Sprintf("part-%d.json", k))
		write(t, name, o.out)
		files = append(files, name)
	}
	return files
}

// What is not one whole is refused, with the part that is missing, there twice, or of something else.
func TestPartsThatAreNoWhole(t *testing.T) {
	small := filepath.Join("..", "testdata", "books", "small")
	files := partsOf(t, small, 3)
	merge := func(names ...string) outcome {
		return tool(t, "", append([]string{"merge", "-book", small}, names...)...)
	}
	refused(t, merge(files[0], files[2]), 1, "of 3, missing 2")
	refused(t, merge(files[0], files[1], files[2], files[1]), 1, "part-2.json and part-2.json are both part 2")
	text, err := os.ReadFile(files[1])
	if err != nil {
		t.Fatal(err)
	}
	changed := func(name, old, new string) string {
		path := filepath.Join(t.TempDir(), name)
		write(t, path, strings.Replace(string(text), old, new, 1))
		return path
	}
	refused(t, merge(files[0], changed("strange.json", `"book": "`, `"book": "0`), files[2]), 1, "strange.json",
		"of different books")
	refused(t, merge(files[0], changed("fourth.json", `"of": 3`, `"of": 4`), files[2]), 1, "fourth.json", "one of 4")
	refused(t, merge(files[0], changed("other.json", `"kind": "check"`, `"kind": "lunch"`), files[2]), 1, `"lunch"`)
	refused(t, merge(changed("alone.json", `"part": 2,`+"\n"+`  "of": 3`, `"part": 1, "of": 1`)), 1,
		"there is none to")
	refused(t, merge(changed("damaged.json", "{", "[")), 1, "damaged.json")
	refused(t, tool(t, "", append([]string{"merge", "-book", rulesFolder}, files...)...), 1, "is of another book")
	refused(t, merge(), 2, "name the files")
	refused(t, tool(t, "", "check", "-part", "4/3", "-book", small), 2, "write 3/16")
	refused(t, tool(t, "", "check", "-part", "x", "-book", small), 2, "write 3/16")
}

// TestPartsByGNUParallel has GNU parallel share out the parts as the README says, each in a process of its own. It is
// skipped where there is none.
func TestPartsByGNUParallel(t *testing.T) {
	parallel, err := exec.LookPath("parallel")
	if err != nil {
		t.Skip("no GNU parallel")
	}
	version, _ := exec.CommandContext(t.Context(), parallel, "--version").Output()
	if !bytes.HasPrefix(version, []byte("GNU")) {
		t.Skip("another program has the name of GNU parallel")
	}
	dir, small := t.TempDir(), filepath.Join("..", "testdata", "books", "small")
	program := filepath.Join(dir, "ribband")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	one := fmt.Sprintf("%s check -cache off -book %s -part {}/4 > %s/part-{}.json", program, small, dir)
	shared := exec.CommandContext(t.Context(), parallel, "--will-cite", one, ":::", "1", "2", "3", "4")
	if out, err := shared.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	files, err := filepath.Glob(filepath.Join(dir, "part-*.json"))
	if err != nil || len(files) != 4 {
		t.Fatal(files, err)
	}
	whole := tool(t, "", "check", "-json", "-cache", "off", "-book", small)
	if joined := tool(t, "", append([]string{"merge", "-book", small}, files...)...); joined.out != whole.out ||
		whole.out == "" {
		t.Errorf("joined, the parts say %s, the whole %s", joined.out, whole.out)
	}
}

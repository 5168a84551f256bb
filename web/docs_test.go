package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What README.md and DEVELOPERS.md name is there, and the size of the demo book is what check counts.
func TestDocumentsTellTheTruth(t *testing.T) {
	path := regexp.MustCompile("[`(]((?:core|wasm|web|rules|testdata|[.]ci)(?:/[a-zA-Z0-9_.-]+)+)[`)]")
	for _, name := range []string{"README.md", "DEVELOPERS.md", "rules/README.md", "rules/TUTORIAL.md"} {
		text, err := os.ReadFile(filepath.Join("..", name))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range path.FindAllStringSubmatch(string(text), -1) {
			if _, err := os.Stat(filepath.Join("..", m[1])); err != nil {
				t.Errorf("%s names %s, which is not there", name, m[1])
			}
		}
	}
	text, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	count := worked(t, tool(t, "", "check", "-quick", "-book", rulesFolder)).out
	var hulls, slots, options, rules, materials int
	if _, err := fmt.Sscanf(count, "%d hulls, %d slots, %d options, %d rules, %d materials", &hulls, &slots, &options,
		&rules, &materials); err != nil {
		t.Fatal(count, err)
	}
	if want := fmt.Sprintf("%d slots, %d options, %d rules, %d materials", slots, options, rules,
		materials); !strings.Contains(string(text), want) {
		t.Errorf("the README does not say %q", want)
	}
}

// Every package says in its comment what it is.
func TestPackagesHaveComments(t *testing.T) {
	for name := range layers {
		dir := filepath.Join("..", strings.TrimPrefix(name, "ribband/"))
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Errorf("%s has no files", name)
		}
		said := false
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			said = said || regexp.MustCompile(`(?m)^// (Package|Command) `).Match(text)
		}
		if !said {
			t.Errorf("%s has no comment that says what it is", name)
		}
	}
}

package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"
)

// The tutorial is done here as it is told, step by step in a folder of its own: each block of text in it is a command,
// what that shows, or a piece of a file with a comment above it that says where it goes.
//
//	<!-- wren/icebox.yaml -->                        a file of its own
//	<!-- wren/rules.yaml, at the end -->             behind what is there
//	<!-- wren/hull.yaml, in place of draft_m -->     instead of the line that begins so, and what is indented below it
//
// What a command shows is compared line by line; "..." stands for lines that are left out, and for what changes in one.

const tutorial = "../rules/TUTORIAL.md"

// step is a block of the tutorial.
type step struct {
	line             int
	kind, where, how string
	text             string
}

var placed = regexp.MustCompile(`^<!-- (\S+?)(?:, (at the end|in place of (.+)))? -->$`)

func stepsOf(t *testing.T) (list []step) {
	t.Helper()
	text, err := os.ReadFile(tutorial)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(text), "\n")
	for i := 0; i < len(lines); i++ {
		kind, ok := strings.CutPrefix(lines[i], "```")
		if !ok {
			continue
		}
		s := step{line: i + 1, kind: kind}
		if m := placed.FindStringSubmatch(lines[i-1]); m != nil {
			s.where, s.how = m[1], m[2]
		} else if kind == "yaml" || kind == "json" {
			t.Fatalf("TUTORIAL.md:%d: nothing says into which file this goes: write <!-- FILE --> on the line above "+
				"it, or <!-- FILE, at the end --> or <!-- FILE, in place of KEY --> for a part of one", i+1)
		}
		for i++; lines[i] != "```"; i++ {
			s.text += lines[i] + "\n"
		}
		list = append(list, s)
	}
	return list
}

// put puts a piece into its file, as a person would in an editor.
func (s *step) put(t *testing.T) {
	t.Helper()
	was, err := os.ReadFile(s.where)
	switch key, replaced := strings.CutPrefix(s.how, "in place of "); {
	case s.how == "":
		if err == nil {
			t.Fatalf("TUTORIAL.md:%d: %s is there already", s.line, s.where)
		}
		write(t, s.where, s.text)
	case err != nil:
		t.Fatalf("TUTORIAL.md:%d: %v", s.line, err)
	case replaced:
		write(t, s.where, instead(t, string(was), key, s.text))
	default:
		write(t, s.where, string(was)+s.text)
	}
}

// instead replaces the one line that begins with a key, and what is indented below it.
func instead(t *testing.T, text, key, piece string) string {
	t.Helper()
	var out []string
	found, inner := 0, -1
	for _, line := range strings.Split(text, "\n") {
		bare := strings.TrimLeft(line, " ")
		indent := len(line) - len(bare)
		if inner >= 0 && (indent > inner || bare == "") {
			continue // what stands below it goes with it
		}
		inner = -1
		if !strings.HasPrefix(bare, key) {
			out = append(out, line)
			continue
		}
		found, inner = found+1, indent
		for _, l := range strings.Split(strings.TrimSuffix(piece, "\n"), "\n") {
			out = append(out, strings.Repeat(" ", indent)+l)
		}
	}
	if found != 1 {
		t.Fatalf("%q begins %d lines, want one", key, found)
	}
	return strings.Join(out, "\n") + "\n"
}

// words are those of a command line, with what is in quotes as one.
func words(line string) (list []string) {
	for _, w := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line, -1) {
		list = append(list, strings.Trim(w, `"`))
	}
	return list
}

// until carries a command out, and stops a server when it has said its addresses.
func until(t *testing.T, args []string) (out, errors string) {
	t.Helper()
	if !strings.HasPrefix(args[0], "-") {
		o := tool(t, "", args...)
		return o.out, o.err
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	heard := &listened{seen: cancel}
	var errs bytes.Buffer
	// port 0 takes a free one: others may be at it, too
	code := run(ctx, &console{strings.NewReader(""), heard, &errs}, append(args, "-addr", "127.0.0.1:0"))
	if code != 0 {
		t.Errorf("serving gave %d: %s", code, errs.String())
	}
	return regexp.MustCompile(`127\.0\.0\.1:\d+`).ReplaceAllString(heard.String(), "127.0.0.1:8642"), errs.String()
}

// listened calls when something has been written.
type listened struct {
	bytes.Buffer
	seen func()
}

func (w *listened) Write(p []byte) (int, error) {
	defer w.seen()
	return w.Buffer.Write(p)
}

// shows compares what was shown with the tutorial; "..." on a line of its own is any lines, within a line any text.
func shows(want, got string) bool {
	pattern := regexp.QuoteMeta(strings.TrimRight(want, "\n"))
	pattern = strings.ReplaceAll(pattern, `\.\.\.`, `.*`)
	got = strings.Map(func(r rune) rune { // blanks that do not break are typed as blanks
		if unicode.IsSpace(r) && r != '\n' {
			return ' '
		}
		return r
	}, got)
	return regexp.MustCompile(`(?s)^\s*` + pattern + `\s*$`).MatchString(got)
}

func TestTutorial(t *testing.T) {
	if testing.Short() {
		t.Skip("the engine takes some seconds to build")
	}
	steps := stepsOf(t)
	if _, err := demoProgram(); err != nil { // where the sources are; the rest is done elsewhere
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	commands, last := 0, ""
	for i, s := range steps {
		switch s.kind {
		case "yaml", "json":
			s.put(t)
		case "sh":
			line, ok := strings.CutPrefix(strings.TrimSpace(s.text), "go run ./web ")
			if !ok || strings.Contains(line, "\n") || i+1 == len(steps) || steps[i+1].kind != "text" {
				t.Fatalf("TUTORIAL.md:%d: want one command of the tool, and what it shows below it", s.line)
			}
			commands++
			out, errs := until(t, words(line))
			if last = out; out == "" {
				last = errs
			}
		case "text":
			if !shows(s.text, last) {
				t.Errorf("TUTORIAL.md:%d: it shows\n%s\nand says\n%s", s.line, last, s.text)
			}
		default:
			t.Errorf("TUTORIAL.md:%d: nobody knows what to do with a block of %q", s.line, s.kind)
		}
	}
	if commands < 8 {
		t.Errorf("%d commands were given", commands)
	}
	if _, err := os.Stat(filepath.Join("site", "index.html")); err != nil {
		t.Error(err)
	}
}

package main

import (
	"bytes"
	"errors"
	"flag"
	"io"
	"strings"
	"testing"

	"ribband/core/brief"
	"ribband/core/pack"
)

// FuzzFlags reads what may stand behind a command, one argument a line: all kinds of flags, and the small languages in
// them. What is wrong is said in one sentence, as a command that was not understood.
func FuzzFlags(f *testing.F) {
	for _, args := range []string{"", "-h", "-book\nrules\n-desk=yard",
		"-wish\nrange=25\n-wish=weather\n-use\nregion=nl",
		"-wish\n=\n", "-use=persons=1e999", "-desk\nmoon", "--\n-x", "-", "x", "-wish=a={\"x\":1}", "-book"} {
		f.Add(args)
	}
	f.Fuzz(func(t *testing.T, text string) {
		fs := newFlags(&console{strings.NewReader(""), io.Discard, io.Discard}, "brief", "brief")
		wishes, use := fs.list("wish", "a wish"), fs.list("use", "the use")
		desk := oneOf(fs, "desk", "who is looking", pack.Desks...)
		var args []string
		if text != "" {
			args = strings.Split(text, "\n")
		}
		var usage usageError
		if err := fs.parse(args); err != nil {
			if !errors.As(err, &usage) && !errors.Is(err, flag.ErrHelp) {
				t.Fatalf("%q: %v is not told as a wrong command", args, err)
			}
			return
		}
		if *desk == "" || fs.NArg() > 0 {
			t.Fatalf("%q leaves %q for the desk %q", args, fs.Args(), *desk)
		}
		b := brief.Brief{Format: brief.Format}
		if state(&b, *wishes, *use) == nil && len(b.Wishes) > len(*wishes) {
			t.Fatalf("%q makes %d wishes", args, len(b.Wishes))
		}
	})
}

// A pipe or a device without an end is no file of a boat: it is said, and not read until memory is full.
func TestInputIsBounded(t *testing.T) {
	endless := io.MultiReader(bytes.NewReader(make([]byte, mostInput)), strings.NewReader("x"))
	_, err := readFile(&console{in: endless}, "-")
	if want := "reading standard input: it has more than 67108864 bytes, which no file of a boat has"; err == nil ||
		err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	if _, err := readFile(nil, "no such file"); err == nil {
		t.Error("a file that is not there is read")
	}
}

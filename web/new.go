package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/book/begin"
)

// An owner who is no programmer begins with a book that works, and changes it line by line: each change is checked for
// itself, so that whatever goes wrong was done a minute ago. An empty folder would give a hundred errors at once, and
// the demo book somebody else's yard. What the book says is made by package begin; here it is asked for and written.

// newBook writes the first book of a yard into a folder, from flags, from answers on the terminal, or from what is
// suggested. Nothing is ever overwritten.
func newBook(_ context.Context, c *console, args []string) error {
	f := newBookless(c, "new", "new [flags] DIR")
	f.about = "writes a small book that works, for a yard's owner to change: one hull, slots and options, materials, " +
		"operations, rules and a region with its tax. It asks for what no flag gives; Enter takes what stands in " +
		"brackets."
	// A flag for each question, of the same name: what a script gives and what a person types is taken by the same
	// code, so that neither gets further than the other.
	given := map[string]string{}
	for _, q := range begin.Questions {
		f.Func(q.Flag, q.Ask, func(s string) error { given[q.Flag] = s; return nil })
	}
	yes := f.Bool("yes", false, "ask nothing: take what is suggested for all that no flag gives")
	dir, err := f.folder(args)
	if err != nil {
		return err
	}
	// before anything is asked: nobody answers ten questions to be told that the folder will not do
	if err := unused(dir); err != nil {
		return err
	}
	answers, err := ask(c, given, *yes)
	if err != nil {
		return err
	}
	files, err := begin.Files(answers)
	if err != nil {
		return err
	}
	// The whole book is there before the first file is: a wrong answer leaves no folder behind.
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if err := writeNew(filepath.Join(dir, name), files[name], 0o644); err != nil {
			return fmt.Errorf("writing the book: %w", err)
		}
	}
	// Read back as every other command reads it: what was written is a book, or that is said. The questions let
	// nothing through that is none, so that a warning here is a fault of the program; the book is there all the same,
	// and can be mended by hand.
	_, counts, found, err := readBook(dir)
	if err != nil {
		return fmt.Errorf("reading the new book: %w", err)
	}
	r := reportOf(dir, counts, found)
	printDiagnostics(c.out, r)
	// The next two commands stand there to be copied: whoever has begun knows what comes next, without a manual.
	fmt.Fprintf(c.out, "Wrote %s: %s.\n%s: %s\nChange yard.yaml first; its head says in which order to go on. Then:\n"+
		"  go run ./web check -book %[1]s\n  go run ./web -book %[1]s\n",
		dir, strings.Join(slices.Sorted(maps.Keys(files)), ", "), sizeOf(r),
		verdict(r.of(book.Error), r.of(book.Warning)))
	if len(found) > 0 {
		return errFaults
	}
	return nil
}

// A folder stands without a flag in this command alone: it is what the command is about, as a file is of open.

// folder reads the flags and the one folder behind them; flags may stand behind it, too.
func (f *flags) folder(args []string) (string, error) {
	if err := f.read(args); err != nil {
		return "", err
	}
	dir := f.Arg(0)
	if dir == "" {
		return "", f.wrong("into which folder? Give one, such as go run ./web new ../book")
	}
	// Package flag stops at the first word that is none, and people write the folder first.
	if err := f.read(f.Args()[1:]); err != nil {
		return "", err
	}
	if f.NArg() > 0 {
		return "", f.wrong("what is %q? Give one folder, and every other word behind a flag", f.Arg(0))
	}
	return dir, nil
}

// unused refuses a folder that has anything in it, by name: a book is never written over or among other files.
func unused(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("beginning a book in %s: %w; give a folder that is empty or not there yet", dir, err)
	case len(entries) > 0:
		// by the name of what is there, so that nobody has to look whether the folder was the one that was meant
		return fmt.Errorf("beginning a book in %s: %s is there already; give a folder that is empty or not there yet",
			dir, entries[0].Name())
	}
	return nil
}

// ask collects the answers: of flags first, then from the terminal or as they are suggested. A wrong flag ends the
// command; on the terminal the question comes again, with what was wrong and what would do. Questions and complaints go
// to standard error, so that standard output has what was written alone.
func ask(c *console, given map[string]string, yes bool) (a begin.Answers, err error) {
	in := bufio.NewReader(c.in)
	for _, q := range begin.Questions {
		// A flag is an answer like any other, and its question is not asked: a script gives all of them, a person those
		// that come to mind.
		if text, ok := given[q.Flag]; ok {
			if err := q.Take(&a, strings.TrimSpace(text)); err != nil {
				return a, usageError{fmt.Errorf("new: -%s: %w", q.Flag, err)}
			}
			continue
		}
		// The suggestion follows from the answers so far: the beam from the length, the country from the currency.
		suggestion := q.Suggest(&a)
		for {
			text := ""
			if !yes {
				fmt.Fprintf(c.err, "%s [%s]: ", q.Ask, suggestion)
				// a last line without its end counts; no line at all is nobody who answers, as in a script
				if text, err = in.ReadString('\n'); err != nil && (!errors.Is(err, io.EOF) || text == "") {
					fmt.Fprintln(c.err)
					return a, usageError{fmt.Errorf("new: nothing answers %q; give -%s, or -yes for what is suggested",
						q.Ask, q.Flag)}
				}
				text = strings.TrimSpace(text)
			}
			// Enter alone, or -yes
			if text == "" {
				text = suggestion
			}
			if err = q.Take(&a, text); err == nil {
				break
			}
			// What is suggested can be out of bounds where a flag before it was at an end of its own.
			if yes {
				return a, usageError{fmt.Errorf("new: -%s: %w", q.Flag, err)}
			}
			fmt.Fprintf(c.err, "  %v.\n", err)
		}
	}
	return a, nil
}

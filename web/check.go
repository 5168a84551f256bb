package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path"
	"strings"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

// CheckReport is what check -json prints. Files are named with the folder of the book before them. Its schema is
// published, so that an editor can show what is wrong as somebody types.
type CheckReport struct {
	Diagnostics []publish.Diagnostic `json:"diagnostics"`
	Counts      publish.Counts       `json:"counts"`
	Proof       *proof.Proof         `json:"proof,omitempty" jsonschema:"description=absent with -quick and where the book has other errors"`
}

// add adds a diagnostic of the book in a folder. So its path is that from where the command was given, and an editor or
// terminal opens it.
func (r *CheckReport) add(folder string, d publish.Diagnostic) {
	d.File = path.Join(folder, d.File)
	r.Diagnostics = append(r.Diagnostics, d)
}

// of is how many diagnostics have a grade.
func (r *CheckReport) of(g book.Grade) (n int) {
	for _, d := range r.Diagnostics {
		if d.Grade == g {
			n++
		}
	}
	return n
}

// check reads a book and proves it. Proofs are left out where there are errors: they would tell of boats that the book
// does not mean, and take their time.
func check(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "check",
		"check [-book DIR] [-quick] [-lasting] [-part K/N] [-strict] [-cache DIR] [-json] [-watch]")
	quick := f.Bool("quick", false, "leave out the proofs over all boats")
	lasting := f.Bool("lasting", false, "take over what was proved by other rules and holds, for a look after an edit")
	cache := f.String("cache", "", "folder in which the answers of the proof are kept for the next one; off for none")
	share := f.String("part", "", "prove one of several parts, as 3/16, and print it for the command merge")
	strict := f.Bool("strict", false, "fail on warnings, too")
	asJSON := f.Bool("json", false, "print the report as JSON")
	watch := f.Bool("watch", false, "check again at each save, until Ctrl-C; the proofs come behind")
	if err := f.parse(args); err != nil {
		return err
	}
	if *watch && (*asJSON || *strict) {
		return f.wrong("-watch tells people what changes; leave out -json and -strict")
	}
	if *watch {
		return watchBook(ctx, c, f.book, *quick, *cache)
	}
	files := new(source.Cache)
	packs, counts, diagnostics, err := publish.LoadAgain(os.DirFS(f.book), files, publish.Whole)
	if err != nil {
		return fmt.Errorf("checking %s: %w", f.book, err)
	}
	// A book with errors has a report as well: counts, and every error that was found, not the first alone.
	r := reportOf(f.book, counts, diagnostics)
	if r.of(book.Error) == 0 && *share != "" {
		return proveShare(c, f.book, packs, *share, *cache)
	}
	if r.of(book.Error) == 0 && !*quick {
		if err := r.prove(c, f.book, files, packs[pack.Yard], *cache, *lasting); err != nil {
			return fmt.Errorf("checking %s: %w", f.book, err)
		}
	}
	return r.end(c, *asJSON, *strict)
}

// end prints a report. Everything has been told then: only the exit code is left.
func (r *CheckReport) end(c *console, asJSON, strict bool) (err error) {
	if asJSON {
		err = printJSON(c.out, r)
	} else {
		printReport(c.out, r)
	}
	if err == nil && (r.of(book.Error) > 0 || strict && r.of(book.Warning) > 0) {
		return errFaults
	}
	return err
}

// reportOf begins a report with what reading found. Its list is never nil, since JSON should have an empty one and not
// null.
func reportOf(folder string, counts publish.Counts, list []book.Diagnostic) *CheckReport {
	r := &CheckReport{Diagnostics: []publish.Diagnostic{}, Counts: counts}
	for _, d := range list {
		r.add(folder, publish.Diagnostic{Diagnostic: d})
	}
	return r
}

// printJSON writes for people as well as for programs: indented, and with < and & as they are.
func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// printReport writes what is wrong, what was proved, and at the end the verdict, which is what stays in view.
func printReport(w io.Writer, r *CheckReport) {
	printDiagnostics(w, r)
	if r.Proof != nil {
		printProof(w, r.Proof)
	}
	fmt.Fprintf(w, "%s: %s\n", sizeOf(r), verdict(r.of(book.Error), r.of(book.Warning)))
}

// sizeOf says how large the book is. A number that has changed much tells of a file that was left out, or read twice.
func sizeOf(r *CheckReport) string {
	n := r.Counts
	return strings.Join([]string{plural(n.Hulls, "hull"), plural(n.Slots, "slot"), plural(n.Options, "option"),
		plural(n.Rules, "rule"), plural(n.Materials, "material"), plural(n.Operations, "operation")}, ", ")
}

// printDiagnostics writes each in the form that editors jump to, file:line:column, then the line of the book with a
// caret, then the remedy.
func printDiagnostics(w io.Writer, r *CheckReport) {
	// one slip in a unit stands in fifty places, and what else is wrong should not drown in it
	for _, same := range book.Grouped(r.Diagnostics) {
		d := same[0]
		fmt.Fprintf(w, "%s: %s: %s\n%s    %s\n", d.Position, d.Grade, d.Message, d.Shown("  | "), d.Advice)
		for _, line := range []string{alsoAt(same[1:]), d.Following("")} {
			if line != "" {
				fmt.Fprintf(w, "    %s\n", line)
			}
		}
		if d.Witness != nil {
			fmt.Fprintf(w, "    see the boat %s\n", witness(d))
		}
	}
}

// witness is the boat that shows a fault, as JSON that can be given to quote as it stands.
func witness(d publish.Diagnostic) string {
	text, _ := json.Marshal(d.Witness) // a spec always marshals
	return string(text)
}

// alsoAt names the other places of a fault: two beside the first, and how many more; nothing where there are none.
func alsoAt(others []publish.Diagnostic) string {
	// an editor finds the others by the same words
	var places []string
	for _, d := range others[:min(2, len(others))] {
		places = append(places, d.Position.String())
	}
	text := strings.Join(places, ", ")
	if more := len(others) - len(places); more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	if text == "" {
		return ""
	}
	return "the same at " + text
}

// verdict says how many errors and warnings there are: "no errors.", "1 error, 2 warnings." It is the same sentence at
// the foot of a report, on the page of the book and when the server starts.
func verdict(errors, warnings int) string {
	counted := func(n int, what string) string {
		if n == 1 {
			return "1 " + what
		}
		return fmt.Sprintf("%d %ss", n, what)
	}
	text := "no errors"
	if errors > 0 {
		text = counted(errors, "error")
	}
	if warnings > 0 {
		text += ", " + counted(warnings, "warning")
	}
	return text + "."
}

// printProof tells what was proved over all boats. It tells numbers, and names only what somebody may want to look at:
// what can never be had, is always there, or has no boat.
func printProof(w io.Writer, p *proof.Proof) {
	for _, h := range p.Hulls {
		fmt.Fprintf(w, "%s: %d options can be had", h.ID, len(h.Options))
		if len(h.Never) > 0 {
			fmt.Fprintf(w, ", %d the rules exclude", len(h.Never))
		}
		fmt.Fprintln(w, ".")
		if h.Boats != "" {
			fmt.Fprintf(w, "    boats: %s = %s, over all rules but %d over figures of the whole boat\n",
				proof.Short(h.Boats), h.Boats, len(h.Uncounted))
		}
		for _, n := range h.Never {
			fmt.Fprintf(w, "    never %s: %s\n", n.Option, n.Why)
		}
		if len(h.Always) > 0 {
			fmt.Fprintf(w, "    in every boat: %s\n", strings.Join(h.Always, ", "))
		}
		for _, u := range h.Without {
			fmt.Fprintf(w, "    with nothing else changed, no boat with %s\n", u)
		}
	}
	// A guard is there although no boat breaks it; that none can was proved of some, and of the others none was found.
	proved := 0
	for _, g := range p.Rules.Guards {
		if g.Proved {
			proved++
		}
	}
	fmt.Fprintf(w, "Rules: %d rule something out that the others let pass, %d are guards, %d of them proved.\n",
		len(p.Rules.Effective), len(p.Rules.Guards), proved)
	fmt.Fprintf(w, "Formulas: %d times safe on every boat, %d times neither proved nor refuted; %d cuts and circuits "+
		"tried on the boats found.\n", p.Formulas.Safe, p.Formulas.Open, p.Formulas.Tried)
	if p.Open > 0 {
		fmt.Fprintf(w, "Neither proved nor refuted: %d, a warning each.\n", p.Open)
	}
}

// load gives the packs of a book without errors. What is wrong with it is printed on standard error, warnings too.
// Warnings do not keep a book from being used, but nobody should have to run check to hear of them.
func load(c *console, folder string) (publish.Packs, error) {
	packs, _, err := loadAll(c, folder)
	return packs, err
}

// readBook reads and compiles the book in a folder. The tests read that of the demo once, and not for each command.
var readBook = func(folder string) (publish.Packs, publish.Counts, []book.Diagnostic, error) {
	return publish.Load(os.DirFS(folder))
}

// loadAll is load with what was found. The server shows it on a page of its own, beside the desks.
func loadAll(c *console, folder string) (publish.Packs, *CheckReport, error) {
	packs, counts, diagnostics, err := readBook(folder)
	if err != nil {
		return nil, nil, fmt.Errorf("loading the book in %s: %w", folder, err)
	}
	r := reportOf(folder, counts, diagnostics)
	// Whoever asked for a paper wants to know why there is none: the whole report, but where errors go.
	if r.of(book.Error) > 0 {
		printReport(c.err, r)
		return nil, nil, errFaults
	}
	printDiagnostics(c.err, r)
	return packs, r, nil
}

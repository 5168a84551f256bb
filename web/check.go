package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path"

	"ribband/core/book"
	"ribband/core/publish"
)

// Fault is a problem of a book as check -json prints it.
type Fault struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
	Advice  string `json:"advice"`
}

// CheckReport is what check -json prints.
type CheckReport struct {
	Errors []Fault        `json:"errors"`
	Counts publish.Counts `json:"counts"`
}

func check(_ context.Context, c *console, args []string) error {
	f := flags(c, "check", "check [-book DIR] [-json]")
	folder := f.String("book", "rules", "folder of the book")
	asJSON := f.Bool("json", false, "print the report as JSON")
	if err := parse(f, args); err != nil {
		return err
	}
	_, counts, problems, err := publish.Load(os.DirFS(*folder))
	if err != nil {
		return fmt.Errorf("checking %s: %w", *folder, err)
	}
	if *asJSON {
		err = printJSON(c.out, report(*folder, counts, problems))
	} else {
		printReport(c.out, *folder, counts, problems)
	}
	if err == nil && len(problems) > 0 {
		return errFaults
	}
	return err
}

func report(folder string, counts publish.Counts, problems []book.Problem) CheckReport {
	r := CheckReport{Errors: []Fault{}, Counts: counts}
	for _, p := range problems {
		r.Errors = append(r.Errors, Fault{path.Join(folder, p.File), p.Line, p.Column, p.Message, p.Advice})
	}
	return r
}

func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

func printReport(w io.Writer, folder string, n publish.Counts, problems []book.Problem) {
	for _, p := range problems {
		fmt.Fprintf(w, "%s: %s\n    %s\n", path.Join(folder, p.Position.String()), p.Message, p.Advice)
	}
	fmt.Fprintf(w, "%d hulls, %d slots, %d options, %d rules, %d materials, %d operations: ", n.Hulls, n.Slots, n.Options, n.Rules, n.Materials, n.Operations)
	switch len(problems) {
	case 0:
		fmt.Fprintln(w, "no errors.")
	case 1:
		fmt.Fprintln(w, "1 error.")
	default:
		fmt.Fprintf(w, "%d errors.\n", len(problems))
	}
}

// load gives the packs of a book in which nothing is wrong, and reports what is wrong otherwise.
func load(c *console, folder string) (publish.Packs, error) {
	packs, counts, problems, err := publish.Load(os.DirFS(folder))
	if err != nil {
		return nil, fmt.Errorf("loading the book in %s: %w", folder, err)
	}
	if len(problems) > 0 {
		printReport(c.err, folder, counts, problems)
		return nil, errFaults
	}
	return packs, nil
}

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path"
	"strings"
	"time"

	"ribband/core/book"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
	"ribband/core/spec"
)

// Fault is a problem of a book as check -json prints it.
type Fault struct {
	File    string     `json:"file"`
	Line    int        `json:"line"`
	Column  int        `json:"column"`
	Message string     `json:"message"`
	Advice  string     `json:"advice"`
	Witness *spec.Spec `json:"witness,omitempty" jsonschema:"description=a boat that shows it"`
}

// CheckReport is what check -json prints.
type CheckReport struct {
	Errors []Fault        `json:"errors"`
	Counts publish.Counts `json:"counts"`
	Proof  *proof.Proof   `json:"proof,omitempty" jsonschema:"description=absent with -quick and where the book has other errors"`
}

func check(_ context.Context, c *console, args []string) error {
	f := flags(c, "check", "check [-book DIR] [-quick] [-json]")
	folder := f.String("book", "rules", "folder of the book")
	quick := f.Bool("quick", false, "leave out the proofs over all boats")
	asJSON := f.Bool("json", false, "print the report as JSON")
	if err := parse(f, args); err != nil {
		return err
	}
	packs, counts, problems, err := publish.Load(os.DirFS(*folder))
	if err != nil {
		return fmt.Errorf("checking %s: %w", *folder, err)
	}
	r := CheckReport{Errors: []Fault{}, Counts: counts}
	for _, p := range problems {
		r.Errors = append(r.Errors, faultOf(*folder, p, nil))
	}
	if len(problems) == 0 && !*quick {
		begin := time.Now()
		var refuted []publish.Refuted
		if r.Proof, refuted, err = publish.Prove(os.DirFS(*folder), packs[pack.Yard]); err != nil {
			return fmt.Errorf("checking %s: %w", *folder, err)
		}
		for _, p := range refuted {
			r.Errors = append(r.Errors, faultOf(*folder, p.Problem, p.Witness))
		}
		c.progress("proved over all boats in %.1f s", time.Since(begin).Seconds())
	}
	if *asJSON {
		err = printJSON(c.out, r)
	} else {
		printReport(c.out, &r)
	}
	if err == nil && len(r.Errors) > 0 {
		return errFaults
	}
	return err
}

func faultOf(folder string, p book.Problem, witness *spec.Spec) Fault {
	return Fault{path.Join(folder, p.File), p.Line, p.Column, p.Message, p.Advice, witness}
}

func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

func printReport(w io.Writer, r *CheckReport) {
	for _, f := range r.Errors {
		fmt.Fprintf(w, "%s:%d:%d: %s\n    %s\n", f.File, f.Line, f.Column, f.Message, f.Advice)
		if f.Witness != nil {
			text, _ := json.Marshal(f.Witness)
			fmt.Fprintf(w, "    see the boat %s\n", text)
		}
	}
	if r.Proof != nil {
		printProof(w, r.Proof)
	}
	n := r.Counts
	fmt.Fprintf(w, "%d hulls, %d slots, %d options, %d rules, %d materials, %d operations: ", n.Hulls, n.Slots, n.Options, n.Rules, n.Materials, n.Operations)
	switch len(r.Errors) {
	case 0:
		fmt.Fprintln(w, "no errors.")
	case 1:
		fmt.Fprintln(w, "1 error.")
	default:
		fmt.Fprintf(w, "%d errors.\n", len(r.Errors))
	}
}

// printProof tells what was proved over all boats.
func printProof(w io.Writer, p *proof.Proof) {
	for _, h := range p.Hulls {
		fmt.Fprintf(w, "%s: %d options can be had", h.ID, len(h.Options))
		if len(h.Never) > 0 {
			fmt.Fprintf(w, ", %d the rules keep from her", len(h.Never))
		}
		fmt.Fprintln(w, ".")
		if h.Boats != "" {
			fmt.Fprintf(w, "    boats: %s = %s, over all rules but %d over figures of the whole boat\n", proof.Short(h.Boats), h.Boats, len(h.Uncounted))
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
	fmt.Fprintf(w, "Rules: %d rule something out that the others let pass, %d are guards.\n", len(p.Rules.Effective), len(p.Rules.Guards))
	fmt.Fprintf(w, "Formulas: %d times safe on every boat, %d times neither proved nor refuted; %d cuts and circuits tried on the boats found.\n", p.Formulas.Safe, p.Formulas.Open, p.Formulas.Tried)
	if len(p.Open) > 0 {
		fmt.Fprintln(w, "Neither proved nor refuted:")
		for _, o := range p.Open {
			fmt.Fprintf(w, "    %s\n", o)
		}
	}
}

// load gives the packs of a book in which nothing is wrong, and reports what is wrong otherwise.
func load(c *console, folder string) (publish.Packs, error) {
	packs, counts, problems, err := publish.Load(os.DirFS(folder))
	if err != nil {
		return nil, fmt.Errorf("loading the book in %s: %w", folder, err)
	}
	if len(problems) > 0 {
		r := CheckReport{Counts: counts}
		for _, p := range problems {
			r.Errors = append(r.Errors, faultOf(folder, p, nil))
		}
		printReport(c.err, &r)
		return nil, errFaults
	}
	return packs, nil
}

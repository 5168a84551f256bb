package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/spec"
	"ribband/core/suggest"
)

// boatColumns are the figures that a naval architect and an electrician ask about first. A book that lacks one has no
// such column. They are the ones of which a change of the book or the engine shows first where it should not.
const boatColumns = "mass_kg,gm_m,freeboard_m,offset_heel_deg,range_nm,top_speed_kn," +
	"main_mm2,main_conductors,main_fuse_computed_a,main_fuse_a,bank_fuse_a"

// listBoats writes a table with a line for each spec of a folder, so that a change of the book or of the engine can be
// looked over at one glance. It asks the yard's desk, whose figures are all there are.
func listBoats(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "boats", "boats [-specs DIR] [-book DIR] [-figures ID,ID...] [-format text|json]")
	specs := f.String("specs", "testdata/specs", "folder of specs, each a file ending in .json")
	columns := f.String("figures", "", "figures of the book, by id; where not given: "+boatColumns)
	format := oneOf(f, "format", "a table in Markdown, or data", "text", "json")
	if err := f.parse(args); err != nil {
		return err
	}
	packs, err := load(c, f.book)
	if err != nil {
		return err
	}
	e, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		return err
	}
	figures, err := columnsOf(e, *columns)
	if err != nil {
		return f.wrong("%w", err)
	}
	boats, err := boatsIn(c, e, *specs, figures)
	if err != nil {
		return err
	}
	if *format == "json" {
		return printJSON(c.out, boatTable{boats})
	}
	writeBoats(c.out, boats)
	return nil
}

// columnsOf finds the figures that are asked for. A figure that was asked for by name must be there; one of the usual
// ones may be missing, since books differ.
func columnsOf(e *engine.Engine, list string) (figures []int, err error) {
	asked := list != ""
	if !asked {
		list = boatColumns
	}
	var known []string
	for _, f := range e.Pack.Figures {
		known = append(known, f.ID)
	}
	for _, id := range strings.Split(list, ",") {
		i := slices.Index(known, id)
		if i < 0 && asked {
			return nil, fmt.Errorf("the book has no figure %q; %s", id,
				suggest.Nearest(id, known, "see words.yaml"))
		}
		if i >= 0 {
			figures = append(figures, i)
		}
	}
	return figures, nil
}

// boatTable is what boats -format json prints.
type boatTable struct {
	Boats []boatLine `json:"boats"`
}

// boatLine is a boat of the table. Figures hold unit and state, as on the page; a reader of the JSON need not take a
// text apart.
type boatLine struct {
	Name     string         `json:"name"` // of the file
	Hull     string         `json:"hull"`
	Clashes  int            `json:"clashes"`
	Figures  []engine.Value `json:"figures"`
	Total    string         `json:"total"` // with tax, as the customer pays it
	Currency string         `json:"currency"`
}

// boatsIn answers each file of a folder, in the order of their names.
func boatsIn(c *console, e *engine.Engine, folder string, figures []int) (list []boatLine, err error) {
	// An empty folder is a mistake in the path more often than it is meant.
	names, err := filepath.Glob(filepath.Join(folder, "*.json"))
	if err != nil || len(names) == 0 {
		return nil, fmt.Errorf("reading specs: %s holds no file ending in .json; give -specs DIR", folder)
	}
	for _, name := range names {
		s, err := readSpec(c, name)
		if err != nil {
			return nil, err
		}
		line, err := boatLineOf(e, s, figures)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		// The name of the file is what a boat is called: a spec has none.
		line.Name = strings.TrimSuffix(filepath.Base(name), ".json")
		list = append(list, line)
	}
	return list, nil
}

// boatLineOf answers one spec. A boat that clashes has a line like any other: some do so on purpose.
func boatLineOf(e *engine.Engine, s spec.Spec, figures []int) (boatLine, error) {
	a, err := e.Answer(s)
	if err != nil {
		return boatLine{}, err
	}
	line := boatLine{Hull: s.Hull, Clashes: len(a.Build.Clashes), Total: a.Price.Total.Fixed(a.Price.Currency.Digits),
		Currency: a.Price.Currency.Code}
	// In metric units, whatever a spec was made with: a column can be compared only in one unit.
	for _, i := range figures {
		line.Figures = append(line.Figures, e.FigureValue(a.Build.State, i, measure.Sea))
	}
	return line, nil
}

// writeBoats writes a table that a terminal shows as well as a page of Markdown. Numbers stand to the right, so that
// they can be compared down a column; units stand in the head alone.
func writeBoats(w io.Writer, boats []boatLine) {
	head := []string{"boat"}
	for _, f := range boats[0].Figures {
		head = append(head, strings.Trim(f.Title+", "+f.Symbol(), ", "))
	}
	rows := [][]string{append(head, "price, "+boats[0].Currency, "clashes")}
	for _, b := range boats {
		// A figure that is only known to be at least so much says so, or two boats would look alike that are not.
		row := []string{b.Name}
		for _, f := range b.Figures {
			bound := ""
			if f.State == engine.AtLeast {
				bound, f.State = "≥ ", ""
			}
			f.Unit, f.Notes = "", nil // the unit stands in the head; the notes are in the JSON
			row = append(row, bound+f.Message().String())
		}
		rows = append(rows, append(row, money.Grouped(b.Total), fmt.Sprint(b.Clashes)))
	}
	writeTable(w, rows)
}

// writeTable writes cells to the width of the widest, counted in characters and not in bytes: ° and ≥ are one.
func writeTable(w io.Writer, rows [][]string) {
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	line := func(row []string) {
		for i, cell := range row {
			gap := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if i == 0 {
				cell, gap = cell+gap, ""
			}
			fmt.Fprintf(w, "| %s%s ", gap, cell)
		}
		fmt.Fprintln(w, "|")
	}
	// The rule below the head says in Markdown which columns stand to the right.
	line(rows[0])
	fmt.Fprint(w, "|")
	for i, width := range widths {
		rule := strings.Repeat("-", width+1)
		if i == 0 {
			fmt.Fprint(w, rule+"-|")
			continue
		}
		fmt.Fprint(w, rule+":|")
	}
	fmt.Fprintln(w)
	for _, row := range rows[1:] {
		line(row)
	}
}

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"ribband/core/doc"
	"ribband/core/editions"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/render"
)

// Before a new book is published its owner wants to know what becomes of what he has promised: each quotation that is
// out by the new prices and costs, and the boats that nobody could build any more. Specs have no price of their own;
// theirs is that of the older book, where one is given.
//
// Then is what was: of a quotation the price that its customer has in hand, of a spec that of the older book. Now is
// the newer book's price for the same wish. Kept is what matters to whoever has promised: the old price at the new
// cost.
//
// A long folder can be worked off in parts, by several machines: each writes JSON, and merge joins it.

// requoteKind is the kind of its parts, by which merge knows them.
const requoteKind = "requote"

// RequoteReport is what requote -format json prints.
type RequoteReport struct {
	Edition string `json:"edition"`          // digest of the newer book, as the yard has it
	Before  string `json:"before,omitempty"` // of the older one
	Code    string `json:"currency"`         // of the newer book
	*editions.Round
	Faults []string `json:"faults,omitempty"` // of files, each with its remedy
}

// requotePart is what a part of it has.
type requotePart struct {
	partFile
	*RequoteReport
}

// Every boat is answered anew, which takes a tenth of a second; a yard has some hundred quotations out, and parts are
// for those who keep ten years of them.

// requote answers the quotations of a folder by a book.
func requote(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "requote", "requote -quotations DIR [-book DIR] [-with DIR] [-format text|csv|json] [-part N/M]")
	folder := f.String("quotations", "", "folder of quotations or specs, each a file ending in .json")
	with := f.String("with", "", "folder of the older book: what the boats cost by it")
	format := oneOf(f, "format", "of the list", paper.AsText, paper.AsCSV, paper.AsJSON)
	partText := f.String("part", "", "only a part of the files, such as 3/16, as JSON for merge")
	f.about = "Answers each quotation of a folder by a book: price then and now, cost, margin, what no longer fits " +
		"and why, with sums by hull and in all."
	if err := f.parse(args); err != nil {
		return err
	}
	if *folder == "" {
		return f.wrong("which quotations? Give -quotations DIR")
	}
	p := whole
	if *partText != "" {
		var err error
		if p, err = parsePart(*partText); err != nil {
			return f.wrong("-part %w", err)
		}
	}
	r, err := requoteBooks(c, *folder, f.book, *with, p)
	if err != nil {
		return err
	}
	// what could not be read is told, and the others are answered
	for _, s := range r.Faults {
		c.progress("%s", s)
	}
	// a part is JSON whatever was asked for: nothing else can be joined
	if *partText == "" {
		err = r.print(c, *format)
	} else {
		own := partFile{Kind: requoteKind, Part: p.number, Of: p.of, Book: r.Edition + r.Before}
		err = printJSON(c.out, requotePart{own, r})
	}
	if err != nil {
		return err
	}
	if len(r.Faults) > 0 {
		return errFaults
	}
	return nil
}

// The digests of both books are in the report: two rounds can be told apart by what they were made of, and parts of
// different books are never joined.

// requoteBooks loads the books and answers a part of a folder.
func requoteBooks(c *console, folder, book, with string, p part) (*RequoteReport, error) {
	r := &RequoteReport{}
	// the older book is only for what things cost: without it a quotation has the price that it states
	var was *engine.Engine
	if with != "" {
		packs, err := load(c, with)
		if err != nil {
			return nil, err
		}
		if was, err = engine.Compile(packs[pack.Yard]); err != nil {
			return nil, err
		}
		r.Before = packs[pack.Yard].Work.Digest
	}
	packs, err := load(c, book)
	if err != nil {
		return nil, err
	}
	now, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		return nil, err
	}
	// the work's digest covers costs and prices too: parts of two books are never joined
	r.Edition, r.Code = packs[pack.Yard].Work.Digest, now.Pricing.Currency().Code
	boats, faults, err := requoteFolder(folder, was, now, p)
	r.Round, r.Faults = editions.RoundOf(boats), faults
	return r, err
}

// The command prints and writes nothing: to renew a quotation is a decision, and the desk's work.

// print writes the report in a form. JSON is the same for a part and for the whole, but for the part's name and sums.
func (r *RequoteReport) print(c *console, format paper.Format) error {
	if format == paper.AsJSON {
		return printJSON(c.out, r)
	}
	currency, err := money.CurrencyOf(r.Code)
	if err != nil {
		return err
	}
	if format == paper.AsCSV {
		text, err := render.CSV(&doc.Doc{Data: r.table(currency)})
		if err == nil {
			_, err = c.out.Write(text)
		}
		return err
	}
	r.text(c.out, currency)
	return nil
}

// The table of the screen has net amounts alone, as the margin is of these; a spreadsheet gets both, since a customer
// knows what he pays and not what is without tax.

// text is for a person: boats, what no longer fits, sums.
func (r *RequoteReport) text(w io.Writer, currency money.Currency) {
	amount := func(a money.Amount) string { return a.Fixed(currency.Digits) }
	// what is not known is an empty cell
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "Boat\tHull\tNet then\tnow\tCost then\tnow\tMargin then\tnow\tkept\t\n")
	for i := range r.Boats {
		b := &r.Boats[i]
		cells := []string{b.File, b.Hull, "", "", "", "", "", "", ""}
		if b.Then != nil {
			cells[2] = amount(b.Then.Net)
			if b.Then.Cost != nil {
				cells[4], cells[6] = amount(*b.Then.Cost), ofNet(*b.Then.Margin)
			}
		}
		if b.Now != nil {
			cells[3], cells[5], cells[7] = amount(b.Now.Net), amount(*b.Now.Cost), ofNet(*b.Now.Margin)
		}
		if b.Kept != nil {
			cells[8] = ofNet(*b.Kept)
		}
		for _, cell := range cells {
			fmt.Fprintf(t, "%s\t", cell)
		}
		fmt.Fprintln(t)
	}
	t.Flush()
	// reasons below the table: they are sentences, and a column of them would leave no room
	for i := range r.Boats {
		for _, why := range r.Boats[i].Gone {
			fmt.Fprintf(w, "%s cannot be had: %s\n", r.Boats[i].File, why)
		}
	}
	// sums are of boats with both prices, so that a difference means something
	fmt.Fprintf(w, "\nIn all, %s net\n", currency.Code)
	t = tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "Hull\tBoats\tGone\tCompared\tThen\tNow\tCost now\t")
	for _, s := range r.Sums {
		name := s.Hull
		if name == "" {
			name = "all"
		}
		fmt.Fprintf(t, "%s\t%d\t%d\t%d\t%s\t%s\t%s\t\n", name, s.Boats, s.Gone, s.Compared, amount(s.Then),
			amount(s.Now), amount(s.Cost))
	}
	t.Flush()
}

// table is the list for a spreadsheet.
func (r *RequoteReport) table(currency money.Currency) *doc.Table {
	t := &doc.Table{}
	// names as in the JSON, so that a sheet of either can be read by the other's description
	for _, name := range []string{"file", "number", "customer", "hull", "net_then", "net_now", "total_then",
		"total_now", "cost_then", "cost_now", "margin_then", "margin_now", "margin_kept", "gone"} {
		t.Columns = append(t.Columns, doc.Column{Title: name})
	}
	t.Groups = doc.Rows(r.Boats, func(b editions.Boat) doc.Row {
		cells := make([]doc.Cell, len(t.Columns)-1)
		cells[0], cells[1], cells[2] = doc.Text(b.Number), doc.Text(b.Customer), doc.Text(b.Hull)
		// then and now stand beside each other
		for i, p := range []*editions.Priced{b.Then, b.Now} {
			if p == nil {
				continue
			}
			cells[3+i], cells[5+i] = doc.Money(p.Net, currency), doc.Money(p.Total, currency)
			if p.Cost != nil {
				cells[7+i], cells[9+i] = doc.Money(*p.Cost, currency), doc.Share(*p.Margin)
			}
		}
		if b.Kept != nil {
			cells[11] = doc.Share(*b.Kept)
		}
		if len(b.Gone) > 0 {
			cells[12] = doc.Text(b.Gone[0])
		}
		return doc.Row{Label: b.File, Cells: cells}
	})
	return t
}

// A part has sums of its own, which nobody adds up: they are made anew of all boats, as one run makes them.

// mergeRequotes joins rounds of quotations. All that they have is in the parts, so that no book is read.
func mergeRequotes(c *console, _ string, parts []partFile) error {
	all := &RequoteReport{}
	var boats []editions.Boat
	for i := range parts {
		own := requotePart{RequoteReport: &RequoteReport{}}
		if err := json.Unmarshal(parts[i].text, &own); err != nil || own.Round == nil {
			return fmt.Errorf("reading the part %s: it is damaged; write it again", parts[i].file)
		}
		all.Edition, all.Before, all.Code = own.Edition, own.Before, own.Code
		boats, all.Faults = append(boats, own.Boats...), append(all.Faults, own.Faults...)
	}
	// by their names, as one run has them; parts hold every so-manieth, and none of them knows its neighbours
	slices.SortFunc(boats, func(x, y editions.Boat) int { return strings.Compare(x.File, y.File) })
	slices.Sort(all.Faults)
	all.Round = editions.RoundOf(boats)
	if err := all.print(c, paper.AsJSON); err != nil {
		return err
	}
	if len(all.Faults) > 0 {
		return errFaults
	}
	return nil
}

package desk

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"ribband/core/look"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

// What leaves the desk or comes back to it: quotations, specifications, yard sheets.

// freeze makes the quotation from the form of the page.
func (d *Desk) freeze(r *Request, reply *Reply) error {
	f := func(name string) string { return strings.TrimSpace(r.Form[name]) }
	d.details = quote.Details{Number: f("number"), Date: f("date"), ValidUntil: f("valid"), Seller: f("seller"),
		Approval: f("approval"), Remarks: f("remarks"), Units: d.system,
		Customer: quote.Party{Name: f("name"), Address: lines(f("address")), Email: f("email"), Phone: f("phone")},
		Serial:   f("serial"), Built: f("built")}
	if err := capacityOf(f, &d.details); err != nil {
		return err
	}
	q, err := quote.Freeze(d.engine, d.answer, d.details)
	if err != nil {
		return err
	}
	d.quoted = d.answer.Spec.Digest()
	name := "quotation-" + fileName(q.Number)
	reply.Paper, err = d.papers(q, name)
	if err == nil { // it keeps what a customer should not get
		reply.Paper.Files = append(reply.Paper.Files,
			File{name + "-for-the-yard.json", "application/json", string(q.Encode())})
	}
	return err
}

// capacityOf reads what was typed of the capacity; nothing says nothing.
func capacityOf(f func(string) string, d *quote.Details) (err error) {
	if text := decimal(f("listtest")); text != "" {
		if d.ListTestKg, err = strconv.ParseFloat(text, 64); err != nil || d.ListTestKg != d.ListTestKg {
			d.ListTestKg = 0
			return fmt.Errorf("the weight in the list test, %.20q, is not a number; give the kilograms that the boat carried, or leave it empty", text)
		}
	}
	if text := f("listed"); text != "" {
		if d.ListedPersons, err = strconv.Atoi(text); err != nil {
			return fmt.Errorf("the persons marked, %.20q, are not a whole number; give the number of persons for the label, or leave it empty", text)
		}
	}
	return nil
}

func lines(s string) []string {
	var out []string
	for _, l := range strings.Split(s, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// fileName keeps letters, digits and hyphens.
func fileName(s string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' {
			return c
		}
		return '-'
	}, s)
}

func (d *Desk) papers(q *quote.Quote, name string) (*Paper, error) {
	pictures, err := look.ForCustomer(d.engine, d.answer.Build)
	if err != nil {
		return nil, err
	}
	html, err := paper.Customer(q, paper.AsHTML, pictures...)
	if err != nil {
		return nil, err
	}
	text, err := paper.Customer(q, paper.AsText)
	if err != nil {
		return nil, err
	}
	return &Paper{Title: q.Hull, HTML: string(html),
		Files: []File{{name + ".html", "text/html", string(html)}, {name + ".txt", "text/plain", string(text)}}}, nil
}

// specification makes the paper of a boat that is not quoted yet.
func (d *Desk) specification(_ *Request, reply *Reply) (err error) {
	q := quote.DraftIn(d.engine, d.answer, d.system)
	name := "specification-" + fileName(d.answer.Spec.Hull)
	if reply.Paper, err = d.papers(q, name); err != nil {
		return err
	}
	public, whole := string(d.answer.Spec.Public().Encode()), string(d.answer.Spec.Encode())
	reply.Paper.Files = append(reply.Paper.Files, File{name + ".json", "application/json", public})
	if public != whole {
		reply.Paper.Files = append(reply.Paper.Files, File{name + "-for-the-yard.json", "application/json", whole})
	}
	return nil
}

// sheet makes the yard's papers, of the whole boat or of the shop that the request names.
func (d *Desk) sheet(r *Request, reply *Reply) error {
	if !d.engine.Can(pack.Sheets) {
		return errors.New("this desk has no build sheet")
	}
	q := quote.DraftIn(d.engine, d.answer, d.system)
	if d.answer.Spec.Digest() == d.quoted {
		q.Details = d.details
	}
	if r.Value != "" {
		return d.shopSheet(r.Value, q, reply)
	}
	y := sheet.ForYard(d.engine, d.answer, q.Details)
	pictures, err := sheet.Pictures(d.engine, d.answer.Build)
	if err != nil {
		return err
	}
	name := "yard-sheet-" + fileName(d.answer.Spec.Hull)
	reply.Paper = &Paper{Title: "Build sheet, " + y.Hull}
	for _, f := range []struct {
		format    paper.Format
		end, kind string
	}{{paper.AsHTML, ".html", "text/html"}, {paper.AsText, ".txt", "text/plain"}, {paper.AsCSV, ".csv", "text/csv"},
		{paper.AsJSON, ".json", "application/json"}} {
		text, err := paper.Yard(y, q, f.format, pictures...)
		if err != nil {
			return err
		}
		if f.format == paper.AsHTML {
			reply.Paper.HTML = string(text)
		}
		reply.Paper.Files = append(reply.Paper.Files, File{name + f.end, f.kind, string(text)})
	}
	return nil
}

// shopSheet makes the papers of one shop.
func (d *Desk) shopSheet(id string, q *quote.Quote, reply *Reply) error {
	shop, err := d.engine.FindShop(id)
	if err != nil {
		return err
	}
	s, err := sheet.ForShop(d.engine, d.answer, shop)
	if err != nil {
		return err
	}
	html, err := paper.Shop(s, q, paper.AsHTML)
	if err != nil {
		return err
	}
	text, err := paper.Shop(s, q, paper.AsText)
	if err != nil {
		return err
	}
	name := fileName(id) + "-" + fileName(d.answer.Spec.Hull)
	reply.Paper = &Paper{Title: s.Shop + ", " + s.Hull, HTML: string(html),
		Files: []File{{name + ".html", "text/html", string(html)}, {name + ".txt", "text/plain", string(text)}}}
	return nil
}

// file opens a quote or a spec.
func (d *Desk) file(r *Request, reply *Reply) error {
	if !quote.Is([]byte(r.Text)) {
		s, err := spec.Decode([]byte(r.Text))
		if err != nil {
			return err
		}
		return d.openSpec(s, nil)
	}
	q, err := quote.Decode([]byte(r.Text))
	if err != nil {
		return err
	}
	_, a, differences, err := quote.Reopen(d.engine, q)
	if err != nil {
		return err
	}
	if err := d.openSpec(a.Spec, nil); err != nil {
		return err
	}
	reply.Fresh = true
	d.details, d.quoted, d.reopened, d.differences = q.Details, d.answer.Spec.Digest(), q, differences
	return nil
}

package desk

import (
	"encoding/base64"
	"strconv"
	"strings"

	"ribband/core/deals"
	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/spec"
)

// What leaves the desk or comes back to it: quotations, specifications, yard sheets. Names of files stay in English, as
// programs and folders go by them; titles are in the language of the desk.

// freeze makes the quotation from the form of the page. The customer gets the paper; beside it there is a file for the
// yard, from which the quotation can be opened again. The details stay with the desk, so that a sheet of the same boat
// can name the customer.
func (d *Desk) freeze(r *Request, reply *Reply) error {
	f := func(name string) string { return strings.TrimSpace(r.Form[name]) }
	d.details = quote.Details{Number: f("number"), Date: f("date"), ValidUntil: f("valid"), Seller: f("seller"),
		Approval: f("approval"), Remarks: f("remarks"),
		Customer: quote.Party{Name: f("name"), Address: lines(f("address")), Email: f("email"), Phone: f("phone")},
		Serial:   f("serial"), Built: f("built")}
	d.details.Revision, _ = strconv.Atoi(f("revision")) // a hidden field: nobody types it
	if err := capacityOf(f, &d.details); err != nil {
		return err
	}
	if err := d.free(d.details.Number, r); err != nil {
		return err
	}
	e, a, err := d.inLanguage(r.Form["language"])
	if err != nil {
		return err
	}
	// stated, so that the quotation is the same wherever it is opened
	d.details.Units = e.Units(a, d.system)
	q, err := quote.Freeze(e, a, d.details)
	if err != nil {
		return err
	}
	d.quoted, d.papers = d.answer.Spec.Digest(), q.Language
	name := "quotation-" + fileName(q.Number)
	// two revisions lie in one folder
	if q.Revision > 1 {
		name += "-revision-" + strconv.Itoa(q.Revision)
	}
	reply.Quote = string(q.Encode())
	reply.Paper, err = printed(e, a, "quotation", q.Hull, name, q, "")
	if err == nil { // it keeps what a customer should not get
		reply.Paper.Files = append(reply.Paper.Files,
			File{Name: name + "-for-the-yard.json", Type: "application/json", Text: string(q.Encode())})
	}
	return err
}

// capacityOf reads what was typed of the capacity; an empty field says that the test was not made.
func capacityOf(f func(string) string, d *quote.Details) (err error) {
	if text := decimal(f("listtest")); text != "" {
		if d.ListTestKg, err = strconv.ParseFloat(text, 64); err != nil || d.ListTestKg != d.ListTestKg {
			d.ListTestKg = 0
			return msg.Fault("desk.list-test", quoted("value", text))
		}
	}
	if text := f("listed"); text != "" {
		if d.ListedPersons, err = strconv.Atoi(text); err != nil {
			return msg.Fault("desk.persons-marked", quoted("value", text))
		}
	}
	return nil
}

// lines are those of an address, without what is empty.
func lines(s string) []string {
	var out []string
	for _, l := range strings.Split(s, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// fileName keeps letters, digits and hyphens: the number of a quotation may have a slash, which would name a folder.
func fileName(s string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' {
			return c
		}
		return '-'
	}, s)
}

// printed makes a paper of the register, and its files under a name. The register refuses what the desk may not have;
// the first of the formats for the page is shown, the others are to be saved.
func printed(e *engine.Engine, a *engine.Answer, id, title, name string, q *quote.Quote, shop string) (*Paper, error) {
	p, err := paper.Find(id, e)
	if err != nil {
		return nil, err
	}
	made, err := p.Of(e, a, q, shop)
	if err != nil {
		return nil, err
	}
	return written(p, made, title, name)
}

// written is a paper in the formats that the page offers.
func written(p *paper.Paper, made *paper.Source, title, name string) (*Paper, error) {
	out := &Paper{Title: title}
	for i, format := range p.OnPage {
		if format.OfIssued() && (made.Quote == nil || made.Quote.Number == "") {
			continue
		}
		text, err := p.Write(made, format)
		if err != nil {
			return nil, err
		}
		// the first is the one that is looked at
		if i == 0 {
			out.HTML = string(text)
		}
		ending, media := format.File()
		out.Files = append(out.Files, fileOf(name+ending, media, text, format.Binary()))
	}
	return out, nil
}

// compared lays a quotation beside the one that it revises, from the records of both, the earlier first. A draft is the
// boat on the page: what it would cost stands nowhere else.
func (d *Desk) compared(r *Request, reply *Reply) error {
	records, err := deals.DecodeRecords([]byte(r.Text))
	if err != nil {
		return err
	}
	if len(records) != 2 {
		return msg.Fault("desk.compared-two", msg.Count("n", len(records)))
	}
	// Nothing is asked of the book: a quotation says all of itself, whatever prices are today.
	s := &paper.Source{}
	if s.Earlier, err = quote.Decode([]byte(records[0].Quote)); err != nil {
		return err
	}
	// in the customer's language, or every word would be another
	e, a, err := d.inLanguage(s.Earlier.Language)
	if err != nil { // one that nobody here speaks
		e, a = d.engine, d.answer
	}
	s.Language, s.Quote = e.Language(), quote.DraftIn(e, a, s.Earlier.Units)
	// it is for the same customer, and in the same units; date and validity come with the issue
	s.Quote.Customer, s.Quote.Seller, s.Quote.Remarks = s.Earlier.Customer, s.Earlier.Seller, s.Earlier.Remarks
	if now := records[1].Quote; now != "" {
		if s.Quote, err = quote.Decode([]byte(now)); err != nil {
			return err
		}
	}
	name := "comparison-" + fileName(s.Earlier.Number)
	reply.Paper, err = written(&paper.Comparison, s, d.engine.Say("desk.comparison",
		msg.Text("number", s.Earlier.Number)), name)
	return err
}

// fileOf is a file to save. A reply is JSON, which has no bytes: what is no text is written as base64 (RFC 4648).
func fileOf(name, media string, content []byte, binary bool) File {
	if binary {
		return File{Name: name, Type: media, Text: base64.StdEncoding.EncodeToString(content), Base64: true}
	}
	return File{Name: name, Type: media, Text: string(content)}
}

// specification makes the paper of a boat that is not quoted yet. Its file is as public as a link; where a salesperson
// added something, another holds that for the yard.
func (d *Desk) specification(r *Request, reply *Reply) error {
	e, a, err := d.inLanguage(r.Value)
	if err != nil {
		return err
	}
	q := quote.DraftIn(e, a, d.system)
	name := "specification-" + fileName(d.answer.Spec.Hull)
	if reply.Paper, err = printed(e, a, "quotation", q.Hull, name, q, ""); err != nil {
		return err
	}
	// the file for the customer has the boat alone, field by field, and not the whole with parts blanked
	public, whole := string(d.answer.Spec.Public().Encode()), string(d.answer.Spec.Encode())
	reply.Paper.Files = append(reply.Paper.Files, File{Name: name + ".json", Type: "application/json", Text: public})
	if public != whole {
		reply.Paper.Files = append(reply.Paper.Files, File{Name: name + "-for-the-yard.json", Type: "application/json",
			Text: whole})
	}
	return nil
}

// sheet makes the yard's papers, of the whole boat or of the shop that the request names.
func (d *Desk) sheet(r *Request, reply *Reply) (err error) {
	q := quote.DraftIn(d.engine, d.answer, d.system)
	// the shops read the number of the quotation, if this boat has one
	if d.answer.Spec.Digest() == d.quoted {
		q.Details = d.details
	}
	hull := fileName(d.answer.Spec.Hull)
	if r.Value == "" {
		reply.Paper, err = printed(d.engine, d.answer, "build-sheet",
			d.engine.Say("desk.build-sheet", msg.Text("hull", q.Hull)),
			"yard-sheet-"+hull, q, "")
		return err
	}
	shop, err := d.engine.FindShop(r.Value)
	if err != nil {
		return err
	}
	title := d.engine.Say("desk.job-card", msg.Text("shop", d.engine.Shops()[shop].Title), msg.Text("hull", q.Hull))
	reply.Paper, err = printed(d.engine, d.answer, "job-card", title, fileName(r.Value)+"-"+hull, q, r.Value)
	return err
}

// file opens a quote or a spec. A quotation comes back with its customer, and the page says what the present book gives
// otherwise; nothing of it changes the quotation that was issued.
func (d *Desk) file(r *Request, reply *Reply) error {
	if deals.Is([]byte(r.Text)) {
		return d.imported(r, reply)
	}
	if !quote.Is([]byte(r.Text)) {
		s, err := spec.Decode([]byte(r.Text))
		if err != nil {
			return err
		}
		return d.openSpec(s)
	}
	q, err := quote.Decode([]byte(r.Text))
	if err != nil {
		return err
	}
	_, a, differences, err := quote.Reopen(d.engine, q)
	if err != nil {
		return err
	}
	if err := d.openSpec(a.Spec); err != nil {
		return err
	}
	// the form is filled with the details of the quotation: what was typed before was of another
	reply.Fresh, reply.Quote = true, r.Text
	d.details, d.quoted, d.reopened, d.differences = q.Details, d.answer.Spec.Digest(), q, differences
	d.papers = q.Language
	d.verdict = r.Signature
	return nil
}

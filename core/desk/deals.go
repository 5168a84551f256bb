package desk

import (
	"slices"
	"strings"

	"ribband/core/deals"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/core/spec"
)

// The records of quotations are the page's: it stores them, and asks here what it cannot know: what a list shows, what
// a file holds and what an import does, and what number comes next.

// Past is a step that undo goes back to, as the page keeps it, so that undo outlives the page.
type Past struct {
	Did    Did            `json:"did"`
	Spec   string         `json:"spec"`
	Effect *screen.Effect `json:"effect,omitempty"` // nil where nothing is known of it
}

// begin opens a clean boat, with a quotation's number and dates proposed: the next customer begins with nothing of the
// last.
func (d *Desk) begin(r *Request, reply *Reply) error {
	d.quoted, d.papers, reply.Fresh = "", "", true
	d.propose(r)
	return d.settle(spec.Spec{Format: spec.Format, Hull: d.engine.Public().Hulls[0].ID})
}

// propose fills in of a quotation what the desk can know beforehand. What stands there is the person's to change.
func (d *Desk) propose(r *Request) {
	// The salesperson stays the same from one customer to the next, and nothing else does.
	d.details = quote.Details{Seller: strings.TrimSpace(r.Form["seller"])}
	if !d.engine.Can(pack.Quotations) || r.Today == "" {
		return
	}
	d.details.Number = d.engine.Numbering().Next(r.Today, r.Device, r.Given)
	// Until when it holds follows from the date that it is issued under, by the book, unless somebody says otherwise.
	d.details.Date = r.Today
}

// restored takes over the steps back that the page kept with a record; what cannot be read is left out with all before
// it, since undo goes step by step.
func restored(kept []Past) []step {
	kept = kept[max(0, len(kept)-mostSteps):]
	// What the page stored may be of an older edition, or damaged: it is read like any file from outside.
	steps := make([]step, 0, len(kept))
	for _, p := range kept {
		s, err := spec.Decode([]byte(p.Spec))
		if err != nil {
			steps = steps[:0]
			continue
		}
		past := step{did: p.Did, spec: s}
		if p.Effect != nil {
			past.effect = *p.Effect
		}
		steps = append(steps, past)
	}
	return steps
}

// free refuses a number that another quotation of this device bears.
func (d *Desk) free(number string, r *Request) error {
	// as two people would compare numbers on the telephone
	plain := func(s string) string { return strings.ToLower(strings.TrimSpace(s)) }
	if !slices.ContainsFunc(r.Given, func(g string) bool { return plain(g) == plain(number) }) {
		return nil
	}
	return msg.Fault("desk.number-taken", msg.Text("number", number),
		msg.Text("next", d.engine.Numbering().Next(r.Today, r.Device, r.Given)))
}

// list shows the records of this device: those that a query finds.
func (d *Desk) list(r *Request, _ *Reply) error {
	rows, err := deals.DecodeRows([]byte(r.Text))
	if err != nil {
		return err
	}
	d.deals = screen.Deals{Rows: rows, Query: r.Value, Today: r.Today, Round: d.deals.Round + 1}
	return nil
}

// exported makes a file of some records, and gives them back as they are to be stored: marked as they left.
func (d *Desk) exported(r *Request, reply *Reply) error {
	records, err := deals.DecodeRecords([]byte(r.Text))
	if err != nil {
		return err
	}
	// The page gives the time, since nothing here reads a clock; it is told to the reader and decides nothing.
	f := deals.File{Device: r.Device, Written: r.Value, Records: records}
	text := f.Encode()
	read, err := deals.Decode(text)
	if err != nil {
		return err // a file that cannot be read again must not leave
	}
	// The marks go back into the store: without them the next import from that device would look like another boat.
	reply.Put = read.Records
	reply.File = &File{Name: d.engine.Say("desk.export-name", msg.Text("device", fileName(r.Device)),
		msg.Text("date", r.Today)), Type: "application/json", Text: string(text)}
	return nil
}

// imported reads a file of records, and asks the page for those that it has of the same names.
func (d *Desk) imported(r *Request, reply *Reply) error {
	// All of the file or nothing: half a day's quotations would look like a whole one.
	f, err := deals.Decode([]byte(r.Text))
	if err != nil {
		return err
	}
	d.incoming = f.Records
	for i := range f.Records {
		reply.Wanted = append(reply.Wanted, f.Records[i].ID)
	}
	return nil
}

// merged says what becomes of the records that a file brought, and gives the page what it has to store.
func (d *Desk) merged(r *Request, reply *Reply) error {
	have, err := deals.DecodeRecords([]byte(r.Text))
	if err != nil {
		return err
	}
	// Between the two requests the records wait here, so that a large file crosses to the engine once.
	in := d.incoming
	d.incoming = nil
	count := map[deals.Arrival]int{}
	var said []msg.Message
	for _, o := range deals.Merge(have, in) {
		count[o.Arrival]++
		if o.Put != nil {
			reply.Put = append(reply.Put, *o.Put)
		}
		row := o.Record.Row()
		if o.Arrival == deals.Diverged {
			said = append(said, msg.New("desk.diverged", msg.Text("number", row.Number),
				msg.Text("customer", row.Customer), msg.Text("boat", row.Boat), msg.Count("revision", o.Put.Revision)))
		}
		if o.Double != "" {
			said = append(said, msg.New("desk.doubled", msg.Text("number", row.Number),
				msg.Text("customer", row.Customer)))
		}
	}
	// First how many, since a file of a show day has dozens; then by name those that somebody has to look at.
	first := msg.New("desk.imported", msg.Count("added", count[deals.Added]), msg.Count("newer", count[deals.Newer]),
		msg.Count("kept", count[deals.Same]+count[deals.Older]), msg.Count("diverged", count[deals.Diverged]))
	for _, m := range append([]msg.Message{first}, said...) {
		d.remark(m)
	}
	return nil
}

package quote

import (
	"fmt"
	"time"
	"unicode/utf8"

	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/spec"
	"ribband/core/visible"
)

// Party is somebody with an address.
type Party struct {
	Name    string   `json:"name"`
	Address []string `json:"address,omitempty"` // line by line, as on an envelope
	Email   string   `json:"email,omitempty"`
	Phone   string   `json:"phone,omitempty"`
}

// Details are what a quote has beyond its answer. Dates are ISO 8601 and come in from outside. ValidUntil, when empty,
// follows from the date and the book. Approval names who allowed what a salesperson may not give; it is the yard's, as
// what follows Remarks is.
type Details struct {
	Number string `json:"number"` // of the yard's own counting; "" makes no quotation of it
	// Revision counts the quotations of one number; the first is 1, or 0 where nobody counts.
	Revision   int    `json:"revision,omitempty"`
	Date       string `json:"date"` // on which it is issued, as 2027-03-31
	ValidUntil string `json:"valid_until"`
	Customer   Party  `json:"customer"`
	Seller     string `json:"seller,omitempty"`   // who answers for it
	Approval   string `json:"approval,omitempty"` // who allowed more than a salesperson may give
	Remarks    string `json:"remarks,omitempty"`  // to customer and yard, as they were typed
	// Serial and Built are of the hull number: the yard's running number, five characters, and the month of building as
	// 2027-03.
	Serial string `json:"hull_serial,omitempty"`
	Built  string `json:"hull_built,omitempty"`
	// ListTestKg is the weight that the boat bore in the list test of 33 CFR 183.39(a)(2), kg; 0 before it is done.
	// ListedPersons is what the builder marks as the persons capacity, at most what it computes to; 0: the computed.
	ListTestKg    float64 `json:"list_test_kg,omitempty"`
	ListedPersons int     `json:"listed_persons,omitempty"`
	// Units are those in which figures and use are stated; "" for the usual ones, see [DraftIn].
	Units measure.System `json:"units,omitempty"`
}

// DecodeDetails reads details from JSON, as they are given on the command line. The error names the place and the
// remedy.
func DecodeDetails(text []byte) (Details, error) {
	// an unknown key is an error, not a field that is silently lost
	d, err := spec.Strictly[Details](text, maxBytes)
	if err == nil {
		err = d.check()
	}
	if err != nil {
		return Details{}, caused("quote.reading-details", err)
	}
	return d, nil
}

// Limits of what stands on a quotation: more than any address or remark needs, in bytes.
const (
	maxLine    = 300
	maxRemarks = 10_000
	maxAddress = 20 // lines

	maxRevision = 9_999     // as in package deals
	remarks     = "remarks" // the one text that has lines
)

// check says what cannot stand in the details of a quote, by the same limits for one that is frozen and one that is
// read.
func (d *Details) check() error {
	// by the keys of the file, which the form of the page names its fields by too
	lines := []struct{ key, text string }{{"number", d.Number}, {"date", d.Date}, {"valid_until", d.ValidUntil},
		{"customer.name", d.Customer.Name}, {"customer.email", d.Customer.Email},
		{"customer.phone", d.Customer.Phone}, {"seller", d.Seller}, {"approval", d.Approval}, {"hull_serial", d.Serial},
		{"hull_built", d.Built}}
	for i, l := range d.Customer.Address {
		lines = append(lines, struct{ key, text string }{fmt.Sprintf("customer.address[%d]", i), l})
	}
	for _, l := range lines {
		if err := checkText(l.key, l.text, maxLine); err != nil {
			return err
		}
	}
	if err := checkText(remarks, d.Remarks, maxRemarks); err != nil {
		return err
	}
	switch {
	case len(d.Customer.Address) > maxAddress:
		return msg.Fault("quote.long-address", msg.Count("lines", len(d.Customer.Address)),
			msg.Count("most", maxAddress))
	case d.Units != "" && !d.Units.Known():
		return msg.Fault("quote.unknown-units", cut("units", string(d.Units)),
			msg.Text("sea", string(measure.Sea)), msg.Text("inland", string(measure.Inland)),
			msg.Text("us", string(measure.USCustomary)))
	}
	for _, day := range []struct{ key, text string }{{"date", d.Date}, {"valid_until", d.ValidUntil}} {
		if _, err := time.Parse(time.DateOnly, day.text); err != nil && day.text != "" {
			return msg.Fault("quote.not-a-date", msg.Text("key", day.key), cut("date", day.text))
		}
	}
	// dates of ISO 8601 are in the order of their letters
	if d.ValidUntil != "" && d.ValidUntil < d.Date {
		return msg.Fault("quote.valid-before", msg.Text("until", d.ValidUntil), msg.Text("date", d.Date))
	}
	if d.Revision < 0 || d.Revision > maxRevision {
		return msg.Fault("quote.revision", msg.Count("revision", d.Revision), msg.Count("most", maxRevision))
	}
	// written so that what is no number is refused too
	if !(d.ListTestKg >= 0 && d.ListTestKg <= maxListTestKg) || d.ListedPersons < 0 || d.ListedPersons > maxPersons {
		return msg.Fault("quote.plates", msg.Number("kg", d.ListTestKg, msg.Exact),
			msg.Count("persons", d.ListedPersons), msg.Count("most", maxListTestKg))
	}
	return nil
}

// checkText says what no field of a form may hold: more than fits, or what could not be written to the file and read
// again as it was.
func checkText(key, text string, most int) error {
	if len(text) > most {
		return msg.Fault("quote.long-text", msg.Text("key", key), msg.Count("bytes", len(text)),
			msg.Count("most", most))
	}
	if !utf8.ValidString(text) {
		return msg.Fault("quote.not-utf-8", msg.Text("key", key), cut("text", text))
	}
	if r, at, ok := visible.Hidden(text, key == remarks); ok {
		return spec.Unseen(key, text, r, at)
	}
	return nil
}

// Beyond what any launch bears or carries, so that a slip of the keyboard is seen.
const (
	maxListTestKg = 10_000
	maxPersons    = 1000
)

// Package deals is what a device keeps of its quotations and boats: a record for each draft and each revision, the file
// in which records go from one device to another, and how two devices' records come together so that nothing is lost.
//
// It stores nothing itself: the page keeps the records in the browser's database (web/page/store.ts), and asks here
// what a file holds and what an import would do. It reads neither clock nor chance: identifiers, days and times come in
// from outside. What a quotation says is package quote's; here it is a text that is kept to the byte, so that its
// digest and signature hold.
package deals

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"ribband/core/msg"
	"ribband/core/spec"
)

// State is how far a deal has come.
type State string

// A draft may be changed; from Issued on, boat and form of a record stay as they are, and a change begins a revision.
const (
	Draft     State = "draft"
	Issued    State = "issued"
	Accepted  State = "accepted"
	Declined  State = "declined"
	Withdrawn State = "withdrawn" // by the yard, before the customer has answered
	Lapsed    State = "lapsed"    // issued, and its validity is over; never stored, since it follows from the day
)

// stored are the states that a record may be in.
var stored = []State{Draft, Issued, Accepted, Declined, Withdrawn}

// Record is one draft or one revision. Its twin is Deal in web/page/store.ts; a test compares the two.
type Record struct {
	ID       string `json:"id"`      // made at random on the device where it began
	Version  int    `json:"version"` // counts the writes on a device, so that a tab notices those of another
	Created  string `json:"created"` // RFC 3339, in UTC
	Saved    string `json:"saved"`   // the same, of the last write
	State    State  `json:"state"`
	Revision int    `json:"revision"`         // of its number: 1 is the first
	Origin   string `json:"origin,omitempty"` // the first record of its number, where this is a later revision
	Boat     string `json:"boat,omitempty"`   // its name, for a list
	Total    string `json:"total,omitempty"`  // its price as it was shown, for a list
	Plain    bool   `json:"plain,omitempty"`  // nobody would miss it: a standard build, and nothing typed
	Spec     string `json:"spec"`             // the boat, as package spec writes it
	// Form is what was typed, by "form.field": also what was not handed in yet.
	Form map[string]string `json:"form,omitempty"`
	// Quote is the quotation as it was issued, to the byte; "" in a draft.
	Quote string `json:"quote,omitempty"`
	// Bases are the digests of the record as it was when it left for another device or came from one. By these two
	// devices know which of them has gone on from what the other has.
	Bases []string `json:"bases,omitempty"`
}

// Fields of the form of a quotation, by which a record is listed and found.
const (
	fieldNumber   = "quotation.number"
	fieldDate     = "quotation.date"
	fieldValid    = "quotation.valid"
	fieldCustomer = "quotation.name"
)

// Limits of a file from outside: far beyond what a salesperson makes in a year, and small enough to be read at once.
const (
	maxBytes   = 64 << 20
	maxRecords = 10_000
	maxText    = 4 << 20
	maxFields  = 200
	maxBases   = 100
)

// isIdentifier says whether a text is of the form of a record's identifier: what the page makes, and longer ones.
func isIdentifier(s string) bool {
	return s != "" && len(s) <= 120 && strings.Trim(s, "0123456789abcdefghijklmnopqrstuvwxyz-") == ""
}

// Digest is the SHA-256 of what a person would miss of a record, in hexadecimal: not of when it was written.
func (r *Record) Digest() string {
	form := r.Form
	if len(form) == 0 { // is not written, and comes back as none
		form = nil
	}
	text, err := json.Marshal([]any{r.State, r.Revision, r.Spec, form, r.Quote}) // maps in the order of their keys
	if err != nil {                                                              // texts and numbers marshal
		panic(fmt.Sprintf("writing a record: %v", err))
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// check says what in a record this package would not have written, with its place in the record: to who writes such
// files by another program, and so in English.
func (r *Record) check() error {
	switch {
	case !isIdentifier(r.ID):
		return fmt.Errorf("id: %.40q is none; it has small letters, digits and hyphens", r.ID)
	case r.Origin != "" && !isIdentifier(r.Origin):
		return fmt.Errorf("origin: %.40q is none; it has small letters, digits and hyphens", r.Origin)
	case !slices.Contains(stored, r.State):
		return fmt.Errorf("state: %.40q is none; want one of %q", r.State, stored)
	case r.State == Draft && r.Quote != "" || r.State != Draft && r.Quote == "":
		return fmt.Errorf("quote: what is %s has a quotation if and only if it was issued", r.State)
	case r.Revision < 1 || r.Revision > 9_999:
		return fmt.Errorf("revision: it is %d; want a number from 1", r.Revision)
	case r.Version < 0:
		return fmt.Errorf("version: it is %d; want a number from 0", r.Version)
	case len(r.Spec) > maxText || len(r.Quote) > maxText:
		return fmt.Errorf("spec and quote: %d bytes are too many; at most %d each", max(len(r.Spec), len(r.Quote)),
			maxText)
	case len(r.Form) > maxFields:
		return fmt.Errorf("form: %d fields are too many; at most %d", len(r.Form), maxFields)
	case len(r.Bases) > maxBases:
		return fmt.Errorf("bases: %d are too many; at most %d", len(r.Bases), maxBases)
	}
	for _, t := range []struct{ key, text string }{{"created", r.Created}, {"saved", r.Saved}} {
		if _, err := time.Parse(time.RFC3339, t.text); err != nil {
			return fmt.Errorf("%s: %.40q is no time; want it as 2027-03-31T09:30:00Z", t.key, t.text)
		}
	}
	return nil
}

// Kind marks a file of records, and Format is the version of its encoding.
const (
	Kind   = "quotations of a launch yard"
	Format = 1
)

// File is how records go from one device to another.
type File struct {
	Format  int      `json:"format"`
	Kind    string   `json:"kind"`
	Device  string   `json:"device,omitempty"` // what it calls itself in its numbers
	Written string   `json:"written"`          // RFC 3339, in UTC
	Records []Record `json:"records"`
}

// Is says whether a text claims to be a file of records, sound or not.
func Is(text []byte) bool {
	var mark struct {
		Kind string `json:"kind"`
	}
	return json.Unmarshal(text, &mark) == nil && mark.Kind == Kind
}

// Encode writes the file as indented JSON, each record with the digest by which its next reader knows where it was.
func (f *File) Encode() []byte {
	out := *f
	out.Format, out.Kind, out.Records = Format, Kind, slices.Clone(f.Records)
	for i := range out.Records {
		out.Records[i] = out.Records[i].marked()
	}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		panic(fmt.Sprintf("writing a file of quotations: %v", err))
	}
	return append(text, '\n')
}

// marked is the record with its present digest among its bases; the oldest go where there are too many.
func (r *Record) marked() Record {
	out := *r
	if d := r.Digest(); !slices.Contains(r.Bases, d) {
		out.Bases = append(slices.Clone(r.Bases), d)
		out.Bases = out.Bases[max(0, len(out.Bases)-maxBases):]
	}
	return out
}

// Decode reads a file of records. It is strict: an unknown key, a record twice or a state that is none is an error with
// its place, and nothing is taken in.
func Decode(text []byte) (File, error) {
	f, err := spec.Strictly[File](text, maxBytes)
	switch {
	case err != nil:
	case f.Kind != Kind || f.Format != Format:
		err = msg.Fault("deals.another-kind", msg.Text("kind", fmt.Sprintf("%.40s", f.Kind)),
			msg.Count("format", f.Format), msg.Count("known", Format))
	case len(f.Records) > maxRecords:
		err = msg.Fault("deals.too-many", msg.Count("records", len(f.Records)), msg.Count("most", maxRecords))
	}
	if err != nil {
		return File{}, unreadable(err)
	}
	// A record twice would make the outcome of an import depend on their order: it is refused rather than guessed at.
	seen := map[string]bool{}
	for i := range f.Records {
		r := &f.Records[i]
		err := r.check()
		if err == nil && seen[r.ID] {
			err = fmt.Errorf("id: %s stands here twice", r.ID)
		}
		if seen[r.ID] = true; err != nil {
			return File{}, unreadable(fmt.Errorf("records[%d].%w", i, err))
		}
		r.Form = maps.Clone(r.Form)
	}
	return f, nil
}

// unreadable says what is wrong with a file to who wanted to take it in.
func unreadable(err error) error {
	return &msg.Error{Message: msg.New("deals.reading", msg.Words("problem", msg.Of(err))), Cause: err}
}

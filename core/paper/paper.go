// Package paper has the documents of a boat: what a customer gets and what the yard works by. Each is a file that
// builds a document (package doc) and an entry of [Papers]; package render writes it as HTML, text or CSV.
//
// Everything that a paper says was computed by packages quote and sheet; nothing is computed here. A customer's paper
// is built of what a customer may have ([quote.Quote.ForCustomer]) and of nothing else.
package paper

import (
	"fmt"
	"strings"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/render"
	"ribband/core/sheet"
)

// Format is a form in which a paper is written.
type Format string

const (
	AsText Format = "text"
	AsHTML Format = "html"
	AsJSON Format = "json"
	AsCSV  Format = "csv"
	// for other programs, see package export
	AsUBL      Format = "ubl"
	AsCalendar Format = "ics"
	AsWorkbook Format = "xlsx"
)

// Formats are all of them.
var Formats = []Format{AsText, AsHTML, AsJSON, AsCSV, AsUBL, AsCalendar, AsWorkbook}

// A diary and a purchasing program take what they read for an offer, so they get nothing of a draft.

// OfIssued says that there is no draft in this format.
func (f Format) OfIssued() bool { return f == AsUBL || f == AsCalendar }

// Binary says that a file of this format is no text.
func (f Format) Binary() bool { return f == AsWorkbook }

// File is the ending and the media type of a file of a format.
func (f Format) File() (ending, media string) {
	switch f {
	// the media types of RFC 2046, RFC 4180, RFC 8259, RFC 7303, RFC 5545 and of the register of IANA, by which a
	// browser names what it saves
	case AsHTML:
		return ".html", "text/html"
	case AsCSV:
		return ".csv", "text/csv"
	case AsJSON:
		return ".json", "application/json"
	case AsUBL:
		return ".xml", "application/xml"
	case AsCalendar:
		return ".ics", "text/calendar"
	case AsWorkbook:
		return ".xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	}
	return ".txt", "text/plain"
}

// Paper is an entry of the register.
type Paper struct {
	ID string // what asks for it
	// ForYard keeps a paper from all desks but the yard's: it has hours and costs.
	ForYard bool
	Formats []Format // in which it can be had
	OnPage  []Format // and which of them the page offers as files; the first is shown
	// Gather finds what the paper is made of beyond the quotation. A shop is named by its ID.
	// It is apart from Build, so that a test can build a paper of a quotation that it has changed.
	Gather func(s *Source, e *engine.Engine, a *engine.Answer, shop string) error
	Build  func(s *Source) *doc.Doc
	// Data are the forms for programs, which are written from what the paper is made of and not from its words.
	Data map[Format]func(s *Source) ([]byte, error)
}

// Whatever asks for papers goes by this list: the command line and the page know none by name but those that they show
// first.

// Papers are all of them.
var Papers = append([]Paper{quotation}, own...)

// Source is what papers are made of. A paper takes its part of it.
type Source struct {
	*msg.Language                // English where it is nil
	Quote         *quote.Quote   // nil where the yard's sheets have none
	Earlier       *quote.Quote   // of a [Comparison]
	Yard          *sheet.Yard    // of the build sheet
	Card          *sheet.Card    // of a job card
	Pictures      []look.Picture // for the formats that show them
	Size          doc.Size       // of the pages
}

// Desk is what decides which papers there are: an engine or a pack.
type Desk interface{ Can(pack.Ability) bool }

// Find finds a paper by its ID among those that a desk may have.
func Find(id string, desk Desk) (*Paper, error) {
	// those of the yard are not even named to another desk
	var known []string
	for i := range Papers {
		p := &Papers[i]
		if p.ForYard && !desk.Can(pack.Sheets) {
			continue
		}
		if known = append(known, p.ID); p.ID == id {
			return p, nil
		}
	}
	return nil, fmt.Errorf("choosing a paper: this desk has no %.40s; it has %s", id, strings.Join(known, ", "))
}

// Of gathers what a paper needs of an answer, in the language of the engine. The quotation gives number and customer.
func (p *Paper) Of(e *engine.Engine, a *engine.Answer, q *quote.Quote, shop string) (*Source, error) {
	s := &Source{Language: e.Language(), Quote: q}
	return s, p.Gather(s, e, a, shop)
}

// Write writes the paper. A format in which it cannot be had is an error that names those in which it can.
func (p *Paper) Write(s *Source, f Format) ([]byte, error) {
	// a copy, so that a source without a language stays so
	own := *s
	if own.Language == nil {
		own.Language = msg.English
	}
	// by the list of the paper, not by what could be written: a shop has no use for its card as a table
	for _, has := range p.Formats {
		if has != f {
			continue
		}
		if write, ok := p.Data[f]; ok {
			return write(&own)
		}
		switch f {
		case AsHTML:
			d := p.Build(&own)
			d.Size = own.Size
			return render.HTML(d, own.Language)
		case AsCSV:
			return render.CSV(p.Build(&own))
		case AsText:
			return render.Text(p.Build(&own), own.Language), nil
		}
	}
	// what the paper has, since who asks for a wrong one wants some other
	names := make([]string, len(p.Formats))
	for i, has := range p.Formats {
		names[i] = string(has)
	}
	return nil, fmt.Errorf("writing a paper: there is no %s as %.40q; want %s", p.ID, string(f),
		strings.Join(names, " or "))
}

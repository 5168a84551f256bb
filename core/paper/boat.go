package paper

import (
	"strings"

	"ribband/core/doc"
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// What several papers say of a boat, in the same words on each.

// titled is a section under a title.
func titled(title, style string, blocks ...doc.Block) doc.Section {
	return doc.Section{Title: title, Style: style, Blocks: blocks}
}

// notes are sentences in small type under a title.
func notes(title string, list []string) doc.Section { return titled(title, "notes", doc.List(list)) }

// clashes say why a boat cannot be built. They stand before everything else and in a frame: who reads only the first
// page must not miss them.
func (s *Source) clashes(list []string) doc.Section {
	return titled(s.Say("paper.cannot-be-built"), "clashes", doc.List(list))
}

// Specification is what the boat has, section by section.
func (s *Source) Specification(sections []quote.SectionPart) doc.Section {
	list := titled(s.Say("paper.specification"), "")
	// the mark is a dot, so that it survives a copy in black and white
	list.Note = s.Say("paper.dot")
	// a section is a chapter of the list, so that a reader finds the deck without reading the hull
	for _, sec := range sections {
		// options of a slot each in a line of their own: they are ticked off
		terms := doc.Terms{Mark: s.Say("paper.differs"), Apart: true}
		for _, slot := range sec.Slots {
			t := doc.Term{Name: slot.Title, Marked: !slot.Standard}
			for _, o := range slot.Options {
				value := s.counted(o.Count, o.Title)
				if o.Brought {
					value = s.Say("paper.brought", msg.Text("title", value))
				}
				t.Values = append(t.Values, value)
			}
			terms.List = append(terms.List, t)
		}
		list.Blocks = append(list.Blocks, titled(sec.Title, "", terms))
	}
	return list
}

// counted is a thing with how many there are of it.
func (s *Source) counted(n int, title string) string {
	if n > 1 {
		return s.Say("paper.counted", msg.Count("n", n), msg.Text("title", title))
	}
	return title
}

// values are figures, dimensions or fields of the use with what has to be read beside each.
func (s *Source) values(title, note string, list []engine.Value) doc.Section {
	// a value in words, since "at least" and "none" are as much of it as the number
	terms := doc.Terms{}
	for _, v := range list {
		terms.List = append(terms.List, doc.Term{Name: v.Title, Values: []string{s.Text(v.Message())}})
	}
	section := titled(title, "values", terms)
	section.Note = note
	return section
}

// figures come with the word that they are estimates, so that nobody reads them without it.
func (s *Source) figures(list []engine.Value) doc.Section {
	return s.values(s.Say("paper.figures"), s.Say("paper.preliminary"), list)
}

// drawings puts pictures on a paper.
func drawings(pictures []look.Picture) doc.Drawings {
	list := make(doc.Drawings, len(pictures))
	for i, p := range pictures {
		list[i] = doc.Drawing{ID: p.ID, Title: p.Title, SVG: p.SVG, Small: p.Small, Caption: p.Caption}
	}
	return list
}

// solar is the yield of the panels by month, for the forms in which it is not drawn.
func (s *Source) solar(part *look.SolarPart) doc.Section {
	section := titled(s.Say("paper.solar"), "")
	// where the picture is, the table would say the same twice
	section.Undrawn = true
	if part == nil {
		return section
	}
	month := 0
	rows := doc.Rows(part.KWh[:], func(kwh float64) doc.Row {
		month++
		return doc.Row{Label: s.Language.Text(drawing.Month(month - 1)), Cells: []doc.Cell{doc.Number(kwh, 2)}}
	})
	section.Blocks = []doc.Block{
		doc.Table{Columns: []doc.Column{{Title: s.Say("paper.month")}, {Unit: "kWh"}}, Groups: rows},
		doc.Paragraph{Text: part.Source}}
	return section
}

// colophon says from which price book and specification a paper was made. Twelve digits of a digest tell two apart.
func (s *Source) colophon(e pack.Edition, spec string) string {
	return s.Say("paper.colophon", msg.Text("edition", e.Name), msg.Date("date", e.Date),
		msg.Text("book", short(e.Digest)), msg.Text("spec", short(spec)))
}

// short is as much of a digest as two people compare over the telephone.
func short(digest string) string { return digest[:min(12, len(digest))] }

// subject is the quotation that a sheet of the yard belongs to, and remarks its words that the yard must know.
func (s *Source) subject() (subject, remarks string) {
	q := s.Quote
	// it is said that there is none, so that nobody looks for a sheet that was never printed
	if q == nil || q.Number == "" {
		subject = s.Say("paper.no-quotation")
	} else {
		subject = s.listed(s.quotation(q), s.Date(q.Date), q.Customer.Name)
	}
	// of a draft too: the yard plans by what was talked over, whether or not it has a number
	if q != nil {
		remarks = q.Remarks
	}
	return subject, remarks
}

// quotation is what a quotation is called by number and revision; the first revision needs no mention.
func (s *Source) quotation(q *quote.Quote) string {
	return s.Say("paper.quotation", msg.Text("number", q.Number), msg.Count("revision", q.Revision))
}

// foot is the foot of a page of the yard's sheets.
func (s *Source) foot(of ...string) string {
	if q := s.Quote; q != nil && q.Number != "" {
		of = append(of, s.quotation(q))
	}
	return strings.Join(of, " · ")
}

// caution stands on every sheet of the yard.
func (s *Source) caution() doc.Section {
	return notes(s.Say("paper.caution"), []string{s.Say("paper.caution-work")})
}

// named is what is said of something behind its name.
func (s *Source) named(name, text string) string {
	return s.Say("paper.named", msg.Text("name", name), msg.Text("text", text))
}

// typed is a sentence of the book; empty where there is none.
func typed(text string) msg.Message {
	if text == "" {
		return msg.Message{}
	}
	return msg.Plain(text)
}

// party is somebody with his address in one line; "" for nobody.
func (s *Source) party(p *quote.Party) string {
	if p == nil {
		return ""
	}
	return s.listed(append(append([]string{p.Name}, p.Address...), p.Email, p.Phone)...)
}

// listed puts what there is of some texts in a row.
func (s *Source) listed(texts ...string) string {
	// an address has lines that are empty, and two commas in a row look like a slip
	var there []string
	for _, t := range texts {
		if t != "" {
			there = append(there, t)
		}
	}
	return s.List(msg.Commas, there)
}

// columns are titles of columns; all but the first hold numbers and stand at the right margin.
func columns(titles ...string) []doc.Column {
	// also where a cell is words, such as a count of packs: a ragged column of numbers cannot be added up by eye
	list := make([]doc.Column, len(titles))
	for i, t := range titles {
		list[i] = doc.Column{Title: t, Right: i > 0}
	}
	return list
}

// unit is a column of numbers of one unit, by its symbol.
func unit(title, symbol string) doc.Column {
	return doc.Column{Title: title, Unit: symbol, Right: true}
}

// cell is a message in a cell.
func (s *Source) cell(m msg.Message) doc.Cell { return doc.Text(s.Text(m)) }

// row is a row of cells behind a label.
func row(label string, cells ...doc.Cell) doc.Row { return doc.Row{Label: label, Cells: cells} }

// data is a table for programs: its columns and kinds are codes, in no language.
type data struct{ doc.Table }

// newData is an empty table. Programs read it by the names of its columns, so that one more does no harm.
func newData(columns ...string) *data {
	d := &data{doc.Table{Groups: []doc.Group{{}}}}
	for _, c := range columns {
		d.Columns = append(d.Columns, doc.Column{Title: c})
	}
	return d
}

// add adds a row of a kind. Cells that are missing at its end are empty.
func (d *data) add(kind string, cells ...doc.Cell) {
	d.Groups[0].Rows = append(d.Groups[0].Rows, row(kind, cells...))
}

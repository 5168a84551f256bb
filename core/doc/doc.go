// Package doc describes a paper once, for every form in which it is written: its title, sections, paragraphs, lists,
// tables of typed cells, drawings and places to sign.
//
// A document says what stands on the paper and in which order, and hints what a page should look like: a style names a
// rule of the style sheet, and means nothing where there is none. Its words are in the reader's language already;
// numbers, amounts and dates are cells, which each form writes in its own way (package render). Nothing is computed
// here, and nothing here knows of boats.
package doc

// Doc is a paper.
type Doc struct {
	Title string // of the window and the file; what is printed is a [Heading]
	Head  string // on each printed page but the first, which has a head of its own
	Foot  string // on each printed page, beside its number
	Size  Size   // of its pages
	// Dense hints at small type and narrow rows: a sheet of many pages, for the workshop.
	Dense  bool
	Blocks []Block
	// Data says the same to a program: one table, which is all that a CSV file can hold.
	Data *Table
}

// Size is that of a printed page, by its name in CSS. The zero Size is whatever the printer has.
type Size string

const (
	A4     Size = "A4"     // 210 by 297 mm, ISO 216
	Letter Size = "letter" // 8.5 by 11 inches, ANSI/ASME Y14.1
)

// Block is a part of a document: one of the types of this package with a method of this name.
type Block interface {
	// Empty says that there is nothing in it. A section of empty blocks is left out, with its title.
	Empty() bool
}

// Letterhead is who writes, at the head of the first page.
type Letterhead struct {
	Name    string
	Address []string // and whatever else reaches him; empty lines are left out
	Note    string
}

// Heading is the title of the document as it is printed.
type Heading string

// Section is a part of a paper under a title. A section within a section is a chapter of it.
type Section struct {
	Title  string
	Style  string
	Note   string // read before the rest; it does not stand alone
	Blocks []Block
	// Undrawn says that the section stands in for drawings, in the forms that have none.
	Undrawn bool
}

// Paragraph is some sentences. A note is in small type.
type Paragraph struct {
	Text string
	Note bool
}

// List is sentences of equal rank, each with a mark before it.
type List []string

// Steps are sentences to be followed one after the other, by their numbers.
type Steps []string

// Terms are names with what stands under each of them, side by side.
type Terms struct {
	Style string
	List  []Term
	// Mark says what a mark behind a name means. Apart: the values of a name stand in lines of their own.
	Mark  string
	Apart bool
}

// Term is a name with its values. Without any it is left out.
type Term struct {
	Name   string
	Values []string
	Marked bool
}

// Table is rows under columns.
type Table struct {
	Style   string
	Columns []Column // the first is that of the labels
	Groups  []Group
	Foot    []Row // what the rows come to
}

// Column is a column of a table. Its head is the title, a comma and the unit.
type Column struct {
	Title string
	Unit  string // symbol of all numbers in it; "" where each cell has its own
	Style string
	// Right sets the column at the right margin even where some cells are words. One that holds nothing but numbers
	// stands there anyway.
	Right bool
	// Aside says that the column helps a reader of pages alone, as a sum carried from page to page does.
	Aside bool
}

// Group is rows that belong together, under two titles; both may be empty.
type Group struct {
	Title, Sub string
	Rows       []Row
}

// Row is a row of a table. A row may have fewer cells than the table has columns.
type Row struct {
	Label  string
	Detail string // in small type behind or below the label
	Cells  []Cell
	Style  string
}

// Drawings stand beside and below each other. A form without pictures leaves them out.
type Drawings []Drawing

// Drawing is a picture as SVG. Whoever draws it escapes what stands in it.
type Drawing struct {
	ID, Title, SVG string
	Small          bool // it may stand beside another
	// In small letters below it, where it needs no title above; "" for most.
	Caption string
}

// Link is an address to follow: a page offers it, and what is printed has a code of it for a camera.
type Link struct {
	Address string // whole
	Short   string // of it, what a reader sees where the whole would fill the page
	Text    string // what is there
	Code    string // what the code is called, for who does not see it
}

// Code is a text for a camera, as a QR code with the text below it.
type Code struct {
	Text  string
	Title string // what the code is called, for who does not see it
}

// Signatures are places to sign, with who does it where.
type Signatures []string

// Footer is what stands in small type at the end.
type Footer []string

func (l Letterhead) Empty() bool { return false }
func (h Heading) Empty() bool    { return h == "" }
func (p Paragraph) Empty() bool  { return p.Text == "" }
func (l List) Empty() bool       { return len(l) == 0 }
func (s Steps) Empty() bool      { return len(s) == 0 }
func (c Code) Empty() bool       { return c.Text == "" }
func (l Link) Empty() bool       { return l.Address == "" }
func (s Signatures) Empty() bool { return len(s) == 0 }
func (f Footer) Empty() bool     { return len(f) == 0 }

func (s Section) Empty() bool {
	for _, b := range s.Blocks {
		if !b.Empty() {
			return false
		}
	}
	return true
}

func (t Terms) Empty() bool {
	for _, x := range t.List {
		if len(x.Values) > 0 {
			return false
		}
	}
	return true
}

// Empty says that a table has no rows. A foot alone is none.
func (t Table) Empty() bool {
	for _, g := range t.Groups {
		if len(g.Rows) > 0 {
			return false
		}
	}
	return true
}

func (d Drawings) Empty() bool {
	for _, x := range d {
		if x.SVG != "" {
			return false
		}
	}
	return true
}

// Head is what stands over a column.
func (c Column) Head() string {
	if c.Title == "" || c.Unit == "" {
		return c.Title + c.Unit
	}
	return c.Title + ", " + c.Unit
}

// Rows are rows without a title, as most tables have them.
func Rows[T any](list []T, row func(T) Row) []Group {
	rows := make([]Row, len(list))
	for i, x := range list {
		rows[i] = row(x)
	}
	return []Group{{Rows: rows}}
}

// Numeric says for every column whether it stands at the right margin: it is to, or holds nothing but numbers. The
// labels never do.
func (t *Table) Numeric() []bool {
	right := make([]bool, len(t.Columns))
	for j := 1; j < len(right); j++ {
		right[j] = t.Columns[j].Right || t.all(j, func(c Cell) bool { return c.IsNumber() || c.Empty() })
	}
	return right
}

// all says whether something holds of every cell of a column that is there.
func (t *Table) all(column int, holds func(Cell) bool) bool {
	for _, g := range t.Groups {
		for _, r := range g.Rows {
			if column-1 < len(r.Cells) && !holds(r.Cells[column-1]) {
				return false
			}
		}
	}
	return true
}

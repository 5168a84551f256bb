package render

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ribband/core/doc"
	"ribband/core/msg"
)

const (
	width  = 78 // of a paper in plain text, in characters
	column = 36 // where the values of terms begin
	least  = 18 // what a table leaves to its labels, or they stand on lines of their own
)

// Text writes a document as plain text in lines of at most 78 characters. Drawings are left out.
func Text(d *doc.Doc, l *msg.Language) []byte {
	t := &text{Language: l}
	t.blocks(d.Blocks, 0)
	return []byte(strings.TrimLeft(t.String(), "\n"))
}

// text lays out lines.
type text struct {
	strings.Builder
	*msg.Language
}

// blocks writes what is not empty. Depth counts the titles above.
func (t *text) blocks(list []doc.Block, depth int) {
	for _, b := range list {
		if !b.Empty() {
			t.block(b, depth)
		}
	}
}

// block writes a block. Titles are underlined at the top and plain below; terms below a title are set in.
func (t *text) block(b doc.Block, depth int) {
	switch b := b.(type) {
	case doc.Letterhead:
		t.wrapped(b.Name)
		t.wrapped(joined(b.Address, ", "))
		t.wrapped(b.Note)
	case doc.Heading:
		t.heading(string(b), "=")
	case doc.Section:
		if depth == 0 {
			t.heading(b.Title, "-")
		} else {
			t.wrapped(b.Title)
		}
		t.wrapped(b.Note)
		t.blocks(b.Blocks, depth+1)
	case doc.Paragraph:
		t.wrapped(b.Text)
	case doc.List:
		for _, s := range b {
			t.indented("- ", s)
		}
	case doc.Steps:
		for i, s := range b {
			t.indented(strconv.Itoa(i+1)+". ", s)
		}
	case doc.Code:
		t.wrapped("[" + b.Text + "]")
	case doc.Terms:
		for _, x := range b.List {
			t.term(x, depth)
		}
	case doc.Table:
		t.table(&b)
	case doc.Link:
		// whole and on a line of its own: broken it could not be followed
		t.wrapped(b.Text)
		t.line(b.Address)
	case doc.Signatures:
		for _, who := range b {
			t.line("")
			t.line("")
			t.line(strings.Repeat("_", width/2))
			t.wrapped(who)
		}
	case doc.Footer:
		t.line("")
		for _, s := range b {
			t.wrapped(s)
		}
	}
}

// line ends without blanks: mail programs take some at the end of a line for a mark.
func (t *text) line(s string) { t.WriteString(strings.TrimRight(s, " ") + "\n") }

// heading underlines a title as far as its longest line goes.
func (t *text) heading(s, under string) {
	if s == "" {
		return
	}
	t.line("")
	longest := 0
	for _, l := range wrap(s, width) {
		t.line(l)
		longest = max(longest, utf8.RuneCountInString(l))
	}
	t.line(strings.Repeat(under, longest))
}

// wrapped writes a paragraph; nothing for an empty one.
func (t *text) wrapped(s string) {
	if s != "" {
		t.indented("", s)
	}
}

// indented writes a text behind its beginning, its other lines below the first.
func (t *text) indented(first, s string) {
	// counted in characters: the papers have no wide ones, and mail programs count so
	wide := utf8.RuneCountInString(first)
	for i, l := range wrap(s, width-wide) {
		if i == 1 {
			first = strings.Repeat(" ", wide)
		}
		t.line(first + l)
	}
}

// term writes a name with its values beside it, or below where the name is long.
func (t *text) term(x doc.Term, depth int) {
	// without values there is no name either, since it would ask to be filled in
	value := strings.Join(x.Values, "; ")
	if value == "" {
		return
	}
	indent := ""
	if depth > 0 {
		indent = "  "
	}
	if x.Marked {
		indent = strings.TrimSpace(mark) + " "
	}
	label := indent + strings.Join(wrap(x.Name, width), " ")
	const beside = 3 // lines; what is longer stands below the name
	switch n := utf8.RuneCountInString(label); {
	case len(wrap(value, width-column)) > beside:
		t.indented(indent, x.Name)
		label = indent + "  "
	case n < column:
		label += strings.Repeat(" ", column-n)
	case n+1+utf8.RuneCountInString(value) <= width:
		label += " "
	default:
		t.indented(indent, x.Name)
		label = strings.Repeat(" ", column)
	}
	t.indented(label, value)
}

// table sets numbers in columns at the right. Rows with words in their cells become lists of what their cells say.
func (t *text) table(x *doc.Table) {
	// a table that does not fit is told in sentences, so that nothing of it is cut off
	g := t.grid(x)
	if g == nil {
		for _, s := range append(x.Groups, doc.Group{Rows: x.Foot}) {
			for _, r := range s.Rows {
				t.wrapped(label(r))
				if line := Line(x.Columns, r.Cells, t.Language); line != "" {
					t.indented("    ", line)
				}
			}
		}
		return
	}
	// columns that help a reader of pages alone are not among those of the grid
	heads := make([]string, 0, len(g.columns))
	for _, j := range g.columns {
		heads = append(heads, x.Columns[j].Head())
	}
	t.row(g, "", x.Columns[0].Head(), heads)
	// a title that comes twice in a row is said once: groups of one operation differ in what they are for
	above := ""
	for _, s := range x.Groups {
		indent := ""
		if s.Title != "" {
			indent = "  "
			if s.Title != above {
				t.wrapped(s.Title)
			}
		}
		above = s.Title
		if s.Sub != "" {
			t.indented(indent, s.Sub)
			indent += "  "
		}
		for _, r := range s.Rows {
			t.row(g, indent, label(r), t.cells(g, r))
		}
	}
	// a rule before the sum, as in a ledger
	if len(x.Foot) > 0 {
		t.line(strings.Repeat("-", width))
	}
	for _, r := range x.Foot {
		t.row(g, "", label(r), t.cells(g, r))
	}
}

// label is that of a row with its detail.
func label(r doc.Row) string {
	if r.Detail == "" {
		return r.Label
	}
	return r.Label + ": " + r.Detail
}

// Line is the cells of a row in a sentence: each with the title of its column before it and its unit behind. The cell
// of a column without title and unit says enough.
func Line(columns []doc.Column, cells []doc.Cell, l *msg.Language) string {
	var parts []string
	for j, c := range cells {
		if c.Empty() || j+1 >= len(columns) {
			continue
		}
		said := columns[j+1]
		words := c.Words(l)
		if said.Title != "" {
			words = l.Inside(said.Title) + " " + words
		}
		if said.Unit != "" {
			words += "\u00a0" + said.Unit
		}
		parts = append(parts, words)
	}
	return strings.Join(parts, "; ")
}

// grid is where the columns of a table stand: which of them, and how wide each is.
type grid struct {
	columns, widths []int
	labels          int // the width left to labels
}

// grid is nil for a table whose cells are not all numbers, or that is too wide for a page.
func (t *text) grid(x *doc.Table) *grid {
	// room for a sum such as −123 456.78, so that columns of several tables stand below each other
	const narrowest = 12
	g := &grid{labels: width}
	right := x.Numeric()
	for j := 1; j < len(x.Columns); j++ {
		if x.Columns[j].Aside {
			continue
		}
		if !right[j] {
			return nil
		}
		wide := narrowest
		fit := func(s string) { wide = max(wide, utf8.RuneCountInString(s)+2) }
		for _, word := range wrap(x.Columns[j].Head(), 1) { // or one head would run into the next
			fit(word)
		}
		for _, s := range append(x.Groups, doc.Group{Rows: x.Foot}) {
			for _, r := range s.Rows {
				if j-1 < len(r.Cells) {
					fit(r.Cells[j-1].Words(t.Language))
				}
			}
		}
		g.columns, g.widths, g.labels = append(g.columns, j), append(g.widths, wide), g.labels-wide
	}
	// too wide even without labels
	if g.labels < 0 {
		return nil
	}
	return g
}

// cells are those of a row in the columns that are shown; one that is missing is blank.
func (t *text) cells(g *grid, r doc.Row) []string {
	list := make([]string, 0, len(g.columns))
	for _, j := range g.columns {
		s := ""
		if j-1 < len(r.Cells) {
			s = r.Cells[j-1].Words(t.Language)
		}
		list = append(list, s)
	}
	return list
}

// row writes a label, over several lines where it is long, and cells at the end of the last. A head is broken like
// words.
func (t *text) row(g *grid, indent, label string, cells []string) {
	// a head of several words is as deep as it must be; cells of numbers have no space to break at
	broken, deepest := make([][]string, len(cells)), 1
	for i, c := range cells {
		broken[i] = wrap(c, g.widths[i]-1)
		deepest = max(deepest, len(broken[i]))
	}
	// set in as far as the titles above it, which takes from its width
	labels := wrap(label, max(g.labels, least)-len(indent))
	// a label that leaves no room for the cells stands on lines of its own, above them
	if last := labels[len(labels)-1]; g.labels < least || len(indent)+utf8.RuneCountInString(last) > g.labels {
		if label != "" {
			t.indented(indent, label)
		}
		labels = nil
	}
	// cells stand on the last line of the label, where the eye arrives
	for len(labels) < deepest {
		labels = append([]string{""}, labels...)
	}
	for i, l := range labels {
		l = indent + l
		line := l + strings.Repeat(" ", max(0, g.labels-utf8.RuneCountInString(l)))
		for j, c := range broken {
			s := ""
			if k := i - len(labels) + len(c); k >= 0 {
				s = c[k]
			}
			line += strings.Repeat(" ", max(0, g.widths[j]-utf8.RuneCountInString(s))) + s
		}
		t.line(line)
	}
}

// wrap breaks text at spaces, but not at those that hold a number together; a longer word stands alone.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, w := range strings.FieldsFunc(undirected(s), breaks) {
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) <= width:
			line += " " + w
		default:
			lines, line = append(lines, line), w
		}
	}
	return append(lines, line)
}

// undirected is a text without the characters that turn the direction of all that follows on its line: in a table the
// amounts beside a label would be read from right to left. Scripts that run so by themselves keep their direction.
//
// Source: Unicode Standard Annex 9, 2.1 to 2.5: explicit embeddings, overrides and isolates.
func undirected(s string) string {
	return strings.Map(func(c rune) rune {
		if c >= '\u202a' && c <= '\u202e' || c >= '\u2066' && c <= '\u2069' {
			return -1
		}
		return c
	}, s)
}

// breaks says where a line may be broken. Control characters are not for a reader.
func breaks(c rune) bool {
	const figureSpace, noBreak, narrowNoBreak = '\u2007', '\u00a0', '\u202f'
	return unicode.IsControl(c) || unicode.IsSpace(c) && c != figureSpace && c != noBreak && c != narrowNoBreak
}

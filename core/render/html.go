package render

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	tag "maragu.dev/gomponents/html"

	"ribband/core/doc"
	"ribband/core/msg"
)

//go:embed paper.css
var styleSheet string

// HTML writes a page that is whole in itself and prints on A4 and Letter. Whatever stands in the document is escaped,
// but for its drawings.
func HTML(d *doc.Doc, l *msg.Language) ([]byte, error) {
	h := html{l}
	// nothing is loaded from anywhere: a saved page prints the same in ten years
	body := h.blocks(d.Blocks, h.block)
	if d.Dense {
		body = tag.Div(tag.Class("dense"), body)
	}
	page := g.El("html", tag.Lang(l.Tag()),
		tag.Head(
			tag.Meta(tag.Charset("utf-8")),
			tag.Meta(tag.Name("viewport"), tag.Content("width=device-width, initial-scale=1")),
			tag.TitleEl(g.Text(d.Title)),
			tag.StyleEl(g.Raw(styleSheet)),      // our own, embedded at build time
			tag.StyleEl(g.Raw(pageStyle(l, d))), // escaped by cssString
		),
		tag.Body(tag.Main(body)),
	)
	var b strings.Builder
	if err := tag.Doctype(page).Render(&b); err != nil {
		return nil, fmt.Errorf("writing a paper as HTML: %w", err)
	}
	b.WriteByte('\n')
	return []byte(b.String()), nil
}

// html makes the nodes of a page.
type html struct{ *msg.Language }

// blocks leaves out what is empty, so that no title stands alone.
func (h html) blocks(list []doc.Block, node func(doc.Block) g.Node) g.Node {
	return g.Map(list, func(b doc.Block) g.Node {
		if b.Empty() {
			return nil
		}
		return node(b)
	})
}

// block writes what may stand at the top of a page.
func (h html) block(b doc.Block) g.Node {
	switch b := b.(type) {
	case doc.Letterhead:
		return tag.Header(tag.Class("letterhead"), tag.P(tag.Class("yard"), g.Text(b.Name)),
			tag.P(tag.Class("address"), g.Text(joined(b.Address, " · "))), g.If(b.Note != "", note(b.Note)))
	case doc.Heading:
		return tag.H1(g.Text(string(b)))
	case doc.Section:
		// the drawings that it stands in for are on the page
		if b.Undrawn {
			return nil
		}
		return tag.Section(class(b.Style), g.If(b.Title != "", tag.H2(g.Text(b.Title))), g.If(b.Note != "",
			note(b.Note)),
			h.blocks(b.Blocks, h.inSection))
	}
	return h.inSection(b)
}

// inSection writes what stands under a title.
func (h html) inSection(b doc.Block) g.Node {
	switch b := b.(type) {
	// a section in a section is a chapter: two depths are enough for a paper, and a third has no head
	case doc.Section:
		return tag.Div(tag.Class(strings.TrimSpace("chapter "+b.Style)), tag.H3(g.Text(b.Title)),
			h.blocks(b.Blocks, h.inSection))
	case doc.Paragraph:
		if b.Note {
			return note(b.Text)
		}
		return tag.P(g.Text(b.Text))
	case doc.List:
		return tag.Ul(g.Map(b, func(s string) g.Node { return tag.Li(g.Text(s)) }))
	case doc.Steps:
		return tag.Ol(g.Map(b, func(s string) g.Node { return tag.Li(g.Text(s)) }))
	case doc.Code:
		return tag.Div(tag.Class("code"), g.Raw(qrCode(b.Text, b.Title)), tag.P(g.Text(b.Text)))
	case doc.Terms:
		return tag.Dl(class(b.Style), g.Map(b.List, func(t doc.Term) g.Node { return term(&b, &t) }))
	case doc.Table:
		return h.table(&b)
	case doc.Drawings:
		return tag.Div(tag.Class("pictures"), g.Map(b, drawing))
	case doc.Link:
		return link(&b)
	case doc.Signatures:
		return tag.Div(tag.Class("signatures"), g.Map(b, func(s string) g.Node { return tag.Div(g.Text(s)) }))
	case doc.Footer:
		return tag.Footer(g.Map(b, func(s string) g.Node { return tag.P(g.Text(s)) }))
	}
	return nil // a type of a later day
}

func note(s string) g.Node { return tag.P(tag.Class("note"), g.Text(s)) }

// class is a class where there is one.
func class(name string) g.Node { return g.If(name != "", tag.Class(name)) }

// term is a name beside its values. The mark has its meaning in words for whoever hears or hovers.
func term(of *doc.Terms, t *doc.Term) g.Node {
	if len(t.Values) == 0 {
		return nil
	}
	// in one line where they are of one kind, in lines of their own where each is a thing
	values := g.Text(strings.Join(t.Values, "; "))
	if of.Apart {
		values = g.Map(t.Values, func(v string) g.Node { return tag.Div(g.Text(v)) })
	}
	// the mark is part of the name, so that it is not lost when the line is broken
	name := g.Group{g.Text(t.Name)}
	if t.Marked {
		name = append(name, tag.Span(tag.Class("changed"), tag.Title(of.Mark), g.Text(mark)))
	}
	return g.Group{tag.Dt(name), tag.Dd(values)}
}

// mark stands behind a name that differs from what is usual.
const mark = " •"

// link is its code beside its words. What is too long for a code is a link alone.
func link(l *doc.Link) g.Node {
	return tag.Div(tag.Class("link"), g.Raw(qrCode(l.Address, l.Code)), // modules and an escaped title
		tag.Div(tag.P(g.Text(l.Text)), tag.P(tag.A(tag.Href(l.Address), g.Text(l.Short)))))
}

func drawing(d doc.Drawing) g.Node {
	if d.SVG == "" {
		return nil
	}
	// the identifier lets a style sheet find a kind of drawing that needs more room, and a link lead to it
	style := "picture"
	if d.Small {
		style += " small"
	}
	picture := g.Raw(d.SVG) // escaped by core/drawing
	if d.Caption != "" {
		return tag.Section(tag.Class(style), tag.ID("picture-"+d.ID), picture, note(d.Caption))
	}
	return tag.Section(tag.Class(style), tag.ID("picture-"+d.ID), tag.H2(g.Text(d.Title)), picture)
}

// table gives every head its scope, so that a screen reader names row and column of each cell. Each group is a body of
// its own. The foot is written last; the style sheet keeps it from being repeated on each page.
//
// Source: HTML Living Standard, 4.9 (scope of header cells).
func (h html) table(t *doc.Table) g.Node {
	right := t.Numeric()
	// the head of a column stands where its cells do, so both ask this
	style := func(j int) string {
		if j >= len(right) { // a row with more cells than columns
			return ""
		}
		if !right[j] {
			return t.Columns[j].Style
		}
		return strings.TrimSpace("number " + t.Columns[j].Style)
	}
	var head []g.Node
	for j, c := range t.Columns {
		head = append(head, tag.Th(g.Attr("scope", "col"), class(style(j)), g.Text(c.Head())))
	}
	row := func(r doc.Row) g.Node {
		// cells that are missing at the end are left out: browsers leave their place empty
		var cells []g.Node
		for j, c := range r.Cells {
			if c.IsBlank() { // the box is drawn by the style sheet
				cells = append(cells, tag.Td(tag.Class("blank"), g.Text(c.UnitOf(h.Language))))
				continue
			}
			cells = append(cells, tag.Td(class(style(j+1)), h.words(c)))
		}
		return tag.Tr(class(r.Style), tag.Th(g.Attr("scope", "row"), g.Text(r.Label),
			g.If(r.Detail != "", tag.Span(tag.Class("detail"), g.Text(r.Detail)))), g.Group(cells))
	}
	// a title of a group spans the table, and a screen reader says it before each row of the group
	title := func(style, title string) g.Node {
		return g.If(title != "", tag.Tr(tag.Class(style), tag.Th(g.Attr("scope", "rowgroup"),
			tag.ColSpan(strconv.Itoa(len(t.Columns))), g.Text(title))))
	}
	return tag.Table(class(t.Style), tag.THead(tag.Tr(head...)),
		g.Map(t.Groups, func(s doc.Group) g.Node {
			return tag.TBody(title("group", s.Title), title("item", s.Sub), g.Map(s.Rows, row))
		}),
		g.If(len(t.Foot) > 0, tag.TFoot(g.Map(t.Foot, row))))
}

// words are those of a cell, with what differs from another text marked.
func (h html) words(c doc.Cell) g.Node {
	if c.IsNumber() || c.IsDate() {
		return g.Text(c.Words(h.Language))
	}
	return g.Map(c.Spans(), func(s doc.Span) g.Node {
		if s.Differ {
			return tag.Mark(g.Text(s.Text))
		}
		return g.Text(s.Text)
	})
}

// pageStyle is the foot of each printed page, the head of all but the first, and their size where it is set.
//
// Source: CSS Paged Media Module Level 3, page-margin boxes and the counters page and pages; Chromium prints them from
// release 131.
func pageStyle(l *msg.Language, d *doc.Doc) string {
	const look = "font: 8pt Arial, sans-serif; color: #55676d"
	// the words of the language with places for the counters, which are no text but CSS
	number := cssString(l.Say("render.page", msg.Text("page", pageMark), msg.Text("pages", pagesMark)))
	number = strings.NewReplacer(cssEscaped(pageMark), `" counter(page) "`, cssEscaped(pagesMark),
		`" counter(pages) "`).Replace(number)
	// a counter at the begin or end leaves an empty string there
	number = strings.TrimSuffix(strings.TrimPrefix(number, `"" `), ` ""`)
	style := "@page { @bottom-left { content: " + cssString(d.Foot) + "; " + look +
		" } @bottom-right { content: " + number + "; " + look + " } }"
	if d.Head != "" {
		style += " @page { @top-left { content: " + cssString(d.Head) + "; " + look +
			" } } @page :first { @top-left { content: none } }"
	}
	// of a fixed list, so that no other name gets into the style sheet
	if d.Size == doc.A4 || d.Size == doc.Letter {
		style += " @page { size: " + string(d.Size) + " portrait }"
	}
	return style
}

// Where the style sheet counts pages in the words of a language: two letters of the private use area.
const pageMark, pagesMark = "\uf8f0", "\uf8f1"

// cssString is a text as a string of CSS within HTML.
func cssString(text string) string { return `"` + cssEscaped(text) + `"` }

// cssEscaped escapes all but plain letters, digits and a few marks by code point, so that no text ends the string or
// the style sheet.
//
// Source: CSS Syntax Module Level 3, 4.3.7: a backslash, hexadecimal digits and a space that belongs to them.
func cssEscaped(text string) string {
	var b strings.Builder
	for _, c := range text {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', strings.ContainsRune(" .,:-", c):
			b.WriteRune(c)
		case c == 0:
			b.WriteString("\\fffd ") // CSS has no null
		default:
			fmt.Fprintf(&b, "\\%x ", c)
		}
	}
	return b.String()
}

// joined puts the texts that say something in a row.
func joined(list []string, between string) string {
	var said []string
	for _, s := range list {
		if s != "" {
			said = append(said, s)
		}
	}
	return strings.Join(said, between)
}

package export

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"ribband/core/doc"
)

// Sheet is a table of a workbook under a name.
type Sheet struct {
	Name  string
	Table doc.Table
}

// Workbook writes tables as a workbook of Office Open XML, which spreadsheets read: numbers, amounts, shares and days
// are numbers with a format, everything else is text and never a formula. Heads stand still when the rows are scrolled,
// and have filters. The sheets have names that differ.
//
// It is a writer of our own: the library that tests read it back with adds 1.2 MB to the page's engine, and a yard
// wants the file from the page as from the command line.
//
// Source: ECMA-376, part 1 (5th edition): 18.2 (workbook), 18.3 (sheets), 18.8 (styles); part 2 (packages). Limits of
// cells and names: the specifications and limits of the best known program, from memory.
func Workbook(sheets []Sheet) []byte {
	var a archive
	// a sheet is named in three places: what it is, in which order it stands, and in which file
	var types, list, links strings.Builder
	for i := range sheets {
		n := i + 1
		fmt.Fprintf(&types, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="`+contentType+
			`worksheet+xml"/>`, n)
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, escaped(sheetName(sheets[i].Name)), n, n)
		fmt.Fprintf(&links, `<Relationship Id="rId%d" Type="`+relation+
			`worksheet" Target="worksheets/sheet%d.xml"/>`, n, n)
	}
	// the styles are numbered behind the sheets, so that a sheet has the same number everywhere
	part := func(name, content string) { a.add(name, []byte(xmlHead+content)) }
	part("[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">`+
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>`+
		`<Override PartName="/xl/workbook.xml" ContentType="`+contentType+`sheet.main+xml"/>`+
		`<Override PartName="/xl/styles.xml" ContentType="`+contentType+`styles+xml"/>`+types.String()+`</Types>`)
	part("_rels/.rels", relationships+`<Relationship Id="rId1" Type="`+relation+
		`officeDocument" Target="xl/workbook.xml"/></Relationships>`)
	part("xl/workbook.xml", `<workbook xmlns="`+spreadsheet+`" xmlns:r="`+strings.TrimSuffix(relation, "/")+
		`"><sheets>`+
		list.String()+`</sheets></workbook>`)
	part("xl/_rels/workbook.xml.rels", relationships+links.String()+fmt.Sprintf(`<Relationship Id="rId%d" Type="`+
		relation+`styles" Target="styles.xml"/></Relationships>`, len(sheets)+1))
	part("xl/styles.xml", styles())
	for i := range sheets {
		part(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), worksheet(&sheets[i].Table))
	}
	return a.bytes()
}

// What the parts of a package name each other by.
const (
	xmlHead       = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n"
	spreadsheet   = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	relation      = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	relationships = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`
	contentType   = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// sheetName is a title as a sheet can be called: 31 characters, and no mark that a formula would read.
func sheetName(title string) string {
	name := []rune(strings.Map(func(c rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, c) {
			return ' '
		}
		return c
	}, title))
	return string(name[:min(len(name), 31)])
}

// Styles of cells by number: text, day, share, then numbers and amounts by their decimals; all of it once plain and
// once bold, for heads and sums.
const (
	styleText = iota
	styleDate
	styleShare
	styleNumber                                // with no decimals, and behind it with one more each
	styleAmount = styleNumber + mostDigits + 1 // of money, with thousands set apart
	styleBold   = styleAmount + mostDigits + 1 // what is added for bold

	mostDigits = 6 // of decimals that a format shows; the value has all of them
)

// styles are the formats of cells: 10 and 14 are built in (a share with two decimals, a day as the reader's country
// writes it), others begin at 164.
func styles() string {
	// a number shows the decimals that it was written with, and keeps them all
	var formats, cells strings.Builder
	ids := []int{0, 14, 10}
	for d := range 2 * (mostDigits + 1) {
		decimals := d % (mostDigits + 1)
		format := "0"
		if d > mostDigits {
			format = "#,##0"
		}
		if decimals > 0 {
			format += "." + strings.Repeat("0", decimals)
		}
		// below 164 are the formats that every program has
		ids = append(ids, 164+d)
		fmt.Fprintf(&formats, `<numFmt numFmtId="%d" formatCode="%s"/>`, 164+d, format)
	}
	// each format twice: plain, and bold for heads and sums
	for font := range 2 {
		for _, id := range ids {
			fmt.Fprintf(&cells, `<xf numFmtId="%d" fontId="%d" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" `+
				`applyFont="1"/>`, id, font)
		}
	}
	return fmt.Sprintf(`<styleSheet xmlns="%s"><numFmts count="%d">%s</numFmts><fonts count="2"><font><sz val="10"/>`+
		`<name val="Arial"/></font><font><b/><sz val="10"/><name val="Arial"/></font></fonts><fills count="2"><fill>`+
		`<patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>`+
		`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>`+
		`<cellStyleXfs count="1">`+
		`<xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>`+
		`<cellXfs count="%d">%s</cellXfs></styleSheet>`,
		spreadsheet, 2*(mostDigits+1), formats.String(), 2*len(ids), cells.String())
}

// worksheet writes a table: the heads, the rows of all groups under each other, and the foot.
func worksheet(t *doc.Table) string {
	w := &sheetWriter{widths: make([]int, len(t.Columns))}
	var heads []doc.Cell
	for _, c := range t.Columns {
		heads = append(heads, doc.Text(c.Head()))
	}
	w.row(heads, styleBold)
	for _, g := range t.Groups {
		for _, r := range g.Rows {
			w.row(append([]doc.Cell{doc.Text(r.Label)}, r.Cells...), 0)
		}
	}
	// a filter that took in the sums would hide them
	filtered := w.rows
	for _, r := range t.Foot {
		w.row(append([]doc.Cell{doc.Text(r.Label)}, r.Cells...), styleBold)
	}
	var cols strings.Builder
	for i, n := range w.widths {
		fmt.Fprintf(&cols, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1, i+1, min(max(n+2, 8), 60))
	}
	return `<worksheet xmlns="` + spreadsheet + `"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" ` +
		`topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>` + cols.String() +
		`</cols><sheetData>` + w.String() + `</sheetData><autoFilter ref="A1:` + place(len(t.Columns)-1, filtered) +
		`"/></worksheet>`
}

// sheetWriter writes the rows of a sheet, and keeps how wide its columns are in characters.
type sheetWriter struct {
	strings.Builder
	rows   int
	widths []int
}

// row writes cells; an empty one is left out, since each names its place.
func (w *sheetWriter) row(cells []doc.Cell, style int) {
	w.rows++
	fmt.Fprintf(w, `<row r="%d">`, w.rows)
	for i, c := range cells[:min(len(cells), len(w.widths))] {
		if c.Empty() {
			continue
		}
		w.widths[i] = max(w.widths[i], utf8.RuneCountInString(c.Data()))
		w.cell(place(i, w.rows), c, style)
	}
	w.WriteString("</row>")
}

// cell writes one: a number as its exact decimal text, words in the cell itself.
func (w *sheetWriter) cell(at string, c doc.Cell, style int) {
	if day, err := time.Parse(time.DateOnly, c.Data()); c.IsDate() && err == nil {
		// days since 30 December 1899, as all of these programs count
		days := int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24)
		fmt.Fprintf(w, `<c r="%s" s="%d"><v>%d</v></c>`, at, style+styleDate, days)
		return
	}
	if !c.IsNumber() {
		fmt.Fprintf(w, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at,
			style+styleText, escaped(cellText(c.Data())))
		return
	}
	// the text of the number as it is: a program reads it to its own 15 digits or so, and we round nothing before
	_, fraction, _ := strings.Cut(c.Data(), ".")
	switch digits := min(len(fraction), mostDigits); {
	case c.IsShare():
		style += styleShare
	case c.IsMoney():
		style += styleAmount + digits
	default:
		style += styleNumber + digits
	}
	fmt.Fprintf(w, `<c r="%s" s="%d"><v>%s</v></c>`, at, style, c.Data())
}

// coded is what readers of these files take for a character by its code.
var coded = regexp.MustCompile(`_(x[0-9A-Fa-f]{4}_)`)

// cellText is a text as a cell can hold it: 32 767 characters as they count them, in units of UTF-16, and none that is
// read as a code.
func cellText(s string) string {
	const most = 32_767
	s = coded.ReplaceAllString(s, "_x005F_$1")
	if len(s) <= most { // bytes: never fewer than units
		return s
	}
	runes, units := []rune(s), 0
	for i, r := range runes {
		if units++; r > 0xffff {
			units++
		}
		if units > most-1 {
			return string(runes[:i]) + "…"
		}
	}
	return s
}

// place names a cell: A1 is the first.
func place(column, row int) string {
	name := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name + strconv.Itoa(row)
}

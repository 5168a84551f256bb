package source

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"ribband/core/book"
	"ribband/core/suggest"
)

// Options that are made from a table: the tree of the option is copied for each row, with the words of the row in the
// place of <column>, and decoded as if the owner had written it out.

// mostRows bounds a table: what a slot shows is read by a person.
const mostRows = 1000

// seriesKeys are those of a table of options.
type seriesKeys struct {
	For    book.Text `yaml:"for,required"`
	Option book.Text `yaml:"option,required"`
}

// series reads tables, and makes an option of each row.
func (d *decoder) series(n ast.Node, t *book.Series) {
	// a list, since a slot may have tables of different options
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		d.error(d.at(n), "series wants a list", "begin each table with a hyphen: - for: […]")
		return
	}
	for _, item := range seq.Values {
		rows, pattern := d.seriesOf(item)
		if pattern == nil {
			continue
		}
		// each row by itself, since every one may be wrong in its own way
		first := len(d.diagnostics)
		for _, row := range rows {
			o := book.Option{}
			v := reflect.ValueOf(&o).Elem()
			d.value(d.filled(pattern, row), v, entryOf+"options")
			*t = append(*t, o)
			if len(row) > 0 {
				d.into.Mark(book.Spot{At: book.Start(v), Row: row[0].Value.At, Key: "slots", Entry: true})
			}
		}
		d.once(first)
	}
}

// seriesOf is a table with the pattern of its options; nil where there is none.
func (d *decoder) seriesOf(n ast.Node) (rows []row, pattern ast.Node) {
	keys := seriesKeys{} // never filled: its tags say which keys there are
	// as mapping does, but for what stands in the option
	seen := map[string]book.Position{}
	for key, value := range d.entries(n, "a table of options has the keys for and option") {
		seen[key.Value] = key.At
		switch key.Value {
		case "for":
			rows = d.rows(value)
		case "option":
			pattern = value
		default:
			d.unknownKey(key, fieldsOf(reflect.TypeFor[seriesKeys]()))
		}
	}
	d.required(reflect.ValueOf(&keys).Elem(), d.at(n), seen)
	return rows, pattern
}

// once keeps what is wrong in a pattern, and so in every row, from being said more than once.
func (d *decoder) once(first int) {
	// by all that is said, the place among it: what is wrong with the words of a row stands in the row
	said := map[book.Diagnostic]bool{}
	d.diagnostics = append(d.diagnostics[:first], slices.DeleteFunc(slices.Clone(d.diagnostics[first:]),
		func(x book.Diagnostic) bool {
			again := said[x]
			said[x] = true
			return again
		})...)
}

// row is one of a table: its words by column, each with its place in the file of the row. A row may lack a column that
// the option does not name.
type row = book.Pairs[book.Text]

// rows reads a table: a list of rows, or the name of a CSV file.
func (d *decoder) rows(n ast.Node) (rows []row) {
	// a name stands for the file, as it does for a list of regions
	if s, ok := n.(*ast.StringNode); ok {
		return d.table(s.Value, d.at(n))
	}
	seq, ok := n.(*ast.SequenceNode)
	if !ok || len(seq.Values) == 0 {
		d.error(d.at(n), "for wants rows", "write a list, as in - {id: red, name: Red}, or the name of a CSV file")
		return nil
	}
	for _, item := range seq.Values {
		var cells row
		// texts, whatever they are for: what they become says the option
		for key, value := range d.entries(item, "a row names its columns, as in {id: red, name: Red}") {
			cells = append(cells, book.Pair[book.Text]{Key: key,
				Value: book.Text{Value: d.scalar(value, key.Value, "a text"), At: d.at(value)}})
		}
		rows = append(rows, cells)
	}
	if len(rows) > mostRows {
		d.error(d.at(n), fmt.Sprintf("the table has %d rows; at most %d", len(rows), mostRows), "divide it among slots")
		return nil
	}
	return rows
}

// table reads a CSV file of the book: the columns stand in its first line; commas or semicolons divide them.
func (d *decoder) table(name string, at book.Position) (rows []row) {
	// within the folder of the book, whoever wrote it: a book from elsewhere must not read the files of a yard
	if path.Ext(name) != ".csv" || !fs.ValidPath(name) {
		d.error(at, fmt.Sprintf("%q names no CSV file of the book", suggest.Clip(name, 60)),
			"write its path from the folder of the book, like trim/colours.csv")
		return nil
	}
	text, err := fs.ReadFile(d.fsys, name)
	if err != nil {
		d.error(at, fmt.Sprintf("the table %q cannot be read: %v", suggest.Clip(name, 60), errors.Unwrap(err)),
			"write its path from the folder of the book, like trim/colours.csv")
		return nil
	}
	// by a decoder of its own, whose lines are those of the table
	own := &decoder{file: name}
	plain, ok := own.plain(name, text)
	d.tables = append(d.tables, tableFile{name, own.lines})
	d.diagnostics = append(d.diagnostics, own.diagnostics...)
	if !ok {
		return nil
	}
	// as the spreadsheet of the yard writes it: with semicolons where the comma is a decimal one
	r := csv.NewReader(strings.NewReader(plain))
	first, _, _ := strings.Cut(plain, "\n")
	if strings.Count(first, ";") > strings.Count(first, ",") {
		r.Comma = ';'
	}
	r.TrimLeadingSpace = true
	records, places, err := records(r, name, own.lines)
	// what breaks the form of the file stops it: which cell is in which column is not known behind that
	var bad *csv.ParseError
	switch {
	case errors.As(err, &bad):
		d.error(book.Position{File: name, Line: bad.Line, Column: bad.Column},
			fmt.Sprintf("the table: %v", bad.Err), "each line has as many cells as the first; a cell with a comma, "+
				"semicolon or quote stands in double quotes")
		return nil
	case len(records) < 2 || len(records) > mostRows+1:
		d.error(book.Position{File: name, Line: 1, Column: 1},
			fmt.Sprintf("the table has %d rows", max(0, len(records)-1)),
			fmt.Sprintf("write the columns in the first line and an option in each of 1 to %d more", mostRows))
		return nil
	}
	// blanks around a cell are for the eye; what is meant with blanks stands in quotes in a list of the book
	for i, record := range records[1:] {
		var cells row
		for j, cell := range record {
			cells = append(cells, book.Pair[book.Text]{Key: book.Text{Value: strings.TrimSpace(records[0][j]),
				At: places[0][j]}, Value: book.Text{Value: strings.TrimSpace(cell), At: places[i+1][j]}})
		}
		rows = append(rows, cells)
	}
	return rows
}

// records are the lines of a table, and where their cells stand, columns in characters.
func records(r *csv.Reader, name string, lines []string) (list [][]string, places [][]book.Position, err error) {
	// one by one: a reader of all of them forgets where cells stand
	for {
		record, err := r.Read()
		if err != nil {
			if errors.Is(err, io.EOF) {
				return list, places, nil
			}
			return nil, nil, err
		}
		var at []book.Position
		for i := range record {
			line, column := r.FieldPos(i) // in bytes
			at = append(at, book.Position{File: name, Line: line,
				Column: 1 + utf8.RuneCountInString(lines[line-1][:column-1])})
		}
		list, places = append(list, record), append(places, at)
	}
}

// column is the place of a word of the row in a pattern. Braces are YAML's, and a sign of money or a percent sign
// stands in texts of a book; a name in angle brackets stands in none.
var column = regexp.MustCompile(`<([a-z][a-z0-9_]*)>`)

// filled is a copy of a tree with the words of a row.
func (d *decoder) filled(n ast.Node, row row) ast.Node {
	// keys stay as they are: which keys an option has is no matter of a table
	switch n := n.(type) {
	case *ast.MappingNode:
		c := *n
		c.Values = nil
		for _, v := range n.Values {
			c.Values = append(c.Values, d.filled(v, row).(*ast.MappingValueNode))
		}
		return &c
	case *ast.MappingValueNode:
		c := *n
		c.Value = d.filled(n.Value, row)
		return &c
	case *ast.SequenceNode:
		c := *n
		c.Values = nil
		for _, v := range n.Values {
			c.Values = append(c.Values, d.filled(v, row))
		}
		return &c
	case *ast.StringNode:
		return d.filledText(n, n.Value, row)
	case *ast.LiteralNode:
		return d.filledText(n, strings.TrimSuffix(n.Value.Value, "\n"), row)
	}
	return n
}

// filledText is a text with the words of a row. What is a word of the row and nothing else stands where the row has it,
// and is what it would be if it stood there in the book: a number, true, or text.
func (d *decoder) filledText(n ast.Node, text string, row row) ast.Node {
	if !column.MatchString(text) {
		return n
	}
	// where the pattern stands, unless the row says all of it
	at := d.at(n)
	filled := column.ReplaceAllStringFunc(text, func(name string) string {
		// columns are names of the table, whatever the option calls its keys
		name = strings.Trim(name, "<>")
		i := slices.IndexFunc(row, func(p book.Pair[book.Text]) bool { return p.Key.Value == name })
		if i < 0 {
			// the columns of this row, since another may have more
			var known []string
			for _, p := range row {
				known = append(known, p.Key.Value)
			}
			d.error(d.at(n), fmt.Sprintf("the table has no column %q", suggest.Clip(name, 60)),
				suggest.Nearest(name, known, "its columns are "+strings.Join(known, ", ")))
			return "<" + name + ">"
		}
		// a text of several words has none but the place of the pattern
		if utf8.RuneCountInString(text) == utf8.RuneCountInString(name)+2 {
			at = row[i].Value.At
		}
		return row[i].Value.Value
	})
	// a node as the parser would make it, but for its place, which is another file's where the table is one
	t := token.New(filled, filled, n.GetToken().Position)
	// numbers are read from their text; truth values from their kind
	var node ast.Node = ast.String(t)
	if filled == "true" || filled == "false" {
		node = ast.Bool(t)
	}
	d.made[node] = at
	return node
}

// A table may be named by several slots, and is read for each: it is small.
//
// The lines of tables are kept until all files are read, since a diagnostic shows the line that it is about.

// tableFile is a CSV file of the book with its lines, for diagnostics.
type tableFile struct {
	name  string
	lines []string
}

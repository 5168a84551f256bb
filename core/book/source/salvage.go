package source

import (
	"reflect"
	"regexp"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"ribband/core/book"
)

// A file that is not YAML is read in pieces: each top-level key by itself, and of a list that does not parse each
// entry. So one missing bracket costs its entry alone, and everything else is checked in the same round.

// topLine begins a top-level key; a comment, a rule of --- or a closing bracket does not.
var topLine = regexp.MustCompile(`^["']?[A-Za-z_][A-Za-z0-9_ -]*["']?\s*:`)

// piece are lines of a file, from first up to end, counted from 0.
type piece struct{ first, end int }

// text is the piece with as many empty lines before it that its lines have their numbers.
func (p piece) text(lines []string) string {
	return strings.Repeat("\n", p.first) + strings.Join(lines[p.first:p.end], "\n") + "\n"
}

// pieces divides the lines of a piece before each one that begins something; what stands before the first is left out.
func (p piece) pieces(lines []string, begins func(string) bool) (list []piece) {
	for i := p.first; i < p.end; i++ {
		if !begins(lines[i]) {
			continue
		}
		if n := len(list); n > 0 {
			list[n-1].end = i
		}
		list = append(list, piece{i, p.end})
	}
	return list
}

// salvage reads what can be read of a file that is not YAML as a whole; wrong is what was said of the whole.
func (d *decoder) salvage(b *book.Book, plain string, wrong book.Diagnostic, seen map[string]book.Position) {
	lines := strings.Split(plain, "\n")
	before, read := d.errors(), 0
	blocks := piece{0, len(lines)}.pieces(lines, topLine.MatchString)
	for _, p := range blocks {
		bodies, bad := d.parse(p.text(lines), p.first+1)
		for _, body := range bodies {
			d.book(b, body, seen)
			read++
		}
		if bad != nil {
			read += d.entriesOf(b, lines, p, *bad, seen)
		}
	}
	// each part is YAML by itself, and the whole is not: what stands before the first key, or between two of them
	if d.errors() == before {
		d.diagnostics = append(d.diagnostics, wrong)
	}
	// of a file of which nothing could be read nobody knows what it has
	d.unread = d.unread || read == 0
}

// entriesOf reads the entries of a list one by one, and says how many of them could be read; wrong is what was said of
// the whole list.
func (d *decoder) entriesOf(b *book.Book, lines []string, p piece, wrong book.Diagnostic,
	seen map[string]book.Position) (read int) {
	key, rest, _ := strings.Cut(lines[p.first], ":")
	key = strings.Trim(strings.TrimSpace(key), `"'`)
	f, known := fieldsOf(reflect.TypeOf(*b)).named(key)
	rest, _, _ = strings.Cut(rest, "#")
	isList := known && strings.TrimSpace(rest) == "" && reflect.TypeOf(*b).Field(f.index).Type.Kind() == reflect.Slice
	var entries []piece
	if below := (piece{p.first + 1, p.end}); isList {
		// all entries have the indentation of the first
		indent := -1
		entries = below.pieces(lines, func(line string) bool {
			blanks := len(line) - len(strings.TrimLeft(line, " "))
			if indent < 0 && strings.HasPrefix(line[blanks:], "- ") {
				indent = blanks
			}
			return blanks == indent && strings.HasPrefix(line[blanks:], "- ")
		})
	}
	before := d.errors()
	for _, e := range entries {
		// below the key, as it stands in the file; the lines between are empty
		text := strings.Repeat("\n", p.first) + lines[p.first] + strings.Repeat("\n", e.first-p.first) +
			strings.Join(lines[e.first:e.end], "\n") + "\n"
		bodies, bad := d.parse(text, e.first+1)
		for _, body := range bodies {
			d.book(b, body, seen)
			read++
		}
		if bad != nil {
			d.lost(b, key, lines, e, *bad)
		}
	}
	// the key is there, whatever became of it
	if _, ok := seen[key]; known && !ok {
		seen[key] = book.Position{File: d.file, Line: p.first + 1, Column: 1}
	}
	if d.errors() == before {
		d.lost(b, key, lines, p, wrong)
	}
	return read
}

// identifier finds what an entry is called in text that is not YAML.
var identifier = regexp.MustCompile(`(?:^|[\s{,-])id:\s*["']?([a-z0-9]+(?:[-_][a-z0-9]+)*)`)

// lost notes that a piece could not be read, with the identifiers in it: what names them is no fault of its own.
func (d *decoder) lost(b *book.Book, key string, lines []string, p piece, wrong book.Diagnostic) {
	d.diagnostics = append(d.diagnostics, wrong)
	b.MarkDamaged(key)
	// the place of what is lost begins the piece, so that nothing before it is taken for damaged
	b.Mark(book.Spot{At: book.Position{File: d.file, Line: p.first + 1, Column: 1}, Key: key, Entry: true, Lost: true})
	for _, m := range identifier.FindAllStringSubmatch(strings.Join(lines[p.first:p.end], "\n"), -1) {
		b.Lose(wrong.Position, m[1])
	}
}

// lose notes the identifiers in a value that is not read, since its key is unknown or wants something else: what stands
// under id, or under a language.
func (d *decoder) lose(n ast.Node, at book.Position) { ast.Walk(losing{d, at}, n) }

// losing visits a value that is not read.
type losing struct {
	d  *decoder
	at book.Position
}

// Visit looks for identifiers.
func (l losing) Visit(n ast.Node) ast.Visitor {
	v, ok := n.(*ast.MappingValueNode)
	if !ok {
		return l
	}
	s, ok := v.Value.(*ast.StringNode)
	if ok && len(v.Key.String()) == 2 {
		l.d.into.Lose(l.at, s.Value)
	}
	return l
}

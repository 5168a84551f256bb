// Package source reads a price book from its YAML files, with the position of every value.
//
// A book is a folder; every file named *.yaml in it and below belongs to it, in the order of their paths. Reading does
// not stop at an error: it reports all of them, each with file, line, column and what would be right, up to a hundred.
// goccy/go-yaml parses; what a key may hold follows from the types and field tags of package book.
package source

import (
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"slices"
	"strings"
	"sync"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"ribband/core/book"
)

// maxFile bounds one file, so that a wrong folder is an error and not a wait.
const maxFile = 4 << 20

// maxDepth bounds brackets within brackets, for the same reason; a book has at most a handful.
const maxDepth = 50

// Read reads every YAML file of the folder that fsys is rooted at. The diagnostics are those of reading and those of
// [book.Book.Validate]; the book is usable when no error is among them. The error says that the folder itself cannot be
// read. Everything is read before anything is checked: an identifier may stand in one file and what names it in
// another.
func Read(fsys fs.FS) (*book.Book, []book.Diagnostic, error) { return new(Cache).Read(fsys) }

// Cache keeps the files of a book as they were parsed, for whoever reads the book again, after a save or for another
// purpose: only what has changed is parsed anew, which takes most of the time. Of several readers one waits for the
// other.
type Cache struct {
	lock     sync.Mutex
	files    map[string]parsed
	pictures map[string]madeOf
}

// parsed is a file as it was when it was parsed, without a fault of its form.
type parsed struct {
	text   string
	bodies []ast.Node
}

// Read is [Read] with what is known of the files that have not changed.
func (c *Cache) Read(fsys fs.FS) (*book.Book, []book.Diagnostic, error) {
	c.lock.Lock()
	defer c.lock.Unlock()
	// in the order of their paths on every machine
	files, err := yamlFiles(fsys)
	if err != nil {
		return nil, nil, err
	}
	b := &book.Book{}
	d := &decoder{into: b, fsys: fsys, made: map[ast.Node]book.Position{}, known: c.files}
	seen := map[string]book.Position{}
	for _, name := range files {
		text, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, nil, fmt.Errorf("reading book: %w", err)
		}
		d.read(b, name, text, seen)
	}
	// a file that is gone is forgotten
	c.files = d.parsed
	if !d.unread {
		// the keys of the book as a whole may stand in any file; that they are missing is said of the first
		d.required(reflect.ValueOf(b).Elem(), book.Position{File: files[0], Line: 1, Column: 1}, seen)
		for _, f := range fieldsOf(reflect.TypeOf(*b)) {
			if _, ok := seen[f.name]; f.required && !ok {
				b.MarkDamaged(f.name)
			}
		}
	}
	// tables are files of the book like others: what is wrong in them is shown with its line
	for _, t := range d.tables {
		b.Keep(t.name, t.lines)
	}
	b.Expand()
	c.pictures = d.pictures(b, c.pictures)
	b.Settle()
	b.TakeLayers()
	if d.unread {
		b.MarkUnread()
	}
	// of a book without one of its files every name would lead nowhere
	if !d.unread {
		d.diagnostics = append(d.diagnostics, b.Validate()...)
	}
	return b, b.Report(d.diagnostics), nil
}

// read adds one file to the book. What stops a file from being read is one diagnostic; the other files are read all the
// same.
func (d *decoder) read(b *book.Book, name string, text []byte, seen map[string]book.Position) {
	d.file, d.lines = name, nil
	plain, ok := d.plain(name, text)
	b.Keep(name, d.lines)
	if !ok {
		d.unread = true
		return
	}
	bodies, wrong := d.known[name].bodies, (*book.Diagnostic)(nil)
	if d.known[name].text != plain {
		bodies, wrong = d.parse(plain, 1)
	}
	if wrong != nil {
		d.salvage(b, plain, *wrong, seen)
		return
	}
	if d.parsed == nil {
		d.parsed = map[string]parsed{}
	}
	d.parsed[name] = parsed{plain, bodies}
	for _, body := range bodies {
		d.book(b, body, seen)
	}
}

// parse gives the bodies of the documents of a text, or what is wrong with it as YAML. The text begins on a line of the
// file; the lines before it are empty in the text.
func (d *decoder) parse(text string, line int) (bodies []ast.Node, wrong *book.Diagnostic) {
	tokens := lexer.Tokenize(text)
	if t := tooDeep(tokens); t != nil {
		return nil, &book.Diagnostic{Position: book.Position{File: d.file, Line: t.Position.Line,
			Column: t.Position.Column},
			Message: fmt.Sprintf("brackets or hyphens stand more than %d deep", maxDepth),
			Advice:  "a book needs few of them; is this one of its files?"}
	}
	tree, err := parser.Parse(tokens, 0)
	if err != nil {
		at := d.yamlPosition(err, line)
		// the parser says of a tab that it found no value; owners see no tab at all
		if tab := d.tabbed(at, line, line+strings.Count(strings.TrimLeft(text, "\n"), "\n")); tab != nil {
			return nil, tab
		}
		return nil, &book.Diagnostic{Position: at, Message: "the file is not YAML: " + yamlMessage(err),
			Advice: "mind indentation, quotes around text with a colon, and brackets"}
	}
	// a file of comments alone, or between two rules of ---, has no body
	for _, doc := range tree.Docs {
		if doc.Body != nil {
			bodies = append(bodies, doc.Body)
		}
	}
	return bodies, nil
}

// tooDeep gives the first token that lies deeper in brackets, or behind more hyphens of its line, than a book needs:
// the time to parse grows with the square of the depth. Flow and block style are bounded apart: a book uses one within
// the other.
func tooDeep(tokens token.Tokens) *token.Token {
	// hyphens are counted by line: - - - a is a list in a list in a list
	brackets, entries, line := 0, 0, 0
	for _, t := range tokens {
		if t.Position.Line != line {
			entries, line = 0, t.Position.Line
		}
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			brackets++
		case token.SequenceEndType, token.MappingEndType:
			brackets--
		case token.SequenceEntryType, token.MappingKeyType:
			entries++
		}
		if max(brackets, entries) > maxDepth {
			return t
		}
	}
	return nil
}

// yamlPosition is where the parser stumbled; the line where the text begins if it does not say.
func (d *decoder) yamlPosition(err error, line int) book.Position {
	var bad yaml.Error
	if errors.As(err, &bad) && bad.GetToken() != nil && bad.GetToken().Position != nil {
		if p := bad.GetToken().Position; p.Line >= line {
			return book.Position{File: d.file, Line: p.Line, Column: p.Column}
		}
	}
	return book.Position{File: d.file, Line: line, Column: 1}
}

// yamlMessage is what the parser says, without the lines of the file that it shows itself.
func yamlMessage(err error) string {
	var bad yaml.Error
	if errors.As(err, &bad) {
		return bad.GetMessage()
	}
	// the first line is the message, the rest the parser's own picture of the place
	first, _, _ := strings.Cut(err.Error(), "\n")
	return first
}

// book decodes the top level: lists of several files are joined, everything else is given once.
func (d *decoder) book(b *book.Book, body ast.Node, seen map[string]book.Position) {
	fields := fieldsOf(reflect.TypeOf(*b))
	for key, value := range d.entries(body, "a file of the book holds keys such as slots: and rules:") {
		f, ok := fields.named(key.Value)
		if !ok {
			d.unknownKey(key, fields)
			d.lose(value, key.At)
			b.MarkDamaged(d.meant(key, fields))
			seen[d.meant(key, fields)] = key.At
			continue
		}
		target := reflect.ValueOf(b).Elem().Field(f.index)
		// only lists grow from file to file: of two currencies one would win by the names of the files
		before, twice := seen[key.Value]
		if twice && target.Kind() != reflect.Slice {
			d.error(key.At, fmt.Sprintf("%s is given twice, first at %s", key.Value, before), "keep one of them")
			b.MarkDamaged(key.Value)
			continue
		}
		seen[key.Value] = key.At
		b.Mark(book.Spot{At: key.At, Key: key.Value})
		errors := d.errors()
		if target.Kind() != reflect.Slice {
			d.value(value, target, key.Value)
		} else {
			// decoded apart, since decoding a list begins with an empty one
			part := reflect.New(target.Type()).Elem()
			d.value(value, part, key.Value)
			target.Set(reflect.AppendSlice(target, part))
			markEntries(b, key.Value, part)
		}
		if d.errors() > errors {
			b.MarkDamaged(key.Value)
		}
	}
}

// markEntries notes where the entries of a list begin, and the options of its slots.
func markEntries(b *book.Book, key string, list reflect.Value) {
	for i := range list.Len() {
		b.Mark(book.Spot{At: book.Start(list.Index(i)), Key: key, Entry: true})
		if slot, ok := list.Index(i).Interface().(book.Slot); ok {
			for _, o := range slices.Concat(slot.Options, slot.Series) {
				b.Mark(book.Spot{At: book.Start(reflect.ValueOf(o)), Key: key, Entry: true})
			}
		}
	}
}

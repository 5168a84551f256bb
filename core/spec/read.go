package spec

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"ribband/core/msg"
	"ribband/core/visible"
)

// Strictly reads one JSON value of at most so many bytes that fills a T: no unknown key, none twice, nothing behind it,
// and text that is Unicode. Every error begins with line and column, and is a message: the file may be a customer's.
//
// The JSON reader of Go forgives much of this, keys in other letters and replaced characters among it. A file that is
// read otherwise than it looks is a quotation that says something else than was agreed, so nothing is forgiven here.
func Strictly[T any](text []byte, most int) (T, error) {
	var none T
	if len(text) > most {
		return none, tooLong(len(text), most)
	}
	if err := unicodeFault(text); err != nil {
		return none, err
	}
	s, end, err := decode[T](text)
	var syntax *json.SyntaxError // its words are English and of a parser: the place is told in our own
	switch {
	case errors.As(err, &syntax): // its offset counts the byte that is wrong
		return none, misplaced(text, int(syntax.Offset)-1)
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return none, located(text, len(text), msg.New("spec.ends-early"))
	case err != nil:
		return none, firstFault[T](text, err)
	}
	if rest := bytes.TrimLeft(text[end:], " \t\r\n"); len(rest) > 0 {
		return none, located(text, len(text)-len(rest), msg.New("spec.behind-the-end"))
	}
	if err := loneSurrogate(text); err != nil {
		return none, err
	}
	if err := repeatedKey(text); err != nil {
		return none, err
	}
	return s, nil
}

// unicodeFault finds what is no UTF-8, of which the JSON reader would make the replacement character without a word,
// and a byte-order mark.
//
// Source: RFC 8259, 8.1 (UTF-8, no byte-order mark).
func unicodeFault(text []byte) error {
	if bytes.HasPrefix(text, []byte("\ufeff")) {
		return located(text, 0, msg.New("spec.byte-order-mark"))
	}
	if utf8.Valid(text) {
		return nil
	}
	at := 0
	for {
		r, size := utf8.DecodeRune(text[at:])
		if r == utf8.RuneError && size == 1 {
			return located(text, at, msg.New("spec.no-utf8", msg.Text("byte", fmt.Sprintf("%#02x", text[at]))))
		}
		at += size
	}
}

// loneSurrogate finds half of an escaped pair in a well-formed text, of which the JSON reader would make the
// replacement character.
//
// Source: RFC 8259, 7 and 8.2.
func loneSurrogate(text []byte) error {
	for i := 0; i < len(text); i++ {
		if text[i] != '\\' {
			continue
		}
		unit, next := escaped(text[i:]), rune(0)
		if utf16.IsSurrogate(unit) {
			next = escaped(text[min(i+6, len(text)):])
			if utf16.DecodeRune(unit, next) == utf8.RuneError {
				return located(text, i, msg.New("spec.half-a-character", msg.Text("escape", string(text[i:i+6]))))
			}
			i += 6
		}
		i++ // what is escaped is no backslash of its own
	}
	return nil
}

// escaped is the code unit of an escape like \u00e9, or 0.
func escaped(text []byte) rune {
	if len(text) < 6 || text[0] != '\\' || text[1] != 'u' {
		return 0
	}
	unit, _ := strconv.ParseUint(string(text[2:6]), 16, 32) // of a well-formed text
	return rune(unit)
}

// decode reads one value and says where it ends. What stands behind it is for the caller: the JSON reader would not
// look.
func decode[T any](text []byte) (s T, end int64, err error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err = d.Decode(&s)
	return s, d.InputOffset(), err
}

// tooLong refuses a text that is longer than anything that is written here.
func tooLong(is, most int) error {
	return msg.Fault("spec.too-long", msg.Count("bytes", is), msg.Count("most", most))
}

// misplaced says that a text is no JSON, by the character at which that shows. The slip itself mostly stands before it.
func misplaced(text []byte, offset int) error {
	r, _ := utf8.DecodeRune(text[min(max(offset, 0), len(text)):])
	character := strings.Trim(strconv.Quote(string(r)), `"`) // what cannot be seen is written as an escape
	return located(text, offset, msg.New("spec.misplaced", msg.Text("character", character)))
}

// located is an error with its line and column, in characters from 1.
func located(text []byte, offset int, problem msg.Message) error {
	before := text[:min(max(offset, 0), len(text))]
	line := bytes.Count(before, []byte("\n")) + 1
	column := len([]rune(string(before[bytes.LastIndexByte(before, '\n')+1:]))) + 1
	return msg.Fault("spec.at-line", msg.Count("line", line), msg.Count("column", column),
		msg.Words("problem", problem))
}

// At is an error with its place in the structure, for whoever checks what [Strictly] has read: "choices.top.top-hard".
// [Placed] adds line and column.
func At(path string, code msg.Code, args ...msg.Arg) error {
	return &keyFault{path, msg.Error{Message: atKey(path, msg.New(code, args...))}}
}

// keyFault is an error that knows its place in the structure.
type keyFault struct {
	path string
	said msg.Error
}

func (k *keyFault) Error() string { return k.said.Error() }
func (k *keyFault) Unwrap() error { return &k.said }

// Placed puts line and column before an error of [At] on what a text says. Of a key that is not there it names the
// object that lacks it.
func Placed(text []byte, err error) error {
	var k *keyFault
	if !errors.As(err, &k) {
		return err
	}
	path, place := k.path, 0
	for path != "" {
		if at, ok := find(text, path); ok {
			place = at
			break
		}
		path = path[:max(strings.LastIndexAny(path, ".["), 0)]
	}
	return located(text, place, k.said.Message)
}

// Has says whether a text that [Strictly] has read has something at a place, whatever it says.
func Has(text []byte, path string) bool {
	_, ok := find(text, path)
	return ok
}

// find is where the value at a place begins, in bytes.
func find(text []byte, path string) (at int, ok bool) {
	walk(text, func(w *walker) bool {
		at, ok = w.value, w.path() == path
		return !ok
	})
	return at, ok
}

// atKey puts the place in the structure before what is wrong there: "extras[0].price: …".
func atKey(path string, problem msg.Message) msg.Message {
	if path == "" {
		return problem
	}
	return msg.New("spec.at-key", msg.Text("path", visible.Show(path)), msg.Words("problem", problem))
}

// plain says an error of the JSON reader in the words of somebody who writes a spec.
func plain(err error) msg.Message {
	var kind *json.UnmarshalTypeError
	if !errors.As(err, &kind) {
		return msg.Of(err)
	}
	is, _, _ := strings.Cut(kind.Value, " ") // "number 12" has the number with it
	to := kind.Type
	if to.Kind() == reflect.Pointer {
		to = to.Elem()
	}
	want := map[reflect.Kind]string{reflect.String: "text", reflect.Int: "whole",
		reflect.Slice: "list"}[to.Kind()]
	if reflect.PointerTo(to).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
		want = "decimal"
	}
	return msg.New("spec.wrong-type", msg.Choice("is", is), msg.Choice("want", want))
}

// repeatedKey finds a key that stands twice in one object, of which the JSON reader would drop the first. Keys are
// alike where the JSON reader takes them for one, whatever their case.
func repeatedKey(text []byte) (err error) {
	walk(text, func(w *walker) bool {
		if w.repeated {
			err = located(text, w.key, atKey(w.path(), msg.New("spec.key-twice")))
		}
		return err == nil
	})
	return err
}

// walker is a place in a JSON text: a value that begins there, with the objects and lists around it. Offsets are in
// bytes from the beginning of the text.
type walker struct {
	key, value, end int // where the key, the value and its first token begin and end
	repeated        bool
	frames          []frame
}

// frame is an object or list that is open.
type frame struct {
	closer byte
	key    string // of an object: the current one
	index  int    // of a list
	open   bool   // this frame was opened by the value itself, so that its key is not part of the path
	seen   map[string]bool
}

// walk visits every value of a well-formed text until visit says no. It is what finds places: the JSON reader knows the
// offset of a value only where it could not be read at all.
func walk(text []byte, visit func(*walker) bool) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	w := &walker{}
	inKey := false // whether a key was read and its value comes next
	for {
		start := int(d.InputOffset())
		start += len(text[start:]) - len(bytes.TrimLeft(text[start:], " \t\r\n,:"))
		token, err := d.Token()
		if err != nil {
			return
		}
		w.end = int(d.InputOffset())
		top := len(w.frames) - 1
		if delim, ok := token.(json.Delim); ok && (delim == '}' || delim == ']') {
			w.frames, inKey = w.frames[:top], false
			continue
		}
		if top >= 0 && w.frames[top].closer == '}' && !inKey {
			f := &w.frames[top]
			f.key, f.open = token.(string), false
			key := folded(f.key)
			w.key, w.repeated, inKey = start, f.seen[key], true
			f.seen[key] = true
			continue
		}
		if top >= 0 && w.frames[top].closer == ']' {
			w.frames[top].index++
			w.frames[top].open = false
			w.key, w.repeated = start, false
		}
		w.value, inKey = start, false
		switch token {
		case json.Delim('{'):
			w.frames = append(w.frames, frame{closer: '}', open: true, seen: map[string]bool{}})
		case json.Delim('['):
			w.frames = append(w.frames, frame{closer: ']', open: true, index: -1})
		}
		if !visit(w) {
			return
		}
	}
}

// path names the place: extras[0].price. A key is cut off after 60 bytes, since it may be anything.
func (w *walker) path() string {
	var b strings.Builder
	for i, f := range w.frames {
		switch {
		case f.open:
		case f.closer == ']':
			fmt.Fprintf(&b, "[%d]", f.index)
		case i > 0:
			fmt.Fprintf(&b, ".%.60s", f.key)
		default:
			fmt.Fprintf(&b, "%.60s", f.key)
		}
	}
	return b.String()
}

package synthetic

import (
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"ribband/core/book"
	"ribband/core/money"
)

// Marker is what [Mark] planted in one value of a book.
type Marker struct {
	// of the field, without indices: "Materials.Supplier"
	Path string
	// in the book's list that the path begins with; 0 where it is none
	Index int
	// a word, or the first digits of a number without its point
	Text string
}

// planted finds words and numbers of which a marker may be the beginning.
var planted = regexp.MustCompile(`mk[0-9]{8}x|[0-9][0-9.]{6,}`)

// Found are the markers that stand in a text, whatever stands around them, and whatever unit a number was changed to.
func Found(text string, markers []Marker) map[Marker]bool {
	seen, lengths := map[string]bool{}, map[int]bool{}
	for _, m := range markers {
		lengths[len(m.Text)] = true
	}
	for _, word := range planted.FindAllString(text, -1) {
		// a unit moves the point: 1.25 m is 1250 mm
		word = strings.TrimLeft(strings.ReplaceAll(word, ".", ""), "0")
		// looked up by length: a pack has a hundred thousand words, and a book thousands of markers
		for n := range lengths {
			if n <= len(word) {
				seen[word[:n]] = true
			}
		}
	}
	found := map[Marker]bool{}
	for _, m := range markers {
		if seen[m.Text] {
			found[m] = true
		}
	}
	return found
}

// reference are the fields that name something whose identifier is marked, with the list that it stands in.
var reference = map[string]string{"Shop": "Shops", "Operation": "Operations", "Until": "Operations",
	"FreeUntil": "Operations", "Due": "Operations", "Uses": "Equipment", "Equipment": "Equipment", "Skill": "Shops",
	"Material": "Materials", "Resin": "Materials", "Holder": "Materials", "Cut": "Cuts", "Wire": "Circuits",
	"Fuse": "Circuits", "Switch": "Circuits", "Spare": "Circuits"}

// marker plants markers, each with a number of its own. Numbers run through the whole book, so that a marker found
// anywhere tells its field.
type marker struct {
	planted []Marker
	codes   int // that were taken or passed over
	marked  func(path string) bool
	// identifiers, by list and old name
	renamed map[string]string
	// in a list of the book itself
	index int
}

// Mark plants a marker of its own in every value of a book whose field is to be marked: in a text a word, in a number
// digits behind those that matter, in a formula a term that changes nothing. What was a book stays one: identifiers are
// changed wherever they are named. Identifiers that formulas name, words of a fixed vocabulary and counts cannot be
// marked; the caller leaves them out. Paths are those of [Fields].
func Mark(b *book.Book, marked func(path string) bool) []Marker {
	m := &marker{marked: marked, renamed: map[string]string{}}
	for _, last := range []bool{false, true} { // references follow the names
		m.walk("", "", reflect.ValueOf(b).Elem(), last)
	}
	return m.planted
}

// Fields are the paths of all fields of a book that hold a text, a number, an amount, a share or a formula, in the
// order of the types. A list has one path for all its entries: what leaks of one leaks of all.
func Fields() (paths []string) {
	seen := map[string]bool{}
	var walk func(path string, t reflect.Type)
	walk = func(path string, t reflect.Type) {
		switch t {
		case text, number, amount, rate, expression:
			if !seen[path] {
				seen[path] = true
				paths = append(paths, path)
			}
			return
		// where a value stands is no part of it
		// a table of options is written out among them before anybody sees it
		case position, series:
			return
		}
		switch t.Kind() {
		case reflect.Pointer, reflect.Slice:
			walk(path, t.Elem())
		case reflect.Struct:
			for i := range t.NumField() {
				if f := t.Field(i); f.IsExported() {
					walk(joined(path, f.Name), f.Type)
				}
			}
		}
	}
	walk("", reflect.TypeFor[book.Book]())
	return paths
}

var (
	text       = reflect.TypeFor[book.Text]()
	number     = reflect.TypeFor[book.Number]()
	amount     = reflect.TypeFor[book.Money]()
	rate       = reflect.TypeFor[book.Rate]()
	expression = reflect.TypeFor[book.Formula]()
	position   = reflect.TypeFor[book.Position]()
	series     = reflect.TypeFor[book.Series]()
)

// joined is the path of a field of a field.
func joined(path, name string) string { return strings.TrimPrefix(path+"."+name, ".") }

// walk goes through a value of the book and plants on the way; in the second round it follows names to their new form.
func (m *marker) walk(path, name string, v reflect.Value, references bool) {
	switch v.Type() {
	case text, number, amount, rate, expression:
		switch list, refers := reference[name]; {
		case refers && v.Type() == text && references:
			x := v.Addr().Interface().(*book.Text)
			if name, ok := m.renamed[list+" "+x.Value]; ok {
				x.Value = name
			}
		case (!refers || v.Type() != text) && !references && m.marked(path):
			m.plant(path, name, v.Addr().Interface())
		}
		return
	case position:
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			m.walk(path, name, v.Elem(), references)
		}
	case reflect.Slice:
		for i := range v.Len() {
			// a list of the book itself, whose index tells a person which entry leaked
			if path == name {
				m.index = i
			}
			m.walk(path, name, v.Index(i), references)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				if path == "" {
					m.index = 0
				}
				m.walk(joined(path, f.Name), f.Name, v.Field(i), references)
			}
		}
	}
}

// plant marks one value; those that the book does not give stay so.
func (m *marker) plant(path, name string, value any) {
	// eight digits that look like none of a neighbour: a multiple of a prime that has no factor with 10^8
	code := ""
	// a share of 0.4 and a code from 7 on would look like what a formula gets; a zero at either end is not written
	for code == "" || code[0] == '7' || code[0] == '0' || code[len(code)-1] == '0' {
		m.codes++
		code = fmt.Sprintf("%08d", m.codes*48_271_939%100_000_000)
	}
	mark := ""
	switch x := value.(type) {
	case *book.Text:
		if x.Value == "" {
			return
		}
		mark = m.text(path, name, x, "mk"+code+"x")
	// a term of nothing, or a condition that always holds: the number stands in what is lowered all the same
	case *book.Formula:
		if mark = "47" + code; x.Empty() {
			return
		} else if name == "When" || name == "Need" {
			x.Value = fmt.Sprintf("(%s) and 0 < %s", x.Value, mark)
		} else {
			x.Value = fmt.Sprintf("(%s) + 0 * %s", x.Value, mark)
		}
		x.Marks = nil
	case *book.Number:
		if !x.Given() || x.Value == 0 {
			return
		}
		mark = m.number(name, x, code)
	case *book.Money:
		if !x.Given() {
			return
		}
		// behind the point, where it changes no price by a unit
		whole, _, _ := strings.Cut(x.Value.String(), ".")
		x.Value, mark = money.MustParse(whole+"."+code), whole+code
	case *book.Rate:
		if !x.Given() {
			return
		}
		// behind the first digit, so that a share stays about what it was
		one, share, _ := strings.Cut(x.Value.String(), ".")
		x.Value, mark = money.MustRate(one+"."+(share + "0")[:1]+code), (share + "0")[:1]+code
	}
	m.planted = append(m.planted, Marker{path, m.index, strings.TrimLeft(mark, "-0")})
}

// text marks words behind them, and an identifier before.
func (m *marker) text(path, name string, x *book.Text, mark string) string {
	if name == "ID" {
		list, _, _ := strings.Cut(path, ".")
		changed := mark + "-" + x.Value
		m.renamed[list+" "+x.Value] = changed
		x.Value = changed
	} else {
		x.Value += " " + mark
	}
	return mark
}

// number marks a number behind its first three digits, which alone matter; days are whole, and packs have few decimals.
func (m *marker) number(name string, x *book.Number, code string) string {
	if name == "Pack" || strings.HasSuffix(name, "Days") {
		x.Value, _ = strconv.ParseFloat("97531"+code, 64)
		return "97531" + code
	}
	digits, exponent, _ := strings.Cut(strconv.FormatFloat(x.Value, 'e', 2, 64), "e")
	x.Value, _ = strconv.ParseFloat(digits+code+"e"+exponent, 64)
	return strings.ReplaceAll(digits, ".", "") + code[:7] // the last digit may be rounded where the unit is changed
}

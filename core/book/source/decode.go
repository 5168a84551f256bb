package source

import (
	"fmt"
	"io/fs"
	"iter"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"ribband/core/book"
	"ribband/core/money"
	"ribband/core/suggest"
)

// entryOf stands before the name of a list for each of its entries.
const entryOf = "an entry of "

// decoder fills the types of package book from nodes, noting diagnostics and going on. It goes by reflection over the
// types of the book, so that a key needs nothing but its field.
type decoder struct {
	file        string
	lines       []string // of the file
	diagnostics []book.Diagnostic
	unread      bool       // a file could not be read at all, so that nothing can be said of what is missing
	into        *book.Book // takes what could not be read
	// files as they were parsed the last time, and now
	known, parsed map[string]parsed

	fsys   fs.FS // the folder, for tables
	tables []tableFile
	made   map[ast.Node]book.Position // where the words of a table stand, by what was made of them
}

// errors is how many errors were noted.
func (d *decoder) errors() int { return len(book.Errors(d.diagnostics)) }

// error notes what is wrong; the decoder has one warning, which it notes itself.
func (d *decoder) error(at book.Position, message, advice string) {
	d.diagnostics = append(d.diagnostics, book.Diagnostic{Position: at, Message: message, Advice: advice})
}

// at is where a node begins: a mapping without braces at its first key, since its token is the colon.
func (d *decoder) at(n ast.Node) book.Position {
	if at, ok := d.made[n]; ok {
		return at
	}
	if m, ok := n.(*ast.MappingValueNode); ok {
		n = m.Key
	}
	if m, ok := n.(*ast.MappingNode); ok && len(m.Values) > 0 && !m.IsFlowStyle {
		n = m.Values[0].Key
	}
	t := n.GetToken()
	// the parser leaves out the place of what is empty
	if t == nil || t.Position == nil {
		return book.Position{File: d.file, Line: 1, Column: 1}
	}
	return book.Position{File: d.file, Line: t.Position.Line, Column: t.Position.Column}
}

// field is one key that a mapping may hold.
type field struct {
	name     string
	index    int
	required bool
}

// fields are the keys of a type, in the order of its fields.
type fields []field

// fieldsOf reads the tags: a key, and whether it must be there.
func fieldsOf(t reflect.Type) fields {
	var list fields
	for i := range t.NumField() {
		name, rest, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ",")
		if name != "" {
			list = append(list, field{name, i, rest == "required"})
		}
	}
	return list
}

// named finds a key. There are few in one mapping, so that a list is as quick as a map, and it keeps the order of the
// type for advice.
func (l fields) named(name string) (field, bool) {
	for _, f := range l {
		if f.name == name {
			return f, true
		}
	}
	return field{}, false
}

// names are all keys, for advice.
func (l fields) names() []string {
	names := make([]string, len(l))
	for i, f := range l {
		names[i] = f.name
	}
	return names
}

// unknownKey names the nearest key that there is: most unknown keys are misspelt.
func (d *decoder) unknownKey(key book.Text, known fields) {
	d.error(key.At, fmt.Sprintf("unknown key %q", suggest.Clip(key.Value, 60)),
		suggest.Nearest(key.Value, known.names(), "the keys here are "+strings.Join(known.names(), ", ")))
}

// meant is the key that an unknown one stands for, so that it is not told as missing, too; the key itself where there
// is none like it.
func (d *decoder) meant(key book.Text, known fields) string {
	if meant, ok := suggest.Meant(key.Value, known.names()); ok {
		return meant
	}
	return key.Value
}

// entries yields the keys and values of a mapping, and reports what is none.
func (d *decoder) entries(n ast.Node, want string) iter.Seq2[book.Text, ast.Node] {
	return func(yield func(book.Text, ast.Node) bool) {
		var values []*ast.MappingValueNode
		switch n := n.(type) {
		case *ast.MappingNode:
			// the usual case: keys below each other, or in braces
			values = n.Values
		case *ast.MappingValueNode:
			// one key alone is no mapping to the parser
			values = []*ast.MappingValueNode{n}
		// nothing stands behind the key, which its reader judges
		case *ast.CommentGroupNode, *ast.NullNode:
			return
		default:
			d.error(d.at(n), "this is no mapping", want)
			d.lose(n, d.at(n))
			return
		}
		seen := map[string]bool{}
		for i, v := range values {
			// one slip is told once: the half behind the comma is no unknown key
			if i > 0 && d.halved(values[i-1], v) {
				continue
			}
			key, ok := v.Key.(ast.ScalarNode)
			if !ok {
				// [a, b]: 1 and {a: b}: 1 are YAML
				d.error(d.at(v.Key), "this key is no word", want)
				continue
			}
			k := book.Text{Value: fmt.Sprint(key.GetValue()), At: d.at(v.Key)}
			// the parser lets it pass, and the last would win
			if seen[k.Value] {
				d.error(k.At, fmt.Sprintf("key %q is given twice", suggest.Clip(k.Value, 60)), "keep one of them")
				d.lose(v.Value, k.At)
				continue
			}
			seen[k.Value] = true
			if !yield(k, v.Value) {
				return
			}
		}
	}
}

// halved reports a number with a decimal comma between braces, of which YAML makes two entries: {beam_m: 1,78} has the
// key 78 without a value.
func (d *decoder) halved(before, v *ast.MappingValueNode) bool {
	_, null := v.Value.(*ast.NullNode)
	// only behind a number is it a decimal comma
	number := false
	switch before.Value.(type) {
	case *ast.IntegerNode, *ast.FloatNode:
		number = true
	}
	if !null || !number || v.Key.GetToken() == nil || v.Start == nil {
		return false
	}
	// put together again, as the owner wrote it
	text := before.Value.GetToken().Value + "," + v.Key.GetToken().Value
	return d.pointed(d.at(before.Value), text, before.Key.GetToken().Value)
}

// value decodes n into target; what names it in messages. The types of package book decide how it is written: a type
// of its own has a reader of its own here, and all others are read by their kind. What is wrong is reported at its
// place, and reading goes on, so that one round shows all.
func (d *decoder) value(n ast.Node, target reflect.Value, what string) {
	// a name for a value that is never used is harmless
	if a, ok := n.(*ast.AnchorNode); ok {
		n = a.Value
	}
	// a value that stands elsewhere would be reported in the wrong place
	if _, ok := n.(*ast.AliasNode); ok {
		d.error(d.at(n), "aliases are not used in a book", "write the value out")
		return
	}
	switch t := target.Addr().Interface().(type) {
	// a value in itself; its position goes with it, since whoever finds it wrong has no node any more
	case *book.Text:
		d.text(n, t, what)
	case *book.Formula:
		errors := d.errors()
		t.Value, t.At = d.scalar(n, what, "a number or a formula"), d.at(n)
		// a key without a value is as if it were left out, and quotes around nothing are a slip
		if t.Value == "" && quoted(n) {
			d.error(t.At, fmt.Sprintf("%s is empty", what),
				"write a number or a formula, or leave the key out where it may be absent")
		}
		if quoted(n) { // the columns of errors count from the first character of the formula
			t.At.Column++
		}
		t.Marks = d.marks(n, t.Value)
		// what could not be read is no formula: its own faults are told by now
		if d.pointed(t.At, t.Value, what); d.errors() > errors {
			t.Value, t.Marks = "", nil
		}
	case *book.Number:
		d.number(n, t, what)
	case *book.Money:
		d.money(n, t, what)
	case *book.Rate:
		d.rate(n, t, what)
	case *bool:
		d.truth(n, t, what)
	case *book.Choices:
		d.choices(n, t)
	case *book.Standard:
		d.standard(n, t)
	// these are written in more than one way, for which no tag has words
	case *book.Price:
		d.price(n, t)
	case *[]book.Count:
		d.counts(n, t)
	case *book.HoursDay:
		d.hoursDay(n, t, what)
	case *book.Predecessor:
		d.predecessor(n, t, what)
	// mappings by a name of the book, as pairs are; types of their own, so that each name has its field
	case *book.Holds:
		for key, value := range d.entries(n, "holds names equipment, each with the operation that gives it free") {
			h := book.Hold{Equipment: key}
			d.text(value, &h.Until, key.Value)
			*t = append(*t, h)
		}
	// a shop of that name need not be there: the check of books says so, with the nearest that is
	case *book.ShopHours:
		for key, value := range d.entries(n, "hours names shops, each with its hours") {
			h := book.ShopHour{Shop: key}
			d.number(value, &h.Hours, key.Value)
			*t = append(*t, h)
		}
	case *book.Series:
		d.series(n, t)
	// prices and costs by day, as pairs by name are
	case *book.Pairs[book.Price]:
		pairs(d, n, t, what)
	case *book.Pairs[book.Money]:
		pairs(d, n, t, what)
	case *book.Pairs[book.Number]:
		pairs(d, n, t, what)
	case *book.Pairs[book.Formula]:
		pairs(d, n, t, what)
	case *book.Translations:
		pairs(d, n, t, what)
	case *book.Pairs[book.Text]:
		for key, value := range d.entries(n, fmt.Sprintf("%s holds texts with their words in that language", what)) {
			p := book.Pair[book.Text]{Key: key}
			d.text(value, &p.Value, "a translation")
			*t = append(*t, p)
		}
	default:
		d.composite(n, target, what)
	}
}

// composite decodes what is made of other values: a pointer for what may be left out, a list, a type with keys.
func (d *decoder) composite(n ast.Node, target reflect.Value, what string) {
	switch target.Kind() {
	case reflect.Pointer:
		target.Set(reflect.New(target.Type().Elem()))
		d.value(n, target.Elem(), what)
	case reflect.Slice:
		seq, ok := n.(*ast.SequenceNode)
		if !ok {
			d.error(d.at(n), fmt.Sprintf("%s wants a list", what), "begin each entry with a hyphen, or write [a, b]")
			d.lose(n, d.at(n))
			return
		}
		// an entry that is wrong stays in the list, so that the others keep their numbers
		for _, item := range seq.Values {
			element := reflect.New(target.Type().Elem()).Elem()
			d.value(item, element, entryOf+what)
			target.Set(reflect.Append(target, element))
		}
	case reflect.Struct:
		d.mapping(n, target, what)
	default:
		// a type of the book that nobody taught this package: found by the first test that reads a book
		panic("core/book/source: no decoding for " + target.Type().String())
	}
}

// mapping decodes a type with keys, notes where it stands, and reports keys that are missing.
func (d *decoder) mapping(n ast.Node, target reflect.Value, what string) {
	known, errors := fieldsOf(target.Type()), d.errors()
	seen := map[string]book.Position{}
	for key, value := range d.entries(n, fmt.Sprintf("%s has the keys %s", what, strings.Join(known.names(), ", "))) {
		f, ok := known.named(key.Value)
		if !ok {
			d.unknownKey(key, known)
			d.lose(value, key.At)
			seen[d.meant(key, known)] = key.At
			continue
		}
		seen[key.Value] = key.At
		d.value(value, target.Field(f.index), key.Value)
	}
	// types that are named in messages keep their place
	if at := target.FieldByName("At"); at.IsValid() {
		at.Set(reflect.ValueOf(d.at(n)))
	}
	// of a mapping with unknown keys alone it would be said twice
	if len(seen) > 0 || empty(n) {
		d.required(target, d.at(n), seen)
	}
	if d.errors() > errors {
		d.into.MarkHalf(d.at(n))
		if id := target.FieldByName("ID"); id.IsValid() {
			d.into.MarkHalf(book.Start(id))
		}
	}
}

// empty says that there is nothing where keys are wanted. What is no mapping, or has only unknown keys, is reported
// already.
func empty(n ast.Node) bool {
	m, ok := n.(*ast.MappingNode)
	return ok && len(m.Values) == 0 || n.Type() == ast.NullType
}

// text takes words or a name; words also by language.
func (d *decoder) text(n ast.Node, t *book.Text, what string) {
	t.At = d.at(n)
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		if key := strings.TrimPrefix(what, entryOf); slices.Contains(book.WordKeys, key) {
			d.wordings(n, t, what)
			return
		}
	}
	errors := d.errors()
	if t.Value = d.scalar(n, what, "a text"); d.errors() > errors {
		t.At = book.Position{}
		d.lose(n, d.at(n))
	}
}

// wordings takes a text by language. Its first one stands for it until the languages of the book are known.
func (d *decoder) wordings(n ast.Node, t *book.Text, what string) {
	t.Words = &book.Wordings{}
	for key, value := range d.entries(n, what+" holds a text, or languages with their texts") {
		w := book.Wording{Language: key.Value, Value: d.scalar(value, what, "a text"), At: key.At}
		if len(*t.Words) == 0 {
			t.Value = w.Value
		}
		*t.Words = append(*t.Words, w)
	}
}

// quoted says whether a text stands in quotes, in which every character is text.
func quoted(n ast.Node) bool {
	s, ok := n.(*ast.StringNode)
	return ok && (s.Token.Type == token.DoubleQuoteType || s.Token.Type == token.SingleQuoteType)
}

// required reports the keys that must be there and are not.
func (d *decoder) required(target reflect.Value, at book.Position, seen map[string]book.Position) {
	for _, f := range fieldsOf(target.Type()) {
		// what is there and wrong has been reported with its place
		if _, ok := seen[f.name]; f.required && !ok {
			d.error(at, fmt.Sprintf("the key %s: is missing", f.name),
				"add it; the README of the book says what it holds")
		}
	}
}

// scalar gives the text of a scalar node as it was meant: numbers keep their digits.
func (d *decoder) scalar(n ast.Node, what, want string) string {
	switch n := n.(type) {
	case *ast.StringNode:
		return n.Value
	case *ast.LiteralNode:
		// a block ends with a new line unless it says otherwise, and no text of a book means one
		return strings.TrimSuffix(n.Value.Value, "\n")
	// the token has the digits as they were written: 1450.00 is more than the float 1450
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode:
		return n.GetToken().Value
	}
	d.error(d.at(n), fmt.Sprintf("%s wants %s", what, want), "put text with colons, braces or brackets in quotes")
	return ""
}

// number reads a plain number; YAML's own forms, such as 0x10 or 1_000, are none.
func (d *decoder) number(n ast.Node, t *book.Number, what string) {
	at, errors := d.at(n), d.errors()
	text := d.scalar(n, what, "a number")
	// what could not be read is as if it were not given: its bounds are not checked
	if d.errors() > errors || d.pointed(at, text, what) {
		return
	}
	v, err := strconv.ParseFloat(text, 64)
	// an infinity or NaN less itself is not zero
	if text != "" && (err != nil || v-v != 0) {
		d.error(at, fmt.Sprintf("%s wants a number, not %q", what, suggest.Clip(text, 60)),
			"write digits with a decimal point, like 6.5")
		return
	}
	t.Value, t.At = v, at
}

// money reads an amount. It comes from the text, not from YAML's number, whose digits a float may have lost.
func (d *decoder) money(n ast.Node, t *book.Money, what string) {
	at, errors := d.at(n), d.errors()
	text := d.scalar(n, what, "an amount of money")
	if d.errors() > errors || d.pointed(at, text, what) {
		return
	}
	// quotes around nothing are a nothing that was given
	if text == "" {
		t.At = at
		return
	}
	v, err := money.Parse(text)
	if err != nil {
		d.error(at, fmt.Sprintf("%s: %v", what, err), `write an amount in quotes, like "1450" or "3.85"`)
		return
	}
	t.Value, t.At = v, at
}

// rate reads a share, exact as money is.
func (d *decoder) rate(n ast.Node, t *book.Rate, what string) {
	at, errors := d.at(n), d.errors()
	text := d.scalar(n, what, "a share")
	if d.errors() > errors || d.pointed(at, text, what) {
		return
	}
	// quotes around nothing are a nothing that was given
	if text == "" {
		t.At = at
		return
	}
	v, err := money.ParseRate(text)
	if err != nil {
		d.error(at, fmt.Sprintf("%s: %v", what, err), `write a share of 1 in quotes: "0.30" is 30 %`)
		return
	}
	t.Value, t.At = v, at
}

// truth reads true or false; yes and no are texts in YAML 1.2, and were truth values before it.
func (d *decoder) truth(n ast.Node, t *bool, what string) {
	b, ok := n.(*ast.BoolNode)
	if !ok {
		d.error(d.at(n), fmt.Sprintf("%s wants true or false", what), "write true or false without quotes")
		return
	}
	*t = b.Value
}

// choices takes the word regions, or a list.
func (d *decoder) choices(n ast.Node, t *book.Choices) {
	t.At = d.at(n)
	// one word in place of a list that the book already has
	if s, ok := n.(*ast.StringNode); ok && s.Value == "regions" {
		t.FromRegions = true
		return
	}
	d.value(n, reflect.ValueOf(&t.List).Elem(), "choices")
}

// standard takes an option, a list of options with counts, or either by hull.
func (d *decoder) standard(n ast.Node, t *book.Standard) {
	t.At = d.at(n)
	// a mapping is by hull, since the standard of all hulls is an option or a list
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		for key, value := range d.entries(n, "standard names an option, a list of them, or either by hull") {
			var list []book.Count
			d.counts(value, &list)
			// in the order of the file, as all that the digest is taken of
			t.ByHull = append(t.ByHull, book.Pair[[]book.Count]{Key: key, Value: list})
		}
	default:
		d.counts(n, &t.All)
	}
}

// hoursDay takes the hours of every working day, or those of each day by its name.
func (d *decoder) hoursDay(n ast.Node, t *book.HoursDay, what string) {
	t.At = d.at(n)
	// a mapping names days, whatever they are called: the check of books knows which there are
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		pairs(d, n, &t.ByDay, what)
	default:
		d.number(n, &t.All, what)
	}
}

// predecessor takes an operation by its name, as most stand in a book, or a mapping with the time that has to pass
// after it.
func (d *decoder) predecessor(n ast.Node, t *book.Predecessor, what string) {
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		d.mapping(n, reflect.ValueOf(t).Elem(), what)
	default:
		// the usual case: nothing has to dry in between
		d.text(n, &t.Operation, what)
		t.At = t.Operation.At
	}
}

// counts takes one option, or a list of them; each may have its count.
func (d *decoder) counts(n ast.Node, t *[]book.Count) {
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		*t = append(*t, d.count(n))
		return
	}
	for _, item := range seq.Values {
		*t = append(*t, d.count(item))
	}
}

// count takes an option, which counts once, or a mapping with its count.
func (d *decoder) count(n ast.Node) (c book.Count) {
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		d.mapping(n, reflect.ValueOf(&c).Elem(), "standard")
	default:
		c.Option = book.Text{Value: d.scalar(n, "standard", "an option"), At: d.at(n)}
		c.Count = book.Number{Value: 1, At: d.at(n)}
	}
	return c
}

// price takes one amount, or a list of amounts each with what it follows.
func (d *decoder) price(n ast.Node, t *book.Price) {
	t.At = d.at(n)
	if seq, ok := n.(*ast.SequenceNode); ok {
		d.value(seq, reflect.ValueOf(&t.Terms).Elem(), "price")
		return
	}
	// the usual price: one amount
	var amount book.Money
	d.money(n, &amount, "price")
	t.Terms = []book.PriceTerm{{Amount: amount}}
}

// pairs takes a mapping whose keys are names of the book, in the order of the file.
func pairs[T any](d *decoder, n ast.Node, t *book.Pairs[T], what string) {
	for key, value := range d.entries(n, fmt.Sprintf("%s holds names with their values", what)) {
		p, errors := book.Pair[T]{Key: key}, d.errors()
		d.value(value, reflect.ValueOf(&p.Value).Elem(), key.Value)
		// what could not be read would be checked as a nothing
		if d.errors() == errors {
			*t = append(*t, p)
		}
	}
}

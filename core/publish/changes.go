package publish

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"reflect"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/book/source"
)

// Item is one thing of a book that its owner may change by itself: a rule, an option, a price, an operation. Its digest
// is that of what it says, wherever it stands.
type Item struct {
	Kind     string        `json:"kind"` // key of the book that it stands under; price of what an option or hull costs
	ID       string        `json:"id,omitempty"`
	Position book.Position `json:"at"`
	Digest   string        `json:"-"`
}

// Name tells items apart: nothing else of a book has the same.
func (i *Item) Name() string { return strings.TrimSpace(i.Kind + " " + i.ID) }

// An edit is told by these, and not by lines: a rule that was moved to another file is the same rule.

// Items lists what a book in a folder is made of, in the order of its form. Files are those that were parsed already.
func Items(folder fs.FS, files *source.Cache) ([]Item, error) {
	b, diagnostics, err := files.Read(folder)
	if err != nil || len(book.Errors(diagnostics)) > 0 {
		return nil, fmt.Errorf("listing a book: %v %w", diagnostics, err)
	}
	// By the form of the book and not key by key: a key that is added is an item from then on.
	var list []Item
	v := reflect.ValueOf(b).Elem()
	for i := range v.NumField() {
		key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("yaml"), ",")
		if key == "" || key == "-" {
			continue
		}
		field := v.Field(i)
		if field.Kind() == reflect.Slice && field.Type().Elem().Kind() == reflect.Struct {
			if _, has := field.Type().Elem().FieldByName("ID"); has {
				for k := range field.Len() {
					list = append(list, itemsOf(key, field.Index(k))...)
				}
				continue
			}
		}
		list = append(list, item(key, "", field))
	}
	return list, nil
}

// A field of the book that is no list of entries, the overhead or the rounding, is one item.

// Two entries of one name are refused when a book is read, so that a name is enough to find the entry again.

// itemsOf is an entry with an identifier, what it costs apart, and the options of a slot by themselves.
func itemsOf(key string, entry reflect.Value) (list []Item) {
	// what is told apart is taken out of a copy: the entry stays as it was read
	id := entry.FieldByName("ID").Interface().(book.Text)
	alone := reflect.New(entry.Type()).Elem()
	alone.Set(entry)
	// What costs something is changed most often and touches no boat, so that it is named apart. Options are entries of
	// their own, and a slot is not another one for what is changed in them.
	for _, name := range []string{"Options", "Price"} {
		part := alone.FieldByName(name)
		if !part.IsValid() || part.IsZero() || name == "Options" && key != "slots" {
			continue
		}
		if name == "Price" {
			own := item("price", id.Value, part)
			list = append(list, own)
		} else {
			for k := range part.Len() {
				list = append(list, itemsOf("options", part.Index(k))...)
			}
		}
		part.SetZero()
	}
	own := item(key, id.Value, alone)
	own.Position = id.At
	return append([]Item{own}, list...)
}

// item is what a value of a book says. It stands where the first word of it does, which is where its owner looks for it
// first.
func item(kind, id string, v reflect.Value) Item {
	h := sha256.New()
	// twelve bytes: nobody gains by two that are the same
	at := said(h, v)
	return Item{kind, id, at, hex.EncodeToString(h.Sum(nil)[:12])}
}

// Words count: who reads a list of what he has changed wants to find all of it there.

// said writes what a value says without where, and gives the first place in it.
func said(w io.Writer, v reflect.Value) (at book.Position) {
	first := func(p book.Position) {
		if at.File == "" {
			at = p
		}
	}
	// Names and brackets keep apart what stands beside each other, so that no two values say the same.
	switch v.Kind() {
	case reflect.Struct:
		if p, is := v.Interface().(book.Position); is {
			return p
		}
		// an amount keeps to itself what it is made of, and says it when it is asked
		if open := reflect.VisibleFields(v.Type()); !slices.ContainsFunc(open, reflect.StructField.IsExported) {
			fmt.Fprintf(w, "%q", fmt.Sprint(v.Interface()))
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fmt.Fprint(w, v.Type().Field(i).Name, "{")
				first(said(w, v.Field(i)))
				fmt.Fprint(w, "}")
			}
		}
	case reflect.Slice, reflect.Array:
		if v.Type().Elem() == reflect.TypeFor[book.Mark]() {
			return at
		}
		for i := range v.Len() {
			fmt.Fprint(w, "[")
			first(said(w, v.Index(i)))
			fmt.Fprint(w, "]")
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			fmt.Fprint(w, "*")
			return said(w, v.Elem())
		}
	case reflect.Map:
		fmt.Fprint(w, v.Interface()) // in the order of its keys
	default:
		fmt.Fprintf(w, "%q", fmt.Sprint(v.Interface()))
	}
	return at
}

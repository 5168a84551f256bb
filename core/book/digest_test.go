package book_test

import (
	"fmt"
	"reflect"
	"testing"

	"ribband/core/book"
	"ribband/core/money"
)

// TestEveryValueIsInTheDigest changes one value of the small book after the other.
func TestEveryValueIsInTheDigest(t *testing.T) {
	b := read(t, smallBook)
	seen := map[string]string{b.Digest(): "the book itself"}
	changed := 0
	values(reflect.ValueOf(b).Elem(), "book", func(path string) {
		changed++
		digest := b.Digest()
		if other, ok := seen[digest]; ok {
			t.Errorf("a change of %s gives the digest of %s", path, other)
		}
		seen[digest] = "a change of " + path
	})
	if changed < 200 {
		t.Errorf("%d values changed, want more: the walk does not see them", changed)
	}
}

// values calls visit with each value below v changed, one at a time.
func values(v reflect.Value, path string, visit func(path string)) {
	if !v.CanInterface() {
		return // the lines kept for diagnostics
	}
	try := func(x any) {
		old := reflect.ValueOf(v.Interface())
		v.Set(reflect.ValueOf(x))
		visit(path)
		v.Set(old)
	}
	switch x := v.Interface().(type) {
	case book.Position:
		return // where a value stands is not part of it
	case book.Text:
		try(book.Text{Value: x.Value + "x", At: x.At})
		return
	case book.Formula:
		try(book.Formula{Value: x.Value + " + 1", At: x.At})
		return
	case book.Number:
		try(book.Number{Value: x.Value + 0.125, At: x.At})
		return
	case book.Money:
		try(book.Money{Value: x.Value.Add(money.MustParse("0.01")), At: x.At})
		return
	case book.Rate:
		try(book.Rate{Value: x.Value.Add(money.MustRate("0.001")), At: x.At})
		return
	case bool:
		try(!x)
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		try(reflect.New(v.Type().Elem()).Interface())
	case reflect.Struct:
		for i := range v.NumField() {
			values(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			values(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
		if v.Len() > 0 {
			all := reflect.ValueOf(v.Interface())
			v.Set(v.Slice(0, v.Len()-1))
			visit(path + " less its last entry")
			v.Set(all)
		}
		if v.Len() > 1 {
			swap := reflect.Swapper(v.Interface())
			swap(0, 1)
			visit(path + " with its first entries changed round")
			swap(0, 1)
		}
	}
}

// TestZeroIsNotNothing: a margin of zero and no margin are two prices, so they are two digests. They once were one.
func TestZeroIsNotNothing(t *testing.T) {
	b := read(t, smallBook)
	before := b.Digest()
	here := book.Position{File: "boat.yaml", Line: 1, Column: 1}
	o := &b.Slots[0].Options[0]
	o.Margin = book.Rate{At: here}
	margin := b.Digest()
	o.Margin, o.Markup = book.Rate{}, book.Rate{At: here}
	markup := b.Digest()
	if before == margin || before == markup || margin == markup {
		t.Errorf("no method %.8s, margin of zero %.8s, markup of zero %.8s: want three digests", before, margin, markup)
	}
}

// TestPlacesAreNotInTheDigest moves every value to another place.
func TestPlacesAreNotInTheDigest(t *testing.T) {
	b := read(t, demoBook)
	before := b.Digest()
	move(reflect.ValueOf(b).Elem())
	if b.Digest() != before {
		t.Error("the digest depends on where values stand")
	}
}

func move(v reflect.Value) {
	if p, ok := v.Interface().(book.Position); ok {
		if p.Line > 0 { // a value that is not given stays so
			v.Set(reflect.ValueOf(book.Position{File: "moved/" + p.File, Line: p.Line + 100, Column: p.Column + 10}))
		}
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				move(v.Field(i))
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			move(v.Index(i))
		}
	}
}

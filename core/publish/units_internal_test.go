package publish

import (
	"reflect"
	"testing"

	"ribband/core/book"
)

// Every formula that a book may hold is reached, whatever type it stands in: all of them are filled with one that
// cannot be right, and there are as many faults as formulas.
func TestUnitsOfEveryFormula(t *testing.T) {
	var b book.Book
	planted := plant(reflect.ValueOf(&b).Elem())
	b.HullFields = []book.Field{{ID: book.Text{Value: "length_m"}, Unit: book.Text{Value: "m"}},
		{ID: book.Text{Value: "top_m2"}, Unit: book.Text{Value: "m2"}}}
	if found := checkUnits(&b); len(found) != planted || planted < 50 {
		t.Errorf("%d of %d formulas are checked", len(found), planted)
	}
}

// plant fills a value with one of everything, and says how many formulas are in it.
func plant(v reflect.Value) (n int) {
	if !v.CanSet() {
		return 0
	}
	if f, ok := v.Addr().Interface().(*book.Formula); ok {
		f.Value = "hull.length_m + hull.top_m2"
		return 1
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			n += plant(v.Field(i))
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		n = plant(v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		n = plant(v.Index(0))
	}
	return n
}

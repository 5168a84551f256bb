package pack_test

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"ribband/core/pack"
)

// claim is the part that claims a type, with the fields that were decided on.
type claim struct {
	part   string
	fields []string
}

// claims reads testdata/parts/pack.txt: a line for each type is its part, its name and its fields.
func claims(t *testing.T) map[string]claim {
	t.Helper()
	text, err := os.ReadFile("../../testdata/parts/pack.txt")
	if err != nil {
		t.Fatal(err)
	}
	list := map[string]claim{}
	for line := range strings.Lines(string(text)) {
		words := strings.Fields(line)
		if len(words) == 0 || words[0] == "#" {
			continue
		}
		if _, twice := list[words[1]]; twice || !slices.Contains(order, words[0]) {
			t.Fatalf("%q claims a type twice, or for no part", line)
		}
		list[words[1]] = claim{words[0], words[2:]}
	}
	return list
}

// order are the parts from the lowest: what a lower part reaches, those who have a higher one can read too.
var order = []string{"public", "selling", "costs", "planning", "work"}

// Every field that travels was decided on: each type that a part reaches belongs to it or to a lower one, and has the
// fields that are listed and no more. Whoever adds a field to a type of the public part decides that everybody may read
// it by writing it there, or finds it another type.
func TestEveryFieldBelongsToAPart(t *testing.T) {
	list, reached := claims(t), map[string]bool{}
	for part, root := range map[string]reflect.Type{"public": reflect.TypeFor[pack.Public](),
		"selling": reflect.TypeFor[pack.Selling](), "costs": reflect.TypeFor[pack.Costs](),
		"planning": reflect.TypeFor[pack.ShowPlanning](), "work": reflect.TypeFor[pack.Work]()} {
		for _, typ := range structs(root, map[reflect.Type]bool{}) {
			c, ok := list[typ.Name()]
			reached[typ.Name()] = true
			if !ok {
				t.Errorf("the part %s has the type %s, which is not in testdata/parts/pack.txt", part, typ.Name())
				continue
			}
			if slices.Index(order, c.part) > slices.Index(order, part) {
				t.Errorf("the type %s is of the part %s, and the part %s reaches it", typ.Name(), c.part, part)
			}
			for i := range typ.NumField() {
				if name := typ.Field(i).Name; !slices.Contains(c.fields, name) {
					t.Errorf("no part claims the field %s.%s: decide in testdata/parts/pack.txt who may read it, or "+
						"put it on a type of another part", typ.Name(), name)
				}
			}
			if typ.NumField() < len(c.fields) {
				t.Errorf("%s has not all of the fields %v", typ.Name(), c.fields)
			}
		}
	}
	for name := range list {
		if !reached[name] {
			t.Errorf("no part reaches the type %s", name)
		}
	}
	// What travels is format, desk and the parts. The rest is put together of them.
	whole := reflect.TypeFor[pack.Pack]()
	for i := range whole.NumField() {
		f := whole.Field(i)
		known := []string{"Format", "Desk", "Public", "Selling", "Costs", "Planning", "Work"}
		if f.IsExported() && !slices.Contains(known, f.Name) && f.Tag.Get("json") != "-" {
			t.Errorf("the field %s of a pack travels outside of the parts", f.Name)
		}
	}
}

// structs are the structs of package pack that a type reaches, itself among them.
func structs(t reflect.Type, seen map[reflect.Type]bool) (list []reflect.Type) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
		return structs(t.Elem(), seen)
	case reflect.Struct:
	default:
		return nil
	}
	if seen[t] || t.PkgPath() != reflect.TypeFor[pack.Pack]().PkgPath() {
		return nil // formulas and money are values
	}
	seen[t] = true
	list = append(list, t)
	for i := range t.NumField() {
		list = append(list, structs(t.Field(i).Type, seen)...)
	}
	return list
}

package book_test

import (
	"reflect"
	"regexp"
	"strings"
	"testing"

	"ribband/core/book"
)

// unitsOf are what a field's name ends in, with what its comment has to say of it.
var unitsOf = map[string]string{"Mm": "mm", "M2": "m²", "Kg": "kg", "Kn": "knots", "W": "W", "Deg": "egrees",
	"Days": "Days", "GM2": "g/m²", "MM2": "mm²"}

// Every field that a book may state says in a comment what it means, with its unit: the schema has no other text.
func TestFieldsAreDocumented(t *testing.T) {
	seen := map[reflect.Type]bool{}
	count := 0
	var visit func(reflect.Type)
	visit = func(s reflect.Type) {
		for s.Kind() == reflect.Slice || s.Kind() == reflect.Pointer {
			s = s.Elem()
		}
		if s.Kind() != reflect.Struct || seen[s] || s.PkgPath() != reflect.TypeFor[book.Book]().PkgPath() {
			return
		}
		seen[s] = true
		for f := range s.Fields() {
			if !f.IsExported() || f.Anonymous {
				continue
			}
			count++
			name, _, _ := strings.Cut(s.Name(), "[") // of a generic type
			doc := book.Doc(name, f.Name)
			if doc == "" {
				t.Errorf("%s.%s has no comment", name, f.Name)
			}
			for ending, unit := range unitsOf {
				longer := ending == "M2" && (strings.HasSuffix(f.Name, "GM2") || strings.HasSuffix(f.Name, "MM2"))
				if strings.HasSuffix(f.Name, ending) && !longer && !strings.Contains(doc, unit) {
					t.Errorf("the comment on %s.%s does not say its unit %s: %s", name, f.Name, unit, doc)
				}
			}
			if metres.MatchString(f.Name) && !strings.Contains(doc, ", m") {
				t.Errorf("the comment on %s.%s does not say that it is in metres: %s", name, f.Name, doc)
			}
			visit(f.Type)
		}
	}
	visit(reflect.TypeFor[book.Book]())
	visit(reflect.TypeFor[book.Diagnostic]())
	visit(reflect.TypeFor[book.Measure]())
	if count < 250 {
		t.Errorf("%d fields, want more: the walk does not see them", count)
	}
}

// metres are the names of lengths: LengthM, SideM; places X, Y and Z among them.
var metres = regexp.MustCompile(`^([A-Z][a-z]+M|X|Y|Z)$`)

func TestDocOfWhatIsNotThere(t *testing.T) {
	if got := book.Doc("Book", "Nothing") + book.Doc("Nothing", "Yard"); got != "" {
		t.Errorf("the comment is %q", got)
	}
}

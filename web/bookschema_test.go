package main

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	invopop "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"ribband/core/book"
)

// The schema has the keys that reading accepts, in every type, and no other.
func TestBookSchemaHasTheKeysThatAreRead(t *testing.T) {
	schema := bookSchema()
	offered := map[string][]string{}
	eachKey(schema, func(of, key string, _ *invopop.Schema) { offered[of] = append(offered[of], key) })
	types := map[string]reflect.Type{"Book": reflect.TypeFor[book.Book]()}
	for name := range schema.Definitions {
		types[name] = bookTypes[name]
	}
	for name, typ := range types {
		var read []string
		for i := range typ.NumField() {
			if key, _, _ := strings.Cut(typ.Field(i).Tag.Get("yaml"), ","); key != "" {
				read = append(read, key)
			}
		}
		got := offered[name]
		slices.Sort(got)
		slices.Sort(read)
		if !slices.Equal(got, read) {
			t.Errorf("%s: the schema has %v, and reading takes %v", name, got, read)
		}
	}
	// what the tables of words and names say of keys that there are not would be offered nowhere
	for name, keys := range namesOf {
		for key := range keys {
			if !slices.Contains(offered[name], key) {
				t.Errorf("names are offered for %s of %s, which is no key", key, name)
			}
		}
	}
	for name, keys := range wordsOf() {
		for key := range keys {
			if !slices.Contains(offered[name], key) {
				t.Errorf("words are offered for %s of %s, which is no key", key, name)
			}
		}
	}
}

// Words that no book may have are refused as they are typed.
func TestBookSchemaKnowsTheWords(t *testing.T) {
	schema := schemaNamed(t, "book")
	for _, text := range []string{
		`{"hull_fields": [{"id": "beam", "title": "Beam", "unit": "furlong"}]}`,
		`{"units": [{"id": "rope", "symbol": "rope", "of": "furlong", "factor": "2"}]}`,
		`{"rounding": {"mode": "half-odd", "price_step": "5"}}`,
		`{"slots": [{"id": "a", "section": "b", "title": "C", "choose": "any", "options": []}]}`,
		`{"slots": [{"id": "a", "section": "b", "title": "C", "options": [{"id": "d", "title": "D", "drawn": "x"}]}]}`,
	} {
		invalid(t, schema, text)
	}
}

// The schema of one book takes that book, and offers its identifiers.
func TestSchemaOfABookOffersItsNames(t *testing.T) {
	o := worked(t, tool(t, "", "schema", "-book", rulesFolder))
	if !strings.Contains(o.out, `"reed-65"`) {
		t.Error("the schema does not offer the hulls of the book")
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(o.out))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("book.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("book.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range yamlFiles(t, rulesFolder) {
		if err := schema.Validate(yamlDocument(t, file)); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
}

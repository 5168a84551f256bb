package main

import (
	"encoding/json"
	"fmt"
	"path"
	"reflect"
	"slices"
	"strings"

	"github.com/invopop/jsonschema"

	"ribband/core/book"
	"ribband/core/brief"
	"ribband/core/deals"
	"ribband/core/editions"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/quote"
	"ribband/core/spec"
	"ribband/core/supply"
)

// schemas are published with the page: what editors and other programs may rely on. They are made from the types that
// read and write the files, so that they cannot fall behind; tests hold real files against them.
var schemas = map[string]func() *jsonschema.Schema{
	"spec": func() *jsonschema.Schema {
		return schemaOf("json", &spec.Spec{}, "A wish: a hull, what was chosen, the use")
	},
	"quote": func() *jsonschema.Schema { return schemaOf("json", &quote.Quote{}, "A quote frozen for a customer") },
	"quotations": func() *jsonschema.Schema {
		return schemaOf("json", &deals.File{}, "Records of quotations and boats, from one device to another")
	},
	"brief": func() *jsonschema.Schema {
		return schemaOf("json", &brief.Brief{}, "Needs of a buyer, to be answered with boats")
	},
	"brief-answer": func() *jsonschema.Schema { return schemaOf("json", &brief.Report{}, "The answer to a brief") },
	"boats": func() *jsonschema.Schema {
		return schemaOf("json", &boatTable{}, "A table of boats, as boats -format json prints it")
	},
	// reports for whoever keeps the book; what a customer gets has none of them
	"prices": func() *jsonschema.Schema { return schemaOf("json", &PricesReport{}, "What prices -json prints") },
	"compare": func() *jsonschema.Schema {
		return schemaOf("json", &editions.Comparison{}, "What compare -format json prints of two books")
	},
	"requote": func() *jsonschema.Schema {
		return schemaOf("json", &RequoteReport{}, "What requote -format json prints")
	},
	"check-part":   func() *jsonschema.Schema { return partSchema("check", &proofPart{}) },
	"requote-part": func() *jsonschema.Schema { return partSchema(requoteKind, &requotePart{}) },

	"open":  func() *jsonschema.Schema { return schemaOf("json", &OpenReport{}, "What open -json prints") },
	"check": func() *jsonschema.Schema { return schemaOf("json", &CheckReport{}, "What check -json prints") },
	"book":  bookSchema,
}

// addSchemas writes them into the site, indented for people.
func addSchemas(s site) error {
	for name, make := range schemas {
		text, err := json.MarshalIndent(make(), "", "  ")
		if err != nil {
			return fmt.Errorf("writing the schema of %s: %w", name, err)
		}
		s["schema/"+name+".json"] = append(text, '\n')
	}
	return nil
}

// schemaOf is the schema of a type by the names of its tags. Definitions are anonymous: an address would have to be
// kept up by somebody.
func schemaOf(tag string, v any, title string) *jsonschema.Schema {
	r := jsonschema.Reflector{FieldNameTag: tag, Anonymous: true, Mapper: valueSchema, ExpandedStruct: true,
		Namer: named}
	schema := r.Reflect(v)
	schema.Title = title
	return schema
}

// What merge reads may come from another machine, written by whatever leads the parts there: so it has a schema as the
// reports have. What the answers of a proof mean stands beside their fields in package proof; they are numbers of the
// pack, of use to nobody but the program that reads the same book.

// partSchema is the schema of one part of a work for merge, whose kind is one word.
func partSchema(kind string, v any) *jsonschema.Schema {
	// the types say that kind and numbers are there; which ones there are is said here
	schema := schemaOf("json", v, "What "+kind+" -part prints, for merge")
	k, _ := schema.Properties.Get("kind")
	k.Const = kind
	for _, name := range []string{"part", "of"} {
		n, _ := schema.Properties.Get(name)
		n.Minimum = "1"
	}
	return schema
}

// named tells types of the same name apart by their package: three are called Value. The names become those of
// definitions, which editors show.
func named(t reflect.Type) string {
	if t.PkgPath() == "" {
		return t.Name()
	}
	return path.Base(t.PkgPath()) + "." + t.Name()
}

// valueSchema describes the types that are written otherwise than Go's encoder would guess. Money and quantities are
// text in JSON, since a number would pass through floating point in most programs that read it.
func valueSchema(t reflect.Type) *jsonschema.Schema {
	decimal := func(what string) *jsonschema.Schema {
		return &jsonschema.Schema{Type: "string", Pattern: `^-?\d{1,15}(\.\d{1,9})?$`, Description: what}
	}
	switch t {
	case reflect.TypeFor[book.Grade]():
		return &jsonschema.Schema{Type: "string", Enum: []any{book.Error.String(), book.Warning.String()},
			Description: "a warning does not keep a book from being used"}
	case reflect.TypeFor[money.Amount]():
		return decimal("an amount of money, as decimal text")
	case reflect.TypeFor[money.Rate]():
		return decimal("a share, as decimal text: 0.19 is 19 %")
	case reflect.TypeFor[money.Currency]():
		return &jsonschema.Schema{Type: "string", Pattern: "^[A-Z]{3}$", Description: "a code of ISO 4217"}
	case reflect.TypeFor[measure.Hours](), reflect.TypeFor[measure.Quantity]():
		return decimal("a quantity, as decimal text")
	case reflect.TypeFor[supply.Kind]():
		kinds := &jsonschema.Schema{Type: "string", Description: "why it is left to a person"}
		for _, k := range supply.Kinds {
			kinds.Enum = append(kinds.Enum, string(k))
		}
		return kinds
	case reflect.TypeFor[brief.Value]():
		return either(&jsonschema.Schema{Type: "number"}, &jsonschema.Schema{Type: "string"},
			&jsonschema.Schema{Const: true})
	case reflect.TypeFor[spec.Value]():
		return either(&jsonschema.Schema{Type: "number"}, &jsonschema.Schema{Type: "string"})
	}
	return nil
}

// either allows one of several forms.
func either(schemas ...*jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{OneOf: schemas}
}

// bookSchema is the schema of one file of a book, for editors: every file may hold any of the keys, so none is required
// at the top. Which keys go together is checked by the reader of books, which names the place; here are the ones that
// an editor can help with.
func bookSchema() *jsonschema.Schema {
	r := jsonschema.Reflector{FieldNameTag: "yaml", Anonymous: true, Mapper: bookValueSchema, ExpandedStruct: true,
		RequiredFromJSONSchemaTags: true}
	schema := r.Reflect(&book.Book{})
	schema.Title = "A file of a price book"
	describe(schema, reflect.TypeFor[book.Book](), false)
	// The top is one file of a book, which may hold any part of it; below it, keys that are required are.
	for name, def := range schema.Definitions {
		if t, ok := bookTypes[name]; ok {
			describe(def, t, true)
		}
	}
	offerWords(schema)
	// a material and one way to measure it; what a circuit takes names no material
	if q, ok := schema.Definitions["Quantity"]; ok {
		for _, way := range []string{"quantity", "foam", "timber", "tube", "coat", "gelcoat", "cut"} {
			q.OneOf = append(q.OneOf, &jsonschema.Schema{Required: []string{"material", way}})
		}
		for _, way := range []string{"wire", "fuse", "switch", "spare"} {
			q.OneOf = append(q.OneOf, &jsonschema.Schema{Required: []string{way}})
		}
	}
	return schema
}

// bookTypes are the types of the book that become definitions, by name.
var bookTypes = typesUnder(reflect.TypeFor[book.Book]())

// typesUnder are the structures that a type is made of, through lists and pointers, each once.
func typesUnder(t reflect.Type) map[string]reflect.Type {
	found := map[string]reflect.Type{}
	var visit func(t reflect.Type)
	visit = func(t reflect.Type) {
		// What a list or pointer leads to is what has keys.
		for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct || bookValueSchema(t) != nil || found[t.Name()] != nil {
			return
		}
		found[t.Name()] = t
		for i := range t.NumField() {
			visit(t.Field(i).Type)
		}
	}
	visit(t)
	return found
}

// byLanguage lets a text, or each text of a list, be given by language. A book of one language has plain texts, and its
// editor should not offer more; so both forms are allowed everywhere.
func byLanguage(p *jsonschema.Schema) {
	if p.Items != nil {
		p = p.Items
	}
	if len(p.OneOf) > 0 {
		p.OneOf = append(p.OneOf, &jsonschema.Schema{Type: "object",
			AdditionalProperties: &jsonschema.Schema{Type: "string"},
			Description:          "the words by language: {en: …, nl: …}"})
	}
}

// describe adds what the book says of itself: by tags which keys are required, by comments what they mean. So an editor
// shows beside a key what the source says of it, and nothing has to be written twice.
func describe(schema *jsonschema.Schema, t reflect.Type, required bool) {
	for i := range t.NumField() {
		name, rest, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ",")
		if name == "" { // no key: where it stands, or what is kept for diagnostics
			schema.Properties.Delete(t.Field(i).Name)
			continue
		}
		if required && rest == "required" {
			schema.Required = append(schema.Required, name)
		}
		if p, ok := schema.Properties.Get(name); ok {
			p.Description = book.Doc(t.Name(), t.Field(i).Name)
			if slices.Contains(book.WordKeys, name) {
				byLanguage(p)
			}
		}
	}
}

// bookValueSchema describes the types of the book that are written in short: text with its place, a number or formula,
// one option or a list of them.
func bookValueSchema(t reflect.Type) *jsonschema.Schema {
	scalar := func(what string) *jsonschema.Schema {
		return &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "string"}, {Type: "number"}, {Type: "boolean"}},
			Description: what}
	}
	decimal := func(what string) *jsonschema.Schema {
		s := either(&jsonschema.Schema{Type: "string", Pattern: `^-?\d{1,15}(\.\d{1,9})?$`},
			&jsonschema.Schema{Type: "number"})
		s.Description = what
		return s
	}
	entries := func(value *jsonschema.Schema) *jsonschema.Schema {
		return &jsonschema.Schema{Type: "object", AdditionalProperties: value}
	}
	// How often an option is there by itself: once by its name alone, else by name and count.
	count := either(&jsonschema.Schema{Type: "string"},
		&jsonschema.Schema{Type: "object", Required: []string{"option", "count"}})
	counts := either(count, &jsonschema.Schema{Type: "array", Items: count})
	switch t {
	case reflect.TypeFor[book.Text]():
		return scalar("")
	case reflect.TypeFor[book.Formula]():
		return scalar(inFormulas)
	case reflect.TypeFor[book.Number]():
		return &jsonschema.Schema{Type: "number"}
	case reflect.TypeFor[book.Money]():
		return decimal("an amount of money")
	case reflect.TypeFor[book.Rate]():
		return decimal("a share: 0.30 is 30 %")
	case reflect.TypeFor[book.Pairs[book.Number]]():
		return entries(&jsonschema.Schema{Type: "number"})
	case reflect.TypeFor[book.Pairs[book.Formula]]():
		return entries(scalar(inFormulas))
	case reflect.TypeFor[book.Translations]():
		return entries(entries(&jsonschema.Schema{Type: "string"}))
	case reflect.TypeFor[book.Choices]():
		return either(&jsonschema.Schema{Const: "regions"},
			&jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{Type: "object",
				Required: []string{"id", "title"}}})
	case reflect.TypeFor[book.Count]():
		return count
	case reflect.TypeFor[book.Standard]():
		return either(&jsonschema.Schema{Type: "string"}, &jsonschema.Schema{Type: "array", Items: count},
			entries(counts))
	// a working day, or a week of days that an editor can offer by their names
	case reflect.TypeFor[book.HoursDay]():
		days := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(),
			AdditionalProperties: jsonschema.FalseSchema}
		// no other names: a misspelt day would be a free one
		for _, day := range book.Weekdays {
			days.Properties.Set(day, &jsonschema.Schema{Type: "number"})
		}
		return either(&jsonschema.Schema{Type: "number"}, days)
	// mostly a name alone; with its waits it has keys, which say in the editor what the source says of them
	case reflect.TypeFor[book.Predecessor]():
		waits := &jsonschema.Schema{Type: "object", Required: []string{"id"}, Properties: jsonschema.NewProperties(),
			AdditionalProperties: jsonschema.FalseSchema}
		// as the fields of the type, which bookTypes does not reach through this form
		for _, key := range []struct{ name, kind, field string }{{"id", "string", "Operation"},
			{"wait_hours", "number", "WaitHours"}, {"within_hours", "number", "WithinHours"}} {
			waits.Properties.Set(key.name, &jsonschema.Schema{Type: key.kind,
				Description: book.Doc("Predecessor", key.field)})
		}
		return either(&jsonschema.Schema{Type: "string"}, waits)
	// equipment with the operation that gives it free; shops with hours
	case reflect.TypeFor[book.Holds]():
		return entries(&jsonschema.Schema{Type: "string"})
	case reflect.TypeFor[book.ShopHours]():
		return entries(&jsonschema.Schema{Type: "number"})
	// tables of options; the pattern of an option has words in the place of numbers, so that an editor can check little
	case reflect.TypeFor[book.Series]():
		table := &jsonschema.Schema{Type: "object", Required: []string{"for", "option"},
			Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema}
		table.Properties.Set("for", either(&jsonschema.Schema{Type: "string", Pattern: `\.csv$`},
			&jsonschema.Schema{Type: "array", Items: entries(scalar(""))}))
		table.Properties.Set("option", &jsonschema.Schema{Type: "object", Required: []string{"id", "title"}})
		return &jsonschema.Schema{Type: "array", Items: table}
	case reflect.TypeFor[book.Pairs[book.Price]](), reflect.TypeFor[book.Pairs[book.Money]]():
		return entries(either(&jsonschema.Schema{Type: "string"}, &jsonschema.Schema{Type: "number"},
			&jsonschema.Schema{Type: "array"}))
	case reflect.TypeFor[book.Price]():
		term := &jsonschema.Schema{Type: "object", Required: []string{"amount"}}
		return either(&jsonschema.Schema{Type: "string", Pattern: `^-?\d{1,15}(\.\d{1,9})?$`},
			&jsonschema.Schema{Type: "number"}, &jsonschema.Schema{Type: "array", Items: term})
	// A position is read from the file and never written in it.
	case reflect.TypeFor[book.Position]():
		return &jsonschema.Schema{}
	}
	return nil
}

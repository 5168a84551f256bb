package main

import (
	"context"
	"fmt"
	"os"
	"slices"

	"github.com/invopop/jsonschema"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/drawing"
	"ribband/core/figures"
	"ribband/core/laminate"
	"ribband/core/look"
	"ribband/core/measure"
)

// What an editor offers as somebody types: the words that the program knows, wherever a key takes no other, and in the
// schema of one book its own identifiers. The words come from the packages that check them, so that none is offered
// which reading refuses.

// A word that is misspelt is underlined before the file is saved; a name that is not known yet is not, since an owner
// writes an option before the rule that names it, or the other way round. Everything else is left to the command check,
// which reads all files of the book together, as an editor does not.

// inFormulas is what an editor shows beside a formula.
const inFormulas = "A number or a formula: + - * / and comparisons, and, or, not, a ? b : c; hull.FIELD, use.FIELD, " +
	"figures.FIGURE; has(\"option\"), count(\"option\"), chosen(\"slot\"); min, max, abs, ceil, floor, round"

// wordsOf are the words that a key takes, and beside them names of the book where [namesOf] has it, by the type that
// has the key. A check of the work is in whatever its gauge shows, and takes any unit.
func wordsOf() map[string]map[string][]string {
	// of the packages that draw, compute and measure
	var units, drawn, surfaces, computed []string
	for _, u := range measure.Units {
		units = append(units, u.ID)
	}
	for _, w := range look.Words() {
		drawn = append(drawn, w.Word)
	}
	for _, s := range drawing.Surfaces() {
		surfaces = append(surfaces, string(s))
	}
	for _, d := range figures.Registry() {
		computed = append(computed, string(d.ID))
	}
	return map[string]map[string][]string{
		"Field":     {"unit": units},
		"UseField":  {"unit": units},
		"Material":  {"unit": units},
		"Unit":      {"of": units},
		"Slot":      {"choose": {"one", "at most one", "multiple"}},
		"Option":    {"drawn": drawn, "surface": surfaces},
		"Figure":    {"unit": units, "computed": computed},
		"Laminate":  {"part": laminate.Parts, "process": laminate.Words(laminate.Processes)},
		"Ply":       {"cloth": laminate.Words(laminate.Cloths)},
		"Cushion":   {"base": book.Bases},
		"FoamKind":  {"kind": book.FoamKinds},
		"Plate":     {"thread": book.Threads},
		"Height":    {"states": {"up", "folded", "road"}},
		"Shop":      {"papers": book.ShopPapers},
		"Rounding":  {"mode": {"half-even", "half-up"}},
		"Tax":       {"mode": {"inclusive", "exclusive", "zero"}},
		"Operation": {"batch": {"hull", "colour"}},
		"Yard":      {"launch": {"public", "show", "yard"}},
	}
}

// namesOf are the keys that name something of the book, by the type that has the key, with what they name.
var namesOf = map[string]map[string]string{
	"Slot":      {"section": "sections", "hulls": "hulls", "standard": "options", "free_until": "operations"},
	"Option":    {"hulls": "hulls", "carries": "figures"},
	"Hull":      {"dimensions": "hull_fields", "carries": "figures"},
	"Link":      {"any_of": "options"},
	"Work":      {"operation": "operations"},
	"Quantity":  {"material": "materials", "operation": "operations", "cut": "cuts"},
	"Cushion":   {"operation": "operations"},
	"FoamLayer": {"material": "materials"},
	"Operation": {"shop": "shops", "after": "operations"},
	"Stage":     {"due": "operations"},
	"Offsets":   {"hull": "hulls"},
	"Trial":     {"hull": "hulls"},
	"Laminate":  {"resin": "materials", "hulls": "hulls", "operation": "operations"},
	"Ply":       {"material": "materials"},
	"Wire":      {"material": "materials"},
	"FuseSize":  {"material": "materials", "holder": "materials"},
	"Switch":    {"material": "materials"},
	"CutStock":  {"options": "options"},
	"Equipment": {"hulls": "hulls"},
	"Undo":      {"hours": "shops"},
	"Check":     {"figure": "figures"},
	"Brief":     {"slots": "slots", "most": "figures"},
	"Material":  {"unit": "units"},
	"Figure":    {"unit": "units"},
	"Wish":      {"use": "use", "figure": "figures"},
}

// identifiersOf are those of a book, in its order, by where they are listed.
func identifiersOf(b *book.Book) map[string][]string {
	ids := map[string][]string{}
	// one that is there twice is a fault of the book, and an enumeration with it would be one of the schema
	add := func(kind string, id book.Text) {
		if id.Value != "" && !slices.Contains(ids[kind], id.Value) {
			ids[kind] = append(ids[kind], id.Value)
		}
	}
	for _, x := range b.Sections {
		add("sections", x.ID)
	}
	for _, x := range b.HullFields {
		add("hull_fields", x.ID)
	}
	for _, x := range b.Use {
		add("use", x.ID)
	}
	for _, x := range b.Figures {
		add("figures", x.ID)
	}
	for _, x := range b.Shops {
		add("shops", x.ID)
	}
	for _, x := range b.Operations {
		add("operations", x.ID)
	}
	for _, x := range b.Units {
		add("units", x.ID)
	}
	for _, x := range b.Materials {
		add("materials", x.ID)
	}
	for _, x := range b.Hulls {
		add("hulls", x.ID)
	}
	for _, x := range b.Cuts {
		add("cuts", x.ID)
	}
	// options of all slots together: links and cuts name them across slots
	for _, s := range b.Slots {
		add("slots", s.ID)
		for _, o := range s.Options {
			add("options", o.ID)
		}
	}
	return ids
}

// Definitions are visited in no order: what is done to one key does not change another.

// eachKey visits the keys of a schema of books with the type that has them.
func eachKey(schema *jsonschema.Schema, visit func(of, key string, p *jsonschema.Schema)) {
	see := func(of string, s *jsonschema.Schema) {
		for p := s.Properties.Oldest(); p != nil; p = p.Next() {
			visit(of, p.Key, p.Value)
		}
	}
	// the top is the book itself, and has no definition
	see("Book", schema)
	for name, def := range schema.Definitions {
		see(name, def)
	}
}

// offerWords lets each key take the words that the program knows and no others.
func offerWords(schema *jsonschema.Schema) {
	// a text may also be a number to YAML; a word is none
	words := wordsOf()
	eachKey(schema, func(of, key string, p *jsonschema.Schema) {
		list := words[of][key]
		if list == nil {
			return
		}
		// a list takes them for each of its entries
		if p.Items != nil {
			p = p.Items
		}
		known := &jsonschema.Schema{Type: "string"}
		for _, w := range list {
			known.Enum = append(known.Enum, w)
		}
		// where the book has names of its own they are offered, and any other is taken
		if namesOf[of][key] != "" {
			p.OneOf = []*jsonschema.Schema{{AnyOf: []*jsonschema.Schema{known, {Type: "string"}}}}
			return
		}
		p.OneOf, p.Type, p.Enum = nil, known.Type, known.Enum
	})
}

// offerNames lets an editor offer the identifiers of a book. Others are taken as well: what is named may be written
// next.
func offerNames(schema *jsonschema.Schema, ids map[string][]string) {
	eachKey(schema, func(of, key string, p *jsonschema.Schema) {
		list := ids[namesOf[of][key]]
		if len(list) == 0 {
			return
		}
		// beside what the key took before, which may be more than a name
		names := &jsonschema.Schema{Type: "string"}
		for _, id := range list {
			names.Enum = append(names.Enum, id)
		}
		switch {
		// a mapping by names has them as its keys
		case p.Type == "object":
			p.PropertyNames = &jsonschema.Schema{AnyOf: []*jsonschema.Schema{names, {Type: "string"}}}
		case p.Items != nil:
			p.Items = &jsonschema.Schema{AnyOf: []*jsonschema.Schema{names, p.Items}}
		default:
			p.AnyOf = []*jsonschema.Schema{names, {OneOf: p.OneOf}}
			p.OneOf = nil
		}
	})
}

// writeSchema writes the schema of one book for an editor, with the identifiers of the book.
func writeSchema(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "schema", "schema [-book DIR]")
	if err := f.parse(args); err != nil {
		return err
	}
	// of a book with faults, too: an editor helps to mend them
	b, _, err := source.Read(os.DirFS(f.book))
	if err != nil {
		return fmt.Errorf("writing the schema of %s: %w", f.book, err)
	}
	// as it is published, and the names beside
	schema := bookSchema()
	offerNames(schema, identifiersOf(b))
	return printJSON(c.out, schema)
}

package main

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	invopop "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"

	"ribband/core/deals"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// schemaNamed compiles a schema as it is published.
func schemaNamed(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	s := site{}
	if err := addSchemas(s); err != nil {
		t.Fatal(err)
	}
	path := "schema/" + name + ".json"
	text, ok := s[path]
	if !ok {
		t.Fatalf("there is no %s among %v", path, s.paths())
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(path, doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile(path)
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

func validate(t *testing.T, schema *jsonschema.Schema, name, text string) {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err == nil {
		err = schema.Validate(doc)
	}
	if err != nil {
		t.Errorf("%s: %v", name, err)
	}
}

func invalid(t *testing.T, schema *jsonschema.Schema, text string) {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if schema.Validate(doc) == nil {
		t.Errorf("the schema allows %s", text)
	}
}

func TestEverySchemaCompiles(t *testing.T) {
	for name := range schemas {
		schemaNamed(t, name)
	}
}

func TestBookFollowsItsSchema(t *testing.T) {
	schema := schemaNamed(t, "book")
	for _, file := range append(yamlFiles(t, rulesFolder), yamlFiles(t, secondBook)...) {
		if err := schema.Validate(yamlDocument(t, file)); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
}

// The examples of the README are what an owner types first: an editor must not mark them. Those that are keys of
// something below the top are left out; core/book/begin lays all of them over a book.
func TestReadmeFollowsTheSchema(t *testing.T) {
	schema := schemaNamed(t, "book")
	text, err := os.ReadFile(filepath.Join(rulesFolder, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)<!-- laid over [a-z-]+ -->\n```yaml\n(.*?)```\n").FindAllSubmatch(text, -1)
	for _, b := range blocks {
		file := write(t, filepath.Join(t.TempDir(), "example.yaml"), string(b[1]))
		var failed *jsonschema.ValidationError
		if errors.As(schema.Validate(yamlDocument(t, file)), &failed) {
			for _, wrong := range beyondRequired(failed) {
				t.Errorf("%v, in\n%s", wrong, b[1])
			}
		}
	}
	if len(blocks) < 20 {
		t.Errorf("%d examples were found", len(blocks))
	}
}

// beyondRequired are the faults of a document but for keys that it lacks: an example has those that it shows.
func beyondRequired(e *jsonschema.ValidationError) (list []*jsonschema.ValidationError) {
	if _, ok := e.ErrorKind.(*kind.Required); len(e.Causes) == 0 && !ok {
		return []*jsonschema.ValidationError{e}
	}
	for _, c := range e.Causes {
		list = append(list, beyondRequired(c)...)
	}
	return list
}

// yamlDocument reads a YAML file as a JSON reader would give it.
func yamlDocument(t *testing.T, file string) any {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var doc any
	if err := yaml.Unmarshal(text, &doc); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	asJSON, err := json.Marshal(doc)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	out, err := jsonschema.UnmarshalJSON(strings.NewReader(string(asJSON)))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestBookSchemaSeesFaults(t *testing.T) {
	schema := schemaNamed(t, "book")
	for _, text := range []string{
		`{"hulks": []}`,
		`{"materials": [{"id": "oak", "title": "Oak", "unit": "m3", "costs": "90"}]}`,
		`{"materials": [{"id": "oak", "unit": "m3", "cost": "90"}]}`,
		`{"materials": [{"id": "oak", "title": "Oak", "unit": "m3", "cost": "90 EUR"}]}`,
		`{"currency": ["EUR"]}`,
		`{"rules": [{"id": "a", "need": "true"}]}`,
		`{"slots": {"id": "bank"}}`,
		`{"translations": {"nl": ["Wit"]}}`,
		`{"translations": {"nl": {"White": {"nl": "Wit"}}}}`,
	} {
		invalid(t, schema, text)
	}
}

// Every key of the book has its meaning in the schema, with its unit: an editor shows it where the key is written.
func TestBookSchemaDescribesEveryKey(t *testing.T) {
	schema := bookSchema()
	keys := 0
	see := func(of string, s *invopop.Schema) {
		for p := s.Properties.Oldest(); p != nil; p = p.Next() {
			if keys++; p.Value.Description == "" {
				t.Errorf("the key %s of %s has no description", p.Key, of)
			}
		}
	}
	see("the book", schema)
	for name, def := range schema.Definitions {
		see(name, def)
	}
	if keys < 200 {
		t.Errorf("%d keys, want more", keys)
	}
	power, _ := schema.Definitions["TrialPoint"].Properties.Get("power_w")
	if power.Description != "Electrical power into the motor's controller at that speed, W." {
		t.Errorf("power_w is described as %q", power.Description)
	}
}

// specs are the demo's, as far as there are any, and some of every kind.
func specs(t *testing.T) map[string]string {
	t.Helper()
	list := map[string]string{
		"small":    reedSpec,
		"standard": `{"format": 1, "hull": "sedge-46"}`,
		"emptied":  `{"format": 1, "hull": "reed-65", "choices": {"top": {}}}`,
		"dealt": `{"format": 1, "hull": "reed-65", "extras": [{"id": "oars", "title": "Oars", "price": "90", "basis": "net", "cost": "40.50", "hours": {"wood-shop": "1.5"}}],
			"discounts": [{"title": "Show", "share": "0.03"}, {"title": "Round sum", "amount": "120", "on": "boat"}],
			"trade_in": {"title": "Dinghy", "allowance": "900", "value": "850.50"}}`,
	}
	files, _ := filepath.Glob("../testdata/specs/*.json")
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		list[file] = string(text)
	}
	return list
}

func TestSpecsFollowTheirSchema(t *testing.T) {
	schema := schemaNamed(t, "spec")
	for name, text := range specs(t) {
		s, err := spec.Decode([]byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		validate(t, schema, name, text)
		validate(t, schema, name+", written again", string(s.Encode()))
	}
}

// What the schema refuses, the reader refuses too.
func TestWrongSpecsAreRefused(t *testing.T) {
	schema := schemaNamed(t, "spec")
	invalid(t, schema, `{"format": 1}`) // the reader leaves it to the engine, which names the hulls
	for _, text := range []string{
		`{"format": "1", "hull": "reed-65"}`,
		`{"format": 1, "hull": 65}`,
		`{"format": 1, "hull": "reed-65", "colour": "red"}`,
		`{"format": 1, "hull": "reed-65", "choices": {"bank": "bank-lfp-20"}}`,
		`{"format": 1, "hull": "reed-65", "choices": {"bank": {"bank-lfp-20": "1"}}}`,
		`{"format": 1, "hull": "reed-65", "use": {"persons": true}}`,
		`{"format": 1, "hull": "reed-65", "extras": [{"id": "oars", "title": "Oars", "price": 90, "basis": "net"}]}`,
		`{"format": 1, "hull": "reed-65", "extras": [{"id": "oars", "title": "Oars", "price": "90"}]}`,
		`{"format": 1, "hull": "reed-65", "extras": [{"id": "oars", "title": "Oars", "price": "90", "basis": "gross"}]}`,
		`{"format": 1, "hull": "reed-65", "trade_in": {"title": "Dinghy"}}`,
		`{"format": 1, "hull": "reed-65", "discounts": [{"title": "Show", "share": "3 %"}]}`,
	} {
		invalid(t, schema, text)
		if _, err := spec.Decode([]byte(text)); err == nil {
			t.Errorf("the reader takes %s", text)
		}
	}
}

func TestFrozenQuotesFollowTheirSchema(t *testing.T) {
	schema := schemaNamed(t, "quote")
	e, err := engine.Compile(packsOf(t)[pack.Show])
	if err != nil {
		t.Fatal(err)
	}
	var first string
	for name, text := range specs(t) {
		s, err := spec.Decode([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		a, err := e.Answer(s)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		d := quote.Details{Number: "2027-014", Date: "2027-03-31", Approval: "The owner",
			Customer: quote.Party{Name: "Ada Example", Address: []string{"2 Alder Quay"}}}
		q := quote.Draft(e, a)
		if len(a.Build.Clashes)+len(a.Notes) == 0 {
			if q, err = quote.Freeze(e, a, d); err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
		}
		first = string(q.Encode())
		validate(t, schema, name, first)
	}
	invalid(t, schema, strings.Replace(first, `"currency":`, `"money":`, 1))
	invalid(t, schema, strings.Replace(first, `"kind":`, `"kinds":`, 1))
}

func TestCheckReportsFollowTheirSchema(t *testing.T) {
	schema := schemaNamed(t, "check")
	keep := t.TempDir()
	first := tool(t, "", "check", "-json", "-cache", keep, "-book", rulesFolder)
	validate(t, schema, "the demo book", first.out)
	// The second time nothing is asked anew, and the report is the same.
	second := tool(t, "", "check", "-json", "-cache", keep, "-book", rulesFolder)
	if second.out != first.out || !strings.Contains(second.err, " 0 questions anew") {
		t.Errorf("the second check says %q, and the report is another: %v", second.err, second.out != first.out)
	}
	dir := copyBook(t)
	edit(t, filepath.Join(dir, "yard.yaml"), `currency: EUR`, `currency: EURO`)
	validate(t, schema, "a broken book", tool(t, "", "check", "-json", "-book", dir).out)
	dir = copyBook(t)
	write(t, filepath.Join(dir, "more.yaml"), "materials:\n  - {id: bolt-6, title: Bolt, unit: each, cost: \"0.40\"}\n")
	validate(t, schema, "a book with a warning", tool(t, "", "check", "-quick", "-json", "-book", dir).out)
	invalid(t, schema, `{"diagnostics": [{"file": "a.yaml"}], "counts": {}}`)
}

// A part of the demo's proof is what its schema says; parts of the small book are held to it where they are joined.
func TestPartsFollowTheirSchema(t *testing.T) {
	schema := schemaNamed(t, "check-part")
	text := worked(t, tool(t, "", "check", "-part", "3/200", "-cache", "off", "-book", rulesFolder)).out
	validate(t, schema, "the demo book", text)
	// what merge could not read is no part
	for _, change := range [][2]string{{`"kind": "check"`, `"kind": "requote"`}, {`"part": 3`, `"part": 0`},
		{`"findings": {`, `"answers": {`}, {`"holds": [`, `"holds": [[0],`}} {
		invalid(t, schema, strings.Replace(text, change[0], change[1], 1))
	}
}

// A file of records is what its schema says, and a record without a state is not.
func TestSchemaOfQuotations(t *testing.T) {
	file := deals.File{Device: "A", Written: "2027-03-31T18:00:00Z", Records: []deals.Record{{ID: "a-1",
		Created: "2027-03-31T09:00:00Z", Saved: "2027-03-31T09:30:00Z", State: deals.Draft, Revision: 1, Spec: "{}",
		Form: map[string]string{"quotation.name": "Ada Example"}}}}
	schema, text := schemaNamed(t, "quotations"), string(file.Encode())
	validate(t, schema, "a file of quotations", text)
	invalid(t, schema, strings.Replace(text, `"state"`, `"status"`, 1))
	invalid(t, schema, strings.Replace(text, `"revision": 1`, `"revision": "1"`, 1))
}

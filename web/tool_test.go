package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ribband/core/book"
	"ribband/core/quote"
	"ribband/core/sheet"
)

func TestHelpListsEveryCommand(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"-h"}, {"-help"}, {"--help"}} {
		o := worked(t, tool(t, "", args...))
		for _, c := range commands {
			if !strings.Contains(o.out, c.name) || !strings.Contains(o.out, c.summary) {
				t.Errorf("%v does not tell of %s: %s", args, c.name, o.out)
			}
		}
	}
}

func TestEveryCommandHasHelp(t *testing.T) {
	for _, c := range commands {
		o := worked(t, tool(t, "", c.name, "-h"))
		bookless := slices.Contains([]string{"key", "seal", "paid", "new"}, c.name) // these read no book
		if !strings.Contains(o.err, "Usage: go run ./web") || strings.Contains(o.err, "-book") == bookless ||
			o.out != "" {
			t.Errorf("%s -h says %q and %q", c.name, o.out, o.err)
		}
	}
}

func TestCommandsNotUnderstood(t *testing.T) {
	spec := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	for _, c := range []struct {
		args  string
		words []string
	}{
		{"launch", []string{`"launch"`}},
		{"-color", []string{"-color"}},
		{"serve -color", []string{"-color"}},
		{"serve here", []string{`"here"`}},
		{"check -color", []string{"-color"}},
		{"check rules", []string{`"rules"`}},
		{"publish -color", []string{"-color"}},
		{"publish", []string{"-out DIR"}},
		{"publish -out DIR -desks yard", []string{`"yard"`, "buyer or all"}},
		{"cut -color", []string{"-color"}},
		{"cut -spec SPEC", []string{"-spec FILE", "-out DIR"}},
		{"quote -color", []string{"-color"}},
		{"quote", []string{"-spec FILE", "-spec -"}},
		{"quote -spec SPEC -desk owner", []string{`"owner"`, "buyer, dealer, show or yard"}},
		{"quote -spec SPEC -format doc", []string{`"doc"`, "text, html"}},
	} {
		t.Run(c.args, func(t *testing.T) {
			args := strings.Fields(strings.NewReplacer("SPEC", spec, "DIR", t.TempDir()).Replace(c.args))
			refused(t, tool(t, "", args...), 2, append(c.words, "Try 'go run ./web help'.")...)
		})
	}
}

func TestCheckCountsTheDemoBook(t *testing.T) {
	o := worked(t, tool(t, "", "check", "-quick", "-book", rulesFolder))
	if !regexp.MustCompile(`^4 hulls, \d+ slots, \d+ options, \d+ rules, \d+ materials, \d+ operations: no errors\.\n$`).MatchString(o.out) || o.err != "" {
		t.Errorf("check says %q and %q", o.out, o.err)
	}
	o = worked(t, tool(t, "", "check", "-quick", "-json", "-book", rulesFolder))
	var r CheckReport
	decode(t, o.out, &r)
	n := r.Counts
	if n.Hulls < 4 || n.Slots < 40 || n.Options < 160 || n.Rules < 80 || n.Materials < 200 || n.Operations < 1 {
		t.Errorf("the demo book has shrunk to %+v", n)
	}
	if r.Diagnostics == nil || len(r.Diagnostics) > 0 {
		t.Errorf("diagnostics are %v, want an empty list", r.Diagnostics)
	}
}

func decode(t *testing.T, text string, into any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatalf("%v in %.300s", err, text)
	}
}

func TestFolderWithoutABook(t *testing.T) {
	nowhere, empty := filepath.Join(t.TempDir(), "nowhere"), t.TempDir()
	spec := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	for _, command := range [][]string{{"check"}, {"serve"}, {"publish", "-out", t.TempDir()},
		{"quote", "-spec", spec}} {
		t.Run(command[0], func(t *testing.T) {
			refused(t, tool(t, "", append(command, "-book", nowhere)...), 1, nowhere, "no such file or directory")
			refused(t, tool(t, "", append(command, "-book", empty)...), 1, empty,
				"no file named *.yaml in the folder; is it the right one?")
		})
	}
}

// A book with faults: each is named with its place and remedy, in text and as JSON, and no command goes on.
func TestBrokenBook(t *testing.T) {
	dir := copyBook(t)
	file := filepath.Join(dir, "power", "options.yaml")
	edit(t, file, `material: cell-lfp-module-100, quantity: 4`, `material: cell-lfp-modul-100, quantity: 4`)
	text, _ := os.ReadFile(file)
	line, column := placeOf(string(text), "cell-lfp-modul-100")
	place := fmt.Sprintf("%s:%d:%d: ", file, line, column)

	o := tool(t, "", "check", "-book", dir)
	if o.code != 1 || !strings.Contains(o.out, place+"error: ") ||
		!strings.Contains(o.out, `did you mean "cell-lfp-module-100"?`) || !strings.HasSuffix(o.out, "1 error.\n") {
		t.Errorf("exit code %d, want 1 with %q; it said %s", o.code, place, o.out)
	}
	o = tool(t, "", "check", "-json", "-book", dir)
	var r CheckReport
	decode(t, o.out, &r)
	if o.code != 1 || len(r.Diagnostics) != 1 {
		t.Fatalf("exit code %d, diagnostics %+v", o.code, r.Diagnostics)
	}
	if f := r.Diagnostics[0]; f.Grade != book.Error || f.File != file || f.Line != line || f.Column != column ||
		!strings.Contains(f.Advice, "cell-lfp-module-100") || f.Message == "" {
		t.Errorf("reported %+v, want %s", f, place)
	} else if !strings.Contains(f.Source, "cell-lfp-modul-100") || f.Caret[column-1:] != "^^^^^^^^^^^^^^^^^^" {
		t.Errorf("the line is shown as\n%s\n%s", f.Source, f.Caret)
	}
	for _, command := range [][]string{{"serve"}, {"publish", "-out", filepath.Join(dir, "out")},
		{"quote", "-spec", write(t, filepath.Join(dir, "spec.json"), reedSpec)}} {
		refused(t, tool(t, "", append(command, "-book", dir)...), 1, place, "did you mean")
	}
	if _, err := os.Stat(filepath.Join(dir, "out")); err == nil {
		t.Error("publish wrote a site of a broken book")
	}
}

func TestSeveralFaultsAreCounted(t *testing.T) {
	dir := copyBook(t)
	edit(t, filepath.Join(dir, "yard.yaml"), `mode: half-even `, `mode: half-odd `)
	edit(t, filepath.Join(dir, "yard.yaml"), `currency: EUR`, `currency: EURO`)
	o := tool(t, "", "check", "-book", dir)
	if o.code != 1 || !strings.HasSuffix(o.out, ": 2 errors.\n") {
		t.Errorf("exit code %d; it said %s", o.code, o.out)
	}
}

// A warning does not keep anything from going on: it is printed, and fails check only where that is asked for.
func TestWarnedBook(t *testing.T) {
	dir := copyBook(t)
	file := filepath.Join(dir, "more.yaml")
	const bolt = `  - {id: bolt-6, title: {en: Bolt, nl: Bout, de: Bolzen}, unit: each, cost: "0.40"}`
	write(t, file, "materials:\n"+bolt+"\n")
	place := file + ":2:10: warning: no hull, option, laminate, wire, fuse or switch has the material bolt-6\n" +
		"  | " + bolt + "\n  |          ^^^^^^\n    take it out"

	o := worked(t, tool(t, "", "check", "-quick", "-book", dir))
	if !strings.Contains(o.out, place) || !strings.HasSuffix(o.out, ": no errors, 1 warning.\n") {
		t.Errorf("check says %s", o.out)
	}
	if strict := tool(t, "", "check", "-quick", "-strict", "-book", dir); strict.code != 1 || strict.out != o.out {
		t.Errorf("with -strict the exit code is %d, want 1; it said %s", strict.code, strict.out)
	}
	worked(t, tool(t, "", "check", "-quick", "-strict", "-book", rulesFolder))
	var r CheckReport
	decode(t, worked(t, tool(t, "", "check", "-quick", "-json", "-book", dir)).out, &r)
	if len(r.Diagnostics) != 1 || r.Diagnostics[0].Grade != book.Warning || r.Diagnostics[0].Line != 2 {
		t.Errorf("diagnostics are %+v", r.Diagnostics)
	}
	spec := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	q := worked(t, tool(t, "", "quote", "-spec", spec, "-book", dir))
	if !strings.Contains(q.err, place) || !strings.Contains(q.out, "Reed 65") {
		t.Errorf("quote says %q and writes %.200s", q.err, q.out)
	}
}

// What the proof can neither prove nor refute is a warning with what was tried, and how to decide it.
func TestOpenQuestions(t *testing.T) {
	dir, books := t.TempDir(), filepath.Join("..", "testdata", "books")
	for _, file := range []string{filepath.Join(books, "small", "yard.yaml"),
		filepath.Join(books, "hard", "boat.yaml")} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, filepath.Base(file)), string(text))
	}
	o := worked(t, tool(t, "", "check", "-book", dir))
	for _, part := range []string{"boat.yaml:9:10: warning: whether any boat can be built with persons 5, 6 is open. ",
		"Over boats of teasel-48 with ", "a search up to 8000 boats\n  |   - {id: persons, ",
		"^^^^^^^\n    narrow the field", "Neither proved nor refuted: 1, a warning each.\n",
		": no errors, 1 warning.\n"} {
		if !strings.Contains(o.out, part) {
			t.Errorf("%q is missing in %s", part, o.out)
		}
	}
	strict := tool(t, "", "check", "-strict", "-json", "-book", dir)
	var r CheckReport
	decode(t, strict.out, &r)
	if strict.code != 1 || len(r.Diagnostics) != 1 || r.Diagnostics[0].Grade != book.Warning ||
		r.Diagnostics[0].Advice == "" ||
		r.Proof == nil || r.Proof.Open != 1 {
		t.Errorf("with -strict the exit code is %d; diagnostics are %+v", strict.code, r.Diagnostics)
	}
}

// placeOf is the line and column where a word begins.
func placeOf(text, word string) (line, column int) {
	before := text[:strings.Index(text, word)]
	return strings.Count(before, "\n") + 1, len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
}

func TestQuoteInEveryFormat(t *testing.T) {
	spec := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	for _, desk := range []string{"buyer", "show", "yard"} {
		for _, format := range []string{"text", "html", "json", "csv"} {
			t.Run(desk+"/"+format, func(t *testing.T) {
				o := worked(t, tool(t, "", "quote", "-book", rulesFolder, "-spec", spec, "-desk", desk, "-format",
					format))
				if o.err != "" {
					t.Errorf("it said %q", o.err)
				}
				readable(t, o.out, desk, format)
			})
		}
	}
}

// readable fails the test unless a paper can be read in its format and is about the boat of reedSpec.
func readable(t *testing.T, text, desk, format string) {
	t.Helper()
	switch {
	case format == "json" && desk == "yard":
		var y struct {
			Hull      string
			Shops     []sheet.ShopHours
			Purchases []sheet.PurchasePart
		}
		if err := json.Unmarshal([]byte(text), &y); err != nil {
			t.Fatal(err)
		}
		if y.Hull != "Reed 65" || len(y.Shops) == 0 || len(y.Purchases) == 0 {
			t.Errorf("the sheet is of %q with %d shops", y.Hull, len(y.Shops))
		}
	case format == "json":
		q, err := quote.Decode([]byte(text))
		if err != nil || q.Spec.Choices["bank"]["bank-lfp-20"] != 1 || q.Price.Total.IsZero() {
			t.Errorf("decoded %+v, %v", q, err)
		}
	case format == "csv":
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(rows) < 4 {
			t.Errorf("%d rows, %v", len(rows), err)
		}
	default:
		if !strings.Contains(text, "Reed 65") || !strings.Contains(text, "LiFePO4 20.5") {
			t.Errorf("the paper does not tell of the boat: %.300s", text)
		}
	}
}

func TestQuoteOfAShop(t *testing.T) {
	spec := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	args := []string{"quote", "-book", rulesFolder, "-spec", spec, "-shop", "electrical"}
	for _, format := range []string{"text", "html"} {
		o := worked(t, tool(t, "", append(args, "-desk", "yard", "-format", format)...))
		if !strings.Contains(o.out, "Build the wiring loom") || strings.Contains(o.out, "Laminate the hull") {
			t.Errorf("%s: %.400s", format, o.out)
		}
	}
	refused(t, tool(t, "", args...), 2, "the card of a shop is the yard's")
	refused(t, tool(t, "", append(args, "-desk", "yard", "-format", "csv")...), 2, "as text, html or pdf")
	refused(t, tool(t, "", "quote", "-book", rulesFolder, "-spec", spec, "-desk", "yard", "-shop", "canvas"), 1,
		"there is no")
}

// A paper of the register by its name: the yard writes a quotation too, the buyer no build sheet.
func TestQuoteOfAPaper(t *testing.T) {
	spec := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	args := []string{"quote", "-book", rulesFolder, "-spec", spec, "-paper"}
	o := worked(t, tool(t, "", append(args, "quotation", "-desk", "yard")...))
	if !strings.Contains(o.out, "Specification and price") || strings.Contains(o.out, "Hours by shop") {
		t.Errorf("the quotation of the yard's desk is\n%.600s", o.out)
	}
	refused(t, tool(t, "", append(args, "build-sheet")...), 1, "this desk has no build-sheet; it has quotation")
}

func TestQuoteFromStandardInput(t *testing.T) {
	file := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	want := worked(t, tool(t, "", "quote", "-book", rulesFolder, "-spec", file)).out
	if got := worked(t, tool(t, reedSpec, "quote", "-book", rulesFolder, "-spec", "-")).out; got != want {
		t.Errorf("standard input gives another paper: %.200q, want %.200q", got, want)
	}
}

func TestQuoteOfABadSpec(t *testing.T) {
	for _, c := range []struct {
		name, spec string
		words      []string
	}{
		{"unknown option", `{"format": 1, "hull": "reed-65", "choices": {"bank": {"bank-lfp-21": 1}}}`,
			[]string{"choices.bank.bank-lfp-21", "did you mean", "bank-lfp-20"}},
		{"unknown slot", `{"format": 1, "hull": "reed-65", "choices": {"bnak": {"bank-lfp-20": 1}}}`,
			[]string{"choices.bnak", `did you mean "bank"`}},
		{"unknown hull", `{"format": 1, "hull": "reed-66"}`,
			[]string{"spec.json: hull: ", `"reed-66"`, `did you mean "reed-65"`}},
		{"unknown use", `{"format": 1, "hull": "reed-65", "use": {"person": 4}}`,
			[]string{"use.person", `did you mean "persons"`}},
		{"a saved quotation", `{"format": 1, "kind": "quote of a launch", "spec": {"format": 1, "hull": "reed-65"}}`,
			[]string{"spec.json: it is a saved quotation", "quotation desk's page", "under \"spec\" in it"}},
		{"an order", textOf(t, "../testdata/orders/2026-031.json"), []string{"spec.json: it is an order"}},
		{"a brief", textOf(t, "../testdata/briefs/six-in-any-weather.json"), []string{"it is a brief", "-wishes"}},
		{"details", textOf(t, "../testdata/details.json"), []string{"details of a quotation", "-details"}},
		{"a device's file", `{"kind": "quotations of a launch yard"}`,
			[]string{"quotations of a device", "yard's desk"}},
		{"an answer", `{"kind": "answer to a brief"}`, []string{"an answer to a brief", "one of its boats"}},
		{"a part", `{"kind": "check", "part": 1}`, []string{`of the kind "check"`, `{"format": 1, "hull": …`}},
		{"format 0", "{\n  \"format\": 0,\n  \"hull\": \"reed-65\"\n}", []string{"spec.json: reading a spec: line 2, " +
			"column 13: format: this program reads format 1 alone, not 0; write 1"}},
		{"no format", `{"hull": "reed-65"}`, []string{"spec.json", `begin the spec with {"format": 1, …}`}},
		{"broken JSON", "{\"format\": 1,\n \"hull\": reed}", []string{"spec.json", "line 2, column 10"}},
		{"cut off", `{"format": 1, "hull": `, []string{"spec.json", "line 1, column", "ends too early"}},
		{"empty", "", []string{"spec.json", "line 1, column 1"}},
		{"unknown key", `{"format": 1, "hull": "reed-65", "colour": 4}`, []string{"line 1, column 34", "colour"}},
		{"extra item for the buyer", `{"format": 1, "hull": "reed-65", "extras": [{"id": "a", "title": "Oars", "price": "90", "basis": "net"}]}`, []string{"extra items", "yard's own desks"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := write(t, filepath.Join(t.TempDir(), "spec.json"), c.spec)
			refused(t, tool(t, "", "quote", "-book", rulesFolder, "-spec", file), 1, c.words...)
		})
	}
	refused(t, tool(t, "", "quote", "-spec", filepath.Join(rulesFolder, "yard.yaml")), 1, "it is a file of a book",
		"-book")
	refused(t, tool(t, "", "quote", "-book", rulesFolder, "-spec", filepath.Join(t.TempDir(), "none.json")), 1,
		"none.json", "no such file or directory")
}

const details = `{"number": "2027-014", "date": "2027-03-31", "customer": {"name": "Ada Example"}}`

func TestQuoteIsFrozenWithDetails(t *testing.T) {
	file := write(t, filepath.Join(t.TempDir(), "details.json"), details)
	args := []string{"quote", "-book", rulesFolder, "-spec", "-", "-desk", "show", "-details", file, "-format", "json"}
	o := worked(t, tool(t, reedSpec, args...))
	q, err := quote.Decode([]byte(o.out))
	if err != nil || q.Number != "2027-014" || q.ValidUntil != "2027-04-30" || q.Customer.Name != "Ada Example" {
		t.Errorf("frozen %+v, %v", q, err)
	}
	if again := worked(t, tool(t, reedSpec, args...)); again.out != o.out {
		t.Error("the same spec and details give another quote")
	}
	if !bytes.Equal(q.Encode(), []byte(o.out)) {
		t.Error("the quote is written otherwise when it is read and written")
	}
}

// drawn are the pictures of a paper.
var drawn = regexp.MustCompile(`(?s)<svg.*?</svg>`)

// The command line refuses what the page does, in the same words, and says where; a customer's file has nothing of the
// yard's.
func TestQuoteOfADeal(t *testing.T) {
	deal := func(more string) string { return `{"format": 1, "hull": "reed-65", ` + more + `}` }
	quoted := func(spec, details, format string) outcome {
		file := write(t, filepath.Join(t.TempDir(), "details.json"), details)
		return tool(t, spec, "quote", "-book", rulesFolder, "-spec", "-", "-desk", "show", "-details", file, "-format",
			format)
	}
	approved := `{"number": "2027-014", "date": "2027-03-31", "approval": "Quokka"}`
	gift := deal(`"extras": [{"id": "a", "title": "Gift", "price": "-100000", "basis": "net"}]`)
	refused(t, quoted(gift, approved, "text"), 1, "adding up the price: the lines come to −",
		`the most is taken off by "Gift"`, "lower it or remove it")
	refused(t, tool(t, gift, "quote", "-book", rulesFolder, "-spec", "-", "-desk", "show"), 1,
		"a quotation is above zero")
	refused(t, quoted(deal(`"discounts": [{"title": "All", "share": "1"}]`), approved, "text"), 1,
		"the lines less the discounts come to 0.00")
	refused(t, quoted(deal(`"trade_in": {"title": "Yacht", "allowance": "900000"}`), approved, "text"), 1,
		"not less than the total")
	refused(t, quoted(deal(`"trade_in": {"title": "Dinghy", "allowance": "9000"}`), details, "text"), 1,
		"Reductions total", "your limit is", "Name who approved it")
	for _, format := range []string{"text", "html", "json", "csv"} {
		o := worked(t, quoted(deal(`"extras": [{"id": "a", "title": "Oars", "price": "90", "basis": "with-tax", "cost": "7919.37", "hours": {"wood-shop": "7361"}}],
			"trade_in": {"title": "Dinghy", "allowance": "9000", "value": "1217.43"}`), approved, format))
		said := drawn.ReplaceAllString(o.out, "") // of whose many places one may have the digits of anything
		for _, mark := range []string{"7919", "7361", "1217", "Quokka", "wood-shop"} {
			if strings.Contains(said, mark) {
				t.Errorf("%s is on the customer's paper as %s", mark, format)
			}
		}
		if !strings.Contains(o.out, "Dinghy") || !strings.Contains(o.out, "Oars") {
			t.Errorf("the paper as %s lacks what the customer may know", format)
		}
	}
}

func TestQuoteWithBadDetails(t *testing.T) {
	for _, c := range []struct{ name, details, word string }{
		{"no number", `{"date": "2027-03-31"}`, "no number"},
		{"no date", `{"number": "1", "date": "31.3.2027"}`, "2027-03-31"},
		{"broken", `{"number": `, "details.json"},
		{"a key twice", `{"number": "1", "date": "2027-03-31", "number": "2"}`,
			"details.json: reading the details of a quotation: line 1, column 39: number: this key is there twice; " +
				"remove one"},
		{"text behind the end", details + " and so on",
			"line 1, column 83: something stands behind the end; remove it"},
		{"no UTF-8", "{\"number\": \"1\", \"date\": \"2027-03-31\",\n\"seller\": \"Andr\xe9\"}",
			"line 2, column 16: the byte 0xe9 is not UTF-8; save the file as UTF-8"},
		{"unknown units", `{"number": "1", "date": "2027-03-31", "units": "furlongs"}`,
			"units: “furlongs” are not known; write “sea”, “inland” or “us”"},
		{"a long remark", `{"number": "1", "date": "2027-03-31", "remarks": "` + strings.Repeat("x", 10_001) + `"}`,
			"remarks: 10001 bytes are too many; shorten it to 10000"},
		{"a misspelt key is not passed over", `{"number": "1", "date": "2027-03-31", "valid_untill": "2027-04-01"}`,
			"valid_untill"},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := write(t, filepath.Join(t.TempDir(), "details.json"), c.details)
			refused(t, tool(t, reedSpec, "quote", "-book", rulesFolder, "-spec", "-", "-details", file), 1, c.word)
		})
	}
	refused(t, tool(t, reedSpec, "quote", "-book", rulesFolder, "-spec", "-", "-details",
		filepath.Join(t.TempDir(), "none.json")), 1, "none.json")
}

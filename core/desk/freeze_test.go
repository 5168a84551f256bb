package desk_test

import (
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/quote"
)

func form(more ...string) map[string]string {
	m := map[string]string{"number": "HL-7/2", "date": "2027-02-06", "name": "Ottilie Sandmark",
		"address": "7 Sluice Lane\r\n\r\n Lower Tarnwick ", "email": "o@tarnwick.example",
		"phone": "0277", "seller": "Bram Oakhollow", "remarks": " Mooring 12. "}
	for i := 0; i < len(more); i += 2 {
		m[more[i]] = more[i+1]
	}
	return m
}

func TestFreeze(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	r := v.does(desk.Request{Act: "freeze", Form: form()})
	if r.Paper == nil || r.Paper.Title != "Sedge 46" || !strings.Contains(r.Paper.HTML, "Quotation HL-7/2") ||
		r.Paper.HTML != file(t, r, ".html").Text {
		t.Fatalf("the paper is %+v", r.Paper)
	}
	for _, f := range r.Paper.Files {
		if !strings.HasPrefix(f.Name, "quotation-HL-7-2") || f.Type == "" || f.Text == "" {
			t.Errorf("a file %q of type %q", f.Name, f.Type)
		}
	}
	q, err := quote.Decode([]byte(file(t, r, ".json").Text))
	if err != nil {
		t.Fatal(err)
	}
	want := quote.Details{Number: "HL-7/2", Date: "2027-02-06", ValidUntil: "2027-03-08", Seller: "Bram Oakhollow",
		Remarks: "Mooring 12."}
	if q.Number != want.Number || q.Date != want.Date || q.ValidUntil != want.ValidUntil || q.Seller != want.Seller ||
		q.Remarks != want.Remarks ||
		q.Customer.Name != "Ottilie Sandmark" ||
		strings.Join(q.Customer.Address, "|") != "7 Sluice Lane|Lower Tarnwick" {
		t.Errorf("the details are %+v", q.Details)
	}
	v.says("customer", "Lower Tarnwick") // the form keeps what was typed
	if !strings.Contains(file(t, r, ".txt").Text, "Quotation HL-7/2") {
		t.Error("the text is not of the quotation")
	}
}

func TestFreezeRefused(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	for _, c := range []struct {
		form  map[string]string
		words string
	}{
		{form("number", " "), "it has no number"},
		{form("date", "6 February"), "the date “6 February” is none"},
		{form("date", ""), "is none"},
		{form("valid", "2026-01-01"), "before the quotation's own"},
		{nil, "it has no number"},
	} {
		if r := v.fails(desk.Request{Act: "freeze", Form: c.form}, c.words); r.Paper != nil {
			t.Errorf("%s: there is a paper", c.words)
		}
	}
	v.does(desk.Request{Act: "discount", Form: map[string]string{"title": "Much", "value": "9 %"}})
	r := v.fails(desk.Request{Act: "freeze", Form: form()}, "your limit is 5\u202f%")
	if !strings.Contains(r.Error, "Name who approved it") || r.Paper != nil {
		t.Errorf("%q", r.Error)
	}
	v.says("customer", `id="detail-approval"`)
	v.does(desk.Request{Act: "freeze", Form: form("approval", "The owner")})

	clash, err := os.ReadFile("../../testdata/specs/clash-bank-too-heavy.json")
	if err != nil {
		t.Fatal(err)
	}
	v = opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "file", Text: string(clash)})
	v.fails(desk.Request{Act: "freeze", Form: form()}, "the boat cannot be built: The battery locker")
}

// A quotation that was saved opens again as it was, details included.
func TestFileWithAQuote(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "hull", Value: "reed-65"})
	v.does(desk.Request{Act: "choose", Option: "table-folding-sapele"})
	v.does(desk.Request{Act: "extra", Form: map[string]string{"title": "Name", "basis": "net", "price": "100",
		"cost": "10", "hours": "1", "shop": "assembly"}})
	frozen := file(t, v.does(desk.Request{Act: "freeze", Form: form()}), ".json").Text
	saved := v.last.Spec

	v = opened(t, demo()[pack.Yard])
	r := v.does(desk.Request{Act: "file", Text: frozen})
	if r.Spec != saved {
		t.Errorf("spec %s, want %s", r.Spec, saved)
	}
	v.says("reopened", "Quotation HL-7/2, Ottilie Sandmark")
	v.says("reopened", "As quoted: the current price book gives exactly the same.")
	v.says("customer", "Bram Oakhollow")
	if again := file(t, v.does(desk.Request{Act: "freeze", Form: form()}), ".json").Text; again != frozen {
		t.Error("frozen again, the quotation is another")
	}
	v.says("reopened", "As quoted")

	changed := strings.Replace(frozen, `"title": "White"`, `"title": "Whiter"`, 1)
	v.does(desk.Request{Act: "file", Text: changed})
	v.says("reopened", "The current price book differs")
	v.says("reopened", "Whiter")
}

// Once a changed boat was still said to be as quoted.
func TestReopenedQuoteIsForgottenWithTheNextChange(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	frozen := file(t, v.does(desk.Request{Act: "freeze", Form: form()}), ".json").Text
	v.does(desk.Request{Act: "file", Text: frozen})
	v.does(desk.Request{Act: "units", Value: "us"})
	v.says("reopened", "As quoted")
	v.does(desk.Request{Act: "choose", Option: "table-folding-sapele"})
	if v.shown["reopened"] != "" {
		t.Errorf("still %q", v.shown["reopened"])
	}
	v.says("customer", "Ottilie Sandmark")
}

func TestFileWithASpecOrRubbish(t *testing.T) {
	fullest, err := os.ReadFile("../../testdata/specs/reed-65-fullest.json")
	if err != nil {
		t.Fatal(err)
	}
	v := opened(t, demo()[pack.Show])
	if r := v.does(desk.Request{Act: "file", Text: string(fullest)}); r.Spec != string(fullest) {
		t.Errorf("the spec becomes %s", r.Spec)
	}
	for _, text := range []string{"", "rubbish", "{}", "[]", "null", `{"format":2,"hull":"reed-65"}`,
		string(fullest)[:300], `{"format":1,"kind":"quote of a launch"}`} {
		r := v.fails(desk.Request{Act: "file", Text: text}, "")
		if r.Error == "" || strings.HasSuffix(r.Error, "?.") || r.Spec != string(fullest) {
			t.Errorf("%.40q: error %q", text, r.Error)
		}
	}
	v.fails(desk.Request{Act: "file", Text: "rubbish"}, "Reading a spec: line 1, column 1")
}

// A quotation with every detail that there is, made again from what the page then says, is the same. Serial and month
// of building were once dropped.
func TestEveryDetailIsKeptOnQuotingAgain(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "hull", Value: "sedge-46"})
	v.does(desk.Request{Act: "use", Field: "region", Value: "us"})
	v.does(desk.Request{Act: "discount", Form: map[string]string{"title": "Much", "value": "9 %"}})
	frozen := file(t, v.does(desk.Request{Act: "freeze",
		Form: form("approval", "The owner", "valid", "2027-03-01", "serial", "00042", "built", "2027-03", "listtest",
			"310,5", "listed", "3", "revision", "2")}), ".json").Text
	q, err := quote.Decode([]byte(frozen))
	if err != nil {
		t.Fatal(err)
	}
	details := reflect.ValueOf(q.Details)
	for i := range details.NumField() {
		if name := details.Type().Field(i).Name; details.Field(i).IsZero() {
			t.Errorf("the form has no field for %s: give it one, so that quoting again does not drop it", name)
		}
	}
	if q.Serial != "00042" || q.Built != "2027-03" || q.ListTestKg != 310.5 || q.ListedPersons != 3 {
		t.Errorf("the details are %+v", q.Details)
	}
	v = opened(t, demo()[pack.Yard])
	v.does(desk.Request{Act: "file", Text: frozen})
	again := map[string]string{}
	for _, m := range regexp.MustCompile(`<input [^>]*name="([a-z]+)"[^>]*value="([^"]*)"`).FindAllStringSubmatch(v.shown["customer"], -1) {
		again[m[1]] = m[2]
	}
	for _, m := range regexp.MustCompile(`(?s)<textarea [^>]*name="([a-z]+)"[^>]*>([^<]*)<`).FindAllStringSubmatch(v.shown["customer"], -1) {
		again[m[1]] = m[2]
	}
	if got := file(t, v.does(desk.Request{Act: "freeze", Form: again}), ".json").Text; got != frozen {
		t.Errorf("made again from %v the quotation is another", again)
	}
	sheet := file(t, v.does(desk.Request{Act: "sheet"}), ".txt").Text
	for _, words := range []string{"XX-XHL00042C727", "3 Persons or", "the builder's choice"} {
		if !strings.Contains(strings.Join(strings.Fields(sheet), " "), words) {
			t.Errorf("the sheet lacks %q", words)
		}
	}
}

func TestPlatesRefused(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "hull", Value: "sedge-46"})
	v.does(desk.Request{Act: "use", Field: "region", Value: "us"})
	for _, c := range []struct {
		form  map[string]string
		words string
	}{
		{form("serial", "42"), "has not five characters: write five, with zeros before a short one"},
		{form("serial", "0004O"), `"O" is not allowed in a serial number`},
		{form("built", "March 2027"), `hull_built “March 2027” is no month: write it as 2027-03`},
		{form("built", "2027-13"), "is no month"},
		{form("serial", "00042", "built", "1970-03"), "the year is 1970"},
		{form("listtest", "much"), "is not a number; give the kilograms"},
		{form("listtest", "-4"), "give kilograms up to 10000"},
		{form("listed", "2.5"), "are not a whole number"},
		{form("listed", "40"), "derating the persons capacity to 40: it is 7; give 1 to 7 persons"},
	} {
		if r := v.fails(desk.Request{Act: "freeze", Form: c.form}, c.words); r.Paper != nil {
			t.Errorf("%s: there is a paper", c.words)
		}
	}
	v.says("customer", "Ottilie Sandmark")
}

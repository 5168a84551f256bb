package desk_test

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
)

// privateDeal fills everything of a deal that is the yard's alone with marks that are found nowhere else, and all that
// a customer may know.
var privateDeal = []desk.Request{
	{Act: "hull", Value: "reed-65"},
	{Act: "extra", Form: map[string]string{"title": "Oars in ash", "price": "90.10", "basis": "net", "cost": "7919.37",
		"shop": "wood-shop", "hours": "7361.8034"}},
	{Act: "extra", Form: map[string]string{"title": "Goodwill", "price": "-20", "basis": "with-tax",
		"cost": "6007.13"}},
	{Act: "discount", Form: map[string]string{"title": "Ordered at the show", "value": "9 %"}},
	{Act: "trade-in", Form: map[string]string{"title": "Clinker dinghy", "allowance": "1500", "value": "1217.43"}},
}

// Marks of what was typed, in every form in which they may come out. Shops and the margin are looked for by their
// words.
var privateMarks = []string{"7919", "7 919", "7\u202f919", "6007", "6 007", "6\u202f007", "7361", "7 361", "7\u202f361",
	"1217", "1 217", "1\u202f217", "Quokka", "wood-shop", "Wood shop", "Margin on", `"cost"`, `"hours": {`,
	`"approval"`, "your limit", "Reductions"}

func wantNoMark(t *testing.T, what, text string, marks ...string) {
	t.Helper()
	text = chance.ReplaceAllString(text, "") // any four digits may stand in one
	for _, m := range append(marks, privateMarks...) {
		if i := strings.Index(text, m); i >= 0 {
			t.Errorf("%q is in %s: %q", m, what, text[max(0, i-40):min(len(text), i+60)])
		}
	}
}

// chance are digests of editions, specs and files, and coordinates of drawings.
var chance = regexp.MustCompile(`\b[0-9a-f]{64}\b| d="[^"<]*"`)

// What the show's and the yard's desks know reaches a customer only by being named for it: no paper, file or link that
// a customer gets has a mark of the rest.
func TestCustomersGetNothingPrivate(t *testing.T) {
	for _, name := range []pack.Desk{pack.Show, pack.Yard} {
		v := opened(t, demo()[name])
		for _, r := range privateDeal {
			v.does(r)
		}
		frozen := form("approval", "Quokka of the yard", "serial", "00042", "built", "2027-03", "listtest", "313.37")
		for what, r := range map[string]desk.Reply{"the specification": v.does(desk.Request{Act: "specification"}),
			"the quotation": v.does(desk.Request{Act: "freeze", Form: frozen})} {
			seen, forYard := 0, ""
			wantNoMark(t, what+" on the "+string(name)+"'s desk", r.Paper.HTML)
			for _, f := range r.Paper.Files {
				if strings.Contains(f.Name, "for-the-yard") {
					forYard += f.Text
					continue
				}
				seen++
				wantNoMark(t, f.Name, f.Text, "00042", "313.37")
			}
			wantNoMark(t, "the link", r.Link, "Oars", "Goodwill", "show")
			// otherwise the marks themselves are wrong
			for _, m := range []string{"7919.37", "7361.8034", "6007.13", "1217.43", "wood-shop"} {
				if !strings.Contains(forYard, m) {
					t.Errorf("%s: %s is not in the file for the yard", what, m)
				}
			}
			if seen < 2 || !strings.Contains(r.Paper.HTML, "Clinker dinghy") ||
				!strings.Contains(r.Paper.HTML, "Oars in ash") ||
				strings.Contains(forYard, "Quokka") != (what == "the quotation") {
				t.Errorf("%s has %d files for the customer", what, seen)
			}
			if what != "the quotation" {
				continue
			}
			q, err := quote.Decode([]byte(file(t, r, "-for-the-yard.json").Text))
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range paper.Papers[0].Formats {
				text, err := paper.Papers[0].Write(&paper.Source{Quote: q}, f)
				if err != nil {
					t.Fatal(err)
				}
				wantNoMark(t, "the customer's paper as "+string(f), string(text), "00042", "313.37")
			}
		}
	}
}

// What a customer may have of a quotation's details, by the names of the fields. Whoever adds a field decides here.
const publicDetails = " Number Revision Date ValidUntil Customer Seller Remarks Units "

// Every detail gets a mark of its own; those that are public come out, and no others.
func TestCustomersDetailsAreNamed(t *testing.T) {
	d := quote.Details{}
	fields, marks := reflect.ValueOf(&d).Elem(), map[string]string{}
	for i := range fields.NumField() {
		name := fields.Type().Field(i).Name
		switch f := fields.Field(i); f.Kind() {
		case reflect.String:
			marks[name] = "Quokka" + name
			f.SetString(marks[name])
		case reflect.Float64:
			marks[name] = "4711.25"
			f.SetFloat(4711.25)
		case reflect.Int:
			marks[name] = fmt.Sprint(8150 + i)
			f.SetInt(int64(8150 + i))
		default:
			marks[name] = "QuokkaParty"
			d.Customer = quote.Party{Name: "QuokkaParty"}
		}
	}
	text := string((&quote.Quote{Details: d}).ForCustomer().Encode())
	for name, mark := range marks {
		if public := strings.Contains(publicDetails, " "+name+" "); strings.Contains(text, mark) != public {
			t.Errorf("the customer has %s: %v, want %v", name, !public, public)
		}
	}
	if len(marks) < 10 {
		t.Error(fmt.Sprint(marks))
	}
}

// What was stored at a private desk and comes to the buyer's says nothing there either.
func TestBuyersDeskShowsNothingOfADeal(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	for _, r := range privateDeal {
		v.does(r)
	}
	link := v.last.Link
	buyer := visit(t, demo()[pack.Buyer])
	r := buyer.does(desk.Request{Act: "open", Link: link})
	// the lines of a drawing are numbers, and some of them look like an amount
	page := regexp.MustCompile(` (d|points|data-mesh)="[^"]*"`).ReplaceAllString(buyer.page, "")
	wantNoMark(t, "the buyer's page", page, "Oars", "Goodwill", "Clinker")
	wantNoMark(t, "the buyer's spec", r.Spec, "Oars", "Goodwill", "Clinker")
}

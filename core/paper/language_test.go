package paper_test

import (
	"github.com/xuri/excelize/v2"
	"html"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/spec"
)

// wordColumns are the columns of a CSV in which words stand; in the others are codes, identifiers and places in the
// book, which have no language.
var wordColumns = []string{"title", "detail", "section", "shop", "supplier"}

// A language is one file: no word on any paper is left in English but those of who typed them, and symbols of units.
func TestPapersInAMarkedLanguage(t *testing.T) {
	e := enginetest.InMarks(t, yardEngine())
	for _, name := range []string{"export", "extras-and-discount", "clash-us-without-foam", "osier-76-fullest"} {
		s := readSpec(t, name)
		a := answer(t, e, s)
		d := quote.Details{}
		q := quote.Draft(e, a)
		if len(a.Build.Clashes) == 0 {
			d = readDetails(t)
			q = frozen(t, e, a)
		}
		own := ownWords(s, d)
		for _, p := range paper.Papers {
			shops := []string{""}
			if p.ID == "job-card" {
				shops = nil
				for _, def := range e.Pack.Costs.Shops {
					shops = append(shops, def.ID)
				}
			}
			for _, shop := range shops {
				source, err := p.Of(e, a, q, shop)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range p.Formats {
					if f.OfIssued() && q.Number == "" {
						continue
					}
					text, err := p.Write(source, f)
					if err != nil {
						t.Fatal(err)
					}
					words := address.ReplaceAllString(wordsIn(t, string(text), f), "")
					for _, found := range enginetest.Unmarked(words, own...) {
						t.Errorf("%s, %s%s as %s: %s", name, p.ID, shop, f, found)
					}
				}
			}
		}
	}
}

// address is a link or the code of an operation, which have identifiers of the book.
var address = regexp.MustCompile(`https://\S+|\b[A-Z]+-2027-014/[a-z-]+`)

// wordsIn are the words of a paper that a person reads. JSON is for programs alone.
func wordsIn(t *testing.T, text string, f paper.Format) string {
	switch f {
	case paper.AsHTML:
		return enginetest.Perceived(text)
	case paper.AsCSV:
		var words []string
		rows := readCSV(t, text)
		for _, row := range rows[1:] {
			for i, cell := range row {
				if slices.Contains(wordColumns, rows[0][i]) {
					words = append(words, cell)
				}
			}
		}
		return strings.Join(words, "\n")
	case paper.AsJSON:
		return ""
	case paper.AsUBL, paper.AsCalendar:
		return exported(text, f)
	case paper.AsWorkbook:
		return cells(t, text)
	}
	return strings.ReplaceAll(text, "\n", " ") // a message may go on in the next line
}

// exported are the words of a file for other programs that its reader shows to a person.
func exported(text string, f paper.Format) string {
	var words []string
	if f == paper.AsCalendar {
		text = strings.ReplaceAll(text, "\r\n ", "")
		for _, m := range regexp.MustCompile(`(?m)^(?:SUMMARY|DESCRIPTION):(.*)`).FindAllStringSubmatch(text, -1) {
			words = append(words, m[1])
		}
		return strings.Join(words, "\n")
	}
	for _, m := range regexp.MustCompile(`<cbc:(?:Note|Value|Name|Description|DocumentDescription|SpecialTerms|`+
		`AllowanceChargeReason|TaxExemptionReason)[^>]*>([^<]*)<`).FindAllStringSubmatch(text, -1) {
		words = append(words, html.UnescapeString(m[1]))
	}
	return strings.Join(words, "\n")
}

// cells are the heads of a workbook's columns, and the names of its sheets: what stands below is the book's, by
// identifiers.
func cells(t *testing.T, text string) string {
	t.Helper()
	f, err := excelize.OpenReader(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	words := f.GetSheetList()
	for _, sheet := range words {
		rows, err := f.GetRows(sheet)
		if err != nil || len(rows) < 5 {
			t.Fatal(sheet, len(rows), err)
		}
		words = append(words, rows[0]...)
	}
	return strings.Join(words, "\n")
}

// ownWords are what was typed, word by word.
func ownWords(s spec.Spec, d quote.Details) []string {
	texts := []string{d.Number, d.Customer.Name, d.Customer.Email, d.Customer.Phone, d.Seller, d.Approval, d.Remarks,
		d.Serial}
	texts = append(texts, d.Customer.Address...)
	texts = append(texts, "width initial scale device kA dm") // of the page's frame; units that the loom alone has
	for _, x := range s.Extras {
		texts = append(texts, x.Title)
	}
	for _, x := range s.Discounts {
		texts = append(texts, x.Title)
	}
	if s.TradeIn != nil {
		texts = append(texts, s.TradeIn.Title)
	}
	return strings.FieldsFunc(strings.Join(texts, " "), func(c rune) bool {
		return strings.ContainsRune(" ,.:-@\n",
			c)
	})
}

func frozen(t *testing.T, e *engine.Engine, a *engine.Answer) *quote.Quote {
	t.Helper()
	q, err := quote.Freeze(e, a, readDetails(t))
	if err != nil {
		t.Fatal(err)
	}
	return q
}

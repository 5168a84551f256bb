package export_test

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine/enginetest"
	"ribband/core/export"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

const datasets = "../../../shared/datasets/"

// details are those of the quotations here.
var details = quote.Details{Number: "2027/14", Revision: 2, Date: "2027-02-06", Seller: "Bram Oakhollow",
	Remarks: "Berth & launch <week>\nas talked over", Approval: "Wenna", Customer: quote.Party{Name: "Ottilie Sandmark",
		Address: []string{"7 Sluice Lane", "Lower Tarnwick"}, Email: "o@tarnwick.example", Phone: "+00 000 0277"}}

// quotations are those of the demo specs that can be built, each also in the regions with another way of tax.
func quotations(t testing.TB) map[string]*quote.Quote {
	t.Helper()
	e, list := enginetest.Demo()[pack.Show], map[string]*quote.Quote{}
	for name, s := range enginetest.DemoSpecs(t) {
		for _, region := range []string{"", "eu-trade", "gb"} {
			if region != "" {
				s.Use = map[string]spec.Value{"region": {Choice: region}}
			}
			a, err := e.Answer(s)
			if err != nil {
				t.Fatal(err)
			}
			if len(a.Build.Clashes) > 0 {
				continue
			}
			if list[name+region], err = quote.Freeze(e, a, details); err != nil {
				t.Fatal(err)
			}
		}
	}
	if len(list) < 20 {
		t.Fatalf("only %d quotations", len(list))
	}
	return list
}

// Every quotation is valid against the schema of OASIS, as xmllint reads it.
func TestUBLIsValid(t *testing.T) {
	schema := datasets + "ubl-2.4-quotation/maindoc/UBL-Quotation-2.4.xsd"
	if _, err := os.Stat(schema); err != nil {
		t.Skip("the schema of UBL 2.4 is not beside the repository")
	}
	tool, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("no xmllint (package libxml2-utils)")
	}
	var files []string
	for name, q := range quotations(t) {
		for variant, change := range map[string]func(q *quote.Quote){"": func(*quote.Quote) {},
			"-bare": func(q *quote.Quote) { q.Yard, q.Customer, q.Price.Stages = pack.YardInfo{}, quote.Party{}, nil },
			"-planted": func(q *quote.Quote) {
				q.Hull, q.Remarks, q.Customer.Name = planted, planted, planted
				q.Price.Lines[0].Title, q.Terms = planted, []string{planted}
			}} {
			c := *q
			c.Price.Lines = append([]quote.LinePart{}, q.Price.Lines...)
			change(&c)
			text, err := export.UBL(&c, msg.English)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			file := filepath.Join(t.TempDir(), name+variant+".xml")
			if err := os.WriteFile(file, text, 0o600); err != nil {
				t.Fatal(err)
			}
			files = append(files, file)
		}
	}
	args := append([]string{"--nonet", "--noout", "--schema", schema}, files...)
	if out, err := exec.Command(tool, args...).CombinedOutput(); err != nil {
		t.Errorf("%v: %.3000s", err, out)
	}
	// the check can fail: an amount in words, and a line that is missing
	for _, broken := range [][2]string{{"<cbc:IssueDate>2027-02-06", "<cbc:IssueDate>yesterday"},
		{"cac:QuotationLine", "cac:QuotationLines"}} {
		text, err := os.ReadFile(files[0])
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "broken.xml")
		if err := os.WriteFile(file, []byte(strings.ReplaceAll(string(text), broken[0], broken[1])),
			0o600); err != nil {
			t.Fatal(err)
		}
		if exec.Command(tool, "--nonet", "--noout", "--schema", schema, file).Run() == nil {
			t.Errorf("with %s it is valid too", broken[1])
		}
	}
}

// planted is what ends an element, is no XML, or writes from right to left.
const planted = "</cbc:Note><x a=\"'&amp;]]>\r\n\t\x00\x1b\ufffe\u202e\xff"

// document is a UBL quotation read by the standard library: whatever prefix it has, an element counts by its name.
type document struct {
	Note     []string
	IDs      []string                                         `xml:"ID"`
	Discount []struct{ Amount, AllowanceChargeReason string } `xml:"AllowanceCharge"`
	TaxTotal struct {
		TaxAmount   string
		TaxSubtotal struct {
			TaxableAmount, TaxAmount string
			TaxCategory              struct{ ID, Percent, TaxExemptionReason string }
		}
	}
	Total struct {
		LineExtensionAmount, TaxExclusiveAmount, TaxInclusiveAmount, AllowanceTotalAmount, PrepaidAmount,
		PayableAmount string
	} `xml:"QuotedMonetaryTotal"`
	Line []struct {
		LineItem struct {
			Quantity                                                             string
			LineExtensionAmount, TaxInclusiveLineExtensionAmount, TotalTaxAmount string
			Price                                                                struct{ PriceAmount string }
			Item                                                                 struct{ Name string }
		}
	} `xml:"QuotationLine"`
}

// cents is an amount as whole minor units, by hand and not by package money.
func cents(t rapid.TB, s string) (n int64) {
	t.Helper()
	if s == "" {
		return 0
	}
	whole, part, _ := strings.Cut(s, ".")
	n, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil || len(part) != 2 {
		t.Fatalf("%q is no amount of two decimals: %v", s, err)
	}
	return n
}

// addsUp checks all sums of a document by whole minor units.
func addsUp(t rapid.TB, q *quote.Quote, l *msg.Language) {
	t.Helper()
	text, err := export.UBL(q, l)
	if err != nil {
		t.Fatal(err)
	}
	var d document
	if err := xml.Unmarshal(text, &d); err != nil {
		t.Fatal(err)
	}
	var net, gross, allowed int64
	for i, line := range d.Line {
		li := &line.LineItem
		n := cents(t, li.LineExtensionAmount)
		if pieces, _ := strconv.ParseInt(li.Quantity, 10, 64); pieces*cents(t, li.Price.PriceAmount) != n ||
			cents(t, li.Price.PriceAmount) < 0 {
			t.Errorf("line %d: %s at %s is not %s", i+1, li.Quantity, li.Price.PriceAmount, li.LineExtensionAmount)
		}
		shown := cents(t, q.Price.Lines[i].Amount.Fixed(2))
		if li.TaxInclusiveLineExtensionAmount != "" && (cents(t, li.TaxInclusiveLineExtensionAmount) != shown ||
			n+cents(t, li.TotalTaxAmount) != shown) || li.TaxInclusiveLineExtensionAmount == "" && n != shown {
			t.Errorf("line %d: %+v; the paper shows %d", i+1, li, shown)
		}
		// its own net, within a minor unit (in floating point, another way)
		rate := 0.0
		if q.Price.TaxMode == pack.Inclusive {
			rate, _ = strconv.ParseFloat(q.Price.TaxRate.String(), 64)
		}
		if own := float64(shown) / (1 + rate); float64(n)-own > 1.0001 || own-float64(n) > 1.0001 {
			t.Errorf("line %d: %d without tax, want about %.2f", i+1, n, own)
		}
		net, gross = net+n, gross+shown
	}
	for _, a := range d.Discount {
		allowed += cents(t, a.Amount)
	}
	total := &d.Total
	for _, sum := range []struct {
		what     string
		is, want int64
	}{{"lines", cents(t, total.LineExtensionAmount), net}, {"discounts", cents(t, total.AllowanceTotalAmount), allowed},
		{"without tax", cents(t, total.TaxExclusiveAmount), net - allowed},
		{"taxable", cents(t, total.TaxExclusiveAmount), net - allowed},
		{"with tax", cents(t, total.TaxInclusiveAmount), net - allowed + cents(t, d.TaxTotal.TaxAmount)},
		{"payable", cents(t, total.PayableAmount), cents(t, total.TaxInclusiveAmount) - cents(t, total.PrepaidAmount)},
		{"on the paper", cents(t, total.TaxInclusiveAmount), cents(t, q.Price.Total.Fixed(2))},
		{"to pay on the paper", cents(t, total.PayableAmount), cents(t, q.Price.Payable.Fixed(2))},
		{"tax of the part", cents(t, d.TaxTotal.TaxSubtotal.TaxAmount), cents(t, d.TaxTotal.TaxAmount)},
	} {
		if sum.is != sum.want {
			t.Errorf("%s: %d, want %d", sum.what, sum.is, sum.want)
		}
	}
	if category := d.TaxTotal.TaxSubtotal.TaxCategory; category.ID != "S" && category.ID != "Z" ||
		category.ID == "Z" && (d.TaxTotal.TaxAmount != "0.00" || category.TaxExemptionReason == "") {
		t.Errorf("taxed as %+v", category)
	}
}

func TestUBLAddsUp(t *testing.T) {
	for name, q := range quotations(t) {
		t.Run(name, func(t *testing.T) { addsUp(t, q, msg.English) })
	}
}

// The same of whatever a salesperson may have added: extra items, credits, discounts, a trade-in.
func TestUBLOfAnyDealAddsUp(t *testing.T) {
	e := enginetest.Demo()[pack.Show]
	specs := enginetest.DemoSpecs(t)
	rapid.Check(t, func(r *rapid.T) {
		s := specs[rapid.SampledFrom([]string{"reed-65-plainest", "sedge-46-plainest"}).Draw(r, "boat")]
		region := e.Pack.Regions[rapid.IntRange(0, len(e.Pack.Regions)-1).Draw(r, "region")].ID
		s.Use = map[string]spec.Value{"region": {Choice: region}}
		a, err := e.Answer(enginetest.WithDealing(r, e.Pack, s))
		if err != nil || len(a.Build.Clashes) > 0 {
			r.Skip()
		}
		d := details
		d.Approval = "The owner"
		q, err := quote.Freeze(e, a, d)
		if err != nil {
			r.Fatal(err)
		}
		addsUp(r, q, msg.English)
	})
}

// A file whose price was changed by hand is not written, whichever of its amounts it is; nor is a draft.
func TestUBLRefusesWhatDoesNotAddUp(t *testing.T) {
	q := enginetest.Frozen(t, enginetest.Demo()[pack.Show], withTradeIn(t))
	more := func(a *money.Amount) func() { return func() { *a = a.Add(money.Exact(2, -2)) } }
	p := &q.Price
	amounts := map[string]*money.Amount{"a line": &p.Lines[1].Amount, "a discount": &p.Discounts[0].Amount,
		"net": &p.Net, "tax": &p.Tax, "total": &p.Total, "trade-in": &p.TradeIn.Amount, "payable": &p.Payable,
		"a stage": &p.Stages[0].Amount}
	if _, err := export.UBL(q, msg.English); err != nil {
		t.Fatal(err)
	}
	for what, a := range amounts {
		was := *a
		more(a)()
		var known *msg.Error
		if _, err := export.UBL(q, msg.English); !errors.As(err, &known) ||
			!known.Message.Is("export.does-not-add-up") {
			t.Errorf("with another %s: %v", what, err)
		}
		*a = was
	}
	// net and tax both changed, so that they add up
	p.Net, p.Tax = p.Net.Add(money.Exact(1, 0)), p.Tax.Sub(money.Exact(1, 0))
	if _, err := export.UBL(q, msg.English); err == nil {
		t.Error("a tax that is not that of the rate is written")
	}
	draft := quote.Quote{}
	if _, err := export.UBL(&draft, msg.English); err == nil || !strings.Contains(err.Error(), "draft") {
		t.Errorf("a draft: %v", err)
	}
}

// withTradeIn is a spec with all that a price can have.
func withTradeIn(t testing.TB) spec.Spec {
	s := enginetest.DemoSpecs(t)["extras-and-discount"]
	s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: money.MustParse("2500"), Value: money.MustParse("2000")}
	return s
}

// Nothing breaks out of its element, and nothing of the yard's is in the file.
func TestUBLKeepsTextsInPlace(t *testing.T) {
	q := enginetest.Frozen(t, enginetest.Demo()[pack.Show], withTradeIn(t))
	q.Remarks = planted
	text, err := export.UBL(q, msg.English)
	if err != nil {
		t.Fatal(err)
	}
	var d document
	if err := xml.Unmarshal(text, &d); err != nil {
		t.Fatal(err)
	}
	want := "</cbc:Note><x a=\"'&amp;]]>\r\n\t\ufffd\ufffd\ufffd\u202e\ufffd"
	if len(d.Note) == 0 || d.Note[0] != want {
		t.Errorf("the note is %q, want %q", d.Note, want)
	}
	if strings.Contains(string(text), "The owner") {
		t.Error("who approved is in the customer's file")
	}
	again, err := export.UBL(q, msg.English)
	if err != nil || string(again) != string(text) {
		t.Error("it is written in another way the second time")
	}
}

// Every code of a unit and of the currency stands in the lists of UN/CEFACT and ISO.
func TestUBLCodes(t *testing.T) {
	units := column(t, "codes-unece-rec20/units-of-measure.csv", 1)
	currencies := column(t, "codes-iso4217/minor-units.csv", 0)
	seen := 0
	for name, q := range quotations(t) {
		for _, system := range []bool{false, true} {
			if system {
				e := enginetest.Demo()[pack.Show]
				a, err := e.Answer(q.Spec)
				if err != nil {
					t.Fatal(err)
				}
				d := q.Details
				d.Units = "us"
				if q, err = quote.Freeze(e, a, d); err != nil {
					t.Fatal(err)
				}
			}
			text, err := export.UBL(q, msg.English)
			if err != nil {
				t.Fatal(err)
			}
			for decoder := xml.NewDecoder(strings.NewReader(string(text))); ; {
				token, err := decoder.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatal(err)
				}
				start, ok := token.(xml.StartElement)
				if !ok {
					continue
				}
				for _, a := range start.Attr {
					switch {
					case a.Name.Local == "unitCode" && !units[a.Value], a.Name.Local == "currencyID" &&
						!currencies[a.Value]:
						t.Errorf("%s: %s %q is in no list", name, a.Name.Local, a.Value)
					case a.Name.Local == "unitCode":
						seen++
					}
				}
			}
		}
	}
	if seen < 500 {
		t.Errorf("only %d codes of units", seen)
	}
}

// column are the values of a column of a data set.
func column(t *testing.T, file string, at int) map[string]bool {
	t.Helper()
	f, err := os.Open(datasets + file)
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("the data set " + file + " is not beside the repository")
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]bool{}
	for _, row := range rows[1:] {
		values[row[at]] = true
	}
	return values
}

package quote_test

import (
	"bytes"
	"flag"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
	"ribband/core/visible"
)

// everyDetail fills all that a quotation can hold.
func everyDetail(t testing.TB, e *engine.Engine) *quote.Quote {
	t.Helper()
	s := enginetest.Teasel(t, "top=top-fixed", "stowage=pocket*2")
	s.Extras = []spec.Extra{{ID: "flag", Title: "Flag", Price: money.MustParse("40"), Basis: spec.WithTax,
		Cost: money.MustParse("12.50"), Hours: map[string]measure.Hours{"assembly": 500_000}}}
	s.Discounts = []spec.Discount{{Title: "Half a flag", On: "flag", Share: money.MustRate("0.5")},
		{Title: "All", Amount: money.MustParse("3")}}
	s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: money.MustParse("300"), Value: money.MustParse("250")}
	q, err := quote.Freeze(e, enginetest.Answer(t, e, s), quote.Details{Number: "T-1", Date: "2027-02-06",
		Customer: quote.Party{Name: "Ottilie Sandmark", Address: []string{"7 Sluice Lane", "Lower Tarnwick"},
			Email: "o@tarnwick.example", Phone: "0277"},
		Seller: "Bram Oakhollow", Approval: "Wenna Tolland", Remarks: "Mooring 12.\nNot before nine.",
		Serial: "00042",
		Built:  "2027-03", ListTestKg: 313.5, ListedPersons: 3, Units: measure.USCustomary})
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// changed says what becomes of a file: unreadable, another in some place, or as it was issued.
func unchanged(e *engine.Engine, file []byte) bool {
	q, err := quote.Decode(file)
	if err != nil {
		return false
	}
	_, _, differences, err := quote.Reopen(e, q)
	return err == nil && len(differences) == 0
}

// everyByte has each byte of a quotation take each of the 255 other values.
var everyByte = flag.Bool("every-byte", false, "change each byte of a quotation to every other; takes minutes")

// Each byte of the file is changed and left out, and a third of them written twice. A change is found by one of four:
// the text is no JSON or none that is strict; it is not how this program writes it; the digest is another; or an amount
// is not what the book gives. A third of the bytes was tried before, each by one bit.
func TestEveryByteOfAQuotationCounts(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	text := everyDetail(t, e).Encode()
	if !unchanged(e, text) {
		t.Fatal("the file as it is has differences")
	}
	changes := 0
	for i := range text {
		was := text[i]
		// another letter each time, a figure for a figure; every byte there is, if asked for
		puts := []byte{was ^ 1}
		if was >= '0' && was <= '9' {
			puts = append(puts, '0'+(was-'0'+5)%10)
		}
		if *everyByte {
			puts = puts[:0]
			for b := range 256 {
				if byte(b) != was {
					puts = append(puts, byte(b))
				}
			}
		}
		files := [][]byte{slices.Delete(bytes.Clone(text), i, i+1)}
		if i%3 == 0 || *everyByte {
			files = append(files, slices.Insert(bytes.Clone(text), i, was))
		}
		for _, put := range puts {
			file := bytes.Clone(text)
			file[i] = put
			files = append(files, file)
		}
		for _, file := range files {
			if changes++; unchanged(e, file) {
				t.Errorf("byte %d: nothing is said of …%s…", i, file[max(0, i-30):min(len(file), i+10)])
			}
		}
	}
	t.Logf("%d changes of %d bytes", changes, len(text))
	for name, file := range map[string]string{
		"a space behind it":   string(text) + " ",
		"line ends of others": strings.ReplaceAll(string(text), "\n", "\r\n"),
		"lines in another order": strings.Replace(strings.Replace(strings.Replace(string(text), `"7 Sluice Lane"`,
			`"#"`, 1), `"Lower Tarnwick"`, `"7 Sluice Lane"`, 1), `"#"`, `"Lower Tarnwick"`, 1),
		"a key of another case": strings.Replace(string(text), `"number"`, `"Number"`, 1),
		"an escape":             strings.Replace(string(text), `"T-1"`, `"\u0054-1"`, 1),
	} {
		if file == string(text) || unchanged(e, []byte(file)) {
			t.Errorf("%s: nothing is said of it", name)
		}
	}
}

// A list in another order is named as that.
func TestReopenNamesOrder(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	q := everyDetail(t, e)
	q.Price.Lines[1], q.Price.Lines[2] = q.Price.Lines[2], q.Price.Lines[1]
	q.Figures[0], q.Figures[1] = q.Figures[1], q.Figures[0]
	_, got := reopened(t, e, q)
	enginetest.WantList(t, "differences", got[1:], []string{"Performance and dimensions: order: " +
		"Mass with persons, Mass of the boat -> Mass of the boat, Mass with persons",
		"Price: order: Teasel 48, standard build, Stowage, Top, Flag -> Teasel 48, standard build, Top, Stowage, Flag"})
}

// Whatever can be issued can be opened, by the same limits; and what cannot be opened is not issued.
func TestPropertyWhatIsFrozenOpens(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	issued, refused := 0, 0
	text := rapid.OneOf(rapid.String(), rapid.StringN(0, 400, -1),
		rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 20), func(b []byte) string { return string(b) }),
		rapid.Just("Ottilie"))
	seen := rapid.Map(text, func(s string) string { s, _ = visible.Typed(s, false); return s })
	text = rapid.OneOf(seen, seen, seen, seen, seen, seen, seen, seen, seen, text)
	rapid.Check(t, func(t *rapid.T) {
		s := spec.Spec{Format: spec.Format, Hull: "teasel-48"}
		for i := range rapid.IntRange(0, 3).Draw(t, "lines") {
			l := spec.Extra{ID: fmt.Sprint(i), Title: text.Draw(t, "title"), Price: money.MustParse("40"),
				Basis: rapid.SampledFrom([]spec.Basis{spec.Net, spec.Net, spec.WithTax, "gross"}).Draw(t, "basis")}
			s.Extras = append(s.Extras, l)
		}
		d := quote.Details{Number: text.Draw(t, "number"), Date: "2027-02-06", Approval: "The owner",
			Seller: text.Draw(t, "seller"), Remarks: text.Draw(t, "remarks"),
			Customer: quote.Party{Name: text.Draw(t, "name"), Address: rapid.SliceOfN(text, 0, 24).Draw(t, "address")},
			Units:    rapid.SampledFrom([]measure.System{"", "us", "sea", "furlongs"}).Draw(t, "units")}
		a, err := e.Answer(s)
		if err != nil {
			return
		}
		q, err := quote.Freeze(e, a, d)
		if err != nil {
			refused++
			if !strings.HasPrefix(err.Error(), "freezing a quote: ") ||
				strings.Contains(err.Error(), "could not be opened again") {
				t.Fatalf("refused without its place: %v", err)
			}
			return
		}
		issued++
		if !unchanged(e, q.Encode()) {
			t.Fatalf("issued, and not opened as it is: %s", q.Encode())
		}
	})
	if issued < 5 || refused < 5 {
		t.Errorf("%d issued and %d refused say little", issued, refused)
	}
}

// A title that was no UTF-8 was issued as another, so that the quotation was said to be changed when it was opened.
func TestTitlesThatAreNoTextAreNotIssued(t *testing.T) {
	s := enginetest.Teasel(t)
	s.Extras = []spec.Extra{{ID: "a", Title: "Andr\xe9", Price: money.MustParse("1"), Basis: spec.Net}}
	e := enginetest.Small()[pack.Show]
	_, err := quote.Freeze(e, enginetest.Answer(t, e, s), details())
	enginetest.WantError(t, err, "freezing a quote: reading a spec: a title or an identifier is not UTF-8; type it "+
		"again")
}

// FuzzDecodeDetails: no text makes reading details panic, an error says what was read, and what is read can be issued,
// but for what only the book knows.
func FuzzDecodeDetails(f *testing.F) {
	f.Add([]byte(`{"number": "2027-014", "date": "2027-03-31", "customer": {"name": "Ada Example", "address": ["2 Alder Quay"]}, "units": "us"}`))
	f.Add([]byte(`{"number": "1", "number": "2"}`))
	f.Add([]byte("\ufeff{}"))
	f.Add([]byte(`{"number": "\ud800", "list_test_kg": 1e400, "listed_persons": -1, "hull_built": "2027-13"} {}`))
	e := enginetest.Small()[pack.Show]
	a := enginetest.Answer(f, e, enginetest.Teasel(f))
	f.Fuzz(func(t *testing.T, text []byte) {
		d, err := quote.DecodeDetails(text)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "reading the details of a quotation: ") {
				t.Fatalf("the error does not say what was read: %v", err)
			}
			return
		}
		d.Number, d.Serial, d.Built = "T-1", "", ""
		if d.Date == "" || d.Date > "2999" {
			d.Date, d.ValidUntil = "2027-02-06", ""
		}
		q, err := quote.Freeze(e, a, d)
		if err != nil {
			t.Fatalf("%q is read and not issued: %v", text, err)
		}
		if !unchanged(e, q.Encode()) {
			t.Fatalf("%q is not opened as it was issued", text)
		}
	})
}

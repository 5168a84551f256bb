package paper_test

import (
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// nasty are pieces that would do harm if they were taken for markup, for an end of line, or for a direction of writing.
var nasty = []string{"<script>alert(1)</script>", "</title>", "</main></body>", "<!--", "-->", "<![CDATA[", "]]>", `"`,
	"'", "`", "&", "&amp;", "&#x3c;", "&lt;", "<", ">",
	"\r\n", "\n", "\t", "\u202e", "\u200f", "\u2066", "\u00a0", "\x00", "\x1b[31m", "\ufffd",
	"<img src=x onerror=alert(1)>", "javascript:alert(1)", "ä", "水", "=1+1", "plain", " "}

func drawNasty(r *rapid.T, label string) string {
	return "x" + strings.Join(rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(nasty), rapid.String()), 0, 6).Draw(r,
		label), "")
}

// written fills a quote and a yard sheet with texts from outside: the details, titles of extra items and discounts.
func written(q *quote.Quote, texts [4]string) {
	q.Number, q.Customer.Name, q.Customer.Address, q.Remarks = texts[0], texts[1], []string{texts[2]}, texts[3]
	q.Seller, q.Approval, q.Customer.Email = texts[0], texts[2], texts[3]
	last := len(q.Price.Lines) - 1
	q.Price.Lines[last].Title, q.Price.Lines[last].Detail = texts[1], texts[2]
	q.Price.Discounts[0].Title = texts[3]
	q.Contents[0].Slots[0].Options[0].Title = texts[1]
	q.Terms = []string{texts[2]}
}

// shortPapers are papers with everything in them, but little of it.
var shortPapers = sync.OnceValues(func() (*quote.Quote, *sheet.Yard) {
	t := &testing.T{}
	q, y := papersOf(t, yardEngine(), frozenSpec, nil)
	q.Contents = q.Contents[:1]
	q.Contents[0].Slots = q.Contents[0].Slots[:2]
	y.Contents, y.Options, y.Purchases = q.Contents, y.Options[:2], y.Purchases[:2]
	return q, y
})

var harmlessSkeletons = sync.OnceValues(func() (customers, yards string) {
	t := &testing.T{}
	q, y := shortPapers()
	harmless := copied(t, q)
	written(harmless, [4]string{"number", "name", "address", "remarks"})
	return parse(t, customer(t, harmless, paper.AsHTML)).skeleton(),
		parse(t, yard(t, y, harmless, paper.AsHTML)).skeleton()
})

// No text from outside becomes markup: the tags stay the same, and a reader sees the text as it was given.
func checkEscaped(t testing.TB, texts [4]string) {
	t.Helper()
	q, y := shortPapers()
	hostile := copied(t, q)
	written(hostile, texts)
	wantCustomer, wantYard := harmlessSkeletons()
	got := parse(t, customer(t, hostile, paper.AsHTML))
	if wantCustomer != got.skeleton() {
		t.Fatalf("%q changes the markup of the customer's paper", texts)
	}
	for _, s := range texts {
		if s = readable(s); !strings.Contains(got.text, s) {
			t.Errorf("a reader does not see %q", s)
		}
	}
	if wantYard != parse(t, yard(t, y, hostile, paper.AsHTML)).skeleton() {
		t.Fatalf("%q changes the markup of the yard sheet", texts)
	}
	for _, text := range []string{customer(t, hostile, paper.AsText), yard(t, y, hostile, paper.AsText)} {
		if strings.ContainsAny(text, "\x00\x1b\r\t") {
			t.Errorf("control characters of %q are in the plain text", texts)
		}
	}
}

func TestTextsNeverBecomeMarkup(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var texts [4]string
		for i := range texts {
			texts[i] = drawNasty(r, "text")
		}
		checkEscaped(t, texts)
	})
}

func FuzzTextsNeverBecomeMarkup(f *testing.F) {
	f.Add("HL-1", "Name", "1 Quay", "none")
	f.Add("</title><script>", `"><b>`, "'&amp;", "a\r\nb")
	f.Add("\u202e1", "<!--", "]]>", "\u2066x")
	f.Fuzz(func(t *testing.T, a, b, c, d string) {
		texts := [4]string{a, b, c, d}
		for i := range texts {
			texts[i] = "x" + strings.ToValidUTF8(texts[i], "")
		}
		checkEscaped(t, texts)
	})
}

// A name with line breaks does not forge a line of the plain text.
func TestLineBreaksForgeNoLine(t *testing.T) {
	q, y := papersOf(t, yardEngine(), frozenSpec, nil)
	const forged = "Total                 1.00"
	written(q, [4]string{"1\n" + forged, "name\r\n" + forged, "address\n\n" + forged, "remarks\n" + forged})
	for _, text := range []string{customer(t, q, paper.AsText), yard(t, y, q, paper.AsText)} {
		for line := range strings.Lines(text) {
			if strings.HasPrefix(line, "Total   ") && strings.Contains(line, " 1.00") {
				t.Errorf("a forged line: %q", line)
			}
		}
	}
}

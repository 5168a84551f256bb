package quote_test

import (
	"bytes"
	"strings"
	"testing"

	"ribband/core/pack"
	"ribband/core/quote"
)

// What Encode writes Decode reads, and writes again byte for byte.
func TestQuoteRoundTrip(t *testing.T) {
	for name, s := range demoSpecs(t) {
		for _, desk := range []pack.Desk{pack.Buyer, pack.Yard} {
			e := demo()[desk]
			q := e.Draft(answer(t, e, s))
			q.Details = quote.Details{Number: "N <1> & \u202f", Date: "2027-02-06", Customer: quote.Party{Name: "Ottilie", Address: []string{"7 Sluice Lane", ""}}}
			text := q.Encode()
			back, err := quote.Decode(text)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if again := back.Encode(); !bytes.Equal(text, again) {
				t.Errorf("%s: %s\nread and written again:\n%s", name, text, again)
			}
		}
	}
}

func TestDecodeErrors(t *testing.T) {
	text := string(freeze(t, small()[pack.Show], discounted(teasel(t, "top=top-fixed"), "0.03")).Encode())
	change := func(old, put string) string {
		if strings.Count(text, old) == 0 {
			t.Fatalf("%q is not in the quote", old)
		}
		return strings.Replace(text, old, put, 1)
	}
	for name, c := range map[string]struct{ text, want string }{
		"nothing":         {"", "reading a quote: EOF; is the file complete, and a quote?"},
		"cut off":         {text[:len(text)/2], "reading a quote: unexpected EOF; is the file complete, and a quote?"},
		"something else":  {`{"a": 1}`, `reading a quote: json: unknown field "a"; is the file complete, and a quote?`},
		"an empty object": {`{}`, `reading a quote: it is of kind "" and format 0; want "quote of a launch" and 1`},
		"two of them":     {text + text, "reading a quote: something stands behind its end; is the file damaged?"},
		"another format":  {change(`"format": 1`, `"format": 2`), `reading a quote: it is of kind "quote of a launch" and format 2; want "quote of a launch" and 1`},
		"another kind":    {change(`"kind": "quote of a launch"`, `"kind": "invoice"`), `reading a quote: it is of kind "invoice" and format 1; want "quote of a launch" and 1`},
		"its spec":        {change(`"share": "0.03"`, `"share": "3"`), `reading a quote: reading a spec: discounts[0]: a discount needs a title and either a share between 0 and 1 or an amount above zero`},
		"too long":        {strings.Repeat(" ", 4<<20+1), "reading a quote: 4194305 bytes are too many; at most 4194304"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := quote.Decode([]byte(c.text))
			wantError(t, err, c.want)
		})
	}
}

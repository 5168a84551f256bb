package main

import (
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/evanw/esbuild/pkg/api"

	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/seal"
	"ribband/core/spec"
)

func decodeBase64(t testing.TB, s string) string {
	t.Helper()
	b, err := base64.RawURLEncoding.DecodeString(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func encodeBase64(s string) string { return base64.RawURLEncoding.EncodeToString([]byte(s)) }

func testKey(t testing.TB, words string) seal.Key {
	t.Helper()
	k, err := seal.NewKey(strings.NewReader(strings.Repeat(words, 32)))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// withKey puts the public half of a key into packs, as publishing a book with it does.
func withKey(k seal.Key) func(publish.Packs) {
	return func(packs publish.Packs) {
		for _, p := range packs {
			p.SigningKeys = []pack.SigningKey{{Type: k.Type, Curve: k.Curve, X: k.X}}
		}
	}
}

// signedAtTheYard is a quotation of the demo book, with words in it that canonical JSON has to write with care.
func signedAtTheYard(t testing.TB, k seal.Key) *quote.Quote {
	t.Helper()
	e, err := engine.Compile(packsOf(t)[pack.Show])
	if err != nil {
		t.Fatal(err)
	}
	a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: "reed-65"})
	if err != nil {
		t.Fatal(err)
	}
	q, err := quote.Freeze(e, a, quote.Details{Number: "HL-9", Date: "2027-03-02", ListTestKg: 310.125,
		Remarks: "Zoë's \"boat\" <b>\\ \U0001f6a4 end", Customer: quote.Party{Name: "Søren Ærø"}})
	if err != nil {
		t.Fatal(err)
	}
	sign(t, q, k)
	return q
}

func sign(t testing.TB, q *quote.Quote, k seal.Key) {
	t.Helper()
	payload, err := seal.Canonical(q.Unsigned())
	if err != nil {
		t.Fatal(err)
	}
	if q.Signature, err = seal.Sign(k, payload); err != nil {
		t.Fatal(err)
	}
}

// The page verifies what is opened, and says what it found: in words, and with more weight where something is wrong.
func TestPageVerifiesQuotations(t *testing.T) {
	t.Parallel()
	ours, others := testKey(t, "ours"), testKey(t, "others")
	server := serveHandler(t, sealedSite(t, withKey(ours)))
	p := newTab(t)
	p.locked(server.URL + "/show.html")
	p.unlock(showPhrase)
	p.await(answered)
	q := signedAtTheYard(t, ours)
	unsigned, foreign, changed := *q, *q, *q
	unsigned.Signature = ""
	sign(t, &foreign, others)
	changed.Customer.Name = "Soren Ærø"
	for name, c := range map[string]struct {
		text, want string
		bad        bool
	}{
		"as it was":   {string(q.Encode()), "Signed by this yard, and unchanged since.", false},
		"re-indented": {strings.ReplaceAll(string(q.Encode()), "\n  ", "\n "), "Signed by this yard", false},
		"not signed":  {string(unsigned.Encode()), "Not signed", false},
		"another key": {string(foreign.Encode()), "a key that is not this yard’s", true},
		"changed":     {string(changed.Encode()), "The signature does not match", true},
		"half a signature": {strings.Replace(string(q.Encode()), q.Signature, q.Signature[:100], 1),
			"The signature does not match", true},
		"no algorithm": {strings.Replace(string(q.Encode()), q.Signature, encodeBase64(`{"alg":"none"}`)+"..", 1),
			"The signature does not match", true},
	} {
		file := filepath.Join(t.TempDir(), "q.json")
		if err := os.WriteFile(file, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		p.answers(chromedp.SetUploadFiles(chromedp.ID("open-file"), []string{file}))
		if s := p.text("signature"); !strings.Contains(s, c.want) {
			t.Errorf("%s: it says %q, want %q", name, s, c.want)
		}
		if bad := of[bool](p, `document.getElementById("signature").classList.contains("bad")`); bad != c.bad {
			t.Errorf("%s: shown as wrong: %v", name, bad)
		}
	}
}

// Without keys in the book nothing is said of quotations that nobody signed, and a signature is called unverified.
func TestPageWithoutKeys(t *testing.T) {
	t.Parallel()
	p := visit(t, "/show.html")
	q := signedAtTheYard(t, testKey(t, "ours"))
	for signature, want := range map[string]string{q.Signature: "The signature was not verified", "": ""} {
		q.Signature = signature
		file := filepath.Join(t.TempDir(), "q.json")
		if err := os.WriteFile(file, q.Encode(), 0o600); err != nil {
			t.Fatal(err)
		}
		p.answers(chromedp.SetUploadFiles(chromedp.ID("open-file"), []string{file}))
		got := of[string](p, `document.getElementById("signature")?.textContent ?? ""`)
		if want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("it says %q, want %q", got, want)
		}
	}
}

// The page and the command line write JSON in the same canonical form.
func TestPageWritesCanonicalJSON(t *testing.T) {
	t.Parallel()
	result := api.Build(api.BuildOptions{EntryPoints: []string{"page/signature.ts"}, Bundle: true, Write: false,
		Format: api.FormatIIFE, GlobalName: "signature", Target: api.ES2022})
	if len(result.Errors) > 0 {
		t.Fatal(result.Errors)
	}
	p := newTab(t, "favicon")
	p.do(chromedp.Navigate(serveSite(t).URL + "/schema/spec.json"))
	p.do(chromedp.Evaluate[chromedp.Void](string(result.OutputFiles[0].Contents) + ";globalThis.signature = signature"))
	n := 0
	for _, text := range []string{
		`{"b":1,"a":[true,null,"x"],"B":{"é":1,"e":2,"\ud83d\ude00":3,"\uffff":4,"__proto__":5,"1":6,"10":7,"9":8}}`,
		`[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001,-0.0,5e-324,1.7976931348623157e308,1e21,1e-7]`,
		`["\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","\u2028\u2029\u007f\u0080","\b\f\t\r"]`, `{}`, `[]`, `"x"`, `0`,
		string(signedAtTheYard(t, testKey(t, "ours")).Encode()),
	} {
		want, err := seal.Canonical([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if got := of[string](p, fmt.Sprintf(`signature.canonical(JSON.parse(%s))`, asScript(text))); got != string(want) {
			t.Errorf("%.80s is in the page\n%s\nand here\n%s", text, got, want)
		}
		n++
	}
	if n != 8 {
		t.Errorf("%d texts", n)
	}
}

// asScript writes a text as a string of JavaScript.
func asScript(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\r", `\r`, "\u2028", `\u2028`, "\u2029", `\u2029`).
		Replace(text) + `"`
}

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/seal"
	"ribband/core/spec"
)

// signingYard is a yard with a key: a small book that has its public half, and the file of the private one.
type signingYard struct{ book, keyFile string }

func newSigningYard(t *testing.T) signingYard {
	t.Helper()
	y := signingYard{t.TempDir(), filepath.Join(t.TempDir(), "key.json")}
	if err := os.CopyFS(y.book, os.DirFS("../testdata/books/small")); err != nil {
		t.Fatal(err)
	}
	o := worked(t, tool(t, "", "key", "-out", y.keyFile))
	_, line, _ := strings.Cut(o.out, "signing_keys:\n    - ")
	edit(t, filepath.Join(y.book, "yard.yaml"), `note: An invented yard for tests.}`,
		"note: An invented yard for tests., signing_keys: ["+strings.TrimSpace(line)+"]}")
	return y
}

// issued is a quotation of the small book as its show desk issues it, in a file.
func (y signingYard) issued(t *testing.T, change func(*spec.Spec)) (string, *quote.Quote) {
	t.Helper()
	packs, _, problems, err := publish.Load(os.DirFS(y.book))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	e, err := engine.Compile(packs[pack.Show])
	if err != nil {
		t.Fatal(err)
	}
	s := spec.Spec{Format: spec.Format, Hull: "teasel-48"}
	s.Extras = []spec.Extra{{ID: "flag", Title: "Flag", Price: money.MustParse("40"), Basis: spec.Net,
		Cost: money.MustParse("12.50")}}
	if change != nil {
		change(&s)
	}
	a, err := e.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	q, err := quote.Freeze(e, a, quote.Details{Number: "T-7", Date: "2027-03-02", Seller: "Bram Oakhollow",
		Remarks: "Mooring 12.", Customer: quote.Party{Name: "Ottilie Sandmark", Address: []string{"7 Sluice Lane"}}})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "quotation.json")
	write(t, name, string(q.Encode()))
	return name, q
}

// confirmed is a quotation that the yard has signed.
func (y signingYard) confirmed(t *testing.T) (file string) {
	t.Helper()
	name, _ := y.issued(t, nil)
	file = strings.TrimSuffix(name, ".json") + "-signed.json"
	o := worked(t, tool(t, "", "confirm", "-key", y.keyFile, "-book", y.book, name))
	if !strings.Contains(o.out, file) || !strings.Contains(o.out, "T-7, Ottilie Sandmark") {
		t.Errorf("it says %q", o.out)
	}
	return file
}

func TestKeyIsMadeOnceAndForTheYardAlone(t *testing.T) {
	y := newSigningYard(t)
	about, err := os.Stat(y.keyFile)
	if err != nil || about.Mode().Perm() != 0o600 && runtime.GOOS != "windows" {
		t.Errorf("the key has the mode %v (%v)", about.Mode(), err)
	}
	before, err := os.ReadFile(y.keyFile)
	if err != nil {
		t.Fatal(err)
	}
	k, err := seal.ReadKey(before)
	if err != nil || k.D == "" {
		t.Fatalf("the file holds %+v (%v)", k.Public(), err)
	}
	refused(t, tool(t, "", "key", "-out", y.keyFile), 1, "is there already", "-out FILE")
	if after, _ := os.ReadFile(y.keyFile); !bytes.Equal(before, after) {
		t.Error("the key was written over")
	}
	o := worked(t, tool(t, "", "key", "-out", filepath.Join(t.TempDir(), "another.json")))
	if strings.Contains(o.out, k.X) || strings.Contains(o.out, `"d"`) {
		t.Errorf("another key is the same, or its private half is printed: %s", o.out)
	}
}

// opens is what open says of a file, as JSON too.
func (y signingYard) opens(t *testing.T, code int, file string, flags ...string) OpenReport {
	t.Helper()
	args := append([]string{"open", "-book", y.book, "-json"}, flags...)
	o := tool(t, "", append(args, file)...)
	if o.code != code {
		t.Fatalf("exit code %d, want %d: %s%s", o.code, code, o.out, o.err)
	}
	var r OpenReport
	if code < 2 && o.err == "" {
		decode(t, o.out, &r)
	}
	return r
}

func TestConfirmAndOpen(t *testing.T) {
	y := newSigningYard(t)
	file := y.confirmed(t)
	if r := y.opens(t, 0, file); r.Signature != quote.Signed || !r.AsQuoted || !r.Sound || r.Number != "T-7" {
		t.Errorf("%+v", r)
	}
	o := worked(t, tool(t, "", "open", "-book", y.book, file))
	for _, words := range []string{"Quotation T-7", "Signed by this yard, and unchanged since.", "As quoted"} {
		if !strings.Contains(o.out, words) {
			t.Errorf("it does not say %q: %s", words, o.out)
		}
	}
	// not yet signed
	name, _ := y.issued(t, nil)
	if r := y.opens(t, 1, name); r.Signature != quote.NotSigned || !r.AsQuoted || r.Sound {
		t.Errorf("not signed: %+v", r)
	}
	y.opens(t, 0, name, "-unsigned")
	// nothing is overwritten
	worked(t, tool(t, "", "confirm", "-key", y.keyFile, "-book", y.book, name))
	refused(t, tool(t, "", "confirm", "-key", y.keyFile, "-book", y.book, name), 1, "is there already")
}

// In May the book has other prices: what was signed in March is still proved, and each difference is named. A key that
// was followed by another still counts as long as the book has it.
func TestOldEditionsStayReadable(t *testing.T) {
	y := newSigningYard(t)
	file := y.confirmed(t)
	later := signingYard{book: t.TempDir()}
	if err := os.CopyFS(later.book, os.DirFS(y.book)); err != nil {
		t.Fatal(err)
	}
	edit(t, filepath.Join(later.book, "yard.yaml"), `rate: "0.20", mode: inclusive`, `rate: "0.21", mode: inclusive`)
	o := worked(t, tool(t, "", "key", "-out", filepath.Join(t.TempDir(), "new.json")))
	_, line, _ := strings.Cut(o.out, "signing_keys:\n    - ")
	edit(t, filepath.Join(later.book, "yard.yaml"), `signing_keys: \[`, "signing_keys: ["+strings.TrimSpace(line)+", ")
	r := later.opens(t, 1, file)
	if r.Signature != quote.Signed || r.AsQuoted || r.Edition == r.Book {
		t.Errorf("%+v", r)
	}
	places := ""
	for _, d := range r.Different {
		places += d.Place + " "
	}
	if !strings.Contains(places, "Price book ") || !strings.Contains(places, "Total ") {
		t.Errorf("differences in %s", places)
	}
	// an edition that no longer builds the hull
	foreign := signingYard{book: rulesFolder}
	if r := foreign.opens(t, 1, file); r.Signature != quote.Unchecked || r.Fault == "" || r.Sound {
		t.Errorf("%+v", r)
	}
}

// Whatever byte of a signed quotation is changed, it is found: nobody reads it, or the signature does not match, or
// what does not count for the signature, an indentation, is named.
func TestEveryByteOfASignedQuotationCounts(t *testing.T) {
	y := newSigningYard(t)
	text, err := os.ReadFile(y.confirmed(t))
	if err != nil {
		t.Fatal(err)
	}
	o, err := openQuotation(&console{err: os.Stderr}, filepath.Clean(y.confirmed(t)), y.book)
	if err != nil {
		t.Fatal(err)
	}
	keys := keysOf(o.pack)
	tried, by := 0, map[string]int{}
	for i := range text {
		for _, other := range []byte{text[i] ^ 1, text[i] ^ 0x20, '0', '1', '9', 'a', 'A', ' ', '"', '\n'} {
			if other == text[i] {
				continue
			}
			changed := bytes.Clone(text)
			changed[i] = other
			tried++
			how := found(t, o.engine, keys, changed)
			if by[how]++; how == "" {
				t.Errorf("byte %d is %q for %q in %q, and nobody finds it", i, other, text[i],
					text[max(0, i-30):min(len(text), i+30)])
			}
		}
	}
	t.Logf("%d bytes, %d changes: %v", len(text), tried, by)
	if tried < 20_000 || by["signature"] < 1000 || found(t, o.engine, keys, text) != "" {
		t.Errorf("%d changes, found by %v", tried, by)
	}
}

// found says by what a changed file is found out; "" where it is not.
func found(t *testing.T, e *engine.Engine, keys []seal.Key, text []byte) string {
	q, err := quote.Decode(text)
	if err != nil {
		return "reading"
	}
	verdict, err := verdictOf(q, keys)
	if err != nil {
		t.Fatal(err)
	}
	if verdict != quote.Signed {
		return "signature"
	}
	_, _, differences, err := quote.Reopen(e, q)
	if err != nil || len(differences) > 0 {
		return "computing"
	}
	return ""
}

// A forger who computes everything anew is found by the key that he does not have.
func TestConsistentForgery(t *testing.T) {
	y := newSigningYard(t)
	text, err := os.ReadFile(y.confirmed(t))
	if err != nil {
		t.Fatal(err)
	}
	var signed quote.Quote
	if err := json.Unmarshal(text, &signed); err != nil {
		t.Fatal(err)
	}
	_, cheaper := y.issued(t, func(s *spec.Spec) {
		s.Discounts = []spec.Discount{{Title: "Friend", Share: money.MustRate("0.02")}}
	})
	if cheaper.Price.Total.Cmp(signed.Price.Total) >= 0 {
		t.Fatal("the forgery is no cheaper")
	}
	stranger, err := seal.NewKey(strings.NewReader(strings.Repeat("stranger", 4)))
	if err != nil {
		t.Fatal(err)
	}
	payload, err := seal.Canonical(cheaper.Unsigned())
	if err != nil {
		t.Fatal(err)
	}
	his, err := seal.Sign(stranger, payload)
	if err != nil {
		t.Fatal(err)
	}
	ourHead, _, _ := strings.Cut(signed.Signature, "..")
	_, hisSignature, _ := strings.Cut(his, "..")
	for name, c := range map[string]struct {
		signature string
		want      quote.Verdict
	}{
		"the old signature":       {signed.Signature, quote.Mismatch},
		"none":                    {"", quote.NotSigned},
		"his own":                 {his, quote.OtherKey},
		"his own under our name":  {ourHead + ".." + hisSignature, quote.Mismatch},
		"none, with an algorithm": {"eyJhbGciOiJub25lIn0..", quote.Mismatch},
	} {
		t.Run(name, func(t *testing.T) {
			q := *cheaper
			q.Signature = c.signature
			file := write(t, filepath.Join(t.TempDir(), "forged.json"), string(q.Encode()))
			if r := y.opens(t, 1, file); r.Signature != c.want || !r.AsQuoted {
				t.Errorf("%+v, want %s and everything else as the book gives it", r, c.want)
			}
		})
	}
}

func TestConfirmRefuses(t *testing.T) {
	y := newSigningYard(t)
	name, q := y.issued(t, nil)
	with := func(change func(*quote.Quote)) string {
		c := *q
		change(&c)
		return write(t, filepath.Join(t.TempDir(), "q.json"), string(c.Encode()))
	}
	other := filepath.Join(t.TempDir(), "other.json")
	worked(t, tool(t, "", "key", "-out", other))
	k, err := os.ReadFile(y.keyFile)
	if err != nil {
		t.Fatal(err)
	}
	open := write(t, filepath.Join(t.TempDir(), "open.json"), string(k)) // mode 644
	public := filepath.Join(t.TempDir(), "public.json")
	private, err := seal.ReadKey(k)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(public, private.Public().Encode(), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		key, file string
		code      int
		words     []string
	}{
		"a key that the book lacks":  {other, name, 1, []string{"does not have this key", "signing_keys"}},
		"a key that others can read": {open, name, 1, []string{"can be read by others", "chmod 600"}},
		"a public key":               {public, name, 1, []string{"signing"}},
		"no key":                     {"", name, 2, []string{"-key FILE"}},
		"a changed price": {y.keyFile, with(func(q *quote.Quote) { q.Price.Total = money.MustParse("1.00") }), 1,
			[]string{"not what the book", "Total: EUR"}},
		"a draft": {y.keyFile, with(func(q *quote.Quote) { q.Number, q.Digest = "", "" }), 1,
			[]string{"draft without a number"}},
		"no file": {y.keyFile, filepath.Join(t.TempDir(), "none.json"), 1, []string{"none.json"}},
		"a spec": {y.keyFile, write(t, filepath.Join(t.TempDir(), "s.json"), reedSpec), 2,
			[]string{"no quotation"}},
		"two formats": {y.keyFile, with(func(q *quote.Quote) { q.Format = 2 }), 2, []string{"format 1"}},
		"cut short": {y.keyFile, write(t, filepath.Join(t.TempDir(), "c.json"), string(q.Encode())[:900]), 2,
			[]string{"no quotation"}},
	} {
		t.Run(name, func(t *testing.T) {
			args := []string{"confirm", "-book", y.book, "-out", filepath.Join(t.TempDir(), "out.json")}
			if c.key != "" {
				args = append(args, "-key", c.key)
			}
			refused(t, tool(t, "", append(args, c.file)...), c.code, c.words...)
		})
	}
}

// A file that is a quotation and damaged is not sound; one that is none is not understood.
func TestOpenTellsDamageFromRubbish(t *testing.T) {
	y := newSigningYard(t)
	text, err := os.ReadFile(y.confirmed(t))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		text string
		code int
	}{
		"an unknown key":      {strings.Replace(string(text), `"seller"`, `"sellar"`, 1), 1},
		"a number for a text": {strings.Replace(string(text), `"Bram Oakhollow"`, `7`, 1), 1},
		"another format":      {strings.Replace(string(text), `"format": 1`, `"format": 9`, 1), 2},
		"another kind":        {strings.Replace(string(text), quote.Kind, "quote of a house", 1), 2},
		"rubbish":             {"rubbish", 2}, "nothing": {"", 2}, "a list": {"[]", 2}, "half": {string(text[:2000]),
			2},
	} {
		t.Run(name, func(t *testing.T) {
			file := write(t, filepath.Join(t.TempDir(), "q.json"), c.text)
			refused(t, tool(t, "", "open", "-book", y.book, file), c.code, "opening "+file)
		})
	}
	refused(t, tool(t, "", "open"), 2, "which file?")
	refused(t, tool(t, "", "open", "a", "b"), 2, "which file?")
}

// The customer's own file is signed by itself: it has nothing of the yard's in it, and proves as much.
func TestCustomersSignedFile(t *testing.T) {
	y := newSigningYard(t)
	name, q := y.issued(t, func(s *spec.Spec) {
		s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: money.MustParse("300"), Value: money.MustParse("271.43")}
	})
	theirs := filepath.Join(t.TempDir(), "for-them.json")
	worked(t, tool(t, "", "confirm", "-key", y.keyFile, "-book", y.book, "-customer", theirs, name))
	text, err := os.ReadFile(theirs)
	if err != nil {
		t.Fatal(err)
	}
	for _, private := range []string{`"cost"`, "12.5", "271.43"} {
		if strings.Contains(string(text), private) || !strings.Contains(string(q.Encode()), private) {
			t.Errorf("%s stands in the customer's file, or not in the yard's", private)
		}
	}
	if r := y.opens(t, 0, theirs); r.Signature != quote.Signed || !r.AsQuoted || !r.Sound {
		t.Errorf("%+v", r)
	}
	changed := strings.Replace(string(text), "Ottilie", "Ottilia", 1)
	if r := y.opens(t, 1, write(t, filepath.Join(t.TempDir(), "c.json"), changed)); r.Signature != quote.Mismatch {
		t.Errorf("%+v", r)
	}
}

package seal_test

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/msg"
	"ribband/core/seal"
)

// chance is a source that is no chance at all, so that a test says the same each time.
func chance(n byte) io.Reader { return bytes.NewReader(bytes.Repeat([]byte{n}, 200)) }

const (
	phrase  = "four oak ribs and a keel"
	edition = "3f1c5a00"
)

// few are rounds enough to test the frame of a seal.
const few = 1000

func sealed(t testing.TB, content string) string {
	t.Helper()
	text, err := seal.SealAfter(chance(7), phrase, edition, "show", []byte(content), few)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// The one test with all the rounds: it comes out again, and the head says what was asked for.
func TestSeal(t *testing.T) {
	content := strings.Repeat("what an hour costs: 61.50. ", 50)
	text, err := seal.Seal(chance(1), phrase, edition, "yard", []byte(content))
	if err != nil {
		t.Fatal(err)
	}
	head, err := seal.HeaderOf(text)
	if err != nil || head.Algorithm != "PBES2-HS512+A256KW" || head.Encryption != "A256GCM" || head.Rounds < 600_000 ||
		head.Edition != edition || head.Desk != "yard" {
		t.Errorf("the head is %+v (%v)", head, err)
	}
	if got, err := seal.Open(text, phrase, edition); err != nil || string(got) != content {
		t.Errorf("opened: %.40q (%v)", got, err)
	}
	if again, err := seal.Seal(chance(2), phrase, edition, "yard", []byte(content)); err != nil || again == text {
		t.Errorf("sealed with another salt it is the same (%v)", err)
	}
}

func TestWhatIsWrongWithASeal(t *testing.T) {
	text := sealed(t, "private")
	parts := strings.Split(text, ".")
	with := func(i int, part string) string {
		list := append([]string{}, parts...)
		list[i] = part
		return strings.Join(list, ".")
	}
	headed := func(old, new string) string {
		head := string(unbase(t, parts[0]))
		if !strings.Contains(head, old) {
			t.Fatalf("the head %s has no %s", head, old)
		}
		return with(0, base(strings.Replace(head, old, new, 1)))
	}
	flipped := func(i int) string {
		b := unbase(t, parts[i])
		b[0] ^= 1
		return with(i, base(string(b)))
	}
	for name, c := range map[string]struct {
		text, phrase, edition string
		want                  msg.Code
	}{
		"another phrase":      {text, phrase + " ", edition, seal.WrongPhrase},
		"no phrase":           {text, "", edition, seal.WrongPhrase},
		"another salt":        {headed(`"p2s":"Bw`, `"p2s":"Cw`), phrase, edition, seal.WrongPhrase},
		"other rounds":        {headed(`"p2c":1000`, `"p2c":1001`), phrase, edition, seal.WrongPhrase},
		"a damaged key":       {flipped(1), phrase, edition, seal.WrongPhrase},
		"a damaged nonce":     {flipped(2), phrase, edition, seal.Damaged},
		"a damaged body":      {flipped(3), phrase, edition, seal.Damaged},
		"a damaged tag":       {flipped(4), phrase, edition, seal.Damaged},
		"another desk":        {headed(`"show"`, `"yard"`), phrase, edition, seal.Damaged},
		"an edition put in":   {headed(edition, "3f1c5a01"), phrase, "3f1c5a01", seal.Damaged},
		"another edition":     {text, phrase, "3f1c5a01", seal.OtherEdition},
		"a newer format":      {headed(`"format":1`, `"format":2`), phrase, edition, seal.OtherFormat},
		"no format":           {headed(`"format":1,`, ``), phrase, edition, seal.OtherFormat},
		"another algorithm":   {headed(`PBES2-HS512+A256KW`, `dir`), phrase, edition, seal.OtherFormat},
		"another encryption":  {headed(`A256GCM`, `A128GCM`), phrase, edition, seal.OtherFormat},
		"not deflated":        {headed(`"zip":"DEF",`, ``), phrase, edition, seal.OtherFormat},
		"too many rounds":     {headed(`"p2c":1000`, `"p2c":10000001`), phrase, edition, seal.TooManyRounds},
		"too few rounds":      {headed(`"p2c":1000`, `"p2c":999`), phrase, edition, seal.Damaged},
		"rounds out of range": {headed(`"p2c":1000`, `"p2c":1e99`), phrase, edition, seal.Damaged},
		"a short salt":        {headed(`"p2s":"BwcHBwcHBwcHBwcHBwcHBw"`, `"p2s":"Bw"`), phrase, edition, seal.Damaged},
		"a long head":         {headed(`"desk":"`, `"desk":"`+strings.Repeat("x", 5000)), phrase, edition, seal.Damaged},
		"four parts":          {strings.Join(parts[:4], "."), phrase, edition, seal.Damaged},
		"six parts":           {text + ".", phrase, edition, seal.Damaged},
		"cut short":           {text[:len(text)-1], phrase, edition, seal.Damaged},
		"a line end":          {text[:len(text)-3] + "\n" + text[len(text)-3:], phrase, edition, seal.Damaged},
		"nothing":             {"", phrase, edition, seal.Damaged},
		"a page":              {"<!doctype html>", phrase, edition, seal.Damaged},
	} {
		t.Run(name, func(t *testing.T) {
			content, err := seal.Open(c.text, c.phrase, c.edition)
			if !seal.Is(err, c.want) || content != nil {
				t.Errorf("%q and %v, want %s", content, err, c.want)
			}
			var reason *msg.Error
			if !errors.As(err, &reason) || reason.Unwrap() == nil {
				t.Errorf("programmers learn nothing from %v", err)
			}
		})
	}
}

// No byte of a seal is idle: each changed one is found.
func TestEveryByteOfASealCounts(t *testing.T) {
	text := []byte(sealed(t, "what an hour costs"))
	for i := range text {
		damaged := bytes.Clone(text)
		if damaged[i]++; damaged[i] == text[i] {
			continue
		}
		if content, err := seal.Open(string(damaged), phrase, edition); err == nil {
			t.Errorf("byte %d is %q for %q, and it opens to %q", i, damaged[i], text[i], content)
		}
	}
}

func TestSealRefuses(t *testing.T) {
	if _, err := seal.Seal(chance(1), "", edition, "yard", nil); err == nil {
		t.Error("sealed without a phrase")
	}
	if _, err := seal.Seal(strings.NewReader("short"), phrase, edition, "yard", nil); err == nil {
		t.Error("sealed without chance")
	}
	if _, err := seal.NewKey(strings.NewReader("short")); err == nil {
		t.Error("a key without chance")
	}
}

// A text that inflates to more than any pack is refused, without holding it.
func TestSealOfTooMuch(t *testing.T) {
	huge := make([]byte, 64<<20+1)
	if _, err := seal.SealAfter(chance(1), phrase, edition, "yard", huge, few); err == nil {
		t.Error("64 MB and a byte are sealed")
	}
	text, err := seal.SealAfter(chance(1), phrase, edition, "yard", huge[1:], few)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := seal.Open(text, phrase, ""); err != nil || len(got) != 64<<20 {
		t.Errorf("%d bytes come out (%v)", len(got), err)
	}
}

// What is sealed comes out, whatever it is.
func TestSealOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		content := rapid.SliceOf(rapid.Byte()).Draw(t, "content")
		secret := rapid.StringN(1, 40, -1).Draw(t, "phrase")
		of := rapid.String().Draw(t, "edition")
		text, err := seal.SealAfter(chance(3), secret, of, "show", content, few)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := seal.Open(text, secret, of); err != nil && of == strings.ToValidUTF8(of, "") ||
			err == nil && !bytes.Equal(got, content) {
			t.Fatalf("%q comes out as %q (%v)", content, got, err)
		}
	})
}

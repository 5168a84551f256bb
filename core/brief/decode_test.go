package brief_test

import (
	"bytes"
	"strings"
	"testing"

	"ribband/core/brief"
)

func TestDecode(t *testing.T) {
	b, err := brief.Decode([]byte(`{"format": 1, "wishes": {"persons": 6, "water": "salt", "weather": true, "price": "45000.50"}, "hulls": ["reed-65"], "use": {"region": "nl"}, "choices": {"top": {}}}`))
	if err != nil {
		t.Fatal(err)
	}
	again, err := brief.Decode(b.Encode())
	if err != nil || !bytes.Equal(again.Encode(), b.Encode()) || b.Wishes["persons"].Number != 6 ||
		b.Wishes["water"].Text != "salt" || !b.Wishes["weather"].Yes || b.Wishes["price"].String() != "45000.50" {
		t.Errorf("%s, %v", b.Encode(), err)
	}
}

func TestDecodeNamesThePlace(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{``, "line 1, column 1: the text ends too early"},
		{`{"wishes": {}}`, "the key format: is missing; begin the brief with {\"format\": 1, …}"},
		{`{"format": 2}`, "line 1, column 12: format: this program reads format 1 alone, not 2"},
		{`{"format": 1, "wish": {}}`, "line 1, column 15: wish: this key is not known here"},
		{`{"format": 1, "wishes": {"range": false}}`,
			"line 1, column 35: wishes.range: a wish is a number, a choice or money in quotes, or true, not false"},
		{`{"format": 1, "wishes": {"range": 1, "range": 2}}`, "wishes.range: this key is there twice"},
		{`{"format": 1, "choices": {"top": {"top-hard": 0}}}`, "choices.top.top-hard: 0 is no count"},
		{`{"format": 1} {}`, "line 1, column 15: something stands behind the end"},
	} {
		if _, err := brief.Decode([]byte(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.text, err, c.want)
		}
	}
}

// What is read is written the same again, and is answered or refused without a panic.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"format": 1, "wishes": {"persons": 6, "water": "salt", "weather": true, "price": "45000"}, "hulls": ["sedge-46"]}`))
	f.Add([]byte(`{"format": 1, "wishes": {"range": 1e300}, "use": {"speed_kn": 4.5}, "choices": {"top": {"top-hard": 1}}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := brief.Decode(text)
		if err != nil {
			return
		}
		again, err := brief.Decode(b.Encode())
		if err != nil || !bytes.Equal(again.Encode(), b.Encode()) {
			t.Fatalf("%s: %v", b.Encode(), err)
		}
		r, err := brief.Start(buyer(), b)
		if err != nil {
			return
		}
		defer r.Stop()
		if _, err := r.Step(50); err != nil {
			t.Fatal(err)
		}
	})
}

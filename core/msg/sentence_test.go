package msg_test

import (
	"testing"

	"ribband/core/msg"
)

func TestSentence(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "the top is gone": "The top is gone.", "The top is gone.": "The top is gone.",
		"did you mean teak?": "Did you mean teak?", "any of these would do:": "Any of these would do:",
		"été à bord": "Été à bord.", "3 boats": "3 boats.",
	} {
		if got := msg.Sentence(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

// A title within a sentence loses its capital, but not where it is an abbreviation, nor in a language that writes nouns
// with one.
func TestTitlesInside(t *testing.T) {
	german, err := msg.Read("de.json", []byte(`{"language.tag": "de", "language.name": "Deutsch",
		"language.months": "J F M A M J J A S O N D", "language.titles-inside": "as-written",
		"screen.let-go": "{slot} zurücksetzen"}`))
	if err != nil {
		t.Fatal(err)
	}
	for title, want := range map[string][2]string{
		"Battery bank": {"Reset battery bank", "Battery bank zurücksetzen"},
		"LED strip":    {"Reset LED strip", "LED strip zurücksetzen"},
		"Öse":          {"Reset öse", "Öse zurücksetzen"},
		"":             {"Reset ", " zurücksetzen"},
	} {
		for i, l := range []*msg.Language{msg.English, german} {
			if got := l.Say("screen.let-go", msg.Inside("slot", title)); got != want[i] {
				t.Errorf("%s: %q, want %q", l.Name(), got, want[i])
			}
		}
	}
}

// Behind a field stand the unit and what it is ashore: 1 knot is 1.852 km/h by definition.
func TestBeside(t *testing.T) {
	dutch, err := msg.Read("nl.json", []byte(`{"language.tag": "nl", "language.name": "Nederlands",
		"language.months": "J F M A M J J A S O N D"}`))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		l    *msg.Language
		v    float64
		unit string
		want string
	}{
		{msg.English, 5, "kn", "kn (9.3\u00a0km/h)"}, {dutch, 5, "kn", "kn (9,3\u00a0km/h)"},
		{msg.English, 2, "m", "m"}, {msg.English, 2, "", ""},
	} {
		if got := c.l.Beside(c.v, c.unit); got != c.want {
			t.Errorf("%v %s in %s: %q, want %q", c.v, c.unit, c.l.Name(), got, c.want)
		}
	}
}

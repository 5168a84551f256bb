package formula

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestTextRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := program(t)
		again, err := Parse(p.String())
		if err != nil || !reflect.DeepEqual(p, again) {
			t.Fatalf("%q came back as %q (%v)", p, again, err)
		}
		if err := p.Within(space); err != nil {
			t.Fatalf("%q: %v", p, err)
		}
	})
}

func TestParseNeverPanics(t *testing.T) {
	token := rapid.StringMatching(`[nhiufcosTFmMa^_r<{=&|!?~+*/-]?[0-9.e-]{0,3}`)
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(token, 0, 8).Draw(t, "tokens"), " ")
		if rapid.Bool().Draw(t, "bytes") {
			text = string(rapid.SliceOf(rapid.Byte()).Draw(t, "text"))
		}
		checkParsed(t, text)
	})
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"", "n1", "o0 s1 & n2.5 c3 ?", "h0 n-1e+300 * ~ a ^ _ r", "i n1 = ! T |", "n 1",
		"n1  n2", "u99999999999", "\xff"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { checkParsed(t, text) })
}

// checkParsed parses any text; whatever Parse takes must come back from its own text and run.
func checkParsed(t interface{ Fatalf(string, ...any) }, text string) {
	p, err := Parse(text)
	if err != nil {
		if !strings.HasPrefix(err.Error(), "reading a lowered formula: ") {
			t.Fatalf("%q: the error does not say what was read: %v", text, err)
		}
		return
	}
	again, err := Parse(p.String())
	if err != nil || !reflect.DeepEqual(p, again) {
		t.Fatalf("%q came back as %q (%v)", text, again, err)
	}
	if p.Within(space) != nil {
		return
	}
	st := &State{make([]int, space.Options), make([]int, space.Slots), 0, make([]float64, space.Hull),
		make([]float64, space.Use), make([]float64, space.Figures), Masses{}, nil}
	if p.Kind() == Truth || p.Empty() {
		p.Truth()(st)
	} else {
		p.Number()(st)
	}
}

func TestParseErrors(t *testing.T) {
	for text, want := range map[string]string{
		" ":                          "step 1: nothing between two spaces",
		"n1  n2":                     "step 2: nothing between two spaces",
		"n":                          `step 1: "" is not a number`,
		"nx":                         `step 1: "x" is not a number`,
		"n1e999":                     `step 1: "1e999" is not a number`,
		"ninf":                       "step 1: constant is not finite",
		"nNaN":                       "step 1: constant is not finite",
		"h":                          `step 1: "" is not an index`,
		"n1 c-1 +":                   `step 2: "-1" is not an index`,
		"u3000000000":                `step 1: "3000000000" is not an index`,
		"c12345678901234567890123x":  `step 1: "12345678901234567890" is not an index`,
		"q":                          `step 1: unknown operation "q"`,
		"q1":                         `step 1: unknown operation "q1"`,
		"T1":                         `step 1: unknown operation "T1"`,
		"i0":                         `step 1: unknown operation "i0"`,
		"++":                         `step 1: unknown operation "++"`,
		"+":                          `step 1: "+" does not fit what stands before it`,
		"n1 +":                       `step 2: "+" does not fit what stands before it`,
		"n1 T +":                     `step 3: "+" does not fit what stands before it`,
		"n1 !":                       `step 2: "!" does not fit what stands before it`,
		"T F <":                      `step 3: "<" does not fit what stands before it`,
		"T n1 F ?":                   `step 4: "?" does not fit what stands before it`,
		"n1 n1 n1 ?":                 `step 4: "?" does not fit what stands before it`,
		"n1 n2":                      "2 values left, want 1",
		strings.Repeat("T ", 10_000): "10001 steps; at most 10000",
	} {
		_, err := Parse(text)
		if want = "reading a lowered formula: " + want; err == nil || err.Error() != want {
			t.Errorf("%.40q: %v; want %s", text, err, want)
		}
	}
}

func TestNewChecksItsSteps(t *testing.T) {
	if _, err := New(nil); err == nil || err.Error() != "reading a lowered formula: 0 values left, want 1" {
		t.Errorf("no steps: %v", err)
	}
	if _, err := New([]Step{{Op: 'q'}}); err == nil ||
		err.Error() != `reading a lowered formula: step 1: unknown operation "q"` {
		t.Errorf("unknown operation: %v", err)
	}
}

// A program travels in JSON as its text.
func TestJSON(t *testing.T) {
	type carrier struct{ P Program }
	text, err := json.Marshal(carrier{Constant(2.5)})
	if err != nil || string(text) != `{"P":"n2.5"}` {
		t.Errorf("%s (%v)", text, err)
	}
	var c carrier
	if err := json.Unmarshal([]byte(`{"P":"h1 n2 *"}`), &c); err != nil || c.P.String() != "h1 n2 *" {
		t.Errorf("%v (%v)", c.P, err)
	}
	if err := json.Unmarshal([]byte(`{"P":"h1 n2"}`), &c); err == nil {
		t.Error("two values were read as a program")
	}
}

func TestEmptyProgram(t *testing.T) {
	p, err := Parse("")
	if err != nil || !p.Empty() || p.String() != "" || p.Number()(nil) != 0 || !p.Truth()(nil) {
		t.Errorf("the empty program: %v (%v)", p, err)
	}
}

package spec

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// noJSON is what is said of a character at which a text is no JSON.
func noJSON(character string) string {
	return "the text is no JSON: “" + character + "” does not belong here; look for a comma, a quotation mark or a " +
		"bracket that is missing or too many"
}

func TestDecodeErrors(t *testing.T) {
	line := func(rest string) string {
		return `{"format":1,"hull":"reed-65","extras":[{"id":"a","title":"Berth","price":"10","basis":"net"` + rest +
			`}]}`
	}
	for _, c := range []struct{ text, want string }{
		// syntax
		{"", "line 1, column 1: the text ends too early; is it complete?"},
		{"{", "line 1, column 2: the text ends too early; is it complete?"},
		{"{\n  \"format\": 1,\n", "line 3, column 1: the text ends too early; is it complete?"},
		{"{\"format\":1,\n }", "line 2, column 2: " + noJSON("}")},
		{"{\"format\":1,\n \"hull\":\"Gr\u00f6\u00dfe\", x}",
			"line 2, column 18: " + noJSON("x")},
		{"{\"format\":1,\"hull\":nul}", "line 1, column 23: " + noJSON("}")},
		{"hull: reed-65", "line 1, column 1: " + noJSON("h")},
		{"{\"format\":1} x", "line 1, column 14: something stands behind the end; remove it"},
		{"{\"format\":1}\n\n{}", "line 3, column 1: something stands behind the end; remove it"},
		{strings.Repeat(" ", 1<<20) + "{}", "1048578 bytes are too many; at most 1048576"},
		// keys; the place named was the end of the text, and of two equal keys the first was dropped without a word
		{"{\"format\":1,\n  \"hul\":\"reed-65\",\n\"use\":{}}",
			"line 2, column 3: hul: this key is not known here; correct or remove it"},
		{`{"format":1,"extras":[{"id":"a"},{"id":"b","titel":{"x":[1]}}]}`,
			"line 1, column 44: extras[1].titel: this key is not known here; correct or remove it"},
		{`{"format":1,"hull":"a","hull":"b"}`, "line 1, column 24: hull: this key is there twice; remove one"},
		{`{"format":1,"hull":"a","Hull":"b"}`, "line 1, column 24: Hull: this key is there twice; remove one"},
		{"{\"format\":1,\"choices\":{\"top\":{\"hard\":1},\n\"sole\":{},\n \"top\":{}}}",
			"line 3, column 2: choices.top: this key is there twice; remove one"},
		{`{"format":1,"extras":[{"id":"a"},{"id":"b","id":"b"}]}`,
			"line 1, column 44: extras[1].id: this key is there twice; remove one"},
		// types; they were named in the words of Go, and the place of a bad use, amount or share was the end of the
		// text
		{`[]`, "line 1, column 1: this is a list, want an object in { }"},
		{`5`, "line 1, column 1: this is a number, want an object in { }"},
		{"{\"format\":1,\n\"hull\": 5}", "line 2, column 9: hull: this is a number, want a text in quotes"},
		{`{"format":"1"}`, "line 1, column 11: format: this is a text, want a whole number"},
		{`{"format":1.5}`, "line 1, column 11: format: this is a number, want a whole number"},
		{`{"format":1,"choices":["top"]}`, "line 1, column 23: choices: this is a list, want an object in { }"},
		{`{"format":1,"choices":{"sole":{},"top":["hard"]}}`,
			"line 1, column 40: choices.top: this is a list, want an object in { }"},
		{`{"format":1,"choices":{"top":{"hard":true}}}`,
			"line 1, column 38: choices.top.hard: this is a truth value, want a whole number"},
		{`{"format":1,"choices":{"top":{"hard":99999999999999999999}}}`,
			"line 1, column 38: choices.top.hard: this is a number, want a whole number"},
		{`{"format":1,"use":{"persons":4,"region":null}}`,
			"line 1, column 41: use.region: a use is a number or the name of a choice, not null"},
		{`{"format":1,"use":{"region":""},"hull":"reed-65"}`,
			`line 1, column 29: use.region: a use is a number or the name of a choice, not ""`},
		{`{"format":1,"use":{"persons":1e999}}`,
			"line 1, column 30: use.persons: a use is a number or the name of a choice, not 1e999"},
		{`{"format":1,"extras":{}}`, "line 1, column 22: extras: this is an object, want a list in [ ]"},
		{`{"format":1,"extras":["a"]}`, "line 1, column 23: extras[0]: this is a text, want an object in { }"},
		{`{"format":1,"extras":[{"price":12.5}]}`,
			`line 1, column 32: extras[0].price: this is a number, want a decimal number in quotes, like "12.50"`},
		{"{\"format\":1,\"extras\":[{\"price\":\"1\"},\n{\"cost\":\"12,50\"}]\n}",
			`line 2, column 9: extras[1].cost: reading an amount "12,50": want digits with an optional decimal point, like 1450 or 3.85`},
		{`{"format":1,"extras":[{"hours":{"wood-shop":"two"}}]}`,
			`line 1, column 45: extras[0].hours.wood-shop: reading a quantity "two": want digits with an optional decimal point and at most 6 decimals`},
		{`{"format":1,"discounts":[{"share":"3%"}]}`,
			`line 1, column 35: discounts[0].share: reading a rate "3%": want digits with an optional decimal point, like 1450 or 3.85`},
		// the first of several
		{`{"format":1,"hull":5,"use":{"region":null},"x":1}`,
			"line 1, column 20: hull: this is a number, want a text in quotes"},
		// what a spec may hold
		{`null`, "the key format: is missing; begin the spec with {\"format\": 1, …}"},
		{`{"hull":"reed-65"}`, "the key format: is missing; begin the spec with {\"format\": 1, …}"},
		{`{"format":2,"hull":"reed-65"}`, "line 1, column 11: format: this program reads format 1 " +
			"alone, not 2; write 1, or open the file with the program that wrote it"},
		{"{\n \"hull\": \"reed-65\",\n \"format\": 0}", "line 3, column 12: format: this program reads format 1 " +
			"alone, not 0; write 1, or open the file with the program that wrote it"},
		{`{"format":1,"choices":{"top":{"hard":0}}}`,
			"line 1, column 38: choices.top.hard: 0 is no count; write 1 to 1000, or leave the option out"},
		{`{"format":1,"choices":{"top":{"hard":1001}}}`,
			"line 1, column 38: choices.top.hard: 1001 is no count; write 1 to 1000, or leave the option out"},
		// what is no text, which became the replacement character without a word
		{"\ufeff{\"format\":1}", "line 1, column 1: a byte-order mark stands before the text; save the file as UTF-8 " +
			"without one"},
		{"{\"format\":1,\n\"hull\":\"Gr\xf6\xdfe\"}",
			"line 2, column 11: the byte 0xf6 is not UTF-8; save the file as UTF-8, or correct the text"},
		{`{"format":1,"hull":"a\ud800b"}`, `line 1, column 22: the escape \ud800 is half a character; correct the text`},
		{`{"format":1,"hull":"\\\udc00"}`, `line 1, column 23: the escape \udc00 is half a character; correct the text`},
		{`{"format":1,"hull":"\ud800\ud800"}`, `line 1, column 21: the escape \ud800 is half a character; correct the text`},
		// deals
		{line(`},{"id":"b","title":"Two","price":"1"`),
			`line 1, column 94: extras[1].basis: "" does not say how the price is meant; write "net" or "with-tax"`},
		{line(`},{"id":"b","title":"Two","price":"1","basis":"gross"`),
			"line 1, column 138: " +
				`extras[1].basis: "gross" does not say how the price is meant; write "net" or "with-tax"`},
		{`{"format":1,"trade_in":{"title":"","allowance":"5"}}`,
			"line 1, column 33: trade_in.title: say what is taken in payment"},
		{`{"format":1,"trade_in":{"title":"Dinghy","allowance":"0"}}`,
			"line 1, column 54: trade_in.allowance: 0 is not above zero; write what the customer is credited with, " +
				"or leave the trade-in out"},
		{`{"format":1,"trade_in":{"title":"Dinghy","allowance":"5","value":"-1"}}`,
			"line 1, column 66: trade_in.value: -1 is negative; write what the yard expects to get for it, or " +
				"leave it out"},
		{`{"format":1,"discounts":[{"title":"` + strings.Repeat("x", 301) + `","share":"0.1"}]}`,
			"line 1, column 26: discounts[0]: a discount needs a title and either a share between 0 and 1 or an " +
				"amount above zero"},
		{line(`},{"id":"a","title":"Two","price":"1","basis":"net"`),
			"line 1, column 94: extras[1]: every extra item needs a title and an id of its own"},
		{line(`},{"title":"Two","price":"1"`),
			"line 1, column 94: extras[1]: every extra item needs a title and an id of its own"},
		{line(`},{"id":"b","price":"1"`),
			"line 1, column 94: extras[1]: every extra item needs a title and an id of its own"},
		{line(`,"cost":"-0.01"`), "line 1, column 100: extras[0].cost: -0.01 is negative; write zero or more"},
		{line(`,"hours":{"wood-shop":"1","glass-shop":"-1.5"}`),
			"line 1, column 131: extras[0].hours.glass-shop: -1.5 is negative; write zero or more"},
		{`{"format":1,"hull":"reed-65","discounts":[{"title":"Early","share":"0.02"},{"title":"Show"}]}`,
			"line 1, column 76: discounts[1]: a discount needs a title and either a share between 0 and 1 or an " +
				"amount above zero"},
	} {
		_, err := Decode([]byte(c.text))
		if want := "reading a spec: " + c.want; err == nil || err.Error() != want {
			t.Errorf("%.80s\n got %v\nwant %s", c.text, err, want)
		}
	}
}

func TestDiscounts(t *testing.T) {
	const bad = "reading a spec: line 1, column 43: discounts[0]: a discount needs a title and either a share " +
		"between 0 and 1 or an amount above zero"
	for text, want := range map[string]string{
		`{"title":"Show","share":"0.03"}`:                 "",
		`{"title":"Show","share":"1","on":"top"}`:         "",
		`{"title":"Show","amount":"0.01"}`:                "",
		`{"title":"Show"}`:                                bad,
		`{"title":"","share":"0.03"}`:                     bad,
		`{"title":"Show","share":"1.01"}`:                 bad,
		`{"title":"Show","share":"-0.03"}`:                bad,
		`{"title":"Show","amount":"-5"}`:                  bad,
		`{"title":"Show","amount":"0"}`:                   bad,
		`{"title":"Show","share":"0.03","amount":"5.00"}`: bad,
	} {
		_, err := Decode([]byte(`{"format":1,"hull":"reed-65","discounts":[` + text + `]}`))
		if got := fmt.Sprint(err); got != want && !(want == "" && err == nil) {
			t.Errorf("%s: %s, want %q", text, got, want)
		}
	}
}

func TestTooManyEntries(t *testing.T) {
	var choices, lines []string
	for i := range maxEntries + 1 {
		choices = append(choices, fmt.Sprintf(`"s%d":{}`, i))
		lines = append(lines, fmt.Sprintf(`{"id":"l%d","title":"x","price":"1","basis":"net"}`, i))
	}
	for name, body := range map[string]string{"choices": "{" + strings.Join(choices, ",") + "}",
		"extras": "[" + strings.Join(lines, ",") + "]"} {
		_, err := Decode([]byte(`{"format":1,"hull":"reed-65","` + name + `":` + body + `}`))
		if err == nil || err.Error() != "reading a spec: more than 2000 entries; is it a spec?" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Which of several wrong counts or hours was reported changed from run to run.
func TestTheSameSpecGivesTheSameError(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`"choices":{"e":{"x":0},"a":{"y":0,"b":-1,"z":0},"c":{"x":0}}`,
			"line 1, column 68: choices.a.b: -1 is no count; write 1 to 1000, or leave the option out"},
		{`"extras":[{"id":"a","title":"b","price":"1","basis":"net","hours":{"e":"-1","b":"-2","c":"-3"}}]`,
			"line 1, column 110: extras[0].hours.b: -2 is negative; write zero or more"},
	} {
		for range 20 {
			_, err := Decode([]byte(`{"format":1,"hull":"reed-65",` + c.text + `}`))
			if want := "reading a spec: " + c.want; err == nil || err.Error() != want {
				t.Fatalf("%s: %v, want %s", c.text, err, want)
			}
		}
	}
}

// The search for the place of an error stays quick in a text as large as may be.
func TestFaultInALargeText(t *testing.T) {
	text := `{"format":1,"x":` + strings.Repeat("[", 9_000) + strings.Repeat("]", 9_000) + `,"use":{` +
		strings.Repeat(`"a":1,`, 100_000) + `"b":null}}`
	_, err := Decode([]byte(text))
	if err == nil || err.Error() != "reading a spec: line 1, column 13: x: this key is not known here; correct or "+
		"remove it" {
		t.Error(err)
	}
}

// A pair of escapes is one character, and a backslash before u may be one that is escaped itself.
func TestEscapesThatAreWhole(t *testing.T) {
	s, err := Decode([]byte(`{"format":1,"hull":"\ud83d\udea4\\ud800\u00e9"}`))
	if want := "\U0001f6a4\\ud800\u00e9"; err != nil || s.Hull != want {
		t.Errorf("%q (%v), want %q", s.Hull, err, want)
	}
}

// Written out with its indents a spec within the limit of bytes was beyond it, and copying it panicked.
func TestWhatIsReadCanBeWrittenAndCopied(t *testing.T) {
	var many []string
	for i := range 90_000 {
		many = append(many, fmt.Sprintf(`"o%d":1`, i))
	}
	for text, want := range map[string]string{
		`{"format":1,"hull":"a","choices":{"top":{` + strings.Join(many, ",") +
			`}}}`: "reading a spec: more than 2000 entries; is it a spec?",
		`{"format":1,"hull":"a","choices":{"top":{` + strings.Join(many[:1999], ",") +
			`}}}`: "",
		`{"format":1,"hull":"` + strings.Repeat("<", 300_000) +
			`"}`: "reading a spec: 1800032 bytes are too many; at most 1048576",
		`{"format":1,"hull":"a","extras":[{"id":"a","title":"b","price":"1","basis":"net","hours":{` +
			strings.ReplaceAll(strings.Join(many[:60_000], ","), ":1", `:"1"`) +
			`}}]}`: "reading a spec: 1369057 bytes are too many; at most 1048576",
	} {
		s, err := Decode([]byte(text))
		if got := fmt.Sprint(err); got != want && !(want == "" && err == nil) {
			t.Errorf("%.80s: %v, want %q", text, err, want)
		}
		if err == nil && (s.Clone().Digest() != s.Digest() || s.Check() != nil) {
			t.Errorf("%.80s: the copy is another", text)
		}
	}
}

func FuzzDecode(f *testing.F) {
	for _, text := range []string{
		"", "null", "[]", "{}", `{"format":1,"hull":"reed-65"}`,
		`{"format":1,"hull":"reed-65","choices":{"top":{"hard":1},"sole":{}},"use":{"persons":4,"region":"us"}}`,
		`{"format":1,"hull":"reed-65","extras":[{"id":"a","title":"Berth","price":"12.50","basis":"net","cost":"3","hours":{"wood-shop":"1.5"}}],"discounts":[{"title":"Show","share":"0.03"}]}`,
		`{"format":1,"use":{"region":null},"x":[{"y":1}]}`, `{"format":1,"hull":"a","HULL":"b"} 5`,
		`{"extras":[{"price":5}]}`,
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Decode(text)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "reading a spec: ") {
				t.Fatalf("%q: the error does not say what was read: %v", text, err)
			}
			return
		}
		written := s.Encode() // once: this is most of the time of an input
		again, err := Decode(written)
		if err != nil || !bytes.Equal(again.Clone().Encode(), written) {
			t.Fatalf("%q came back as %s (%v)", text, again.Encode(), err)
		}
		s.Link()
	})
}

package source

import (
	"strings"
	"testing"

	"ribband/core/formula"
)

const (
	listed   = languageAdvice
	mixed    = "numbers and truth values never mix; write (condition ? 1 : 0) or compare the number"
	turn     = "write a condition as (… ? 1 : 0) to make it a number, or compare a number to make it a condition"
	textGoes = "texts stand in has, count, chosen and beside ==, != and in"
	alone    = `write has("option"), count("option"), chosen("slot"), hull.length_m, use.persons or figures.mass_kg`
	wantIn   = `write chosen("slot") in ["a", "b"], hull.id in [...] or use.region in [...]`
)

// fault is a text with the error it must give. Its place is where at begins for the first time; a $ stands for the end
// of the text.
type fault struct{ text, at, message, advice string }

// Every text is read as a condition.
var faults = map[string][]fault{
	"unknown names": {
		{`has("top-fxed")`, `"top-fxed"`, `unknown option "top-fxed"`, `did you mean "top-fixed"?`},
		{`count("xyz") > 1`, `"xyz"`, `unknown option "xyz"`, "no option of the book has this identifier"},
		{`has("")`, `""`, `unknown option ""`, "no option of the book has this identifier"},
		{`chosen("tap") == ""`, `"tap"`, `unknown slot "tap"`, `did you mean "top"?`},
		{`chosen("propeller") == ""`, `"propeller"`, `unknown slot "propeller"`,
			"no slot of the book has this identifier"},
		{`chosen("top") == "top-hart"`, `"top-hart"`, `"top-hart" is no option of slot top`,
			`did you mean "top-hard"?`},
		{`chosen("sole") in ["sole-ply", "top-hard"]`, `"top-hard"`, `"top-hard" is no option of slot sole`,
			`the known ones are "sole-ply", "sole-teak"`},
		{`hull.id == "reed-56"`, `"reed-56"`, `"reed-56" is no hull`, `did you mean "reed-65"?`},
		{`"x" != hull.id`, `"x"`, `"x" is no hull`, `the known ones are "reed-65", "rush-54", "sedge-46"`},
		{`hull.id == ""`, `""`, `"" is no hull`, `the known ones are "reed-65", "rush-54", "sedge-46"`},
		{`use.region == "fr"`, `"fr"`, `"fr" is no choice of use.region`, `the known ones are "de", "uk", "us"`},
		{`use.water in ["fresh", "brackish"]`, `"brackish"`, `"brackish" is no choice of use.water`,
			`the known ones are "fresh", "salt"`},
		{`hull.lenght_m > 5`, "lenght_m", "unknown field hull.lenght_m", `did you mean "length_m"?`},
		{`hull.x > 5`, "x >", "unknown field hull.x",
			"the fields are listed in the book under hull_fields, use and figures"},
		{`use.speed_k > 5`, "speed", "unknown field use.speed_k", `did you mean "speed_kn"?`},
		{`use.colour == "red"`, "colour", "unknown field use.colour",
			"the fields are listed in the book under hull_fields, use and figures"},
		{`figures.mass_k > 5`, "mass", "unknown field figures.mass_k", `did you mean "mass_kg"?`},
		{`hulls.length_m > 5`, "length_m", `unknown name "hulls"`, `did you mean "hull"?`},
		{`length_m > 5`, "length_m", `unknown name "length_m"`, listed},
		{`figure > 5`, "figure", `unknown name "figure"`, `did you mean "figures"?`},
		{`hass("top-fixed")`, "hass", `unknown function "hass"`, `did you mean "has"?`},
		{`maxi(1, 2) > 1`, "maxi", `unknown function "maxi"`, `did you mean "max"?`},
	},
	"names in the wrong place": {
		// the advice was: did you mean "hull"?
		{`hull > 5`, "hull", `"hull" stands alone`, alone},
		{`has`, "has", `"has" stands alone`, alone},
		{`has(top)`, "has", "has takes the identifier of one option in quotes", `write has("the-option")`},
		{`has("top-fixed", "top-hard")`, "has", "has takes the identifier of one option in quotes",
			`write has("the-option")`},
		{`count() > 1`, "count", "count takes the identifier of one option in quotes", `write count("the-option")`},
		{`chosen() == ""`, "chosen", "chosen takes the identifier of one slot in quotes", `write chosen("the-slot")`},
		{`chosen("fenders") == ""`, "chosen", `slot "fenders" holds several options, so there is no one chosen`,
			"ask with has or count for the option that matters"},
		{`1 < 2 and "fender-small" == chosen("fenders")`, "chosen",
			`slot "fenders" holds several options, so there is no one chosen`,
			"ask with has or count for the option that matters"},
		{`chosen("top")`, "chosen", "chosen gives an option, which stands only beside ==, != and in",
			`write chosen("slot") == "option", or chosen("slot") != "" to ask for any`},
		{`chosen("top") > 1`, "chosen", "chosen gives an option, which stands only beside ==, != and in",
			`write chosen("slot") == "option", or chosen("slot") != "" to ask for any`},
		{`chosen("top") == 1`, "1", "the option of slot top is compared with a text in quotes",
			`the texts are "top-fixed", "top-folding", "top-hard"`},
		{`chosen("top") == chosen("sole")`, `chosen("sole")`,
			"the option of slot top is compared with a text in quotes",
			`the texts are "top-fixed", "top-folding", "top-hard"`},
		// hull.id was called an unknown field
		{`hull.id + 1 > 2`, "id", "hull.id names a hull, which stands only beside ==, != and in",
			`write hull.id in ["reed-65", "rush-54", "sedge-46"]`},
		{`use.region > 1`, "region", "use.region is a choice, which stands only beside ==, != and in",
			`write use.region == "de"`},
		{`use.persons == "4"`, `"4"`, "a text stands where a number or a condition is wanted", textGoes},
		{`use.persons in ["4"]`, "in", "in asks about a hull, a slot or a choice of the use", wantIn},
		{`"top-fixed" in chosen("top")`, "in", "in asks about a hull, a slot or a choice of the use", wantIn},
		{`hull.id in "reed-65"`, `"reed-65"`, "in wants a list of texts", `write in ["a", "b"]`},
		{`hull.id in []`, "[", "in wants a list of texts", `write in ["a", "b"]`},
		{`hull.id in ["reed-65", 2]`, "2]", "the hull is compared with a text in quotes",
			`the texts are "reed-65", "rush-54", "sedge-46"`},
		{`hull.id.x == 1`, "x", "this form is not in the language of formulas",
			"fields are written hull.length_m, use.persons, figures.mass_kg"},
		{`hull[1] > 1`, "[", "this form is not in the language of formulas",
			"fields are written hull.length_m, use.persons, figures.mass_kg"},
	},
	"numbers and truth values": {
		{`use.persons`, "persons", "this gives a number, but a truth value is wanted here", turn},
		{`1 + 2`, "+", "this gives a number, but a truth value is wanted here", turn},
		{`has("top-hard") ? 1 : 0`, "has", "this gives a number, but a truth value is wanted here", turn},
		{`has("top-hard") + 1 > 1`, "has", "+ wants a number, this is a truth value", mixed},
		{`1 > (2 > 1)`, "> 1)", "> wants a number, this is a truth value", mixed},
		{`true == false`, "true", "== wants a number, this is a truth value", mixed},
		{`1 != true`, "true", "!= wants a number, this is a truth value", mixed},
		{`1 and true`, "1", "and wants a truth value, this is a number", mixed},
		{`true || (true ? 1 : 2)`, "true ?", "|| wants a truth value, this is a number", mixed},
		{`not count("top-hard") == 1`, "count", "not wants a truth value, this is a number", mixed},
		{`-true > 1`, "true", "- wants a number, this is a truth value", mixed},
		{`+true > 1`, "true", "+ wants a number, this is a truth value", mixed},
		{`1 ? true : false`, "1", "? wants a truth value, this is a number", mixed},
		{`true ? true : 1`, "1", "the second branch wants a truth value, this is a number", mixed},
		{`true ? 1 : false`, "false", "the second branch wants a number, this is a truth value", mixed},
		{`min(1, true) > 1`, "true", "min wants a number, this is a truth value", mixed},
		{`round(has("top-hard")) > 1`, "has", "round wants a number, this is a truth value", mixed},
		{`min() > 1`, "min", "min has 0 arguments", "min and max take one or more, the others one"},
		{`abs(1, 2) > 1`, "abs", "abs has 2 arguments", "min and max take one or more, the others one"},
	},
	"texts": {
		{`"a" + "b" == "ab"`, `"a"`, "a text stands where a number or a condition is wanted", textGoes},
		{`"a" == "a"`, `"a"`, "a text stands where a number or a condition is wanted", textGoes},
		{`"top-hard"`, `"top-hard"`, "a text stands where a number or a condition is wanted", textGoes},
	},
	// Pipes, ::, ?: and a semicolon at the end were taken, because they leave no trace in the tree. The place of a
	// conditional was its end, and that of if … else the beginning of the text.
	"outside the language": {
		{`7 % 2 == 1`, "%", `the operator "%" is not in the language of formulas`, listed},
		{`2 ** 3 > 1`, "**", `the operator "**" is not in the language of formulas`, listed},
		{`2 ^ 3 > 1`, "^", `the operator "^" is not in the language of formulas`, listed},
		{`1 > (use.persons ?? 2)`, "??", `the operator "??" is not in the language of formulas`, listed},
		{`1..3 == 2`, "..", `the operator ".." is not in the language of formulas`, listed},
		{`"abc" matches "b"`, "matches", `the operator "matches" is not in the language of formulas`, listed},
		{`"abc" contains "b"`, "contains", `the operator "contains" is not in the language of formulas`, listed},
		{`"abc" not contains "b"`, "contains", `the operator "contains" is not in the language of formulas`, listed},
		{`"abc" startsWith "b"`, "startsWith", `the operator "startsWith" is not in the language of formulas`, listed},
		{`"abc" endsWith "b"`, "endsWith", `the operator "endsWith" is not in the language of formulas`, listed},
		{`1 | abs() > 0`, "|", `the operator "|" is not in the language of formulas`, listed},
		{`"top-hard" | has()`, "|", `the operator "|" is not in the language of formulas`, listed},
		{`::abs(1) > 0`, "::", `the operator "::" is not in the language of formulas`, listed},
		{`true ?: false`, ":", `the operator ":" is not in the language of formulas`, listed},
		{`true;`, ";", `the operator ";" is not in the language of formulas`, listed},
		{`1; true`, ";", `the operator ";" is not in the language of formulas`, listed},
		{`let x = 1; x > 0`, ";", `the operator ";" is not in the language of formulas`, listed},
		{`true and if true { true } else { false }`, "if", "unexpected token Operator(\"if\")", listed},
		{`if has("top-hard") { true } else { false }`, "has", "if … else is not in the language of formulas",
			"write condition ? a : b"},
		{`not (if 1 < 2 { true } else { false })`, "<", "if … else is not in the language of formulas",
			"write condition ? a : b"},
		{`len("abc") > 1`, "len", `unknown function "len"`, listed},
		{`now() == 1`, "now", `unknown function "now"`, listed},
		{`filter([1], true) == 1`, "filter", `the function "filter" is not in the language of formulas`, listed},
		{`any([1], # > 0)`, "any", `the function "any" is not in the language of formulas`, listed},
		{`count([1]) > 0`, "count", "count takes the identifier of one option in quotes", `write count("the-option")`},
		{`hull?.length_m > 1`, "length_m", "this form is not in the language of formulas", listed},
		{`hull.length_m() > 1`, "length_m", "this form is not in the language of formulas", listed},
		{`"abc"[1:2] == "b"`, "[", "this form is not in the language of formulas", listed},
		{`[1] == 1`, "[", "this form is not in the language of formulas", listed},
		{`{a: 1} == 1`, "{", "this form is not in the language of formulas", listed},
		{`nil == 1`, "nil", "this form is not in the language of formulas", listed},
		{`b"x" == 1`, "b", "this form is not in the language of formulas", listed},
		{`$env == 1`, "$env", `unknown name "$env"`, listed},
	},
	"syntax": {
		{``, "", "unexpected token EOF", listed},
		{`  `, " $", "unexpected token EOF", listed},
		{`1 <`, "<", "unexpected token EOF", listed},
		{`(1 < 2`, "2", "unexpected token EOF", listed},
		{`1 < 2)`, ")", `unexpected token Bracket(")")`, listed},
		{`1 < < 2`, "< 2", `unexpected token Operator("<")`, listed},
		{`1 2`, "2", `unexpected token Number("2")`, listed},
		{`has("top`, `$`, "literal not terminated", listed},
		{`“top” == 1`, "“", "unrecognized character: U+201C '“'", listed},
		{`1.2.3 > 1`, ".3", `unexpected token Number(".3")`, listed},
		{`12abc > 1`, "a", `bad number syntax: "12a"`, listed},
		{`1e999 > 1`, ">", `invalid float literal: strconv.ParseFloat: parsing "1e999": value out of range`, listed},
	},
	"beyond ASCII before the place": {
		{`"Größe — 3 m²" == hull.id and foo`, `"Größe`, `"Größe — 3 m²" is no hull`,
			`the known ones are "reed-65", "rush-54", "sedge-46"`},
		{`/* größer als 4 m² */ hull.lenght_m > 4`, "lenght_m", "unknown field hull.lenght_m",
			`did you mean "length_m"?`},
		{`/* größer als 4 m² */ 1 2`, "2", `unexpected token Number("2")`, listed},
		{`/* 😀 */ true | abs()`, "| abs", `the operator "|" is not in the language of formulas`, listed},
		{"/* \xff\xfe */ foo", "foo", `unknown name "foo"`, listed},
	},
}

func TestFaults(t *testing.T) {
	scope := testScope()
	for topic, list := range faults {
		t.Run(topic, func(t *testing.T) {
			for _, f := range list {
				want := Error{strings.Index(f.text, f.at), f.message, f.advice}
				if at, ok := strings.CutSuffix(f.at, "$"); ok {
					want.Offset = len(f.text) - len(at)
				}
				switch _, err := Lower(f.text, scope, formula.Truth); {
				case err == nil:
					t.Errorf("%s: no error; want %+v", f.text, want)
				case *err != want:
					t.Errorf("%s:\n got %+v\nwant %+v", f.text, *err, want)
				case err.Error() != f.message+"; "+f.advice:
					t.Errorf("%s: %q", f.text, err.Error())
				}
			}
		})
	}
}

func TestConditionWhereANumberIsWanted(t *testing.T) {
	for text, at := range map[string]int{`has("top-hard")`: 0, `1 < 2`: 2, `hull.id == "reed-65"`: 8,
		`true ? false : true`: 0} {
		_, err := Lower(text, testScope(), formula.Number)
		if want := (Error{at, "this gives a truth value, but a number is wanted here", turn}); err == nil ||
			*err != want {
			t.Errorf("%s: %+v, want %+v", text, err, want)
		}
	}
}

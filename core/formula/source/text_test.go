package source

import (
	"strings"

	"pgregory.net/rapid"

	"ribband/core/formula"
)

// writer draws well-typed formula texts over testScope.
type writer struct{ t *rapid.T }

func (w writer) pick(label string, from ...string) string {
	return rapid.SampledFrom(from).Draw(w.t, label)
}

func (w writer) of(kind formula.Kind, depth int) string {
	if kind == formula.Truth {
		return w.truth(depth)
	}
	return w.number(depth)
}

func (w writer) number(depth int) string {
	form := w.pick("number", "literal", "name", "count", "arithmetic", "sign", "fold", "round", "conditional")
	if depth == 0 {
		form = w.pick("leaf", "literal", "name", "count")
	}
	switch form {
	case "literal":
		return w.pick("literal", "0", "1", "2", "2.5", ".5", "0.1", "1000", "1e308", "5e-324", "9007199254740993",
			"0x1F", "1_000")
	case "name":
		return w.pick("name", "hull.length_m", "hull.sole_m2", `hull["persons"]`, "use.persons", "use.speed_kn",
			"figures.mass_kg", "figures.bank_v", "figures.motor_kw")
	case "count":
		return "count(" + w.option() + ")"
	case "arithmetic": // precedence is left to the parser now and then
		text := w.number(depth-1) + w.pick("operator", " + ", " - ", " * ", " / ", "+", "*") + w.number(depth-1)
		if rapid.Bool().Draw(w.t, "parentheses") {
			text = "(" + text + ")"
		}
		return text
	case "sign":
		return w.pick("sign", "-", "+") + "(" + w.number(depth-1) + ")"
	case "fold":
		parts := make([]string, rapid.IntRange(1, 4).Draw(w.t, "arguments"))
		for i := range parts {
			parts[i] = w.number(depth - 1)
		}
		return w.pick("fold", "min", "max") + "(" + strings.Join(parts, ", ") + ")"
	case "round":
		return w.pick("round", "abs", "ceil", "floor", "round") + "(" + w.number(depth-1) + ")"
	}
	return "(" + w.truth(depth-1) + " ? " + w.number(depth-1) + " : " + w.number(depth-1) + ")"
}

func (w writer) truth(depth int) string {
	form := w.pick("truth", "constant", "has", "membership", "comparison", "chain", "not", "junction", "conditional")
	if depth == 0 {
		form = w.pick("leaf", "constant", "has", "membership")
	}
	switch form {
	case "constant":
		return w.pick("constant", "true", "false")
	case "has":
		return "has(" + w.option() + ")"
	case "membership":
		return w.membership()
	case "comparison":
		return w.number(depth-1) + w.pick("comparison", " < ", " <= ", " > ", " >= ", " == ", " != ") +
			w.number(depth-1)
	case "chain":
		return w.number(depth-1) + w.pick("first", " < ", " >= ") + w.number(depth-1) + w.pick("second", " <= ",
			" > ") + w.number(depth-1)
	case "not":
		return w.pick("not", "not ", "!") + "(" + w.truth(depth-1) + ")"
	case "junction":
		text := w.truth(depth-1) + w.pick("junction", " and ", " && ", " or ", " || ") + w.truth(depth-1)
		if rapid.Bool().Draw(w.t, "parentheses") {
			text = "(" + text + ")"
		}
		return text
	}
	return "(" + w.truth(depth-1) + " ? " + w.truth(depth-1) + " : " + w.truth(depth-1) + ")"
}

func (w writer) option() string {
	return quote(w.pick("option", "top-folding", "top-fixed", "top-hard", "sole-ply", "sole-teak", "fender-small",
		"fender-large"), w.pick("quote", `"`, `'`, "`"))
}

func quote(text, mark string) string { return mark + text + mark }

// membership compares a slot, the hull or a choice with one text or a list of them, from either side.
func (w writer) membership() string {
	left, known := w.domain()
	one := func() string { return quote(w.pick("text", known...), `"`) }
	switch w.pick("membership", "equal", "turned", "in", "not in") {
	case "equal":
		return left + w.pick("comparison", " == ", " != ") + one()
	case "turned":
		return one() + w.pick("comparison", " == ", " != ") + left
	}
	list := make([]string, rapid.IntRange(1, 3).Draw(w.t, "list"))
	for i := range list {
		list[i] = one()
	}
	return left + w.pick("in", " in ", " not in ") + "[" + strings.Join(list, ", ") + "]"
}

func (w writer) domain() (left string, known []string) {
	switch w.pick("domain", "top", "sole", "hull", "region", "water") {
	case "top":
		return `chosen("top")`, []string{"top-folding", "top-fixed", "top-hard", ""}
	case "sole":
		return `chosen("sole")`, []string{"sole-ply", "sole-teak", ""}
	case "hull":
		return "hull.id", []string{"sedge-46", "rush-54", "reed-65"}
	case "region":
		return "use.region", []string{"de", "uk", "us"}
	}
	return "use.water", []string{"fresh", "salt"}
}

package formula

import (
	"fmt"
	"testing"
)

func TestInfix(t *testing.T) {
	name := func(kind string) func(int) string { return func(i int) string { return fmt.Sprint(kind, i) } }
	words := Words{Options: name("option-"), Slots: name("slot-"), Hull: name("field_"), Use: name("use_"),
		Figures: name("figure_")}
	for _, c := range []struct{ lowered, want string }{
		{"n1.5", "1.5"},
		{"h0 n2 * n3 +", "hull.field_0 * 2 + 3"},
		{"h0 n2 n3 + *", "hull.field_0 * (2 + 3)"},
		{"n1 n2 - n3 -", "1 - 2 - 3"},
		{"n1 n2 n3 - -", "1 - (2 - 3)"},
		{"n1 n2 n3 / /", "1 / (2 / 3)"},
		{"n1 n2 + ~", "-(1 + 2)"},
		{"f1 n0 < !", "not (figures.figure_1 < 0)"},
		{"o1 o2 | o3 &", `(has("option-1") or has("option-2")) and has("option-3")`},
		{"o1 o2 o3 & |", `has("option-1") or has("option-2") and has("option-3")`},
		{"s4 !", `not (chosen("slot-4") != "")`},
		{"o1 n1 n0 ?", `has("option-1") ? 1 : 0`},
		{"c2 u1 m n7 M", `max(min(count("option-2"), use.use_1), 7)`},
		{"i n2 =", "hull.id == 2"},
		{"T F &", "true and false"},
		{"f3 ^", "ceil(figures.figure_3)"},
	} {
		p, err := Parse(c.lowered)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Infix(words); got != c.want {
			t.Errorf("%s is %s, want %s", c.lowered, got, c.want)
		}
	}
	if got := (Program{}).Infix(words); got != "" {
		t.Errorf("no formula is %q", got)
	}
}

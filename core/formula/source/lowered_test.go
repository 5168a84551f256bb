package source

import (
	"testing"

	"ribband/core/formula"
)

// What the forms of the language become.
func TestLoweredText(t *testing.T) {
	for text, want := range map[string]string{
		`has("top-hard")`:                        "o2",
		`count("fender-large") * 2`:              "c6 n2 *",
		`hull.persons + use.speed_kn`:            "h2 u1 +",
		`figures.motor_kw / 0.5`:                 "f2 n0.5 /",
		`1 > 2`:                                  "n2 n1 <",
		`1 >= 2`:                                 "n2 n1 {",
		`1 != 2`:                                 "n1 n2 = !",
		`1 - 2 - 3`:                              "n1 n2 - n3 -",
		`1 + 2 * 3`:                              "n1 n2 n3 * +",
		`-1 + +2`:                                "n1 ~ n2 +",
		`min(1)`:                                 "n1",
		`max(1, 2, 3)`:                           "n1 n2 M n3 M",
		`1 < use.persons <= 3`:                   "n1 u0 < u0 n3 { &",
		`true or false and true`:                 "T F T & |",
		`not has("sole-ply") && has("top-hard")`: "o3 ! o2 &",
		`true ? 1 : 2`:                           "T n1 n2 ?",
		`chosen("sole") == ""`:                   "s1 !",
		`chosen("sole") != ""`:                   "s1 ! !",
		`"sole-ply" != chosen("sole")`:           "o3 !",
		`chosen("top") in ["top-hard", "top-fixed", ""]`: "o2 o1 | s0 ! |",
		`hull.id not in ["reed-65", "sedge-46"]`:         "i n2 = i n0 = | !",
		`use.water == "salt"`:                            "u3 n1 =",
	} {
		p, err := Lower(text, testScope(), formula.Number)
		if err != nil {
			p, err = Lower(text, testScope(), formula.Truth)
		}
		if err != nil || p.String() != want {
			t.Errorf("%s: %s, want %s (%v)", text, p, want, err)
		}
	}
}

package source

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"ribband/core/formula"
)

// formulasSection is the section of the book's README that says what the language is.
func formulasSection(t *testing.T) string {
	text, err := os.ReadFile("../../../rules/README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, found := strings.Cut(string(text), "\n## Formulas\n")
	if !found {
		t.Fatal("the README has no section on formulas")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	return section
}

// readmeForms are formulas for each row of the README's table, by the first cell of the row.
var readmeForms = map[string][]string{
	"`has(\"option\")`":   {`has("top-hard")`},
	"`count(\"option\")`": {`count("fender-small") > 0`},
	"`chosen(\"slot\")`": {`chosen("top") == "top-hard"`, `chosen("top") != "top-hard"`, `chosen("sole") == ""`,
		`chosen("top") in ["top-hard", "top-fixed"]`},
	"`hull.length_m`, `hull.id`": {`hull.length_m > 5`, `hull.id == "reed-65"`, `hull.id != "reed-65"`,
		`hull.id in ["reed-65", "rush-54"]`},
	"`figures.bank_kwh`": {`figures.mass_kg > 0`},
	"`+ - * /`, `< <= > >= == !=`, `and or not`, `a ? b : c`, `( )`": {`1 + 2 - 3 * 4 / 5 < 6`, `1 <= 2`, `1 > 2`,
		`1 >= 2`, `1 == 2`, `1 != 2`, `true and false or not true`, `(true ? 1 : 0) > 0`},
	"`use.speed_kn`, `use.region == \"us\"`": {`use.speed_kn > 4`, `use.region == "us"`,
		`use.region != "us"`, `use.region in ["us", "uk"]`},
	"`min(a, b, …) max(a, b, …) abs(x) ceil(x) floor(x) round(x)`": {`min(1, 2, 3) > 0`, `max(1, 2, 3) > 0`,
		`abs(-1) > 0`, `ceil(1.5) > 0`, `floor(1.5) > 0`, `round(2.5) == 3 and round(-2.5) == -3`},
}

func TestEveryFormOfTheReadmeLowers(t *testing.T) {
	scope := testScope()
	rows := 0
	for _, line := range strings.Split(formulasSection(t), "\n") {
		cells := strings.Split(line, " | ")
		if !strings.HasPrefix(line, "| ") || len(cells) != 2 || strings.HasPrefix(line, "| form ") ||
			strings.HasPrefix(line, "| --- ") {
			continue
		}
		rows++
		form := strings.TrimPrefix(cells[0], "| ")
		forms, ok := readmeForms[form]
		if !ok {
			t.Errorf("the README has the form %s, which no test lowers", form)
		}
		for _, text := range forms {
			if _, err := Lower(text, scope, formula.Truth); err != nil {
				t.Errorf("%s, of the form %s: %v", text, form, err)
			}
		}
	}
	if rows != len(readmeForms) {
		t.Errorf("the README has %d forms, the test %d", rows, len(readmeForms))
	}
	st := &formula.State{}
	if p, err := Lower(readmeForms["`min(a, b, …) max(a, b, …) abs(x) ceil(x) floor(x) round(x)`"][5], scope,
		formula.Truth); err != nil || !p.Truth()(st) {
		t.Error("round does not take halves away from zero")
	}
}

// The guard that the README recommends, with names of the test's scope.
func TestGuardedDivision(t *testing.T) {
	if !strings.Contains(formulasSection(t), "`figures.bank_v > 0 ? 1000 * figures.motor_kw / figures.bank_v : 0`") {
		t.Error("the README shows another guard")
	}
	p, err := Lower("figures.bank_v > 0 ? 1000 * figures.motor_kw / figures.bank_v : 0", testScope(), formula.Number)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ volts, want float64 }{{48, 1000 * 4.0 / 48}, {0, 0}} {
		if got := p.Number()(&formula.State{Figures: []float64{0, c.volts, 4}}); got != c.want {
			t.Errorf("at %v V: %v, want %v", c.volts, got, c.want)
		}
	}
}

func TestReadmeNamesEveryFunctionAndOperator(t *testing.T) {
	section := formulasSection(t)
	for _, name := range append([]string{"has", "count", "chosen"}, builtins...) {
		if !strings.Contains(section, name+"(") {
			t.Errorf("the README does not name %s", name)
		}
	}
	for op := range binaries {
		if op == "&&" || op == "||" { // other spellings of and, or
			continue
		}
		if !regexp.MustCompile("[` ]" + regexp.QuoteMeta(op) + "[` ]").MatchString(section) {
			t.Errorf("the README does not name the operator %s", op)
		}
	}
	for root := range names {
		if !strings.Contains(section, root) {
			t.Errorf("the README does not name %s", root)
		}
	}
}

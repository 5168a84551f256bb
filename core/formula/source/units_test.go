package source

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/parser"
	"pgregory.net/rapid"

	"ribband/core/formula"
	"ribband/core/measure"
)

// testUnits are units of what the tests' formulas read.
func testUnits() *Units {
	return &Units{Hull: map[string]string{"length_m": "m", "sole_m2": "m2", "draft_m": "m", "persons": "each"},
		Use: map[string]string{"persons": "each", "speed_kn": "kn", "hours": "h"},
		Figures: map[string]string{"mass_kg": "kg", "bank_v": "V", "motor_kw": "kW", "bank_kwh": "kWh",
			"house_ah": "Ah", "range_nm": "nm", "solar_w": "W", "bottom_mm": "mm",
			"usable_share": "each", "foam_l": "l", "trim_deg": "deg", "warp_fathoms": "fathom", "rolls": "roll"},
		// six feet and a square foot, of the foot of 0.3048 m exactly: NIST Special Publication 811 (2008), appendix B.
		// Its table of fathoms is of the survey foot, 1.828 804 m; from memory
		Own: map[string]Own{"fathom": {"m", 1.8288}, "sqft": {"m2", 0.09290304}, "roll": {}}}
}

func TestUnitsOfFormulas(t *testing.T) {
	for _, c := range []struct{ text, wanted, message, advice string }{
		{"figures.mass_kg + 80 * use.persons", "kg", "", ""},
		{"figures.mass_kg > hull.length_m", "", "> compares kg with m", "mend the formula"},
		{"figures.mass_kg + 12 > 300 and figures.mass_kg + hull.sole_m2 > 3", "", "+ adds m2 to kg", "mend"},
		{"figures.bottom_mm > hull.draft_m", "", "> compares mm with m", "convert: mm / 1000 is m"},
		{"figures.bottom_mm / 1000 > hull.draft_m", "", "", ""},
		{"hull.draft_m == figures.bottom_mm", "", "== compares m with mm", "convert: m * 1000 is mm"},
		{"0 < figures.mass_kg <= hull.length_m", "", "<= compares kg with m", "mend"},
		{"figures.range_nm / use.speed_kn - use.hours", "h", "", ""},
		{"figures.range_nm / use.speed_kn - hull.length_m", "h", "- takes m from h", "mend"},
		{"figures.bank_kwh / figures.bank_v > figures.house_ah", "", "> compares 1000·h·A with Ah",
			"convert: 1000·h·A * 1000 is Ah"},
		{"1000 * figures.bank_kwh / figures.bank_v > figures.house_ah", "", "", ""},
		{"figures.solar_w / figures.bank_v", "A", "", ""},
		{"figures.motor_kw / figures.bank_v", "A", "this gives 1000·A, but A is wanted here",
			"convert: 1000·A * 1000 is A"},
		{"hull.length_m * hull.draft_m * hull.length_m", "l", "this gives m3, but l is wanted here",
			"convert: m3 * 1000 is l"},
		{"hull.length_m / hull.draft_m + count(\"fender-small\") + figures.mass_kg", "kg", "", ""},
		{"max(figures.mass_kg, 3, hull.length_m)", "kg", "max compares kg with m", "mend"},
		{"has(\"top-hard\") ? figures.mass_kg : hull.length_m", "kg", "one branch gives kg, the other m", "mend"},
		{"ceil(-figures.bottom_mm)", "m", "this gives mm, but m is wanted here", "convert: mm / 1000 is m"},
		{"hull.sole_m2 / figures.foam_l", "m2/l", "", ""},
		{"figures.foam_l / hull.sole_m2", "m2/l", "this gives mm, but m2/l is wanted here", "mend"},
		{"figures.trim_deg < hull.draft_m", "", "< compares deg with m", "mend"},
		{"use.region == \"us\" and hull.id in [\"reed-65\"] and chosen(\"top\") != \"\"", "", "", ""},
		{"figures.mass_kg +", "kg", "", ""}, // Lower says more
		// units of the book
		{"hull.length_m + hull.draft_m", "fathom", "this gives m, but fathom is wanted here",
			"convert: m / 1.8288 is fathom"},
		{"(hull.length_m + hull.draft_m) / 1.8288", "fathom", "", ""},
		{"figures.warp_fathoms > hull.length_m", "", "> compares fathom with m", "convert: fathom * 1.8288 is m"},
		{"figures.warp_fathoms * hull.length_m", "m2", "this gives 1.8288·m2, but m2 is wanted here",
			"convert: 1.8288·m2 * 1.8288 is m2"},
		{"hull.sole_m2", "sqft", "this gives m2, but sqft is wanted here", "convert: m2 * 10.7639104 is sqft"},
		{"figures.mass_kg", "fathom", "this gives kg, but fathom is wanted here", "mend"},
		{"figures.mass_kg + figures.rolls", "kg", "", ""}, // a count goes with every unit
		{"ceil(hull.length_m / 50)", "roll", "", ""},
	} {
		err, doubtful := testUnits().Check(c.text, c.wanted)
		switch {
		case err == nil && c.message != "",
			err != nil && (err.Message != c.message || !strings.HasPrefix(err.Advice, c.advice)):
			t.Errorf("%s: %v, want %s; %s", c.text, err, c.message, c.advice)
		case doubtful != (strings.HasPrefix(c.message, "this gives") && c.advice == "mend"):
			t.Errorf("%s: doubtful %v", c.text, doubtful)
		}
	}
}

// The units are those of package measure, in the proportions that their factors to customary units and units ashore
// give, where two of one dimension have some.
func TestKnownUnits(t *testing.T) {
	for _, u := range measure.Units {
		if _, ok := known[u.ID]; !ok {
			t.Errorf("the unit %s is not known", u.ID)
		}
	}
	for _, c := range []struct {
		a, b string
		want float64
	}{{"km", "m", 1000}, {"m", "mm", 1000}, {"m2", "mm2", 1e6}, {"m3", "l", 1000}, {"nm", "km", 1.852},
		{"kW", "W", 1000}} {
		if a, b := known[c.a], known[c.b]; a.powers != b.powers || !near(a.factor/b.factor, c.want) {
			t.Errorf("a %s is %v %s, want %v", c.a, a.factor/b.factor, c.b, c.want)
		}
	}
}

// scaled are fields whose units are powers of the base units, which a change of those scales.
var scaled = []string{"hull.length_m", "hull.sole_m2", "hull.draft_m", "use.speed_kn", "use.hours", "figures.mass_kg",
	"figures.bank_v", "figures.motor_kw", "figures.bottom_mm", "figures.foam_l", "figures.trim_deg"}

// sums are formulas without numbers of their own, of which no two parts cancel: the values are above zero.
func sums(depth int) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		if depth == 0 || rapid.IntRange(0, 3).Draw(t, "leaf") == 0 {
			return rapid.SampledFrom(scaled).Draw(t, "field")
		}
		a, b := sums(depth-1).Draw(t, "left"), sums(depth-1).Draw(t, "right")
		op := rapid.SampledFrom([]string{"+", "*", "/", "*", "/", "min", "max", "abs", "?"}).Draw(t, "operator")
		switch op {
		case "min", "max":
			return fmt.Sprintf("%s(%s, %s)", op, a, b)
		case "abs":
			return fmt.Sprintf("abs(%s)", a)
		case "?":
			return fmt.Sprintf("(%s < %s ? %s : %s)", a, b, b, a)
		default:
			return fmt.Sprintf("(%s %s %s)", a, op, b)
		}
	})
}

// mixing finds sums and comparisons of what has a unit with what has none.
type mixing struct {
	units *Units
	found bool
}

func (m *mixing) Visit(n *ast.Node) {
	var parts []ast.Node
	switch n := (*n).(type) {
	case *ast.BinaryNode:
		if n.Operator == "+" || n.Operator == "<" {
			parts = []ast.Node{n.Left, n.Right}
		}
	case *ast.BuiltinNode:
		parts = n.Arguments
	case *ast.ConditionalNode:
		parts = []ast.Node{n.Exp1, n.Exp2}
	}
	for _, part := range parts {
		c := checking{units: m.units}
		m.found = m.found || c.node(part).pure() != c.node(parts[0]).pure()
	}
}

// What the check lets pass has a meaning that no choice of units changes: measured in other base units, a formula
// without numbers of its own gives the same in the unit that it is said to have. Source: dimensional homogeneity,
// P. W. Bridgman, Dimensional Analysis (1922), ch. 2; a second way to the same, by values and not by names.
func TestPropertyUnitsAreHomogeneous(t *testing.T) {
	units, passed, refused := testUnits(), 0, 0
	scope := &Scope{Hull: map[string]int{}, Use: map[string]Use{}, Figures: map[string]int{}}
	var of [3][]unit
	for _, name := range scaled {
		root, field, _ := strings.Cut(name, ".")
		switch root {
		case "hull":
			scope.Hull[field], of[0] = len(of[0]), append(of[0], units.parsed(units.Hull[field]))
		case "use":
			scope.Use[field], of[1] = Use{Index: len(of[1])}, append(of[1], units.parsed(units.Use[field]))
		default:
			scope.Figures[field], of[2] = len(of[2]), append(of[2], units.parsed(units.Figures[field]))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		text := sums(4).Draw(t, "formula")
		program, bad := Lower(text, scope, formula.Number)
		if bad != nil {
			t.Fatal(bad)
		}
		if err, _ := units.Check(text, ""); err != nil {
			refused++
			return
		}
		tree, err := parser.ParseWithConfig(text, config(names))
		if err != nil {
			t.Fatal(err)
		}
		mixed := &mixing{units: units}
		if ast.Walk(&tree.Node, mixed); mixed.found {
			return // what has no unit went with what has one
		}
		passed++
		gives := (&checking{text: text, units: units}).node(tree.Node)
		size := func(u unit, by [6]float64) float64 {
			f := 1.0
			for i, n := range u.powers {
				f *= math.Pow(by[i], float64(n))
			}
			return f
		}
		var by [6]float64
		for i := range by {
			by[i] = rapid.Float64Range(0.5, 2).Draw(t, "base")
		}
		before, after := &formula.State{}, &formula.State{}
		for i, list := range of {
			for _, u := range list {
				v := rapid.Float64Range(0.5, 4).Draw(t, "value")
				was := []*[]float64{&before.Hull, &before.Use, &before.Figures}[i]
				is := []*[]float64{&after.Hull, &after.Use, &after.Figures}[i]
				*was, *is = append(*was, v), append(*is, v*size(u, by))
			}
		}
		x, y := program.Number()(before), program.Number()(after)
		want := x * size(gives, by)
		if math.Abs(y-want) > 1e-9*want {
			t.Fatalf("%s gives %v, in %s, and %v in other units, want %v", text, x, gives, y, want)
		}
	})
	if passed < 20 || refused < 20 {
		t.Errorf("%d formulas passed, %d were refused", passed, refused)
	}
}

// Any text is checked without a panic, and a place is within it.
func FuzzUnits(f *testing.F) {
	for _, text := range []string{"figures.mass_kg > hull.length_m", "a ? b : c", "min()", "1 <",
		"hull.length_m * -hull.sole_m2",
		"figures.bottom_mm + hull.draft_m", "0 < hull.draft_m < figures.mass_kg", "\xff", "::min(1)", "hull[1]"} {
		f.Add(text, "kg")
	}
	f.Fuzz(func(t *testing.T, text, wanted string) {
		if err, _ := testUnits().Check(text, wanted); err != nil &&
			(err.Offset < 0 || err.Offset > len(text) || err.Message == "" || err.Advice == "") {
			t.Errorf("%q: %+v", text, err)
		}
	})
}

// The formulas of the README's chapter on units are what it says of them.
func TestReadmeOnUnits(t *testing.T) {
	_, section, _ := strings.Cut(formulasSection(t), "### Units")
	section, _, _ = strings.Cut(section, "\n### ")
	units := testUnits()
	for _, c := range []struct {
		text, wanted string
		fails        bool
	}{
		{"figures.range_nm / use.speed_kn", "h", false}, {"figures.solar_w / figures.bank_v", "A", false},
		{"figures.mass_kg > hull.length_m", "", true}, {"figures.bottom_mm > hull.draft_m", "", true},
		{"figures.bottom_mm / 1000", "m", false}, {"8.5 * hull.sole_m2", "kg", false},
		{"1000 * figures.motor_kw", "W", false}, {"1 * hull.sole_m2", "h", false},
	} {
		there := strings.Contains(section, "`"+c.text+"`")
		if err, _ := units.Check(c.text, c.wanted); !there || (err != nil) != c.fails {
			t.Errorf("`%s`: in the README %v, error %v", c.text, there, err)
		}
	}
	if words := strings.Fields(section); !slices.Contains(words, "warning,") {
		t.Error("the README does not say what is doubtful")
	}
}

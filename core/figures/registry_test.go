package figures_test

import (
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"ribband/core/figures"
	"ribband/core/measure"
	"ribband/core/msg"
)

var update = flag.Bool("update", false, "write the names of computed figures into rules/README.md")

// Every figure that can be computed says what it is, in which unit, how and from where; each name is there once and
// ends in its unit, but for what is counted.
func TestRegistry(t *testing.T) {
	seen := map[figures.ID]bool{}
	for _, d := range figures.Registry() {
		for what, m := range map[string]msg.Message{"title": d.Title(), "formula": d.Formula(), "source": d.Source()} {
			if !msg.English.Has(m.Code) {
				t.Errorf("%s has no %s: add %s to core/msg/en.json", d.ID, what, m.Code)
			}
		}
		u, known := measure.UnitOf(d.Unit)
		if end, ends := measure.Suffix(string(d.ID)); !known || ends != !measure.Counted(u.ID) || ends && end != u {
			t.Errorf("%s is in %q", d.ID, d.Unit)
		}
		if seen[d.ID] {
			t.Errorf("%s is there twice", d.ID)
		}
		seen[d.ID] = true
		if found, ok := figures.Find(d.ID); !ok || found.Unit != d.Unit {
			t.Errorf("%s is not found", d.ID)
		}
	}
	if _, ok := figures.Find("floating.draft"); ok {
		t.Error("a figure is found under a part of its name")
	}
}

// Every constant of the package that names a computed figure is one of the registry, and every figure has one.
func TestEachFigureHasItsConstant(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	constants := map[figures.ID]string{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			v, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			if kind, ok := v.Type.(*ast.Ident); ok && kind.Name == "ID" && len(v.Values) == 1 {
				text, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
				if err != nil {
					t.Fatal(err)
				}
				constants[figures.ID(text)] = v.Names[0].Name
			}
			return true
		})
	}
	for id, name := range constants {
		if _, ok := figures.Find(id); !ok {
			t.Errorf("%s names %s, which nothing computes", name, id)
		}
	}
	for _, d := range figures.Registry() {
		if constants[d.ID] == "" {
			t.Errorf("%s has no constant", d.ID)
		}
	}
}

// The demo book has every figure that can be computed but those named here, in the unit of the registry, so that the
// tests of its boats run through every module; and of what modules read by name it states the same unit.
func TestDemoBookHasTheFigures(t *testing.T) {
	without := map[figures.ID]bool{figures.FloatingLCG: true, figures.FloatingVCG: true, figures.FloatingMCTC: true,
		figures.PowerCurrent: true}
	have := map[figures.ID]string{}
	for _, f := range demo.Figures {
		have[figures.ID(f.Computed)] = f.Unit
		if u := figures.Given(f.ID).Unit(); u != "" && u != f.Unit {
			t.Errorf("the figure %s is in %s", f.ID, f.Unit)
		}
	}
	for _, d := range figures.Registry() {
		if unit, ok := have[d.ID]; ok == without[d.ID] || ok && unit != d.Unit {
			t.Errorf("%s is in %s, in the demo book %q", d.ID, d.Unit, unit)
		}
	}
	for _, f := range demo.HullFields {
		if u := figures.HullField(f.ID).Unit(); u != "" && u != f.Unit {
			t.Errorf("the hull field %s is in %s", f.ID, f.Unit)
		}
	}
	for _, f := range demo.Use {
		if u := figures.UseField(f.ID).Unit(); u != "" && u != f.Unit {
			t.Errorf("the field %s of the use is in %s", f.ID, f.Unit)
		}
	}
}

// The README of the book says of every computed figure what it follows from: a row for each module, whose names are
// those of the registry. What the rows say is written there by hand.
func TestReadmeNamesTheComputedFigures(t *testing.T) {
	const file, head = "../../rules/README.md", "| name | follows from |\n| --- | --- |\n"
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(text), head)
	table, after, ended := strings.Cut(rest, "\n\n")
	if !found || !ended {
		t.Fatal("the README has no table of computed figures")
	}
	follows := map[string]string{} // by module
	for _, row := range strings.Split(table, "\n") {
		names, says, _ := strings.Cut(strings.TrimPrefix(row, "| `"), "` | ")
		module, _, _ := strings.Cut(names, ".")
		follows[module] = says
	}
	var rows []string
	last := ""
	for _, d := range figures.Registry() {
		module, name, _ := strings.Cut(string(d.ID), ".")
		if module != last {
			if follows[module] == "" {
				t.Errorf("the README does not say what the figures %s.* follow from", module)
			}
			last = module
			rows = append(rows, "| `"+module+"."+name+"` | "+follows[module])
			continue
		}
		rows[len(rows)-1] = strings.Replace(rows[len(rows)-1], "` | ", " "+name+"` | ", 1)
	}
	want := strings.Join(rows, "\n")
	if *update {
		if err := os.WriteFile(file, []byte(before+head+want+"\n\n"+after), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if table != want {
		t.Errorf("the names of the computed figures in rules/README.md are others; look at them, and write them with "+
			"-update:\n%s", want)
	}
}

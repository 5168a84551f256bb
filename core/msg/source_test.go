package msg_test

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ribband/core/figures"
	"ribband/core/msg"
)

// A sentence is a string literal with two words or more. It has no place outside the files of languages, but for
//
//   - what programmers, the command line and the checker of books read: arguments of errors.New, fmt.Errorf, panic,
//     and of the functions of a package that make such errors (forErrors),
//   - struct tags, import paths, and what is no words: marks, CSS, SVG, HTML (a literal with one of <>{}=;)
//   - the packages that speak to nobody else (english).

// english are packages whose words are for whoever keeps the book or runs the command line, with the reason.
var english = map[string]string{
	"core/actuals":           "the command line, for the owner",
	"core/bank":              "what is wrong with its inputs, for whoever keeps the book",
	"core/book":              "the checker of books",
	"core/book/amend":        "the command line, for the owner",
	"core/book/begin":        "asks the owner on the command line, and knows the words of countries",
	"core/book/source":       "the checker of books",
	"core/book/synthetic":    "makes books for tests",
	"core/cutfiles":          "words of formats",
	"core/editions":          "the command line, for the owner",
	"core/engine/enginetest": "shared by tests",
	"core/engine/sample":     "makes boats for tests",
	"core/fit/sat":           "for programmers",
	"core/formula/source":    "the checker of books",
	"core/msg":               "errors of the files of languages",
	"core/photo":             "the checker of books",
	"core/orders":            "the command line, for the yard",
	"core/orders/list":       "the command line, for the yard",
	"core/publish":           "the checker of books",
	"core/proof":             "the checker of books",
	"core/supply":            "the command line, and the words of suppliers' lists",
	"core/suggest":           "the remedy of errors",
}

// forErrors are the functions, types, names and whole files by which a package makes errors for programmers and keepers
// of books.
var forErrors = map[string][]string{
	"core/deals":  {"Kind", "check"},
	"core/screen": {"Class", "Aria"}, // of HTML: classes of the style sheet, identifiers
	"core/quote":  {"Kind"},
	"core/brief":  {"Kind"}, // of a file
	// what is wrong with the circuits of a book, for its checker
	"core/engine":  {"circuitFault", "unsafe"},
	"core/formula": {"String"}, // kinds of formulas, in errors of the checker
	// a text that is no number: package msg has the words for people
	"core/money":   {"Error", "minorUnits"},
	"core/measure": {"Error"},
	// what is wrong with a pack, for whoever publishes it
	"core/pack": {"check.go", "check_boat.go", "check_costs.go", "check_prices.go", "check_work.go",
		"check_operation.go", "brief", "words", "looks", "Where"},
	"core/spec": {"unknownField"}, // what the JSON reader says
	// inputs that cannot be drawn, and the kinds and places by which they are named
	"core/drawing": {"within", "fail", "colour", "span", "check", "canvas", "Benches"},
	// the register of what can be drawn, for keepers of books, in whose README its table stands
	"core/look":     {"words"},
	"core/capacity": {"wrong", "number", "mass", "text", "inputs", "name", "err", "digit", "doing"},
	"core/cutting":  {"place", "tooLarge", "size", "divide", "fault"},
	"core/takeoff":  {"fault"},
	"core/hull":     {"offsets.go", "more"},
	"core/laminate": {"number", "numbers", "within", "share", "place", "input", "Mat", "Roving", "HandSimple",
		"HandComplex", "Vacuum", "gelcoatThickness", "fraction"},
	// a load that cannot be planned: who makes it of a book and of orders finds the words
	"core/plan":      {"fault", "place"},
	"core/seal":      {"fault"}, // its reason; the message stands beside it
	"core/wiring":    {"number", "place", "check"},
	"core/transport": {"wrong", "number", "inputs", "metres", "kilograms"},
}

// prescribed are texts that a rule gives in English, whatever the language of the reader.
var prescribed = map[string]string{
	"U.S. Coast Guard":         "33 CFR 183.25(c)(7)",
	"Maximum Capacities":       "33 CFR 183.25(c)(6)",
	"%d Persons or %d Pounds":  "33 CFR 183.25(b)(2)",
	"%d Pounds, persons, gear": "33 CFR 183.25(b)(2)",
	"This boat complies with U.S. Coast Guard safety standards in effect on the date of certification": "33 CFR 181.15",
	"Model year %02d": "33 CFR 181.15",
}

// keywords are what the files of a book name things by, two words or not.
var keywords = strings.Split("US gal,battery lead,main feed,navigation lights,cabin lights", ",")

// source is a package's files, without tests.
type source struct {
	dir   string
	set   *token.FileSet
	files []*ast.File
}

func sources(t *testing.T) (list []source) {
	t.Helper()
	root := os.DirFS("../..")
	err := fs.WalkDir(root, "core", func(dir string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() || d.Name() == "testdata" {
			return err
		}
		s := source{dir: dir, set: token.NewFileSet()}
		names, err := fs.Glob(root, path.Join(dir, "*.go"))
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") || strings.HasSuffix(name, "_gen.go") {
				continue
			}
			f, err := parser.ParseFile(s.set, path.Join("../..", name), nil, 0)
			if err != nil {
				return err
			}
			s.files = append(s.files, f)
		}
		if len(s.files) > 0 {
			list = append(list, s)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(list) < 25 {
		t.Fatalf("only %d packages; has the walk gone wrong?", len(list))
	}
	return list
}

func literal(n ast.Node) (string, bool) {
	l, ok := n.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(l.Value)
	return s, err == nil
}

// called is the name of what a call calls: "errors.New", "wrong".
func called(c *ast.CallExpr) (qualified, name string) {
	fun := c.Fun
	if i, ok := fun.(*ast.IndexExpr); ok {
		fun = i.X
	}
	switch f := fun.(type) {
	case *ast.Ident:
		return f.Name, f.Name
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok {
			return x.Name + "." + f.Sel.Name, f.Sel.Name
		}
		return "." + f.Sel.Name, f.Sel.Name
	}
	return "", ""
}

var (
	word   = regexp.MustCompile(`\p{L}{2,}`)
	markup = regexp.MustCompile(`[<>{}=;]|^--|^var\(`)
)

func isSentence(s string) bool {
	words := 0
	for _, f := range strings.Fields(s) {
		if word.MatchString(strings.ReplaceAll(f, "%", "")) && !strings.Contains(f, "_") {
			words++
		}
	}
	return words > 1 && !markup.MatchString(s)
}

// sentences are the literal sentences of a package, each with its place.
func (s source) sentences() (found []string) {
	for _, f := range s.files {
		if slices.Contains(forErrors[s.dir], path.Base(s.set.Position(f.Pos()).Filename)) {
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.Field:
				n.Tag = nil
			case *ast.CallExpr:
				q, name := called(n)
				if q == "errors.New" || q == "fmt.Errorf" || q == "panic" || slices.Contains(forErrors[s.dir], name) {
					return false
				}
			case *ast.FuncDecl:
				if slices.Contains(forErrors[s.dir], n.Name.Name) {
					return false
				}
			case *ast.CompositeLit:
				of := n.Type
				if list, ok := of.(*ast.ArrayType); ok {
					of = list.Elt
				}
				if t, ok := of.(*ast.Ident); ok && slices.Contains(forErrors[s.dir], t.Name) {
					return false
				}
			case *ast.ValueSpec:
				if slices.Contains(forErrors[s.dir], n.Names[0].Name) {
					return false
				}
			case *ast.AssignStmt:
				if at, ok := n.Lhs[0].(*ast.Ident); ok && slices.Contains(forErrors[s.dir], at.Name) {
					return false
				}
			}
			if text, ok := literal(n); ok && isSentence(text) && prescribed[text] == "" && !slices.Contains(keywords,
				text) {
				found = append(found, fmt.Sprintf("%s: %q", s.set.Position(n.Pos()), text))
			}
			return true
		})
	}
	return found
}

func TestSentencesStandInTheFilesOfLanguages(t *testing.T) {
	for _, s := range sources(t) {
		if _, ours := english[s.dir]; ours {
			continue
		}
		for _, at := range s.sentences() {
			t.Errorf("%s is a sentence: make it a message (core/msg)", at)
		}
	}
}

// englishTexts are those of the engine and of the office: a code is of one of them.
func englishTexts(t *testing.T) map[string]string {
	t.Helper()
	texts := textsOf(t, "en.json")
	for code, text := range textsOf(t, "office/en.json") {
		if _, twice := texts[code]; twice || !strings.HasPrefix(code, "office.") {
			t.Errorf("office/en.json: %q: want a code of its own that begins with office.", code)
		}
		texts[code] = text
	}
	return texts
}

func textsOf(t *testing.T, file string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	if err := json.Unmarshal(data, &texts); err != nil {
		t.Fatal(err)
	}
	return texts
}

func TestEnglishIsAFileLikeAnyOther(t *testing.T) {
	data, err := os.ReadFile("en.json")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := msg.Read("en.json", data); err != nil {
		t.Error(err)
	}
}

var isCode = regexp.MustCompile(`^[a-z]+(\.[a-z0-9]+(-[a-z0-9]+)*)+$`)

// messages are functions that take a code and its arguments, with which argument is the code: those of this package and
// of engines, and say and told, which put a message on the page.
var messages = map[string]int{"New": 0, "Fault": 0, "Say": 0, "say": 0, "told": 1}

func TestCodesAndTextsAgree(t *testing.T) {
	texts, used := englishTexts(t), map[string]bool{}
	for code := range texts {
		if !isCode.MatchString(code) {
			t.Errorf("%q is no code: want package.what-it-says", code)
		}
		if strings.HasPrefix(code, "language.") {
			used[code] = true
		}
	}
	for _, s := range sources(t) {
		for _, f := range s.files {
			ast.Inspect(f, func(n ast.Node) bool {
				if text, ok := literal(n); ok && texts[text] != "" {
					used[text] = true
				}
				c, ok := n.(*ast.CallExpr)
				if !ok || len(c.Args) == 0 {
					return true
				}
				q, name := called(c)
				first := slices.IndexFunc(c.Args, func(a ast.Expr) bool {
					code, ok := literal(a)
					return ok &&
						texts[code] != ""
				})
				at := s.set.Position(n.Pos())
				if i, says := messages[name]; says && i < len(c.Args) && (name != "New" || q == "msg.New") {
					if code, ok := literal(c.Args[i]); ok && first != i {
						t.Errorf("%s: the code %q has no text in en.json", at, code)
					}
				}
				if first < 0 || name == "Code" {
					return true
				}
				if given, ok := names(c, first+1); ok {
					code, _ := literal(c.Args[first])
					if want := msg.Names(texts[code]); !slices.Equal(given, want) {
						t.Errorf("%s: %s is given %v, and its text wants %v", at, code, given, want)
					}
				}
				return true
			})
		}
	}
	// those of computed figures follow from their names, and have no arguments
	for _, d := range figures.Registry() {
		for _, m := range []msg.Message{d.Title(), d.Formula(), d.Source()} {
			if used[string(m.Code)] = true; texts[string(m.Code)] == "" || len(msg.Names(texts[string(m.Code)])) > 0 {
				t.Errorf("%s: the code %q has no text in en.json, or one with arguments", d.ID, m.Code)
			}
		}
	}
	for code := range texts {
		if !used[code] {
			t.Errorf("the message %s is said by nobody", code)
		}
	}
}

// names are the names of the arguments of a call that makes a message, sorted; not ok where one of them is made
// elsewhere.
func names(c *ast.CallExpr, from int) ([]string, bool) {
	list := []string{}
	for _, a := range c.Args[from:] {
		made, ok := a.(*ast.CallExpr)
		if !ok || len(made.Args) == 0 {
			return nil, false
		}
		name, ok := literal(made.Args[0])
		if q, _ := called(made); !ok || !strings.HasPrefix(q, "msg.") {
			return nil, false
		}
		list = append(list, name)
	}
	slices.Sort(list)
	return list, !c.Ellipsis.IsValid()
}

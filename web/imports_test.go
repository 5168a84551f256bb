package main

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// place is where a package stands: a package imports only packages of lower layers, and one that runs in the page
// imports no native one.
type place struct {
	layer  int
	native bool
}

const (
	inPage = false
	native = true
)

// layers are all packages of this module. A new package needs its place here.
var layers = map[string]place{
	"ribband/core/calendar":          {-2, inPage},
	"ribband/core/measure":           {-2, inPage},
	"ribband/core/money":             {-2, inPage},
	"ribband/core/msg":               {-1, inPage},
	"ribband/core/msg/office":        {0, native}, // words of papers that the command line makes
	"ribband/core/formula":           {0, inPage},
	"ribband/core/visible":           {-4, inPage},
	"ribband/core/suggest":           {-3, inPage}, // the domain packages word errors with it
	"ribband/core/bank":              {0, inPage},
	"ribband/core/capacity":          {0, inPage},
	"ribband/core/cutting":           {0, inPage},
	"ribband/core/fit/sat":           {0, inPage},
	"ribband/core/hull":              {0, inPage},
	"ribband/core/fit/count":         {0, inPage},
	"ribband/core/drawing":           {1, inPage},
	"ribband/core/drawing/solid":     {2, inPage},
	"ribband/core/laminate":          {0, inPage},
	"ribband/core/transport":         {0, inPage},
	"ribband/core/wiring":            {0, inPage},
	"ribband/core/numbering":         {0, inPage},
	"ribband/core/plan":              {0, inPage}, // it knows no book: operations are translated to it
	"ribband/core/pack":              {1, inPage}, // plain numbers and words: it asks no domain package
	"ribband/core/seal":              {0, native}, // the page has WebCrypto
	"ribband/core/spec":              {1, inPage},
	"ribband/core/figures":           {2, inPage},
	"ribband/core/fit/why":           {3, inPage},
	"ribband/core/fit/clauses":       {4, inPage},
	"ribband/core/fit":               {5, inPage},
	"ribband/core/takeoff":           {3, inPage},
	"ribband/core/works":             {3, inPage},
	"ribband/core/launch":            {4, inPage}, // the means of a yard, and a further boat beside its orders
	"ribband/core/cost":              {4, inPage},
	"ribband/core/price":             {5, inPage},
	"ribband/core/engine":            {6, inPage},
	"ribband/core/engine/sample":     {7, native},
	"ribband/core/look":              {7, inPage},
	"ribband/core/sheet":             {9, inPage},
	"ribband/core/quote":             {8, inPage},
	"ribband/core/deals":             {8, inPage},
	"ribband/core/brief":             {7, inPage},
	"ribband/core/doc":               {1, inPage},
	"ribband/core/render":            {2, inPage},
	"ribband/core/export":            {9, inPage},
	"ribband/core/orders/list":       {0, native}, // lists that people keep in a spreadsheet
	"ribband/core/orders":            {10, native},
	"ribband/core/paper":             {10, inPage},
	"ribband/core/cutfiles":          {10, native}, // the page has no cutting table
	"ribband/core/orders/papers":     {11, native}, // what the office sends and files
	"ribband/core/actuals":           {11, native}, // the page has no hours that were booked
	"ribband/core/screen":            {11, inPage},
	"ribband/core/desk":              {12, inPage},
	"ribband/wasm":                   {13, inPage},
	"ribband/core/photo":             {0, native}, // pictures are made when the book is read
	"ribband/core/book":              {1, native},
	"ribband/core/formula/source":    {1, native},
	"ribband/core/supply":            {3, native}, // price lists of suppliers
	"ribband/core/editions":          {9, native}, // one state of a book beside another
	"ribband/core/book/amend":        {2, native},
	"ribband/core/book/source":       {2, native},
	"ribband/core/book/begin":        {2, native}, // the first book of a yard, for an owner to change
	"ribband/core/book/synthetic":    {2, native},
	"ribband/core/proof":             {7, native},
	"ribband/core/publish":           {8, native},
	"ribband/core/engine/enginetest": {10, native},
	"ribband/web":                    {13, native},
	"ribband/web/wire":               {0, native}, // it knows WebAssembly, and nothing of boats
	// what stands in the engine for packages of Go, which the build puts in their place
	"ribband/web/wire/cuts/regexp":   {0, native},
	"ribband/web/wire/cuts/sha256":   {0, native},
	"ribband/web/wire/cuts/template": {0, native},
}

// notInThePage are packages that must not get into the engine, with the reason.
var notInThePage = map[string]string{
	"github.com/expr-lang/expr": "formulas are lowered when the site is published; their parser would double the " +
		"engine",
	"github.com/goccy/go-yaml":    "the page reads packs, not books",
	"github.com/evanw/esbuild":    "it makes the page and is no part of it",
	"github.com/invopop":          "schemas are made when the site is published",
	"ribband/core/book":           "a book has the yard's costs and is for the yard's machine",
	"ribband/core/formula/source": "formulas are lowered when the site is published",
	"ribband/core/publish":        "packs are made where the book is",
	"golang.org/x/text":           "core/msg has tables of what is used",
	"net/http":                    "the engine asks nothing of a network, and it is large",
	"os/exec":                     "there is nothing to run in a browser",
}

// notInTheCore are packages that no package under core imports, with the reason.
var notInTheCore = map[string]string{
	"os":           "the core reads what it is given: an fs.FS, bytes, a pack",
	"net":          "the core talks to nobody",
	"net/http":     "the core talks to nobody",
	"syscall/js":   "the bridge to the browser is package wasm",
	"syscall":      "the core asks nothing of the machine",
	"math/rand":    "results are the same every time",
	"math/rand/v2": "results are the same every time",
	"crypto/rand":  "results are the same every time",
	"log":          "the core returns errors",
	"unsafe":       "nothing here needs it",
}

// testsAlone are packages that only tests import, and so may read files.
var testsAlone = map[string]bool{"ribband/core/engine/enginetest": true}

// clock are the functions of package time that read it. Dates come in from outside.
var clock = map[string]bool{"Now": true, "Since": true, "Until": true, "After": true, "AfterFunc": true, "Tick": true,
	"NewTimer": true, "NewTicker": true, "Sleep": true}

type goPackage struct {
	ImportPath, Dir  string
	Imports, GoFiles []string
}

func listed(t *testing.T, args ...string) []goPackage {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-json=ImportPath,Dir,Imports,GoFiles"}, args...)...)
	cmd.Dir = ".."
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var list []goPackage
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p goPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
}

func within(pkg, tree string) bool { return pkg == tree || strings.HasPrefix(pkg, tree+"/") }

func TestEngineHoldsNothingOfTheToolsAlone(t *testing.T) {
	t.Setenv("GOOS", "js")
	t.Setenv("GOARCH", "wasm")
	found := listed(t, "-deps", "./wasm")
	if len(found) < 30 {
		t.Fatalf("only %d packages; has the list gone wrong?", len(found))
	}
	for _, p := range found {
		for banned, reason := range notInThePage {
			if within(p.ImportPath, banned) {
				t.Errorf("the engine holds %s: %s", p.ImportPath, reason)
			}
		}
		at, ours := layers[p.ImportPath]
		if ours && at.native {
			t.Errorf("the engine holds %s, which is native", p.ImportPath)
		}
		// in its place is web/wire/cuts/regexp, with which an expression does not compile
		if ours && slices.Contains(p.Imports, "regexp") {
			t.Errorf("%s imports regexp, which is not linked into the engine: read by hand", p.ImportPath)
		}
	}
}

func TestImportsGoDownTheLayers(t *testing.T) {
	t.Setenv("GOOS", "js")
	t.Setenv("GOARCH", "wasm")
	for _, p := range listed(t, "./...") {
		at, known := layers[p.ImportPath]
		if !known {
			t.Errorf("%s has no place in the table of layers", p.ImportPath)
		}
		for _, i := range p.Imports {
			under, ours := layers[i]
			if ours && under.layer >= at.layer {
				t.Errorf("%s on layer %d imports %s on layer %d", p.ImportPath, at.layer, i, under.layer)
			}
			if ours && under.native && !at.native {
				t.Errorf("%s runs in the page and imports %s, which does not", p.ImportPath, i)
			}
		}
	}
}

func TestCoreAsksNothingOfTheMachine(t *testing.T) {
	for _, p := range listed(t, "./core/...") {
		for _, i := range p.Imports {
			if reason, banned := notInTheCore[i]; banned && !testsAlone[p.ImportPath] {
				t.Errorf("%s imports %s: %s", p.ImportPath, i, reason)
			}
		}
		for _, file := range p.GoFiles {
			readsClock(t, filepath.Join(p.Dir, file))
		}
	}
}

func readsClock(t *testing.T, file string) {
	t.Helper()
	set := token.NewFileSet()
	f, err := parser.ParseFile(set, file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok && clock[s.Sel.Name] {
			if x, ok := s.X.(*ast.Ident); ok && x.Name == "time" {
				t.Errorf("%s reads the clock with time.%s: dates come in from outside", set.Position(n.Pos()),
					s.Sel.Name)
			}
		}
		return true
	})
}

// Screen, papers and desk ask the engine, and do not reach into its pack, where the costs and the work of the yard are.
func TestPageAndPapersDoNotReachIntoThePack(t *testing.T) {
	looked := 0
	for _, p := range listed(t, "./core/screen", "./core/paper", "./core/desk") {
		for _, file := range p.GoFiles {
			set := token.NewFileSet()
			f, err := parser.ParseFile(set, filepath.Join(p.Dir, file), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			looked++
			ast.Inspect(f, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok && s.Sel.Name == "Pack" && isEngine(s.X) {
					t.Errorf("%s reaches into the pack of an engine: ask the engine", set.Position(n.Pos()))
				}
				return true
			})
		}
	}
	if looked < 20 {
		t.Errorf("only %d files", looked)
	}
}

// isEngine says whether an expression is an engine by its name: e, engine, v.Engine, d.engine.
func isEngine(x ast.Expr) bool {
	if s, ok := x.(*ast.SelectorExpr); ok {
		return strings.EqualFold(s.Sel.Name, "engine")
	}
	name, ok := x.(*ast.Ident)
	return ok && (name.Name == "e" || name.Name == "engine")
}

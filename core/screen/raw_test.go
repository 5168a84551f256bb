package screen_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
	"testing"
)

// allowedRaw are the only places where text becomes markup without being escaped: our own style sheet, and fragments
// that were rendered a moment before. Whoever adds one says here why it is safe.
var allowedRaw = map[string]int{
	"html.go: styleSheet":                1, // embedded at build time
	"html.go: pageStyle(l, d)":           1, // escaped by cssString
	"html.go: d.SVG":                     1, // a drawing, escaped by core/drawing
	"html.go: qrCode(b.Text, b.Title)":   1, // modules, and a title that is escaped
	"html.go: qrCode(l.Address, l.Code)": 1, // modules, and a title that is escaped
	"drawings.go: p.SVG":                 1, // a drawing, escaped by core/drawing
	"hulls.go: cards.outline(v, i, a)":   1, // likewise
	"compare.go: p.SVG":                  1, // likewise
	"brief.go: p.SVG":                    1, // likewise
	"samples.go: p.SVG":                  1, // likewise
	"samples.go: svg":                    1, // a swatch, of checked colours alone
	"screen.go: html[id]":                1, // a panel
}

func TestOnlyAllowedTextIsRaw(t *testing.T) {
	found := map[string]int{}
	for _, folder := range []string{".", "../render", "../paper"} {
		files, err := filepath.Glob(folder + "/*.go")
		if err != nil || len(files) == 0 {
			t.Fatal("no sources", err)
		}
		for _, file := range files {
			if !strings.HasSuffix(file, "_test.go") {
				rawIn(t, file, found)
			}
		}
	}
	for place, n := range found {
		if n != allowedRaw[place] {
			t.Errorf("%s is raw %d times, allowed are %d", place, n, allowedRaw[place])
		}
	}
	for place, n := range allowedRaw {
		if found[place] == 0 {
			t.Errorf("%s is allowed %d times and there no more", place, n)
		}
	}
}

// rawIn counts what of gomponents writes without escaping: Raw, Rawf, and nodes that write by themselves.
func rawIn(t *testing.T, file string, found map[string]int) {
	t.Helper()
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if ok && fmt.Sprint(s.X) == "g" && s.Sel.Name == "NodeFunc" {
			t.Errorf("%s: a node that writes by itself", file)
		}
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		if f, ok := call.Fun.(*ast.SelectorExpr); ok && strings.HasPrefix(f.Sel.Name, "Raw") {
			found[filepath.Base(file)+": "+types.ExprString(call.Args[0])]++
		}
		return true
	})
}

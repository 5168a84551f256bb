package transport_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// Every exported function says where it is valid and where it comes from. String and Error only write.
func TestEveryFunctionNamesItsSource(t *testing.T) {
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, file := range files {
		if !strings.HasSuffix(file.Name(), ".go") || strings.HasSuffix(file.Name(), "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file.Name(), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range tree.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || !f.Name.IsExported() || f.Name.Name == "String" || f.Name.Name == "Error" {
				continue
			}
			seen++
			if doc := f.Doc.Text(); !strings.Contains(doc, "Valid:") || !strings.Contains(doc, "Source:") {
				t.Errorf("%s: %s lacks Valid: or Source:", file.Name(), f.Name.Name)
			}
		}
	}
	if seen == 0 {
		t.Error("no functions; has the test gone wrong?")
	}
}

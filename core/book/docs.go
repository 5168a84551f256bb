package book

import (
	"embed"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path"
	"strings"
	"sync"
)

// What the fields of a book mean is said once, in the comments on them: readers of the code see it there, and writers
// of a book in the schema that their editor asks. So the sources of this package are part of it.

//go:embed *.go
var sources embed.FS

// Doc is the comment on a field of a type of this package, on one line; empty where there is none.
func Doc(structure, field string) string { return docs()[structure+"."+field] }

// docs are the comments on the fields of all types, by type and field.
var docs = sync.OnceValue(func() map[string]string {
	found := map[string]string{}
	files, err := sources.ReadDir(".")
	for _, file := range files {
		if strings.HasSuffix(file.Name(), "_test.go") {
			continue
		}
		text, readErr := sources.ReadFile(path.Base(file.Name()))
		tree, parseErr := parser.ParseFile(token.NewFileSet(), file.Name(), text, parser.ParseComments)
		if err != nil || readErr != nil || parseErr != nil { // they were compiled into this program
			panic(fmt.Sprintf("reading the sources of package book: %v %v %v", err, readErr, parseErr))
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if t, ok := n.(*ast.TypeSpec); ok {
				noteFields(found, t)
			}
			return true
		})
	}
	return found
})

// noteFields notes the comments on the fields of a type.
func noteFields(found map[string]string, t *ast.TypeSpec) {
	s, ok := t.Type.(*ast.StructType)
	if !ok {
		return
	}
	for _, f := range s.Fields.List {
		for _, name := range f.Names {
			found[t.Name.Name+"."+name.Name] = strings.Join(strings.Fields(f.Doc.Text()+f.Comment.Text()), " ")
		}
	}
}

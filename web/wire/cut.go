package wire

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// standIns are packages of the standard library in whose place the engine has one of this module's, below
// web/wire/cuts, which has what the engine asks for and no more.
var standIns = map[string]string{"html/template": "template", "crypto/sha256": "sha256",
	"regexp": "regexp"}

// What is left out was found by the sizes of packages in the linked file. Each is large for what the engine asks of it:
// html/template is there for one function, crypto/sha256 brings the module of all cryptography with its own checks at
// start, and slices holds its sort once more for each type that is sorted.

// Overlay writes what the engine is compiled with in the place of some files, into a folder, and gives the file for
// "go build -overlay". The root is that of this module. Nothing of it changes a result.
func Overlay(ctx context.Context, root, dir string) (string, error) {
	o := overlay{dir: dir, Replace: map[string]string{}}
	// in a fixed order, so that the same sources give the same file
	names := []string{"slices", "sort"}
	names = append(names, slices.Sorted(maps.Keys(standIns))...)
	found, err := packages(ctx, root, names)
	for _, name := range names {
		if err != nil {
			break
		}
		switch p := found[name]; {
		case standIns[name] != "":
			err = o.standIn(p, filepath.Join(root, "web", "wire", "cuts", standIns[name]))
		case name == "slices":
			err = o.sorts(p, found["sort"])
		}
	}
	if err != nil {
		return "", fmt.Errorf("leaving out what the engine does not need: %w", err)
	}
	text, err := json.Marshal(o)
	if err != nil {
		return "", err
	}
	file := filepath.Join(dir, "overlay.json")
	return file, os.WriteFile(file, text, 0o644)
}

// overlay is what the Go command reads: for the path of a file that of another, or none where it is left out.
type overlay struct {
	dir     string
	Replace map[string]string
}

// listed is what the Go command says of a package.
type listed struct {
	ImportPath, Dir string
	GoFiles         []string
}

// packages are some of those that a build for the page finds.
func packages(ctx context.Context, root string, names []string) (map[string]listed, error) {
	cmd := exec.CommandContext(ctx, "go", append([]string{"list", "-json=ImportPath,Dir,GoFiles"}, names...)...)
	cmd.Dir, cmd.Env = root, append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("asking Go where packages lie: %w", err)
	}
	found := map[string]listed{}
	// the Go command writes one object after the other, without a list around them
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var p listed
		if err := d.Decode(&p); err != nil {
			return nil, err
		}
		found[p.ImportPath] = p
	}
	for _, name := range names {
		if len(found[name].GoFiles) == 0 {
			return nil, fmt.Errorf("%s has no files", name)
		}
	}
	return found, nil
}

// standIn puts the file of one of our packages in the place of all of another.
func (o *overlay) standIn(p listed, ours string) error {
	// an empty name leaves a file out of the build; one of them takes all that stands in
	for _, file := range p.GoFiles {
		o.Replace[filepath.Join(p.Dir, file)] = ""
	}
	file := filepath.Base(ours) + ".go"
	o.Replace[filepath.Join(p.Dir, p.GoFiles[0])] = filepath.Join(ours, file)
	return nil
}

func (o *overlay) write(place, name string, text []byte) error {
	file := filepath.Join(o.dir, name)
	o.Replace[place] = file
	return os.WriteFile(file, text, 0o644)
}

// sorts has package slices sort by one copy of its algorithm, over indices, in the place of one for each type. It is
// the copy that package sort has of it, made by Go's authors from the same template: the order of equal values stays.
func (o *overlay) sorts(p, from listed) error {
	for _, name := range []string{"zsortanyfunc.go", "zsortordered.go"} {
		if !slices.Contains(p.GoFiles, name) {
			return fmt.Errorf("package slices has no %s", name)
		}
	}
	// The names of the template's functions differ by their ending alone. What Go changes in a later series fails to
	// compile, and is seen; it cannot sort otherwise and stay unseen.
	text, err := os.ReadFile(filepath.Join(from.Dir, "zsortfunc.go"))
	if err != nil {
		return err
	}
	shared := strings.Replace(string(text), "package sort", "package slices", 1) + sharedSorts
	if err := o.write(filepath.Join(p.Dir, "zsortanyfunc.go"), "slices-sorts.go", []byte(shared)); err != nil {
		return err
	}
	return o.write(filepath.Join(p.Dir, "zsortordered.go"), "slices-ordered.go", []byte(orderedSort))
}

// The functions that the rest of package slices asks for, by the shared algorithm.
const (
	sharedSorts = `
type lessSwap struct {
	Less func(i, j int) bool
	Swap func(i, j int)
}

func byFunc[E any](data []E, cmp func(a, b E) int) lessSwap {
	return lessSwap{func(i, j int) bool { return cmp(data[i], data[j]) < 0 },
		func(i, j int) { data[i], data[j] = data[j], data[i] }}
}

func pdqsortCmpFunc[E any](data []E, a, b, limit int, cmp func(a, b E) int) {
	pdqsort_func(byFunc(data, cmp), a, b, limit)
}

func stableCmpFunc[E any](data []E, n int, cmp func(a, b E) int) {
	stable_func(byFunc(data, cmp), n)
}
`
	orderedSort = `package slices

import "cmp"

func pdqsortOrdered[E cmp.Ordered](data []E, a, b, limit int) {
	pdqsort_func(lessSwap{func(i, j int) bool { return cmp.Less(data[i], data[j]) },
		func(i, j int) { data[i], data[j] = data[j], data[i] }}, a, b, limit)
}
`
)

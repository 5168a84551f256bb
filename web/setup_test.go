package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"ribband/core/book"
	"ribband/core/publish"
)

// rulesFolder is the demo book.
const (
	rulesFolder = "../rules"
	specsFolder = "../testdata/specs"
)

func TestMain(m *testing.M) {
	flag.Parse()
	waitMore()
	userCache = func() (string, error) { return "", errors.New("tests keep nothing") }
	publishForEver() // where this process is there to be killed at it
	code := m.Run()
	closeBrowsers()
	closeFirefox()
	os.Exit(code)
}

// waitMore has one more test at a time than there are processors, where nobody said how many: a test of the page waits
// a fifth of its time.
func waitMore() {
	said := false
	flag.Visit(func(f *flag.Flag) { said = said || f.Name == "test.parallel" })
	if !said {
		_ = flag.Set("test.parallel", strconv.Itoa(runtime.GOMAXPROCS(0)+1)) // a number is one
	}
}

// outcome is what a command left behind.
type outcome struct {
	code     int
	out, err string
}

// tool runs a command as the shell would, in process.
func tool(t *testing.T, input string, args ...string) outcome {
	t.Helper()
	var out, err bytes.Buffer
	code := run(t.Context(), &console{strings.NewReader(input), &out, &err}, args)
	return outcome{code, out.String(), err.String()}
}

// refused fails the test unless a command failed with a code, said so on standard error alone, and named all of the
// words.
func refused(t *testing.T, o outcome, code int, words ...string) {
	t.Helper()
	if o.code != code {
		t.Errorf("exit code %d, want %d; it said %q", o.code, code, o.err)
	}
	if o.out != "" {
		t.Errorf("an error left %.200q on standard output", o.out)
	}
	for _, w := range words {
		if !strings.Contains(o.err, w) {
			t.Errorf("standard error lacks %q: %s", w, o.err)
		}
	}
}

// worked fails the test unless a command went well.
func worked(t *testing.T, o outcome) outcome {
	t.Helper()
	if o.code != 0 {
		t.Fatalf("exit code %d, want 0; it said %s", o.code, o.err)
	}
	return o
}

// Commands read the demo book anew each time, a second and a half; here they get copies of what was read once.
func init() {
	type loaded struct {
		packs  publish.Packs
		counts publish.Counts
		found  []book.Diagnostic
	}
	demo := sync.OnceValues(func() (loaded, error) {
		packs, counts, found, err := publish.Load(os.DirFS(rulesFolder))
		return loaded{packs, counts, found}, err
	})
	read := readBook
	readBook = func(folder string) (publish.Packs, publish.Counts, []book.Diagnostic, error) {
		if folder != rulesFolder {
			return read(folder)
		}
		l, err := demo()
		return own(l.packs), l.counts, slices.Clone(l.found), err
	}
}

// A site of a test has the engines that were built once; TestBuiltTwice builds them again.
func init() {
	makeProgram = func(context.Context, *console) (program, error) { return demoProgram() }
}

// own are packs whose parts may be changed: orders are told to them.
func own(packs publish.Packs) publish.Packs {
	copies := publish.Packs{}
	for d, p := range packs {
		c := *p
		if c.Work != nil {
			work := *c.Work
			c.Work = &work
		}
		copies[d] = &c
	}
	return copies
}

// demoPacks are those of the demo book, with the demo yard's orders.
var demoPacks = sync.OnceValues(func() (publish.Packs, error) {
	c := &console{err: os.Stderr}
	packs, err := load(c, rulesFolder)
	if err != nil {
		return nil, err
	}
	return packs, tellOrders(c, newFlags(c, "test", ""), packs, "../"+demoOrders, "")
})

func packsOf(t testing.TB) publish.Packs {
	t.Helper()
	packs, err := demoPacks()
	if err != nil {
		t.Fatal(err)
	}
	return packs
}

// demoProgram is engine and page, built once: that compiles the engine.
var demoProgram = sync.OnceValues(func() (program, error) {
	return buildProgram(context.Background(), &console{err: os.Stderr})
})

// demoSite is the site with all desks, not sealed.
var demoSite = sync.OnceValues(func() (site, error) {
	packs, err := demoPacks()
	if err != nil {
		return nil, err
	}
	p, err := demoProgram()
	if err != nil {
		return nil, err
	}
	return p.site(packs, packs.Desks(), nil)
})

func siteOf(t testing.TB) site {
	t.Helper()
	if testing.Short() {
		t.Skip("the site takes some seconds to build")
	}
	s, err := demoSite()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// copyBook copies the demo book to a folder of the test.
func copyBook(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(rulesFolder)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// edit replaces a pattern in a file and fails the test where it is not there.
func edit(t *testing.T, file, pattern, replacement string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	re := regexp.MustCompile(pattern)
	if !re.Match(text) {
		t.Fatalf("%s has nothing like %s", file, pattern)
	}
	write(t, file, string(re.ReplaceAll(text, []byte(replacement))))
}

func write(t testing.TB, file, text string) string {
	t.Helper()
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// yamlFiles are the files of a book.
func yamlFiles(t *testing.T, dir string) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
		if strings.HasSuffix(path, ".yaml") {
			files = append(files, path)
		}
		return err
	})
	if err != nil || len(files) == 0 {
		t.Fatalf("%s has %d files of a book; %v", dir, len(files), err)
	}
	return files
}

// reedSpec is a small wish: a larger bank and a hard top on the largest but one of the hulls.
const reedSpec = `{"format": 1, "hull": "reed-65", "choices": {"bank": {"bank-lfp-20": 1}}, "use": {"region": "us"}}`

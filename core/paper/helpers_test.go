package paper_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

const (
	specFolder  = "../../testdata/specs"
	detailsFile = "../../testdata/details.json"
)

// demo is the published demo book, loaded once.
var demo = sync.OnceValues(func() (publish.Packs, error) {
	packs, _, problems, err := publish.Load(os.DirFS("../../rules"))
	if err == nil && len(problems) > 0 {
		panic(problems[0].Error())
	}
	return packs, err
})

// demoPack is a copy of a desk's pack. Its digest is fixed, so that papers change only where they say something else.
func demoPack(desk pack.Desk) *pack.Pack {
	packs, err := demo()
	if err != nil {
		panic(err)
	}
	p := *packs[desk]
	p.Edition.Digest = strings.Repeat("0123456789abcdef", 4)
	return &p
}

func compiled(p *pack.Pack) *engine.Engine {
	e, err := engine.Compile(p)
	if err != nil {
		panic(err)
	}
	return e
}

// yardEngine answers for all tests: the customer's papers do not depend on the desk.
var yardEngine = sync.OnceValue(func() *engine.Engine { return compiled(demoPack(pack.Yard)) })

func specNames(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(specFolder + "/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no specs", err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".json")
	}
	slices.Sort(files)
	return files
}

func readSpec(t testing.TB, name string) spec.Spec {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(specFolder, name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := spec.Decode(text)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return s
}

func readDetails(t testing.TB) quote.Details {
	t.Helper()
	text, err := os.ReadFile(detailsFile)
	if err != nil {
		t.Fatal(err)
	}
	var d quote.Details
	if err := json.Unmarshal(text, &d); err != nil {
		t.Fatal(err)
	}
	return d
}

func answer(t testing.TB, e *engine.Engine, s spec.Spec) *engine.Answer {
	t.Helper()
	a, err := e.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// papersOf gives the quote and the yard sheet of a demo spec; the quote is frozen where details are given.
func papersOf(t testing.TB, e *engine.Engine, name string, details *quote.Details) (*quote.Quote, *sheet.Yard) {
	t.Helper()
	a := answer(t, e, readSpec(t, name))
	q := quote.Draft(e, a)
	if details != nil {
		var err error
		if q, err = quote.Freeze(e, a, *details); err != nil {
			t.Fatal(err)
		}
	}
	return q, sheet.ForYard(e, a, q.Details)
}

// copied is a quote that a test may change.
func copied(t testing.TB, q *quote.Quote) *quote.Quote {
	t.Helper()
	c, err := quote.Decode(q.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// write is a paper of the register in a format.
func write(t testing.TB, id string, s *paper.Source, f paper.Format) string {
	t.Helper()
	text, err := entry(t, id).Write(s, f)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// entry is that of a paper in the register.
func entry(t testing.TB, id string) *paper.Paper {
	t.Helper()
	p, err := paper.Find(id, demoPack(pack.Yard))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func customer(t testing.TB, q *quote.Quote, f paper.Format) string {
	t.Helper()
	return write(t, "quotation", &paper.Source{Quote: q}, f)
}

func yard(t testing.TB, y *sheet.Yard, q *quote.Quote, f paper.Format, pictures ...look.Picture) string {
	t.Helper()
	return write(t, "build-sheet", &paper.Source{Quote: q, Yard: y, Pictures: pictures}, f)
}

func card(t testing.TB, c *sheet.Card, q *quote.Quote, f paper.Format) string {
	t.Helper()
	return write(t, "job-card", &paper.Source{Quote: q, Card: c}, f)
}

// cents reads an amount with two digits as whole cents.
func cents(t testing.TB, s string) int {
	t.Helper()
	n, err := strconv.Atoi(strings.Replace(s, ".", "", 1))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// containsNumber says whether a text, its grouping undone, holds a word or number that does not go on to the left or
// right.
func containsNumber(text, s string) bool {
	return regexp.MustCompile(`(^|[^\d.])` + regexp.QuoteMeta(digits(s)) + `($|[^\d])`).MatchString(digits(text))
}

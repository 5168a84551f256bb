package paper_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/paper"
	"ribband/core/quote"
)

const paperFolder = "../../testdata/papers"

var update = flag.Bool("update", false, "write the papers in testdata/papers anew")

// allForms are the specs whose papers are kept in every form; the others' only as text.
var allForms = map[string]bool{"reed-65-fullest": true, "extras-and-discount": true, "export": true}

const (
	frozenSpec   = "extras-and-discount" // a quotation, with number and customer
	yardJSONSpec = "extras-and-discount" // whose yard sheet is kept as JSON too
)

// goldenPapers are the papers of a spec by file name.
func goldenPapers(t *testing.T, name string) map[string]string {
	t.Helper()
	var details *quote.Details
	if name == frozenSpec {
		d := readDetails(t)
		details = &d
	}
	q, y := papersOf(t, yardEngine(), name, details)
	papers := map[string]string{name + ".txt": customer(t, q, paper.AsText)}
	if !allForms[name] {
		return papers
	}
	if name == frozenSpec {
		for _, tag := range []string{"nl", "de"} {
			e, ok, err := yardEngine().Speaking(tag)
			if !ok {
				t.Fatalf("the demo does not speak %s: %v", tag, err)
			}
			q, y := papersOf(t, e, name, details)
			s := &paper.Source{Quote: q, Yard: y, Language: e.Language()}
			papers[name+"-"+tag+".txt"] = write(t, "quotation", s, paper.AsText)
			papers[name+"-yard-"+tag+".txt"] = write(t, "build-sheet", s, paper.AsText)
		}
	}
	ends := map[paper.Format]string{paper.AsText: ".txt", paper.AsHTML: ".html", paper.AsCSV: ".csv",
		paper.AsJSON: ".json"}
	for f, end := range ends {
		papers[name+end] = customer(t, q, f)
		if f != paper.AsJSON || name == yardJSONSpec {
			papers[name+"-yard"+end] = yard(t, y, q, f)
		}
	}
	return papers
}

func TestPapersOfTheDemoSpecs(t *testing.T) {
	wanted := map[string]bool{}
	for _, name := range specNames(t) {
		for file, text := range goldenPapers(t, name) {
			wanted[file] = true
			compareWithGolden(t, file, text)
		}
	}
	files, err := filepath.Glob(paperFolder + "/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !wanted[filepath.Base(f)] {
			t.Errorf("%s is the paper of no spec", f)
		}
	}
}

func compareWithGolden(t *testing.T, file, got string) {
	t.Helper()
	path := filepath.Join(paperFolder, file)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; if it should, run go test ./core/paper -update and read what changed\n%s", path,
			lineDiff(string(want), got))
	}
}

// lineDiff shows the lines that are only in want (-) or only in got (+), with their numbers. Markup is broken between
// its tags.
func lineDiff(want, got string) string {
	cut := func(s string) []string { return strings.Split(strings.ReplaceAll(s, "><", ">\n<"), "\n") }
	a, b := cut(want), cut(got)
	start := 0
	for start < len(a) && start < len(b) && a[start] == b[start] {
		start++
	}
	end := 0
	for end < len(a)-start && end < len(b)-start && a[len(a)-1-end] == b[len(b)-1-end] {
		end++
	}
	var out bytes.Buffer
	between(&out, a[start:len(a)-end], b[start:len(b)-end], start+1)
	return out.String()
}

// between walks along a longest common subsequence of two lists of lines. It stops after a screenful.
func between(out *bytes.Buffer, a, b []string, first int) {
	common := make([][]int, len(a)+1) // of what is left from i, j on
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	const most = 60
	for i, j, n := 0, 0, 0; (i < len(a) || j < len(b)) && n < most; {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && common[i+1][j] >= common[i][j+1]:
			fmt.Fprintf(out, "%5d - %s\n", first+i, a[i])
			i, n = i+1, n+1
		default:
			fmt.Fprintf(out, "%5d + %s\n", first+j, b[j])
			j, n = j+1, n+1
		}
	}
}

func TestLineDiff(t *testing.T) {
	got := lineDiff("a\nb\nc\nd\n", "a\nc\nx\nd\n")
	if want := "    2 - b\n    3 + x\n"; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	if got := lineDiff("<p>a</p><p>b</p>", "<p>a</p><p>c</p>"); got != "    2 - <p>b</p>\n    2 + <p>c</p>\n" {
		t.Errorf("got %q", got)
	}
}

// The same answer gives the same papers, byte for byte.
func TestPapersAreDeterministic(t *testing.T) {
	first, second := goldenPapers(t, frozenSpec), goldenPapers(t, frozenSpec)
	for file, text := range first {
		if second[file] != text {
			t.Errorf("%s is another the second time:\n%s", file, lineDiff(text, second[file]))
		}
	}
}

// What the demo specs promise: the plainest and the fullest boat of each hull can be built, the others clash for the
// reason in their name.
func TestDemoSpecs(t *testing.T) {
	e := yardEngine()
	reasons := map[string]string{
		"clash-bank-too-heavy":          "bank-mass-within-locker",
		"clash-enclosure-without-frame": "full-enclosure-needs-a-standing-frame",
		"clash-us-without-foam":         "us-small-boat-floats-when-swamped",
	}
	for _, name := range specNames(t) {
		a := answer(t, e, readSpec(t, name))
		if len(a.Notes) > 0 || len(a.Warnings) > 0 {
			t.Errorf("%s: notes %v, warnings %v", name, a.Notes, a.Warnings)
		}
		var broken []string
		for _, c := range a.Build.Clashes {
			broken = append(broken, e.Pack.Rules[c.Index].ID)
		}
		if got := strings.Join(broken, ", "); got != reasons[name] {
			t.Errorf("%s breaks %q, want %q", name, got, reasons[name])
		}
	}
	for _, h := range e.Pack.Hulls {
		standard, err := e.AnswerStandard(0, "")
		if err != nil {
			t.Fatal(err)
		}
		plain, full := answer(t, e, readSpec(t, h.ID+"-plainest")), answer(t, e, readSpec(t, h.ID+"-fullest"))
		if h.ID == standard.Spec.Hull && plain.Price.Total.Cmp(standard.Price.Total) >= 0 ||
			plain.Price.Total.Cmp(full.Price.Total) >= 0 {
			t.Errorf("%s: the plainest costs %s, the fullest %s", h.ID, plain.Price.Total, full.Price.Total)
		}
	}
}

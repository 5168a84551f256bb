package publish_test

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/publish"
)

// planted is a case of testdata/books/broken: what it changes, and what is said of that alone.
type planted struct {
	name, changes        string
	entries, added, keys []string
	said                 []string
	built                bool // told of boats alone, which are built of what is sound
}

// places that messages name differ by the lines that another change has added.
var placeIn = regexp.MustCompile(`\S+\.yaml:\d+:\d+`)

// messagesOf are the errors that are told of a book, without their places.
func messagesOf(t interface{ Fatal(...any) }, folder fstest.MapFS) (list []string) {
	_, _, diagnostics, err := publish.Load(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range book.Errors(diagnostics) {
		list = append(list, placeIn.ReplaceAllString(d.Message, "…"))
	}
	return list
}

// kin are keys of which one says what another means: a circuit needs its wire, an outline its hull.
var kin = [][]string{{"circuits", "wires", "fuses", "switches", "materials", "cuts", "laminates"},
	{"hulls", "hull_fields", "offsets", "trials", "equipment", "figures", "cuts", "laminates", "seats"}}

// touched are the entries of the small book that a case changes, the keys to which it adds, and what is kin to either.
func touched(text string) (entries, added, keys []string) {
	file, amid := "", false
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		// what replaces nothing goes to the end of the file
		if file != "" && strings.HasPrefix(line, "+") && !amid {
			added, keys = append(added, "end of "+file), append(keys, "end of "+file)
		}
		switch {
		case strings.HasPrefix(line, "-- ") && strings.HasSuffix(line, " --"):
			file, amid = strings.TrimSuffix(strings.TrimPrefix(line, "-- "), " --"), false
		case file == "" || line == "":
		case line[0] == '-':
			amid = true
			entry := entryOf(file, line[1:])
			entries = append(entries, entry)
			key, _, _ := strings.Cut(entry, "/")
			keys = append(keys, key)
		case strings.HasPrefix(line, "+  - "), len(line) > 1 && line[1] != ' ' && line[1] != '-':
			key, _, _ := strings.Cut(line[1:], ":")
			// amid another list
			if len(keys) > 0 {
				added = append(added, keys[len(keys)-1])
			}
			if line[1] == ' ' && len(keys) > 0 {
				key = keys[len(keys)-1]
			}
			added = append(added, key)
			for _, k := range kin {
				if slices.Contains(k, key) {
					added = append(added, k...)
				}
			}
			keys = append(keys, key)
		}
	}
	return entries, added, keys
}

// common says whether two lists have something in common.
func common(a, b []string) bool {
	return slices.ContainsFunc(a, func(x string) bool { return slices.Contains(b, x) })
}

// independent says whether two cases touch different entries, and neither adds what the other reads.
func independent(a, b planted) bool {
	return !common(a.entries, b.entries) && !common(a.added, b.keys) && !common(b.added, a.keys)
}

// entryOf is the key of the top level below which a line of the small book stands, with the entry of its list.
func entryOf(file, line string) string {
	text, _ := os.ReadFile(filepath.Join(smallBook, file))
	at := ""
	for l := range strings.Lines(string(text)) {
		l = strings.TrimRight(l, "\n")
		if l != "" && l[0] != ' ' {
			at, _, _ = strings.Cut(l, ":")
		}
		if strings.HasPrefix(l, "  - ") || strings.HasPrefix(l, "      - id:") {
			key, _, _ := strings.Cut(at, "/")
			at = key + "/" + strings.TrimSpace(l)
		}
		if l == line {
			return at
		}
	}
	return line
}

// brokenBy is the small book with the changes of a file of broken books, which are given as well.
func brokenBy(t *testing.T, name string) (changes string, folder fstest.MapFS) {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	changes, _, _ = strings.Cut(string(text), wantMarker+"\n")
	folder = overlay(t, smallBook)
	if err := change(folder, changes); err != nil {
		t.Fatal(err)
	}
	return changes, folder
}

func plantedCases(t *testing.T) (list []planted) {
	names, err := filepath.Glob(filepath.Join(brokenBook, "*.txt"))
	if err != nil || len(names) < 150 {
		t.Fatal(len(names), err)
	}
	for _, name := range names {
		changes, folder := brokenBy(t, name)
		p := planted{name: strings.TrimSuffix(filepath.Base(name), ".txt"), changes: changes,
			said: messagesOf(t, folder)}
		// these need all that lies on the way, or are told of the book as a whole
		switch p.name {
		case "figure-circle-carried", "trade-operations-circle", "papers-no-offsets":
			continue
		}
		p.entries, p.added, p.keys = touched(changes)
		b, read, err := source.Read(folder)
		if err != nil {
			t.Fatal(err)
		}
		_, compiled := publish.Compile(b)
		p.built = len(book.Errors(append(read, compiled...))) == 0 && !strings.HasPrefix(p.said[0], "in ")
		list = append(list, p)
	}
	return list
}

// harmless are keys of which no boat follows: a fault there hides nothing that is told of boats.
var harmless = []string{"yard", "edition", "stages", "rules", "brief", "glossary", "terms"}

// beside are faults of all kinds that concern nothing else of the small book: in a text, a rule, the parts of an
// option, a table in a file, and in what can be read at all.
var beside = []string{"glossary-without-meaning", "rule-without-reason", "block-share", "series-csv-value",
	"read-decimal-comma"}

// Of two faults in different entries both are told, and nothing else. What is told of boats is left out where the fault
// of the other concerns them.
func TestFaultsDoNotHideEachOther(t *testing.T) {
	cases := plantedCases(t)
	var others []planted
	for _, name := range beside {
		i := slices.IndexFunc(cases, func(p planted) bool { return p.name == name })
		if i < 0 {
			t.Fatal("no planted fault", name)
		}
		others = append(others, cases[i])
	}
	small, met := overlay(t, smallBook), 0
	for i, a := range cases {
		// two of them beside each, by turns: all five would take the time of all other tests here
		for _, b := range []planted{others[i%len(others)], others[(i+1)%len(others)]} {
			folder := maps.Clone(small)
			if !independent(a, b) || change(folder, a.changes) != nil || change(folder, b.changes) != nil {
				continue
			}
			met++
			got := messagesOf(t, folder)
			for _, p := range [][2]planted{{a, b}, {b, a}} {
				concerned := func(k string) bool { return !slices.Contains(harmless, k) }
				if p[0].built && slices.ContainsFunc(p[1].keys, concerned) {
					continue
				}
				for _, m := range p[0].said {
					if !slices.Contains(got, m) {
						t.Errorf("%s hides of %s: %s", p[1].name, p[0].name, m)
					}
				}
			}
			for _, m := range got {
				if !slices.Contains(a.said, m) && !slices.Contains(b.said, m) {
					t.Errorf("%s and %s: told besides: %s", a.name, b.name, m)
				}
			}
		}
	}
	// where most pairs were of one entry, the test would look at nothing
	if met < len(cases) {
		t.Errorf("%d pairs of %d faults; want two of most", met, len(cases))
	}
}

// A first book has faults of all kinds at once. Each is told in the first round, and none twice.
func TestAllFaultsInOneRound(t *testing.T) {
	folder := overlay(t, smallBook)
	for _, c := range []struct{ file, old, put string }{
		// not YAML, in one entry of a list
		{"yard.yaml", "  - {id: tube-25,",
			"  - {id: bolt-6, title: Bolt, unit: each, cost: [\"0.40\"}\n  - {id: tube-25,"},
		{"yard.yaml", "date: 2027-01-15", "date: 15.1.2027"},
		{"yard.yaml", "share: \"0.60\"", "share: 60 %"},
		{"yard.yaml", "validity_days: 30", "validity_days: [30]"},
		{"boat.yaml", "        price: \"85\"", "        price: \"85,50\"\n        nota: A bag"},
		{"boat.yaml", "        carries: {mass_kg: 22}\n", "        carries: {mass_kg: 22, weight_kg: 3}\n"},
		{"boat.yaml", "1.3 * hull.top_m2", "1.3 * hull.top_m"},
		{"boat.yaml", "    because: The heavy cloth cracks where it is folded.\n", "    because: \"\"\n"},
		{"boat.yaml", "    advice: Take the light cloth, or a fixed top.\n", "    advice: Take the light cloth.\n" +
			"  - {id: light, when: has(\"bolt-on\"), need: has(\"pocket\"), because: It is so.}\n" +
			"  - {id: low, need: figures.mass_kg < 250, because: It floats no more.}\n"},
		{"boat.yaml", "        most: 4\n", "        most: 4\n        carries: {mass_kg: -3}\n"},
	} {
		text := string(folder[c.file].Data)
		if strings.Count(text, c.old) != 1 {
			t.Fatalf("%d times in %s: %s", strings.Count(text, c.old), c.file, c.old)
		}
		folder[c.file] = &fstest.MapFile{Data: []byte(strings.Replace(text, c.old, c.put, 1))}
	}
	_, _, diagnostics, err := publish.Load(folder)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, d := range book.Errors(diagnostics) {
		got += d.Message + "\n"
	}
	for _, want := range []string{"not YAML", `"15.1.2027"`, "60 %", "validity_days wants a number", "decimal comma",
		`unknown key "nota"`, `unknown figure "weight_kg"`, "unknown field hull.top_m", "gives no reason",
		`unknown option "bolt-on"`, "clashes as it is listed: rule low", "pocket adds -3 kg"} {
		if strings.Count(got, want) != 1 {
			t.Errorf("%d times: %s", strings.Count(got, want), want)
		}
	}
	if n := len(book.Errors(diagnostics)); n != 12 {
		t.Errorf("%d errors, want 12:\n%s", n, got)
	}
}

// What names an entry that could not be read follows from that, and is counted there.
func TestFollowingFaultsAreCounted(t *testing.T) {
	folder := overlay(t, smallBook)
	text := string(folder["yard.yaml"].Data)
	text = strings.Replace(text, "title: Acrylic cloth,", "title: [Acrylic,", 1)
	folder["yard.yaml"] = &fstest.MapFile{Data: []byte(text)}
	_, _, diagnostics, err := publish.Load(folder)
	if err != nil {
		t.Fatal(err)
	}
	if list := book.Errors(diagnostics); len(list) != 1 || list[0].Follow != 2 || list[0].Line != 27 {
		t.Errorf("%+v", list)
	}
}

// Whatever is taken out of a book or put into it, reading and compiling it gives diagnostics and no panic.
func TestPropertyDamagedBooksAreReported(t *testing.T) {
	small := overlay(t, smallBook)
	rapid.Check(t, func(t *rapid.T) {
		folder := maps.Clone(small)
		name := rapid.SampledFrom([]string{"boat.yaml", "yard.yaml"}).Draw(t, "file")
		lines := strings.Split(string(folder[name].Data), "\n")
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
			switch rapid.IntRange(0, 3).Draw(t, "how") {
			case 0:
				lines = slices.Delete(slices.Clone(lines), i, i+1)
			case 1:
				lines[i] = lines[rapid.IntRange(0, len(lines)-1).Draw(t, "other")]
			case 2:
				at := rapid.IntRange(0, len(lines[i])).Draw(t, "at")
				put := rapid.SampledFrom([]string{"[", "}", "\"", ":", "\t", ",", "- ", "x"}).Draw(t, "put")
				lines[i] = lines[i][:at] + put + lines[i][at:]
			case 3:
				at := strings.Index(lines[i], ":")
				lines[i] = lines[i][:at+1] + rapid.SampledFrom([]string{"", " []", " {}", " 0", " -1", " x"}).Draw(t,
					"value")
			}
		}
		folder[name] = &fstest.MapFile{Data: []byte(strings.Join(lines, "\n"))}
		packs, _, diagnostics, err := publish.Load(folder)
		if err != nil {
			t.Fatal(err)
		}
		if (packs == nil) != (len(book.Errors(diagnostics)) > 0) {
			t.Errorf("packs: %v\n%s", packs != nil, reported(diagnostics))
		}
		for _, d := range diagnostics {
			if d.File == "" || d.Line < 1 || d.Message == "" || d.Advice == "" {
				t.Errorf("no place or no remedy: %s", d.Error())
			}
		}
	})
}

var (
	nearest  = regexp.MustCompile(`did you mean "([^"]+)"\?`)
	withUnit = regexp.MustCompile(`^write unit: (\w+)`)
	asPoint  = regexp.MustCompile(`^write (-?\d+\.\d+), with a point`)
)

// replacement is what an advice says to write in place of what is wrong; false where it says no such thing.
func replacement(d book.Diagnostic) (string, bool) {
	for _, form := range []*regexp.Regexp{nearest, withUnit, asPoint} {
		if m := form.FindStringSubmatch(d.Advice); m != nil {
			return m[1], true
		}
	}
	if strings.HasPrefix(d.Advice, "indent with spaces") {
		return "  ", true
	}
	return "", false
}

// An advice that says what to write is followed to the letter, and the fault is gone.
func TestAdviceWorks(t *testing.T) {
	names, _ := filepath.Glob(filepath.Join(brokenBook, "*.txt"))
	followed := 0
	for _, name := range names {
		_, folder := brokenBy(t, name)
		_, _, diagnostics, err := publish.Load(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range diagnostics {
			put, ok := replacement(d)
			if !ok {
				continue
			}
			mended := maps.Clone(folder)
			lines := strings.Split(string(folder[d.File].Data), "\n")
			line := []rune(lines[d.Line-1])
			wide := strings.Count(d.Caret, "^")
			if line[d.Column-1] == '\t' {
				wide = 1
			}
			// the decimal comma of a number between braces is marked at its first digit
			if m := asPoint.FindStringSubmatch(d.Advice); m != nil && line[d.Column-1] != '"' {
				wide = len(m[1])
			} else if m != nil {
				put = `"` + put + `"`
			}
			lines[d.Line-1] = string(line[:d.Column-1]) + put + string(line[d.Column-1+wide:])
			mended[d.File] = &fstest.MapFile{Data: []byte(strings.Join(lines, "\n"))}
			followed++
			for _, m := range messagesOf(t, mended) {
				if m == placeIn.ReplaceAllString(d.Message, "…") {
					t.Errorf("%s: %s: followed, and the fault is still there:\n%s", filepath.Base(name), d.Error(),
						lines[d.Line-1])
				}
			}
		}
	}
	if followed < 40 {
		t.Errorf("%d advices were followed, want more", followed)
	}
}

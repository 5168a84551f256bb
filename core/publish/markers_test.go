package publish_test

import (
	"bufio"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ribband/core/book"
	"ribband/core/book/synthetic"
	"ribband/core/figures"
	"ribband/core/pack"
	"ribband/core/publish"
)

// bookParts reads which part of a pack the fields of a book go to: testdata/parts/book.txt, in which whoever adds a key
// decides. It is the part's name, then "unmarked" where a field names something that formulas read, a word of a fixed
// vocabulary, or a count: nothing can be planted there.
func bookParts(t *testing.T) (parts map[string]string, unmarked map[string]bool) {
	t.Helper()
	f, err := os.Open("../../testdata/parts/book.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	parts, unmarked = map[string]string{}, map[string]bool{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		words := strings.Fields(lines.Text())
		if len(words) == 0 || words[0] == "#" {
			continue
		}
		if !slices.Contains(partNames, words[0]) || len(words) > 2 && words[2] != "unmarked" || parts[words[1]] != "" {
			t.Fatalf("%q is no decision", lines.Text())
		}
		parts[words[1]], unmarked[words[1]] = words[0], len(words) > 2
	}
	return parts, unmarked
}

// partNames are the parts of a pack from the lowest, which is everybody's, and none: the field stays in the book.
var partNames = []string{"public", "selling", "costs", "planning", "work", "none"}

// highest is the highest part of each desk, by who may read a launch week.
func highest(desk, launch pack.Desk) int {
	switch {
	case desk == pack.Buyer:
		return 0
	case desk.Kind() == pack.Dealer:
		return 1
	case desk == pack.Yard:
		return 4
	case launch == pack.Yard:
		return 2
	}
	return 3
}

// partOf is the part of one value: a circuit from which no public figure follows, and a figure that follows from such
// circuits, stand in the costs as a whole.
func partOf(b *book.Book, m synthetic.Marker, part string) string {
	list, _, _ := strings.Cut(m.Path, ".")
	circuit := pack.Circuit{}
	if list == "Circuits" {
		circuit.Function = b.Circuits[m.Index].Function.Value
	}
	if part == "public" && (list == "Circuits" && !figures.ReadsCircuit(&circuit) ||
		list == "Figures" && figures.YardOnly(figures.ID(b.Figures[m.Index].Computed.Value))) {
		return "costs"
	}
	return part
}

// Every value of the demo book gets a marker of its own; the bytes of each desk's pack hold those of its parts and no
// others. Each desk that is to have a field has some marker of it, or the marks themselves would be wrong.
func TestEachDeskHasItsMarkersAlone(t *testing.T) {
	parts, unmarked := bookParts(t)
	for _, path := range synthetic.Fields() {
		if parts[path] == "" {
			t.Errorf("the key %s of the book goes to no part: decide in testdata/parts/book.txt who may read it", path)
		}
	}
	b := readDemo(t)
	b.Dealers = append(b.Dealers, b.Dealers[0]) // none may know the terms of the other
	b.Dealers[1].ID.Value, b.Dealers[1].Address = "sallow-basin", slices.Clone(b.Dealers[0].Address)
	markers := synthetic.Mark(b, func(path string) bool { return !unmarked[path] })
	yard, diagnostics := publish.Compile(b)
	if len(diagnostics) == 0 {
		diagnostics = publish.Tabulate(yard)
	}
	if len(diagnostics) > 0 {
		t.Fatal(reported(diagnostics))
	}
	first, second := pack.DeskOfDealer(yard.Costs.Dealers[0].ID), pack.DeskOfDealer(yard.Costs.Dealers[1].ID)
	of := map[pack.Desk]int{first: 0, second: 1} // whose terms a dealer's desk has
	for _, c := range []struct{ desk, launch pack.Desk }{{pack.Buyer, pack.Show}, {pack.Show, pack.Show},
		{pack.Show, pack.Yard}, {pack.Yard, pack.Show}, {first, pack.Show}, {second, pack.Show}} {
		desk, i := c.desk, highest(c.desk, c.launch)
		yard.Work.Launch = c.launch
		text, err := publish.For(yard, desk).Encode()
		if err != nil {
			t.Fatal(err)
		}
		found, has := synthetic.Found(string(text), markers), map[string]bool{}
		for _, m := range markers {
			dealer, own := of[desk]
			if own = own && strings.HasPrefix(m.Path, "Dealers.") && m.Index == dealer; own && !found[m] {
				t.Errorf("the %s's pack lacks %s of %s, which is his own", desk, m.Text, m.Path)
			}
			if part := partOf(b, m, parts[m.Path]); found[m] && !own && slices.Index(partNames, part) > i {
				t.Errorf("the %s's pack has %s of %s, which is %s", desk, m.Text, m.Path, part)
			}
			has[m.Path] = has[m.Path] || found[m]
		}
		for path, some := range has {
			if !some && slices.Index(partNames, parts[path]) <= i {
				t.Errorf("the %s's pack has no marker of %s", desk, path)
			}
		}
		if place := strings.Contains(string(text), ".yaml"); place != (desk == pack.Yard) {
			t.Errorf("the %s's pack has places in the book: %v", desk, place)
		}
	}
}

// Nothing can be planted in an outline, of which only what is worked out is published: so the numbers are looked for
// that come out. Lines of pieces are in the yard's pack alone, sizes in those of whoever quotes. Numbers of less than
// six digits are left out, since a radius of 60 mm stands everywhere.
func TestEachDeskHasItsPiecesAlone(t *testing.T) {
	packs, _ := demo()
	long := func(list ...float64) (kept []string) {
		for _, v := range list {
			if text := strconv.FormatFloat(v, 'f', -1, 64); len(strings.Trim(text, "-0.")) > 6 {
				kept = append(kept, text)
			}
		}
		return kept
	}
	var sizes, lines []string
	yard := packs[pack.Yard]
	for i, cut := range yard.Costs.Cuts {
		for j, p := range cut.Pieces {
			for at, list := range p.Panels {
				for k, s := range list {
					sizes = append(sizes, long(s.WidthMm, s.LengthMm, s.AreaMm2)...)
					of := yard.Work.Cuts[i].Shapes[j][at][k]
					lines = append(lines, long(slices.Concat(of.Cut, of.Finished, of.Notches)...)...)
				}
			}
		}
	}
	for _, desk := range packs.Desks() {
		text, err := packs[desk].Encode()
		if err != nil {
			t.Fatal(err)
		}
		has := map[string]bool{}
		for _, number := range numbers.FindAllString(string(text), -1) {
			has[strings.TrimPrefix(number, "-")] = true
		}
		held := func(list []string) (n int) {
			for _, number := range list {
				if has[strings.TrimPrefix(number, "-")] {
					n++
				}
			}
			return n
		}
		inSizes, inLines := held(sizes), held(lines)
		// the rectangle about a line is a number of the line, too
		ofBoth := 0
		for _, number := range lines {
			if slices.Contains(sizes, number) {
				ofBoth++
			}
		}
		want := map[pack.Desk][2]int{pack.Buyer: {0, 0}, pack.Show: {len(sizes), ofBoth},
			pack.Yard: {len(sizes), len(lines)}}[desk]
		if inSizes != want[0] || inLines != want[1] {
			t.Errorf("the %s's pack has %d numbers of sizes and %d of lines, want %v of %d and %d", desk, inSizes,
				inLines, want, len(sizes), len(lines))
		}
	}
	if len(sizes) < 200 || len(lines) < 1000 {
		t.Errorf("only %d numbers of sizes and %d of lines", len(sizes), len(lines))
	}
}

// numbers are those of JSON.
var numbers = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

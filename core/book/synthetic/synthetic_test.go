package synthetic_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/book/synthetic"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
)

func demo(t testing.TB) *book.Book {
	t.Helper()
	b, diagnostics, err := source.Read(os.DirFS("../../../rules"))
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, diagnostics)
	}
	return b
}

func grown(t testing.TB, times int) *book.Book {
	t.Helper()
	b, err := synthetic.Grow(demo(t), times, 7)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A grown book passes the whole check of a book, has so many times the slots and options, and its standard builds are
// boats.
func TestGrownBooksAreSound(t *testing.T) {
	before, _, _ := publish.Make(demo(t))
	for _, times := range []int{1, 4} {
		t.Run(fmt.Sprint(times), func(t *testing.T) {
			b := grown(t, times)
			if diagnostics := book.Errors(b.Validate()); len(diagnostics) > 0 {
				t.Fatalf("%d diagnostics, the first %v", len(diagnostics), diagnostics[0])
			}
			packs, counts, diagnostics := publish.Make(b)
			if diagnostics = book.Errors(diagnostics); len(diagnostics) > 0 {
				t.Fatalf("%d diagnostics, the first %v", len(diagnostics), diagnostics[0])
			}
			was := before[pack.Yard]
			if counts.Slots != times*len(was.Slots) || counts.Options != times*len(was.Options) ||
				counts.Rules < len(was.Rules)*times*7/10 {
				t.Errorf("%d times %d slots, %d options and %d rules are %+v", times, len(was.Slots), len(was.Options),
					len(was.Rules), counts)
			}
			e, err := engine.Compile(packs[pack.Yard])
			if err != nil {
				t.Fatal(err)
			}
			small, err := engine.Compile(was)
			if err != nil {
				t.Fatal(err)
			}
			for h := range was.Hulls {
				sound(t, e, small, h)
			}
		})
	}
}

// sound says that the standard build of a hull can be built, and weighs about what it did.
func sound(t *testing.T, e, small *engine.Engine, hull int) {
	t.Helper()
	a, err := e.AnswerStandard(hull, "")
	if err != nil {
		t.Fatal(err)
	}
	was, err := small.AnswerStandard(hull, "")
	if err != nil {
		t.Fatal(err)
	}
	if st := a.Build.State; len(a.Build.Clashes) > 0 || len(st.Faults) > 0 ||
		st.Figures[0] < 0.97*was.Build.State.Figures[0] || st.Figures[0] > 1.03*was.Build.State.Figures[0] {
		t.Errorf("%s weighs %g kg and was %g kg; clashes %v, faults %v", e.Pack.Hulls[hull].ID, st.Figures[0],
			was.Build.State.Figures[0], a.Build.Clashes, st.Faults)
	}
}

// The same seed gives the same book, another seed another, and the book that it was made of stays.
func TestGrowIsDeterministic(t *testing.T) {
	b := demo(t)
	digest := b.Digest()
	grow := func(seed uint64) string {
		g, err := synthetic.Grow(b, 3, seed)
		if err != nil {
			t.Fatal(err)
		}
		return g.Digest()
	}
	first, again := grow(7), grow(7)
	if first != again || first == grow(8) || b.Digest() != digest {
		t.Error("the book does not follow from the seed, or the first was changed")
	}
	if note := grown(t, 3).Yard.Note.Value; !strings.Contains(note, "invented") {
		t.Errorf("it does not say that it is invented: %q", note)
	}
}

func TestGrowRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		times int
		edit  func(b *book.Book)
		want  string
	}{
		"none":     {0, func(*book.Book) {}, "growing a book: 0 times; want 1 to 1000"},
		"too many": {1001, func(*book.Book) {}, "growing a book: 1001 times; want 1 to 1000"},
		"a name in two meanings": {2, func(b *book.Book) { b.Regions[0].ID.Value = b.Slots[0].ID.Value },
			"is also the name of an option or slot, so that formulas cannot be renamed; rename one of them"},
	} {
		t.Run(name, func(t *testing.T) {
			b := demo(t)
			c.edit(b)
			if _, err := synthetic.Grow(b, c.times, 7); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %s", err, c.want)
			}
		})
	}
}

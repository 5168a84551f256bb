package pack_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"ribband/core/pack"
	"ribband/core/publish"
)

// published are the packs of a book of the repository.
func published(t testing.TB, folder string) publish.Packs {
	t.Helper()
	packs, _, problems, err := publish.Load(os.DirFS(folder))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return packs
}

const (
	smallBook = "../../testdata/books/small"
	demoBook  = "../../rules"
)

func encode(t testing.TB, p *pack.Pack) []byte {
	t.Helper()
	text, err := p.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// copyOf is a pack that a test may damage.
func copyOf(t testing.TB, p *pack.Pack) *pack.Pack {
	t.Helper()
	c, err := pack.Decode(encode(t, p))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestRoundTrip(t *testing.T) {
	for _, folder := range []string{smallBook, demoBook} {
		for desk, p := range published(t, folder) {
			text := encode(t, p)
			decoded, err := pack.Decode(text)
			if err != nil {
				t.Fatalf("%s, %s: %v", folder, desk, err)
			}
			if again := encode(t, decoded); !bytes.Equal(again, text) {
				t.Errorf("%s, %s: reading and writing changes the pack", folder, desk)
			}
			if decoded.Desk != desk {
				t.Errorf("%s: the pack of %s says %s", folder, desk, decoded.Desk)
			}
		}
	}
}

func TestEncodingIsStable(t *testing.T) {
	first, second := published(t, demoBook), published(t, demoBook)
	for _, desk := range pack.Desks {
		if !bytes.Equal(encode(t, first[desk]), encode(t, second[desk])) {
			t.Errorf("publishing twice gives two packs for %s", desk)
		}
	}
}

func TestDigestIsTheSameOnAllDesks(t *testing.T) {
	packs := published(t, smallBook)
	for _, desk := range pack.Desks {
		if got, want := packs[desk].Edition.Digest, packs[pack.Yard].Edition.Digest; got != want || len(got) != 64 {
			t.Errorf("%s: digest %q, want %q", desk, got, want)
		}
	}
}

func TestDeskOf(t *testing.T) {
	for _, desk := range pack.Desks {
		if got, err := pack.DeskOf(string(desk)); got != desk || err != nil {
			t.Errorf("DeskOf(%q) = %q, %v", desk, got, err)
		}
	}
	for _, name := range []string{"", "Yard", "seller", strings.Repeat("x", 500)} {
		if _, err := pack.DeskOf(name); err == nil || len(err.Error()) > 120 {
			t.Errorf("DeskOf(%.10q): %v", name, err)
		}
	}
}

// Every value of a use field has a step, and the step gives the value back.
func TestUseSteps(t *testing.T) {
	for _, u := range published(t, demoBook)[pack.Yard].Use {
		for step := range u.Steps() {
			v := u.Value(step)
			if got := u.StepOf(v); got != step {
				t.Errorf("%s: value %v of step %d is of step %d", u.ID, v, step, got)
			}
			if len(u.Choices) == 0 && (v < u.Min || v > u.Max) {
				t.Errorf("%s: value %v of step %d is outside of %v to %v", u.ID, v, step, u.Min, u.Max)
			}
		}
		if len(u.Choices) == 0 && u.Value(u.Steps()-1) != u.Max {
			t.Errorf("%s: the last value is %v, want %v", u.ID, u.Value(u.Steps()-1), u.Max)
		}
		if v := u.Value(u.StepOf(u.Standard)); v != u.Standard {
			t.Errorf("%s: the standard %v is taken for %v", u.ID, u.Standard, v)
		}
	}
}

package suggest_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/suggest"
)

const otherwise = "see the list of materials"

// Distances are those of Levenshtein (1966), worked out by hand.
func TestNearest(t *testing.T) {
	known := []string{"teak", "oak", "ash", "larch", "resin", "gelcoat"}
	for _, c := range []struct{ name, want string }{
		{"resn", `did you mean "resin"?`},      // one insertion
		{"rresin", `did you mean "resin"?`},    // one deletion
		{"rosin", `did you mean "resin"?`},     // one replacement
		{"gelcaot", `did you mean "gelcoat"?`}, // a swap is two edits of seven letters
		{"teak", `did you mean "teak"?`},       // known already
		{"oa", `did you mean "oak"?`},          // one edit of two letters
		{"o", otherwise},                       // no edit is allowed of one letter
		{"larches", `did you mean "larch"?`},
		{"polyurethane", otherwise},
		{"", otherwise},
		{"TEAK", otherwise}, // capitals are other letters
	} {
		if got := suggest.Nearest(c.name, known, otherwise); got != c.want {
			t.Errorf("%q: %s, want %s", c.name, got, c.want)
		}
	}
}

func TestNearestOfNothing(t *testing.T) {
	if got := suggest.Nearest("teak", nil, otherwise); got != otherwise {
		t.Errorf("%s, want %s", got, otherwise)
	}
}

func TestEquallyNearNamesGoByTheAlphabet(t *testing.T) {
	for _, known := range [][]string{{"mat", "cat", "bat"}, {"bat", "cat", "mat"}, {"cat", "bat", "mat"}} {
		if got := suggest.Nearest("hat", known, otherwise); got != `did you mean "bat"?` {
			t.Errorf("of %v: %s", known, got)
		}
	}
}

// The textbook pair is three edits apart; six letters allow three, five allow two. Source: textbooks on edit distance.
func TestLimitIsHalfTheName(t *testing.T) {
	if got := suggest.Nearest("kitten", []string{"sitting"}, otherwise); got != `did you mean "sitting"?` {
		t.Errorf("kitten: %s", got)
	}
	if got := suggest.Nearest("abcde", []string{"xyzde"}, otherwise); got != otherwise {
		t.Errorf("abcde: %s", got)
	}
}

func TestPropertyNearest(t *testing.T) {
	names := rapid.StringMatching(`[a-d]{1,8}`)
	rapid.Check(t, func(t *rapid.T) {
		name := names.Draw(t, "name")
		known := rapid.SliceOfN(names, 0, 8).Draw(t, "known")
		got := suggest.Nearest(name, known, otherwise)
		if shuffled := rapid.Permutation(known).Draw(t, "shuffled"); suggest.Nearest(name, shuffled, otherwise) != got {
			t.Fatalf("the order of %v matters", known)
		}
		best, least := "", len(name)/2+1
		for _, k := range known {
			if d := slow(name, k); d < least || d == least && d <= len(name)/2 && k < best {
				best, least = k, d
			}
		}
		want := otherwise
		if best != "" {
			want = fmt.Sprintf("did you mean %q?", best)
		}
		if got != want {
			t.Fatalf("%s, want %s", got, want)
		}
	})
}

// slow is the definition of the distance, without a table.
func slow(a, b string) int {
	if a == "" || b == "" {
		return len(a) + len(b)
	}
	if a[0] == b[0] {
		return slow(a[1:], b[1:])
	}
	return 1 + min(slow(a[1:], b), slow(a, b[1:]), slow(a[1:], b[1:]))
}

func TestAnyBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := string(rapid.SliceOfN(rapid.Byte(), 0, 30).Draw(t, "name"))
		got := suggest.Nearest(name, []string{"teak", strings.Repeat("é", 20)}, otherwise)
		if got != otherwise && !strings.HasPrefix(got, "did you mean ") {
			t.Fatal(got)
		}
	})
}

func ExampleNearest() {
	materials := []string{"teak", "oak", "larch"}
	fmt.Println(suggest.Nearest("teek", materials, "see the list of materials"))
	fmt.Println(suggest.Nearest("mahogany", materials, "see the list of materials"))
	// Output:
	// did you mean "teak"?
	// see the list of materials
}

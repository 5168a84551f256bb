// Package suggest helps a message about what somebody wrote: it finds the known name that was meant, and cuts a text to
// the length of a quotation. It words no message.
package suggest

import (
	"fmt"

	"ribband/core/visible"
)

// Nearest is the advice for an unknown name: "did you mean …?" with the known name that is fewest edits away, when that
// is at most half of the name's length; otherwise the advice given. Of equally near names the alphabetically first
// wins.
//
// The distance is that of Levenshtein (1966), in bytes.
func Nearest(name string, known []string, otherwise string) string {
	if meant, ok := Meant(name, known); ok {
		return fmt.Sprintf("did you mean %q?", meant)
	}
	return otherwise
}

// Meant is the known name that was meant by an unknown one, as [Nearest] finds it, for whoever words the advice in the
// reader's language.
func Meant(name string, known []string) (meant string, ok bool) {
	least := len(name)/2 + 1
	for _, k := range known {
		// what differs by more letters is further away, so that a name of a megabyte is compared with nothing
		if max(len(name)-len(k), len(k)-len(name)) > least {
			continue
		}
		if d := distance(name, k); d < least || d == least && ok && k < meant {
			meant, least, ok = k, d, true
		}
	}
	return meant, ok
}

func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// Clip is a text of at most so many characters (runes), for a message that quotes it: a longer one ends in an ellipsis.
// What cannot be seen is named, since such a message says what is wrong with a text, and a terminal would obey it.
func Clip(s string, most int) string {
	n := 0
	for at := range s {
		if n == most {
			return visible.Show(s[:at]) + "…"
		}
		n++
	}
	return visible.Show(s)
}

package book

import (
	"cmp"
	"fmt"
	"slices"
)

// Grade is how bad a diagnostic is.
type Grade uint8

const (
	// what follows from the book would be wrong, unsafe or cannot be computed: nothing is made of it
	Error   Grade = iota
	Warning       // it can be meant so, and is more likely a slip: the book is used all the same
)

// String is "error" or "warning".
func (g Grade) String() string {
	if g == Warning {
		return "warning"
	}
	return "error"
}

// MarshalText writes the grade as [Grade.String] does.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (g *Grade) UnmarshalText(text []byte) error {
	switch string(text) {
	case "error":
		*g = Error
	case "warning":
		*g = Warning
	default:
		return fmt.Errorf("reading a grade: %q is neither error nor warning", text)
	}
	return nil
}

// Diagnostic is something wrong with a book, or something that is likely to be: where it stands, what is the matter,
// and what would be right. Message and advice stay apart, so that each reader puts them where it wants.
type Diagnostic struct {
	Position
	// Whether the book can be used all the same.
	Grade Grade `json:"grade"`
	// What is wrong, without its place.
	Message string `json:"message"`
	// What would be right, or how to find out.
	Advice string `json:"advice"`

	// How many characters from the position on it is about; 0 stands for the value or key that begins there.
	Width int `json:"-"`
	// The line that it is about.
	Source string `json:"source,omitempty"`
	// How many faults elsewhere follow from this one, and are not told by themselves.
	Follow int `json:"follow,omitempty"`
	// What stands below the line: a caret at each character of what is wrong.
	Caret string `json:"caret,omitempty"`
}

// Shown is the line that the diagnostic is about and the caret below it, each begun with a margin and ended with a new
// line; nothing where the line is not known.
func (d Diagnostic) Shown(margin string) string {
	if d.Source == "" {
		return ""
	}
	return margin + d.Source + "\n" + margin + d.Caret + "\n"
}

// Error gives place, message and advice on one line; a warning says that it is one.
func (d Diagnostic) Error() string {
	grade := ""
	if d.Grade == Warning {
		grade = "warning: "
	}
	return fmt.Sprintf("%s: %s%s; %s%s", d.Position, grade, d.Message, d.Advice, d.Following("; "))
}

// Following says how many faults follow, behind a joint; nothing where none does.
func (d Diagnostic) Following(joint string) string {
	if d.Follow == 0 {
		return ""
	}
	verb := "follow"
	if d.Follow == 1 {
		verb = "follows"
	}
	return fmt.Sprintf("%s%d more %s from it", joint, d.Follow, verb)
}

// Errors are the errors among the diagnostics, in their order: a book without any can be used.
func Errors(list []Diagnostic) []Diagnostic {
	return slices.DeleteFunc(slices.Clone(list), func(d Diagnostic) bool { return d.Grade != Error })
}

// MaxDiagnostics is how many different faults are reported; what follows after so many is seldom news. The same fault
// counts once, however often it is there, up to maxPlaces in all.
const (
	MaxDiagnostics = 100
	maxPlaces      = 1000
)

// Report is what a reader gets to see of diagnostics of this book: the errors before the warnings, by file, then by
// line, at most [MaxDiagnostics] different ones, each with the line that it is about. What is found twice in one place
// is said once: the area of a cushion is that of each of its layers.
func (b *Book) Report(list []Diagnostic) []Diagnostic {
	said := map[Diagnostic]bool{}
	list = slices.DeleteFunc(slices.Clone(list), func(d Diagnostic) bool {
		again := d.Line > 0 && said[d]
		said[d] = true
		return again
	})
	slices.SortStableFunc(list, func(a, b Diagnostic) int {
		return cmp.Or(cmp.Compare(a.Grade, b.Grade), cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Column, b.Column))
	})
	different := map[fault]bool{}
	told := map[Position]bool{}
	for i, d := range list {
		if different[d.fault()] = true; len(different) > MaxDiagnostics || i >= maxPlaces {
			return list[:i]
		}
		// of several errors in one place the first tells what follows
		if !told[d.Position] {
			d.Follow, told[d.Position] = b.damage.follow[d.Position], true
		}
		list[i] = b.Excerpted(d)
	}
	return list
}

// fault is what is wrong, wherever it stands.
type fault struct {
	grade           Grade
	message, advice string
}

func (d Diagnostic) fault() fault { return fault{d.Grade, d.Message, d.Advice} }

// Grouped are diagnostics with the same fault told once: the first of them, and behind it the others, in their order.
func Grouped[D interface{ Diagnosis() Diagnostic }](list []D) (groups [][]D) {
	at := map[fault]int{}
	for _, d := range list {
		f := d.Diagnosis().fault()
		if i, ok := at[f]; ok {
			groups[i] = append(groups[i], d)
			continue
		}
		at[f] = len(groups)
		groups = append(groups, []D{d})
	}
	return groups
}

// Diagnosis is the diagnostic itself, for what has more beside it.
func (d Diagnostic) Diagnosis() Diagnostic { return d }

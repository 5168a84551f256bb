package book

import (
	"fmt"
	"slices"
)

// Grade is how bad a problem is.
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

// Problem is something wrong with a book, or something that is likely to be.
type Problem struct {
	Position
	Grade   Grade
	Message string
	Advice  string
}

// Error gives place, message and advice; a warning says that it is one.
func (p Problem) Error() string {
	if p.Grade == Warning {
		return fmt.Sprintf("%s: warning: %s; %s", p.Position, p.Message, p.Advice)
	}
	return fmt.Sprintf("%s: %s; %s", p.Position, p.Message, p.Advice)
}

// Errors are the errors among the problems, in their order: a book without any can be used.
func Errors(problems []Problem) []Problem {
	return slices.DeleteFunc(slices.Clone(problems), func(p Problem) bool { return p.Grade != Error })
}

// MaxProblems is how many problems are reported; what follows after so many is seldom news.
const MaxProblems = 100

// Limited are the problems with the errors before the warnings, otherwise in their order, and at most [MaxProblems] of
// them.
func Limited(problems []Problem) []Problem {
	list := slices.Clone(problems)
	slices.SortStableFunc(list, func(a, b Problem) int { return int(a.Grade) - int(b.Grade) })
	return list[:min(len(list), MaxProblems)]
}

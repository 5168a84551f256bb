package fit

import (
	"fmt"

	"ribband/core/pack"
)

// The reasons that follow from counts. Reasons of rules are the book's own words.

func missing(s *pack.Slot, n int) string {
	if s.Multiple {
		return fmt.Sprintf("%s: at least %d are needed; there are %d.", s.Title, s.Least, n)
	}
	return fmt.Sprintf("%s: one must be chosen.", s.Title)
}

func tooMany(s *pack.Slot, n int) string {
	if s.Multiple {
		return fmt.Sprintf("%s: at most %d fit; there are %d.", s.Title, s.Most, n)
	}
	return fmt.Sprintf("%s: only one fits; there are %d.", s.Title, n)
}

func tooManyOf(o *pack.Option, n int) string {
	return fmt.Sprintf("%s: at most %d; there are %d.", o.Title, o.Most, n)
}

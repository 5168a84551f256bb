package drawing

import (
	"fmt"
	"strconv"
)

// check collects the first thing wrong with an input.
type check struct {
	kind string
	err  error
}

// fail notes what is wrong, unless something was before: one fault often causes the next, and the first one says most.
func (k *check) fail(format string, args ...any) {
	if k.err == nil {
		k.err = fmt.Errorf("drawing the "+k.kind+": "+format, args...)
	}
}

// within asks for a number between two bounds. It is written so that what is not a number fails, too.
func (k *check) within(what string, v, low, high float64, unit string) {
	if !(v >= low && v <= high) {
		k.fail("the %s is %v %s; give %v to %v", what, v, unit, low, high)
	}
}

// colour asks for #rrggbb or blank. The colour names of style sheets are refused: a book is read by people, and they
// take a name for another shade.
func (k *check) colour(what string, c Colour) {
	if c == "" {
		return
	}
	if len(c) == 7 && c[0] == '#' {
		if _, err := strconv.ParseUint(string(c[1:]), 16, 32); err == nil && c[1] != '+' {
			return
		}
	}
	k.fail("the colour of the %s is %.20q; give it as #rrggbb", what, string(c))
}

// span asks for two places along the boat, the first aft of the second.
func (k *check) span(what string, aft, fore float64, l *lines) {
	k.within(what+"'s aft end", aft, l.aft, l.fore, "m")
	k.within(what+"'s fore end", fore, l.aft, l.fore, "m")
	if k.err == nil && fore-aft < 0.05 {
		k.fail("the %s reaches from %v to %v m; give its fore end at least 0.05 m forward of its aft end", what, aft,
			fore)
	}
}

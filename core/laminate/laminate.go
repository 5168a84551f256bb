// Package laminate works out what a lay-up of glass-fibre takes and weighs, and how thick it is; flotation foam; and
// the limits of a gelcoat. Each quantity says its formula and where that is from. What is measured by a formula of its
// parts alone, such as timber or paint, is a form of package takeoff.
//
// The relations of ISO 12215-5 are here to plan materials and to see early that a laminate is thin. They do not replace
// the standard: see [Caution].
package laminate

import (
	"fmt"

	"ribband/core/msg"
)

// Caution belongs beside every scantling that is shown.
var Caution = msg.New("laminate.caution")

// The range of every number that comes in, so that no result is infinite.
const (
	least = 1e-6
	most  = 1e6
)

// number checks one input.
func number(place, what, unit string, v float64) error {
	if v >= least && v <= most {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Errorf("%s: the %s is %v%s; give a number above zero, at most %.0f", place, what, v, unit, most)
}

// input is a number with its name, for checking several at once.
type input struct {
	what, unit string
	value      float64
}

func numbers(place string, list ...input) error {
	for _, n := range list {
		if err := number(place, n.what, n.unit, n.value); err != nil {
			return err
		}
	}
	return nil
}

// within checks a number that has a range of its own.
func within(place, what string, v, low, high float64, remedy string) error {
	if v >= low && v <= high {
		return nil
	}
	return fmt.Errorf("%s: the %s is %v; %s", place, what, v, remedy)
}

// share checks a share that is added on top or lost.
func share(place, what string, v float64) error {
	return within(place, what, v, 0, 2, "give a share from 0 to 2, such as 0.10 for 10 %")
}

// LitresPerBoardFoot is exact: 144 in³.
//
// Source: definition of the board foot.
const LitresPerBoardFoot = 144 * 0.016387064

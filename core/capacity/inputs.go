package capacity

import (
	"errors"
	"fmt"
	"strings"
)

// The widest inputs that are taken: far beyond any boat of these rules, so that what lies outside is a slip of units.
const (
	mostKG     = 50_000
	mostLength = 100 // m
	mostVolume = 100 // m³
)

// inputs gathers what is wrong with the numbers given, so that all of it is said at once.
type inputs struct {
	doing string
	errs  []error
}

// number asks for a finite number from low to high.
func (in *inputs) number(name string, value, low, high float64, unit, remedy string) {
	if !(value >= low && value <= high) { // NaN is neither
		in.errs = append(in.errs, fmt.Errorf("%s: %s is %v %s, not from %v to %v: %s", in.doing, name, value, unit, low,
			high, remedy))
	}
}

func (in *inputs) mass(name string, kg float64) {
	in.number(name, kg, 0, mostKG, "kg", "weigh it, or add up its parts, in kilograms")
}

func (in *inputs) wrong(format string, args ...any) {
	in.errs = append(in.errs, fmt.Errorf("%s: "+format, append([]any{in.doing}, args...)...))
}

func (in *inputs) err() error { return errors.Join(in.errs...) }

func joined[T ~string](names []T) string {
	texts := make([]string, len(names))
	for i, n := range names {
		texts[i] = string(n)
	}
	return strings.Join(texts, ", ")
}

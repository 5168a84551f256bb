package bank

import (
	"errors"
	"strconv"
)

// Fault is one thing wrong with the data: where, what, and what to do about it.
type Fault struct {
	Where, Problem, Remedy string
	Point                  int // of the trial table, from 1; 0 where it is no point's
}

func (f Fault) Error() string { return f.Where + ": " + f.Problem + "; " + f.Remedy }

type faults []Fault

func (fs *faults) add(where, problem, remedy string) {
	*fs = append(*fs, Fault{Where: where, Problem: problem, Remedy: remedy})
}

// within wants low <= value <= high, which NaN never meets.
func (fs *faults) within(where, what string, value, low, high float64, unit string) bool {
	if value >= low && value <= high {
		return true
	}
	fs.add(where, what+" is "+amount(value, unit), "give "+number(low)+" to "+amount(high, unit))
	return false
}

// from takes over another part's faults, with the place of the part before theirs.
func (fs *faults) from(where string, other []Fault) {
	for _, f := range other {
		f.Where = where + ", " + f.Where
		*fs = append(*fs, f)
	}
}

// err gives the faults as one error; nil where there are none.
func (fs faults) err() error {
	errs := make([]error, len(fs))
	for i, f := range fs {
		errs[i] = f
	}
	return errors.Join(errs...)
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func amount(v float64, unit string) string {
	if unit == "" {
		return number(v)
	}
	return number(v) + " " + unit
}

// tenths writes a value with one decimal.
func tenths(v float64, unit string) string { return strconv.FormatFloat(v, 'f', 1, 64) + " " + unit }

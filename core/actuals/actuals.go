// Package actuals sets the hours that were booked against those of the book: how far operations, shops, options and
// hulls are off, how sure that is, what to change in the book, and what margin was left of what was quoted.
//
// The log of booked by planned hours of each operation of each boat is taken as a sum of what its shop, operation,
// hull, options and boat are off, and of chance. Each of these is drawn towards zero, the book, by as much as its kind
// as a whole tells (partial pooling): two boats do not condemn a figure, forty do. Nothing here changes the book; the
// owner applies the proposed edit.
//
// It reads no calendar and no step that is still under way: half an operation says nothing of the whole.
//
// Source: linear mixed model with best linear unbiased prediction, C. R. Henderson, Biometrics 31 (1975), 423-447;
// normal hierarchical model, Gelman and others, Bayesian Data Analysis, chapter 5; both from memory.
package actuals

import (
	"cmp"
	"math"
	"slices"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/pack"
)

// Interval is where a value lies, with a stated probability. Values are rounded to thousandths: the last digits of a
// logarithm are not the same on all processors.
type Interval struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Has says whether a value lies in the interval.
func (i Interval) Has(v float64) bool { return i.Low <= v && v <= i.High }

// Kind is what bias is told of.
type Kind string

// The kinds, in the order of a report.
const (
	OfShop      Kind = "shop"
	OfOperation Kind = "operation"
	OfHull      Kind = "hull"
	OfOption    Kind = "option"
)

// Bias is how far the book is off in one thing, apart from what the others are off: 1.18 is that it takes 18 % more
// hours than the book says. That of an operation holds with its shop's; that of a shop is the mean of its operations,
// by their planned hours.
type Bias struct {
	Kind  Kind   `json:"kind"`
	ID    string `json:"id"` // of the book
	Title string `json:"title"`
	Boats int    `json:"boats"` // on which it was worked
	// Sums over all bookings of it. Those of an option are of all that stands in the same rows, so that they tell less
	// than its ratio where it was not booked by itself.
	Planned measure.Hours `json:"planned"`
	Booked  measure.Hours `json:"booked"`
	Raw     float64       `json:"raw"` // booked by planned, whatever caused it
	// Ratio is the median of booked by planned hours that it alone causes; the intervals hold it with 80 % and 95 %.
	Ratio float64  `json:"ratio"`
	In80  Interval `json:"in_80"`
	In95  Interval `json:"in_95"`
	// Spread is the standard deviation of the log of one boat's hours: 0.15 is about 15 %.
	Spread     float64  `json:"spread"`
	SpreadIn80 Interval `json:"spread_in_80"`

	index int // of the shop, operation, hull or option
}

// Off says whether the book should be changed: one boat of five at most would be beyond the interval if it were right,
// and a change of less than a twentieth is not worth the edit.
func (b *Bias) Off() bool { return !b.In80.Has(1) && math.Abs(b.Ratio-1) >= worthwhile-1e-9 }

// worthwhile is the least change of hours that is proposed: common practice, no source.
const worthwhile = 0.05

// Result is what the bookings say of the book.
type Result struct {
	Boats    int    `json:"boats"`
	Bookings int    `json:"bookings"` // an operation of a boat, or what an option takes of it
	Biases   []Bias `json:"biases"`   // by kind, then in the order of the book
	// standard deviations of the logs: what of the spread the kinds explain, and what is left to chance
	Between map[Kind]float64 `json:"between"`
	OfBoats float64          `json:"of_boats"`
	Within  float64          `json:"within"`

	engine *engine.Engine
	fitted *fitted
}

// quantiles of the normal distribution: 10 % and 2.5 % lie beyond.
const z80, z95 = 1.2815515655446004, 1.959963984540054

// Compare sets bookings against the book; nothing comes of none. The same bookings give the same result, in any order
// of the file up to rounding.
func Compare(e *engine.Engine, list []Booking) *Result {
	r := &Result{Bookings: len(list), Between: map[Kind]float64{}, engine: e}
	f := fit(e, list)
	if f == nil {
		return r
	}
	r.Boats, r.fitted = len(f.boats), f
	// each kind has a block of its own, so that the order of the map says nothing
	for kind, b := range f.blocks {
		r.Between[kind] = rounded(math.Sqrt(f.model.blocks[b].variance))
	}
	ofBoats := f.model.blocks[f.boat].variance
	// deviations of logs, which are shares of the hours where they are small
	r.OfBoats, r.Within = rounded(math.Sqrt(ofBoats)), rounded(math.Sqrt(f.model.within))
	for _, kind := range []Kind{OfShop, OfOperation, OfHull, OfOption} {
		var some []Bias
		var rows [][]int
		for _, i := range f.present(kind) {
			b := Bias{Kind: kind, index: i}
			b.ID, b.Title = nameOf(e, kind, i)
			own := f.of(kind, i)
			f.count(&b, own)
			mean, sd := f.model.at(f.terms(kind, i))
			b.Ratio = rounded(math.Exp(mean))
			b.In80, b.In95 = around(mean, sd, z80), around(mean, sd, z95)
			some, rows = append(some, b), append(rows, own)
		}
		f.spreads(some, rows, ofBoats)
		r.Biases = append(r.Biases, some...)
	}
	return r
}

// rounded is what is told of a figure.
func rounded(v float64) float64 { return measure.Round(v, 3) }

// around is the interval of a ratio, of the mean and deviation of its log.
func around(mean, sd, z float64) Interval {
	d := float64(z * sd)
	return Interval{rounded(math.Exp(mean - d)), rounded(math.Exp(mean + d))}
}

// nameOf is how the book calls something.
func nameOf(e *engine.Engine, kind Kind, i int) (id, title string) {
	switch kind {
	case OfShop:
		return e.Work.Shops[i].ID, e.Work.Shops[i].Title
	case OfOperation:
		return e.Work.Operations[i].ID, e.Work.Operations[i].Title
	case OfHull:
		return e.Pack.Hulls[i].ID, e.Pack.Hulls[i].Title
	}
	return e.Pack.Options[i].ID, e.Pack.Options[i].Title
}

// Find is what is known of a thing by its name.
func (r *Result) Find(kind Kind, id string) (*Bias, bool) {
	i := slices.IndexFunc(r.Biases, func(b Bias) bool { return b.Kind == kind && b.ID == id })
	if i < 0 {
		return nil, false
	}
	return &r.Biases[i], true
}

// Off are those in which the book should be changed, the surest first. A shop is none of them: its operations are.
func (r *Result) Off() (list []Bias) {
	// what a shop has in common stands in its operations already: to change both would change it twice
	for _, b := range r.Biases {
		if b.Off() && b.Kind != OfShop {
			list = append(list, b)
		}
	}
	// how far from 1 the near end of the interval lies
	sure := func(b *Bias) float64 { return max(b.In80.Low-1, 1-b.In80.High) }
	slices.SortStableFunc(list, func(a, b Bias) int { return cmp.Compare(sure(&b), sure(&a)) })
	return list
}

// Expected is how many hours a booking's operation is to be expected to take on another boat, by what is known of its
// shop, operation, hull and options: the planned ones where nothing is known.
func (r *Result) Expected(b *Booking) measure.Hours {
	if r.fitted == nil {
		return b.Planned
	}
	mean, _ := r.fitted.model.at(r.fitted.effects(b))
	h, err := measure.FromFloat[measure.Hours](b.Planned.Float() * math.Exp(mean))
	if err != nil {
		return b.Planned
	}
	return h
}

// spreadOf is the standard deviation of the log of hours that the book takes for an operation, as of PERT.
//
// It is compared with the deviation of a log, which is the same for small ones: at 20 % they differ by a hundredth.
//
// Formula: (high - low) / 6, by the mean (low + 4 + high) / 6.
// Source: Malcolm and others, Operations Research 7 (1959), 646-669, from memory.
func spreadOf(s pack.Spread) float64 { return (s.High - s.Low) / (s.Low + 4 + s.High) }

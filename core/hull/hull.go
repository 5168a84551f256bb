package hull

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate"
	"gonum.org/v1/gonum/interp"
)

// Hull is a table of offsets prepared for computing. It is never changed after [New] and may be used by several at
// once.
type Hull struct {
	aft, fore float64 // x of the first and last station
	middle    float64 // x of midlength
	sections  []section
	volume    float64 // up to the sheer
	guess     interp.PiecewiseLinear
}

// New prepares a table of offsets; the error names the first fault and its remedy. The table is copied.
//
// Valid: symmetrical hulls without openings below the sheer.
func New(o Offsets) (*Hull, error) {
	if faults := o.Validate(); len(faults) > 0 {
		more := ""
		if n := len(faults) - 1; n > 0 {
			more = fmt.Sprintf(" (and %d more)", n)
		}
		return nil, fmt.Errorf("making a hull of its offsets: %s%s", faults[0], more)
	}
	h := &Hull{aft: o.Stations[0].X, fore: o.Stations[len(o.Stations)-1].X}
	h.middle = (h.aft + h.fore) / 2
	x := make([]float64, len(o.Stations))
	for i, st := range o.Stations {
		x[i] = st.X
		h.sections = append(h.sections, newSection(Station{st.X, slices.Clone(st.Z), slices.Clone(st.Y)}))
	}
	for i, w := range weights(x) {
		h.sections[i].weight, h.sections[i].along = w, x[i]-h.middle
	}
	h.volume = h.sums(h.top(), 0, level).v
	if !(h.volume >= leastVolume) {
		return nil, errors.New("making a hull of its offsets: they enclose no volume: give half-breadths above zero")
	}
	return h, h.tabulate()
}

// weights are those with which samples at x make an integral: Simpson's, or the trapezoidal rule's where one of those
// is not above zero, so that more volume at a station is always more volume of the hull.
func weights(x []float64) []float64 {
	by := func(rule func(x, f []float64) float64) []float64 {
		w := make([]float64, len(x))
		for i := range x {
			one := make([]float64, len(x))
			one[i] = 1
			w[i] = rule(x, one)
		}
		return w
	}
	simpson := by(integrate.Simpsons)
	if slices.ContainsFunc(simpson, func(w float64) bool { return !(w > 0) }) {
		return by(integrate.Trapezoidal)
	}
	return simpson
}

// tabulate prepares the guess of the draft on an even keel from the volume.
func (h *Hull) tabulate() error {
	const steps = 32
	bottom, top := h.bottom(), h.top()
	var volumes, drafts []float64
	for i := range steps + 1 {
		draft := bottom + float64((top-bottom)*float64(i)/steps)
		v := h.sums(draft, 0, level).v
		if n := len(volumes); n == 0 || v > volumes[n-1] {
			volumes, drafts = append(volumes, v), append(drafts, draft)
		}
	}
	if len(volumes) < 2 {
		return errors.New("making a hull of its offsets: they enclose no volume: give half-breadths above zero")
	}
	if err := h.guess.Fit(volumes, drafts); err != nil {
		return fmt.Errorf("making a hull of its offsets: tabulating its volume: %w", err)
	}
	return nil
}

// Length is the distance from the first to the last station, m.
func (h *Hull) Length() float64 { return h.fore - h.aft }

// Aft is the x of the first station, where the draft aft is read, m.
func (h *Hull) Aft() float64 { return h.aft }

// Fore is the x of the last station, where the draft fore is read, m.
func (h *Hull) Fore() float64 { return h.fore }

// Volume is what the hull encloses up to its sheer, m³.
func (h *Hull) Volume() float64 { return h.volume }

// bottom is the lowest height of all sections, top the highest.
func (h *Hull) bottom() float64 {
	z := math.Inf(1)
	for i := range h.sections {
		z = min(z, h.sections[i].z[0])
	}
	return z
}

func (h *Hull) top() float64 {
	z := math.Inf(-1)
	for i := range h.sections {
		z = max(z, last(h.sections[i].z))
	}
	return z
}

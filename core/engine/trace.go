package engine

import (
	"fmt"
	"strconv"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/takeoff"
)

// Trace is how a number came about: the formula, what it read, and where in the book it stands. It is for the yard,
// which keeps the book: identifiers stand as in the book, and numbers as a formula reads them.
type Trace struct {
	At      string  `json:"at"`
	Formula string  `json:"formula,omitempty"`
	Inputs  []Input `json:"inputs,omitempty"`
}

// Input is one thing that a formula read.
type Input struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// programs finds the lowered formula of every place in the book, and what is measured there.
func programs(p *pack.Pack) ([]formula.Program, map[int]*pack.BOMLine) {
	if p.Work == nil {
		return nil, nil
	}
	list, measured := make([]formula.Program, len(p.Work.Sources)), map[int]*pack.BOMLine{}
	// Materials and operations of hulls and options, and what an option buys by the piece.
	for _, items := range [][]pack.BillOfMaterials{p.Costs.Hulls, p.Costs.Options} {
		for i := range items {
			for _, needs := range [][]pack.BOMLine{items[i].Materials, items[i].Operations} {
				for j := range needs {
					n := &needs[j]
					list[n.At] = n.Amount
					if p.Work.Sources[n.At].Takeoff != nil || n.Amount.Empty() {
						measured[n.At] = n
					}
				}
			}
			for _, l := range items[i].List {
				list[l.At] = l.Per
			}
		}
	}
	// A circuit's places lie with the work, its formulas with the public part, which needs them for the fuses.
	for i := range p.Circuits {
		c, at := &p.Circuits[i], &p.Work.Runs[i].At
		list[at.Amps], list[at.Volts], list[at.Length] = c.Amps, c.Volts, c.Length
	}
	return list, measured
}

// Unfold tells how the number at a place of the book came about on a boat. It is for desks with build sheets: see
// [pack.Sheets].
func (e *Engine) Unfold(b *fit.Build, at int) Trace {
	src := e.Pack.Work.Sources[at]
	t := Trace{At: src.String(), Formula: src.Text}
	reads := e.programs[at].Reads()
	// What is taken off the drawing has no formula of its own: it reads what the measuring reads.
	if n := e.Measured[at]; n != nil {
		reads = takeoff.Reads(e.Pack, n)
	}
	t.Inputs = e.inputs(b, reads)
	return t
}

// inputs are the values of what a formula reads. A choice is named, as its index would say nothing; numbers have
// eight figures, enough to compute the formula again by hand.
func (e *Engine) inputs(b *fit.Build, r formula.Reads) (list []Input) {
	input := func(name string, v float64) {
		list = append(list, Input{name, strconv.FormatFloat(v, 'g', 8, 64)})
	}
	// In the order in which a person would look them up: the hull, the use, what follows, what was chosen.
	for _, i := range r.Hull {
		input("hull."+e.Pack.HullFields[i].ID, b.State.Hull[i])
	}
	if r.HullID {
		list = append(list, Input{"hull.id", e.Pack.Hulls[b.State.HullID].ID})
	}
	for _, i := range r.Use {
		if u := &e.Pack.Use[i]; len(u.Choices) > 0 {
			list = append(list, Input{"use." + u.ID, u.Choices[int(b.State.Use[i])].ID})
		} else {
			input("use."+u.ID, b.State.Use[i])
		}
	}
	for _, i := range r.Figures {
		input("figures."+e.Pack.Figures[i].ID, b.State.Figures[i])
	}
	for _, i := range r.Options {
		input(fmt.Sprintf("count(%q)", e.Pack.Options[i].ID), float64(b.State.Counts[i]))
	}
	for _, i := range r.Slots {
		input(fmt.Sprintf("chosen(%q)", e.Pack.Slots[i].ID), float64(b.State.Slots[i]))
	}
	return list
}

package engine

import (
	"strconv"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/pack"
)

// FigureTrace is how a figure came about: a formula with what it read, or a total with what adds to it. At is empty:
// the buyer's desk knows no places of the book.
type FigureTrace struct {
	Formula string  `json:"formula"`
	Inputs  []Input `json:"inputs,omitempty"`
	Source  string  `json:"source,omitempty"`
}

// UnfoldFigure tells how figure i came about on a boat.
func (e *Engine) UnfoldFigure(b *fit.Build, i int) FigureTrace {
	def := &e.Pack.Figures[i]
	switch {
	case def.Computed != "":
		h, _ := figures.Find(figures.ID(def.Computed))
		return FigureTrace{Formula: e.Text(h.Formula()), Source: e.Text(h.Source())}
	case !def.Formula.Empty():
		return FigureTrace{Formula: def.Formula.Infix(e.words()), Inputs: e.inputs(b, def.Formula.Reads())}
	}
	return FigureTrace{Formula: "adds up what the boat carries", Inputs: e.carried(b, i)}
}

func (e *Engine) words() formula.Words {
	p := e.Pack
	return formula.Words{
		Options: func(i int) string { return p.Options[i].ID }, Slots: func(i int) string { return p.Slots[i].ID },
		Hull: func(i int) string { return p.HullFields[i].ID }, Use: func(i int) string { return p.Use[i].ID },
		Figures: func(i int) string { return p.Figures[i].ID },
	}
}

// carried lists what adds to a total, with two digits more than the figure shows.
func (e *Engine) carried(b *fit.Build, figure int) []Input {
	var list []Input
	digits := e.Pack.Figures[figure].Digits + 2
	add := func(name string, v float64) {
		if v != 0 {
			list = append(list, Input{name, strconv.FormatFloat(measure.Round(v, digits), 'f', -1, 64)})
		}
	}
	h := &e.Pack.Hulls[b.State.HullID]
	for _, c := range h.Carries {
		if c.Figure == figure {
			add(h.Title+", base boat", c.Amount.Number()(b.State))
		}
	}
	for o, n := range b.State.Counts {
		for _, c := range e.Pack.Options[o].Carries {
			if n > 0 && c.Figure == figure {
				add(e.Pack.Slots[e.Pack.Options[o].Slot].Title+": "+pack.Times(n, e.Pack.Options[o].Title),
					float64(n)*c.Amount.Number()(b.State))
			}
		}
	}
	return list
}

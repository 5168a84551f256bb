package engine

import (
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
)

// FigureTrace is how a figure came about: a formula with what it read, or a total with what adds to it. At is empty:
// the buyer's desk knows no places of the book. A figure that a module computes says how in the words of its
// definition, since its steps are no formula of the book.
type FigureTrace struct {
	Formula msg.Message
	Inputs  []Term
	Source  msg.Message
}

// Term is one thing that adds to a total, or that a formula read.
type Term struct{ Name, Value msg.Message }

// UnfoldFigure tells how figure i came about on a boat.
func (e *Engine) UnfoldFigure(b *fit.Build, i int) FigureTrace {
	def := &e.Pack.Figures[i]
	switch {
	// What the program computes was described where it is computed; the book's own formulas are written out.
	case def.Computed != "":
		h, _ := figures.Find(figures.ID(def.Computed))
		return FigureTrace{Formula: h.Formula(), Source: h.Source()}
	case !def.Formula.Empty():
		t := FigureTrace{Formula: msg.Plain(def.Formula.Infix(e.words()))}
		for _, in := range e.inputs(b, def.Formula.Reads()) {
			t.Inputs = append(t.Inputs, Term{msg.Plain(in.Name), msg.Plain(in.Value)})
		}
		return t
	}
	return FigureTrace{Formula: msg.New("engine.total"), Inputs: e.carried(b, i)}
}

// number is a number by itself, with all its decimals.
func number(v float64) msg.Message { return msg.New("engine.number", msg.Number("n", v, msg.Exact)) }

// words are the identifiers of the book for a formula that is written out: what the keeper of the book would look for.
func (e *Engine) words() formula.Words {
	p := e.Pack
	return formula.Words{
		Options: func(i int) string { return p.Options[i].ID }, Slots: func(i int) string { return p.Slots[i].ID },
		Hull: func(i int) string { return p.HullFields[i].ID }, Use: func(i int) string { return p.Use[i].ID },
		Figures: func(i int) string { return p.Figures[i].ID },
	}
}

// carried lists what adds to a total, with two digits more than the figure shows. What is added rounds each part by
// itself, so that the parts may differ from the total in the last of these digits.
func (e *Engine) carried(b *fit.Build, figure int) []Term {
	var list []Term
	digits := e.Pack.Figures[figure].Digits + 2
	add := func(name msg.Message, v float64) {
		if v != 0 {
			list = append(list, Term{name, number(measure.Round(v, digits))})
		}
	}
	h := &e.Pack.Hulls[b.State.HullID]
	for _, c := range h.Carries {
		if c.Figure == figure {
			add(msg.New("engine.base-boat", msg.Text("hull", h.Title)), c.Amount.Number()(b.State))
		}
	}
	for o, n := range b.State.Counts {
		for _, c := range e.Pack.Options[o].Carries {
			if n > 0 && c.Figure == figure {
				add(inSlot(&e.Pack.Slots[e.Pack.Options[o].Slot], msg.Plain(pack.Times(n, e.Pack.Options[o].Title))),
					float64(n)*c.Amount.Number()(b.State))
			}
		}
	}
	return list
}

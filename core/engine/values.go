package engine

import (
	"strconv"
	"strings"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/msg"
)

// State says what is known of a value. That of a number which stands for itself is "". A figure that is not known is
// never shown as zero.
type State string

const (
	AtLeast  State = "at-least"  // the number is a lower bound: the trial of the hull ends there
	None     State = "none"      // there is none of it, such as a speed for a range that nobody asked for
	NotKnown State = "not-known" // it cannot be computed for this boat
)

// Value is a figure, a dimension or a field of the use as it is stated to a reader, in parts that a program can use.
// What the book calls things is in words; what the engine has to say of them is in codes, which become words at the
// edge.
type Value struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	State State  `json:"state,omitempty"`
	// Number is in Unit, rounded to Digits decimals; nil where there is none, or a choice in its place.
	Number *float64 `json:"number,omitempty"`
	Digits int      `json:"digits,omitempty"`
	Unit   string   `json:"unit,omitempty"`   // ID of [measure.Units], or the symbol of a customary unit of the US
	Choice string   `json:"choice,omitempty"` // identifier of what was chosen among the book's words
	Text   string   `json:"text,omitempty"`   // what the book calls the choice
	Notes  []Note   `json:"notes,omitempty"`
}

// Note is what has to be read beside a number. It is part of what is stated, and goes wherever the number goes.
type Note struct {
	Code NoteCode `json:"code"`
	// Percent is by how much the boat is heavier than on trial, in whole per cent; 0 with other codes.
	Percent float64 `json:"percent,omitempty"`
}

// NoteCode says which note it is.
type NoteCode string

const (
	WithSun     NoteCode = "with-sun"     // the sun of an average July day is in the number
	BeyondTrial NoteCode = "beyond-trial" // estimated, since the boat is much heavier than on trial
)

// In is a value of so many of a unit, in the units of a system and rounded half away from zero; not known where the
// number is none or beyond any quantity. A customary unit of the US is named by its symbol, since it has no identifier.
func In(system measure.System, number float64, unit string, digits int) Value {
	if u, ok := measure.UnitOf(unit); ok {
		number, unit = u.In(system, number)
	}
	v := Value{Digits: digits, Unit: unit}
	if q, err := measure.FromFloat[measure.Quantity](number); err != nil {
		v.State = NotKnown
	} else if n, err := strconv.ParseFloat(q.Fixed(digits), 64); err == nil {
		v.Number = &n
	}
	return v
}

// Message is the value with what has to be read beside it. Which of them there are is known here alone, so that page,
// papers and the file of a brief say the same.
func (v Value) Message() msg.Message {
	switch {
	case v.Choice != "":
		return msg.Plain(v.Text)
	case v.State == None:
		return msg.New("engine.none")
	case v.Number == nil:
		return msg.New("engine.not-known")
	}
	number := msg.New("engine.value", msg.Quantity("value", *v.Number, v.Unit, v.Digits))
	var notes []msg.Message
	if v.State == AtLeast {
		notes = append(notes, msg.New("engine.at-least"))
	}
	for _, n := range v.Notes {
		switch n.Code {
		case WithSun:
			notes = append(notes, msg.New("engine.with-sun"))
		case BeyondTrial:
			notes = append(notes, msg.New("engine.beyond-trial", msg.Number("percent", n.Percent, 0)))
		}
	}
	if len(notes) == 0 {
		return number
	}
	all := notes[0]
	for _, n := range notes[1:] {
		all = msg.New("engine.notes", msg.Words("first", all), msg.Words("next", n))
	}
	return msg.New("engine.value-noted", msg.Words("value", number), msg.Words("notes", all))
}

// Symbol is the symbol of the unit.
func (v Value) Symbol() string {
	return measure.SymbolOf(v.Unit)
}

// Nothing says that a value is a number of zero.
func (v Value) Nothing() bool { return v.Number != nil && *v.Number == 0 }

// UseValues says how the boat will be used. A number has the decimals that it was stated with, two at most where its
// steps are fine and one elsewhere.
func (e *Engine) UseValues(b *fit.Build, system measure.System) []Value {
	out := make([]Value, len(e.Pack.Use))
	for i, u := range e.Pack.Use {
		if len(u.Choices) > 0 {
			c := &u.Choices[int(b.State.Use[i])]
			out[i] = Value{ID: u.ID, Title: u.Title, Choice: c.ID, Text: c.Title}
			continue
		}
		fine := 1
		if u.Step > 0 && u.Step < 0.1 {
			fine = 2
		}
		out[i] = In(system, b.State.Use[i], u.Unit, fine)
		out[i].ID, out[i].Title = u.ID, u.Title
		if out[i].Number != nil {
			out[i].Digits = decimals(*out[i].Number)
		}
	}
	return out
}

// decimals is how many decimals a number has that say something.
func decimals(v float64) int {
	_, fraction, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return len(fraction)
}

// FigureValues lists the figures that are shown. A figure that nobody asked for, such as a speed for a range of none,
// is left out.
func (e *Engine) FigureValues(b *fit.Build, system measure.System) []Value {
	var out []Value
	for i, f := range e.Pack.Figures {
		if f.Hidden || !e.Pack.Has(i, b.State.HullID) {
			continue
		}
		if b.State.Figures[i] == 0 && len(b.State.Faults) == 0 &&
			e.Figures.Absent(b.State, i) {
			continue // nobody asked
		}
		out = append(out, e.FigureValue(b.State, i, system))
	}
	return out
}

// FigureValue is a figure of a boat as it is stated. Of a boat with any fault no computed
// figure is stated: those that could be computed rest on the same weights.
func (e *Engine) FigureValue(st *formula.State, figure int, system measure.System) Value {
	f, number := &e.Pack.Figures[figure], st.Figures[figure]
	v := In(system, number, f.Unit, f.Digits)
	v.ID, v.Title = f.ID, f.Title
	switch {
	case v.Number == nil || f.Computed != "" && len(st.Faults) > 0:
		v.State, v.Number = NotKnown, nil
		return v
	case number == 0 && e.Figures.NoneAtZero(figure), !e.Pack.Has(figure, st.HullID):
		v.State, v.Number = None, nil
		return v
	case e.Figures.AtLeast(st, figure):
		v.State = AtLeast
	}
	if e.Figures.WithSun(st, figure) {
		v.Notes = append(v.Notes, Note{Code: WithSun})
	}
	if share := e.Figures.Beyond(st, figure); share > 0 {
		v.Notes = append(v.Notes, Note{Code: BeyondTrial, Percent: measure.Round(100*share, 0)})
	}
	return v
}

// Field is a field of the hull of a boat; 0 where the book has none.
func (e *Engine) Field(b *fit.Build, id figures.HullField) float64 {
	return e.Figures.Field(b.State, id)
}

// Used is a number of the use of a boat; 0 where the book has none.
func (e *Engine) Used(b *fit.Build, id figures.UseField) float64 { return e.Figures.Used(b.State, id) }

// Figure is a figure that the book gives, on a boat; 0 where the book has none.
func (e *Engine) Figure(b *fit.Build, id figures.Given) float64 { return e.Figures.Given(b.State, id) }

// Computed is a figure that package figures computes, on a boat; 0 where the book has none.
func (e *Engine) Computed(b *fit.Build, id figures.ID) float64 { return e.Figures.Of(b.State, id) }

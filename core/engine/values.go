package engine

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
)

// Value is a number or choice with its unit, as a reader sees it.
type Value struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Value string `json:"value"`
	Unit  string `json:"unit,omitempty"`
	Note  string `json:"note,omitempty"` // what has to be read beside it
}

// Shown writes a value for a reader: a number grouped, with its unit behind the space given, and its note; words as
// they are.
func (v Value) Shown(space string) string {
	if _, err := money.Parse(v.Value); err != nil {
		return v.Value
	}
	text := measure.Joined(money.Grouped(v.Value), space, v.Unit)
	if v.Note != "" {
		text += ", " + v.Note
	}
	return text
}

// None says that a value is zero.
func (v Value) None() bool {
	n, err := strconv.ParseFloat(v.Value, 64)
	return err == nil && n == 0
}

// UseValues says how the boat will be used.
func (e *Engine) UseValues(b *fit.Build, units measure.System) []Value {
	var out []Value
	for i, u := range e.Pack.Use {
		v := Value{ID: u.ID, Title: u.Title}
		if len(u.Choices) > 0 {
			v.Value = u.Choices[int(b.State.Use[i])].Title
		} else {
			unit, _ := measure.UnitOf(u.Unit)
			n, symbol := unit.In(units, b.State.Use[i])
			fine := 10.0
			if u.Step > 0 && u.Step < 0.1 {
				fine = 100
			}
			v.Value, v.Unit = strconv.FormatFloat(math.Round(n*fine)/fine, 'f', -1, 64), symbol
		}
		out = append(out, v)
	}
	return out
}

// FigureValues lists the figures that are shown.
func (e *Engine) FigureValues(b *fit.Build, system measure.System) []Value {
	var out []Value
	for i, f := range e.Pack.Figures {
		if f.Hidden {
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

// FigureValue is a figure of a boat as a reader sees it.
func (e *Engine) FigureValue(st *formula.State, figure int, system measure.System) Value {
	f := &e.Pack.Figures[figure]
	unit, _ := measure.UnitOf(f.Unit)
	v, symbol := unit.In(system, st.Figures[figure])
	text := "not known"
	if f.Computed != "" && len(st.Faults) > 0 {
		symbol = ""
	} else if v == 0 && e.Figures.NoneAtZero(figure) {
		text, symbol = "none", ""
	} else if q, err := measure.FromFloat[measure.Quantity](v); err == nil {
		text = q.Fixed(f.Digits)
	}
	return Value{f.ID, f.Title, text, symbol, e.note(st, figure)}
}

// note is what has to be read beside a figure of a boat.
func (e *Engine) note(st *formula.State, figure int) string {
	var notes []string
	if e.Figures.AtLeast(st, figure) {
		notes = append(notes, "at least, as the trial of this hull ends there")
	}
	if e.Figures.WithSun(st, figure) {
		notes = append(notes, "with the sun of an average July day")
	}
	if share := e.Figures.Beyond(st, figure); share > 0 {
		notes = append(notes, fmt.Sprintf("estimated, as the boat is %.0f\u00a0%% heavier than on trial", 100*share))
	}
	return strings.Join(notes, "; ")
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

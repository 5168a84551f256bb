package brief

import (
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Kind marks a file as the answer to a brief.
const Kind = "answer to a brief"

// Report is an answer as a file. Money is decimal text, with tax where the region has one. What is in words is in the
// engine's language; identifiers, numbers and specs beside it are for programs.
type Report struct {
	Format      int                `json:"format"`
	Kind        string             `json:"kind"`
	Edition     pack.Edition       `json:"edition"`
	Brief       Brief              `json:"brief"`
	Summary     string             `json:"summary" jsonschema:"description=the answer in a sentence"`
	Proved      bool               `json:"proved" jsonschema:"description=every way was tried"`
	Currency    string             `json:"currency"`
	Boats       []BoatReport       `json:"boats" jsonschema:"description=the cheapest first; each does more than the one before"`
	Relaxations []RelaxationReport `json:"relaxations,omitempty" jsonschema:"description=where there is no boat: the single wishes that would allow one if they gave way"`
}

// BoatReport is a boat of a report. Its spec can be opened by the page and answered again, with the same price as long
// as the edition is the same.
type BoatReport struct {
	Hull    string         `json:"hull"`
	Price   string         `json:"price"`
	Merits  []string       `json:"merits,omitempty" jsonschema:"description=in what none of the boats is better, in words"`
	Figures []engine.Value `json:"figures"`
	Hours   string         `json:"hours,omitempty"`
	Chosen  []string       `json:"chosen,omitempty"`
	Spec    spec.Spec      `json:"spec"`
}

// RelaxationReport is a wish that gives way. Brief is the whole brief with it.
type RelaxationReport struct {
	Wish   string     `json:"wish"`
	Words  string     `json:"words"`
	Proved bool       `json:"proved" jsonschema:"description=nothing nearer to the wish would do"`
	Boat   BoatReport `json:"boat"`
	Brief  Brief      `json:"brief"`
}

// Report makes the file of an answer. The brief is the one that was asked, since an answer alone says nothing of what
// was wished for.
func (a *Answer) Report(e *engine.Engine, b Brief) *Report {
	r := &Report{Format: Format, Kind: Kind, Edition: e.Pack.Edition, Brief: b, Summary: e.Text(a.Summary()),
		Proved: a.Proved, Currency: e.Pack.Currency, Boats: []BoatReport{}}
	for i := range a.Boats {
		boat := a.Boats[i].report(e)
		boat.Merits = e.Language().Texts(a.Merits(e, i))
		r.Boats = append(r.Boats, boat)
	}
	for i := range a.Relaxations {
		x := &a.Relaxations[i]
		words := e.Text(x.Words(e, Region(e, b), measure.Sea))
		r.Relaxations = append(r.Relaxations,
			RelaxationReport{e.Pack.Brief.Wishes[x.Wish].ID, words, x.Sure, x.Boat.report(e), x.Brief})
	}
	return r
}

// report is a boat in the file. Hours are there only on a desk that knows them: a buyer's file says nothing of them.
func (b *Boat) report(e *engine.Engine) BoatReport {
	r := BoatReport{Hull: b.Hull, Price: b.Price.Fixed(e.Pricing.Currency().Digits), Figures: b.Figures,
		Chosen: e.Language().Texts(b.Chosen), Spec: b.Spec}
	if b.Timed {
		r.Hours = b.Hours.Fixed(1)
	}
	return r
}

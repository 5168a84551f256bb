package quote

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Format is the version of the encoding of a quote.
const Format = 1

// Kind marks a file as a quote.
const Kind = "quote of a launch"

// Party is somebody with an address.
type Party struct {
	Name    string   `json:"name"`
	Address []string `json:"address,omitempty"`
	Email   string   `json:"email,omitempty"`
	Phone   string   `json:"phone,omitempty"`
}

// Details are what a quote has beyond its answer. Dates are ISO 8601 and come in from outside. ValidUntil, when empty,
// follows from the date and the book. Approval names who allowed what a salesperson may not give.
type Details struct {
	Number     string `json:"number"`
	Date       string `json:"date"`
	ValidUntil string `json:"valid_until"`
	Customer   Party  `json:"customer"`
	Seller     string `json:"seller,omitempty"`
	Approval   string `json:"approval,omitempty"`
	Remarks    string `json:"remarks,omitempty"`
	// Serial and Built are of the hull number: the yard's running number, five characters, and the month of building as 2027-03.
	Serial string `json:"hull_serial,omitempty"`
	Built  string `json:"hull_built,omitempty"`
	// ListTestKg is the weight that the boat bore in the list test of 33 CFR 183.39(a)(2), kg; 0 before it is done. ListedPersons is what
	// the builder marks as the persons capacity, at most what it computes to; 0: the computed.
	ListTestKg    float64 `json:"list_test_kg,omitempty"`
	ListedPersons int     `json:"listed_persons,omitempty"`
	// Units are those in which figures and use are stated; metric where none are named.
	Units measure.System `json:"units,omitempty"`
}

// Quote is an answer frozen for a customer, or a draft where it has no number. Amounts are decimal text with the
// currency's digits. There is no cost, hour or margin in it but what the spec's own free lines say.
type Quote struct {
	Format int    `json:"format"`
	Kind   string `json:"kind"`
	Details
	Yard       pack.YardInfo `json:"yard"`
	Edition    pack.Edition  `json:"edition"`
	Spec       spec.Spec     `json:"spec"`
	SpecDigest string        `json:"spec_digest"`
	Hull       string        `json:"hull"`
	Use        []Value       `json:"use"`
	Contents   []SectionPart `json:"specification"`
	Figures    []Value       `json:"figures"`
	Solar      *SolarPart    `json:"solar,omitempty"` // of a boat with panels
	Price      PricePart     `json:"price"`
	Clashes    []string      `json:"clashes,omitempty"` // of a draft
	Terms      []string      `json:"terms,omitempty"`
	Cautions   []string      `json:"cautions,omitempty"`
}

// Value is a number or choice with its unit, as a reader sees it.
type Value struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Value string `json:"value"`
	Unit  string `json:"unit,omitempty"`
}

// SectionPart is a section of the specification with its slots that hold something.
type SectionPart struct {
	Title string     `json:"title"`
	Slots []SlotPart `json:"slots"`
}

// SlotPart is what a slot holds. Standard says that it is as in the standard build.
type SlotPart struct {
	ID       string       `json:"id"`
	Title    string       `json:"title"`
	Standard bool         `json:"standard,omitempty"`
	Options  []OptionPart `json:"options"`
}

// OptionPart is an option with its count.
type OptionPart struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Note  string `json:"note,omitempty"`
	Count int    `json:"count"`
}

// PricePart is the price as the customer sees it.
type PricePart struct {
	Currency  string      `json:"currency"`
	Region    string      `json:"region,omitempty"`
	RegionID  string      `json:"region_id,omitempty"`
	TaxName   string      `json:"tax_name,omitempty"`
	TaxRate   string      `json:"tax_rate,omitempty"`
	TaxMode   string      `json:"tax_mode,omitempty"`
	Condition string      `json:"condition,omitempty"`
	Lines     []LinePart  `json:"lines"`
	Discounts []LinePart  `json:"discounts,omitempty"`
	Goods     string      `json:"goods"`
	Net       string      `json:"net"`
	Tax       string      `json:"tax"`
	Total     string      `json:"total"`
	Stages    []StagePart `json:"stages,omitempty"`
}

// LinePart is a line of the price, or a discount (an amount below zero).
type LinePart struct {
	Key    string `json:"key,omitempty"`
	Title  string `json:"title"`
	Detail string `json:"detail,omitempty"`
	Amount string `json:"amount"`
}

// StagePart is one payment.
type StagePart struct {
	Title  string `json:"title"`
	Share  string `json:"share"`
	Amount string `json:"amount"`
}

// Draft puts an answer into the form of a quote without number and date. It may clash; then it says how.
func (e *Engine) Draft(a *Answer) *Quote { return e.DraftIn(a, measure.Metric) }

// DraftIn is [Engine.Draft] with figures and use stated in a reader's units.
func (e *Engine) DraftIn(a *Answer, units measure.System) *Quote {
	q := &Quote{
		Format: Format, Kind: Kind, Yard: e.Pack.Yard, Edition: e.Pack.Edition, Spec: a.Spec, SpecDigest: a.Spec.Digest(),
		Hull: e.Pack.Hulls[a.Hull].Title, Use: e.UseValues(a.Build, units), Contents: e.contentsPart(a), Figures: e.FigureValues(a.Build, units), Solar: e.Solar(a.Build),
		Price: e.pricePart(a), Terms: e.Pack.Terms, Cautions: e.Pack.Cautions,
	}
	for _, c := range a.Build.Clashes {
		q.Clashes = append(q.Clashes, c.Reason)
	}
	return q
}

// Freeze makes a quote of an answer. It refuses a boat that clashes, a spec that was not wholly understood, a price beyond the salesperson's authority without
// an approval, details without number or date, and what cannot stand on the boat's plates.
func (e *Engine) Freeze(a *Answer, d Details) (*Quote, error) {
	if len(a.Build.Clashes) > 0 {
		return nil, fmt.Errorf("freezing a quote: the boat cannot be built: %s", a.Build.Clashes[0].Reason)
	}
	if len(a.Notes) > 0 {
		return nil, fmt.Errorf("freezing a quote: not all of the spec was understood: %s", a.Notes[0])
	}
	if len(a.Warnings) > 0 && strings.TrimSpace(d.Approval) == "" {
		return nil, fmt.Errorf("freezing a quote: %s Name who approved it, or change the discounts", strings.Join(a.Warnings, " "))
	}
	if strings.TrimSpace(d.Number) == "" {
		return nil, errors.New("freezing a quote: it has no number; give one")
	}
	day, err := time.Parse(time.DateOnly, d.Date)
	if err != nil {
		return nil, fmt.Errorf("freezing a quote: the date %.40q is none; write it as 2027-03-31", d.Date)
	}
	if d.ValidUntil == "" {
		d.ValidUntil = day.AddDate(0, 0, e.Pack.ValidityDays).Format(time.DateOnly)
	}
	if until, err := time.Parse(time.DateOnly, d.ValidUntil); err != nil || until.Before(day) {
		return nil, fmt.Errorf("freezing a quote: valid until %.40q is no date, or before the quote's own; write it as 2027-04-30", d.ValidUntil)
	}
	if err := e.checkPlates(a.Build, d); err != nil {
		return nil, fmt.Errorf("freezing a quote: %w", err)
	}
	q := e.DraftIn(a, d.Units)
	q.Details = d
	return q, nil
}

// Encode writes the quote as indented JSON; the same answer and details give the same bytes.
func (q *Quote) Encode() []byte {
	text, err := json.MarshalIndent(q, "", "  ")
	if err != nil { // every type here marshals
		panic(fmt.Sprintf("writing a quote: %v", err))
	}
	return append(text, '\n')
}

// Is says whether a text claims to be a quote, sound or not.
func Is(text []byte) bool {
	var mark struct {
		Kind string `json:"kind"`
	}
	return json.Unmarshal(text, &mark) == nil && mark.Kind != ""
}

// maxBytes bounds a quote read from outside.
const maxBytes = 4 << 20

// Decode reads what Encode writes.
func Decode(text []byte) (*Quote, error) {
	if len(text) > maxBytes {
		return nil, fmt.Errorf("reading a quote: %d bytes are too many; at most %d", len(text), maxBytes)
	}
	q := &Quote{}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(q); err != nil {
		return nil, fmt.Errorf("reading a quote: %w; is the file complete, and a quote?", err)
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, errors.New("reading a quote: something stands behind its end; is the file damaged?")
	}
	if q.Kind != Kind || q.Format != Format {
		return nil, fmt.Errorf("reading a quote: it is of kind %.40q and format %d; want %q and %d", q.Kind, q.Format, Kind, Format)
	}
	inner, err := spec.Decode(q.Spec.Encode())
	if err != nil {
		return nil, fmt.Errorf("reading a quote: %w", err)
	}
	q.Spec = inner
	return q, nil
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
		if b.State.Figures[i] == 0 && figures.NoneAtZero(f.Computed) && len(b.State.Faults) == 0 && e.look(b).used("range_nm") == 0 {
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
	} else if v == 0 && figures.NoneAtZero(f.Computed) {
		text, symbol = "none", ""
	} else if q, err := measure.FromFloat[measure.Quantity](v); err == nil {
		text = q.Fixed(f.Digits)
	}
	return Value{f.ID, f.Title, text, symbol}
}

func (e *Engine) contentsPart(a *Answer) []SectionPart {
	var out []SectionPart
	for i, sec := range e.Pack.Sections {
		part := SectionPart{Title: sec.Title}
		for s, def := range e.Pack.Slots {
			if def.Section == i && a.Build.State.Slots[s] > 0 {
				part.Slots = append(part.Slots, e.slotPart(a, s))
			}
		}
		if len(part.Slots) > 0 {
			out = append(out, part)
		}
	}
	return out
}

func (e *Engine) slotPart(a *Answer, s int) SlotPart {
	def := &e.Pack.Slots[s]
	part := SlotPart{ID: def.ID, Title: def.Title, Standard: true}
	for o := def.First; o < def.End; o++ {
		n := a.Build.State.Counts[o]
		part.Standard = part.Standard && n == a.Standard.State.Counts[o]
		if n > 0 {
			opt := &e.Pack.Options[o]
			part.Options = append(part.Options, OptionPart{opt.ID, opt.Title, opt.Note, n})
		}
	}
	return part
}

func (e *Engine) pricePart(a *Answer) PricePart {
	s := a.Price
	digits := s.Currency.Digits
	p := PricePart{Currency: s.Currency.Code, Goods: s.Goods.Fixed(digits), Net: s.Net.Fixed(digits), Tax: s.Tax.Fixed(digits), Total: s.Total.Fixed(digits)}
	if r := s.Region; r != nil {
		p.Region, p.RegionID, p.TaxName, p.TaxMode, p.Condition = r.Title, r.ID, r.TaxName, string(r.TaxMode), r.Condition
		if r.TaxMode != pack.Zero {
			p.TaxRate = r.TaxRate.Percent()
		}
	}
	for _, l := range s.Lines {
		p.Lines = append(p.Lines, LinePart{l.Key, l.Title, l.Detail, l.Shown.Fixed(digits)})
	}
	for _, d := range s.Discounts {
		p.Discounts = append(p.Discounts, LinePart{d.On, d.Title, "", d.Amount.Neg().Fixed(digits)})
	}
	for _, st := range s.Stages {
		p.Stages = append(p.Stages, StagePart{st.Title, st.Share.Percent(), st.Amount.Fixed(digits)})
	}
	return p
}

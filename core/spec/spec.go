// Package spec is what somebody wants: a hull, what was chosen in its slots, the use, and a salesperson's extra items,
// discounts and trade-in. A spec is small and portable, and nothing computed is in it. It says nothing about a slot in
// which nobody chose; an engine fills that from its book.
//
// A spec is written as JSON ([Spec.Encode], [Decode]) or, without what a salesperson added, as the fragment of a link
// ([Spec.Link], [FromLink]). What of it is the yard's alone is left out by [Spec.Public].
package spec

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/suggest"
)

// Format is the version of the encoding.
const Format = 1

// Spec is a wish. The zero Spec but for a hull is the standard build of that hull.
type Spec struct {
	Format    int                       `json:"format" jsonschema:"description=version of this form: 1"`
	Hull      string                    `json:"hull" jsonschema:"description=identifier of a hull"`
	Choices   map[string]map[string]int `json:"choices,omitempty" jsonschema:"description=by slot: the chosen options with their counts; {} leaves the slot empty"`
	Keep      []string                  `json:"keep,omitempty" jsonschema:"description=slots whose choices are locked: no repair changes them"`
	Use       map[string]Value          `json:"use,omitempty" jsonschema:"description=by field: a number or a choice"`
	Extras    []Extra                   `json:"extras,omitempty" jsonschema:"description=extra items of the salesperson"`
	Discounts []Discount                `json:"discounts,omitempty"`
	TradeIn   *TradeIn                  `json:"trade_in,omitempty" jsonschema:"description=a boat taken in payment"`
	Dealer    string                    `json:"dealer,omitempty" jsonschema:"description=identifier of its dealer"`
}

// Extra is an extra item: something outside of the book. Cost and Hours are the yard's: they stand in files for the
// yard, never in a link or on a customer's paper. A price below zero is a credit.
type Extra struct {
	ID    string                   `json:"id"`
	Title string                   `json:"title"`
	Price money.Amount             `json:"price" jsonschema:"description=net or with tax as basis says; below zero for a credit"`
	Basis Basis                    `json:"basis" jsonschema:"description=net or with-tax: how the price is meant,enum=net,enum=with-tax"`
	Cost  money.Amount             `json:"cost,omitzero" jsonschema:"description=what is bought for it"`
	Hours map[string]measure.Hours `json:"hours,omitempty" jsonschema:"description=by shop"`
}

// Basis says how an amount is meant. Whoever types it must say so: a price that is taken for net by mistake is a fifth
// off.
type Basis string

const (
	Net     Basis = "net"      // without tax
	WithTax Basis = "with-tax" // with the tax of the region; where there is none, the same as net
)

// Discount is a share or an amount off one line (On names a slot or an extra item) or off everything that takes
// discounts.
type Discount struct {
	Title  string       `json:"title"`
	On     string       `json:"on,omitempty" jsonschema:"description=a slot or an extra item; absent for the whole boat"`
	Share  money.Rate   `json:"share,omitzero" jsonschema:"description=0.03 is 3 %"`
	Amount money.Amount `json:"amount,omitzero" jsonschema:"description=as the customer sees it: with tax where prices are shown with tax"`
}

// TradeIn is something that the yard takes in payment, a boat as a rule. It is no discount: see package price for how
// it is set against the total. Value is the yard's: what it expects to get for it; nothing where that is not known.
type TradeIn struct {
	Title     string       `json:"title"`
	Allowance money.Amount `json:"allowance" jsonschema:"description=what the customer is credited with"`
	Value     money.Amount `json:"value,omitzero" jsonschema:"description=what the yard expects to get for it"`
}

// Value is a number or the identifier of a choice.
type Value struct {
	Number float64
	Choice string // "" for a number
}

// String is the value as a link and an error have it: a choice by its identifier, a number as JSON writes it.
func (v Value) String() string {
	if v.Choice != "" {
		return v.Choice
	}
	text, _ := json.Marshal(v.Number)
	return string(text)
}

func (v Value) MarshalJSON() ([]byte, error) {
	if v.Choice != "" {
		return json.Marshal(v.Choice)
	}
	return json.Marshal(v.Number)
}

// UnmarshalJSON takes what MarshalJSON writes. A choice of no letters is none, and null says nothing.
func (v *Value) UnmarshalJSON(b []byte) error {
	if json.Unmarshal(b, &v.Number) == nil && string(b) != "null" {
		return nil
	}
	if err := json.Unmarshal(b, &v.Choice); err != nil || v.Choice == "" {
		return msg.Fault("spec.no-value", msg.Text("text", suggest.Clip(string(b), 40)))
	}
	return nil
}

// Limits of what is read from outside: far beyond any boat, and small enough to be safe.
const (
	maxBytes   = 1 << 20
	maxEntries = 2000
	maxCount   = 1000
	maxID      = 60
	maxTitle   = 300 // bytes
)

// Decode reads a spec from JSON. The error names the place and the remedy; nothing is dropped silently. A name that no
// book knows is no error here.
func Decode(text []byte) (Spec, error) {
	s, err := Strictly[Spec](text, maxBytes)
	switch {
	case err != nil:
	case s.Format == 0 && !Has(text, "format"): // what is missing has no place
		err = msg.Fault("spec.no-format", msg.Count("want", Format))
	default:
		err = Placed(text, s.check())
	}
	if err != nil {
		return Spec{}, reading(err)
	}
	return s, nil
}

// reading says of an error that it came up when a spec was read.
func reading(err error) error { return msg.Fault("spec.reading", msg.Words("problem", msg.Of(err))) }

// Check says what in a spec does not hold, as [Decode] does: so what passes it can be written, and is the same when it
// is read again.
func (s Spec) Check() error {
	// first as it is: nobody sees the text in which a line and a column would be
	if err := s.check(); err != nil {
		return reading(err)
	}
	text := s.Encode()
	again, err := Decode(text)
	// the encoder writes the replacement character for what is no UTF-8
	if err == nil && !bytes.Equal(again.Encode(), text) {
		err = reading(msg.Fault("spec.not-unicode"))
	}
	return err
}

// check holds a spec to its form: counts, titles and amounts that make sense whatever the book. Names are for the
// engine.
func (s *Spec) check() error {
	if s.Format != Format {
		return At("format", "spec.format", msg.Count("format", s.Format), msg.Count("want", Format))
	}
	if err := s.checkSize(); err != nil {
		return err
	}
	if err := s.checkTexts(); err != nil {
		return err
	}
	if err := s.checkChoices(); err != nil {
		return err
	}
	seen := map[string]bool{}
	for i, l := range s.Extras {
		place := fmt.Sprintf("extras[%d]", i)
		if seen[l.ID] {
			return At(place, "spec.extra-unnamed")
		}
		seen[l.ID] = true
		if err := l.check(place); err != nil {
			return err
		}
	}
	for i, d := range s.Discounts {
		if !isTitle(d.Title) || d.Share.IsZero() == d.Amount.IsZero() || d.Share.Sign() < 0 ||
			d.Share.Cmp(money.MustRate("1")) > 0 || d.Amount.Sign() < 0 {
			return At(fmt.Sprintf("discounts[%d]", i), "spec.discount")
		}
	}
	return s.TradeIn.check()
}

// checkChoices goes through the choices in order, so that the same spec gives the same error.
func (s *Spec) checkChoices() error {
	for _, slot := range slices.Sorted(maps.Keys(s.Choices)) {
		for _, option := range slices.Sorted(maps.Keys(s.Choices[slot])) {
			if n := s.Choices[slot][option]; n < 1 || n > maxCount {
				return At(fmt.Sprintf("choices.%.60s.%.60s", slot, option), "spec.no-count", msg.Count("n", n),
					msg.Count("most", maxCount))
			}
		}
	}
	for i, slot := range s.Keep {
		if _, chosen := s.Choices[slot]; !chosen || slices.Contains(s.Keep[:i], slot) {
			return At(fmt.Sprintf("keep[%d]", i), "spec.keep", msg.Text("slot", suggest.Clip(slot, 60)))
		}
	}
	return nil
}

// checkSize bounds what a spec holds, and so how long it is when it is written. A file of fewer bytes may still make a
// longer one: numbers and escapes are written out.
func (s *Spec) checkSize() error {
	options := 0
	for _, chosen := range s.Choices {
		options += len(chosen)
	}
	if max(len(s.Choices), options, len(s.Keep), len(s.Use), len(s.Extras), len(s.Discounts)) > maxEntries {
		return msg.Fault("spec.too-many", msg.Count("most", maxEntries))
	}
	if n := len(s.Encode()); n > maxBytes {
		return tooLong(n, maxBytes)
	}
	return nil
}

// isTitle says whether a text can stand as the title of a line on a paper: there is one, and it fits.
func isTitle(s string) bool { return s != "" && len(s) <= maxTitle }

// check finds what is wrong with an extra item that stands at a place.
func (l *Extra) check(place string) error {
	switch {
	case l.ID == "" || len(l.ID) > maxID || !isTitle(l.Title):
		return At(place, "spec.extra-unnamed")
	case l.Basis != Net && l.Basis != WithTax:
		return At(place+".basis", "spec.basis", msg.Text("basis", suggest.Clip(string(l.Basis), 20)))
	case l.Cost.Sign() < 0:
		return At(place+".cost", "spec.negative", msg.Text("amount", l.Cost.String()))
	}
	for _, shop := range slices.Sorted(maps.Keys(l.Hours)) {
		if h := l.Hours[shop]; h < 0 {
			return At(fmt.Sprintf("%s.hours.%.60s", place, shop), "spec.negative", msg.Text("amount", h.String()))
		}
	}
	return nil
}

// check finds what is wrong with a trade-in; none at all is sound. An allowance beyond the price is for package price,
// which knows the total.
func (t *TradeIn) check() error {
	switch {
	case t == nil:
	case !isTitle(t.Title):
		return At("trade_in.title", "spec.trade-in-title")
	case t.Allowance.Sign() <= 0:
		return At("trade_in.allowance", "spec.trade-in-allowance", msg.Text("amount", t.Allowance.String()))
	case t.Value.Sign() < 0:
		return At("trade_in.value", "spec.trade-in-value", msg.Text("amount", t.Value.String()))
	}
	return nil
}

// Encode writes the spec as indented JSON. Equal specs give equal bytes, in whatever order they were made.
func (s Spec) Encode() []byte {
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil { // every value in a spec marshals, but for a number that Decode refuses
		panic(fmt.Sprintf("writing a spec: %v", err))
	}
	return append(text, '\n')
}

// Digest identifies the spec: SHA-256 of its encoding, in hexadecimal. The same wish has the same digest on every desk,
// so that a page can tell whether a quotation is of the boat that it shows.
func (s Spec) Digest() string {
	sum := sha256.Sum256(s.Encode())
	return hex.EncodeToString(sum[:])
}

// Clone copies the spec, maps and lists included. Every change of a boat begins with it, since answers share their
// specs and the page keeps those before the last changes.
func (s Spec) Clone() Spec {
	s.Choices, s.Use, s.Keep = cloneChoices(s.Choices), maps.Clone(s.Use), slices.Clone(s.Keep)
	s.Extras, s.Discounts = slices.Clone(s.Extras), slices.Clone(s.Discounts)
	for i := range s.Extras {
		s.Extras[i].Hours = maps.Clone(s.Extras[i].Hours)
	}
	if s.TradeIn != nil {
		t := *s.TradeIn
		s.TradeIn = &t
	}
	return s
}

// cloneChoices copies both levels: an option put into a copy must not turn up in the spec that it was copied from.
func cloneChoices(choices map[string]map[string]int) map[string]map[string]int {
	c := maps.Clone(choices)
	for slot := range c {
		c[slot] = maps.Clone(c[slot])
	}
	return c
}

// Public is what a customer may have of a spec. What is not named here stays with the yard: what an extra item costs,
// how many hours it takes and in which shop, what a trade-in is worth to the yard, and by which terms a dealer sells.
func (s Spec) Public() Spec {
	c := s.Clone()
	p := Spec{Format: c.Format, Hull: c.Hull, Choices: c.Choices, Keep: c.Keep, Use: c.Use}
	for _, l := range c.Extras {
		p.Extras = append(p.Extras, Extra{ID: l.ID, Title: l.Title, Price: l.Price, Basis: l.Basis})
	}
	for _, d := range c.Discounts {
		p.Discounts = append(p.Discounts, Discount{Title: d.Title, On: d.On, Share: d.Share, Amount: d.Amount})
	}
	if t := c.TradeIn; t != nil {
		p.TradeIn = &TradeIn{Title: t.Title, Allowance: t.Allowance}
	}
	return p
}

// WithDeal is the spec of a boat with the deal of another, which is with the customer and not with the boat.
func (s Spec) WithDeal(of Spec) Spec {
	s, of = s.Clone(), of.Clone()
	s.Extras, s.Discounts, s.TradeIn, s.Dealer = of.Extras, of.Discounts, of.TradeIn, of.Dealer
	return s
}

// Boat is the spec without what a salesperson added: what a link holds. Specs that differ in extra items, discounts or
// a trade-in alone have one link.
func (s Spec) Boat() Spec {
	c := s.Clone()
	return Spec{Format: c.Format, Hull: c.Hull, Choices: c.Choices, Keep: c.Keep, Use: c.Use}
}

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
	"errors"
	"fmt"
	"maps"
	"slices"

	"ribband/core/measure"
	"ribband/core/money"
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

// Basis says how an amount is meant.
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

func (v *Value) UnmarshalJSON(b []byte) error {
	if json.Unmarshal(b, &v.Number) == nil && string(b) != "null" {
		return nil
	}
	if err := json.Unmarshal(b, &v.Choice); err != nil || v.Choice == "" {
		return fmt.Errorf("a use is a number or the name of a choice, not %.40s", b)
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

// Decode reads a spec from JSON. The error names the place and the remedy; nothing is dropped silently.
func Decode(text []byte) (Spec, error) {
	s, err := Strictly[Spec](text, maxBytes)
	if err == nil {
		err = s.check()
	}
	if err != nil {
		return Spec{}, fmt.Errorf("reading a spec: %w", err)
	}
	return s, nil
}

// Check says what in a spec does not hold, as [Decode] does: so what passes it can be written, and is the same when it
// is read again.
func (s Spec) Check() error {
	text := s.Encode()
	again, err := Decode(text)
	// the encoder writes the replacement character for what is no UTF-8
	if err == nil && !bytes.Equal(again.Encode(), text) {
		err = errors.New("reading a spec: a title or an identifier is not UTF-8; type it again")
	}
	return err
}

func (s *Spec) check() error {
	if s.Format == 0 {
		return fmt.Errorf("the key format: is missing; begin the spec with {\"format\": %d, …}", Format)
	}
	if s.Format != Format {
		return fmt.Errorf("format: %d is not read here; want %d", s.Format, Format)
	}
	if err := s.checkSize(); err != nil {
		return err
	}
	for _, slot := range slices.Sorted(maps.Keys(s.Choices)) { // in order, so that the same spec gives the same error
		for _, option := range slices.Sorted(maps.Keys(s.Choices[slot])) {
			if n := s.Choices[slot][option]; n < 1 || n > maxCount {
				return fmt.Errorf("choices.%.60s.%.60s: %d is no count; write 1 to %d, or leave the option out", slot,
					option, n, maxCount)
			}
		}
	}
	for i, slot := range s.Keep {
		if _, chosen := s.Choices[slot]; !chosen || slices.Contains(s.Keep[:i], slot) {
			return fmt.Errorf("keep[%d]: %.60s is not among the choices, or is there twice; name each slot that is "+
				"chosen in once", i, slot)
		}
	}
	seen := map[string]bool{}
	for i, l := range s.Extras {
		if seen[l.ID] {
			return fmt.Errorf("extras[%d]: every extra item needs a title and an id of its own", i)
		}
		seen[l.ID] = true
		if err := l.check(); err != nil {
			return fmt.Errorf("extras[%d]%w", i, err)
		}
	}
	for i, d := range s.Discounts {
		if !isTitle(d.Title) || d.Share.IsZero() == d.Amount.IsZero() || d.Share.Sign() < 0 ||
			d.Share.Cmp(money.MustRate("1")) > 0 || d.Amount.Sign() < 0 {
			return fmt.Errorf("discounts[%d]: a discount needs a title and either a share between 0 and 1 or an "+
				"amount above zero", i)
		}
	}
	return s.TradeIn.check()
}

// checkSize bounds what a spec holds, and so how long it is when it is written.
func (s *Spec) checkSize() error {
	options := 0
	for _, chosen := range s.Choices {
		options += len(chosen)
	}
	if max(len(s.Choices), options, len(s.Keep), len(s.Use), len(s.Extras), len(s.Discounts)) > maxEntries {
		return fmt.Errorf("more than %d entries; is it a spec?", maxEntries)
	}
	if n := len(s.Encode()); n > maxBytes {
		return fmt.Errorf("%d bytes are too many; at most %d", n, maxBytes)
	}
	return nil
}

func isTitle(s string) bool { return s != "" && len(s) <= maxTitle }

// check finds what is wrong with an extra item. The error begins with the key.
func (l *Extra) check() error {
	switch {
	case l.ID == "" || len(l.ID) > maxID || !isTitle(l.Title):
		return fmt.Errorf(": every extra item needs a title and an id of its own")
	case l.Basis != Net && l.Basis != WithTax:
		return fmt.Errorf(".basis: %.20q does not say how the price is meant; write \"net\" or \"with-tax\"",
			string(l.Basis))
	case l.Cost.Sign() < 0:
		return fmt.Errorf(".cost: %s is negative", l.Cost)
	}
	for _, shop := range slices.Sorted(maps.Keys(l.Hours)) {
		if h := l.Hours[shop]; h < 0 {
			return fmt.Errorf(".hours.%.60s: %s is negative", shop, h)
		}
	}
	return nil
}

func (t *TradeIn) check() error {
	switch {
	case t == nil:
	case !isTitle(t.Title):
		return fmt.Errorf("trade_in.title: say what is taken in payment")
	case t.Allowance.Sign() <= 0:
		return fmt.Errorf("trade_in.allowance: %s is not above zero; write what the customer is credited with, or "+
			"leave the trade-in out", t.Allowance)
	case t.Value.Sign() < 0:
		return fmt.Errorf("trade_in.value: %s is negative; write what the yard expects to get for it, or leave it out",
			t.Value)
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

// Digest identifies the spec: SHA-256 of its encoding, in hexadecimal.
func (s Spec) Digest() string {
	sum := sha256.Sum256(s.Encode())
	return hex.EncodeToString(sum[:])
}

// Clone copies the spec, maps and lists included.
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

func cloneChoices(choices map[string]map[string]int) map[string]map[string]int {
	c := maps.Clone(choices)
	for slot := range c {
		c[slot] = maps.Clone(c[slot])
	}
	return c
}

// Public is what a customer may have of a spec. What is not named here stays with the yard: what an extra item costs,
// how many hours it takes and in which shop, and what a trade-in is worth to the yard.
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

// Boat is the spec without what a salesperson added: what a link holds.
func (s Spec) Boat() Spec {
	c := s.Clone()
	return Spec{Format: c.Format, Hull: c.Hull, Choices: c.Choices, Keep: c.Keep, Use: c.Use}
}

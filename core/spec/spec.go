// Package spec is what somebody wants: a hull, what was chosen in its slots, the use, and a salesperson's free lines and
// discounts. A spec is small and portable, and nothing computed is in it. It says nothing about a slot in which nobody
// chose; an engine fills that from its book.
//
// A spec is written as JSON ([Spec.Encode], [Decode]) or, without free lines and discounts, as the fragment of a link
// ([Spec.Link], [FromLink]).
package spec

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
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
	Lines     []Line                    `json:"lines,omitempty" jsonschema:"description=extra items of the salesperson"`
	Discounts []Discount                `json:"discounts,omitempty"`
}

// Line is something outside of the book. Price is net of tax. Cost and Hours are the yard's: they stand in files for the yard, never in a link or on a customer's paper.
type Line struct {
	ID    string                   `json:"id"`
	Title string                   `json:"title"`
	Price money.Amount             `json:"price" jsonschema:"description=net of tax"`
	Cost  money.Amount             `json:"cost,omitzero" jsonschema:"description=what is bought for it"`
	Hours map[string]measure.Hours `json:"hours,omitempty" jsonschema:"description=by shop"`
}

// Discount is a share or an amount off one line (On names a slot or a free line) or off everything that takes discounts.
type Discount struct {
	Title  string       `json:"title"`
	On     string       `json:"on,omitempty" jsonschema:"description=a slot or an extra item; absent for the whole boat"`
	Share  money.Rate   `json:"share,omitzero" jsonschema:"description=0.03 is 3 %"`
	Amount money.Amount `json:"amount,omitzero" jsonschema:"description=as the customer sees it: with tax where prices are shown with tax"`
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
)

// Decode reads a spec from JSON. The error names the place and the remedy; nothing is dropped silently.
func Decode(text []byte) (Spec, error) {
	s, err := Strictly[Spec](text)
	if err != nil {
		return Spec{}, fmt.Errorf("reading a spec: %w", err)
	}
	if err := s.check(); err != nil {
		return Spec{}, fmt.Errorf("reading a spec: %w", err)
	}
	return s, nil
}

func (s *Spec) check() error {
	if s.Format != Format {
		return fmt.Errorf("format: %d is not read here; want %d", s.Format, Format)
	}
	if len(s.Choices) > maxEntries || len(s.Keep) > maxEntries || len(s.Use) > maxEntries || len(s.Lines) > maxEntries || len(s.Discounts) > maxEntries {
		return fmt.Errorf("more than %d entries; is it a spec?", maxEntries)
	}
	for _, slot := range slices.Sorted(maps.Keys(s.Choices)) { // in order, so that the same spec gives the same error
		for _, option := range slices.Sorted(maps.Keys(s.Choices[slot])) {
			if n := s.Choices[slot][option]; n < 1 || n > maxCount {
				return fmt.Errorf("choices.%.60s.%.60s: %d is no count; write 1 to %d, or leave the option out", slot, option, n, maxCount)
			}
		}
	}
	for i, slot := range s.Keep {
		if _, chosen := s.Choices[slot]; !chosen || slices.Contains(s.Keep[:i], slot) {
			return fmt.Errorf("keep[%d]: %.60s is not among the choices, or is there twice; name each slot that is chosen in once", i, slot)
		}
	}
	seen := map[string]bool{}
	for i, l := range s.Lines {
		if l.ID == "" || l.Title == "" || seen[l.ID] {
			return fmt.Errorf("lines[%d]: every extra item needs a title and an id of its own", i)
		}
		seen[l.ID] = true
		if l.Cost.Sign() < 0 {
			return fmt.Errorf("lines[%d].cost: %s is negative", i, l.Cost)
		}
		for _, shop := range slices.Sorted(maps.Keys(l.Hours)) {
			if h := l.Hours[shop]; h < 0 {
				return fmt.Errorf("lines[%d].hours.%.60s: %s is negative", i, shop, h)
			}
		}
	}
	for i, d := range s.Discounts {
		if d.Title == "" || d.Share.IsZero() == d.Amount.IsZero() || d.Share.Sign() < 0 || d.Share.Cmp(money.MustRate("1")) > 0 || d.Amount.Sign() < 0 {
			return fmt.Errorf("discounts[%d]: a discount needs a title and either a share between 0 and 1 or an amount above zero", i)
		}
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
	c, err := Decode(s.Encode())
	if err != nil { // what was encoded decodes, unless it was built wrong in code
		panic(fmt.Sprintf("copying a spec: %v", err))
	}
	return c
}

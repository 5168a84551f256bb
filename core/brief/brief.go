// Package brief finds boats for somebody who says what the boat must do: the cheapest, the one with the most of the
// book's figure, and those between, which trade the one for the other; or the proof that there is none, with the single
// wishes that would have to give way, and how far.
//
// The book declares what may be wished for, which slots are tried out, and which figure is set against the price. The
// boats are exact over these slots: no other boat of the hulls asked for, with any contents of the tried slots, valid
// and within the wishes, is cheaper (net of tax), or cheaper with as much of the figure. Slots that are not tried out
// hold what the standard build has, or what goes with the tried ones; see [fit.Task]. Every boat is a complete spec
// whose answer has no clash, and the price given is that of the answer. The search itself is [fit.Optimizer].
//
// A [Run] is led in steps, so that a page stays responsive; what comes out does not depend on how it is cut.
package brief

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/spec"
	"ribband/core/suggest"
)

// Format is the version of the encoding.
const Format = 1

// Brief is what somebody wants a boat to do. Choices are those that stay as they are; Use holds what is not wished for
// but known, such as the region. It says what a boat has to do and not what it is made of, and is as small and portable
// as a spec.
type Brief struct {
	Format  int                       `json:"format" jsonschema:"description=version of this form: 1"`
	Wishes  map[string]Value          `json:"wishes" jsonschema:"description=by wish of the book: an amount, a choice, or true"`
	Hulls   []string                  `json:"hulls,omitempty" jsonschema:"description=the hulls to look among; all where none are named"`
	Use     map[string]spec.Value     `json:"use,omitempty" jsonschema:"description=by field: a number or a choice, as in a spec"`
	Choices map[string]map[string]int `json:"choices,omitempty" jsonschema:"description=what stays as it is chosen, as in a spec"`
}

// Value is the amount of a wish: a number, the identifier of a choice, money as decimal text, or true for a wish
// without an amount. Which of them it is follows from the wish, so that only the book can say
// whether it fits.
type Value struct {
	Number float64
	Text   string // a choice, or an amount of money
	Yes    bool
}

// String is the amount as a file has it, for errors: what a person reads is made by [Words].
func (v Value) String() string {
	text, err := v.MarshalJSON()
	if err != nil {
		return fmt.Sprint(v.Number) // no number of JSON
	}
	if v.Text != "" {
		return v.Text
	}
	return string(text)
}

// MarshalJSON writes true, a text or a number, whichever the value holds, and UnmarshalJSON takes each of them back.
// There is no false: a wish that does not matter is left out, so that equal briefs have equal files.
func (v Value) MarshalJSON() ([]byte, error) {
	switch {
	case v.Yes:
		return []byte("true"), nil
	case v.Text != "":
		return json.Marshal(v.Text)
	}
	return json.Marshal(v.Number)
}

// UnmarshalJSON takes a number first: what can be read as one is one. Only a text in quotation marks is a choice or
// money.
func (v *Value) UnmarshalJSON(b []byte) error {
	*v = Value{}
	switch {
	case string(b) == "true":
		v.Yes = true
		return nil
	case string(b) != "null" && json.Unmarshal(b, &v.Number) == nil:
		return nil
	// an empty text would be a wish that says nothing
	case json.Unmarshal(b, &v.Text) == nil && v.Text != "":
		return nil
	}
	return msg.Fault("brief.no-value", msg.Text("text", suggest.Clip(string(b), 40)))
}

// Limits of what is read from outside.
const (
	maxBytes   = 1 << 20
	maxEntries = 2000
)

// Decode reads a brief from JSON. The error names the place and the remedy; nothing is dropped silently. An amount that
// does not fit its wish is found by [Start].
func Decode(text []byte) (Brief, error) {
	b, err := spec.Strictly[Brief](text, maxBytes)
	switch {
	case err != nil:
	case b.Format == 0 && !spec.Has(text, "format"):
		err = msg.Fault("brief.no-format", msg.Count("want", Format))
	default:
		err = spec.Placed(text, b.check())
	}
	if err != nil {
		return Brief{}, msg.Fault("brief.reading", msg.Words("problem", msg.Of(err)))
	}
	return b, nil
}

// check holds a brief to its form. Whether the book knows its names is for [Start] to say, since a brief may be read
// where no book is at hand.
func (b *Brief) check() error {
	if b.Format != Format {
		return spec.At("format", "spec.format", msg.Count("format", b.Format), msg.Count("want", Format))
	}
	if len(b.Wishes) > maxEntries || len(b.Hulls) > maxEntries {
		return msg.Fault("brief.too-many", msg.Count("most", maxEntries))
	}
	for _, id := range slices.Sorted(maps.Keys(b.Wishes)) {
		if v := b.Wishes[id]; v.Text != "" && len(v.Text) > 60 {
			return spec.At("wishes."+suggest.Clip(id, 60), "brief.too-long", msg.Text("text", suggest.Clip(v.Text, 40)))
		}
	}
	// one check for both: what is chosen here becomes part of a spec
	s := spec.Spec{Format: spec.Format, Choices: b.Choices, Use: b.Use} // whose rules these parts follow
	if _, err := spec.Decode(s.Encode()); err != nil {
		return err
	}
	return nil
}

// Encode writes the brief as indented JSON. Equal briefs give equal bytes.
func (b Brief) Encode() []byte {
	text, err := json.MarshalIndent(b, "", "  ")
	if err != nil { // every value in a brief marshals, but for a number that Decode refuses
		panic(fmt.Sprintf("writing a brief: %v", err))
	}
	return append(text, '\n')
}

// Money is the amount of a wish for money. A whole number is taken as well as a text, since people leave the quotation
// marks out; one with decimals is not, as it has been a float by then.
func (v Value) Money() (money.Amount, error) {
	if v.Text == "" && !v.Yes && v.Number == float64(int64(v.Number)) && v.Number < 1<<53 {
		return money.Exact(int64(v.Number), 0), nil
	}
	return money.Parse(v.Text)
}

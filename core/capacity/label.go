package capacity

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"ribband/core/msg"
	"ribband/core/suggest"
)

// LabelLine is one line of a label as it is to be printed.
type LabelLine struct {
	Text    string      `json:"text"`
	Place   msg.Message `json:"place"`   // the yellow field, or outside of it
	Letters msg.Message `json:"letters"` // how high they must be
	Section string      `json:"section"`
}

// Label is what a label on the boat says and how it is made.
type Label struct {
	Applies  bool          `json:"applies"`
	Ready    bool          `json:"ready"` // false: do not print it yet; the sentence says why
	Sentence msg.Message   `json:"sentence"`
	Lines    []LabelLine   `json:"lines,omitempty"`
	Details  []msg.Message `json:"details,omitempty"`
}

var yellow, outside = msg.New("capacity.in-yellow"), msg.New("capacity.outside-yellow")

// CapacityLabel is the capacity label of an inboard boat, its text and units exactly as the rule has them:
//
//	U.S. Coast Guard
//	Maximum Capacities
//	XX Persons or XXX Pounds
//	XXX Pounds, persons, gear
//
// An inboard's label has no line of horsepower and no word "motor".
//
// Valid: a persons capacity made by [PersonsCapacity]. Source: 33 CFR 183.23, 183.25(a), (b)(2), (c), 183.27.
func CapacityLabel(p Persons) Label {
	if !p.Applies || p.Number < 1 {
		return Label{Sentence: p.Sentence}
	}
	l := Label{Applies: true, Ready: !p.Provisional, Sentence: msg.New("capacity.label")}
	if p.Provisional {
		l.Sentence = msg.New("capacity.label-waits")
	}
	l.Lines = []LabelLine{
		{"U.S. Coast Guard", outside, msg.New("capacity.letters-contrasting", msg.Text("height", "1/8")),
			"183.25(c)(7)"},
		{"Maximum Capacities", outside, msg.New("capacity.letters-contrasting", msg.Text("height", "1/4")),
			"183.25(c)(6)"},
		{fmt.Sprintf("%d Persons or %d Pounds", p.Number, p.Marked), yellow,
			msg.New("capacity.letters-persons"), "183.25(c)(2), (3)"},
		{fmt.Sprintf("%d Pounds, persons, gear", p.WeightLB), yellow, msg.New("capacity.letters-pounds"),
			"183.25(c)(4)"},
	}
	l.Details = []msg.Message{msg.New("capacity.label-visible"), msg.New("capacity.label-field"),
		msg.New("capacity.label-number"), msg.New("capacity.label-lasts")}
	return l
}

// Maker is who certifies the boat.
type Maker struct {
	Name, Address string // as registered with the Coast Guard
	Model         string // optional
	HIN           string // optional, twelve characters or with "US-" before
}

// CertificationLabel is the label by which the maker certifies the boat: name, address, statement of compliance, and
// where given model, hull number and model year.
//
// The rule asks for it where a standard of part 183 applies to the boat. Only the subparts of [Cover] are judged here.
//
// Valid: a coverage made by [Cover]; texts of 1 to 200 characters on one line. Source: 33 CFR 181.7, 181.15; the
// wording of the statement is from memory and agrees with a State statute that quotes it; confirm it. Letters from
// memory.
func CertificationLabel(c Coverage, m Maker) (Label, error) {
	in := inputs{doing: "writing the certification label"}
	in.text("the maker's name", m.Name, true)
	in.text("the maker's address", m.Address, true)
	in.text("the model", m.Model, false)
	var hin HIN
	if m.HIN != "" {
		var err error
		if hin, err = ParseHIN(m.HIN); err != nil {
			in.errs = append(in.errs, err)
		}
	}
	if err := in.err(); err != nil {
		return Label{}, err
	}
	if !standards(c) {
		return Label{Sentence: msg.New("capacity.no-certification")}, nil
	}
	l := Label{Applies: true, Ready: true, Sentence: msg.New("capacity.certification")}
	add := func(text string) {
		l.Lines = append(l.Lines, LabelLine{text, outside, msg.New("capacity.letters-certification"), "181.15"})
	}
	add(m.Name)
	add(m.Address)
	add("This boat complies with U.S. Coast Guard safety standards in effect on the date of certification")
	if m.Model != "" {
		add("Model " + m.Model)
	}
	if m.HIN != "" {
		add("HIN " + hin.String())
		add(fmt.Sprintf("Model year %02d", hin.ModelYear))
	}
	l.Details = []msg.Message{msg.New("capacity.certification-date"), msg.New("capacity.certification-beside")}
	return l, nil
}

func standards(c Coverage) bool {
	for _, d := range c.Duties {
		if d.Applies {
			return true
		}
	}
	return false
}

func (in *inputs) text(name, s string, needed bool) {
	switch {
	case s == "" && !needed:
	case strings.TrimSpace(s) == "":
		in.wrong("%s is empty: fill it in", name)
	case len(s) > 200 || strings.ContainsFunc(s, unicode.IsControl) || !utf8.ValidString(s):
		in.wrong("%s %q is not one line of at most 200 characters: shorten it, without line "+
			"breaks", name, suggest.Clip(s, 40))
	}
}

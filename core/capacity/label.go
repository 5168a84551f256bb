package capacity

import (
	"fmt"
	"ribband/core/suggest"
	"strings"
	"unicode"
	"unicode/utf8"
)

// LabelLine is one line of a label as it is to be printed.
type LabelLine struct {
	Text    string `json:"text"`
	Place   string `json:"place"`   // the yellow field, or outside of it
	Letters string `json:"letters"` // how high they must be
	Section string `json:"section"`
}

// Label is what a label on the boat says and how it is made.
type Label struct {
	Applies  bool        `json:"applies"`
	Ready    bool        `json:"ready"` // false: do not print it yet; the sentence says why
	Sentence string      `json:"sentence"`
	Lines    []LabelLine `json:"lines,omitempty"`
	Details  []string    `json:"details,omitempty"`
}

const (
	yellow  = "in the yellow field"
	outside = "outside the yellow field"
)

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
	l := Label{Applies: true, Ready: !p.Provisional, Sentence: "Capacity label of 33 CFR 183.25(b)(2), inboard."}
	if p.Provisional {
		l.Sentence += " Do not print it before the list test of 183.39(a)(2)."
	}
	l.Lines = []LabelLine{
		{"U.S. Coast Guard", outside, "at least 1/8 in, contrasting", "183.25(c)(7)"},
		{"Maximum Capacities", outside, "at least 1/4 in, contrasting", "183.25(c)(6)"},
		{fmt.Sprintf("%d Persons or %d Pounds", p.Number, p.Marked), yellow,
			"persons number black, height h at least 1/2 in; words at least 1/4 in, at most h/2; pounds at least 1/8 " +
				"in, at most h/2", "183.25(c)(2), (3)"},
		{fmt.Sprintf("%d Pounds, persons, gear", p.WeightLB), yellow, "at least 1/8 in, at most h/2", "183.25(c)(4)"},
	}
	l.Details = []string{
		"Permanent, legible, clearly visible to the operator when getting under way (183.25(a)).",
		"Yellow field at least 4 in wide; lines at least 1/8 in from each other and from its border (183.25(c)(1)).",
		"Persons number: width 3/5 of its height, a \"4\" one stroke wider, a \"1\" one stroke; stroke 1/6 of the " +
			"height; gap at least one stroke (183.25(c)(2)).",
		"Withstands water, oil, salt, sun, heat, cold and wear; shows tampering (183.27).",
	}
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
		return Label{Sentence: "None of the US rules judged here sets a duty of certification for this boat. Other " +
			"standards of 33 CFR 183 may: confirm it."}, nil
	}
	l := Label{Applies: true, Ready: true, Sentence: "Certification label of 33 CFR 181.15."}
	add := func(text string) {
		l.Lines = append(l.Lines, LabelLine{text, outside, "at least 1/8 in, contrasting (from memory)", "181.15"})
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
	l.Details = []string{
		"The date of certification lies between the start of building and the boat's leaving the works.",
		"The label may stand beside the capacity label if a border parts them and capacity stays the more prominent " +
			"(from memory).",
	}
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

package screen_test

import (
	"errors"
	"regexp"
	"testing"

	"ribband/core/brief"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/screen"
)

// own are the words of the pages below that belong to no language: what a person typed, codes, and the names by which
// the yard's own desk shows what the book calls things.
var own = []string{"Quokka", "ft", "lb"}

// Every word of a page comes from a file of the language or from the book: in a language that puts all its texts
// between marks, and with a book that does so with its own, nothing is left outside. The pages have all on them that
// there can be.
func TestNoWordsStandInTheCode(t *testing.T) {
	for desk, e := range engines() {
		marked := enginetest.InMarks(t, e)
		for name, v := range map[string]*screen.View{
			"as it opens": view(t, marked, standard("sedge-46")),
			"clash":       asked(t, view(t, marked, demoSpecs()["clash-us-without-foam"]), ""),
			"why not":     asked(t, view(t, marked, demoSpecs()["reed-65-fullest"]), blocked(t, marked)),
			"all":         everything(t, marked),
			"search":      searched(t, view(t, marked, standard("sedge-46")), 6),
			"in vain":     searched(t, view(t, marked, standard("sedge-46")), 90),
		} {
			text := keeper.ReplaceAllString(enginetest.Perceived(v.Page()), "")
			for _, found := range enginetest.Unmarked(text, own...) {
				t.Errorf("%s, %s: %s", desk, name, found)
			}
			for _, text := range []string{v.Announcement(), v.Title(), v.Brief.Words(marked.Language())} {
				for _, found := range enginetest.Unmarked(text, own...) {
					t.Errorf("%s, %s, said: %s", desk, name, found)
				}
			}
		}
	}
}

// keeper is what the pages say to whoever keeps the book, in the words of the book's files: names in formulas, places
// in files, identifiers of options.
var keeper = regexp.MustCompile(`\S+\.yaml:\d+:\d+|\b\w+\.\w+|"[\w-]+"|\b(chosen|count|ceil|max|min|round|sqrt)\(|` +
	`(?m:(^|= )[a-z0-9]+(-[a-z0-9]+)*$)`)

// blocked is an option that cannot be had on the fullest Reed.
func blocked(t *testing.T, e *engine.Engine) string {
	t.Helper()
	v := view(t, e, demoSpecs()["reed-65-fullest"])
	for o := range e.Pack.Options {
		if alternative(v, o).Status == fit.Blocked {
			return e.Pack.Options[o].ID
		}
	}
	t.Fatal("nothing is blocked")
	return ""
}

// asked is a page on which somebody asked why an option, or "" for the boat, cannot be had.
func asked(t *testing.T, v *screen.View, option string) *screen.View {
	t.Helper()
	want := engine.Want{Option: option}
	reason, err := v.Engine.Reason(v.Answer, want)
	repairs, all, err2 := v.Engine.Repairs(v.Answer, want)
	others, err3 := v.Engine.Others(v.Answer, want, reason)
	if err = errors.Join(err, err2, err3); err != nil {
		t.Fatal(err)
	}
	if len(repairs) == 0 {
		t.Fatalf("%q has no repairs", option)
	}
	v.Asked = &screen.Asked{Want: want, Reason: reason, Repairs: repairs, All: all, Others: others}
	return v
}

// everything is a page with a deal, a reopened quotation that differs, filled forms and a change to be undone.
func everything(t *testing.T, e *engine.Engine) *screen.View {
	t.Helper()
	s := demoSpecs()["extras-and-discount"].Clone()
	for i := range s.Extras {
		s.Extras[i].Title = "Quokka"
	}
	for i := range s.Discounts {
		s.Discounts[i].Title = "Quokka"
	}
	s.Keep = []string{"bank"}
	v := view(t, e, s)
	v.System, v.Redo = measure.USCustomary, e.Say("desk.did-repair")
	v.Revisions = []screen.Revision{{What: e.Say("desk.did-repair"), Before: s, After: s}}
	v.Remarks = []string{e.Say("desk.boat-taken", msg.Text("hull", "1"))}
	v.Details = quote.Details{Number: "1", Date: "2027-02-06", Approval: "Quokka", Serial: "1", ListTestKg: 2,
		Customer: quote.Party{Name: "Quokka", Address: []string{"1", "2"}}}
	v.Answer.Warnings = append(v.Answer.Warnings, msg.New("screen.margin"))
	v.Reopened = &quote.Quote{Details: v.Details}
	v.Differences = []quote.Difference{{Place: msg.New("screen.margin"), Was: msg.Plain("1"), Now: msg.Plain("2")}}
	return v
}

// searched is a page with what a search for boats with so much range has found, and what else would have to give way.
func searched(t *testing.T, v *screen.View, persons float64) *screen.View {
	t.Helper()
	b := brief.Brief{Format: brief.Format, Wishes: map[string]brief.Value{"persons": {Number: 6},
		"range": {Number: persons}, "speed": {Number: 5}}}
	run, err := brief.Start(v.Engine, b)
	if err != nil {
		t.Fatal(err)
	}
	for done := false; !done; {
		if done, err = run.Step(1000); err != nil {
			t.Fatal(err)
		}
	}
	v.Brief = screen.Brief{Form: map[string]string{"persons": "6"}, Faults: map[string]string{}, Asked: b,
		Progress: run.Progress(), Answer: run.Answer(), Round: 1}
	return v
}

var _ = pack.Buyer

package screen

import (
	"reflect"
	"slices"

	g "maragu.dev/gomponents"

	"ribband/core/engine"
	"ribband/core/pack"
)

// Part is something that panels read. Parts make a set. A panel must name every part that it reads: one too few leaves
// stale words on the page, one too many only costs time. A test of package desk compares the page after each change
// with a fresh one.
type Part uint

const (
	partBoat      Part = 1 << iota // hull, use, and all that follows from them and the choices
	partDeal                       // what a salesperson added, with what is wrong with it
	partKept                       // which choices repairs leave alone
	partAsked                      // why something cannot be had
	partSearch                     // a search for boats: what was typed, and what was found
	partUnits                      // in which figures are shown
	partQuotation                  // the details of a quotation, and the one that was opened
	partRemarks                    // what the last change brought about
	partUndo                       // what can be taken back
	partTyped                      // what was typed and could not be taken
	partDeals                      // the records of this device
	partFind                       // what is looked for by its name
	partBeside                     // the boats that are compared with this one
	// Everything is all of them.
	Everything Part = 1<<iota - 1
)

// Panel is a part of the page that changes: the inside of the element with its identifier. It is rendered anew where
// something that it reads has changed.
type Panel struct {
	ID      string
	Reads   Part
	Prepare func(*View) // works out what is shown, where that takes long; nil for nothing
	Render  func(*View) []g.Node
	// how much there is to work out before it can be shown: about as many boats as have to be tried; at least 1
	Effort int
	// it is rendered where it is in view alone, and never beforehand: most pages show something else in its place
	Unseen bool

	first first                       // what of it is published before there is an engine
	needs func(e *engine.Engine) bool // nil: for everybody
	box   *box                        // in which it stands at the side of the page; nil where [View.Page] places it
	class string                      // of the style sheet; only for panels in a box
}

// What a panel needs, of the book or of the desk. A panel that a desk has not is not in its page at all, so that
// nothing private can be in there by mistake.

func wishes(e *engine.Engine) bool     { return e.Public().Brief != nil }
func tellsWeeks(e *engine.Engine) bool { return e.Public().LaunchWeeks != nil && !e.Can(pack.Margins) }
func discounted(e *engine.Engine) bool { return e.Can(pack.Discounts) }
func dealt(e *engine.Engine) bool      { return e.Can(pack.Extras) }
func dealers(e *engine.Engine) bool    { return e.Can(pack.Discounts) && !e.Can(pack.Extras) }
func quotes(e *engine.Engine) bool     { return e.Can(pack.Quotations) }
func sheets(e *engine.Engine) bool     { return e.Can(pack.Sheets) }

// CustomerPanel is the panel with the form of the quotation.
const CustomerPanel = "customer"

// panels are all that every desk may have, in the order of the page; those of sections and slots are made from the
// book. A new one is one more line.
var panels = slices.Concat(ownHead, []Panel{
	{ID: "deals", Reads: partDeals, Render: (*View).records},
	{ID: "hulls", Reads: partBoat | partUnits, Render: (*View).hulls},
	{ID: "brief-form", Reads: partSearch | partUnits, Render: (*View).briefForm, needs: wishes},
	{ID: "brief-progress", Reads: partSearch, Render: (*View).briefProgress, needs: wishes},
	{ID: "brief-count", Reads: partSearch, Render: (*View).briefCount, needs: wishes},
	{ID: "brief-found", Reads: partSearch | partBoat | partUnits, Render: (*View).briefFound, needs: wishes},
	{ID: "still", Reads: partBoat, Render: (*View).still, Effort: 20, Unseen: true, first: large},
	{ID: "solid", Reads: partBoat, Render: (*View).solid, Effort: 4, first: none},
	{ID: "profile", Reads: partBoat | partUnits, Render: (*View).profile, Effort: 10, first: small},
	{ID: "plan", Reads: partBoat | partUnits, Render: (*View).plan, Effort: 5, first: small},
	{ID: "sections", Reads: partBoat | partUnits, Render: (*View).bodyPlan, Effort: 5, first: small},
	{ID: "found", Reads: partBoat | partFind, Render: (*View).found},
	{ID: "beside", Reads: partBoat | partBeside | partUnits, Render: (*View).beside, Effort: 3},
	{ID: "differences", Reads: partBoat, Render: (*View).differences, first: ofHull},
	{ID: "remarks", Reads: partRemarks, Render: (*View).remarks},
	{ID: "clashes", Reads: partBoat | partAsked | partKept | partUnits, Render: (*View).clashes, first: ofHull},
	{ID: "use", Reads: partBoat | partUnits | partTyped, Render: (*View).use},
	{ID: "title-block", Reads: partBoat | partDeal | partUnits, Render: (*View).titleBlock, Effort: 3,
		first: ofHull},
	{ID: "ledger", Reads: partBoat | partDeal | partKept, Render: (*View).ledger, first: ofHull},
	{ID: "revisions", Reads: partUndo | partUnits, Render: (*View).revisions},
}, ownWork, []Panel{
	{ID: "range", Reads: partBoat | partUnits, Render: (*View).rangeCurve, box: &figuresBox, class: "drawing",
		Effort: 10, first: none},
	{ID: "solar", Reads: partBoat, Render: (*View).solar, box: &figuresBox, class: "drawing", first: none},
	{ID: "figures", Reads: partBoat | partUnits, Render: (*View).figures, box: &figuresBox, Effort: 3,
		first: none},
	{ID: "earliest", Reads: partBoat, Render: (*View).earliest, needs: tellsWeeks, box: &earliestBox},
}, ownDeal, []Panel{
	{ID: "bar", Reads: partBoat | partDeal | partUndo, Render: (*View).bar, first: ofHull},
})

// Panels are those of a desk: the ones above that it has, then an entry for each section, and a line and the choices
// for each slot of the book.
func Panels(e *engine.Engine) []Panel {
	var list []Panel
	for _, p := range panels {
		if p.needs == nil || p.needs(e) {
			list = append(list, p)
		}
	}
	for i := range e.Public().Sections {
		list = append(list, Panel{ID: navID(e.Public(), i), Reads: partBoat,
			Render: func(v *View) []g.Node { return v.navEntry(i) }, first: ofHull})
	}
	for s := range e.Public().Slots {
		// The line is cheap and in view for all slots. The choices ask for as many boats as there are options, and most
		// slots are folded: they are rendered where somebody looks, or behind everything else.
		def := &e.Public().Slots[s]
		list = append(list,
			Panel{ID: "line-" + def.ID, Reads: partBoat | partKept,
				Render: func(v *View) []g.Node { return v.line(s) }, first: ofHull},
			Panel{ID: "choices-" + def.ID, Reads: partBoat | partKept | partAsked | partUnits,
				Effort:  def.End - def.First + 1,
				Prepare: func(v *View) { v.alternatives(s) }, Render: func(v *View) []g.Node { return v.choices(s) },
				first: folded})
	}
	// none is free, so that a bounded effort always comes to an end
	for i := range list {
		list[i].Effort = max(list[i].Effort, 1)
	}
	return list
}

// navID is the panel in the entry of a section in the navigation: its title stays, and the count of changes beside it
// is what is rendered anew.
func navID(p *pack.Public, section int) string { return "nav-" + p.Sections[section].ID }

// HTML renders a panel.
func (p *Panel) HTML(v *View) string { return render(p.Render(v)) }

// Changes are the parts in which two views differ; everything without one before.
func Changes(before, now *View) (parts Part) {
	if before == nil {
		return Everything
	}
	note := func(part Part, same bool) {
		if !same {
			parts |= part
		}
	}
	was, is := &before.Answer.Spec, &now.Answer.Spec
	// Build and Standard are made anew by every change of the boat, and only then: to compare pointers is enough.
	note(partBoat, before.Answer.Build == now.Answer.Build && before.Answer.Standard == now.Answer.Standard)
	note(partDeal, reflect.DeepEqual(was.Extras, is.Extras) && reflect.DeepEqual(was.Discounts, is.Discounts) &&
		reflect.DeepEqual(was.TradeIn, is.TradeIn) && was.Dealer == is.Dealer &&
		reflect.DeepEqual(before.Answer.Notes, now.Answer.Notes))
	note(partKept, slices.Equal(was.Keep, is.Keep))
	note(partAsked, before.Asked == now.Asked)
	// the form, the run and its boats are many: the desk counts how often any of it changed
	note(partSearch, before.Brief.Round == now.Brief.Round)
	note(partUnits, before.System == now.System)
	// a repaired or undone boat keeps its quotation or loses it; the desk says which
	note(partQuotation, before.Papers == now.Papers && before.Reopened == now.Reopened &&
		reflect.DeepEqual(before.Details, now.Details) &&
		reflect.DeepEqual(before.Differences, now.Differences))
	note(partRemarks, slices.Equal(before.Remarks, now.Remarks))
	note(partUndo, before.Redo == now.Redo && slices.EqualFunc(before.Revisions, now.Revisions,
		func(a, b Revision) bool {
			return a.Number == b.Number && a.What == b.What && reflect.DeepEqual(a.After, b.After)
		}))
	note(partTyped, before.Mistyped == now.Mistyped)
	note(partFind, before.Find == now.Find)
	note(partBeside, slices.Equal(before.Beside, now.Beside))
	note(partDeals, before.Deals.Round == now.Deals.Round)
	return parts
}

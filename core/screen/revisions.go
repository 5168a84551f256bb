package screen

import (
	"maps"
	"slices"
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/spec"
)

// The table of revisions, as it stands on a drawing: every change of the boat with its letter, what it made of price
// and figures, and a way to take it back. It is the history of the boat.

// Revision is one change.
type Revision struct {
	Number        int    // from 0, for its letter
	What          string // the title of what was changed
	Effect        Effect
	Before, After spec.Spec
}

// Effect is what a change made of the boat, as the page keeps it from visit to visit: the amount that is more to be
// paid, and the differences of those figures that are compared, in their units. A figure that is not there was not
// known, or stayed.
type Effect struct {
	Price   money.Amount       `json:"price,omitzero"`
	Figures map[string]float64 `json:"figures,omitempty"`
}

// EffectOf is an effect of the engine as it is kept.
func EffectOf(e *engine.Engine, x engine.Effect) (kept Effect) {
	for i, c := range e.Columns() {
		switch {
		case c.Kind == engine.InMoney:
			kept.Price = x[i].Money
		case c.Kind == engine.InUnits && x[i].Known && x[i].Number != 0:
			if kept.Figures == nil {
				kept.Figures = map[string]float64{}
			}
			kept.Figures[c.ID] = x[i].Number
		}
	}
	return kept
}

// mostRevisions is how many changes stand open; those before are folded.
const mostRevisions = 5

// revisions are the changes, the newest first: that is the one to be taken back.
func (v *View) revisions() []g.Node {
	if len(v.Revisions) == 0 && v.Redo == "" {
		return []g.Node{P(Class("note"), v.say("screen.no-revisions"))}
	}
	list := slices.Clone(v.Revisions)
	slices.Reverse(list)
	shown := min(len(list), mostRevisions)
	table := func(list []Revision) g.Node {
		return Table(Class("revisions"), tableHead(v.saidAll("screen.revision", "screen.change-made",
			"screen.block-price",
			"screen.take-back")...), TBody(g.Map(list, v.revision)))
	}
	return []g.Node{
		v.redo(),
		g.If(shown > 0, table(list[:shown])),
		g.If(len(list) > shown, Details(ID("earlier-revisions"),
			Summary(v.say("screen.earlier-revisions", msg.Count("n", len(list)-shown))), table(list[shown:]))),
	}
}

// revision is a line of the table. What has been changed again since cannot be taken back by itself, and says so.
func (v *View) revision(r Revision) g.Node {
	letter := Letter(r.Number)
	last := r.Number == v.Revisions[len(v.Revisions)-1].Number
	_, open := v.Answer.Spec.Without(r.Before, r.After)
	take := g.Node(Span(Class("note"), v.say("screen.changed-since")))
	if open {
		take = button(ID("take-back-"+strconv.Itoa(r.Number)), act("undo", "key", strconv.Itoa(r.Number)),
			v.told("aria-label", "screen.take-back-this", msg.Text("letter", letter), msg.Text("change", r.What)),
			v.say("screen.take-back"))
	}
	if last { // no later change can hinder it
		take = v.undo()
	}
	return Tr(Th(Class("letter"), g.Attr("scope", "row"), g.Text(letter)),
		Td(g.Text(msg.Capital(r.What)), noted(v.became(r)), noted(v.figuresOf(r.Effect))),
		numbers(v.difference(r.Effect.Price)), Td(take))
}

// became is what stands there since a change of one slot or one field of the use; "" for other changes, whose title
// says what they are. A title of this edition counts: what is no longer in it has none.
func (v *View) became(r Revision) string {
	// By the specs and not by what was pressed: a step that came from a file or a brief has no press.
	var slots, fields []int
	for i, def := range v.pack().Slots {
		if !maps.Equal(r.Before.Choices[def.ID], r.After.Choices[def.ID]) {
			slots = append(slots, i)
		}
	}
	for i, def := range v.pack().Use {
		if r.Before.Use[def.ID] != r.After.Use[def.ID] {
			fields = append(fields, i)
		}
	}
	switch {
	case r.Before.Hull != r.After.Hull || len(slots)+len(fields) != 1:
		return ""
	case len(fields) == 1:
		return v.used(fields[0], r.After)
	}
	def := &v.pack().Slots[slots[0]]
	chosen, stated := r.After.Choices[def.ID]
	if !stated { // left to the yard again, which chooses by what else is aboard
		return v.Engine.Say("screen.as-standard")
	}
	var titles []string
	for _, o := range v.pack().Options[def.First:def.End] {
		if n := chosen[o.ID]; n > 0 {
			titles = append(titles, pack.Times(n, o.Title))
		}
	}
	switch {
	case len(titles) == 0 && len(chosen) > 0: // of another edition
		return ""
	case len(titles) == 0:
		return v.Engine.Say("screen.none")
	}
	return v.Engine.Say("screen.effects", msg.Texts("effects", msg.Commas, titles))
}

// used is a value of a field of the use; what a spec does not state is what the book assumes.
func (v *View) used(field int, s spec.Spec) string {
	value, stated := s.Use[v.pack().Use[field].ID]
	if !stated {
		return v.Engine.Say("screen.as-standard")
	}
	return v.Engine.Text(v.Engine.UseWords(field, value, v.System))
}

// figuresOf are the differences of a change in the figures, as they stand beside options; "" where none is shown.
func (v *View) figuresOf(x Effect) string {
	var list []msg.Message
	for _, c := range v.shownColumns() {
		if by, ok := x.Figures[c.ID]; ok {
			if change := v.figureChange(&c, by); change != "" {
				list = append(list, msg.New("screen.effect", msg.Text("figure", c.title), msg.Text("by", change)))
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return v.Engine.Say("screen.effects", msg.List("effects", msg.Commas, list...))
}

// letters are those of revisions: without I and O, which look like digits (common practice in drawing offices, no
// source).
const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"

// Letter names the revision of a number: A to Z, then AA.
func Letter(n int) string {
	text := ""
	for {
		text = string(letters[n%len(letters)]) + text
		if n = n/len(letters) - 1; n < 0 {
			return text
		}
	}
}

// undo takes back the last change. Its shortcut is that of browsers, which the script leaves to where somebody types.
func (v *View) undo() g.Node {
	return button(ID("undo-button"), act("undo"), Aria("keyshortcuts", "Control+Z Meta+Z"),
		v.told("aria-label", "screen.undo", msg.Text("change", v.lastChange())), v.say("screen.take-back"))
}

// redo does again what was undone.
func (v *View) redo() g.Node {
	if v.Redo == "" {
		return nil
	}
	return button(ID("redo-button"), act("redo"), Aria("keyshortcuts", "Control+Shift+Z Meta+Shift+Z Control+Y"),
		v.say("screen.redo", msg.Text("change", v.Redo)))
}

// lastChange is what undo takes back; "" for nothing.
func (v *View) lastChange() string {
	if n := len(v.Revisions); n > 0 {
		return v.Revisions[n-1].What
	}
	return ""
}

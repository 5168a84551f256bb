package screen

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/pack"
)

// act marks an element as something that a person does; pairs are data attributes.
func act(name string, pairs ...string) g.Node {
	nodes := g.Group{g.Attr("data-act", name)}
	for i := 0; i+1 < len(pairs); i += 2 {
		nodes = append(nodes, g.Attr("data-"+pairs[i], pairs[i+1]))
	}
	return nodes
}

func (v *View) hulls() []g.Node {
	legend := Legend(H2(g.Text("Hull")))
	var items []g.Node
	for i, h := range v.pack().Hulls {
		items = append(items, Label(Class("hull"), For("hull-"+h.ID),
			Input(Type("radio"), Name("hull"), ID("hull-"+h.ID), Value(h.ID), g.If(i == v.Answer.Hull, Checked()),
				act("hull")),
			Span(Class("name"), g.Text(h.Title)),
			Span(Class("note"), g.Text(v.dimensions(i))),
			g.If(h.Note != "", Span(Class("note"), g.Text(h.Note)))))
	}
	return []g.Node{FieldSet(legend, Div(Class("row"), g.Group(items)))}
}

// dimensions names the first hull fields of a hull that a buyer asks for: length and beam, as far as the book has them.
func (v *View) dimensions(hull int) string {
	text := ""
	for i, f := range v.pack().HullFields {
		if f.ID == string(figures.HullLength) || f.ID == string(figures.HullBeam) {
			unit, _ := measure.UnitOf(f.Unit)
			value, symbol := unit.In(v.System, v.pack().Hulls[hull].Fields[i])
			if text != "" {
				text += " × "
			}
			text += strconv.FormatFloat(value, 'f', 2, 64) + "\u00a0" + symbol
		}
	}
	return text
}

func (v *View) use() []g.Node {
	var nodes []g.Node
	for i, u := range v.pack().Use {
		id := "use-" + u.ID
		label := Label(For(id), g.Text(u.Title))
		value := v.Answer.Build.State.Use[i]
		if len(u.Choices) > 0 {
			nodes = append(nodes, Div(Class("field"), label,
				Select(ID(id), act("use", "field", u.ID), g.Map(numbers(len(u.Choices)), func(j int) g.Node {
					return Option(Value(u.Choices[j].ID), g.If(float64(j) == value, Selected()),
						g.Text(u.Choices[j].Title))
				}))))
			continue
		}
		unit, _ := measure.UnitOf(u.Unit)
		nodes = append(nodes, Div(Class("field"), label,
			Span(Class("measured"), Input(Type("number"), ID(id), Min(text(u.Min)), Max(text(u.Max)),
				Step(text(u.Step)), Value(text(value)), act("use", "field", u.ID)),
				g.Text(strings.TrimRight(" "+unit.Symbol+" "+measure.Ashore(text(value), unit.Symbol), " ")))))
	}
	nodes = append(nodes, Div(Class("field"), Label(For("units"), g.Text("Units shown")),
		Select(ID("units"), act("units"),
			Option(Value(string(measure.Metric)), g.If(v.System != measure.USCustomary, Selected()), g.Text("Metric")),
			Option(Value(string(measure.USCustomary)), g.If(v.System == measure.USCustomary, Selected()),
				g.Text("US customary")))))
	return nodes
}

func numbers(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func text(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }

// line is what a slot says while it is closed: what stands in it, and what that changes against the standard build.
func (v *View) line(slot int) []g.Node {
	def := &v.pack().Slots[slot]
	state := v.Answer.Build.State
	content := v.pack().Contents(v.Answer.Build.State.Counts, slot)
	class, note := "content", ""
	switch {
	case !v.Engine.Exists(slot, state.HullID):
		class, note = "content none", "not available on this hull"
	case content == "" && v.closed(slot):
		class, note = "content none", def.Because
	case content == "":
		class, note = "content none", "none"
	}
	kept := g.Node(nil)
	if v.kept(def.ID) {
		kept = Span(Class("kept"), g.Text(" locked"))
	}
	nodes := []g.Node{Span(Class("title"), g.Text(def.Title)), Span(Class(class), g.Text(content+note), kept)}
	mark := g.Node(Span(Class("mark")))
	if v.differs(slot) {
		mark = Span(Class("mark changed"), Title("differs from the standard build"),
			Span(Class("unseen"), g.Text("changed")))
	}
	amount := ""
	for _, l := range v.Answer.Price.Lines {
		if l.Key == def.ID && !l.Shown.IsZero() {
			amount = v.difference(l.Shown)
		}
	}
	return append(nodes, Span(Class("amount"), g.Text(amount)), mark)
}

// closed says that a slot does not exist on this boat: its condition does not hold.
func (v *View) closed(slot int) bool {
	when := v.pack().Slots[slot].When
	return !when.Empty() && !when.Truth()(v.Answer.Build.State)
}

// alternatives are those of a slot; on a hull that has no such slot there are none to work out.
func (v *View) alternatives(slot int) *engine.SlotAlternatives {
	if !v.Engine.Exists(slot, v.Answer.Hull) {
		return nil
	}
	return v.Engine.Alternatives(v.Answer).Slot(slot)
}

// choices is what a slot shows when it is opened.
func (v *View) choices(slot int) []g.Node {
	def := &v.pack().Slots[slot]
	if !v.Engine.Exists(slot, v.Answer.Hull) {
		return []g.Node{P(Class("note"), g.Textf("Not available on the %s.", v.pack().Hulls[v.Answer.Hull].Title))}
	}
	var rows []g.Node
	alternatives := v.alternatives(slot)
	if empty := alternatives.Empty; empty != nil {
		c := v.choice("none-"+def.ID, "None", "", slot, empty)
		rows = append(rows, v.row(c, v.radio(c, act("empty", "slot", def.ID))))
	}
	for i := range alternatives.Options {
		if x := &alternatives.Options[i]; x.Status != fit.Absent {
			rows = append(rows, v.option(slot, def.First+i, x))
		}
	}
	return []g.Node{FieldSet(Legend(Class("unseen"), g.Text(def.Title)),
		g.If(def.Note != "", P(Class("note"), g.Text(def.Note))), Ul(rows...), v.settled(slot))}
}

func (v *View) option(slot, o int, x *engine.Alternative) g.Node {
	def, opt := &v.pack().Slots[slot], &v.pack().Options[o]
	c := v.choice("option-"+opt.ID, opt.Title, opt.Note, slot, x)
	n := v.Answer.Build.State.Counts[o]
	if x.Status == fit.Blocked {
		return v.row(c, v.control(def, opt, n, c), v.ask(opt.ID, "why-"+c.id))
	}
	return v.row(c, v.control(def, opt, n, c))
}

// control is what an option is chosen by: a number, a box to tick, or one of several to choose among.
func (v *View) control(def *pack.Slot, opt *pack.Option, n int, c choice) g.Node {
	status := c.verdict.Status
	switch {
	case def.Multiple && opt.Most > 1:
		return Input(Type("number"), Class("many"), ID(c.id), Min("0"), Max(strconv.Itoa(opt.Most)), Step("1"),
			Value(strconv.Itoa(n)),
			g.If(status == fit.Blocked, Disabled()), c.described(), act("count", "option", opt.ID))
	case def.Multiple:
		return Input(Type("checkbox"), ID(c.id), g.If(n > 0, Checked()),
			g.If(status == fit.Blocked || status == fit.Forced, Disabled()), c.described(),
			act("toggle", "option", opt.ID))
	}
	return v.radio(c, act("choose", "option", opt.ID))
}

// choice is one option, or nothing at all in a slot, as a row.
type choice struct {
	id, title, note string
	slot            int
	verdict         fit.Verdict
	effect          engine.Effect
	effects         g.Node
}

func (v *View) choice(id, title, note string, slot int, x *engine.Alternative) choice {
	return choice{id, title, note, slot, x.Verdict, x.Effect, v.effects(id, x.Effect)}
}

// described names what is said of a choice below it.
func (c choice) described() g.Node {
	switch {
	case c.verdict.Why != nil:
		return Aria("describedby", "why-"+c.id)
	case c.effects != nil:
		return Aria("describedby", "effects-"+c.id)
	}
	return nil
}

func (v *View) radio(c choice, action g.Node) g.Node {
	in := c.verdict.Status == fit.Chosen || c.verdict.Status == fit.Forced
	return Input(Type("radio"), Name("slot-"+v.pack().Slots[c.slot].ID), ID(c.id), g.If(in, Checked()),
		g.If(c.verdict.Status == fit.Blocked, Disabled()), c.described(), action)
}

// row is one choice with its difference in price and what else it changes, or, where it cannot be had, the reason.
func (v *View) row(c choice, control g.Node, below ...g.Node) g.Node {
	return Li(Class(string(c.verdict.Status)),
		Label(For(c.id), control, Span(Class("name"), g.Text(c.title),
			g.If(c.note != "", Span(Class("note"), g.Text(c.note)))),
			Span(Class("amount"), g.Text(v.netPrice(c.verdict.Status, c.effect)))),
		c.effects,
		v.why(c.id, c.verdict),
		v.brings(c.verdict, c.slot),
		g.Group(below),
	)
}

func (v *View) why(id string, verdict fit.Verdict) g.Node {
	if verdict.Why == nil {
		return nil
	}
	text := v.worded(*verdict.Why)
	if names := v.titles(verdict.Blockers); names != "" {
		text += " Chosen: " + names + "."
	}
	return P(Class("why"), ID("why-"+id), g.Text(text))
}

func (v *View) titles(options []int) string {
	text := ""
	for i, o := range options {
		if i == 4 {
			return text + fmt.Sprintf(" and %d more", len(options)-i)
		}
		if i > 0 {
			text += ", "
		}
		text += v.pack().Options[o].Title
	}
	return text
}

// brings says what else an open option changes in the boat, outside of its own slot.
func (v *View) brings(verdict fit.Verdict, own int) g.Node {
	if verdict.Status != fit.Open {
		return nil
	}
	var changes []string
	for list := verdict.Build.Held; len(list) > 0; { // in the order of the slots
		slot := v.pack().Options[list[0].Option].Slot
		n := slices.IndexFunc(list, func(h fit.Held) bool { return v.pack().Options[h.Option].Slot != slot })
		if n < 0 {
			n = len(list)
		}
		if slot != own {
			changes = append(changes, v.change(list[:n], slot))
		}
		list = list[n:]
	}
	const most = 3
	switch n := len(changes); {
	case n == 0:
		return nil
	case n > most:
		changes = append(changes[:most], fmt.Sprintf("and %d more", n-most))
	}
	return P(Class("brings"), g.Text("Also changes: "+strings.Join(changes, "; ")+"."))
}

// change words how a slot differs between the present boat and another, which holds some of its options otherwise.
func (v *View) change(held []fit.Held, slot int) string {
	def := &v.pack().Slots[slot]
	counts := slices.Clone(v.Answer.Build.State.Counts[def.First:def.End])
	for _, h := range held {
		counts[h.Option-def.First] = h.Count
	}
	text := ""
	if i := slices.IndexFunc(counts, func(n int) bool { return n > 0 }); i >= 0 {
		text = v.pack().Options[def.First+i].Title
	}
	switch {
	case text == "":
		return "no " + lowerFirst(def.Title)
	}
	return lowerFirst(def.Title) + ": " + text
}

func lowerFirst(s string) string {
	if s == "" || s[0] < 'A' || s[0] > 'Z' {
		return s
	}
	return string(s[0]+'a'-'A') + s[1:]
}

func (v *View) remarks() []g.Node {
	if len(v.Remarks) == 0 {
		return nil
	}
	return []g.Node{Ul(Class("remarks"), g.Map(v.Remarks, func(r string) g.Node { return Li(g.Text(r)) }))}
}

// tableHead is a row of column titles; all but the first hold numbers.
func tableHead(titles ...string) g.Node {
	var cells []g.Node
	for i, t := range titles {
		cells = append(cells, Th(g.Attr("scope", "col"), g.If(i > 0, Class("number")), g.Text(t)))
	}
	return THead(Tr(cells...))
}

func tableRow(class, title string, cells ...string) g.Node {
	return Tr(Class(class), Th(g.Attr("scope", "row"), g.Text(title)),
		g.Map(cells, func(c string) g.Node { return Td(Class("number"), g.Text(c)) }))
}

package screen

import (
	"fmt"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/fit"
	"ribband/core/measure"
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
	legend := Legend(H2(g.Text("Which hull")))
	var items []g.Node
	for i, h := range v.pack().Hulls {
		items = append(items, Label(Class("hull"), For("hull-"+h.ID),
			Input(Type("radio"), Name("hull"), ID("hull-"+h.ID), Value(h.ID), g.If(i == v.Answer.Hull, Checked()), act("hull")),
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
		if f.ID == "length_m" || f.ID == "beam_m" {
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
			nodes = append(nodes, Div(Class("field"), label, Select(ID(id), act("use", "field", u.ID), g.Map(numbers(len(u.Choices)), func(j int) g.Node {
				return Option(Value(u.Choices[j].ID), g.If(float64(j) == value, Selected()), g.Text(u.Choices[j].Title))
			}))))
			continue
		}
		unit, _ := measure.UnitOf(u.Unit)
		nodes = append(nodes, Div(Class("field"), label,
			Span(Class("measured"), Input(Type("number"), ID(id), Min(text(u.Min)), Max(text(u.Max)), Step(text(u.Step)), Value(text(value)), act("use", "field", u.ID)), g.Text(" "+unit.Symbol))))
	}
	nodes = append(nodes, Div(Class("field"), Label(For("units"), g.Text("Units shown")), Select(ID("units"), act("units"),
		Option(Value(string(measure.Metric)), g.If(v.System != measure.USCustomary, Selected()), g.Text("Metric")),
		Option(Value(string(measure.USCustomary)), g.If(v.System == measure.USCustomary, Selected()), g.Text("US customary")))))
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
	content := v.contents(slot)
	class, note := "content", ""
	switch {
	case !v.Engine.Fit.Exists(slot, state.HullID):
		class, note = "content none", "not on this hull"
	case content == "" && v.closed(slot):
		class, note = "content none", def.Because
	case content == "":
		class, note = "content none", "none"
	}
	nodes := []g.Node{Span(Class("title"), g.Text(def.Title)), Span(Class(class), g.Text(content+note))}
	mark := g.Node(Span(Class("mark")))
	if v.differs(slot) {
		mark = Span(Class("mark changed"), Title("differs from the standard build"), Span(Class("unseen"), g.Text("changed")))
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

func (v *View) contents(slot int) string {
	def := &v.pack().Slots[slot]
	text := ""
	for o := def.First; o < def.End; o++ {
		n := v.Answer.Build.State.Counts[o]
		if n == 0 {
			continue
		}
		if text != "" {
			text += "; "
		}
		if n > 1 {
			text += fmt.Sprintf("%d × ", n)
		}
		text += v.pack().Options[o].Title
	}
	return text
}

// choices is what a slot shows when it is opened.
func (v *View) choices(slot int) []g.Node {
	def := &v.pack().Slots[slot]
	if !v.Engine.Fit.Exists(slot, v.Answer.Hull) {
		return []g.Node{P(Class("note"), g.Textf("The %s has no such place.", v.pack().Hulls[v.Answer.Hull].Title))}
	}
	var rows []g.Node
	if empty := v.Empty[slot]; empty != nil {
		rows = append(rows, v.row("none-"+def.ID, *empty, slot, "None", "", v.radio(slot, "none-"+def.ID, *empty, act("empty", "slot", def.ID))))
	}
	for o := def.First; o < def.End; o++ {
		if verdict := v.Options[o]; verdict.Status != fit.Absent {
			rows = append(rows, v.option(slot, o, verdict))
		}
	}
	footer := g.Node(nil)
	if v.Answer.Build.Choices.Settled[slot] {
		footer = P(Class("settled"), g.Text("Your choice. "), Button(Type("button"), ID("release-"+def.ID), act("standard", "slot", def.ID), g.Text("Leave it to the standard build")))
	}
	return []g.Node{FieldSet(Legend(Class("unseen"), g.Text(def.Title)), g.If(def.Note != "", P(Class("note"), g.Text(def.Note))), Ul(rows...), footer)}
}

func (v *View) option(slot, o int, verdict fit.Verdict) g.Node {
	def, opt := &v.pack().Slots[slot], &v.pack().Options[o]
	id := "option-" + opt.ID
	n := v.Answer.Build.State.Counts[o]
	control := v.radio(slot, id, verdict, act("choose", "option", opt.ID))
	switch {
	case def.Several && opt.Most > 1:
		control = Input(Type("number"), Class("many"), ID(id), Min("0"), Max(strconv.Itoa(opt.Most)), Step("1"), Value(strconv.Itoa(n)),
			g.If(verdict.Status == fit.Blocked, Disabled()), described(id, verdict), act("count", "option", opt.ID))
	case def.Several:
		control = Input(Type("checkbox"), ID(id), g.If(n > 0, Checked()), g.If(verdict.Status == fit.Blocked || verdict.Status == fit.Forced, Disabled()),
			described(id, verdict), act("toggle", "option", opt.ID))
	}
	return v.row(id, verdict, slot, opt.Title, opt.Note, control)
}

func (v *View) radio(slot int, id string, verdict fit.Verdict, action g.Node) g.Node {
	in := verdict.Status == fit.Chosen || verdict.Status == fit.Forced
	return Input(Type("radio"), Name("slot-"+v.pack().Slots[slot].ID), ID(id), g.If(in, Checked()), g.If(verdict.Status == fit.Blocked, Disabled()), described(id, verdict), action)
}

func described(id string, verdict fit.Verdict) g.Node {
	if verdict.Why == nil {
		return nil
	}
	return Aria("describedby", "why-"+id)
}

// row is one option with its difference in price and, where it cannot be had, the reason.
func (v *View) row(id string, verdict fit.Verdict, slot int, title, note string, control g.Node) g.Node {
	return Li(Class(string(verdict.Status)),
		Label(For(id), control, Span(Class("name"), g.Text(title), g.If(note != "", Span(Class("note"), g.Text(note)))), Span(Class("amount"), g.Text(v.rowAmount(verdict)))),
		v.why(id, verdict),
		v.brings(verdict, slot),
	)
}

func (v *View) rowAmount(verdict fit.Verdict) string {
	switch verdict.Status {
	case fit.Chosen:
		return "in the boat"
	case fit.Forced:
		return "nothing else fits"
	case fit.Blocked:
		return ""
	}
	then, err := v.Engine.Total(verdict.Build)
	if err != nil {
		return "price not known"
	}
	now, err := v.Engine.Total(v.Answer.Build)
	if err != nil {
		return "price not known"
	}
	return v.difference(then.Sub(now))
}

func (v *View) why(id string, verdict fit.Verdict) g.Node {
	if verdict.Why == nil {
		return nil
	}
	text := verdict.Why.Reason
	if verdict.Why.Advice != "" {
		text += " " + verdict.Why.Advice
	}
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
	for s := range v.pack().Slots {
		if text := v.change(verdict.Build, s); s != own && text != "" {
			changes = append(changes, text)
		}
	}
	const most = 3
	switch n := len(changes); {
	case n == 0:
		return nil
	case n > most:
		changes = append(changes[:most], fmt.Sprintf("and %d more", n-most))
	}
	return P(Class("brings"), g.Text("Brings with it: "+strings.Join(changes, "; ")+"."))
}

// change words how a slot differs between the present boat and another.
func (v *View) change(b *fit.Build, slot int) string {
	def := &v.pack().Slots[slot]
	text, same := "", true
	for o := def.First; o < def.End; o++ {
		same = same && b.State.Counts[o] == v.Answer.Build.State.Counts[o]
		if b.State.Counts[o] > 0 && text == "" {
			text = v.pack().Options[o].Title
		}
	}
	switch {
	case same:
		return ""
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

// clashes lists what keeps the boat from being built, each with the choices that could be let go.
func (v *View) clashes() []g.Node {
	list := v.Answer.Build.Clashes
	if len(list) == 0 {
		return nil
	}
	return []g.Node{Section(Class("clashing"), H2(g.Text("This boat cannot be built as it stands")), Ul(g.Map(list, func(c fit.Clash) g.Node {
		var slots []g.Node
		seen := map[int]bool{}
		for _, o := range c.Options {
			if s := v.pack().Options[o].Slot; v.Answer.Build.Choices.Settled[s] && !seen[s] {
				seen[s] = true
				slots = append(slots, Button(Type("button"), act("standard", "slot", v.pack().Slots[s].ID), g.Textf("Let go of %s", lowerFirst(v.pack().Slots[s].Title))))
			}
		}
		text := c.Reason
		if c.Advice != "" {
			text += " " + c.Advice
		}
		return Li(P(g.Text(text)), Div(Class("actions"), g.Group(slots)))
	})))}
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
	return Tr(Class(class), Th(g.Attr("scope", "row"), g.Text(title)), g.Map(cells, func(c string) g.Node { return Td(Class("number"), g.Text(c)) }))
}

package screen

import (
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
)

// The specification sheet: the hulls, the use, and a line for every slot that opens to what else could stand there.

// use are the fields of the intended use, as the book declares them, and the units in which figures are shown
// and typed. Rules and tables are in the units of the book: what is typed in others is taken to the nearest step.
func (v *View) use() []g.Node {
	var nodes []g.Node
	for i := range v.pack().Use {
		u := &v.pack().Use[i]
		id, value := "use-"+u.ID, v.Answer.Build.State.Use[i]
		var control, below g.Node
		if len(u.Choices) > 0 {
			control = Select(ID(id), act("use", "field", u.ID), choicesOf(u, u.Choices[int(value)].ID))
		} else {
			control, below = v.measured(u, value)
		}
		nodes = append(nodes, Div(Class("field"), Label(For(id), g.Text(u.Title)), control, below,
			v.words(u.Title)))
	}
	return append(nodes, v.field("units", "screen.units", Select(ID("units"), act("units"),
		// by what tells them apart: kilograms and metres are in two of the three
		g.Map(measure.Systems, func(s measure.System) g.Node {
			return option(string(s), s == v.System, v.say("screen.units-name", msg.Choice("system", string(s))))
		}))))
}

// measured is a field in which a number is typed, as people write numbers, with what is wrong with it below. The
// browser checks nothing: it would refuse a comma or a unit that the engine reads.
func (v *View) measured(u *pack.UseField, value float64) (control, below g.Node) {
	shown, unit := v.read(value, u.Unit)
	id, text := "use-"+u.ID, v.Engine.Language().Number(shown, msg.Exact)
	said := g.Group{}
	if v.Mistyped.Field == u.ID {
		text = v.Mistyped.Text
		below = P(Class("fault"), ID(id+"-fault"), g.Text(v.Mistyped.Says))
		said = g.Group{Aria("invalid", "true"), Aria("describedby", id+"-fault")}
	}
	return Span(Class("measured"), Input(Type("text"), g.Attr("inputmode", "decimal"), AutoComplete("off"),
		MaxLength("20"),
		ID(id), Value(text), said, act("use", "field", u.ID)), v.unit(unit, shown)), below
}

// read is a number of the book in the reader's units, and its unit. The steps of fields are coarser than the tenth to
// which it is rounded.
func (v *View) read(value float64, unit string) (float64, string) {
	u, ok := measure.UnitOf(unit)
	if !ok {
		return value, unit
	}
	return u.Stated(v.System, value)
}

// choicesOf are the entries of a select over what a field of the use may be, with one of them selected, or none.
func choicesOf(u *pack.UseField, selected string) g.Node {
	return g.Map(u.Choices, func(c pack.Choice) g.Node { return option(c.ID, c.ID == selected, g.Text(c.Title)) })
}

// unit stands behind a field with a number; nothing where the number has no unit.
func (v *View) unit(id string, value float64) g.Node {
	beside := v.Engine.Language().Beside(value, id)
	if beside == "" {
		return g.Text("")
	}
	return g.Text(" " + beside)
}

// ascii is a number as the attributes of a field hold it, in every language alike.
func ascii(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }

// line is what a slot says while it is closed: what stands in it, and what that changes against the standard build.
func (v *View) line(slot int) []g.Node {
	def := &v.pack().Slots[slot]
	// what stands there, or why nothing does: a line is never blank
	content, class := v.content(slot), "content"
	if content == "" {
		class, content = class+" none", v.empty(slot)
	}
	// a mark and not a colour alone, and words for who hears the page: WCAG 2.2, 1.4.1
	mark := Span(Class("mark"))
	if v.differs(slot) {
		mark = Span(Class("mark changed"), v.told("title", "screen.differs"),
			Span(Class("unseen"), v.say("screen.changed")))
	}
	amount := ""
	for _, l := range v.Answer.Price.Lines {
		if l.Key == def.ID && !l.Shown.IsZero() {
			amount = v.difference(l.Shown)
		}
	}
	return []g.Node{Span(Class("title"), g.Text(def.Title)),
		Span(Class(class), g.Text(content), v.lock(def.ID)), Span(Class("amount"), g.Text(amount)), mark}
}

// content names what stands in a slot; "" for nothing, which is all that there can be on a hull without the slot.
func (v *View) content(slot int) string {
	if !v.Engine.Exists(slot, v.Answer.Hull) {
		return ""
	}
	return v.pack().Contents(v.Answer.Build.State.Counts, slot)
}

// empty says of a slot in which nothing stands why that is so.
func (v *View) empty(slot int) string {
	switch {
	case !v.Engine.Exists(slot, v.Answer.Hull):
		return v.Engine.Say("screen.not-on-hull")
	case v.closed(slot):
		return v.pack().Slots[slot].Because
	}
	return v.Engine.Say("screen.nothing")
}

// lock marks a slot that repairs leave alone; nil for another.
func (v *View) lock(slot string) g.Node {
	if !slices.Contains(v.Answer.Spec.Keep, slot) {
		return nil
	}
	return Span(Class("kept"), g.Text(" "), v.say("screen.locked"))
}

// closed says that a slot does not exist on this boat: its condition does not hold, and other choices could open it.
func (v *View) closed(slot int) bool {
	when := v.pack().Slots[slot].When
	return !when.Empty() && !when.Truth()(v.Answer.Build.State)
}

// alternatives are those of a slot; on a hull that has no such slot there are none to work out. The engine keeps them
// with the answer, so that a second look, or another panel, costs nothing.
func (v *View) alternatives(slot int) *engine.SlotAlternatives {
	if !v.Engine.Exists(slot, v.Answer.Hull) {
		return nil
	}
	return v.Engine.Alternatives(v.Answer).Slot(slot)
}

// choices is what a slot shows when it is opened: its options, each with what it would change in this boat as it is
// now.
func (v *View) choices(slot int) []g.Node {
	def := &v.pack().Slots[slot]
	if !v.Engine.Exists(slot, v.Answer.Hull) {
		return []g.Node{note(v.say("screen.not-on-this", msg.Text("hull", v.pack().Hulls[v.Answer.Hull].Title)))}
	}
	// to choose nothing comes first: it stands in the same place in every slot that may be empty
	var rows []g.Node
	alternatives := v.alternatives(slot)
	if empty := alternatives.Empty; empty != nil {
		c := v.choice("none-"+def.ID, v.Engine.Say("screen.none"), "", slot, empty)
		control := v.radio(c, act("empty", "slot", def.ID))
		if empty.Status == fit.Blocked {
			rows = append(rows, v.row(c, control, v.ask(engine.Want{Empty: def.ID}, c.title, "why-"+c.id)))
		} else {
			rows = append(rows, v.row(c, control))
		}
	}
	// what is not made for this hull comes last: only another hull brings it
	for _, absent := range []bool{false, true} {
		for i := range alternatives.Options {
			if x := &alternatives.Options[i]; (x.Status == fit.Absent) == absent && !v.ended(def.First+i) {
				rows = append(rows, v.option(slot, def.First+i, x))
			}
		}
	}
	return []g.Node{FieldSet(Legend(Class("unseen"), g.Text(def.Title)),
		g.If(def.Note != "", note(g.Text(def.Note))), v.slotWords(slot), Ul(rows...), v.settled(slot))}
}

// slotWords are the words of the trade that a slot and its options use.
func (v *View) slotWords(slot int) g.Node {
	def := &v.pack().Slots[slot]
	texts := []string{def.Title, def.Note}
	for _, o := range v.pack().Options[def.First:def.End] {
		texts = append(texts, o.Title, o.Note)
	}
	return v.words(texts...)
}

// option is one that the hull can have. One that cannot be had as things stand is shown with the reason, and never
// hidden: people look for what they saw in the catalogue.
func (v *View) option(slot, o int, x *engine.Alternative) g.Node {
	opt := &v.pack().Options[o]
	about := opt.Note
	// a buyer has to know before he orders that he has something to bring, and that its weight is in the figures
	if opt.Brought {
		about = strings.TrimSpace(about + " " + v.Engine.Say("screen.brought"))
	}
	// the number is there where the book shows it
	if n := v.pack().LeftOf(o); n > 0 {
		about = strings.TrimSpace(about + " " + v.Engine.Say("screen.left", msg.Count("n", n)))
	}
	c := v.choice("option-"+opt.ID, opt.Title, about, slot, x)
	c.sample, c.made = v.sample(o, &x.Verdict)
	n := v.Answer.Build.State.Counts[o]
	if x.Status == fit.Absent {
		c.why = v.elsewhere(o)
		if v.off(o) {
			c.why = fit.NotSoldNow(v.pack(), o)
		}
	}
	closer := v.closer(c.id, opt.Title, &opt.Looks)
	if unavailable(x.Status) {
		return v.row(c, v.control(o, n, c), v.ask(engine.Want{Option: opt.ID}, opt.Title, "why-"+c.id), closer)
	}
	return v.row(c, v.control(o, n, c), closer)
}

// control is what an option is chosen by: a number where several of it fit, a box to tick where others may stand beside
// it, else one of several to choose among.
func (v *View) control(o, n int, c choice) g.Node {
	opt := &v.pack().Options[o]
	def := &v.pack().Slots[opt.Slot]
	// What cannot be had stays in sight and in reach, but is not chosen; a single box that must stay ticked is not
	// cleared. The page's script holds back what is disabled in this way.
	status := c.verdict.Status
	switch {
	case def.Multiple && opt.Most > 1:
		return Input(Type("number"), Class("many"), ID(c.id), Min("0"),
			Max(strconv.Itoa(max(n, v.pack().MostOf(o)))), Step("1"),
			Value(strconv.Itoa(n)),
			g.If(unavailable(status), g.Group{ReadOnly(), Aria("disabled", "true")}), c.described(),
			act("count", "option", opt.ID))
	case def.Multiple:
		return Input(Type("checkbox"), ID(c.id), g.If(n > 0, Checked()),
			g.If(unavailable(status) || status == fit.Forced, Aria("disabled", "true")), c.described(),
			act("toggle", "option", opt.ID))
	}
	return v.radio(c, act("choose", "option", opt.ID))
}

// unavailable says that something cannot be had as the boat is, or on its hull.
func unavailable(status fit.Availability) bool { return status == fit.Blocked || status == fit.Absent }

// choice is one option, or nothing at all in a slot, as a row.
type choice struct {
	id, title, note string
	slot            int
	sample          g.Node      // what it looks like; nil where words say it
	made            string      // what of, in words; "" for what has no layers
	why             msg.Message // it cannot be had; empty where it can
	verdict         fit.Verdict
	effect          engine.Effect
	effects         g.Node
}

// choice is made before its row, since its control refers to what stands below it.
func (v *View) choice(id, title, note string, slot int, x *engine.Alternative) choice {
	return choice{id, title, note, slot, nil, "", v.why(x.Verdict), x.Verdict, x.Effect, v.effects(id, x.Effect)}
}

// described names what is said of a choice below it: who hears the page is told it with the control.
func (c choice) described() g.Node {
	switch {
	case unavailable(c.verdict.Status):
		return Aria("describedby", "why-"+c.id)
	case c.effects != nil:
		return Aria("describedby", "effects-"+c.id)
	}
	return nil
}

// radio is one of several to choose among. What is the only choice is checked as if somebody had chosen it.
func (v *View) radio(c choice, action g.Node) g.Node {
	in := c.verdict.Status == fit.Chosen || c.verdict.Status == fit.Forced
	return Input(Type("radio"), Name("slot-"+v.pack().Slots[c.slot].ID), ID(c.id), g.If(in, Checked()),
		g.If(unavailable(c.verdict.Status), Aria("disabled", "true")), c.described(), action)
}

// row is one choice with its difference in price and what else it changes, or, where it cannot be had, the reason. The
// style sheet shows where it stands by the class, which is the word of package fit for it.
func (v *View) row(c choice, control g.Node, below ...g.Node) g.Node {
	return Li(Class(string(c.verdict.Status)),
		Label(For(c.id), control, Span(Class("name"), c.sample, g.Text(c.title), noted(c.made), noted(c.note)),
			Span(Class("amount"), g.Text(v.netPrice(c.verdict.Status, c.effect)))),
		c.effects,
		g.If(unavailable(c.verdict.Status), P(Class("why"), ID("why-"+c.id), v.text(c.why))),
		v.brings(c.verdict, c.slot),
		g.Group(below),
	)
}

// why is the reason for which something cannot be had, with the number that decides and the choices that it clashes
// with.
func (v *View) why(verdict fit.Verdict) msg.Message {
	if verdict.Why == nil {
		return msg.Message{}
	}
	reason := v.clash(*verdict.Why, v.Engine.Alternatives(v.Answer).Decides(&verdict))
	if chosen := v.titles(verdict.Blockers); len(chosen) > 0 {
		reason = msg.Sentences(reason, msg.New("screen.chosen", msg.List("options", msg.Commas, chosen...)))
	}
	return reason
}

// off says that an option is not sold on the day of the edition, or sold out.
func (v *View) off(option int) bool {
	s := v.pack().Options[option].Sale
	return s != nil && s.Off || v.pack().LeftOf(option) == 0
}

// ended says that an option is no longer sold, and not in the boat: nobody has to read of what cannot be had again.
func (v *View) ended(option int) bool {
	// what is still to come is shown with its day: that is news, and so is that somebody else has the last one
	p := v.pack()
	s := p.Options[option].Sale
	return s != nil && s.Off && s.From <= p.Edition.Date && v.Answer.Build.State.Counts[option] == 0
}

// elsewhere says for which hulls an option is made, that is not made for this one.
func (v *View) elsewhere(option int) msg.Message {
	var hulls []msg.Message
	// Without prices: on another hull it is another boat, and the ways out say what that comes to.
	for h := range v.pack().Hulls {
		if v.Engine.Made(option, h) {
			hulls = append(hulls, msg.Plain(v.pack().Hulls[h].Title))
		}
	}
	return msg.New("screen.made-for", msg.Text("hull", v.pack().Hulls[v.Answer.Hull].Title),
		msg.List("hulls", msg.Commas, hulls...))
}

// mostNamed is how many options of a list are named before the others are counted: a rule over the mass of the boat
// may have to do with all that was chosen.
const mostNamed = 4

// titles name options in a row; beyond some, the last named says how many more there are.
func (v *View) titles(options []int) (names []msg.Message) {
	for i, o := range options {
		if i == mostNamed {
			names[i-1] = msg.New("screen.and-more", msg.Words("last", names[i-1]), msg.Count("n", len(options)-i))
			break
		}
		names = append(names, msg.Plain(v.pack().Options[o].Title))
	}
	return names
}

// mostBrought is how many of the slots are named that an option changes beside its own.
const mostBrought = 3

// brings says what else an open option changes in the boat, outside of its own slot: what goes with it, and what gives
// way to it. The price beside the option has all of that in it.
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
	if len(changes) == 0 {
		return nil
	}
	if more := len(changes) - mostBrought; more > 0 {
		changes = append(changes[:mostBrought], v.Engine.Say("screen.more-changes", msg.Count("n", more)))
	}
	return P(Class("brings"), v.say("screen.brings", v.semicolons("changes", changes)))
}

// semicolons is a list whose parts have commas of their own.
func (v *View) semicolons(name string, parts []string) msg.Arg {
	list := msg.Plain(parts[0])
	for _, p := range parts[1:] {
		list = msg.New("screen.semicolon", msg.Words("first", list), msg.Text("next", p))
	}
	return msg.Words(name, list)
}

// change words how a slot differs between the present boat and another, which holds some of its options otherwise.
func (v *View) change(held []fit.Held, slot int) string {
	def := &v.pack().Slots[slot]
	// a variant says only what it holds otherwise than the present boat
	counts := slices.Clone(v.Answer.Build.State.Counts[def.First:def.End])
	for _, h := range held {
		counts[h.Option-def.First] = h.Count
	}
	i := slices.IndexFunc(counts, func(n int) bool { return n > 0 })
	if i < 0 {
		return v.Engine.Say("screen.change-none", msg.Inside("slot", def.Title))
	}
	return v.Engine.Say("screen.change", msg.Inside("slot", def.Title),
		msg.Text("option", v.pack().Options[def.First+i].Title))
}

// remarks are what the last change brought about beside what somebody asked for, above the sheet where it is seen
// first.
func (v *View) remarks() []g.Node {
	if len(v.Remarks) == 0 {
		return nil
	}
	return []g.Node{list("remarks", v.Remarks)}
}

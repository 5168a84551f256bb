package screen

import (
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/msg"
)

// Why something cannot be had, what repairs it, and what is kept from repairs.

// Asked is what the engine says why something cannot be had, and what can be done.
type Asked struct {
	Want    engine.Want
	Reason  *engine.Reason
	Repairs []engine.Repair // by other choices
	All     bool            // there are no other ways with as few changes
	Others  []engine.Repair // by another use or hull
}

// Ways are all that can be done, in the order of the page.
func (a *Asked) Ways() []engine.Repair { return slices.Concat(a.Repairs, a.Others) }

// ask is the button that asks why, with the answer below it once it was asked. One answer is open at a time: the page
// has one place for the identifiers of its repairs. What names it to who hears the page: a page may have many of them.
func (v *View) ask(want engine.Want, what, describedBy string) g.Node {
	// the boat as a whole has nothing to be named by
	id, does := "boat", act("reason")
	switch {
	case want.Option != "":
		id, does = "option-"+want.Option, act("reason", "option", want.Option)
	case want.Empty != "":
		id, does = "none-"+want.Empty, act("reason", "slot", want.Empty)
	}
	asked := v.Asked != nil && v.Asked.Want == want
	ask := button(ID("ask-"+id), does, Aria("expanded", strconv.FormatBool(asked)), Aria("describedby", describedBy),
		g.If(what != "", v.told("aria-label", "screen.ask-about", msg.Text("what", what))), v.say("screen.ask"))
	if !asked {
		return Div(Class("ask"), ask)
	}
	return Div(Class("ask"), ask, Div(ID("reason-"+id), Class("reason"), Role("group"),
		v.told("aria-label", "screen.ask"), g.Group(v.reason()), g.Group(v.repairs())))
}

// reason is the smallest set of choices and rules that clash. A message says first which of the two there are, since a
// language may have to agree with what follows.
func (v *View) reason() []g.Node {
	r := v.Asked.Reason
	switch {
	case v.Engine.Absent(v.Answer, v.Asked.Want): // which is said above, and is all of it
		return nil
	case r == nil: // the search ended before its proof
		return []g.Node{P(v.say("screen.no-combination"))}
	}
	var nodes []g.Node
	rules := msg.Code("screen.these-rules")
	if len(r.Choices) > 0 {
		nodes = append(nodes, P(v.say("screen.these-choices")), v.list("set", r.Choices))
		rules = "screen.and-these-rules"
	}
	if len(r.Rules) > 0 {
		texts := make([]msg.Message, len(r.Rules))
		for i, c := range r.Rules {
			texts[i] = v.clash(c, nil)
		}
		nodes = append(nodes, P(v.say(rules)), v.list("set", texts))
	}
	end := msg.Code("screen.not-together")
	if r.Smallest { // only then is it known that one less is enough
		end = "screen.not-together-drop-one"
	}
	return append(nodes, P(v.say(end)))
}

// repairs are the ways to have it all the same: by other choices, and by another use or hull.
func (v *View) repairs() []g.Node {
	a := v.Asked
	nodes := []g.Node{H3(v.say("screen.repairs"))}
	// Other choices first: they leave the boat what it is, and where it lies.
	if len(a.Repairs) > 0 {
		nodes = append(nodes, v.ways(a.Repairs, 0))
	}
	if !v.Engine.Absent(v.Answer, v.Asked.Want) {
		nodes = append(nodes, note(v.say(v.more())))
	}
	if len(a.Others) > 0 {
		nodes = append(nodes, P(v.say("screen.others")), v.ways(a.Others, len(a.Repairs)))
	}
	return nodes
}

// ways lists ways out, each with its net effect: the difference between the boat on the page and the one that it makes.
// The first is numbered on from those before it.
func (v *View) ways(list []engine.Repair, first int) g.Node {
	want := v.Asked.Want
	var rows g.Group
	// A press names what was asked and the number of the way: the desk refuses one that is older than its list.
	for i, r := range list {
		n := strconv.Itoa(first + i)
		pairs := []string{"key", n}
		switch {
		case want.Option != "":
			pairs = []string{"option", want.Option, "key", n}
		case want.Empty != "":
			pairs = []string{"slot", want.Empty, "key", n}
		}
		rows = append(rows, Li(
			P(ID("repair-text-"+n), Class("name"), g.Text(v.sentences(r.Changes))),
			P(Class("amount"), g.Text(v.difference(r.Effect.Price()))),
			v.effects("repair-"+n, r.Effect),
			button(ID("repair-"+n), act("repair", pairs...), Aria("describedby", "repair-text-"+n),
				v.say("screen.repair"))))
	}
	return Ul(Class("repairs"), rows)
}

// sentences writes changes one after the other, each with its full stop.
func (v *View) sentences(changes []msg.Message) string {
	// Each is a sentence of its own, since it may have commas inside.
	texts := v.Engine.Language().Texts(changes)
	for i := range texts {
		texts[i] = msg.Sentence(texts[i])
	}
	return strings.Join(texts, " ")
}

// more says whether there are other repairs. It promises nothing that was not proved.
func (v *View) more() msg.Code {
	// "None" is said of a search that came to its end, and "none found" of one that gave up.
	switch a := v.Asked; {
	case len(a.Repairs) > 0 && a.All:
		return "screen.repairs-all"
	case len(a.Repairs) > 0:
		return "screen.repairs-some"
	case !a.All:
		return "screen.repairs-none-found"
	case len(v.Answer.Spec.Keep) > 0:
		return "screen.repairs-locked"
	}
	return "screen.repairs-none"
}

// clash is why something clashes, with the number that decides where there is one, and the book's advice.
func (v *View) clash(c fit.Clash, d *engine.Decision) msg.Message {
	var number msg.Message
	if d != nil {
		number = d.Message(v.System)
	}
	return msg.Sentences(engine.Because(c), number, c.Advice)
}

// clashes lists what keeps the boat from being built, each with the choices that could be let go, and offers repairs. A
// person may get here by another hull, another use of the boat, a link or a file.
func (v *View) clashes() []g.Node {
	list := v.Answer.Build.Clashes
	if len(list) == 0 {
		return nil
	}
	return []g.Node{Section(Class("clashing"), H2(ID("clashing"), v.say("screen.clashes")),
		Ul(g.Map(list, func(c fit.Clash) g.Node {
			return Li(P(v.text(v.clash(c, v.Engine.Decides(v.Answer.Build.State, &c)))), Div(Class("actions"),
				g.Group(v.letGo(c))))
		})), v.ask(engine.Want{}, "", "clashing"))}
}

// letGo offers to leave to the standard build what takes part in a clash.
func (v *View) letGo(c fit.Clash) (buttons []g.Node) {
	// several options of a slot may take part, and the slot is let go as a whole
	seen := map[int]bool{}
	for _, o := range c.Options {
		if s := v.pack().Options[o].Slot; v.Answer.Build.Choices.Settled[s] && !seen[s] {
			seen[s] = true
			def := &v.pack().Slots[s]
			buttons = append(buttons, button(act("standard", "slot", def.ID),
				v.say("screen.let-go", msg.Inside("slot", def.Title))))
		}
	}
	return buttons
}

// settled is the foot of a slot in which somebody chose: leave it to the standard build, or keep it from repairs.
func (v *View) settled(slot int) g.Node {
	id := v.pack().Slots[slot].ID
	if !v.Answer.Build.Choices.Settled[slot] {
		return nil
	}
	kept := slices.Contains(v.Answer.Spec.Keep, id)
	return Div(Class("settled"), P(v.say("screen.your-choice"), g.Text(" "),
		button(ID("release-"+id), act("standard", "slot", id), v.say("screen.release"))),
		Label(For("keep-"+id), Input(Type("checkbox"), ID("keep-"+id), g.If(kept, Checked()),
			act("keep", "slot", id)), v.say("screen.keep")))
}

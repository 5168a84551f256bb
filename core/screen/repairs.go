package screen

import (
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
	Option  string // "" for the boat as it stands
	Reason  *engine.Reason
	Repairs []engine.Repair
	All     bool // there are no other ways with as few changes
}

// ask is the button that asks why, with the answer below it once it was asked.
func (v *View) ask(option, describedBy string) g.Node {
	id, what := "boat", act("reason")
	if option != "" {
		id, what = "option-"+option, act("reason", "option", option)
	}
	asked := v.Asked != nil && v.Asked.Option == option
	button := Button(Type("button"), ID("ask-"+id), what, Aria("expanded", strconv.FormatBool(asked)),
		Aria("describedby", describedBy), g.Text("Why not, and how to change it"))
	if !asked {
		return Div(Class("ask"), button)
	}
	return Div(Class("ask"), button, Div(ID("reason-"+id), Class("reason"), Role("group"),
		Aria("label", "Why not, and how to change it"), g.Group(v.reason()), g.Group(v.repairs())))
}

// reason is the smallest set of choices and rules that clash.
func (v *View) reason() []g.Node {
	r := v.Asked.Reason
	if r == nil {
		return []g.Node{P(g.Text("No combination found in the time allowed; one may exist."))}
	}
	var nodes []g.Node
	link := "These rules"
	if len(r.Choices) > 0 {
		nodes = append(nodes, P(g.Text("These choices")),
			Ul(Class("set"), g.Map(v.Engine.Language().Texts(r.Choices),
				func(c string) g.Node { return Li(g.Text(c)) })))
		link = "and these rules"
	}
	if len(r.Rules) > 0 {
		nodes = append(nodes, P(g.Text(link)), Ul(Class("set"),
			g.Map(r.Rules, func(c fit.Clash) g.Node { return Li(g.Text(v.worded(c))) })))
	}
	if r.Smallest {
		return append(nodes, P(g.Text("cannot be combined; drop any one.")))
	}
	return append(nodes, P(g.Text("cannot be combined.")))
}

// repairs are the ways to have it all the same, each with its net effect.
func (v *View) repairs() []g.Node {
	a := v.Asked
	rows := make([]g.Node, 0, len(a.Repairs))
	for i, r := range a.Repairs {
		n := strconv.Itoa(i)
		what := act("repair", "key", n)
		if a.Option != "" {
			what = act("repair", "option", a.Option, "key", n)
		}
		rows = append(rows, Li(
			P(ID("repair-text-"+n), Class("name"), g.Text(sentences(v.Engine.Language().Texts(r.Changes)))),
			P(Class("amount"), g.Text(v.difference(r.Effect.Price()))),
			v.effects("repair-"+n, r.Effect),
			Button(Type("button"), ID("repair-"+n), what, Aria("describedby", "repair-text-"+n),
				g.Text("Make this change"))))
	}
	return []g.Node{H3(g.Text("How to change it")), Ul(Class("repairs"), g.Group(rows)),
		P(Class("note"), g.Text(v.more()))}
}

// sentences writes changes one after the other, each with its full stop.
func sentences(changes []string) string {
	var list []string
	for _, c := range changes {
		list = append(list, strings.TrimSuffix(c, ".")+".")
	}
	return strings.Join(list, " ")
}

// more says whether there are other repairs.
func (v *View) more() string {
	switch a := v.Asked; {
	case len(a.Repairs) > 0 && a.All:
		return "There is no other solution with as few changes."
	case len(a.Repairs) > 0:
		return "There may be other solutions."
	case !a.All:
		return "No solution found in the time allowed."
	case len(v.Answer.Spec.Keep) > 0:
		return "There is no solution while the locked choices stay."
	}
	return "No change to other choices makes it possible."
}

// worded is a clash with its advice.
func (v *View) worded(c fit.Clash) string {
	return v.Engine.Text(msg.Sentences(engine.Because(c), c.Advice))
}

// clashes lists what keeps the boat from being built, each with the choices that could be let go, and offers repairs.
func (v *View) clashes() []g.Node {
	list := v.Answer.Build.Clashes
	if len(list) == 0 {
		return nil
	}
	return []g.Node{Section(Class("clashing"), H2(ID("clashing"), g.Text("This boat cannot be built as it stands")),
		Ul(g.Map(list, func(c fit.Clash) g.Node {
			return Li(P(g.Text(v.worded(c))), Div(Class("actions"), g.Group(v.letGo(c))))
		})), v.ask("", "clashing"))}
}

// letGo offers to leave to the standard build what takes part in a clash.
func (v *View) letGo(c fit.Clash) (buttons []g.Node) {
	seen := map[int]bool{}
	for _, o := range c.Options {
		if s := v.pack().Options[o].Slot; v.Answer.Build.Choices.Settled[s] && !seen[s] {
			seen[s] = true
			buttons = append(buttons, Button(Type("button"), act("standard", "slot", v.pack().Slots[s].ID),
				g.Textf("Reset %s", lowerFirst(v.pack().Slots[s].Title))))
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
	return Div(Class("settled"), P(g.Text("Your choice. "),
		Button(Type("button"), ID("release-"+id), act("standard", "slot", id), g.Text("Reset to standard"))),
		Label(For("keep-"+id), Input(Type("checkbox"), ID("keep-"+id), g.If(v.kept(id), Checked()),
			act("keep", "slot", id)), g.Text("Lock this choice")))
}

func (v *View) kept(slot string) bool {
	for _, s := range v.Answer.Spec.Keep {
		if s == slot {
			return true
		}
	}
	return false
}

// undo takes back the last change.
func (v *View) undo() []g.Node {
	if v.Undo == "" {
		return nil
	}
	return []g.Node{Button(Type("button"), ID("undo-button"), act("undo"), Aria("keyshortcuts", "Control+Z Meta+Z"),
		g.Text("Undo: "+v.Undo))}
}

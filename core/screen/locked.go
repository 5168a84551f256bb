package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
	"ribband/core/pack"
)

// Locked is the body of a sealed desk's page before somebody opens it: whose it is, a form for the pass phrase, and
// what the page's script says when that goes wrong. It holds nothing that the buyer's page does not, since it lies on
// the open web. Minutes are those without use after which the desk is locked again.
func Locked(l *msg.Language, yard string, desk pack.Desk, minutes int) string {
	// The script has no words of its own, so all that it may have to say lies on the form. The words for a seal that
	// does not open are those of the command line, so that an owner who is called reads what his salesperson does.
	after := msg.Count("minutes", minutes)
	trouble := map[string]msg.Message{
		"wrong": msg.New("seal.wrong-phrase"), "damaged": msg.New("seal.damaged"),
		"format": msg.New("seal.other-format"), "edition": msg.New("seal.other-edition"),
		"rounds": msg.New("seal.too-many-rounds"), "missing": msg.New("screen.lock-missing"),
		"insecure": msg.New("screen.lock-insecure"), "opening": msg.New("screen.lock-opening"),
		"hand": msg.New("screen.lock-by-hand"), "time": msg.New("screen.lock-by-time", after),
	}
	// Names of data attributes, as web/page/seal.ts has them; a name that it lacks would never be said, and one that is
	// missing here would leave a person without a word.
	words := make([]g.Node, 0, len(trouble))
	for _, name := range []string{"wrong", "damaged", "format", "edition", "rounds", "missing", "insecure", "opening",
		"hand", "time"} { // in one order, so that the page has the same bytes each time
		words = append(words, g.Attr("data-"+name, l.Text(trouble[name])))
	}
	return render([]g.Node{
		// Yard and desk are on the buyer's page too, or in the name of the file: a person has to see that it is the
		// right page before typing a phrase into it.
		Header(Class("masthead"), P(Class("yard"), g.Text(yard)), P(Class("place"), g.Text(l.Say("screen.place",
			msg.Choice("desk", string(desk.Kind())))))),
		Main(ID("sheet"), Class("locked"),
			// What is sealed and what becomes of the phrase is said before it is asked for: who types it should know.
			// The time after which it is dropped stands here as well as in the bar, since nobody reads a bar.
			H1(g.Text(l.Say("screen.lock-title"))),
			P(g.Text(l.Say("screen.lock-why", after))),
			// The state is an alert and not a status: whoever typed a wrong phrase is to hear it at once. It is what
			// the field is described by, so that it is heard again on coming back to the field.
			//
			// no autocomplete: a phrase that the browser keeps is not in memory alone
			//
			// What was typed can be shown: a long phrase is mistyped more often than somebody looks over a shoulder.
			// It has no action: only the script reads it, so that no browser sends what was typed anywhere.
			Form(ID("unlock"), g.Attr("autocomplete", "off"), g.Group(words),
				Label(For("phrase"), g.Text(l.Say("screen.lock-phrase"))),
				Input(Type("password"), ID("phrase"), Required(), g.Attr("autocomplete", "off"),
					g.Attr("autocapitalize", "none"), g.Attr("spellcheck", "false"),
					Aria("describedby", "unlock-state")),
				Label(Class("check"), Input(Type("checkbox"), ID("show-phrase")),
					g.Text(" "+l.Say("screen.lock-show"))),
				Button(Type("submit"), Class("main"), g.Text(l.Say("screen.lock-open"))),
				P(ID("unlock-state"), Role("alert"))),
		),
		// what the script puts above the desk once it is open; a template, which nobody sees or hears before. The
		// button comes first of all in the order of the keyboard: a desk must be locked faster than it was opened.
		Template(ID("lock-bar"), Div(Class("lock-bar"),
			P(ID("lock-state"), Role("status"), g.Attr("data-open", l.Say("screen.lock-until", after)),
				g.Attr("data-soon", l.Say("screen.lock-soon")), g.Text(l.Say("screen.lock-until", after))),
			Button(Type("button"), ID("lock"), g.Text(l.Say("screen.lock-now"))))),
	})
}

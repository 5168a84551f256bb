package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
)

// What the page's script says of the engine, of the editions of the site, and of what is kept on the device. The script
// has no words: they stand in data attributes here, with names in braces for what it fills in.

// notice is where another edition is offered. It stays in view however far a person has scrolled, and is not there
// before there is something to say.
func (v *View) notice() g.Node {
	told := func(name string, code msg.Code, args ...msg.Arg) g.Node {
		return g.Attr("data-"+name, v.Engine.Say(code, args...))
	}
	return Section(Class("edition"), ID("edition"), Role("status"), g.Attr("hidden"),
		told("offer", "screen.edition-offer", blank("edition")),
		told("changed", "screen.edition-changed", blank("before"), blank("now")),
		told("missing", "screen.file-missing", blank("file"), blank("reason")),
		told("stopped", "screen.engine-stopped", blank("reason")),
		told("restarted", "screen.engine-restarted", blank("reason")),
		told("resumed", "screen.engine-resumed", blank("reason")),
		told("kept", "screen.kept"),
		told("unkept", "screen.unkept", blank("reason")),
		P(ID("edition-text")),
		Button(Type("button"), Class("main"), ID("edition-load"), g.Attr("data-do", "edition"),
			g.Text(v.Engine.Say("screen.edition-load"))),
		Button(Type("button"), g.Attr("data-do", "edition-later"), g.Text(v.Engine.Say("screen.edition-later"))))
}

// kept says whether the page opens without a network, once the service worker knows.
func kept() g.Node { return P(Class("kept note"), ID("kept"), Role("status")) }

// blank is an argument that the page's script fills in: it stands in the text as {name}.
func blank(name string) msg.Arg { return msg.Text(name, "{"+name+"}") }

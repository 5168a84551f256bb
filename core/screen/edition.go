package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"
)

// What the page's script says of the engine, of the editions of the site, and of what is kept on the device. The script
// has no words: they stand in data attributes here, with names in braces for what it fills in.

// notice is where another edition is offered. It stays in view however far a person has scrolled, and is not there
// before there is something to say.
func (v *View) notice() g.Node {
	return Section(Class("edition"), ID("edition"), Role("status"), g.Attr("hidden"),
		v.told("data-offer", "screen.edition-offer", blank("edition")),
		v.told("data-changed", "screen.edition-changed", blank("before"), blank("now")),
		v.told("data-missing", "screen.file-missing", blank("file"), blank("reason")),
		v.told("data-stopped", "screen.engine-stopped", blank("reason")),
		v.told("data-resumed", "screen.engine-resumed", blank("reason")),
		v.told("data-kept", "screen.kept"),
		v.told("data-unkept", "screen.unkept", blank("reason")),
		P(ID("edition-text")),
		button(Class("main"), ID("edition-load"), g.Attr("data-do", "edition"),
			v.say("screen.edition-load")),
		button(g.Attr("data-do", "edition-later"), v.say("screen.edition-later")))
}

// kept says whether the page opens without a network, once the service worker knows.
func kept() g.Node { return P(Class("note"), ID("kept"), Role("status")) }

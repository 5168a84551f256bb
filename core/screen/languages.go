package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
)

// Frame is the body with every panel empty: what is around the panels has the words of a language too, and they follow
// one by one as always.
func (v *View) Frame() string { return v.body(map[string]string{}) }

// languages are links to the page in the languages of the book, each by its own name, as a reader looks for it. They
// are links so that they work before the script is there; the script then changes the language in place.
func (v *View) languages() g.Node {
	// with one language there is nothing to choose, and nothing is shown
	list := v.pack().Languages
	if len(list) < 2 {
		return nil
	}
	// In its own tongue: who cannot read the page finds his language by its name, and a reader of screens speaks it so
	// by the attribute lang (WCAG 2.2, 3.1.2).
	return Nav(ID("languages"), Class("languages"), v.told("aria-label", "screen.language"),
		g.Map(list, func(tag string) g.Node {
			return A(Href("?lang="+tag), ID("language-"+tag), Lang(tag), g.Attr("hreflang", tag),
				g.Attr("data-do", "language"), g.Attr("data-key", tag),
				g.If(tag == v.Tag(), Aria("current", "true")), g.Text(msg.NameOf(tag)))
		}))
}

// papersIn is the language of the quotation: that of the customer, whoever works at the page. Without another choice it
// is that of the page.
func (v *View) papersIn() g.Node {
	list := v.pack().Languages
	if len(list) < 2 {
		return nil
	}
	// chosen for this customer, or as the quotation that is open has it; the next customer begins with that of the page
	in := v.Papers
	if in == "" {
		in = v.Tag()
	}
	return v.field("detail-language", "screen.papers-in", Select(ID("detail-language"), Name("language"),
		g.Map(list, func(tag string) g.Node { return option(tag, tag == in, g.Text(msg.NameOf(tag))) })))
}

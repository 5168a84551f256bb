package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
)

// enquiry is how a buyer sends the boat to the yard: as a file, by a mail that is filled in, or by what the device
// shares with. The page sends nothing by itself, and says so; where the book names an address of the yard's own host,
// the form can be sent there, and the page says that instead. The fields have the names of the quotation's form, so
// that the yard's desk takes them over.
func (v *View) enquiry() g.Node {
	if quotes(v.Engine) {
		return nil // who quotes does not ask
	}
	// What the page says of sending is the truth of this site: the words follow from the same key as the form's address
	// and the policy of the page.
	y := v.pack().Yard
	// Which of the two holds is a promise to the buyer, so that neither is ever shown beside the other.
	says := msg.Code("screen.enquiry-note")
	if y.Enquiry != "" {
		says = "screen.enquiry-posts"
	}
	// The limits are far beyond a name or a question, and keep a file within what the yard's desk takes in.
	input := func(name string, label msg.Code, kind, complete string) g.Node {
		id := "enquiry-" + name
		return v.field(id, label, Input(ID(id), Name(name), Type(kind), AutoComplete(complete), MaxLength("200")))
	}
	return Div(Class("panel"), ID("enquiry-details"),
		P(Class("note"), v.say(says, msg.Text("yard", y.Name))),
		FormEl(Class("add"), ID("enquiry"), g.Attr("data-keep"), g.If(y.Enquiry != "", g.Group{Method("post"),
			Action(y.Enquiry)}), g.Attr("data-mail", y.Email),
			v.told("data-subject", "screen.enquiry-subject", blank("boat")),
			v.told("data-body", "screen.enquiry-body", blank("words"), blank("boat"), blank("total"), blank("link"),
				blank("name"), blank("email"), blank("phone")),
			input("name", "screen.enquiry-name", "text", "name"),
			input("email", "screen.e-mail", "email", "email"),
			input("phone", "screen.telephone", "tel", "tel"),
			v.field("enquiry-remarks", "screen.enquiry-words", Textarea(ID("enquiry-remarks"), Name("remarks"),
				Rows("4"),
				MaxLength("4000"))),
			g.If(y.Enquiry != "", g.Group{Input(Type("hidden"), Name("link")), Input(Type("hidden"), Name("spec")),
				Button(Type("submit"), Class("main"), v.say("screen.enquiry-post"))}),
			// a mail can be read before it goes, and stays in the buyer's own outbox; a file works where no mail is set
			// up
			g.If(y.Email != "", button(g.Attr("data-do", "enquiry-mail"), v.say("screen.enquiry-mail"))),
			button(g.Attr("data-do", "enquiry-file"), v.say("screen.enquiry-file"))))
}

package screen

import (
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
)

// What the panels are put together from. Words come from the files of languages alone: a helper takes the code of a
// message, or a node whose words were made already.

// say is a message in the language of the engine, as text of the page. Package html escapes it, as it does the titles
// of the book and what a person typed.
func (v *View) say(code msg.Code, args ...msg.Arg) g.Node { return g.Text(v.Engine.Say(code, args...)) }

// text is a message that was made elsewhere.
func (v *View) text(m msg.Message) g.Node { return g.Text(v.Engine.Text(m)) }

// told is a message in the language of the engine, for an attribute.
func (v *View) told(name string, code msg.Code, args ...msg.Arg) g.Node {
	return g.Attr(name, v.Engine.Say(code, args...))
}

// saidAll are messages without arguments, such as the titles of columns.
func (v *View) saidAll(codes ...msg.Code) []string {
	texts := make([]string, len(codes))
	for i, c := range codes {
		texts[i] = v.Engine.Say(c)
	}
	return texts
}

// act marks an element as something that a person does; pairs are data attributes. The page's script sends them to
// package desk as they stand there.
func act(name string, pairs ...string) g.Node {
	nodes := g.Group{g.Attr("data-act", name)}
	for i := 0; i+1 < len(pairs); i += 2 {
		nodes = append(nodes, g.Attr("data-"+pairs[i], pairs[i+1]))
	}
	return nodes
}

// button is one that does not submit a form: without the type, every button within a form would. A test asks that of
// each on the page.
func button(children ...g.Node) g.Node { return Button(Type("button"), g.Group(children)) }

// note is a paragraph of what is worth knowing and changes nothing.
func note(text g.Node) g.Node { return P(Class("note"), text) }

// noted is a note below a title, in the same cell or label; nothing for "".
func noted(text string) g.Node { return g.If(text != "", Span(Class("note"), g.Text(text))) }

// list are messages as the items of a list of some class.
func (v *View) list(class string, messages []msg.Message) g.Node {
	return list(class, v.Engine.Language().Texts(messages))
}

// list writes texts as the items of a list of some class; "" for none.
func list(class string, texts []string) g.Node {
	return Ul(g.If(class != "", Class(class)), g.Map(texts, func(t string) g.Node { return Li(g.Text(t)) }))
}

// option is an entry of a select.
func option(value string, selected bool, words g.Node) g.Node {
	return Option(Value(value), g.If(selected, Selected()), words)
}

// field is a control under its label. The label names the control by its identifier, so that a press on it is one on
// the control.
func (v *View) field(id string, label msg.Code, control g.Node) g.Node {
	return Div(Class("field"), Label(For(id), v.say(label)), control)
}

// tableHead is a row of column titles; all but the first hold numbers, which the style sheet sets flush right.
func tableHead(titles ...string) g.Node {
	var cells []g.Node
	for i, t := range titles {
		cells = append(cells, Th(g.Attr("scope", "col"), g.If(i > 0, Class("number")), g.Text(t)))
	}
	return THead(Tr(cells...))
}

// rowHead is the first cell of a row: it names the row to who hears the table.
func rowHead(title string, below ...g.Node) g.Node {
	return Th(g.Attr("scope", "row"), g.Text(title), g.Group(below))
}

// numbers are the cells behind it.
func numbers(cells ...string) g.Node {
	return g.Map(cells, func(c string) g.Node { return Td(Class("number"), g.Text(c)) })
}

// tableRow is a row of a title and numbers, of a class that may be "".
func tableRow(class, title string, cells ...string) g.Node {
	return Tr(Class(class), rowHead(title), numbers(cells...))
}

// unfolding is the summary of a number that opens to how it came about: its name, and what it comes to.
func unfolding(name string, amounts ...string) g.Node {
	return Summary(Span(Class("name"), g.Text(name)),
		g.Map(amounts, func(a string) g.Node { return Span(Class("amount"), g.Text(a)) }))
}

// unfolded is what it opens to: the formula, and what the formula read, as the book names it.
func (v *View) unfolded(formula msg.Message, inputs []engine.Term) g.Node {
	read := make([]string, len(inputs))
	for i, in := range inputs {
		read[i] = v.Engine.Text(in.Name) + " = " + v.Engine.Text(in.Value)
	}
	return g.Group{P(Code(v.text(formula))), g.If(len(read) > 0, list("", read))}
}

// render writes nodes as HTML. Page and fragments go through it alike, so that they are the same to the byte.
func render(nodes []g.Node) string {
	var b strings.Builder
	if err := g.Group(nodes).Render(&b); err != nil { // a strings.Builder never fails
		return ""
	}
	return b.String()
}

// Amounts come in three ways: with the currency where one stands alone, without it in a column or list whose total has
// it, and with a sign where it is a difference.

// money is an amount with the currency, as it is written where the boat goes.
func (v *View) money(a money.Amount) string {
	c := v.Engine.Pricing.Currency()
	return v.Engine.Language().Money(a.Fixed(c.Digits), c.Code, v.region())
}

// priced is the same as an argument of a message.
func (v *View) priced(name string, a money.Amount) msg.Arg {
	return msg.Money(name, a, v.Engine.Pricing.Currency(), v.region())
}

// region is the identifier of the region where the boat goes; "" where the book has none. Each puts the currency where
// it is used to reading it.
func (v *View) region() string {
	if r := v.Answer.Price.Region; r != nil {
		return r.ID
	}
	return ""
}

// amount is an amount without the currency.
func (v *View) amount(a money.Amount) string {
	return v.decimal(a.Fixed(v.Engine.Pricing.Currency().Digits))
}

// decimal writes a decimal of ASCII for a reader.
func (v *View) decimal(ascii string) string { return v.Engine.Language().Decimal(ascii) }

// difference is an amount with its sign, without the currency; that of nothing is +0.00.
func (v *View) difference(a money.Amount) string {
	if a.Sign() >= 0 {
		return "+" + v.amount(a)
	}
	return v.amount(a)
}

// signed writes a decimal of ASCII with its sign; nothing for zero.
func (v *View) signed(ascii string) string {
	switch {
	case !strings.ContainsAny(ascii, "123456789"):
		return ""
	case ascii[0] == '-':
		return v.decimal(ascii)
	}
	return "+" + v.decimal(ascii)
}

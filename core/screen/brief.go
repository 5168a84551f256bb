package screen

import (
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/brief"
	"ribband/core/drawing"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
)

// A boat by needs: the form of the wishes, the search on its way, and the boats that it found.

// Brief is a search for boats as it is shown. Form and Faults are by wish: what was typed, and what is wrong with it.
type Brief struct {
	Form, Faults map[string]string
	Asked        brief.Brief // what the search was started with
	Progress     brief.Progress
	Answer       *brief.Answer // nil where nothing was looked for
	Going        bool
	Stopped      bool // before its end
	Round        int  // how often anything of it has changed
}

// briefSection is the whole section; nothing where the book declares no wishes.
func (v *View) briefSection(at func(string, ...g.Node) g.Node) g.Node {
	if v.pack().Brief == nil {
		return nil
	}
	return Details(Class("use brief"), ID("panel-brief"),
		Summary(H2(v.say("screen.brief")), P(v.say("screen.brief-note"))),
		at("brief-form"),
		Div(Class("searching"), at("brief-progress"), at("brief-count")),
		at("brief-found"))
}

// everyday is how many wishes stand open, the first of the book: what everybody asks. The others are folded.
const everyday = 5

// briefForm has a field for every wish of the book. The browser checks nothing of it: what is wrong is said by the
// engine, in the words of the page and for all fields at once.
func (v *View) briefForm() []g.Node {
	var fields, more []g.Node
	open := false
	// A fold opens by itself where something in it was typed or is wrong: nothing that counts is out of sight.
	for i := range v.pack().Brief.Wishes {
		w := &v.pack().Brief.Wishes[i]
		if i < everyday {
			fields = append(fields, v.wishField(w))
			continue
		}
		more = append(more, v.wishField(w))
		open = open || v.Brief.Form[w.ID] != "" || v.Brief.Faults[w.ID] != ""
	}
	return []g.Node{FormEl(ID("wishes"), act("brief"), g.Attr("novalidate"),
		note(v.say("screen.brief-empty")),
		Div(Class("wishes"), g.Group(fields)),
		g.If(len(more) > 0, Details(ID("more-wishes"), g.If(open, g.Attr("open")), Summary(v.say("screen.brief-more")),
			Div(Class("wishes"), g.Group(more)))),
		Button(Type("submit"), Class("main"), ID("brief-find"), v.say("screen.brief-find")))}
}

// wishField is a box to tick, a choice or an amount, with the book's note and what is wrong with what was typed below.
func (v *View) wishField(w *pack.Wish) g.Node {
	// note and fault are named by the field, so that they are read out with it
	// What was typed comes back as it was typed, and not as it was read: people correct what they see.
	id, value := "wish-"+w.ID, v.Brief.Form[w.ID]
	var below g.Group
	about := ""
	if w.Note != "" {
		about = id + "-note"
		below = append(below, P(Class("note"), ID(about), g.Text(w.Note)))
	}
	fault := v.Brief.Faults[w.ID]
	if fault != "" {
		about = strings.TrimSpace(about + " " + id + "-fault")
		below = append(below, P(Class("fault"), ID(id+"-fault"), g.Text(fault)))
	}
	said := g.Group{g.If(about != "", Aria("describedby", about)), g.If(fault != "", Aria("invalid", "true"))}
	label, unit := v.wishLabel(w)
	switch {
	case w.Kind == pack.WishNeed:
		return Div(Class("field tick"), Label(For(id),
			Input(Type("checkbox"), ID(id), Name(w.ID), g.If(value != "", Checked()), said), g.Text(label)), below)
	case w.Kind == pack.WishUse && len(v.pack().Use[w.Index].Choices) > 0:
		return Div(Class("field"), Label(For(id), g.Text(label)),
			Select(ID(id), Name(w.ID), said, option("", false, v.say("screen.as-in-use")),
				choicesOf(&v.pack().Use[w.Index], value)), below)
	}
	return Div(Class("field"), Label(For(id), g.Text(label)),
		Span(Class("measured"), Input(Type("text"), ID(id), Name(w.ID), g.Attr("inputmode", "decimal"),
			g.Attr("autocomplete", "off"), MaxLength("20"), Value(value), said), g.Text(" "+unit)), below)
}

// wishLabel names a wish with the side of its amount on which boats may lie, and the unit of the amount.
func (v *View) wishLabel(w *pack.Wish) (label, unit string) {
	switch w.Kind {
	case pack.WishPrice:
		unit = v.Engine.Pricing.Currency().Code
	case pack.WishFigure:
		_, unit = v.read(0, v.Engine.FigureList()[w.Index].Unit)
	case pack.WishUse:
		_, unit = v.read(0, v.pack().Use[w.Index].Unit)
	}
	unit = v.Engine.Language().Unit(unit)
	if w.Kind == pack.WishUse || w.Kind == pack.WishNeed { // these say their side by themselves
		return w.Title, unit
	}
	side := "most"
	if w.Bound == pack.AtLeast {
		side = "least"
	}
	return v.Engine.Say("screen.wish", msg.Text("wish", w.Title), msg.Choice("side", side)), unit
}

// Words say how a search stands: "Looking for the cheapest boat. 2 boats so far."
func (b Brief) Words(l *msg.Language) string {
	if b.Answer == nil {
		return ""
	}
	// how many there are is said once it is worth saying; that there are none, the verdict says
	found := msg.New("screen.found", msg.Count("n", len(b.Answer.Boats)))
	summary := b.Answer.Summary()
	phase := msg.Text("phase", msg.Capital(l.Text(b.Progress.Phase)))
	switch {
	case b.Going && len(b.Answer.Boats) > 0:
		return l.Say("screen.search-so-far", phase, msg.Words("found", found))
	case b.Going:
		return l.Say("screen.search-going", phase)
	case b.Stopped:
		return l.Say("screen.search-stopped", msg.Words("verdict", summary))
	case len(b.Answer.Boats) > 0:
		return l.Text(msg.Sentences(found, summary))
	}
	return l.Text(summary)
}

// briefProgress changes with the stage of a search only, so that its bar runs on. The words go to who listens by the
// page's live region.
func (v *View) briefProgress() []g.Node {
	if !v.Brief.Going {
		return nil
	}
	return []g.Node{P(ID("brief-words"), g.Text(v.Brief.Words(v.Engine.Language()))),
		Progress(Aria("labelledby", "brief-words")),
		button(ID("brief-stop"), act("brief-stop"), v.say("screen.brief-stop"))}
}

// briefCount counts on, in an element of its own: it changes with every step, and is not read out.
func (v *View) briefCount() []g.Node {
	if !v.Brief.Going {
		return nil
	}
	return []g.Node{note(v.say("screen.boats-checked", msg.Grouped("n", float64(v.Brief.Progress.Checked), 0)))}
}

// briefFound is what was found so far, or in the end.
func (v *View) briefFound() []g.Node {
	b := &v.Brief
	if b.Answer == nil || b.Going && len(b.Answer.Boats) == 0 {
		return nil
	}
	// while a search goes on the boats found so far are shown, but nothing that speaks of all of them
	nodes := []g.Node{v.briefAsked()}
	if !b.Going {
		nodes = append(nodes, P(ID("brief-verdict"), Class("verdict"), g.Text(b.Words(v.Engine.Language()))))
	}
	nodes = append(nodes, v.briefCards())
	if !b.Going {
		nodes = append(nodes, v.tradeOff(), v.briefRows(), v.relaxations())
	}
	return nodes
}

// briefAsked repeats the wishes that a search was started with: the form may say something else by now.
func (v *View) briefAsked() g.Node {
	var list []string
	for i := range v.pack().Brief.Wishes {
		w := &v.pack().Brief.Wishes[i]
		if value, ok := v.Brief.Asked.Wishes[w.ID]; ok {
			list = append(list, v.Engine.Text(brief.Words(v.Engine, w, value, v.region(), v.System)))
		}
	}
	if len(list) == 0 {
		return note(v.say("screen.searched-for-any"))
	}
	return note(v.say("screen.searched-for", v.semicolons("wishes", list)))
}

// briefCards shows the boats that none of the others beats in something.
func (v *View) briefCards() g.Node {
	// The boat that is cheapest, the one that does most and the one that is built soonest, which may be the same. The
	// others stand in the rows below: a dozen cards would hide what tells them apart.
	a := v.Brief.Answer
	var cards []g.Node
	for i := range a.Boats {
		if merits := a.Merits(v.Engine, i); len(merits) > 0 {
			l := v.Engine.Language()
			cards = append(cards, v.boatCard(i, msg.Capital(l.List(msg.Commas, l.Texts(merits)))))
		}
	}
	if len(cards) == 0 {
		return nil
	}
	return g.Group{Ul(Class("boats"), g.Group(cards)), g.If(discounted(v.Engine), note(v.say("screen.boats-note")))}
}

// boatCard shows one boat: what it is best at, its price and figures, and what differs from the standard build.
func (v *View) boatCard(i int, title string) g.Node {
	b := &v.Brief.Answer.Boats[i]
	id := "boat-" + strconv.Itoa(i)
	chosen := note(v.say("screen.standard-build"))
	if len(b.Chosen) > 0 {
		chosen = Details(ID(id+"-chosen"), Summary(v.say("screen.changes", msg.Count("n", len(b.Chosen)))),
			list("", v.Engine.Language().Texts(b.Chosen)))
	}
	return Li(g.If(v.taken(b), Class("taken")),
		H3(ID(id), v.say("screen.numbered", msg.Count("n", i+1), msg.Text("title", title))),
		P(Class("name"), g.Text(b.Hull)), P(Class("amount"), g.Text(v.money(b.Price))),
		v.boatOutline(b, id),
		Dl(g.Group(v.boatFigures(b))), chosen, v.take(i, "take-"+strconv.Itoa(i), id))
}

// boatOutline is a boat that was found, to the scale of all hulls: a larger one is larger. Without a drawing its words
// still say which it is.
func (v *View) boatOutline(b *brief.Boat, id string) g.Node {
	// the outline asks for what is aboard, and nothing of how it was found
	p, err := look.Outline(v.Engine, &fit.Build{State: b.State}, drawing.Format{Width: narrow, ID: "-" + id,
		System: v.System})
	if err != nil {
		return nil
	}
	return Span(Class("outline"), Aria("hidden", "true"), g.Raw(p.SVG)) // escaped by core/drawing
}

// tradeOff plots the boats: what the book's figure comes to for which price. Its points lead to the rows.
func (v *View) tradeOff() g.Node {
	// Which figure is worth its price the owner says; the program has no opinion.
	most := v.pack().Brief.Most
	boats := v.Brief.Answer.Boats
	// a plot of one point says nothing, nor does one without the book's figure
	if most < 0 || len(boats) < 2 {
		return nil
	}
	def := &v.Engine.FigureList()[most]
	unit := measure.Named(def.Unit)
	_, symbol := unit.In(v.System, 0)
	symbol = v.Engine.Language().Unit(symbol)
	in := drawing.TradeOff{
		Price: v.Engine.Say("screen.axis-price", msg.Text("currency", v.Engine.Pricing.Currency().Code)),
		Figure: v.Engine.Say("screen.axis", msg.Inside("figure", def.Title),
			msg.Text("unit", symbol))}
	for i := range boats {
		b := &boats[i]
		cents, _ := b.Price.Whole(-2) // a float is good enough for the place of a point, and for nothing else
		figure, _ := unit.In(v.System, b.State.Figures[most])
		in.Boats = append(in.Boats, drawing.TradePoint{Price: float64(cents) / 100_000, Figure: figure,
			Name: b.Hull, Link: "row-" + strconv.Itoa(i), Taken: v.taken(b)})
	}
	// as the curves: the column that it stands in is never wide
	svg, err := in.SVG(drawing.Format{ID: "trade-off", Width: narrow, Language: v.Engine.Language()})
	if err != nil {
		return v.undrawn("boats", err)
	}
	return Div(Class("drawing plot"), shown("only", look.Picture{SVG: svg}))
}

// briefRows lists all boats by price, those of the cards too: the points of the plot lead here.
func (v *View) briefRows() g.Node {
	boats := v.Brief.Answer.Boats
	// one boat stands on its card already
	if len(boats) < 2 {
		return nil
	}
	most := v.pack().Brief.Most
	rows := make([]g.Node, 0, len(boats))
	for i := range boats {
		b, n := &boats[i], strconv.Itoa(i)
		name := b.Hull
		if most >= 0 {
			f := v.Engine.FigureValue(b.State, most, v.System)
			name = v.Engine.Say("screen.boat-row", msg.Text("hull", b.Hull), msg.Words("figure", f.Message()))
		}
		rows = append(rows, Li(ID("row-"+n), g.If(v.taken(b), Class("taken")),
			P(ID("row-text-"+n), Class("name"), v.say("screen.numbered", msg.Count("n", i+1),
				msg.Text("title", name))),
			P(Class("amount"), g.Text(v.money(b.Price))), v.take(i, "row-take-"+n, "row-text-"+n)))
	}
	return g.Group{H3(v.say("screen.boats-by-price")), Ul(Class("repairs rows"), g.Group(rows))}
}

// take is the button that makes a boat the one on the page. It stays when the boat is, so that the focus has where to
// be.
func (v *View) take(i int, id, describedBy string) g.Node {
	words := msg.Code("screen.take")
	if v.taken(&v.Brief.Answer.Boats[i]) {
		words = "screen.taken"
	}
	return button(ID(id), act("brief-take", "key", strconv.Itoa(i)), Aria("describedby", describedBy), v.say(words))
}

// taken says that a boat is the one on the page, the deal aside.
func (v *View) taken(b *brief.Boat) bool {
	now := v.Answer.Spec.Boat()
	// a search looks at boats alone, and leaves the marks of who uses the boat that it found
	now.Keep = nil
	return string(now.Encode()) == string(b.Spec.Encode())
}

// boatFigures are a boat's figures in the units of the page, and its hours where the desk knows them. A search gives
// its figures in the units of the book.
func (v *View) boatFigures(b *brief.Boat) (rows []g.Node) {
	for _, f := range b.Figures {
		for i := range v.Engine.FigureList() {
			if v.Engine.FigureList()[i].ID == f.ID {
				f = v.Engine.FigureValue(b.State, i, v.System)
			}
		}
		rows = append(rows, Dt(g.Text(f.Title)), Dd(v.text(f.Message())))
	}
	if b.Timed {
		rows = append(rows, Dt(v.say("screen.build-hours")), Dd(g.Text(v.decimal(b.Hours.Fixed(1))+"\u00a0h")))
	}
	return rows
}

// relaxations are the single wishes that would allow a boat if they gave way, each with the cheapest boat that there is
// then. What was not proved to be the least change says so.
func (v *View) relaxations() g.Node {
	list := v.Brief.Answer.Relaxations
	if len(list) == 0 {
		return nil
	}
	rows := make([]g.Node, 0, len(list))
	for i := range list {
		r, n := &list[i], strconv.Itoa(i)
		// which hull it is then, as giving way in one wish may ask for another
		about := g.Text(r.Boat.Hull)
		if !r.Sure {
			about = v.say("screen.relax-unsure", msg.Text("hull", r.Boat.Hull))
		}
		rows = append(rows, Li(
			P(ID("relax-text-"+n), Class("name"),
				g.Text(msg.Capital(v.Engine.Text(r.Words(v.Engine, v.region(), v.System))))),
			P(Class("amount"), v.say("screen.from", v.priced("price", r.Boat.Price))),
			note(about),
			button(ID("relax-"+n), act("brief-relax", "key", n), Aria("describedby", "relax-text-"+n),
				v.say("screen.relax"))))
	}
	return Ul(Class("repairs relaxed"), g.Group(rows))
}

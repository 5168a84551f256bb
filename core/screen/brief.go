package screen

import (
	"fmt"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/brief"
	"ribband/core/drawing"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/money"
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
		Summary(H2(g.Text("Find a boat by your needs")), P(g.Text("Enter your needs; all hulls are searched."))),
		at("brief-form"),
		Div(Class("searching"), at("brief-progress"), at("brief-count")),
		at("brief-found"))
}

// briefForm has a field for every wish of the book.
func (v *View) briefForm() []g.Node {
	var fields []g.Node
	for i := range v.pack().Brief.Wishes {
		fields = append(fields, v.wishField(&v.pack().Brief.Wishes[i]))
	}
	return []g.Node{FormEl(ID("wishes"), act("brief"), g.Attr("novalidate"),
		P(Class("note"), g.Text("Leave empty what does not matter; your intended use then applies.")),
		Div(Class("wishes"), g.Group(fields)),
		Button(Type("submit"), Class("main"), ID("brief-find"), g.Text("Find boats")))}
}

func (v *View) wishField(w *pack.Wish) g.Node {
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
		u := &v.pack().Use[w.Index]
		return Div(Class("field"), Label(For(id), g.Text(label)),
			Select(ID(id), Name(w.ID), said, Option(Value(""), g.Text("as under Intended use")),
				g.Map(numbers(len(u.Choices)), func(j int) g.Node {
					return Option(Value(u.Choices[j].ID), g.If(u.Choices[j].ID == value, Selected()),
						g.Text(u.Choices[j].Title))
				})), below)
	}
	return Div(Class("field"), Label(For(id), g.Text(label)),
		Span(Class("measured"), Input(Type("text"), ID(id), Name(w.ID), g.Attr("inputmode", "decimal"),
			g.Attr("autocomplete", "off"), MaxLength("20"), Value(value), said), g.Text(" "+unit)), below)
}

// wishLabel names a wish with the side of its amount on which boats may lie, and the unit of the amount.
func (v *View) wishLabel(w *pack.Wish) (label, unit string) {
	label = w.Title
	switch w.Kind {
	case pack.WishPrice:
		label, unit = label+", "+string(w.Bound), v.Engine.Pricing.Currency().Code
	case pack.WishFigure:
		label += ", " + string(w.Bound)
		u, _ := measure.UnitOf(v.Engine.FigureList()[w.Index].Unit)
		unit = u.Symbol
	case pack.WishUse:
		u, _ := measure.UnitOf(v.pack().Use[w.Index].Unit)
		unit = u.Symbol
	}
	return label, unit
}

// Words say how a search stands: "Looking for the cheapest boat. 2 boats so far."
func (b Brief) Words() string {
	switch {
	case b.Answer == nil:
		return ""
	case !b.Going && b.Stopped:
		return "Stopped. " + b.Answer.Verdict()
	case !b.Going:
		return strings.TrimSpace(found(len(b.Answer.Boats)) + " " + b.Answer.Verdict())
	}
	text := upperFirst(b.Progress.Phase) + "."
	if n := len(b.Answer.Boats); n > 0 {
		text += " So far: " + found(n)
	}
	return text
}

func found(boats int) string {
	switch boats {
	case 0:
		return ""
	case 1:
		return "One boat found."
	}
	return fmt.Sprintf("%d boats found.", boats)
}

func upperFirst(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

// briefProgress changes with the stage of a search only, so that its bar runs on. The words go to who listens by the
// page's live region.
func (v *View) briefProgress() []g.Node {
	if !v.Brief.Going {
		return nil
	}
	return []g.Node{P(ID("brief-words"), g.Text(v.Brief.Words())), Progress(Aria("labelledby", "brief-words")),
		Button(Type("button"), ID("brief-stop"), act("brief-stop"), g.Text("Stop"))}
}

func (v *View) briefCount() []g.Node {
	if !v.Brief.Going {
		return nil
	}
	return []g.Node{P(Class("note"), g.Textf("%s boats checked", money.Grouped(strconv.Itoa(v.Brief.Progress.Judged))))}
}

// briefFound is what was found so far, or in the end.
func (v *View) briefFound() []g.Node {
	b := &v.Brief
	if b.Answer == nil || b.Going && len(b.Answer.Boats) == 0 {
		return nil
	}
	nodes := []g.Node{v.briefAsked()}
	if !b.Going {
		nodes = append(nodes, P(ID("brief-verdict"), Class("verdict"), g.Text(b.Words())))
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
			list = append(list, brief.Words(v.Engine, w, value, v.region()))
		}
	}
	if len(list) == 0 {
		list = []string{"the cheapest boats for your intended use"}
	}
	return P(Class("note"), g.Text("Searched for: "+strings.Join(list, "; ")+"."))
}

// briefCards shows the boats that none of the others beats in something.
func (v *View) briefCards() g.Node {
	a := v.Brief.Answer
	var cards []g.Node
	for i := range a.Boats {
		if merits := a.Merits(v.Engine, i); len(merits) > 0 {
			cards = append(cards, v.boatCard(i, upperFirst(strings.Join(merits, ", "))))
		}
	}
	if len(cards) == 0 {
		return nil
	}
	note := g.Node(nil)
	if v.Engine.Can(pack.Discounts) {
		note = P(Class("note"), g.Text("Prices are before extra items and discounts, which stay with the boat that "+
			"you use."))
	}
	return g.Group{Ul(Class("boats"), g.Group(cards)), note}
}

// changes counts what a boat has otherwise than its standard build.
func changes(n int) string {
	if n == 1 {
		return "1 change from standard"
	}
	return fmt.Sprintf("%d changes from standard", n)
}

func (v *View) boatCard(i int, title string) g.Node {
	b := &v.Brief.Answer.Boats[i]
	id := "boat-" + strconv.Itoa(i)
	chosen := g.Node(P(Class("note"), g.Text("Standard build.")))
	if len(b.Chosen) > 0 {
		chosen = Details(ID(id+"-chosen"), Summary(g.Text(changes(len(b.Chosen)))),
			Ul(g.Map(b.Chosen, func(c string) g.Node { return Li(g.Text(c)) })))
	}
	return Li(g.If(v.taken(b), Class("taken")),
		H3(ID(id), g.Textf("%d. %s", i+1, title)),
		P(Class("name"), g.Text(b.Hull)), P(Class("amount"), g.Text(v.money(b.Price))),
		Dl(g.Group(v.boatFigures(b))), chosen, v.take(i, "take-"+strconv.Itoa(i), id))
}

// tradeOff plots the boats: what the book's figure comes to for which price. Its points lead to the rows.
func (v *View) tradeOff() g.Node {
	most := v.pack().Brief.Most
	boats := v.Brief.Answer.Boats
	if most < 0 || len(boats) < 2 {
		return nil
	}
	def := &v.Engine.FigureList()[most]
	u, _ := measure.UnitOf(def.Unit)
	in := drawing.TradeOff{Price: "price, 1000\u00a0" + v.Engine.Pricing.Currency().Code,
		Figure: lowerFirst(def.Title) + ", " + u.Symbol}
	for i := range boats {
		b := &boats[i]
		cents, _ := b.Price.Whole(-2) // for the place on paper only
		in.Boats = append(in.Boats, drawing.TradePoint{Price: float64(cents) / 100_000, Figure: b.State.Figures[most],
			Name: b.Hull, Link: "row-" + strconv.Itoa(i), Taken: v.taken(b)})
	}
	var nodes g.Group
	for i, width := range []float64{wide, narrow} {
		class := []string{"wide", "narrow"}[i]
		svg, err := in.SVG(drawing.Format{ID: "trade-off-" + class, Width: width,
			Language: v.Engine.Language()})
		if err != nil {
			return P(Class("note"), g.Text("The boats cannot be plotted: "+err.Error()+"."))
		}
		nodes = append(nodes, shown(class, look.Picture{SVG: svg}))
	}
	return Div(Class("drawing"), nodes)
}

// briefRows lists all boats by price.
func (v *View) briefRows() g.Node {
	boats := v.Brief.Answer.Boats
	if len(boats) < 2 {
		return nil
	}
	most := v.pack().Brief.Most
	rows := make([]g.Node, 0, len(boats))
	for i := range boats {
		b, n := &boats[i], strconv.Itoa(i)
		does := ""
		if most >= 0 {
			f := v.Engine.FigureValue(b.State, most, v.System)
			does = ", " + f.Message().String()
		}
		rows = append(rows, Li(ID("row-"+n), g.If(v.taken(b), Class("taken")),
			P(ID("row-text-"+n), Class("name"), g.Textf("%d. %s%s", i+1, b.Hull, does)),
			P(Class("amount"), g.Text(v.money(b.Price))), v.take(i, "row-take-"+n, "row-text-"+n)))
	}
	return g.Group{H3(g.Text("All boats found, by price")), Ul(Class("repairs rows"), g.Group(rows))}
}

// take is the button that makes a boat the one on the page.
func (v *View) take(i int, id, describedBy string) g.Node {
	words := "Use this boat"
	if v.taken(&v.Brief.Answer.Boats[i]) {
		words = "In use"
	}
	return Button(Type("button"), ID(id), act("brief-take", "key", strconv.Itoa(i)), Aria("describedby", describedBy),
		g.Text(words))
}

// taken says that a boat is the one on the page, extra items and discounts aside.
func (v *View) taken(b *brief.Boat) bool {
	now := v.Answer.Spec.Clone()
	now.Extras, now.Discounts, now.Keep = nil, nil, nil
	return string(now.Encode()) == string(b.Spec.Encode())
}

// boatFigures are a boat's figures in the units of the page, and its hours where the desk knows them.
func (v *View) boatFigures(b *brief.Boat) (rows []g.Node) {
	for _, f := range b.Figures {
		for i := range v.Engine.FigureList() {
			if v.Engine.FigureList()[i].ID == f.ID {
				f = v.Engine.FigureValue(b.State, i, v.System)
			}
		}
		rows = append(rows, Dt(g.Text(f.Title)), Dd(g.Text(f.Message().String())))
	}
	if b.Timed {
		rows = append(rows, Dt(g.Text("Build hours")), Dd(g.Text(b.Hours.Fixed(1)+"\u00a0h")))
	}
	return rows
}

// relaxations are the single wishes that would allow a boat if they gave way.
func (v *View) relaxations() g.Node {
	list := v.Brief.Answer.Relaxations
	if len(list) == 0 {
		return nil
	}
	rows := make([]g.Node, 0, len(list))
	for i := range list {
		r, n := &list[i], strconv.Itoa(i)
		note := r.Boat.Hull
		if !r.Sure {
			note += "; a smaller change may be enough"
		}
		rows = append(rows, Li(
			P(ID("relax-text-"+n), Class("name"), g.Text(upperFirst(r.Words(v.Engine, v.region())))),
			P(Class("amount"), g.Text("from "+v.money(r.Boat.Price))),
			P(Class("note"), g.Text(note)),
			Button(Type("button"), ID("relax-"+n), act("brief-relax", "key", n), Aria("describedby", "relax-text-"+n),
				g.Text("Search with this change"))))
	}
	return Ul(Class("repairs relaxed"), g.Group(rows))
}

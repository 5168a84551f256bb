//go:build !buyer

package paper

import (
	"errors"
	"strings"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/sheet"
)

// jobCard is what one shop works by, and writes on. There is no money in it, and no customer: it hangs beside the boat,
// where visitors pass, and the number of the boat says which one it is.
var jobCard = Paper{
	ID:      "job-card",
	ForYard: true,
	Formats: []Format{AsText, AsHTML},
	OnPage:  []Format{AsHTML, AsText},
	Gather: func(s *Source, e *engine.Engine, a *engine.Answer, shop string) error {
		// by identifier: a title may change with the language
		i, err := e.FindShop(shop)
		if err != nil {
			return err
		}
		if s.Card, err = sheet.ForShop(e, a, i, nil); err == nil && s.Card == nil {
			err = errors.New("making a job card: this desk knows no hours; ask the yard's")
		}
		return err
	},
	Build: func(s *Source) *doc.Doc { return (&card{s, s.Card}).build() },
}

// card builds the card of a shop.
type card struct {
	*Source
	c *sheet.Card
}

// build goes from the list of the operations, by which the foreman gives out the work, to each of them by itself, then
// what is cut and laid up, then the drawings. What the shop does not get is nil in its card and leaves no title behind.
// The caution stands on every card, since each is handed out by itself.
func (b *card) build() *doc.Doc {
	c := b.c
	// the shop at the head, since a foreman looks for his own card in a pile
	blocks := []doc.Block{
		doc.Letterhead{Name: c.Shop, Address: b.boat(), Note: b.remarks()},
		doc.Heading(c.Hull),
		b.clashes(c.Clashes),
		b.operations(),
		b.done(),
	}
	// each by itself, so that it can be cut off and pinned to the boat
	for i := range c.Work {
		blocks = append(blocks, b.operation(&c.Work[i]))
	}
	lists := append(b.partSections(c.Parts), b.laminates(c.Laminates), b.drilling(c.Drilling),
		b.flotation(c.Flotation), b.cuts(c.Cuts))
	for _, l := range lists {
		// on the build sheet they are small; here somebody cuts by them
		if s, ok := l.(doc.Section); ok {
			s.Style = "summary"
			l = s
		}
		blocks = append(blocks, l)
	}
	blocks = append(blocks, b.loomSections(c.Loom, c.Circuits)...)
	if c.Loom != nil {
		blocks = append(blocks, b.testSheet(c.Circuits))
	}
	// drawings last: each begins a page of its own as a rule
	blocks = append(blocks, b.caution(), drawings(c.Pictures), doc.Footer{b.colophon(c.Edition, c.Spec)})
	// on each page, since the pages of two cards get mixed on a bench
	foot := []string{c.Shop, c.Hull}
	if n := b.number(); n != "" {
		foot = append(foot, n)
	}
	return &doc.Doc{Title: b.named(c.Shop, c.Hull), Foot: strings.Join(foot, " · "), Dense: true, Blocks: blocks}
}

// number names the boat: that of its order, or of the quotation where it is not ordered yet; "" for a draft.
func (b *card) number() string {
	// the number on the wall of the office, if there is one
	switch {
	case b.c.Job != nil:
		return b.c.Job.Number
	case b.Quote != nil:
		return b.Quote.Number
	}
	return ""
}

// boat is which boat the card is of, and for when.
func (b *card) boat() []string {
	j := b.c.Job
	if j == nil {
		// it is said that there is none, so that nobody looks for a card of an order that was never taken
		if n := b.number(); n != "" {
			return []string{b.quotation(b.Quote)}
		}
		return []string{b.Say("paper.no-quotation")}
	}
	// the hull number once it is given: it is what stands on the boat itself
	list := []string{b.Say("paper.order-number", msg.Text("number", j.Number))}
	if j.HIN != "" {
		list = append(list, b.named(b.Say("paper.hull-number"), j.HIN))
	}
	return append(list, b.Say("paper.promised", msg.Count("week", j.Week), msg.Text("year", digitsOf(j.Year))),
		b.Say("paper.planned", msg.Date("day", j.Day)))
}

// digitsOf is a year, which has no groups of thousands.
func digitsOf(year int) string { return doc.Count(year).Data() }

// remarks are words of the quotation that the yard must know.
func (b *card) remarks() string {
	if b.Quote == nil {
		return ""
	}
	return b.Quote.Remarks
}

// operations are what is to do, in short: a week is given out by it.
func (b *card) operations() doc.Section {
	t := doc.Table{Columns: []doc.Column{{Title: b.Say("paper.operation")}}}
	days := b.c.Job != nil
	if days {
		t.Columns = append(t.Columns, doc.Column{Title: b.Say("paper.begin-day")},
			doc.Column{Title: b.Say("paper.end-day")})
	}
	t.Columns = append(t.Columns, columns("", b.Say("paper.crew"), b.Say("paper.hours"))[1:]...)
	// of the shop alone; what the boat takes in all is a matter of the office
	var left measure.Hours
	for i := range b.c.Work {
		w := &b.c.Work[i]
		r := row(b.title(w))
		// whole days: nobody in a yard keeps to an hour that a plan has worked out
		if days {
			r.Cells = append(r.Cells, doc.Date(w.Planned.Begin), doc.Date(w.Planned.End))
		}
		left += b.left(w)
		r.Cells = append(r.Cells, doc.Count(w.Crew), doc.Hours(b.left(w)))
		if len(t.Groups) == 0 {
			t.Groups = []doc.Group{{}}
		}
		t.Groups[0].Rows = append(t.Groups[0].Rows, r)
	}
	// below the hours, which are the last column, however many there are before it
	total := row(b.Say("paper.total"))
	for range t.Columns[1:] {
		total.Cells = append(total.Cells, doc.Cell{})
	}
	total.Cells[len(total.Cells)-1] = doc.Hours(left)
	total.Style = "total"
	t.Foot = []doc.Row{total}
	return titled(b.Say("paper.operations"), "summary", t)
}

// title is what an operation is called; one that has to be taken up again is not mistaken for one that was forgotten.
func (b *card) title(w *sheet.CardWork) string {
	if w.Planned != nil && w.Planned.Again {
		return b.Say("paper.again", msg.Text("operation", w.Title))
	}
	return w.Title
}

// left are the hours that are still to be worked.
func (b *card) left(w *sheet.CardWork) measure.Hours {
	if w.Planned == nil {
		return w.Hours
	}
	return w.Planned.Left
}

// done are the operations of an order that are behind the shop: nobody works by them any more, and who takes the boat
// over wants to know since when.
func (b *card) done() doc.Section {
	return titled(b.Say("paper.done"), "summary", doc.Table{
		Columns: []doc.Column{{Title: b.Say("paper.operation")}, {Title: b.Say("paper.done-on")},
			unit(b.Say("paper.booked"), "h")},
		Groups: doc.Rows(b.c.Done, func(w sheet.CardWork) doc.Row {
			booked := doc.Hours(w.Planned.Booked)
			if w.Planned.Booked == 0 { // nobody has entered any
				booked = doc.Cell{}
			}
			return row(w.Title, doc.Date(w.Planned.End), booked)
		})})
}

// operation is one operation with all that belongs to it, and room to write.
func (b *card) operation(w *sheet.CardWork) doc.Section {
	// in the order in which it is read: what and when before the start, then the steps with what they take, and what is
	// written at the end
	blocks := []doc.Block{b.code(w), b.terms(w), titled(b.Say("paper.ready"), "ready", b.ready(w)), doc.Steps(w.Steps),
		b.materials(w.Materials)}
	if len(w.Checks) > 0 {
		blocks = append(blocks, b.checks(w.Checks))
	}
	return titled(b.title(w), "operation", append(blocks, b.booking())...)
}

// code names boat and operation to the telephone with which hours are booked: nobody types an identifier with gloves
// on. Each operation has its own, since who is at one of eight would else have to choose.
func (b *card) code(w *sheet.CardWork) doc.Code {
	n := b.number()
	if n == "" || w.Operation == "" { // a draft may become any boat; an extra item has no name but its words
		return doc.Code{}
	}
	return doc.Code{Text: n + "/" + w.Operation, Title: b.Say("paper.code-of", msg.Text("operation", w.Title))}
}

// terms say who does it, when, for what, what has to follow, and with what.
func (b *card) terms(w *sheet.CardWork) doc.Terms {
	t := doc.Terms{Apart: true}
	add := func(code msg.Code, values ...string) {
		t.List = append(t.List, doc.Term{Name: b.Say(code), Values: values})
	}
	if p := w.Planned; p != nil {
		add("paper.when", b.Say("paper.from-to", msg.Choice("days", yes(p.Begin != p.End)), msg.Date("begin", p.Begin),
			msg.Date("end", p.End), msg.Choice("begun", yes(p.Begun))))
	}
	add("paper.who", b.who(w))
	// who takes over what another has begun has to know how much of it is left
	if p := w.Planned; p != nil && (p.Begun || p.Again) {
		add("paper.booked", b.Say("paper.booked-of", msg.Number("booked", tenths(p.Booked), msg.Exact),
			msg.Number("left", tenths(p.Left), msg.Exact)))
	}
	add("paper.purpose", w.For...)
	// of equipment it matters whether the next boat can have it tonight
	var next, holds []string
	for i := range w.Next {
		next = append(next, b.link("paper.before-that", &w.Next[i]))
	}
	holds = append(holds, w.Uses...)
	for _, h := range w.Holds {
		holds = append(holds, b.Say("paper.holds", msg.Text("equipment", h.Equipment),
			msg.Choice("until", yes(len(h.Until) > 0)), msg.Text("operations", b.listed(h.Until...))))
	}
	add("paper.next", next...)
	// who takes it from the jig is who has to know that a van waits for it
	var sent []string
	for i := range w.Sent {
		sent = append(sent, b.sent(&w.Sent[i]))
	}
	add("paper.outside", sent...)
	add("paper.equipment", holds...)
	return t
}

// ready is what has to be there before the work begins, to be ticked off: what others do, and what still has to come.
func (b *card) ready(w *sheet.CardWork) (list doc.List) {
	for i := range w.After {
		list = append(list, b.link("paper.after-this", &w.After[i]))
	}
	if p := w.Planned; p != nil && p.Material != "" {
		list = append(list, b.Say("paper.comes", msg.Text("material", p.Material), msg.Date("day", p.Comes)))
	}
	return list
}

// who are the people at it at once, and how long.
func (b *card) who(w *sheet.CardWork) string {
	return b.Say("paper.crew-of", msg.Count("n", w.Crew), msg.Choice("skilled", yes(w.Skill != "")),
		msg.Text("skill", w.Skill), msg.Number("hours", tenths(w.Hours), msg.Exact),
		msg.Number("each", tenths(w.Elapsed), msg.Exact))
}

// tenths are hours as people count them.
func tenths(h measure.Hours) float64 { return measure.Round(h.Float(), 1) }

// yes is a choice between two wordings.
func yes(holds bool) string {
	if holds {
		return "yes"
	}
	return "no"
}

// link is an operation before or behind another: whose it is, how long to wait, and by an order's plan when.
func (b *card) link(code msg.Code, l *sheet.CardLink) string {
	text := l.Title
	if l.Shop != b.c.Shop {
		text = b.Say("paper.of-shop", msg.Text("operation", l.Title), msg.Text("shop", l.Shop))
	}
	// a clock that runs is the first thing to know of a predecessor
	wait := "none"
	switch {
	case l.Wait > 0 && l.Bounded:
		wait = "both"
	case l.Wait > 0:
		wait = "least"
	case l.Bounded:
		wait = "most"
	}
	text = b.Say(code, msg.Text("operation", text), msg.Choice("wait", wait),
		msg.Number("least", l.Wait.Float(), msg.Exact), msg.Number("most", l.Within.Float(), msg.Exact))
	if p := l.Planned; p != nil {
		text = b.Say("paper.link-day", msg.Text("link", text), msg.Choice("done", yes(p.Done)), msg.Date("day", p.End))
	}
	return text
}

// sent is what goes out behind an operation: to whom, for how long, and by an order's plan when.
func (b *card) sent(s *sheet.CardSent) string {
	text := b.Say("paper.to-supplier", msg.Text("operation", s.Title), msg.Text("supplier", s.Supplier),
		msg.Count("days", s.Days))
	if p := s.Planned; p != nil {
		text = b.Say("paper.out-and-back", msg.Text("work", text), msg.Date("out", p.Begin), msg.Date("back", p.End))
	}
	return text
}

// materials are what the store gives out for an operation, item by item.
func (b *card) materials(list []sheet.CardMaterials) doc.Table {
	t := doc.Table{Columns: columns(b.Say("paper.material"), b.Say("paper.used"))}
	for _, m := range list {
		// by item, so that a choice of the customer is not taken for what every boat has
		g := doc.Group{Sub: m.For}
		for _, p := range m.Parts {
			g.Rows = append(g.Rows, row(b.material(p), doc.Used(p.Used, p.Unit)))
		}
		t.Groups = append(t.Groups, g)
	}
	return t
}

// checks are values to fill in, beside what is good and what the boat's own figures predict.
func (b *card) checks(list []sheet.CardCheck) doc.Table {
	return doc.Table{Style: "checks", Columns: []doc.Column{{Title: b.Say("paper.check")},
		{Title: b.Say("paper.allowed")},
		{Title: b.Say("paper.predicted")}, {Title: b.Say("paper.measured")}, {Title: b.Say("paper.initials-date")}},
		Groups: doc.Rows(list, func(k sheet.CardCheck) doc.Row {
			// in the box, where the number is written
			unit := k.Unit
			if unit == "each" { // the title says of what
				unit = ""
			}
			return row(k.Title, doc.Text(b.bounds(&k)), doc.Text(k.Predicted), doc.Blank(unit), doc.Blank(""))
		})}
}

// bounds are between what a value is good; "" where there are none.
func (b *card) bounds(k *sheet.CardCheck) string {
	// with the unit, since a torque in other units has broken many a bolt
	value := func(v float64) msg.Arg {
		if k.Unit == "each" { // the title says of what
			return msg.Number("value", v, msg.Exact)
		}
		return msg.Quantity("value", v, k.Unit, msg.Exact)
	}
	switch {
	case k.Least != nil && k.Most != nil:
		most := value(*k.Most)
		most.Name = "most"
		return b.Say("paper.least-most", msg.Number("least", *k.Least, msg.Exact), most)
	case k.Least != nil:
		return b.Say("paper.at-least", value(*k.Least))
	case k.Most != nil:
		return b.Say("paper.at-most", value(*k.Most))
	}
	return ""
}

// booking is room for who was at it and how long; two lines, since most work is left overnight.
func (b *card) booking() doc.Table {
	// hours are of all hands: the book's are, too
	lines := doc.Row{Cells: []doc.Cell{doc.Blank(""), doc.Blank(""), doc.Blank("h"), doc.Blank("")}}
	first := lines
	first.Label = b.Say("paper.to-book")
	return doc.Table{Style: "booking", Columns: []doc.Column{{}, {Title: b.Say("paper.begun")},
		{Title: b.Say("paper.done")}, {Title: b.Say("paper.hours")}, {Title: b.Say("paper.initials")}},
		Groups: []doc.Group{{Rows: []doc.Row{first, lines}}}}
}

// testSheet has a line for each circuit of the loom, several alike each by itself: what is measured on the board beside
// what it was computed with. Continuity, polarity and insulation are measured before any supply is on it, the drop when
// it is.
func (b *card) testSheet(circuits []sheet.CircuitPart) doc.Section {
	t := doc.Table{Style: "checks", Columns: []doc.Column{{Title: b.Say("paper.circuit")},
		{Title: b.Say("paper.fuse"), Unit: "A"}, {Title: b.Say("paper.loop"), Unit: b.Unit("mohm")},
		{Title: b.Say("paper.drop"), Unit: "V"}, {Title: b.Say("paper.measured")}, {Title: b.Say("paper.polarity")},
		{Title: b.Say("paper.insulation")}, {Title: b.Say("paper.drop")}, {Title: b.Say("paper.initials")}},
		Groups: []doc.Group{{}}}
	for _, c := range circuits {
		for n := range c.Count {
			title := c.Title
			if c.Count > 1 {
				title = b.Say("sheet.numbered", msg.Text("title", c.Title), msg.Count("n", n+1))
			}
			// a place to write for each thing that a meter shows
			t.Groups[0].Rows = append(t.Groups[0].Rows, row(title, doc.Exact(c.Fuse.Bought), doc.Number(c.Loop, 0),
				doc.Number(c.Drop, 2), doc.Blank("mohm"), doc.Blank(""), doc.Blank("Mohm"), doc.Blank("V"),
				doc.Blank("")))
		}
	}
	s := titled(b.Say("paper.test-sheet"), "summary", t)
	s.Note = b.Say("paper.test-sheet-note")
	return s
}

// drilling are the plates under the deck by their numbers on the plan: where each lies, and what is drilled and tapped.
func (b *card) drilling(list []sheet.DrillPart) doc.Section {
	n := 0
	s := titled(b.Say("sheet.drilling"), "summary", doc.Table{Columns: []doc.Column{{Title: b.Say("paper.plate")},
		unit(b.Say("paper.from-aft"), "m"), unit(b.Say("paper.from-centre"), "m"), {Title: b.Say("paper.thread")},
		unit(b.Say("paper.drill"), "mm"), unit(b.Say("paper.holes"), ""), {Title: b.Say("paper.apart"), Unit: "mm"}},
		Groups: doc.Rows(list, func(p sheet.DrillPart) doc.Row {
			n++
			// across to either side as it is measured; the side stands with the name
			across := p.YM
			if across < 0 {
				across = -across
			}
			return doc.Row{Label: b.Say("paper.plate-of", msg.Count("n", n), msg.Text("title", p.Title),
				msg.Choice("side", p.Side)), Detail: p.For, Cells: []doc.Cell{doc.Number(p.XM, 2),
				doc.Number(across, 2), doc.Text(p.Thread), doc.Exact(p.DrillMm), doc.Count(p.Holes),
				doc.Text(b.Number(p.AlongMm, msg.Exact) + " × " + b.Number(p.AcrossMm, msg.Exact))}}
		})})
	s.Note = b.Say("paper.drilling-note")
	return s
}

// flotation are the blocks of foam by their numbers on the plan, each once for both sides.
func (b *card) flotation(list []sheet.FlotationPart) doc.Section {
	n := 0
	s := titled(b.Say("sheet.flotation"), "summary", doc.Table{Columns: []doc.Column{{Title: b.Say("paper.block")},
		unit(b.Say("paper.from"), "m"), unit(b.Say("paper.to"), "m"), unit(b.Say("paper.inboard"), "mm"),
		unit(b.Say("paper.breadth"), "mm"), unit(b.Say("paper.high"), "mm"), unit(b.Say("paper.litres"), "")},
		Groups: doc.Rows(list, func(p sheet.FlotationPart) doc.Row {
			// numbered as on the plan
			n++
			return row(b.Say("drawing.plate", msg.Count("n", n), msg.Text("words", p.Title)), doc.Number(p.FromM, 2),
				doc.Number(p.ToM, 2), doc.Exact(p.InboardMm), doc.Exact(p.BreadthMm), doc.Number(p.HeightMm, 0),
				doc.Number(p.Litres, 1))
		})})
	s.Note = b.Say("paper.flotation-note")
	return s
}

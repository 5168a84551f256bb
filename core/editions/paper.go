package editions

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
)

// Paper is a comparison as a page for the owner, in English, as all that the command line says. What is lost stands
// first, prices last, since there are many of them. Its data are one table in which each difference is a row.
func Paper(c *Comparison, was, now *engine.Engine) *doc.Doc {
	p := &page{now: now, currency: now.Pricing.Currency()}
	// sections without anything in them are left out, with their titles
	yard := now.Public().Yard
	title, floor := titleOf(was, now), now.Pack.Costs.MarginFloor
	d := &doc.Doc{Title: title, Foot: title + " · for the owner alone", Dense: true, Data: p.data(c)}
	d.Blocks = []doc.Block{
		doc.Letterhead{Name: yard.Name, Address: append([]string{}, yard.Address...)}, doc.Heading(title),
		doc.Section{Blocks: []doc.Block{summary(c, was, now)}},
		doc.Section{Title: "Boats that can no longer be had", Blocks: []doc.Block{p.lost(c.Lost)}},
		doc.Section{Title: "Removed", Blocks: []doc.Block{things(c.Removed)}},
		doc.Section{Title: "Added", Blocks: []doc.Block{things(c.Added)}},
		doc.Section{Title: "Rules, slots and regions that say something else", Blocks: []doc.Block{keys(c.Keys)}},
		doc.Section{Title: "List prices that fell under the least margin",
			Note:   "The least margin of the newer book is " + p.now.Language().Share(floor) + ".",
			Blocks: []doc.Block{p.options(Fallen(c.Options, floor))}},
		doc.Section{Title: "Standard builds", Note: "What differs of them, in the region that the book assumes.",
			Blocks: []doc.Block{p.standards(c.Standards)}},
		doc.Section{Title: "Options on the standard build", Note: "One of each, net of tax. A margin is a share of " +
			"the price. Where no hull is named behind the identifier, it is so on each on which something moved.",
			Blocks: []doc.Block{p.options(c.Options)}},
		doc.Section{Title: "What was tried", Blocks: []doc.Block{doc.Paragraph{Text: tried(c.Tried), Note: true}}},
	}
	return d
}

// Nothing of the paper goes to a customer, so that its foot says for whom it is.
//
// An owner reads it on the evening before he publishes, and has to find the slip among what he meant: so what went and
// what is lost stand before what moved by five, and the first lines say how much there is of each.

// page writes amounts in the currency of the newer book.
type page struct {
	now      *engine.Engine
	currency money.Currency
}

// titleOf names both editions, the second by its day where the names are one.
func titleOf(was, now *engine.Engine) string {
	// the name alone where that tells them apart: it is what quotations bear
	a, b := was.Public().Edition, now.Public().Edition
	switch {
	case a.Name != b.Name:
		return b.Name + " beside " + a.Name
	case a.Date != b.Date:
		return fmt.Sprintf("%s of %s beside that of %s", b.Name, b.Date, a.Date)
	}
	return "Two states of " + b.Name
}

// summary says how much differs, and that nothing does.
func summary(c *Comparison, was, now *engine.Engine) doc.Block {
	list := doc.List{}
	// what there is none of has no line
	add := func(n int, one, many string) {
		switch {
		case n == 1:
			list = append(list, one)
		case n > 1:
			list = append(list, fmt.Sprintf(many, n))
		}
	}
	add(len(c.Lost), "1 boat that could be had is lost.", "%d boats that could be had are lost.")
	add(len(c.Removed), "1 thing was removed.", "%d things were removed.")
	add(len(c.Added), "1 thing was added.", "%d things were added.")
	add(len(c.Keys), "1 key of a rule, slot or region says something else.",
		"%d keys of rules, slots and regions say something else.")
	add(len(Fallen(c.Options, now.Pack.Costs.MarginFloor)), "1 list price fell under the least margin.",
		"%d list prices, by hull, fell under the least margin.")
	add(len(c.Standards), "1 standard build differs.", "%d standard builds differ.")
	add(len(c.Options), "1 option on a hull differs in price, cost, hours or weight.",
		"%d options, by hull, differ in price, cost, hours or weight.")
	if len(list) == 0 {
		list = doc.List{"Nothing differs."}
	}
	// who publishes both could not tell quotations of the one from those of the other
	if a, b := was.Public().Edition, now.Public().Edition; a.Name == b.Name && a.Date == b.Date &&
		list[0] != "Nothing differs." {
		list = append(list, fmt.Sprintf("Both are called %s and are of %s: give the newer one its own name and date "+
			"in edition before it is published.", b.Name, b.Date))
	}
	return list
}

// tried says what the paper rests on: what was not tried may be lost, too.
func tried(t Tried) string {
	return fmt.Sprintf("Tried on the newer book, for the use that it assumes: %s, each in a boat of the older book "+
		"and, where that is lost, by a search for any other; %s; %s, the same each time. %s something that was "+
		"removed, and were not judged. What is proved holds of every boat with the option, or of the boat as it "+
		"stands; boats beyond these were not tried. The same with -format json has each lost boat as a spec, which a "+
		"desk with the older book opens.", counted(t.Options, "option by hull", "options by hull"),
		counted(t.Specs, "spec", "specs"), counted(t.Sample, "boat of a random sample", "boats of a random sample"),
		counted(t.Without, "boat has", "boats have"))
}

// counted is a number of things.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func (p *page) money(a money.Amount) doc.Cell { return doc.Money(a, p.currency) }

// moved is by how much an amount moved, with its sign; empty where it did not.
func (p *page) moved(was, now money.Amount) doc.Cell {
	d := now.Sub(was)
	if d.IsZero() {
		return doc.Cell{}
	}
	return p.signed(d.Fixed(p.currency.Digits))
}

// A change has its sign in front, since a reader of a column of numbers does not see which way it goes otherwise.

// signed is a decimal text with its sign.
func (p *page) signed(decimal string) doc.Cell {
	text := p.now.Language().Decimal(decimal)
	if decimal[0] != '-' {
		text = "+" + text
	}
	return doc.Text(text)
}

// share is a margin to a tenth of a per cent: what moves less is rounding.
func share(r money.Rate) doc.Cell { return doc.Number(float64(r.Millionths())/1e4, 1) }

// columns are heads; those behind the first stand at the right margin where they are to.
func columns(right bool, titles ...string) (list []doc.Column) {
	for i, t := range titles {
		list = append(list, doc.Column{Title: t, Right: right && i > 0})
	}
	return list
}

// standards are grouped by hull: a row for each amount and figure that differs.
func (p *page) standards(list []StandardMove) doc.Table {
	// rows and not columns: few of them differ at a time, and so it fits on a telephone
	t := doc.Table{Style: "listing", Columns: columns(true, "Hull", "Was", "Is", "Change")}
	for _, m := range list {
		g := doc.Group{Title: m.Now.Title}
		row := func(label string, was, now, change doc.Cell) {
			if was != now {
				g.Rows = append(g.Rows, doc.Row{Label: label, Cells: []doc.Cell{was, now, change}})
			}
		}
		amount := func(label string, was, now money.Amount) {
			row(label+", "+p.currency.Code, p.money(was), p.money(now), p.moved(was, now))
		}
		amount("Price net", m.Was.Net, m.Now.Net)
		amount("Price with tax", m.Was.Total, m.Now.Total)
		amount("Cost", m.Was.Cost, m.Now.Cost)
		row("Margin, %", share(m.Was.Margin), share(m.Now.Margin), doc.Cell{})
		row("Hours", doc.Hours(m.Was.Hours), doc.Hours(m.Now.Hours), p.signed((m.Now.Hours - m.Was.Hours).Fixed(1)))
		// as they are stated: a reader compares what stood on two papers
		for _, f := range m.Figures {
			row(f.Title, doc.Text(f.Was), doc.Text(f.Now), doc.Cell{})
		}
		t.Groups = append(t.Groups, g)
	}
	return t
}

// An option that moves alike on several hulls is one row: a list price is a slip once, and not on each hull.

// options are grouped by slot in the order of the newer book, an option with a row for each way in which it moved.
func (p *page) options(list []Move) doc.Table {
	hours := slices.ContainsFunc(list, func(m Move) bool { return m.Was.Hours != m.Now.Hours })
	mass := slices.ContainsFunc(list, func(m Move) bool { return m.Was.MassKg != m.Now.MassKg })
	titles := []string{"Option", "Price", "Price change", "Cost", "Cost change", "Margin was, %", "is, %"}
	// hours and weights have columns where some of them moved: a page is only so broad
	if hours {
		titles = append(titles, "Hours was", "is")
	}
	if mass {
		titles = append(titles, "kg was", "is")
	}
	t := doc.Table{Style: "listing", Columns: columns(true, titles...)}
	// an empty pair says that this did not move, so that the eye finds what did
	pair := func(moved bool, was, now doc.Cell) []doc.Cell {
		if !moved {
			return []doc.Cell{{}, {}}
		}
		return []doc.Cell{was, now}
	}
	public := p.now.Public()
	for i := range public.Slots {
		g := doc.Group{Title: public.Slots[i].Title}
		for o := range public.Options {
			if public.Options[o].Slot != i {
				continue
			}
			for _, alike := range alike(list, public.Options[o].ID) {
				// what it is now always stands there: by how much it moved means little without
				was, now := &alike[0].Was, &alike[0].Now
				r := doc.Row{Label: now.Title, Detail: now.Option + p.on(list, alike), Cells: []doc.Cell{
					p.money(now.Price), p.moved(was.Price, now.Price), p.money(now.Cost), p.moved(was.Cost, now.Cost)}}
				a, b := share(was.Margin), share(now.Margin)
				r.Cells = append(r.Cells, pair(a != b, a, b)...)
				if hours {
					r.Cells = append(r.Cells, pair(was.Hours != now.Hours, doc.Hours(was.Hours),
						doc.Hours(now.Hours))...)
				}
				if mass {
					r.Cells = append(r.Cells, pair(was.MassKg != now.MassKg, doc.Exact(was.MassKg),
						doc.Exact(now.MassKg))...)
				}
				g.Rows = append(g.Rows, r)
			}
		}
		if len(g.Rows) > 0 {
			t.Groups = append(t.Groups, g)
		}
	}
	return t
}

// alike are the moves of an option, those together that differ in the hull alone.
func alike(list []Move, option string) (groups [][]Move) {
	// a cent of difference is another row: costs of cables grow with the hull
	same := func(a, b *Item) bool {
		return a.Price.Equal(b.Price) && a.Cost.Equal(b.Cost) && a.Hours == b.Hours && a.MassKg == b.MassKg
	}
	for _, m := range list {
		if m.Now.Option != option {
			continue
		}
		i := slices.IndexFunc(groups, func(g []Move) bool { return same(&g[0].Was, &m.Was) && same(&g[0].Now, &m.Now) })
		if i < 0 {
			i, groups = len(groups), append(groups, nil)
		}
		groups[i] = append(groups[i], m)
	}
	return groups
}

// on names the hulls of moves that are alike; nothing where these are all moves of the option.
func (p *page) on(list, alike []Move) string {
	// of the moves, since a hull on which nothing moved is no matter of the paper
	all := 0
	for _, m := range list {
		if m.Now.Option == alike[0].Now.Option {
			all++
		}
	}
	if all == len(alike) {
		return ""
	}
	var names []string
	for _, m := range alike {
		names = append(names, hullOf(p.now, m.Now.Hull))
	}
	return ", " + strings.Join(names, ", ")
}

// A hull that went has no title in the newer book; what is lost with it is told by its identifier.

// hullOf is the title of a hull, or its identifier.
func hullOf(e *engine.Engine, id string) string {
	if i := find(e.Pack.Hulls, id, func(h *pack.Hull) string { return h.ID }); i >= 0 {
		return e.Pack.Hulls[i].Title
	}
	return id
}

// things are what came or went, with what it is called.
func things(list []Thing) doc.Table {
	return doc.Table{Style: "listing", Columns: columns(false, "What", "Identifier", "Title"),
		Groups: doc.Rows(list, func(t Thing) doc.Row {
			return doc.Row{Label: t.Kind, Cells: []doc.Cell{doc.Text(t.ID), doc.Text(t.Title)}}
		})}
}

// keys have the words that differ marked.
func keys(list []KeyMove) doc.Table {
	return doc.Table{Style: "listing", Columns: columns(false, "What", "Key", "Was", "Is"),
		Groups: doc.Rows(list, func(m KeyMove) doc.Row {
			return doc.Row{Label: m.Kind + " " + m.ID, Cells: []doc.Cell{doc.Text(m.Key), doc.Against(m.Was, m.Now),
				doc.Against(m.Now, m.Was)}}
		})}
}

// A boat is told by what it was tried for; its spec, which a desk opens, is in the data and in the JSON.

// lost are the boats that can no longer be had, one for each reason.
func (p *page) lost(list []Lost) doc.Table {
	return doc.Table{Style: "listing", Columns: columns(false, "Boat", "Why", "Proof", "Others alike"),
		Groups: doc.Rows(list, func(l Lost) doc.Row {
			return doc.Row{Label: l.What, Detail: hullOf(p.now, l.Boat.Hull), Cells: []doc.Cell{doc.Text(l.Why),
				doc.Text(proof(l.Proved)), doc.Some(float64(l.Others))}}
		})}
}

// proof says how sure a lost boat is.
func proof(proved bool) string {
	if proved {
		return "proved: there is none"
	}
	return "none was found"
}

// data has a row for each difference, for a spreadsheet.
func (p *page) data(c *Comparison) *doc.Table {
	// long and narrow, so that a spreadsheet can filter by any column; what is the same has no row
	t := &doc.Table{Columns: columns(false, "kind", "hull", "id", "title", "what", "was", "is")}
	// compared as a program reads them, so that two forms of one number are one
	var rows []doc.Row
	add := func(kind, hull, id, title, what string, was, now doc.Cell) {
		if was.Data() != now.Data() {
			rows = append(rows, doc.Row{Label: kind, Cells: []doc.Cell{doc.Text(hull), doc.Text(id), doc.Text(title),
				doc.Text(what), was, now}})
		}
	}
	for _, m := range c.Standards {
		put := func(what string, was, now doc.Cell) { add("standard", m.Now.Hull, "", m.Now.Title, what, was, now) }
		put("net", p.money(m.Was.Net), p.money(m.Now.Net))
		put("total", p.money(m.Was.Total), p.money(m.Now.Total))
		put("cost", p.money(m.Was.Cost), p.money(m.Now.Cost))
		put("margin", doc.Share(m.Was.Margin), doc.Share(m.Now.Margin))
		put("hours", doc.Hours(m.Was.Hours), doc.Hours(m.Now.Hours))
		for _, f := range m.Figures {
			put(f.ID, doc.Text(f.Was), doc.Text(f.Now))
		}
	}
	for _, m := range c.Options {
		put := func(what string, was, now doc.Cell) {
			add("option", m.Now.Hull, m.Now.Option, m.Now.Title, what, was, now)
		}
		put("price", p.money(m.Was.Price), p.money(m.Now.Price))
		put("cost", p.money(m.Was.Cost), p.money(m.Now.Cost))
		put("margin", doc.Share(m.Was.Margin), doc.Share(m.Now.Margin))
		put("hours", doc.Hours(m.Was.Hours), doc.Hours(m.Now.Hours))
		put("mass_kg", doc.Exact(m.Was.MassKg), doc.Exact(m.Now.MassKg))
	}
	for _, x := range c.Added {
		add(x.Kind, "", x.ID, x.Title, "added", doc.Cell{}, doc.Text("yes"))
	}
	for _, x := range c.Removed {
		add(x.Kind, "", x.ID, x.Title, "removed", doc.Cell{}, doc.Text("yes"))
	}
	for _, m := range c.Keys {
		add(m.Kind, "", m.ID, "", m.Key, doc.Text(m.Was), doc.Text(m.Now))
	}
	for _, l := range c.Lost {
		add("lost", l.Boat.Hull, l.What, l.Why, proof(l.Proved), doc.Text(string(l.Boat.Encode())), doc.Cell{})
	}
	t.Groups = []doc.Group{{Rows: rows}}
	return t
}

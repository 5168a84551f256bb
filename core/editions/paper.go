package editions

import (
	"fmt"
	"slices"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/money"
)

// Paper is a comparison as a page for the owner, in English, as all that the command line says. Its data are one table
// in which each difference is a row.
func Paper(c *Comparison, was, now *engine.Engine) *doc.Doc {
	p := &page{currency: now.Pricing.Currency()}
	// sections without anything in them are left out, with their titles
	yard := now.Public().Yard
	title := fmt.Sprintf("%s beside %s", now.Public().Edition.Name, was.Public().Edition.Name)
	d := &doc.Doc{Title: title, Foot: title + " · for the owner alone", Dense: true, Data: p.data(c)}
	d.Blocks = []doc.Block{
		doc.Letterhead{Name: yard.Name, Address: append([]string{}, yard.Address...)}, doc.Heading(title),
		doc.Section{Blocks: []doc.Block{doc.Paragraph{Text: summary(c)}}},
		doc.Section{Title: "Standard builds", Blocks: []doc.Block{p.standards(c.Standards)}},
		doc.Section{Title: "Figures of the standard builds", Blocks: []doc.Block{figureRows(c.Standards)}},
		doc.Section{Title: "Options on the standard build",
			Note:   "One of each, net of tax. A margin is a share of the price.",
			Blocks: p.options(c.Options)},
		doc.Section{Title: "Added", Blocks: []doc.Block{things(c.Added)}},
		doc.Section{Title: "Removed", Blocks: []doc.Block{things(c.Removed)}},
		doc.Section{Title: "Rules that say something else", Blocks: []doc.Block{rules(c.Rules)}},
		doc.Section{Title: "Boats that can no longer be had", Blocks: []doc.Block{lost(c.Lost),
			doc.Paragraph{Text: tried(c.Tried), Note: true}}},
	}
	return d
}

// Nothing of the paper goes to a customer, so that its foot says for whom it is.

// page writes amounts in the currency of the newer book.
type page struct{ currency money.Currency }

// summary says how much differs, in a sentence.
func summary(c *Comparison) string {
	return fmt.Sprintf("%d standard builds and %d options by hull differ in price, cost, hours or weight. %d things "+
		"were added, %d removed; %d keys of rules say something else; %d boats that could be had are lost.",
		len(c.Standards), len(c.Options), len(c.Added), len(c.Removed), len(c.Rules), len(c.Lost))
}

// tried says what the last section rests on: what was not tried may be lost, too.
func tried(t Tried) string {
	return fmt.Sprintf("Tried on the newer book, for the use that it assumes: %d options by hull, each in a boat of "+
		"the older book and, where that is lost, by a search for any other; %d specs; %d boats of a random sample, "+
		"the same each time. %d boats have something that was removed, and were not judged. What is proved holds of "+
		"every boat with the option, or of the boat as it stands; boats beyond these were not tried.",
		t.Options, t.Specs, t.Sample, t.Without)
}

func (p *page) money(a money.Amount) doc.Cell { return doc.Money(a, p.currency) }

// columns are heads, each set at the right margin where its cells are numbers.
func columns(titles ...string) (list []doc.Column) {
	for _, t := range titles {
		list = append(list, doc.Column{Title: t})
	}
	return list
}

// standards has two columns for each thing that can differ, so that they stand side by side.
func (p *page) standards(list []StandardMove) doc.Table {
	// the whole of each, since one figure follows from another
	return doc.Table{Style: "listing", Columns: columns("Hull", "Net was", "is", "Cost was", "is", "Margin was", "is",
		"Hours was", "is"), Groups: doc.Rows(list, func(m StandardMove) doc.Row {
		return doc.Row{Label: m.Now.Title, Cells: []doc.Cell{p.money(m.Was.Net), p.money(m.Now.Net),
			p.money(m.Was.Cost), p.money(m.Now.Cost), doc.Share(m.Was.Margin), doc.Share(m.Now.Margin),
			doc.Hours(m.Was.Hours),
			doc.Hours(m.Now.Hours)}}
	})}
}

// figureRows are grouped by hull.
func figureRows(list []StandardMove) doc.Table {
	// as they are stated: a reader compares what stood on two papers
	t := doc.Table{Style: "listing", Columns: columns("Figure", "Was", "Is")}
	// a hull without any has no title either
	for _, m := range list {
		g := doc.Group{Title: m.Now.Title}
		for _, f := range m.Figures {
			g.Rows = append(g.Rows, doc.Row{Label: f.Title, Cells: []doc.Cell{doc.Text(f.Was), doc.Text(f.Now)}})
		}
		if len(g.Rows) > 0 {
			t.Groups = append(t.Groups, g)
		}
	}
	return t
}

// options are in a section for each hull, in the order of the book.
func (p *page) options(list []Move) (sections []doc.Block) {
	// moves come hull by hull
	for len(list) > 0 {
		hull := list[0].Now.Hull
		n := slices.IndexFunc(list, func(m Move) bool { return m.Now.Hull != hull })
		if n < 0 {
			n = len(list)
		}
		sections = append(sections, doc.Section{Title: hull, Blocks: []doc.Block{p.optionsOf(list[:n])}})
		list = list[n:]
	}
	return sections
}

// optionsOf are those of a hull. Hours and weights have columns where some of them moved: a page is only so broad.
func (p *page) optionsOf(list []Move) doc.Table {
	hours := slices.ContainsFunc(list, func(m Move) bool { return m.Was.Hours != m.Now.Hours })
	mass := slices.ContainsFunc(list, func(m Move) bool { return m.Was.MassKg != m.Now.MassKg })
	titles := []string{"Option", "Price was", "is", "Cost was", "is", "Margin was", "is"}
	if hours {
		titles = append(titles, "Hours was", "is")
	}
	if mass {
		titles = append(titles, "kg was", "is")
	}
	// titles and cells are put together by the same two conditions
	row := func(m Move) doc.Row {
		r := doc.Row{Label: m.Now.Title, Detail: m.Now.Option, Cells: []doc.Cell{p.money(m.Was.Price),
			p.money(m.Now.Price), p.money(m.Was.Cost), p.money(m.Now.Cost), doc.Share(m.Was.Margin),
			doc.Share(m.Now.Margin)}}
		if hours {
			r.Cells = append(r.Cells, doc.Hours(m.Was.Hours), doc.Hours(m.Now.Hours))
		}
		if mass {
			r.Cells = append(r.Cells, doc.Exact(m.Was.MassKg), doc.Exact(m.Now.MassKg))
		}
		return r
	}
	return doc.Table{Style: "listing", Columns: columns(titles...), Groups: doc.Rows(list, row)}
}

// things are what came or went, with what it is called.
func things(list []Thing) doc.Table {
	return doc.Table{Style: "listing", Columns: columns("What", "Identifier", "Title"),
		Groups: doc.Rows(list, func(t Thing) doc.Row {
			return doc.Row{Label: t.Kind, Cells: []doc.Cell{doc.Text(t.ID), doc.Text(t.Title)}}
		})}
}

// rules have the words that differ marked.
func rules(list []RuleMove) doc.Table {
	return doc.Table{Style: "listing", Columns: columns("Rule", "Key", "Was", "Is"),
		Groups: doc.Rows(list, func(r RuleMove) doc.Row {
			return doc.Row{Label: r.ID, Cells: []doc.Cell{doc.Text(r.Key), doc.Against(r.Was, r.Now),
				doc.Against(r.Now, r.Was)}}
		})}
}

// A boat is told by what it was tried for; its spec, which a desk opens, is in the data and in the JSON.

// lost are the boats that can no longer be had, one for each reason.
func lost(list []Lost) doc.Table {
	return doc.Table{Style: "listing", Columns: columns("Boat", "Why", "Proof", "Others alike"),
		Groups: doc.Rows(list, func(l Lost) doc.Row {
			return doc.Row{Label: l.What, Cells: []doc.Cell{doc.Text(l.Why), doc.Text(proof(l.Proved)),
				doc.Some(float64(l.Others))}}
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
	t := &doc.Table{Columns: columns("kind", "hull", "id", "title", "what", "was", "is")}
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
	for _, r := range c.Rules {
		add("rule", "", r.ID, "", r.Key, doc.Text(r.Was), doc.Text(r.Now))
	}
	for _, l := range c.Lost {
		add("lost", l.Boat.Hull, l.What, l.Why, proof(l.Proved), doc.Text(string(l.Boat.Encode())), doc.Cell{})
	}
	t.Groups = []doc.Group{{Rows: rows}}
	return t
}

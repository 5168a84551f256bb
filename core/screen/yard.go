package screen

import (
	"math"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// What the yard alone sees: hours, materials, loom and how prices came about. The numbers are those of the sheet that
// the shops read, so that page and paper say the same.

// sheet is the yard's sheet of the boat, from which several panels read. It is made once for a view.
func (v *View) sheet() *sheet.Yard {
	if v.yard == nil {
		v.yard = sheet.ForYard(v.Engine, v.Answer, quote.Details{})
	}
	return v.yard
}

// hours are the yard's: by shop against the standard build, then by option, and by operation with the formula of each,
// as an hour that surprises a shop has to be found where it was written.
func (v *View) hours() []g.Node {
	y := v.sheet()
	tenths := func(h measure.Hours) string { return v.decimal(h.Fixed(1)) }
	row := func(class string, s sheet.ShopHours) g.Node {
		return tableRow(class, s.Shop, tenths(s.Base), tenths(s.Options), tenths(s.Total), tenths(s.Over))
	}
	return []g.Node{
		v.bars(y),
		Table(tableHead(v.saidAll("screen.shop", "screen.base-boat", "screen.options", "screen.this-boat",
			"screen.over-standard")...),
			TBody(g.Map(y.Shops, func(s sheet.ShopHours) g.Node { return row("", s) })),
			TFoot(row("total", y.Hours))),
		H3(v.say("screen.by-option")),
		Table(tableHead(v.saidAll("screen.option", "screen.hours")...),
			TBody(g.Map(y.Options, func(o sheet.OptionHours) g.Node {
				return tableRow("", v.Engine.Say("screen.in-slot", msg.Text("slot", o.Slot),
					msg.Text("option", pack.Times(o.Count, o.Title))), tenths(o.Hours))
			}))),
		// the last digit of an operation is what the sum is made of, so it is shown here and rounded above
		H3(v.say("screen.by-operation")),
		g.Map(y.Work, func(w sheet.WorkPart) g.Node {
			return v.traced(w.Operation, w.For, v.decimal(w.Hours.Fixed(2))+"\u00a0h", w.Amount, w.Trace)
		}),
		// nobody's hours, and yet work that somebody has to send out
		g.If(len(y.Sent) > 0, H3(v.say("screen.outside"))),
		g.Map(y.Sent, func(s sheet.SentPart) g.Node {
			_, unit := s.Quantity.Shown(s.Unit)
			return v.traced(v.Engine.Say("screen.for", msg.Text("title", s.Operation),
				msg.Text("item", v.lead(s.Supplier, s.Days))), s.For,
				v.decimal(s.Quantity.Fixed(2))+"\u00a0"+doc.Unit(v.Engine.Language(), unit), s.Amount, s.Trace)
		}),
	}
}

// bars show by shop what this boat takes beside the standard build: the hours of that, and what is over or under. The
// numbers stand in the table below, so who hears the page is spared them.
func (v *View) bars(y *sheet.Yard) g.Node {
	most := 0.0
	for _, s := range y.Shops {
		most = max(most, s.Total.Float(), (s.Total - s.Over).Float())
	}
	if most == 0 {
		return nil
	}
	// By the busiest shop of either boat, so that bars of one page can be compared with each other.
	width := func(h measure.Hours) string {
		return strconv.FormatFloat(math.Round(1000*h.Float()/most)/10, 'f', -1, 64)
	}
	bar := func(class string, from, hours measure.Hours) g.Node {
		return g.El("rect", Class(class), g.Attr("x", width(from)), g.Attr("width", width(hours)), g.Attr("height",
			"10"))
	}
	return Ul(Class("bars"), Aria("hidden", "true"), g.Map(y.Shops, func(s sheet.ShopHours) g.Node {
		standard := s.Total - s.Over
		rest := bar("over", standard, max(s.Over, 0))
		if s.Over < 0 { // hours that the standard build has and this boat has not
			rest = bar("under", s.Total, -s.Over)
		}
		return Li(Span(g.Text(s.Shop)),
			g.El("svg", g.Attr("viewBox", "0 0 100 10"), g.Attr("preserveAspectRatio", "none"),
				bar("base", 0, min(standard, s.Total)), rest),
			Span(Class("amount"), g.Text(v.signed(s.Over.Fixed(1)))))
	}))
}

// traced is a quantity and what it costs, for the base boat or an option, that opens to its formula, inputs and place
// in the book.
func (v *View) traced(title, item, quantity string, amount money.Amount, t engine.Trace) g.Node {
	// the item by its identifier, as it stands in the book
	name := v.Engine.Say("screen.for", msg.Text("title", title), msg.Text("item", item))
	read := make([]engine.Term, len(t.Inputs)) // a trace is in the book's own words: it is for whoever keeps the book
	for i, in := range t.Inputs {
		read[i] = engine.Term{Name: msg.Plain(in.Name), Value: msg.Plain(in.Value)}
	}
	return Details(Class("unfold"), unfolding(name, quantity, v.money(amount)), v.unfolded(msg.Plain(t.Formula), read),
		note(g.Text(t.At)))
}

// prices unfold every sell price, and the rates behind the cost, each with its place in the book: whoever keeps it goes
// from a price that looks wrong to the line to be corrected.
func (v *View) prices() []g.Node {
	y := v.sheet()
	return []g.Node{
		Table(tableHead(append(v.saidAll("screen.cost-part", "screen.rate", "screen.of"), y.Currency.Code)...),
			TBody(g.Map(y.Rates, func(r sheet.RatePart) g.Node {
				return Tr(rowHead(v.Engine.Text(r.Part), noted(r.At)),
					numbers(v.Engine.Language().Share(r.Rate), v.amount(r.Of), v.amount(r.Amount)))
			}))),
		H3(v.say("screen.sell-prices")),
		Table(tableHead(v.saidAll("screen.item", "screen.cost", "screen.by", "screen.net")...),
			TBody(g.Map(y.Prices, func(p sheet.PriceTrace) g.Node {
				rate := msg.Text("rate", "") // a list price stands for itself
				if !p.Rate.IsZero() {
					rate = msg.Share("rate", p.Rate)
				}
				return Tr(rowHead(p.For, noted(p.At)), numbers(v.amount(p.Cost), v.Engine.Say("screen.method",
					msg.Choice("method", p.Method), rate), v.amount(p.Net)))
			}))),
	}
}

// stores are the materials: what to take or buy for the whole boat, then how each quantity came about.
func (v *View) stores() []g.Node {
	y, l := v.sheet(), v.Engine.Language()
	return []g.Node{
		Table(tableHead(v.saidAll("screen.material", "screen.used", "screen.packs")...),
			TBody(g.Map(y.Purchases, func(p sheet.PurchasePart) g.Node {
				// as a shop measures out, rounded up; what a pack holds is exact
				used, unit := p.Used.Shown(p.Unit)
				unit = "\u00a0" + doc.Unit(l, unit)
				// Loose goods have no pack: what is used is what is bought.
				packs, from := "", p.Supplier
				if p.Packs > 0 {
					packs = v.Engine.Say("screen.packs-of", msg.Count("n", p.Packs), msg.Text("pack",
						v.decimal(p.Pack.String())+unit))
				}
				if p.LeadDays > 0 {
					from = v.lead(from, p.LeadDays)
				}
				return Tr(rowHead(p.Title, noted(from)), numbers(v.decimal(used)+unit, packs))
			}))),
		// For whom it is used, so that what is short can be asked of the option that takes it.
		H3(v.say("screen.by-item")),
		g.Map(y.Materials, func(m sheet.MaterialPart) g.Node {
			_, unit := m.Used.Shown(m.Unit)
			title := m.Title
			// it stands here at no cost, and nobody looks for it in the store
			if m.Customer {
				title = v.Engine.Say("paper.from-customer", msg.Text("title", title))
			}
			return v.traced(title, m.For, v.decimal(m.Used.Fixed(3))+"\u00a0"+doc.Unit(l, unit), m.Amount, m.Trace)
		}),
	}
}

// lead is how long a supplier takes, who may not be known: the yard orders what takes longest first.
func (v *View) lead(supplier string, days int) string {
	time := msg.New("screen.days", msg.Count("days", days))
	if supplier == "" {
		return v.Engine.Text(time)
	}
	return v.Engine.Say("screen.lead", msg.Text("supplier", supplier), msg.Words("time", time))
}

// loom is the drawing of the loom at each voltage, which states the caution, and every wire of it.
func (v *View) loom() []g.Node {
	l := v.sheet().Loom
	if l == nil {
		return []g.Node{note(v.say("screen.no-circuits"))}
	}
	// on a cutting list a length always has its centimetres
	metres := func(m float64) string { return v.Engine.Language().Number(m, 2) }
	return []g.Node{
		// Before the drawing: a loom with a circuit that could not be sized must not be cut by it.
		g.If(len(l.Faults) > 0, Ul(Class("warnings"), g.Map(l.Faults, func(f string) g.Node {
			return Li(v.say("screen.not-sized", msg.Text("circuit", f)))
		}))),
		g.Group(v.loomPictures()),
		H3(v.say("screen.wires")),
		Table(tableHead(v.saidAll("screen.wire", "screen.size", "screen.length-m", "screen.fuse-a")...),
			TBody(g.Map(l.Wires, func(w sheet.WirePart) g.Node {
				// A wire without a fuse of its own is protected further up its circuit.
				fuse, pole := "", strings.Replace(w.Pole, "-", "−", 1) // a minus is easier to read than a hyphen
				if w.Fuse > 0 {
					fuse = v.Engine.Language().Number(w.Fuse, msg.Exact)
				}
				return Tr(rowHead(w.Circuit+"\u00a0"+pole, Span(Class("note"), v.say("screen.runs",
					msg.Words("colour", w.Colour), msg.Words("from", w.From), msg.Words("to", w.To)))),
					numbers(v.Engine.Language().Number(w.Section, msg.Exact)+"\u00a0mm²", metres(w.Length), fuse))
			})), TFoot(tableRow("total", v.Engine.Say("screen.copper", msg.Number("kg", l.Copper, 2)), "",
				metres(l.Length), ""))),
	}
}

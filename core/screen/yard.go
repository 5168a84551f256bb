package screen

import (
	"fmt"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// sheet is the yard's sheet of the boat, from which several panels read.
func (v *View) sheet() *sheet.Yard {
	if v.yard == nil {
		v.yard = sheet.ForYard(v.Engine, v.Answer, quote.Details{})
	}
	return v.yard
}

// hours are the yard's: by shop against the standard build, then by option.
func (v *View) hours() []g.Node {
	y, region := v.sheet(), v.region()
	tenths := func(h measure.Hours) string { return money.Grouped(h.Fixed(1)) }
	row := func(class string, s sheet.ShopHours) g.Node {
		return tableRow(class, s.Shop, tenths(s.Base), tenths(s.Options), tenths(s.Total), tenths(s.Over))
	}
	return []g.Node{
		Table(tableHead("Shop", "Base boat", "Options", "This boat", "Over standard"),
			TBody(g.Map(y.Shops, func(s sheet.ShopHours) g.Node { return row("", s) })),
			TFoot(row("total", y.Hours))),
		H3(g.Text("By option")),
		Table(tableHead("Option", "Hours"), TBody(g.Map(y.Options, func(o sheet.OptionHours) g.Node {
			return tableRow("", o.Slot+": "+pack.Times(o.Count, o.Title), tenths(o.Hours))
		}))),
		H3(g.Text("By operation")),
		g.Map(y.Work, func(w sheet.WorkPart) g.Node {
			return unfolding(w.Operation+" ("+w.For+")", money.Grouped(w.Hours.Fixed(2))+"\u00a0h",
				money.Priced(w.Amount.Fixed(y.Currency.Digits), y.Currency.Code, region), w.Trace)
		}),
	}
}

// unfolding is a number that opens to its formula, inputs and place in the book.
func unfolding(title, quantity, amount string, t engine.Trace) g.Node {
	return Details(Class("unfold"),
		Summary(Span(Class("name"), g.Text(title)), Span(Class("amount"), g.Text(quantity)),
			Span(Class("amount"), g.Text(amount))),
		P(Code(g.Text(t.Formula))),
		g.If(len(t.Inputs) > 0, Ul(g.Map(t.Inputs,
			func(i engine.Input) g.Node { return Li(g.Text(i.Name + " = " + i.Value)) }))),
		P(Class("note"), g.Text(t.At)),
	)
}

// prices unfold every sell price, and the rates behind the cost.
func (v *View) prices() []g.Node {
	y := v.sheet()
	grouped := func(a money.Amount) string { return money.Grouped(a.Fixed(y.Currency.Digits)) }
	return []g.Node{
		Table(tableHead("Part of the cost", "Rate", "Of", y.Currency.Code),
			TBody(g.Map(y.Rates, func(r sheet.RatePart) g.Node {
				return Tr(Th(g.Attr("scope", "row"), g.Text(v.Engine.Text(r.Part)), Span(Class("note"), g.Text(r.At))),
					Td(Class("number"), g.Text(r.Rate.Percent())),
					Td(Class("number"), g.Text(grouped(r.Of))),
					Td(Class("number"), g.Text(grouped(r.Amount))))
			}))),
		H3(g.Text("Sell prices, net of tax")),
		Table(tableHead("Item", "Cost", "By", "Net"), TBody(g.Map(y.Prices, func(p sheet.PriceTrace) g.Node {
			by := p.Method + " "
			if !p.Rate.IsZero() {
				by += p.Rate.Percent()
			}
			return Tr(Th(g.Attr("scope", "row"), g.Text(p.For), Span(Class("note"), g.Text(p.At))),
				Td(Class("number"), g.Text(grouped(p.Cost))),
				Td(Class("number"), g.Text(by)), Td(Class("number"), g.Text(grouped(p.Net))))
		}))),
	}
}

// stores are the materials: what to take or buy for the whole boat, then how each quantity came about.
func (v *View) stores() []g.Node {
	y, region := v.sheet(), v.region()
	return []g.Node{
		Table(tableHead("Material", "Used", "Packs"), TBody(g.Map(y.Purchases, func(p sheet.PurchasePart) g.Node {
			used, unit := p.Used.Shown(p.Unit)
			packs, from := "", p.Supplier
			if p.Packs > 0 {
				packs = fmt.Sprintf("%d × %s\u00a0%s", p.Packs, p.Pack, unit)
			}
			if p.LeadDays > 0 {
				from = strings.TrimPrefix(fmt.Sprintf("%s, %d days", from, p.LeadDays), ", ")
			}
			return Tr(Th(g.Attr("scope", "row"), g.Text(p.Title), g.If(from != "", Span(Class("note"), g.Text(from)))),
				Td(Class("number"), g.Text(money.Grouped(used)+"\u00a0"+unit)), Td(Class("number"), g.Text(packs)))
		}))),
		H3(g.Text("By item")),
		g.Map(y.Materials, func(m sheet.MaterialPart) g.Node {
			_, unit := m.Used.Shown(m.Unit)
			return unfolding(m.Title+" ("+m.For+")", money.Grouped(m.Used.Fixed(3))+"\u00a0"+unit,
				money.Priced(m.Amount.Fixed(y.Currency.Digits), y.Currency.Code, region), m.Trace)
		}),
	}
}

// loom is the drawing of the loom at each voltage, which states the caution, and every wire of it.
func (v *View) loom() []g.Node {
	l := v.sheet().Loom
	if l == nil {
		return []g.Node{P(Class("note"), g.Text("The book has no circuits."))}
	}
	return []g.Node{
		g.If(len(l.Faults) > 0, Ul(Class("warnings"),
			g.Map(l.Faults, func(f string) g.Node { return Li(g.Text("Not sized: " + f)) }))),
		g.Group(v.loomPictures()),
		H3(g.Text("Wires")),
		Table(tableHead("Wire", "Size", "Length, m", "Fuse, A"), TBody(g.Map(l.Wires, func(w sheet.WirePart) g.Node {
			fuse, pole := "", strings.Replace(w.Pole, "-", "−", 1)
			if w.Fuse > 0 {
				fuse = text(w.Fuse)
			}
			return Tr(Th(g.Attr("scope", "row"), g.Text(w.Circuit+"\u00a0"+pole),
				Span(Class("note"), g.Text(msg.English.Text(w.Colour)+", "+msg.English.Text(w.From)+" to "+
					msg.English.Text(w.To)))),
				Td(Class("number"), g.Text(text(w.Section)+"\u00a0mm²")),
				Td(Class("number"), g.Text(strconv.FormatFloat(w.Length, 'f', 2, 64))),
				Td(Class("number"), g.Text(fuse)))
		})), TFoot(tableRow("total", "Copper "+strconv.FormatFloat(l.Copper, 'f', 2, 64)+"\u00a0kg", "",
			strconv.FormatFloat(l.Length, 'f', 2, 64), ""))),
	}
}

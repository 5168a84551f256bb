package paper

import (
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/measure"
	"ribband/core/quote"
	"ribband/core/sheet"
)

const shopCaution = "Batteries, wiring, flotation, loading and lifting: by qualified persons, to the rules of the place of use. Hours and quantities are estimates."

// Shop writes the sheet of one shop, as HTML or as text. The quote, nil where there is none, gives its number and
// customer.
func Shop(s *sheet.Shop, q *quote.Quote, f Format) ([]byte, error) {
	switch f {
	case AsHTML:
		return page(s.Shop+": "+s.Hull, s.Shop+" · "+s.Hull+numbered(q), Div(Class("dense"), g.Group(shopHTML(s, q))))
	case AsText:
		return []byte(shopText(s, q)), nil
	}
	return nil, fmt.Errorf("writing the sheet of a shop: there is none as %s; want text or html, or the sheet of the whole boat", f)
}

func shopHTML(s *sheet.Shop, q *quote.Quote) []g.Node {
	return []g.Node{
		Header(Class("letterhead"), P(Class("yard"), g.Text(s.Shop)), P(Class("address"), g.Text(subject(q))),
			yardRemarks(q)),
		H1(g.Text(s.Hull)),
		clashes(s.Clashes),
		Section(H2(g.Text("Operations")),
			Table(headRow("Operation", "Hours"), TBody(g.Map(s.Work, func(w sheet.ShopWork) g.Node {
				return Tr(Th(g.Attr("scope", "row"), g.Text(w.Operation),
					Span(Class("detail"), g.Text(strings.Join(w.For, "; ")))),
					Td(Class("number"), g.Text(hours(w.Hours))))
			})), TFoot(bodyRow("total", "Total", hours(s.Hours.Total))))),
		shopMaterials(s.Materials),
		partTables(s.Parts),
		laminateTable(s.Laminates),
		cutTable(s.Cuts),
		loomTables(s.Loom, s.Circuits),
		drawings(s.Pictures),
		notes("Caution", []string{shopCaution}),
		Footer(P(g.Text(shopColophon(s)))),
	}
}

// shopMaterials lists what each operation takes, item by item.
func shopMaterials(list []sheet.ShopMaterials) g.Node {
	if len(list) == 0 {
		return nil
	}
	operation := ""
	return Section(H2(g.Text("Materials")),
		Table(headRow("Material", "Used"), g.Map(list, func(m sheet.ShopMaterials) g.Node {
			first := m.Operation != operation
			operation = m.Operation
			return TBody(
				g.If(first, Tr(Class("group"), Th(g.Attr("scope", "rowgroup"), ColSpan("2"), g.Text(m.Operation)))),
				Tr(Class("item"), Th(g.Attr("scope", "rowgroup"), ColSpan("2"), g.Text(m.For))),
				g.Map(m.Parts, func(p sheet.ShopMaterial) g.Node {
					return bodyRow("", material(p),
						used(p.Used, p.Unit))
				}))
		})))
}

// material names what is taken, and says in words where that is part of a pack. Who takes many packs counts them
// himself.
func material(p sheet.ShopMaterial) string {
	const many = 4
	if p.Pack <= oneUnit {
		return p.Title
	}
	packs, rest := p.Used.Packs(p.Pack)
	_, unit := p.Used.Shown(p.Unit)
	size := amount(p.Pack.String()) + " " + unit
	switch {
	case rest == 0 || packs > many:
		return p.Title
	case packs == 1:
		return fmt.Sprintf("%s, part of a pack of %s", p.Title, size)
	case packs == 2:
		return fmt.Sprintf("%s, one pack of %s and part of another", p.Title, size)
	}
	return fmt.Sprintf("%s, %d packs of %s and part of another", p.Title, packs-1, size)
}

// oneUnit is a pack that says nothing.
const oneUnit = measure.Quantity(1_000_000)

func shopColophon(s *sheet.Shop) string {
	return fmt.Sprintf("Price book %s of %s, %.12s. Specification %.12s.", s.Edition.Name, quote.Day(s.Edition.Date),
		s.Edition.Digest, s.Spec)
}

func shopText(s *sheet.Shop, q *quote.Quote) string {
	t := &textPaper{}
	t.wrapped(s.Shop)
	t.wrapped(subject(q))
	if q != nil {
		t.wrapped(q.Remarks)
	}
	t.heading(s.Hull, '=')
	t.list("This boat cannot be built as it stands", s.Clashes)
	t.heading("Operations", '-')
	for _, w := range s.Work {
		t.amount(w.Operation, w.Hours.Fixed(1))
		t.indented("  ", strings.Join(w.For, "; "))
	}
	t.rule()
	t.amount("Total", s.Hours.Total.Fixed(1))
	if len(s.Materials) > 0 {
		t.heading("Materials", '-')
	}
	operation := ""
	for _, m := range s.Materials {
		if m.Operation != operation {
			operation = m.Operation
			t.wrapped(operation)
		}
		t.indented("  ", m.For)
		for _, p := range m.Parts {
			t.entry("    ", material(p), used(p.Used, p.Unit))
		}
	}
	partText(t, s.Parts)
	laminateText(t, s.Laminates)
	cutText(t, s.Cuts)
	loomText(t, s.Loom, s.Circuits)
	t.list("Caution", []string{shopCaution})
	t.line("")
	t.wrapped(shopColophon(s))
	return t.String()
}

package publish_test

import (
	"os"
	"testing"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/publish"
)

// packsOf are the packs of the small book with one thing of it changed.
func packsOf(t *testing.T, change func(b *book.Book)) publish.Packs {
	t.Helper()
	b, diagnostics, err := source.Read(os.DirFS("../../testdata/books/small"))
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, diagnostics)
	}
	change(b)
	packs, _, diagnostics := publish.Make(b)
	if packs == nil {
		t.Fatal(diagnostics)
	}
	return packs
}

// Two books that differ in a private value alone have one public digest, so that nobody can find the value by trying
// books of his own until the digest agrees: with the digest of the whole book, 134 tries found the salesperson's
// authority and the margin floor. The digest of a part tells apart what its own desks may read, and no more.
func TestDigestsTellNothingPrivate(t *testing.T) {
	rate := func(r *book.Rate, text string) { r.Value = money.MustRate(text) }
	const public, costs, work = 0, 1, 2 // the lowest part that holds the value
	was := packsOf(t, func(*book.Book) {})
	for name, c := range map[string]struct {
		part   int
		change func(b *book.Book)
	}{
		"nothing":      {work + 1, func(*book.Book) {}},
		"title":        {public, func(b *book.Book) { b.Hulls[0].Title.Value += " II" }},
		"terms":        {public, func(b *book.Book) { b.ValidityDays.Value++ }},
		"authority":    {costs, func(b *book.Book) { rate(&b.Discounts.Authority, "0.0531") }},
		"margin floor": {costs, func(b *book.Book) { rate(&b.Discounts.MarginFloor, "0.2113") }},
		"a dealer's": {costs, func(b *book.Book) {
			b.Dealers = []book.Dealer{{ID: book.Text{Value: "a"}, Commission: book.Rate{Value: money.MustRate("0.1")}}}
		}},
		"maker":      {costs, func(b *book.Book) { b.Yard.MakerCode.Value = "HMR" }},
		"supplier":   {work, func(b *book.Book) { b.Materials[0].Supplier.Value = "Somebody Else" }},
		"article":    {work, func(b *book.Book) { b.Materials[0].Article.Value = "S-1" }},
		"price date": {work + 1, func(b *book.Book) { b.Materials[0].PriceDate.Value = "2026-09-01" }},
		"break": {costs, func(b *book.Book) {
			b.Materials[0].Breaks = []book.CostBreak{{From: book.Number{Value: 60}}}
		}},
		"lead time":   {work, func(b *book.Book) { b.Materials[0].LeadDays.Value = 77 }},
		"hours a day": {work, func(b *book.Book) { b.Shops[0].HoursDay.All.Value++ }},
		"people":      {work, func(b *book.Book) { b.Shops[0].People.Value++ }},
		"crew":        {work, func(b *book.Book) { b.Operations[1].Crew.Value = 2 }},
		"a wait":      {work, func(b *book.Book) { b.Operations[1].After[0].WaitHours.Value++ }},
		"a step":      {work, func(b *book.Book) { b.Operations[1].Steps = []book.Text{{Value: "Mind the paint."}} }},
		"launch week": {work, func(b *book.Book) { b.Yard.Launch.Value = "public" }},
	} {
		now := packsOf(t, c.change)
		for part, differs := range map[int]bool{
			public: was[pack.Buyer].Edition.Digest != now[pack.Buyer].Edition.Digest,
			costs:  was[pack.Show].Costs.Digest != now[pack.Show].Costs.Digest,
			work:   was[pack.Yard].Work.Digest != now[pack.Yard].Work.Digest,
		} {
			if differs != (part >= c.part) {
				t.Errorf("%s: digest of part %d differs: %v", name, part, differs)
			}
		}
		for desk, p := range now {
			if d := p.Edition.Digest; len(d) != 64 || d != now[pack.Buyer].Edition.Digest ||
				p.Costs != nil && d == p.Costs.Digest || p.Work != nil && p.Work.Digest == p.Costs.Digest {
				t.Errorf("%s: the edition's digest on the %s's desk is %q", name, desk, d)
			}
		}
	}
}

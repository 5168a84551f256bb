// Package enginetest has what the tests of the engine, its papers and its sheets share: engines of the demo book and of
// a small one, specs, and what has to hold of every price. It is for tests alone, and so reads files.
package enginetest

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/spec"
)

// The books, boats and people of these tests are invented.
const (
	DemoBook   = "../../rules"
	SmallBook  = "../../testdata/books/small"
	SpecFolder = "../../testdata/specs"
)

// Desks are engines of one book, one for each desk: what holds of all of them is tested over the three, and what the
// buyer may not know by what its engine lacks.
type Desks map[pack.Desk]*engine.Engine

// EnginesOf publishes a book and compiles what every desk gets of it. It panics where the book has a fault: the books
// of the tests are part of the tests, and most engines are made where no test is at hand.
func EnginesOf(folder fs.FS) Desks {
	// warnings are left out: the small book is too small to be free of them
	packs, _, problems, err := publish.Load(folder)
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	out := Desks{}
	for desk, p := range packs {
		if out[desk], err = engine.Compile(p); err != nil {
			panic(err)
		}
	}
	return out
}

// Demo and Small are the engines of the demo book and of the small one, made once: publishing the demo book takes a
// second and more. An engine is not changed by answering, so that tests may share it; whoever changes a pack takes a
// copy.
var (
	Demo  = sync.OnceValue(func() Desks { return EnginesOf(os.DirFS(DemoBook)) })
	Small = sync.OnceValue(func() Desks { return EnginesOf(os.DirFS(SmallBook)) })
)

// Computing is the yard's engine of the demo book without tables: it computes every price from its costs. It is the
// reference for the engines that look prices up, and is slow.
var Computing = sync.OnceValue(func() *engine.Engine {
	b, problems, err := source.Read(os.DirFS(DemoBook))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	yard, problems := publish.Compile(b)
	if len(problems) > 0 || yard.Prices != nil {
		panic(fmt.Sprint(problems))
	}
	e, err := engine.Compile(yard)
	if err != nil {
		panic(err)
	}
	return e
})

// Edit replaces a text that is once in a file of a book. The three are the file, the text that is there, and what
// stands in its place. Where the text is not there exactly once the test fails, so that a change of the book cannot
// make it pass for the wrong reason. The file is one of the two of the small book, boat.yaml or yard.yaml.
type Edit [3]string

// Edited is the small book with changes. The book is published anew at each call, and the folder on disk
// stays as it is.
func Edited(t testing.TB, edits ...Edit) Desks {
	t.Helper()
	folder := fstest.MapFS{}
	for _, name := range []string{"boat.yaml", "yard.yaml"} {
		text, err := os.ReadFile(filepath.Join(SmallBook, name))
		if err != nil {
			t.Fatal(err)
		}
		folder[name] = &fstest.MapFile{Data: text}
	}
	// one after the other, so that an edit may build on what another put in
	for _, e := range edits {
		text := string(folder[e[0]].Data)
		if strings.Count(text, e[1]) != 1 {
			t.Fatalf("%q is not once in %s", e[1], e[0])
		}
		folder[e[0]].Data = []byte(strings.Replace(text, e[1], e[2], 1))
	}
	return EnginesOf(folder)
}

// Teasel is a spec for the small book, with choices as slot=option*count+option: the parts of a link. It has no
// checksum, and that this is missing is the one damage that is passed over.
func Teasel(t testing.TB, choices ...string) spec.Spec {
	t.Helper()
	s, damage := spec.FromLink(strings.Join(append([]string{"1", "teasel-48"}, choices...), "/"))
	for _, d := range damage {
		if !d.Is("spec.link-damaged") {
			t.Fatal(d)
		}
	}
	return s
}

// Abroad sends the boat to the region of the small book that is free of tax. Its home region, the standard one, shows
// prices with tax.
func Abroad(s spec.Spec) spec.Spec {
	s.Use = map[string]spec.Value{"region": {Choice: "abroad"}}
	return s
}

// Answer is the answer to a spec that must have one. A clash or a note is an answer too: only an unknown hull and a
// formula that fails are errors. Whoever wants the error asks the engine itself.
func Answer(t testing.TB, e *engine.Engine, s spec.Spec) *engine.Answer {
	t.Helper()
	a, err := e.Answer(s)
	if err != nil {
		t.Fatalf("%s: %v", s.Encode(), err)
	}
	return a
}

// Frozen is a quotation of a spec, approved by the owner so that no limit of a salesperson is in its way. Number and
// date are fixed, since goldens hold them.
func Frozen(t testing.TB, e *engine.Engine, s spec.Spec) *quote.Quote {
	t.Helper()
	q, err := quote.Freeze(e, Answer(t, e, s), quote.Details{Number: "T-1", Date: "2027-02-06", Approval: "The owner",
		Customer: quote.Party{Name: "Ottilie Sandmark"}})
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// DemoSpecs are the specs of the demo book by name, the file's without its ending. They are the boats of the pictures
// and papers in testdata, so that a golden can be traced to what was asked for.
func DemoSpecs(t testing.TB) map[string]spec.Spec {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(SpecFolder, "*.json"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no specs in %s: %v", SpecFolder, err)
	}
	// decoded as a person's file would be, so that a specimen that breaks the form fails here
	specs := map[string]spec.Spec{}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := spec.Decode(text)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		specs[strings.TrimSuffix(filepath.Base(name), ".json")] = s
	}
	return specs
}

// AnySpec draws a spec for the demo book: any hull, up to most slots settled with what may or may not go with it, any
// use. Most of them clash, which is what they are for: boats that can be built come from package sample.
func AnySpec(t *rapid.T, p *pack.Pack, most int) spec.Spec {
	// drawn by rapid, which makes a failing spec smaller by itself
	s := spec.Spec{Format: spec.Format, Hull: p.Hulls[rapid.IntRange(0, len(p.Hulls)-1).Draw(t, "hull")].ID,
		Choices: map[string]map[string]int{}, Use: map[string]spec.Value{}}
	for range rapid.IntRange(0, most).Draw(t, "settled") {
		slot := p.Slots[rapid.IntRange(0, len(p.Slots)-1).Draw(t, "slot")]
		chosen := map[string]int{}
		options := 1 // a second one in a slot of one is left out with a note, and tests nothing more
		if slot.Multiple {
			options = 3
		}
		for range rapid.IntRange(0, options).Draw(t, "options") {
			o := p.Options[rapid.IntRange(slot.First, slot.End-1).Draw(t, "option")]
			chosen[o.ID] = rapid.IntRange(1, o.Most).Draw(t, "count")
		}
		s.Choices[slot.ID] = chosen
	}
	for _, u := range p.Use {
		switch step := rapid.IntRange(0, u.Steps()-1).Draw(t, u.ID); {
		case rapid.Bool().Draw(t, "standard"): // left to the book, as most people do
		case len(u.Choices) > 0:
			s.Use[u.ID] = spec.Value{Choice: u.Choices[step].ID}
		default:
			s.Use[u.ID] = spec.Value{Number: u.Value(step)}
		}
	}
	return s
}

// WithDealing adds extra items, credits among them, discounts on the whole boat and a trade-in. All are small beside
// the price of any boat, so that what is left of it stays above zero and the deal is never refused.
func WithDealing(t *rapid.T, p *pack.Pack, s spec.Spec) spec.Spec {
	cents := func(label string, most int64) money.Amount {
		return money.Exact(rapid.Int64Range(0, most).Draw(t, label), -2)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "lines") {
		s.Extras = append(s.Extras, spec.Extra{ID: fmt.Sprint("line-", i), Title: "Extra item",
			// from a credit of 500 to 4500; a title of its own would say no more
			Price: cents("price", 500_000).Sub(money.MustParse("500")),
			Basis: rapid.SampledFrom([]spec.Basis{spec.Net, spec.WithTax}).Draw(t, "basis"),
			Cost:  cents("cost", 300_000)})
	}
	for range rapid.IntRange(0, 2).Draw(t, "discounts") {
		s.Discounts = append(s.Discounts, spec.Discount{Title: "Discount",
			// a tenth of a per cent at least: a share of nothing is refused
			Share: money.MustRate(cents("share", 30).Add(money.MustParse("0.001")).String())})
	}
	if rapid.Bool().Draw(t, "trade-in") {
		s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: cents("allowance", 300_000).Add(money.MustParse("0.01")),
			Value: cents("value", 300_000)}
	}
	return s
}

// ExtrasNet is what the extra items of an answer come to without tax, whichever way their prices were meant. A credit
// is below zero and lowers the sum. It is worked out from the spec, and not from the lines that it is compared with.
func ExtrasNet(e *engine.Engine, a *engine.Answer) (net money.Amount) {
	// the basis says whether tax is to be taken out of the price
	for _, l := range a.Spec.Extras {
		if l.Basis == spec.WithTax {
			net = net.Add(e.Pricing.WithoutTax(l.Price, a.Price.Region))
		} else {
			net = net.Add(l.Price)
		}
	}
	return net
}

// Fataler is a test, or a draw of rapid, which has no Helper.
type Fataler interface{ Fatalf(string, ...any) }

// WantAddsUp says that a price adds up: lines to goods, less discounts to what is shown, tax by the mode of the region,
// stages to the total. It adds anew from the lines and compares every sum of the sheet, so that an invoice written from
// any of them is the same.
//
// Source: the modes of tax as in package price; the VAT fraction, HMRC Notice 700, 17.5.
func WantAddsUp(t Fataler, p *pack.Pack, s *price.Sheet) {
	// the rounding of the book, made anew: the one of the pricing is what is tested
	minor, err := money.NewRounding(p.Rounding, s.Currency.Minor())
	if err != nil {
		t.Fatalf("%v", err)
	}
	var goods, discounts, stages, credited money.Amount
	for _, l := range s.Lines {
		goods = goods.Add(l.Shown)
	}
	for _, d := range s.Discounts {
		discounts = discounts.Add(d.Amount)
	}
	for _, st := range s.Stages {
		stages = stages.Add(st.Amount)
	}
	// a payment in kind: it lowers what is payable, and no tax
	if s.TradeIn != nil {
		credited = s.TradeIn.Allowance
	}
	// a region that is free of tax has neither
	total, tax := s.Shown, money.Amount{}
	switch s.Region.TaxMode {
	case pack.Inclusive:
		tax = money.TaxInside(total, s.Region.TaxRate, minor)
	case pack.Exclusive:
		tax = minor.Round(total.Share(s.Region.TaxRate))
		total = total.Add(tax)
	}
	for what, pair := range map[string][2]money.Amount{
		"goods": {s.Goods, goods}, "shown": {s.Shown, goods.Sub(discounts)}, "tax": {s.Tax, tax},
		"total": {s.Total, total},
		"net":   {s.Net, s.Total.Sub(s.Tax)}, "stages": {stages, s.Payable},
		"payable": {s.Payable, s.Total.Sub(credited)},
	} {
		if !pair[0].Equal(pair[1]) {
			t.Fatalf("%s: %s, want %s", what, pair[0], pair[1])
		}
	}
	// each line by itself: shown prices are rounded one by one, and a sum could hide two slips
	for _, l := range s.Lines {
		if want := ShowIn(s.Region, l.Net, minor); !l.Shown.Equal(want) {
			t.Fatalf("line %s of %s net shows %s, want %s", l.Key, l.Net, l.Shown, want)
		}
	}
}

// ShowIn is how a net amount is shown in a region, worked out beside [price.Pricing.Show] from the rule in its
// docstring. A region that adds tax shows its lines without.
func ShowIn(r *pack.Region, net money.Amount, minor money.Rounding) money.Amount {
	if r.TaxMode == pack.Inclusive {
		net = net.Add(net.Share(r.TaxRate))
	}
	return minor.Round(net)
}

// PriceText writes a price so that equal texts are equal prices. What follows from costs is left out, since a buyer's
// desk has none: so the desks can be compared.
func PriceText(a *engine.Answer) string {
	p := *a.Price
	// a copy, since answers share their sheets
	p.Lines, p.Reductions = slices.Clone(p.Lines), price.Reductions{} // which follow from costs
	for i := range p.Lines {
		p.Lines[i].BelowCost = money.Amount{}
	}
	text, err := json.MarshalIndent(p, "", " ")
	if err != nil {
		panic(err)
	}
	return string(text)
}

// BoatText writes what is in a boat and what clashes, on one line: for messages of tests, and to compare boats whose
// states differ in what is only computed.
func BoatText(e *engine.Engine, a *engine.Answer) string {
	var parts []string
	for o, n := range a.Build.State.Counts {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%s*%d", e.Pack.Options[o].ID, n))
		}
	}
	for _, c := range a.Build.Clashes {
		parts = append(parts, engine.Because(c).String())
	}
	return strings.Join(parts, " ")
}

// WantError compares an error to the letter: its place and remedy are what a reader goes by.
func WantError(t testing.TB, err error, want string) {
	t.Helper()
	switch {
	case err == nil:
		t.Errorf("no error, want %q", want)
	case err.Error() != want:
		t.Errorf("error %q\nwant  %q", err, want)
	}
}

// WantList compares lists of texts and shows both whole, one text a line, since a golden is easier read than a
// difference by index.
func WantList(t testing.TB, what string, got, want []string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s:\n%s\nwant\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// GoodsOf adds up what a boat's parts cost as the customer sees it, without extra items and discounts: a sum by another
// way than its lines, which round each difference to the standard build by itself.
func GoodsOf(e *engine.Engine, a *engine.Answer) (money.Amount, error) {
	net, err := partsOf(e, a)
	return e.Pricing.Show(net, a.Price.Region), err
}

// NetPrice adds up the sell prices of what is in a boat, and its extra items, without tax and before any discount.
func NetPrice(e *engine.Engine, a *engine.Answer) (money.Amount, error) {
	net, err := partsOf(e, a)
	return net.Add(ExtrasNet(e, a)), err
}

// partsOf is the net price of base boat and options, each by itself. An option that is not made for the hull clashes
// and has no price.
func partsOf(e *engine.Engine, a *engine.Answer) (money.Amount, error) {
	st := a.Build.State
	net, err := e.Pricing.Base(st)
	if err != nil {
		return net, err
	}
	for o, n := range st.Counts {
		if n > 0 && e.Pack.Made(o, st.HullID) {
			one, err := e.Pricing.Option(st, o)
			if err != nil {
				return net, err
			}
			net = net.Add(one.Times(int64(n)))
		}
	}
	return net, nil
}

// FigureOf is a figure of the answered boat by its identifier, unrounded and in the unit of the book. A figure that the
// book does not have ends the test: a zero would pass many of them.
func FigureOf(t testing.TB, e *engine.Engine, a *engine.Answer, id string) float64 {
	t.Helper()
	i := slices.IndexFunc(e.Pack.Figures, func(f pack.Figure) bool { return f.ID == id })
	if i < 0 {
		t.Fatalf("the book has no figure %s", id)
	}
	return a.Build.State.Figures[i]
}

package publish_test

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/publish"
)

// marked is the demo book with a mark in everything that is the yard's alone: no number and no name of it is anywhere
// else.
func marked(t *testing.T) *book.Book {
	b := readDemo(t)
	amount := func(m *book.Money, text string) { m.Value = money.MustParse(text) }
	rate := func(r *book.Rate, text string) { *r = book.Rate{Value: money.MustRate(text), At: b.Contingency.At} }
	number := func(n *book.Number, v float64) { *n = book.Number{Value: v, At: b.Contingency.At} }
	rate(&b.Overhead.OnLabour, "0.4243")
	rate(&b.Overhead.OnMaterials, "0.0647")
	rate(&b.Contingency, "0.0317")
	rate(&b.Discounts.Authority, "0.0531")
	rate(&b.Discounts.MarginFloor, "0.2113")
	rate(&b.Pricing.Margin, "0.3391")
	names := map[string]string{}
	mark := func(kind string, i int, id, title *book.Text) {
		names[kind+" "+id.Value] = fmt.Sprintf("quokka-%s-%d", kind, i)
		id.Value = names[kind+" "+id.Value]
		title.Value = fmt.Sprintf("Marker Quokka %s %d", kind, i)
	}
	for i := range b.Shops {
		mark("shop", i, &b.Shops[i].ID, &b.Shops[i].Title)
		amount(&b.Shops[i].Rate, "5501.77")
		number(&b.Shops[i].HoursDay.All, 9.73)
	}
	for i := range b.Operations {
		mark("operation", i, &b.Operations[i].ID, &b.Operations[i].Title)
		o := &b.Operations[i]
		if s := o.Subcontracted; s != nil {
			s.Supplier.Value = "Marker Supplier Quokka"
			amount(&s.Price, "7919.377")
		} else {
			o.Steps = []book.Text{{Value: "Numbat step"}}
			o.Checks = []book.Check{{ID: book.Text{Value: "numbat"}, Title: book.Text{Value: "Numbat check"}}}
		}
		o.Spread = &book.Spread{Low: book.Number{Value: 0.7171}, High: book.Number{Value: 1.7373}}
		for j := range o.After {
			number(&o.After[j].WaitHours, 3.1313)
			number(&o.After[j].WithinHours, 333.1313)
		}
	}
	for i := range b.Equipment {
		b.Equipment[i].Title.Value = "Numbat mould"
	}
	b.Yard.Closed = []book.Text{{Value: "2033-03-03"}}
	for i := range b.Operations {
		o := &b.Operations[i]
		if o.Subcontracted == nil {
			o.Shop.Value = names["shop "+o.Shop.Value]
		}
		for j := range o.After {
			o.After[j].Operation.Value = names["operation "+o.After[j].Operation.Value]
		}
		for j := range o.Holds {
			o.Holds[j].Until.Value = names["operation "+o.Holds[j].Until.Value]
		}
	}
	for i := range b.Materials {
		m := &b.Materials[i]
		mark("material", i, &m.ID, &m.Title)
		amount(&m.Cost, []string{"7919.377", "6007.131"}[i%2])
		rate(&m.Waste, "0.1777")
		number(&m.Pack, 13.37)
		number(&m.LeadDays, 973)
		m.Supplier.Value = "Marker Supplier Quokka"
		m.Article.Value = fmt.Sprintf("Marker Article %d", i)
	}
	item := func(materials []book.Quantity, work []book.Work) {
		for i := range materials {
			if what, _ := materials[i].OfCircuit(); what == "" {
				materials[i] = book.Quantity{Material: book.Text{Value: names["material "+materials[i].Material.Value]},
					Quantity: book.Formula{Value: "27.1828", At: materials[i].At}}
			}
		}
		for i := range work {
			work[i].Operation.Value = names["operation "+work[i].Operation.Value]
			if work[i].Hours.Empty() {
				work[i].Quantity.Value = "61.8034"
			} else {
				work[i].Hours.Value = "61.8034"
			}
		}
	}
	for i := range b.Laminates {
		l := &b.Laminates[i]
		l.ID.Value, l.Title.Value = fmt.Sprintf("wombat-%d", i), fmt.Sprintf("Wombat %d", i)
		l.Resin.Value = names["material "+l.Resin.Value]
		for j := range l.Plies {
			l.Plies[j].Material.Value = names["material "+l.Plies[j].Material.Value]
		}
	}
	for i := range b.Wires {
		b.Wires[i].Material.Value = names["material "+b.Wires[i].Material.Value]
	}
	for i := range b.Fuses {
		f := &b.Fuses[i]
		f.Material.Value, f.Holder.Value = names["material "+f.Material.Value], names["material "+f.Holder.Value]
	}
	for i := range b.Switches {
		b.Switches[i].Material.Value = names["material "+b.Switches[i].Material.Value]
	}
	for i := range b.Cuts {
		b.Cuts[i].Title.Value = "Wombat cut"
	}
	for i := range b.Hulls {
		item(b.Hulls[i].Materials, b.Hulls[i].Operations)
	}
	for i := range b.Slots {
		s := &b.Slots[i]
		s.FreeUntil.Value = names["operation "+s.FreeUntil.Value]
		s.Undo = &book.Undo{}
		rate(&s.Undo.ShareLost, "0.5959")
		for j := range b.Slots[i].Options {
			o := &b.Slots[i].Options[j]
			item(o.Materials, o.Operations)
			if c := o.Cushion; c != nil {
				for k := range c.Layers {
					c.Layers[k].Material.Value = names["material "+c.Layers[k].Material.Value]
				}
			}
			if j == 0 && len(o.Price.Terms) == 0 {
				o.Margin = book.Rate{}
				rate(&o.Markup, "0.7193")
			}
		}
	}
	return b
}

var secrets = []string{"0.4243", "0.0647", "0.0317", "0.0531", "0.2113", "0.3391", "0.7193", "5501.77",
	"7919.377", "6007.131", "0.1777", "13.37",
	"27.1828", "61.8034", "quokka-shop-", "quokka-operation-", "quokka-material-", "Marker Quokka"}

// Only the yard may know who supplies, in which steps it works, how the hull is laid up and what is cut.
var suppliers = []string{"Numbat step", "Numbat check", "0.5959", "Marker Supplier Quokka",
	"Marker Article", `"lead_days":973`,
	`"supplier"`, `"lead_days"`, "wombat-0", "Wombat 1", "Wombat cut"}

// planners are what a launch is planned by: who works when and with what. The show's desk has it where the book lets it
// read a launch week.
var planners = []string{"9.73", "Numbat mould", "0.7171", "1.7373", "3.1313", "333.1313", "2033-03-03"}

// packOf is the encoded pack of a desk of the marked book.
func packOf(t *testing.T, b *book.Book, desk pack.Desk) string {
	t.Helper()
	yard, diagnostics := publish.Compile(b)
	if len(diagnostics) == 0 {
		diagnostics = publish.Tabulate(yard)
	}
	if len(diagnostics) > 0 {
		t.Fatal(reported(diagnostics))
	}
	text, err := publish.For(yard, desk).Encode()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := pack.Decode(text); err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func expect(t *testing.T, text string, want bool, marks ...string) {
	t.Helper()
	for _, m := range marks {
		if i := strings.Index(text, m); i >= 0 != want {
			t.Errorf("%q is in the pack: %v, want %v; near %.120q", m, !want, want, text[max(i-60, 0):])
		}
	}
}

func TestSecretsAreOnlyOnTheYardsOwnDesks(t *testing.T) {
	b := marked(t)
	yard, show, buyer := packOf(t, b, pack.Yard), packOf(t, b, pack.Show), packOf(t, b, pack.Buyer)
	expect(t, yard, true, secrets...) // otherwise the marks themselves are wrong
	expect(t, yard, true, suppliers...)
	expect(t, yard, true, planners...)
	expect(t, show, true, secrets...)
	expect(t, show, true, planners...)
	expect(t, show, false, suppliers...)
	b.Yard.Launch.Value = "yard"
	expect(t, packOf(t, b, pack.Show), false, append(planners, suppliers...)...)
	b.Yard.Launch.Value = "public"
	expect(t, buyer, false, secrets...)
	expect(t, packOf(t, b, pack.Buyer), false, append(planners, suppliers...)...)
}

// No word of costs and work is in the buyer's pack of the demo book as it stands, nor a place in the yard's files. Some
// words have an everyday meaning too (a beam overhead, the local authority); these must not be keys.
func TestBuyersPackHasNoWordOfTheYard(t *testing.T) {
	text := packOf(t, readDemo(t), pack.Buyer)
	for _, word := range []string{"supplier", "lead_days", "waste", "margin", "markup", "hours_day", "set_up_h",
		"contingency",
		"price_step", "on_labour", "on_materials", ".yaml"} {
		if at := regexp.MustCompile(`(?i)\b` + regexp.QuoteMeta(word)).FindStringIndex(text); at != nil {
			t.Errorf("%q is in the buyer's pack: %q", word, text[max(at[0]-40, 0):min(at[1]+40, len(text))])
		}
	}
	keys := regexp.MustCompile(`"([a-z_]*(overhead|authority|materials|operations|shops|hours|sources|cost|work)` +
		`[a-z_]*)":`)
	if found := keys.FindStringSubmatch(text); found != nil {
		t.Errorf("the buyer's pack has a key %q", found[1])
	}
}

// Nor is an identifier or the name of a supplier of the demo book, but for those that are a word of the buyer's own
// too.
func TestBuyersPackHasNoNameOfTheYard(t *testing.T) {
	b := readDemo(t)
	text := packOf(t, b, pack.Buyer)
	public := map[string]bool{b.Yard.Name.Value: true} // the yard supplies itself with some things
	for _, s := range b.Stages {
		public[s.ID.Value] = true
	}
	for _, s := range b.Slots {
		public[s.ID.Value] = true
		for _, o := range s.Options {
			public[o.ID.Value] = true
		}
	}
	names := map[string]bool{}
	for _, m := range b.Materials {
		names[m.ID.Value] = true
		if m.Supplier.Value != "" {
			names[m.Supplier.Value] = true
		}
	}
	for _, o := range b.Operations {
		names[o.ID.Value] = true
	}
	for _, s := range b.Shops {
		names[s.ID.Value] = true
	}
	for name := range names {
		if i := strings.Index(text, `"`+name+`"`); i >= 0 && !public[name] {
			t.Errorf("%q is in the buyer's pack: %q", name, text[max(i-40, 0):min(i+80, len(text))])
		}
	}
}

// The buyer's prices say nothing of how they came about: two books with the same prices give the same buyer's pack, to
// the byte. Its digest is of the public part, so that nobody can try guesses of private values on it.
func TestBuyersPackFollowsFromPricesAlone(t *testing.T) {
	b := marked(t)
	before := packOf(t, b, pack.Buyer)
	for i := range b.Materials {
		b.Materials[i].Supplier.Value, b.Materials[i].LeadDays.Value, b.Materials[i].Stock = "Somebody Else", 1,
			!b.Materials[i].Stock
	}
	for i := range b.Shops {
		b.Shops[i].HoursDay.All.Value, b.Shops[i].People.Value = 5, 4
	}
	for i := range b.Operations {
		b.Operations[i].Crew.Value, b.Operations[i].Steps, b.Operations[i].Checks = 2, nil, nil
		b.Operations[i].Uses, b.Operations[i].Holds, b.Operations[i].After = nil, nil, nil
	}
	for i := range b.Slots {
		b.Slots[i].FreeUntil, b.Slots[i].Undo = book.Text{}, nil
	}
	b.Yard.Closed, b.Yard.Spread, b.Yard.Launch.Value = nil, nil, "public"
	b.Discounts.Authority.Value = money.MustRate("0.01")
	if packOf(t, b, pack.Buyer) != before {
		t.Error("the buyer's pack follows from more than prices")
	}
}

// The buyer's pack has the circuits alone from which figures follow, and the sizes that they are chosen from, without
// materials, without where they run to and where in the book they stand.
func TestCircuitsOfTheBuyer(t *testing.T) {
	packs, _ := demo()
	if n := len(packs[pack.Yard].Circuits); n < 14 || len(packs[pack.Show].Circuits) != n {
		t.Errorf("%d circuits on the yard's desk, %d on the show's", n, len(packs[pack.Show].Circuits))
	}
	var ids []string
	for _, c := range packs[pack.Buyer].Circuits {
		ids = append(ids, c.ID)
	}
	if !slices.Equal(ids, []string{"motor-main", "bank-string", "bank-lead"}) {
		t.Errorf("the buyer's circuits are %v", ids)
	}
	if !reflect.DeepEqual(packs[pack.Buyer].Stock, packs[pack.Yard].Stock) || packs[pack.Buyer].Costs != nil ||
		len(packs[pack.Yard].Costs.Kept.Fuses) < 20 {
		t.Error("the desks size from other stocks, or the buyer knows their materials")
	}
	known := len(packs[pack.Buyer].Figures)
	for i, f := range packs[pack.Show].Figures {
		if figures.YardOnly(figures.ID(f.Computed)) != (i >= known) {
			t.Errorf("figure %d, %s, of which the buyer has %d", i, f.ID, known)
		}
	}
	// copper, glass and resin
	if len(packs[pack.Yard].Figures) != known+3 || packs[pack.Yard].Work.Runs[0].From == "" {
		t.Error("the yard has lost the copper, or the ends of its circuits")
	}
}

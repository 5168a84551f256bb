package quote_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// Parts add up to wholes and stages to the total; the lines net are the price of the boat and the extra items.
func TestPropertyPriceAddsUp(t *testing.T) {
	e := demo()[pack.Show]
	rapid.Check(t, func(t *rapid.T) {
		s := withDealing(t, e.Pack, anySpec(t, e.Pack, 8))
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		wantAddsUp(t, e.Pack, a.Price)
		var lines money.Amount
		for _, l := range a.Price.Lines {
			lines = lines.Add(l.Net)
		}
		want, err := netPrice(e, a)
		if err != nil {
			t.Fatal(err)
		}
		if !lines.Equal(want) {
			t.Fatalf("the lines come to %s, the boat and the extra items to %s", lines, want)
		}
		if m, _ := money.MarginOf(a.Price.Net, a.Cost.Summary.Total.Add(a.Price.TradeIn.Over())); !m.Equal(a.Margin) {
			t.Fatalf("margin %s, want %s", a.Margin, m)
		}
	})
}

// netPrice adds up the sell prices of what is in a boat, and its extra items.
func netPrice(e *quote.Engine, a *quote.Answer) (money.Amount, error) {
	net, err := e.Pricing.Base(a.Build.State)
	for o, n := range a.Build.State.Counts {
		if n == 0 || !e.Fit.Made(o, a.Hull) {
			continue
		}
		one, e := e.Pricing.Option(a.Build.State, o)
		if e != nil {
			err = e
		}
		net = net.Add(one.Times(int64(n)))
	}
	return net.Add(extrasNet(e, a)), err
}

// Hours and cost add up on the yard's sheet: base and options to the total, shops to all shops, work and materials to
// the cost.
func TestPropertyYardSheetAddsUp(t *testing.T) {
	e := demo()[pack.Yard]
	rapid.Check(t, func(t *rapid.T) {
		s := withDealing(t, e.Pack, anySpec(t, e.Pack, 8))
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := sheetAddsUp(e, a, e.YardSheet(a)); err != nil {
			t.Fatal(err)
		}
	})
}

func sheetAddsUp(e *quote.Engine, a *quote.Answer, y *quote.YardSheet) error {
	var all quote.ShopHours
	for _, h := range y.Shops {
		if h.Total != h.Base+h.Options || h.Over != h.Total-h.Standard {
			return fmt.Errorf("shop %+v", h)
		}
		all.Base, all.Options, all.Total, all.Standard, all.Over = all.Base+h.Base, all.Options+h.Options,
			all.Total+h.Total, all.Standard+h.Standard, all.Over+h.Over
	}
	if all.Shop = y.Hours.Shop; all != y.Hours {
		return fmt.Errorf("all shops %+v, want %+v", y.Hours, all)
	}
	options := all.Base
	for _, o := range y.Options {
		options += o.Hours
	}
	var work measure.Hours
	labour := money.Amount{}
	for _, w := range y.Work {
		work, labour = work+w.Hours, labour.Add(money.MustParse(w.Amount))
	}
	materials, rests := money.Amount{}, money.Amount{}
	for _, m := range y.Materials {
		materials = materials.Add(money.MustParse(m.Amount))
	}
	for _, x := range a.Cost.Extras {
		work, labour, materials = work+x.Total, labour.Add(x.Labour), materials.Add(x.Cost)
	}
	for _, p := range y.Purchases {
		if p.Charged != "" {
			rests = rests.Add(money.MustParse(p.Charged))
		}
	}
	if options != all.Total || work != all.Total {
		return fmt.Errorf("options %s and work %s h, want %s", options, work, all.Total)
	}
	c := y.Cost
	whole := money.Amount{}
	for _, part := range []string{c.Materials, c.Rests, c.Labour, c.OverheadOnMaterials, c.OverheadOnLabour,
		c.Contingency} {
		whole = whole.Add(money.MustParse(part))
	}
	for what, pair := range map[string][2]string{
		"materials": {c.Materials, materials.Fixed(2)}, "labour": {c.Labour, labour.Fixed(2)},
		"rests": {c.Rests, rests.Fixed(2)}, "total": {c.Total, whole.Fixed(2)},
		"net price": {c.NetPrice, a.Price.Net.Fixed(2)}, "margin": {c.Margin, a.Margin.Percent()},
	} {
		if pair[0] != pair[1] {
			return fmt.Errorf("%s: %s, want %s", what, pair[0], pair[1])
		}
	}
	return ratesAndPricesAddUp(e, a, y)
}

func ratesAndPricesAddUp(e *quote.Engine, a *quote.Answer, y *quote.YardSheet) error {
	for i, want := range []string{y.Cost.OverheadOnMaterials, y.Cost.OverheadOnLabour, y.Cost.Contingency} {
		if y.Rates[i].Amount != want {
			return fmt.Errorf("%s is %s, want %s", y.Rates[i].Part, y.Rates[i].Amount, want)
		}
	}
	net := money.Amount{}
	for _, p := range y.Prices {
		net = net.Add(money.MustParse(p.Net).Times(int64(p.Count)))
	}
	net = net.Add(extrasNet(e, a))
	if want, err := netPrice(e, a); err != nil || !net.Equal(want) {
		return fmt.Errorf("prices come to %s, want %s (%v)", net, want, err)
	}
	return nil
}

// The buyer reads prices from tables; the yard may compute them. Both see the same, to the last line.
func TestPropertyBuyersAndYardsPricesAreEqual(t *testing.T) {
	buyer, yard := demo()[pack.Buyer], computing()
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t, buyer.Pack, 10)
		b, err := buyer.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		y, err := yard.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := sheetText(b), sheetText(y); got != want {
			t.Fatalf("%s\nthe buyer sees\n%s\nthe yard\n%s", s.Encode(), got, want)
		}
		if boatText(buyer, b) != boatText(yard, y) {
			t.Fatalf("%s\nand\n%s", boatText(buyer, b), boatText(yard, y))
		}
	})
}

// Raising the cost of a material, the rate of a shop or a general rate never lowers a computed price, and never touches
// a list price.
func TestPropertyDearerInputsNeverLowerAPrice(t *testing.T) {
	cheap := computing()
	raised := 0
	rapid.Check(t, func(t *rapid.T) {
		dear, err := quote.Compile(dearer(t, cheap.Pack))
		if err != nil {
			t.Fatal(err)
		}
		a, err := cheap.Answer(anySpec(t, cheap.Pack, 5))
		if err != nil {
			t.Fatal(err)
		}
		st := a.Build.State
		compare := func(what string, item *pack.Item, price func(e *quote.Engine) (money.Amount, error)) {
			before, err := price(cheap)
			if err != nil {
				t.Fatal(err)
			}
			after, err := price(dear)
			if err != nil {
				t.Fatal(err)
			}
			if c := after.Cmp(before); c < 0 || c > 0 && len(item.List) > 0 {
				t.Fatalf("the price of %s went from %s to %s", what, before, after)
			} else if c > 0 {
				raised++
			}
		}
		compare("the base boat", &cheap.Pack.Trade.Hulls[a.Hull],
			func(e *quote.Engine) (money.Amount, error) { return e.Pricing.Base(st) })
		for o, n := range st.Counts {
			if n > 0 && cheap.Fit.Made(o, a.Hull) {
				compare(cheap.Pack.Options[o].ID, &cheap.Pack.Trade.Options[o],
					func(e *quote.Engine) (money.Amount, error) { return e.Pricing.Option(st, o) })
			}
		}
	})
	if raised == 0 {
		t.Error("no price ever followed")
	}
}

// dearer is a pack with something in its trade that costs more.
func dearer(t *rapid.T, p *pack.Pack) *pack.Pack {
	out, trade := *p, *p.Trade
	out.Trade = &trade
	trade.Materials, trade.Shops = slices.Clone(trade.Materials), slices.Clone(trade.Shops)
	more := money.Exact(rapid.Int64Range(1, 50_000).Draw(t, "more"), -2)
	share := money.MustRate(money.Exact(rapid.Int64Range(1, 1_000).Draw(t, "share"), -4).String())
	switch rapid.IntRange(0, 4).Draw(t, "what") {
	case 0:
		trade.OnLabour = trade.OnLabour.Add(share)
	case 1:
		trade.OnMaterials = trade.OnMaterials.Add(share)
	case 2:
		trade.Contingency = trade.Contingency.Add(share)
	case 3:
		s := &trade.Shops[rapid.IntRange(0, len(trade.Shops)-1).Draw(t, "shop")]
		s.Rate = s.Rate.Add(more)
	default:
		m := &trade.Materials[rapid.IntRange(0, len(trade.Materials)-1).Draw(t, "material")]
		m.Cost = m.Cost.Add(more)
	}
	return &out
}

// A spec means the same in whatever order its choices and uses are written, and its answer is the same every time and
// leaves it alone.
func TestPropertyOrderInASpecDoesNotMatter(t *testing.T) {
	e := demo()[pack.Yard]
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t, e.Pack, 8)
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0))
		other, err := spec.Decode([]byte(shuffled(r, s)))
		if err != nil {
			t.Fatal(err)
		}
		digest := s.Digest()
		b, err := e.Answer(other)
		if err != nil {
			t.Fatal(err)
		}
		first, second := text(e.Draft(a), e.YardSheet(a)), text(e.Draft(b), e.YardSheet(b))
		if first != second || s.Digest() != digest {
			t.Fatalf("%s\nin another order:\n%s", first, second)
		}
	})
}

func text(list ...any) string {
	b, err := json.Marshal(list)
	if err != nil {
		panic(err)
	}
	return string(b)
}

// shuffled writes a spec as JSON with its keys in a random order.
func shuffled(r *rand.Rand, s spec.Spec) string {
	object := func(parts []string) string {
		r.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		return "{" + strings.Join(parts, ",") + "}"
	}
	var choices, uses []string
	for _, slot := range slices.Sorted(maps.Keys(s.Choices)) {
		var options []string
		for _, o := range slices.Sorted(maps.Keys(s.Choices[slot])) {
			options = append(options, fmt.Sprintf("%q:%d", o, s.Choices[slot][o]))
		}
		choices = append(choices, fmt.Sprintf("%q:%s", slot, object(options)))
	}
	for _, field := range slices.Sorted(maps.Keys(s.Use)) {
		v, _ := json.Marshal(s.Use[field])
		uses = append(uses, fmt.Sprintf("%q:%s", field, v))
	}
	return object([]string{`"format":1`, fmt.Sprintf(`"hull":%q`, s.Hull), `"choices":` + object(choices),
		`"use":` + object(uses)})
}

// A boat that can be built freezes, travels in its file, and reopens the same.
func TestPropertyFrozenQuotesReopen(t *testing.T) {
	e := demo()[pack.Show]
	frozen := 0
	rapid.Check(t, func(t *rapid.T) {
		a, err := e.Answer(withDealing(t, e.Pack, anySpec(t, e.Pack, 3)))
		if err != nil {
			t.Fatal(err)
		}
		q, err := e.Freeze(a, quote.Details{Number: "T-1", Date: "2027-02-06", Approval: "The owner"})
		if (err != nil) != (len(a.Build.Clashes) > 0) {
			t.Fatalf("clashes %v, error %v", a.Build.Clashes, err)
		}
		if err != nil {
			return
		}
		frozen++
		back, err := quote.Decode(q.Encode())
		if err != nil {
			t.Fatal(err)
		}
		fresh, _, differences, err := e.Reopen(back)
		if err != nil || len(differences) > 0 || string(fresh.Encode()) != string(q.Encode()) {
			t.Fatalf("differences %v (%v)", differences, err)
		}
	})
	t.Logf("%d quotes were frozen", frozen)
	if frozen == 0 {
		t.Error("nothing was frozen")
	}
}

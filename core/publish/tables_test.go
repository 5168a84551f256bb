package publish_test

import (
	"fmt"
	"testing"

	"ribband/core/cost"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/publish"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// priced is the small book with another price of the side pocket.
func priced(t *testing.T, per string) *pack.Pack {
	t.Helper()
	folder := overlay(t, smallBook)
	old := `        price: [{amount: "20"}, {amount: "6", per: "hull.length_m"}]` + "\n"
	put := "        price:\n          - {amount: \"20\"}\n          - amount: \"10\"\n            per: '" + per + "'\n"
	if err := replace(folder, "boat.yaml", old, put); err != nil {
		t.Fatal(err)
	}
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil || len(diagnostics) > 0 {
		t.Fatalf("%v\n%s", err, reported(diagnostics))
	}
	return packs[pack.Yard]
}

const pocket = 5 // its index in the small book

// pricings are a pack's prices from its tables, and computed.
func pricings(t *testing.T, p *pack.Pack) (listed, computed *price.Pricing) {
	t.Helper()
	without := *p
	without.Prices = nil
	compile := func(p *pack.Pack) *price.Pricing {
		costing, err := cost.Compile(p, works.Compile(p), takeoff.New(p))
		if err != nil {
			t.Fatal(err)
		}
		c, err := price.Compile(p, costing)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	return compile(p), compile(&without)
}

// everyState calls visit with every boat of the small book for every use, whether it can be built or not.
func everyState(t *testing.T, p *pack.Pack, visit func(st *formula.State)) {
	t.Helper()
	figs, err := figures.Compile(p)
	if err != nil {
		t.Fatal(err)
	}
	for top := range 3 {
		for cloth := range 3 {
			for bags := range 2 {
				for pockets := range 5 {
					for persons := range p.Use[0].Steps() {
						for region := range p.Use[1].Steps() {
							st := figures.NewState(p, 0, []float64{p.Use[0].Value(persons), p.Use[1].Value(region)})
							put := func(option, n int) {
								st.Counts[option] += n
								st.Slots[p.Options[option].Slot] += n
							}
							if top > 0 {
								put(top-1, 1)
							}
							if cloth > 0 {
								put(cloth+1, 1)
							}
							put(4, bags)
							put(pocket, pockets)
							figs.Fill(st)
							visit(st)
						}
					}
				}
			}
		}
	}
}

func axes(t pack.Table) string {
	text := ""
	for _, a := range t.Axes {
		text += fmt.Sprintf("%s %d %v of %d; ", a.Kind, a.Index, a.Options, a.Size)
	}
	return text
}

// A price that reads a slot, counts, a number and a choice of the use, and a figure that other options carry to, is the
// same from its table as computed, in every boat.
func TestTableIsComputedPriceInEveryBoat(t *testing.T) {
	p := priced(t, `figures.laden_kg / 10 + 2 * count("pocket") + (chosen("cloth") == "" ? 3 : 0) + (has("bag-top") ? 1.5 : 0) + (use.region == "abroad" ? 7 : 0)`)
	table := p.Prices.Options[pocket][0]
	want := "one-of 0 [0 1] of 4; one-of 1 [] of 2; count 4 [] of 2; count 5 [] of 5; use 0 [] of 6; use 1 [] of 2; "
	if got := axes(table); got != want {
		t.Errorf("axes %s\nwant %s", got, want)
	}
	listed, computed := pricings(t, p)
	states := 0
	everyState(t, p, func(st *formula.State) {
		states++
		for o := range p.Options {
			if st.Counts[o] == 0 {
				continue
			}
			got, err1 := listed.Option(st, o)
			want, err2 := computed.Option(st, o)
			if err1 != nil || err2 != nil || !got.Equal(want) {
				t.Fatalf("%s in %+v: listed %s, %v; computed %s, %v", p.Options[o].ID, st, got, err1, want, err2)
			}
		}
		if st.Counts[pocket] > 0 {
			got, _ := listed.Option(st, pocket)
			if want := pocketByHand(st); !got.Equal(want) {
				t.Fatalf("pocket in %+v: listed %s, by hand %s", st, got, want)
			}
		}
		base1, err1 := listed.Base(st)
		base2, err2 := computed.Base(st)
		if err1 != nil || err2 != nil || !base1.Equal(base2) {
			t.Fatalf("the base boat in %+v: listed %s, %v; computed %s, %v", st, base1, err1, base2, err2)
		}
	})
	if states != 1080 {
		t.Errorf("%d states, want 1080", states)
	}
}

// pocketByHand is the price of the pocket above without any code of the engine: 20, and 10 for each of the quantity, in
// whole hundredths, to the nearest multiple of 5, ties to the even multiple.
func pocketByHand(st *formula.State) money.Amount {
	tenths := 2900 + 140*st.Counts[0] + 220*st.Counts[1] + 800*int(st.Use[0]) // mass in tenths of a kg
	amount := 10 * (tenths + 200*st.Counts[pocket] + 150*st.Counts[4])        // 10 × quantity, in hundredths
	if st.Slots[1] == 0 {
		amount += 3000
	}
	if st.Use[1] == 1 {
		amount += 7000
	}
	amount += 2000
	steps, rest := amount/500, amount%500
	if rest > 250 || rest == 250 && steps%2 == 1 {
		steps++
	}
	return money.Exact(int64(steps)*500, -2)
}

// What a formula reads without effect makes no axis.
func TestTableDropsAxesWithoutEffect(t *testing.T) {
	for _, c := range []struct{ per, axes string }{
		{`2 + 0 * count("bag-top") + 0 * use.persons`, ""},
		{`(chosen("top") == "" ? 2 : 2) + use.persons`, "use 0 [] of 6; "},
		{`use.persons > 0 ? 3 : 4`, ""},
		{`max(count("pocket"), 4)`, ""},
		{`0.01 * use.persons`, ""}, // goes under in rounding to the step
		{`has("top-fixed") ? 2 : 4`, "one-of 0 [1] of 3; "},
		{`hull.length_m`, ""},
	} {
		p := priced(t, c.per)
		table := p.Prices.Options[pocket][0]
		if got := axes(table); got != c.axes {
			t.Errorf("%s: axes %q, want %q", c.per, got, c.axes)
		}
		listed, computed := pricings(t, p)
		everyState(t, p, func(st *formula.State) {
			if st.Counts[pocket] == 0 {
				return
			}
			got, err1 := listed.Option(st, pocket)
			want, err2 := computed.Option(st, pocket)
			if err1 != nil || err2 != nil || !got.Equal(want) {
				t.Fatalf("%s in %+v: listed %s, %v; computed %s, %v", c.per, st, got, err1, want, err2)
			}
		})
	}
}

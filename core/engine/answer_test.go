package engine_test

import (
	"fmt"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/spec"
)

// The specs of the demo book are answered on every desk; those named so clash, the others do not.
func TestAnswerDemoSpecs(t *testing.T) {
	for name, s := range enginetest.DemoSpecs(t) {
		for _, desk := range pack.Desks {
			t.Run(name+" "+string(desk), func(t *testing.T) {
				e := enginetest.Demo()[desk]
				a := enginetest.Answer(t, e, s)
				if clashes := len(a.Build.Clashes) > 0; clashes != strings.HasPrefix(name, "clash-") {
					t.Errorf("clashes: %v", a.Build.Clashes)
				}
				if len(a.Standard.Clashes) > 0 {
					t.Errorf("the standard build clashes: %v", a.Standard.Clashes)
				}
				dealt := len(s.Extras)+len(s.Discounts) > 0
				if (len(a.Notes) > 0) != (dealt && desk == pack.Buyer) {
					t.Errorf("notes: %v", a.Notes)
				}
				if yards := a.Cost != nil && a.Work != nil && a.StandardWork != nil; yards != (desk != pack.Buyer) {
					t.Errorf("cost %v", a.Cost)
				}
				enginetest.WantAddsUp(t, e.Pack, a.Price)
			})
		}
	}
}

// Every hull in every region, with the tax that the book gives it.
func TestAnswerStandardInEveryRegion(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	modes := map[pack.TaxMode]int{}
	for h, hull := range e.Pack.Hulls {
		for i, r := range e.Pack.Regions {
			a, err := e.AnswerStandard(h, r.ID)
			if err != nil {
				t.Fatal(err)
			}
			if a.Price.Region != &e.Pack.Regions[i] {
				t.Fatalf("%s for %s is priced for %v", hull.ID, r.ID, a.Price.Region)
			}
			modes[r.TaxMode]++
			enginetest.WantAddsUp(t, e.Pack, a.Price)
			if r.TaxMode == pack.Zero && !a.Price.Tax.IsZero() {
				t.Errorf("%s for %s: tax %s", hull.ID, r.ID, a.Price.Tax)
			}
			total, err := enginetest.GoodsOf(e, a)
			if err != nil || !total.Equal(a.Price.Shown) && len(a.Price.Lines) == 1 {
				t.Errorf("%s for %s: total %s, want %s (%v)", hull.ID, r.ID, total, a.Price.Shown, err)
			}
		}
	}
	if len(modes) != 3 {
		t.Errorf("regions of tax modes %v, want all three", modes)
	}
}

// The lines of a spec: the standard build, each difference from it, and the extra items.
func TestAnswerLines(t *testing.T) {
	withLine := func(s spec.Spec) spec.Spec {
		s.Extras = []spec.Extra{{ID: "flag", Title: "Flag", Price: money.MustParse("40.005")}}
		return s
	}

	for name, c := range map[string]struct {
		spec spec.Spec
		want []string
	}{
		"standard": {enginetest.Teasel(t), []string{"boat: Teasel 48, standard build ()"}},
		"another": {enginetest.Teasel(t, "top=top-fixed"),
			[]string{"boat: Teasel 48, standard build ()", "top: Top (Fixed top in place of Folding top)"}},
		"without": {enginetest.Teasel(t, "top="), []string{"boat: Teasel 48, standard build ()",
			"top: Top (without Folding top)", "cloth: Cloth (without Light acrylic cloth)"}},
		"added": {enginetest.Teasel(t, "stowage=pocket*3+bag-top"),
			[]string{"boat: Teasel 48, standard build ()",
				"stowage: Stowage (Bag for the folded top; 3 × Side pocket)"}},
		"extra item": {withLine(enginetest.Teasel(t)), []string{"boat: Teasel 48, standard build ()", "flag: Flag ()"}},
		"as it is": {enginetest.Teasel(t, "top=top-folding", "cloth=cloth-light", "stowage="),
			[]string{"boat: Teasel 48, standard build ()"}},
		"by completion": {enginetest.Teasel(t, "cloth=cloth-heavy"),
			[]string{"boat: Teasel 48, standard build ()", "top: Top (Fixed top in place of Folding top)",
				"cloth: Cloth (Heavy coated cloth in place of Light acrylic cloth)"}},
	} {
		t.Run(name, func(t *testing.T) {
			e := enginetest.Small()[pack.Show]
			a := enginetest.Answer(t, e, c.spec)
			var got []string
			for _, l := range a.Price.Lines {
				got = append(got, fmt.Sprintf("%s: %s (%s)", l.Key, l.Title, l.Detail))
			}
			enginetest.WantList(t, "lines", got, c.want)
			enginetest.WantAddsUp(t, e.Pack, a.Price)
			sum, err := enginetest.GoodsOf(e, a)
			for _, l := range a.Spec.Extras {
				sum = sum.Add(e.Pricing.Show(l.Price, a.Price.Region))
			}
			// Each line is rounded to the cent where it is shown; prices net are whole, so that nothing is lost here.
			if err != nil || !sum.Equal(a.Price.Goods) {
				t.Errorf("goods %s, want %s (%v)", a.Price.Goods, sum, err)
			}
		})
	}
}

// What takes no discount in the standard build is a line of its own, whose changes take none either.
func TestAnswerFixedLines(t *testing.T) {
	e := enginetest.Edited(t, enginetest.Edit{"boat.yaml", "    title: Stowage\n",
		"    title: Stowage\n    discount: false\n    standard: bag-top\n"})[pack.Show]
	s := enginetest.Teasel(t, "stowage=bag-top+pocket")
	s.Discounts = []spec.Discount{{Title: "All", Share: money.MustRate("0.5")}}
	a := enginetest.Answer(t, e, s)
	var got []string
	for _, l := range a.Price.Lines {
		got = append(got, fmt.Sprint(l.Key, " ", l.Fixed))
	}
	enginetest.WantList(t, "lines", got, []string{"boat false", "fixed true", "stowage true"})
	if want := a.Price.Lines[0].Shown.Share(money.MustRate("0.5")); !a.Price.Discounts[0].Amount.Equal(want) {
		t.Errorf("discount %s, want half of the boat, %s", a.Price.Discounts[0].Amount, want)
	}
}

// What a spec names and the edition does not know is noted with place and remedy, and left out.
func TestAnswerNotes(t *testing.T) {
	used := func(field string, v spec.Value) spec.Spec {
		s := enginetest.Teasel(t)
		s.Use = map[string]spec.Value{field: v}
		return s
	}
	lines := enginetest.Teasel(t)
	lines.Extras = []spec.Extra{{ID: "a", Title: "A"},
		{ID: "b", Title: "B", Hours: map[string]measure.Hours{"asembly": 2_000_000, "assembly": 1_000_000}}}
	for name, c := range map[string]struct {
		spec spec.Spec
		want []string
	}{
		"nothing": {enginetest.Teasel(t, "top=top-fixed", "cloth=cloth-heavy"), nil},
		"slot": {enginetest.Teasel(t, "tops=top-fixed"),
			[]string{`choices.tops: unknown slot; did you mean "top"?`}},
		"far slot": {enginetest.Teasel(t, "rudder=wheel"),
			[]string{`choices.rudder: unknown slot; leave it out, or open the spec with the edition that it was made for`}},
		"option": {enginetest.Teasel(t, "top=top-fixd"),
			[]string{`choices.top.top-fixd: unknown option of this slot; did you mean "top-fixed"?`}},
		"option of another": {enginetest.Teasel(t, "top=pocket"),
			[]string{`choices.top.pocket: unknown option of this slot; leave it out, or open the spec with the edition that it was made for`}},
		"field": {used("person", spec.Value{Number: 2}),
			[]string{`use.person: unknown field; did you mean "persons"?`}},
		"too many": {used("persons", spec.Value{Number: 7}),
			[]string{`use.persons: 7 is not among the numbers that the book allows; write a number from 1 to 6`}},
		"too few": {used("persons", spec.Value{Number: 0}),
			[]string{`use.persons: 0 is not among the numbers that the book allows; write a number from 1 to 6`}},
		"a choice": {used("persons", spec.Value{Choice: "many"}),
			[]string{`use.persons: "many" is not among the numbers that the book allows; write a number from 1 to 6`}},
		"between": {used("persons", spec.Value{Number: 2.4}),
			[]string{`use.persons: 2.4 lies between two steps; 2 is taken; write a multiple of 1`}},
		"region": {used("region", spec.Value{Choice: "hme"}),
			[]string{`use.region: unknown choice "hme"; did you mean "home"?`}},
		"a number": {used("region", spec.Value{Number: 1}),
			[]string{`use.region: unknown choice 1; the choices are home, abroad`}},
		"shop": {lines, []string{`extras[1].hours.asembly: unknown shop; did you mean "assembly"?`}},
		"two, one of them bad": {enginetest.Teasel(t, "stowage=bag-top+sack"),
			[]string{`choices.stowage.sack: unknown option of this slot; leave it out, or open the spec with the edition that it was made for`}},
	} {
		t.Run(name, func(t *testing.T) {
			e := enginetest.Small()[pack.Show]
			a := enginetest.Answer(t, e, c.spec)
			var got []string
			for _, n := range a.Notes {
				got = append(got, n.Message().String())
			}
			enginetest.WantList(t, "notes", got, c.want)
			enginetest.WantAddsUp(t, e.Pack, a.Price)
		})
	}
}

// What is known beside what is unknown is used; a slot of which nothing is known is left to the standard build, an
// empty one stays empty.
func TestAnswerUsesWhatIsKnown(t *testing.T) {
	e := enginetest.Small()[pack.Yard]
	for content, want := range map[string]string{
		"stowage=bag-top+sack": "top-folding*1 cloth-light*1 bag-top*1",
		"top=roof":             "top-folding*1 cloth-light*1",
		"top=":                 "",
		"top=top-fixed":        "top-fixed*1 cloth-light*1",
	} {
		if got := enginetest.BoatText(e, enginetest.Answer(t, e, enginetest.Teasel(t, content))); got != want {
			t.Errorf("%s: %q, want %q", content, got, want)
		}
	}
}

func TestAnswerUnknownHull(t *testing.T) {
	e := enginetest.Small()[pack.Buyer]
	for hull, want := range map[string]string{
		"teasel-49": `hull: unknown hull "teasel-49"; did you mean "teasel-48"?`,
		"":          `hull: unknown hull ""; the hulls are teasel-48`,
	} {
		_, err := e.Answer(spec.Spec{Format: spec.Format, Hull: hull})
		enginetest.WantError(t, err, want)
	}
}

// Extra items and discounts are for the yard's own desks.
func TestAnswerOnTheBuyersDeskLeavesDealingOut(t *testing.T) {
	e := enginetest.Small()[pack.Buyer]
	s := enginetest.Teasel(t)
	s.Extras = []spec.Extra{{ID: "flag", Title: "Flag", Price: money.MustParse("40")}}
	s.Discounts = []spec.Discount{{Title: "All", Share: money.MustRate("0.5")}}
	a := enginetest.Answer(t, e, s)
	if len(a.Notes) != 1 || a.Notes[0].Message().String() != "extras, discounts: extra items, discounts and "+
		"trade-ins are for the yard's own desks; they are left out here" {
		t.Errorf("notes %v", a.Notes)
	}
	if want := enginetest.Answer(t, e, enginetest.Teasel(t)); enginetest.PriceText(a) != enginetest.PriceText(want) {
		t.Errorf("the price is %s, want %s", a.Price.Total, want.Price.Total)
	}
}

// A discount on what is not in the price once made the answer an error, so that such a quote could not be opened again.
func TestAnswerDiscountOnNothing(t *testing.T) {
	s := enginetest.Teasel(t)
	s.Discounts = []spec.Discount{{Title: "Stowage", On: "stowage", Amount: money.MustParse("5")}}
	a := enginetest.Answer(t, enginetest.Small()[pack.Show], s)
	const want = `discounts[0]: there is no line "stowage" to give "Stowage" on; name a slot that differs from the standard build, or an extra item, or remove the discount`
	if len(a.Notes) != 1 || a.Notes[0].Message().String() != want || len(a.Price.Discounts) != 0 {
		t.Errorf("notes %v, discounts %v", a.Notes, a.Price.Discounts)
	}
}

func TestAnswerWarnings(t *testing.T) {
	for name, c := range map[string]struct {
		line     spec.Extra
		discount string
		want     []string
	}{
		"within authority": {spec.Extra{ID: "a", Title: "A", Price: money.MustParse("1")}, "0.05", nil},
		"beyond authority": {spec.Extra{ID: "a", Title: "A", Price: money.MustParse("1")}, "0.0501",
			[]string{"Reductions total 5.01\u202f% of the list price; your limit is 5\u202f%."}},
		"below the floor": {spec.Extra{ID: "a", Title: "A", Cost: money.MustParse("500")}, "0.01",
			[]string{"Reductions total 10.63\u202f% of the list price; your limit is 5\u202f%.",
				"The margin is 19.53\u202f%; it should not fall below 20\u202f%."}},
		"more than it cost": {spec.Extra{ID: "a", Title: "A", Cost: money.MustParse("9999")}, "0.01",
			[]string{"Reductions total 193.61\u202f% of the list price; your limit is 5\u202f%.",
				"The margin is -165.29\u202f%; it should not fall below 20\u202f%."}},
		"a gift of no cost": {spec.Extra{ID: "a", Title: "A"}, "0.01",
			[]string{"A is at no charge, and is not counted as a reduction: state its cost or hours."}},
	} {
		t.Run(name, func(t *testing.T) {
			s := enginetest.Teasel(t)
			s.Extras = []spec.Extra{c.line}
			s.Discounts = []spec.Discount{{Title: "All", Share: money.MustRate(c.discount)}}
			enginetest.WantList(t, "warnings", msg.English.Texts(enginetest.Answer(t, enginetest.Small()[pack.Show],
				s).Warnings),
				c.want)
		})
	}
}

// An option of another hull clashes and has no price; with it in the boat the total was an error, so that nothing could
// be compared.
func TestTotalWithAnOptionOfAnotherHull(t *testing.T) {
	e := enginetest.Edited(t, enginetest.Edit{"boat.yaml", "slots:\n",
		"  - id: reed-52\n    title: Reed 52\n    dimensions: {length_m: 5.2, top_m2: 5}\nslots:\n"},
		enginetest.Edit{"boat.yaml", "        title: Fixed top\n",
			"        title: Fixed top\n        hulls: [reed-52]\n"})[pack.Buyer]
	a := enginetest.Answer(t, e, enginetest.Teasel(t, "top=top-fixed"))
	if len(a.Build.Clashes) != 1 || a.Build.Clashes[0].Reason.String() != "Fixed top is not made for the Teasel 48." {
		t.Errorf("clashes %v", a.Build.Clashes)
	}
	if total, err := enginetest.GoodsOf(e, a); err != nil || !total.Equal(a.Price.Total) {
		t.Errorf("total %s, want %s (%v)", total, a.Price.Total, err)
	}
}

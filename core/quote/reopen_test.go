package quote_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// read sends a quote through its file.
func read(t testing.TB, q *quote.Quote) *quote.Quote {
	t.Helper()
	back, err := quote.Decode(q.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return back
}

// plain has no spaces and signs but those of a keyboard.
var plain = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "−", "-")

// reopened are the differences in English.
func reopened(t testing.TB, e *engine.Engine, q *quote.Quote) (*quote.Quote, []string) {
	t.Helper()
	fresh, _, differences, err := quote.Reopen(e, read(t, q))
	if err != nil {
		t.Fatal(err)
	}
	list := []string{}
	for _, d := range differences {
		list = append(list, plain.Replace(fmt.Sprintf("%s: %s -> %s", d.Place, d.Was, d.Now)))
	}
	return fresh, list
}

// Against the edition that it was made from a quote comes out the same byte for byte, on whatever of the yard's desks.
func TestReopenAgainstTheSameEdition(t *testing.T) {
	for name, s := range enginetest.DemoSpecs(t) {
		if strings.HasPrefix(name, "clash-") {
			continue
		}
		q := enginetest.Frozen(t, enginetest.Demo()[pack.Show], s)
		for _, desk := range []pack.Desk{pack.Show, pack.Yard} {
			fresh, differences := reopened(t, enginetest.Demo()[desk], q)
			if len(differences) > 0 || !bytes.Equal(fresh.Encode(), q.Encode()) {
				t.Errorf("%s on the %s's desk: %s", name, desk, strings.Join(differences, "\n"))
			}
		}
	}
}

// Lines and discounts of the same name were taken for each other, and the quote was said to have changed.
func TestReopenTellsLinesOfTheSameNameApart(t *testing.T) {
	s := enginetest.Teasel(t, "top=top-fixed")
	s.Extras = []spec.Extra{{ID: "top", Title: "Taller top", Price: money.MustParse("90"), Basis: spec.Net}}
	s.Discounts = []spec.Discount{
		{Title: "One", On: "boat", Amount: money.MustParse("5")},
		{Title: "Two", On: "boat", Amount: money.MustParse("6")},
		{Title: "Three", Share: money.MustRate("0.01")}, {Title: "Four", Share: money.MustRate("0.01")},
	}
	e := enginetest.Small()[pack.Show]
	q := enginetest.Frozen(t, e, s)
	if _, differences := reopened(t, e, q); len(differences) > 0 {
		t.Errorf("differences: %s", strings.Join(differences, "\n"))
	}
	q.Price.Discounts[1].Amount = money.MustParse("-7.00")
	_, differences := reopened(t, e, q)
	enginetest.WantList(t, "differences", differences[1:], []string{"Discounts: Two: EUR -7.00 -> EUR -6.00"})
}

// Each change of an edition is named, with what was and what is now. The edition itself always is.
func TestReopenAgainstAnotherEdition(t *testing.T) {
	frozen := enginetest.Teasel(t, "top=top-fixed", "stowage=pocket*2")
	for name, c := range map[string]struct {
		edits []enginetest.Edit
		want  []string
	}{
		"a list price": {[]enginetest.Edit{{"boat.yaml", `price: "1450"`, `price: "1500"`}}, []string{
			"Price: Top: Fixed top in place of Folding top: EUR 1 428.00 -> Fixed top in place of Folding top: EUR 1 " +
				"488.00",
			"Lines less discounts: EUR 8 220.00 -> EUR 8 280.00", "Net: EUR 6 850.00 -> EUR 6 " +
				"900.00", "Tax, amount: EUR 1 370.00 -> EUR 1 380.00",
			"Total: EUR 8 220.00 -> EUR 8 280.00", "Payable: EUR 8 220.00 -> EUR 8 280.00",
			"Stage payments: With the order: 40 %, EUR 3 288.00 -> 40 %, EUR 3 312.00",
			"Stage payments: At handover: 60 %, EUR 4 932.00 -> 60 %, EUR 4 968.00"}},
		"a removed option": {[]enginetest.Edit{{"boat.yaml",
			"      - id: pocket\n        title: Side pocket\n        most: 4\n        price: [{amount: \"20\"}, " +
				"{amount: \"6\", per: \"hull.length_m\"}]\n", ""}}, []string{
			"choices.stowage.pocket: in the quotation -> unknown option of this slot; leave it out, or open the spec " +
				"with the edition that it was made for",
			"Specification: Shelter, Stowage: 2 × Side pocket (pocket). -> ",
			"Price: Stowage: 2 × Side pocket: EUR 120.00 -> ",
			"Lines less discounts: EUR 8 220.00 -> EUR 8 100.00", "Net: EUR 6 850.00 -> EUR 6 " +
				"750.00", "Tax, amount: EUR 1 370.00 -> EUR 1 350.00",
			"Total: EUR 8 220.00 -> EUR 8 100.00", "Payable: EUR 8 220.00 -> EUR 8 100.00",
			"Stage payments: With the order: 40 %, EUR 3 288.00 -> 40 %, EUR 3 240.00",
			"Stage payments: At handover: 60 %, EUR 4 932.00 -> 60 %, EUR 4 860.00"}},
		"a rule": {[]enginetest.Edit{{"boat.yaml", "rules:\n",
			"rules:\n  - id: no-pockets\n    when: has(\"pocket\")\n    need: has(\"top-folding\")\n    because: A " +
				"pocket hangs on the bows of a folding top.\n"}}, []string{
			"Clashes: 1:  -> A pocket hangs on the bows of a folding top."}},
		"a tax rate": {[]enginetest.Edit{{"yard.yaml", `rate: "0.20", mode: inclusive`, `rate: "0.21",
			mode: inclusive`}},
			[]string{
				"Tax: VAT 20 %, in the prices. -> VAT 21 %, in the prices.",
				"Price: Teasel 48, standard build: EUR 6 672.00 -> EUR 6 727.60",
				"Price: Top: Fixed top in place of Folding top: EUR 1 428.00 -> Fixed top in place of Folding top: " +
					"EUR 1 439.90",
				"Price: Stowage: 2 × Side pocket: EUR 120.00 -> 2 × Side pocket: EUR 121.00",
				"Lines less discounts: EUR 8 220.00 -> EUR 8 288.50", "Tax, amount: EUR 1 370.00 -> EUR 1 438.50",
				"Total: EUR 8 220.00 -> EUR 8 288.50", "Payable: EUR 8 220.00 -> EUR 8 288.50",
				"Stage payments: With the order: 40 %, EUR 3 288.00 -> 40 %, EUR 3 315.40",
				"Stage payments: At handover: 60 %, EUR 4 932.00 -> 60 %, EUR 4 973.10"}},
		"a figure": {[]enginetest.Edit{{"boat.yaml", "carries: {mass_kg: 290}", "carries: {mass_kg: 295}"}},
			[]string{"Performance and dimensions: Mass of the boat: 312 kg -> 317 kg",
				"Performance and dimensions: Mass with persons: 632 kg -> 637 kg"}},
		"a title": {[]enginetest.Edit{{"boat.yaml", "title: Side pocket", "title: Pocket"}},
			[]string{"Specification: Shelter, Stowage: 2 × Side pocket (pocket). -> 2 × Pocket " +
				"(pocket).", "Price: Stowage: 2 × Side pocket: EUR 120.00 -> 2 × Pocket: EUR 120.00"}},
		"the stages": {[]enginetest.Edit{{"yard.yaml", "title: At handover", "title: At the launch"}},
			[]string{"Stage payments: At handover: 60 %, EUR 4 932.00 -> ",
				"Stage payments: At the launch:  -> 60 %, " +
					"EUR 4 932.00"}},
		"the yard": {[]enginetest.Edit{{"yard.yaml", "name: Teasel Bank Boats", "name: Teasel Bank"}},
			[]string{"Yard: Name: Teasel Bank Boats -> Teasel Bank"}},
		"the warranty": {[]enginetest.Edit{{"yard.yaml", "currency: EUR",
			"currency: EUR\nwarranty: [Two years.]\nacceptance: I order it."}},
			[]string{"Warranty: 1:  -> Two years.", "Acceptance:  -> I order it."}},
		"terms": {[]enginetest.Edit{{"yard.yaml", "currency: EUR", "currency: EUR\nterms: [Paid first.]"}},
			[]string{"Terms: 1:  -> Paid first."}},
		"cautions": {[]enginetest.Edit{{"yard.yaml", "currency: EUR", "currency: EUR\ncautions: [Mind the bridge.]"}},
			[]string{"Cautions: 1:  -> Mind the bridge."}},
		"the standard": {[]enginetest.Edit{{"boat.yaml", "standard: top-folding", "standard: top-fixed"}}, []string{
			"Specification: Shelter, Top: 1 × Fixed top (top-fixed). -> 1 × Fixed top (top-fixed). As in the " +
				"standard build.",
			"Price: Teasel 48, standard build: EUR 6 672.00 -> EUR 8 100.00",
			"Price: Top: Fixed top in place of Folding top: EUR 1 428.00 -> ",
			"Standard build: Shelter, Top: 1 × Folding top (top-folding). As in the standard build. -> 1 × Fixed top " +
				"(top-fixed). As in the standard build."}},
		"nothing seen": {[]enginetest.Edit{{"yard.yaml", "lead_days: 15", "lead_days: 16"}}, []string{}},
	} {
		t.Run(name, func(t *testing.T) {
			q := enginetest.Frozen(t, enginetest.Small()[pack.Show], frozen)
			fresh, got := reopened(t, enginetest.Edited(t, c.edits...)[pack.Show], q)
			if len(c.want) == 0 { // what the public does not see is no other edition to it
				enginetest.WantList(t, name, got, []string{})
				return
			}
			if len(got) == 0 || !strings.HasPrefix(got[0], "Price book: ") && !strings.HasPrefix(got[0], "choices.") {
				t.Fatalf("the edition is not among %v", got)
			}
			kept := []string{}
			for _, d := range got {
				if !strings.HasPrefix(d, "Price book: ") {
					kept = append(kept, d)
				}
			}
			enginetest.WantList(t, "differences", kept, c.want)
			if fresh.Details.Number != q.Details.Number || fresh.ValidUntil != q.ValidUntil {
				t.Errorf("details %+v, want %+v", fresh.Details, q.Details)
			}
		})
	}
}

func TestReopenUnknownHull(t *testing.T) {
	q := enginetest.Frozen(t, enginetest.Small()[pack.Show], enginetest.Teasel(t))
	_, _, _, err := quote.Reopen(enginetest.Demo()[pack.Show], q)
	if err == nil || !strings.HasPrefix(err.Error(),
		`reopening quote “T-1”: hull: unknown hull "teasel-48"; `) {
		t.Errorf("error %v", err)
	}
}

// leaves visits every value in a JSON text that is neither a list nor an object, with a way to change it and its path.
func leaves(v any, path string, visit func(path string, old any, set func(any))) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			visit1(x, path+"."+k, func(y any) { v[k] = y }, visit)
		}
	case []any:
		for i, x := range v {
			visit1(x, fmt.Sprintf("%s[%d]", path, i), func(y any) { v[i] = y }, visit)
		}
	}
}

func visit1(x any, path string, set func(any), visit func(string, any, func(any))) {
	switch x.(type) {
	case map[string]any, []any:
		leaves(x, path, visit)
	default:
		visit(path, x, set)
	}
}

// damaged changes one value a little.
func damaged(v any) any {
	switch v := v.(type) {
	case bool:
		return !v
	case float64:
		return v + 1
	case string:
		if i := strings.IndexAny(v, "0123456789"); i >= 0 {
			return v[:i] + string('0'+(v[i]-'0'+1)%10) + v[i+1:]
		}
		return v + "x"
	}
	return "x"
}

// Whatever is changed by hand in a frozen quote is named when it is reopened, or makes the file unreadable, its details
// included.
func TestReopenNamesEveryDamage(t *testing.T) {
	s := enginetest.Abroad(enginetest.Teasel(t, "top=top-fixed", "stowage=pocket*2"))
	s.Extras = []spec.Extra{{ID: "flag", Title: "Flag", Price: money.MustParse("40"), Basis: spec.Net,
		Cost: money.MustParse("12.50")}}
	s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: money.MustParse("300"), Value: money.MustParse("250")}
	s.Discounts = []spec.Discount{{Title: "Half a flag", On: "flag", Share: money.MustRate("0.5")},
		{Title: "All", Amount: money.MustParse("3")}}
	e := enginetest.Edited(t, enginetest.Edit{"yard.yaml", "currency: EUR",
		"currency: EUR\nterms: [Paid first., Paid last.]\ncautions: [Mind the bridge.]"})[pack.Show]
	text := enginetest.Frozen(t, e, s).Encode()
	fresh := func() (v map[string]any) {
		if err := json.Unmarshal(text, &v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	var paths []string
	leaves(fresh(), "", func(path string, _ any, _ func(any)) { paths = append(paths, path) })
	for _, path := range paths {
		v := fresh()
		leaves(v, "", func(p string, old any, set func(any)) {
			if p == path {
				set(damaged(old))
			}
		})
		file, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		q, err := quote.Decode(file)
		if err != nil {
			continue
		}
		_, _, differences, err := quote.Reopen(e, q)
		if err == nil && len(differences) == 0 {
			t.Errorf("%s was changed, and nothing is said of it", path)
		}
	}
	if len(paths) < 60 {
		t.Errorf("only %d places", len(paths))
	}
}

// An amount that was changed in the file is named with what it should be.
func TestReopenNamesADamagedAmount(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	for name, c := range map[string]struct {
		damage func(*quote.Quote)
		want   string
	}{
		"line": {func(q *quote.Quote) { q.Price.Lines[1].Amount = money.MustParse("1.00") },
			"Price: Top: Fixed top in place of Folding top: EUR 1.00 -> Fixed top in place of Folding top: EUR 1 " +
				"428.00"},
		"total": {func(q *quote.Quote) { q.Price.Total = money.MustParse("1.00") }, "Total: EUR 1.00 -> EUR 8 100.00"},
		"tax": {func(q *quote.Quote) { q.Price.Tax = money.MustParse("1.00") }, "Tax, amount: EUR 1.00 -> EUR 1 " +
			"350.00"},
		"stage": {func(q *quote.Quote) { q.Price.Stages[1].Amount = money.MustParse("1.00") },
			"Stage payments: At handover: 60 %, EUR 1.00 -> 60 %, EUR 4 860.00"},
		"gone": {func(q *quote.Quote) { q.Price.Lines = q.Price.Lines[:1] },
			"Price: Top:  -> Fixed top in place of Folding top: EUR 1 428.00"},
	} {
		t.Run(name, func(t *testing.T) {
			q := enginetest.Frozen(t, e, enginetest.Teasel(t, "top=top-fixed"))
			c.damage(q)
			_, differences := reopened(t, e, q)
			if len(differences) != 2 || !strings.HasPrefix(differences[0],
				"Digest of the file, which was changed after it was issued: ") {
				t.Fatalf("differences %v", differences)
			}
			enginetest.WantList(t, "differences", differences[1:], []string{c.want})
		})
	}
}

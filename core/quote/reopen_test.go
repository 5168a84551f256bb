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

func reopened(t testing.TB, e *engine.Engine, q *quote.Quote) (*quote.Quote, []string) {
	t.Helper()
	fresh, _, differences, err := quote.Reopen(e, read(t, q))
	if err != nil {
		t.Fatal(err)
	}
	list := []string{}
	for _, d := range differences {
		list = append(list, fmt.Sprintf("%s: %s -> %s", d.Place, d.Was, d.Now))
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
	enginetest.WantList(t, "differences", differences[1:], []string{"discount.boat (2): Two  -7.00 -> Two  -6.00"})
}

// Each change of an edition is named, with what was and what is now. The edition itself always is.
func TestReopenAgainstAnotherEdition(t *testing.T) {
	frozen := enginetest.Teasel(t, "top=top-fixed", "stowage=pocket*2")
	for name, c := range map[string]struct {
		edits []enginetest.Edit
		want  []string
	}{
		"a list price": {[]enginetest.Edit{{"boat.yaml", `price: "1450"`, `price: "1500"`}}, []string{
			"price.top: Top Fixed top in place of Folding top 1428.00 -> Top Fixed top in place of Folding top 1488.00",
			"price.goods: 8220.00 -> 8280.00", "price.net: 6850.00 -> 6900.00", "price.tax_amount: 1370.00 -> 1380.00",
			"price.total: 8220.00 -> 8280.00", "price.payable: 8220.00 -> 8280.00",
			"stages.With the order: 40\u202f% 3288.00 -> 40\u202f% 3312.00",
			"stages.At handover: 60\u202f% 4932.00 -> 60\u202f% 4968.00"}},
		"a removed option": {[]enginetest.Edit{{"boat.yaml",
			"      - id: pocket\n        title: Side pocket\n        most: 4\n        price: [{amount: \"20\"}, " +
				"{amount: \"6\", per: \"hull.length_m\"}]\n", ""}}, []string{
			"choices.stowage.pocket: in the quote -> unknown option of this slot; leave it out, or open the spec " +
				"with the edition that it was made for",
			"specification.stowage: Shelter, Stowage: 2 × Side pocket (pocket). -> ",
			"price.stowage: Stowage 2 × Side pocket 120.00 -> ",
			"price.goods: 8220.00 -> 8100.00", "price.net: 6850.00 -> 6750.00", "price.tax_amount: 1370.00 -> 1350.00",
			"price.total: 8220.00 -> 8100.00", "price.payable: 8220.00 -> 8100.00",
			"stages.With the order: 40\u202f% 3288.00 -> 40\u202f% 3240.00",
			"stages.At handover: 60\u202f% 4932.00 -> 60\u202f% 4860.00"}},
		"a rule": {[]enginetest.Edit{{"boat.yaml", "rules:\n",
			"rules:\n  - id: no-pockets\n    when: has(\"pocket\")\n    need: has(\"top-folding\")\n    because: A " +
				"pocket hangs on the bows of a folding top.\n"}}, []string{
			"clashes.1:  -> A pocket hangs on the bows of a folding top."}},
		"a tax rate": {[]enginetest.Edit{{"yard.yaml", `rate: "0.20", mode: inclusive`, `rate: "0.21",
			mode: inclusive`}},
			[]string{
				"price.tax: VAT 20\u202f% inclusive  -> VAT 21\u202f% inclusive ",
				"price.boat: Teasel 48, standard build  6672.00 -> Teasel 48, standard build  6727.60",
				"price.top: Top Fixed top in place of Folding top 1428.00 -> Top Fixed top in place of Folding top " +
					"1439.90",
				"price.stowage: Stowage 2 × Side pocket 120.00 -> Stowage 2 × Side pocket 121.00",
				"price.goods: 8220.00 -> 8288.50", "price.tax_amount: 1370.00 -> 1438.50",
				"price.total: 8220.00 -> 8288.50", "price.payable: 8220.00 -> 8288.50",
				"stages.With the order: 40\u202f% 3288.00 -> 40\u202f% 3315.40",
				"stages.At handover: 60\u202f% 4932.00 -> 60\u202f% 4973.10"}},
		"a figure": {[]enginetest.Edit{{"boat.yaml", "carries: {mass_kg: 290}", "carries: {mass_kg: 295}"}},
			[]string{"figures.mass_kg: Mass of the boat: 312\u00a0kg -> Mass of the boat: 317\u00a0kg",
				"figures.laden_kg: Mass with persons: 632\u00a0kg -> Mass with persons: 637\u00a0kg"}},
		"a title": {[]enginetest.Edit{{"boat.yaml", "title: Side pocket", "title: Pocket"}},
			[]string{"specification.stowage: Shelter, Stowage: 2 × Side pocket (pocket). -> Shelter, Stowage: 2 × " +
				"Pocket (pocket).", "price.stowage: Stowage 2 × Side pocket 120.00 -> Stowage 2 × Pocket 120.00"}},
		"the stages": {[]enginetest.Edit{{"yard.yaml", "title: At handover", "title: At the launch"}},
			[]string{"stages.At handover: 60\u202f% 4932.00 -> ", "stages.At the launch:  -> 60\u202f% 4932.00"}},
		"the yard": {[]enginetest.Edit{{"yard.yaml", "name: Teasel Bank Boats", "name: Teasel Bank"}},
			[]string{"yard: {Teasel Bank Boats An invented yard for tests. []     {  }} -> {Teasel Bank An invented " +
				"yard for tests. []     {  }}"}},
		"the warranty": {[]enginetest.Edit{{"yard.yaml", "currency: EUR",
			"currency: EUR\nwarranty: [Two years.]\nacceptance: I order it."}},
			[]string{"warranty.1:  -> Two years.", "acceptance:  -> I order it."}},
		"terms": {[]enginetest.Edit{{"yard.yaml", "currency: EUR", "currency: EUR\nterms: [Paid first.]"}},
			[]string{"terms.1:  -> Paid first."}},
		"cautions": {[]enginetest.Edit{{"yard.yaml", "currency: EUR", "currency: EUR\ncautions: [Mind the bridge.]"}},
			[]string{"cautions.1:  -> Mind the bridge."}},
		"the standard": {[]enginetest.Edit{{"boat.yaml", "standard: top-folding", "standard: top-fixed"}}, []string{
			"specification.top: Shelter, Top: 1 × Fixed top (top-fixed). -> Shelter, Top: 1 × Fixed top (top-fixed). " +
				"As in the standard build.",
			"price.boat: Teasel 48, standard build  6672.00 -> Teasel 48, standard build  8100.00",
			"price.top: Top Fixed top in place of Folding top 1428.00 -> ",
			"standard_build.top: Shelter, Top: 1 × Folding top (top-folding). As in the standard build. -> Shelter, " +
				"Top: 1 × Fixed top (top-fixed). As in the standard build."}},
		"nothing seen": {[]enginetest.Edit{{"yard.yaml", "lead_days: 15", "lead_days: 16"}}, []string{}},
	} {
		t.Run(name, func(t *testing.T) {
			q := enginetest.Frozen(t, enginetest.Small()[pack.Show], frozen)
			fresh, got := reopened(t, enginetest.Edited(t, c.edits...)[pack.Show], q)
			if len(c.want) == 0 { // what the public does not see is no other edition to it
				enginetest.WantList(t, name, got, []string{})
				return
			}
			if len(got) == 0 || !strings.HasPrefix(got[0], "edition: ") && !strings.HasPrefix(got[0], "choices.") {
				t.Fatalf("the edition is not among %v", got)
			}
			kept := []string{}
			for _, d := range got {
				if !strings.HasPrefix(d, "edition: ") {
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
		`reopening quote "T-1": hull: unknown hull "teasel-48"; `) {
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
			"price.top: Top Fixed top in place of Folding top 1.00 -> Top Fixed top in place of Folding top 1428.00"},
		"total": {func(q *quote.Quote) { q.Price.Total = money.MustParse("1.00") }, "price.total: 1.00 -> 8100.00"},
		"tax":   {func(q *quote.Quote) { q.Price.Tax = money.MustParse("1.00") }, "price.tax_amount: 1.00 -> 1350.00"},
		"stage": {func(q *quote.Quote) { q.Price.Stages[1].Amount = money.MustParse("1.00") },
			"stages.At handover: 60\u202f% 1.00 -> 60\u202f% 4860.00"},
		"gone": {func(q *quote.Quote) { q.Price.Lines = q.Price.Lines[:1] },
			"price.top:  -> Top Fixed top in place of Folding top 1428.00"},
	} {
		t.Run(name, func(t *testing.T) {
			q := enginetest.Frozen(t, e, enginetest.Teasel(t, "top=top-fixed"))
			c.damage(q)
			_, differences := reopened(t, e, q)
			if len(differences) != 2 || !strings.HasPrefix(differences[0],
				"digest of the file, which was changed after it was issued: ") {
				t.Fatalf("differences %v", differences)
			}
			enginetest.WantList(t, "differences", differences[1:], []string{c.want})
		})
	}
}

package sheet_test

import (
	"encoding/json"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// Every message on the sheets of the yard is in the language of who reads it, and names of causes, shops and extra
// items made up by the program are in the engine's.
func TestWordsOfTheSheets(t *testing.T) {
	e := enginetest.InMarks(t, enginetest.Demo()[pack.Yard])
	a := enginetest.Answer(t, e, enginetest.DemoSpecs(t)["extras-and-discount"])
	y, l := sheet.ForYard(e, a, quote.Details{}), e.Language()
	messages := append([]msg.Message{}, y.Papers.Warnings...)
	for _, r := range y.Rates {
		messages = append(messages, r.Part)
	}
	messages = append(messages, y.Papers.Notes...)
	messages = append(messages, y.Transport.Notes...)
	var own []string
	for _, x := range a.Spec.Extras {
		own = append(own, x.Title)
	}
	check := func(text string) {
		if words := enginetest.Unmarked(text, own...); len(words) > 0 {
			t.Error(words)
		}
	}
	for _, m := range messages {
		check(l.Text(m))
	}
	check(y.Hours.Shop)
	for _, o := range y.Options {
		check(o.Slot)
	}
	for shop := range e.Pack.Work.Shops {
		s, err := sheet.ForShop(e, a, shop, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range s.Work {
			for _, cause := range w.For {
				check(cause)
			}
		}
		for _, p := range s.Pictures {
			if strings.HasPrefix(p.ID, "cut-") || strings.HasPrefix(p.ID, "loom-") { // others are named by package look
				check(p.Title)
			}
		}
	}
	if len(messages) < 8 {
		t.Errorf("only %d messages", len(messages))
	}
}

// Money is decimal text in the yard's JSON, so that no reader of it takes it for a float.
func TestMoneyOfTheYardIsDecimalText(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	y := sheet.ForYard(e, enginetest.Answer(t, e, enginetest.DemoSpecs(t)["extras-and-discount"]), quote.Details{})
	file, err := json.Marshal(y)
	if err != nil {
		t.Fatal(err)
	}
	var read map[string]any
	if err := json.Unmarshal(file, &read); err != nil {
		t.Fatal(err)
	}
	if read["currency"] != y.Currency.Code {
		t.Errorf("the currency is %v", read["currency"])
	}
	sums := read["cost"].(map[string]any)
	sums["work"] = read["operations"].([]any)[0].(map[string]any)["amount"]
	sums["material"] = read["materials"].([]any)[0].(map[string]any)["amount"]
	sums["net"] = read["prices"].([]any)[0].(map[string]any)["net"]
	for key, v := range sums {
		if _, ok := v.(string); !ok {
			t.Errorf("%s is %T in JSON, want decimal text", key, v)
		}
	}
	if sums["total"] != y.Cost.Total.String() {
		t.Errorf("the total is %v, want %s", sums["total"], y.Cost.Total)
	}
}

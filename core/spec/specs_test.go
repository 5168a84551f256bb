package spec

import (
	"maps"
	"slices"
	"strconv"

	"pgregory.net/rapid"

	"ribband/core/measure"
	"ribband/core/money"
)

// names are identifiers of a book, those among them that look like numbers too.
var names = rapid.OneOf(
	rapid.SampledFrom([]string{"top", "top-hard", "sole-ply", "reed-65", "persons", "speed_kn", "48", "1e5", "0x1f",
		"nan", "inf", "0-1", "1_0"}),
	rapid.StringMatching(`[a-z0-9]{1,6}(-[a-z0-9]{1,4})?`),
)

// linkSpec draws a spec without extra items and discounts: what a link holds.
func linkSpec(t *rapid.T) Spec {
	s := Spec{Format: Format, Hull: names.Draw(t, "hull")}
	s.Choices = rapid.MapOfN(names, rapid.MapOfN(names, rapid.IntRange(1, maxCount), 0, 3), 0, 5).Draw(t, "choices")
	if len(s.Choices) > 0 {
		s.Keep = rapid.SliceOfNDistinct(rapid.SampledFrom(slices.Sorted(maps.Keys(s.Choices))), 0, len(s.Choices),
			rapid.ID).Draw(t, "keep")
	}
	s.Use = map[string]Value{}
	for _, field := range rapid.SliceOfNDistinct(names, 0, 5, rapid.ID).Draw(t, "fields") {
		if rapid.Bool().Draw(t, "choice") {
			s.Use[field] = Value{Choice: names.Draw(t, "value")}
		} else {
			s.Use[field] = Value{Number: rapid.OneOf(rapid.Float64(),
				rapid.SampledFrom([]float64{0, 4, 4.5, -1, 1e21, 5e-324})).Draw(t, "number")}
		}
	}
	return s
}

// anySpec draws a spec that Decode takes.
func anySpec(t *rapid.T) Spec {
	s := linkSpec(t)
	amount := func(label string, least int64) money.Amount {
		return money.Exact(rapid.Int64Range(least, 1e9).Draw(t, label), rapid.Int32Range(-4, 0).Draw(t, "exponent"))
	}
	title := rapid.StringN(1, 12, -1).Filter(func(s string) bool { return Seen("", s) == nil })
	for i := range rapid.IntRange(0, 3).Draw(t, "lines") {
		l := Extra{ID: "line-" + strconv.Itoa(i), Title: title.Draw(t, "title"), Price: amount("price", -1e9),
			Basis: rapid.SampledFrom([]Basis{Net, WithTax}).Draw(t, "basis"), Cost: amount("cost", 0)}
		for _, shop := range rapid.SliceOfNDistinct(names, 0, 2, rapid.ID).Draw(t, "shops") {
			if l.Hours == nil {
				l.Hours = map[string]measure.Hours{}
			}
			l.Hours[shop] = measure.Hours(rapid.Int64Range(0, 1e12).Draw(t, "hours"))
		}
		s.Extras = append(s.Extras, l)
	}
	for range rapid.IntRange(0, 2).Draw(t, "discounts") {
		d := Discount{Title: title.Draw(t, "title"), On: rapid.SampledFrom([]string{"", "top", "line-0"}).Draw(t, "on")}
		if rapid.Bool().Draw(t, "share") {
			d.Share = money.MustRate(rapid.SampledFrom([]string{"0.03", "0.125", "1", "0.000000001"}).Draw(t, "rate"))
		} else {
			d.Amount = amount("amount", 1)
		}
		s.Discounts = append(s.Discounts, d)
	}
	if rapid.Bool().Draw(t, "trade-in") {
		s.TradeIn = &TradeIn{Title: title.Draw(t, "title"), Allowance: amount("allowance", 1),
			Value: amount("value", 0)}
	}
	return s
}

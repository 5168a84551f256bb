package quote_test

import (
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

func details() quote.Details {
	return quote.Details{Number: "T-7", Date: "2027-02-06", Customer: quote.Party{Name: "Ottilie Sandmark"}}
}

func discounted(s spec.Spec, share string) spec.Spec {
	s.Discounts = append(s.Discounts, spec.Discount{Title: "All", Share: money.MustRate(share)})
	return s
}

func costing(s spec.Spec, amount string) spec.Spec {
	s.Extras = append(s.Extras, spec.Extra{ID: "extra", Title: "Extra", Basis: spec.Net, Cost: money.MustParse(amount)})
	return s
}

// Every refusal in its words, and that an approval lifts those that one may lift.
func TestFreezeRefusals(t *testing.T) {
	change := func(f func(*quote.Details)) quote.Details {
		d := details()
		f(&d)
		return d
	}
	approved := change(func(d *quote.Details) { d.Approval = "Wenna Tolland, owner" })
	for name, c := range map[string]struct {
		spec    spec.Spec
		details quote.Details
		want    string // "" for none
	}{
		"nothing": {enginetest.Teasel(t), details(), ""},
		"clash": {enginetest.Teasel(t, "top=top-folding", "cloth=cloth-heavy"), approved,
			"freezing a quote: the boat cannot be built: The heavy cloth cracks where it is folded."},
		"note": {enginetest.Teasel(t, "top=top-fixd"), approved,
			`freezing a quote: not all of the spec was understood: choices.top.top-fixd: unknown option of this slot; did you mean "top-fixed"?`},
		"authority": {discounted(enginetest.Teasel(t), "0.06"), details(),
			"freezing a quote: Reductions total 6\u202f% of the list price; your limit is 5\u202f%. Name who " +
				"approved it, or change the discounts"},
		"authority, just":     {discounted(enginetest.Teasel(t), "0.05"), details(), ""},
		"authority, approved": {discounted(enginetest.Teasel(t), "0.06"), approved, ""},
		"floor": {costing(discounted(enginetest.Teasel(t), "0.01"), "500"), details(),
			"freezing a quote: Reductions total 10.63\u202f% of the list price; your limit is 5\u202f%. The margin " +
				"is 19.53\u202f%; it should not fall below 20\u202f%. Name who approved it, or change the discounts"},
		"floor, approved": {costing(discounted(enginetest.Teasel(t), "0.01"), "500"), approved, ""},
		"both": {costing(discounted(enginetest.Teasel(t), "0.5"), "500"), details(),
			"freezing a quote: Reductions total 59.63\u202f% of the list price; your limit is 5\u202f%. The margin " +
				"is -59.32\u202f%; it should not fall below 20\u202f%. Name who approved it, or change the discounts"},
		"approval of spaces": {discounted(enginetest.Teasel(t), "0.06"),
			change(func(d *quote.Details) { d.Approval = "  " }),
			"freezing a quote: Reductions total 6\u202f% of the list price; your limit is 5\u202f%. Name who " +
				"approved it, or change the discounts"},
		"no number": {enginetest.Teasel(t), change(func(d *quote.Details) { d.Number = "" }),
			"freezing a quote: it has no number; give one"},
		"number of spaces": {enginetest.Teasel(t), change(func(d *quote.Details) { d.Number = " \t" }),
			"freezing a quote: it has no number; give one"},
		"no date": {enginetest.Teasel(t), change(func(d *quote.Details) { d.Date = "" }),
			`freezing a quote: the date “” is none; write it as 2027-03-31`},
		"date of another form": {enginetest.Teasel(t), change(func(d *quote.Details) { d.Date = "6.2.2027" }),
			`freezing a quote: the date “6.2.2027” is none; write it as 2027-03-31`},
		"date that is not": {enginetest.Teasel(t), change(func(d *quote.Details) { d.Date = "2027-02-29" }),
			`freezing a quote: the date “2027-02-29” is none; write it as 2027-03-31`},
		"leap day": {enginetest.Teasel(t), change(func(d *quote.Details) { d.Date = "2028-02-29" }), ""},
		"validity of no date": {enginetest.Teasel(t), change(func(d *quote.Details) { d.ValidUntil = "soon" }),
			`freezing a quote: valid until “soon” is no date, or before the quotation's own; write it as 2027-04-30`},
		"validity before": {enginetest.Teasel(t), change(func(d *quote.Details) { d.ValidUntil = "2027-02-05" }),
			`freezing a quote: valid until “2027-02-05” is no date, or before the quotation's own; write it as 2027-04-30`},
		"validity the same day": {enginetest.Teasel(t), change(func(d *quote.Details) { d.ValidUntil = "2027-02-06" }),
			""},
	} {
		t.Run(name, func(t *testing.T) {
			e := enginetest.Small()[pack.Show]
			q, err := quote.Freeze(e, enginetest.Answer(t, e, c.spec), c.details)
			if c.want != "" {
				enginetest.WantError(t, err, c.want)
				if q != nil {
					t.Error("there is a quote all the same")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if q.Number != c.details.Number || q.Approval != c.details.Approval || len(q.Clashes) > 0 {
				t.Errorf("frozen %+v", q.Details)
			}
		})
	}
}

// Validity in days from the date, past the ends of months and years; a date given stays.
func TestFreezeValidity(t *testing.T) {
	for date, until := range map[string]string{
		"2027-01-01": "2027-01-31", "2027-01-31": "2027-03-02", "2028-01-31": "2028-03-01", "2027-02-28": "2027-03-30",
		"2028-02-29": "2028-03-30", "2027-04-30": "2027-05-30", "2027-12-02": "2028-01-01", "2027-12-31": "2028-01-30",
	} {
		e := enginetest.Small()[pack.Buyer]
		q, err := quote.Freeze(e, enginetest.Answer(t, e, enginetest.Teasel(t)), quote.Details{Number: "T-7",
			Date: date})
		if err != nil || q.ValidUntil != until {
			t.Errorf("of %s: valid until %s, want %s (%v)", date, q.ValidUntil, until, err)
		}
		q, err = quote.Freeze(e, enginetest.Answer(t, e, enginetest.Teasel(t)), quote.Details{Number: "T-7", Date: date,
			ValidUntil: "2029-01-01"})
		if err != nil || q.ValidUntil != "2029-01-01" {
			t.Errorf("of %s: valid until %s, want the date given (%v)", date, q.ValidUntil, err)
		}
	}
}

// A draft has no number and says what clashes.
func TestDraft(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	q := quote.Draft(e, enginetest.Answer(t, e, enginetest.Teasel(t, "top=top-folding", "cloth=cloth-heavy",
		"stowage=pocket*5")))
	enginetest.WantList(t, "clashes", q.Clashes, []string{"Side pocket: at most 4; there are 5.",
		"The heavy cloth cracks where it is folded."})
	if q.Number != "" || q.Date != "" || q.ValidUntil != "" {
		t.Errorf("details %+v", q.Details)
	}
	if d := q.Spec.Digest(); q.SpecDigest != d || q.Edition != e.Pack.Edition {
		t.Errorf("digest %s, want %s; edition %v", q.SpecDigest, d, q.Edition)
	}
}

// What a reader sees of a boat: contents by section, figures and use with their units, and which slots are as in the
// standard build.
func TestDraftSpecification(t *testing.T) {
	e := enginetest.Small()[pack.Buyer]
	q := quote.Draft(e, enginetest.Answer(t, e, enginetest.Abroad(enginetest.Teasel(t, "top=top-fixed",
		"stowage=pocket*3"))))
	var got []string
	for _, sec := range q.Contents {
		for _, s := range sec.Slots {
			for _, o := range s.Options {
				line := sec.Title + ", " + s.Title + ": " + strings.Repeat(o.Title+" ", o.Count)
				if s.Standard {
					line += "as standard"
				}
				got = append(got, strings.TrimSpace(line))
			}
		}
	}
	enginetest.WantList(t, "specification", got, []string{"Shelter, Top: Fixed top",
		"Shelter, Cloth: Light acrylic cloth as standard", "Shelter, Stowage: Side pocket Side pocket Side pocket"})
	values := func(list []engine.Value) (out []string) {
		for _, v := range list {
			out = append(out, strings.TrimSpace(v.Title+": "+v.Message().String()))
		}
		return out
	}
	enginetest.WantList(t, "use", values(q.Use), []string{"Persons on board: 4", "Home waters: Abroad"})
	enginetest.WantList(t, "figures", values(q.Figures), []string{"Mass of the boat: 312\u00a0kg", "Mass with " +
		"persons: 632\u00a0kg"})
	if p := q.Price; p.TaxMode != "zero" || !p.TaxRate.IsZero() || !p.Tax.IsZero() ||
		p.Condition != "Against proof of export." || !p.Total.Equal(p.Goods) {
		t.Errorf("price %+v", p)
	}
}

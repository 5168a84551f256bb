package quote

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
)

// Difference is one thing that a quote says and a fresh answer to its spec does not.
type Difference struct {
	Place string `json:"place"` // where it stands, from the top: price.total
	Was   string `json:"was"`   // in the quote; "" where it was not there
	Now   string `json:"now"`   // in the fresh answer; "" where it is no more
}

// Reopen answers the spec of a quote anew and freezes it with the same details. Against the edition that the quote was
// made from, the fresh quote is the same byte for byte, and there are no differences unless the file was changed by
// hand: the details, with which nothing can be compared, are under the digest of the file. Against another edition the
// differences name each change of price, specification and figures. A boat that the edition no longer builds is a draft
// with its clashes.
func Reopen(e *engine.Engine, q *Quote) (fresh *Quote, a *engine.Answer, differences []Difference, err error) {
	if a, err = e.Answer(q.Spec); err != nil {
		return nil, nil, nil, fmt.Errorf("reopening quote %.40q: %w", q.Number, err)
	}
	fresh = DraftIn(e, a, q.Units)
	fresh.Details = q.Details
	if q.Digest != "" || q.Number != "" {
		fresh.Digest = fresh.sum()
	}
	for _, n := range a.Notes {
		differences = append(differences, Difference{n.Place, msg.English.Say("quote.in-the-quote"),
			n.Message + "; " + n.Advice})
	}
	return fresh, a, append(append(differences, q.damage()...), Compare(q, fresh)...), nil
}

// damage says where the file of a quote is not as it was written, whatever the edition.
func (q *Quote) damage() (list []Difference) {
	if want := q.sum(); q.Number != "" && q.Digest != want {
		list = append(list, Difference{msg.English.Say("quote.digest"), q.Digest, want})
	}
	if q.text != nil {
		if place, was, now, differ := firstLine(q.text, q.Encode()); differ {
			list = append(list, Difference{msg.English.Say("quote.text", msg.Text("line", place)), was, now})
		}
	}
	return list
}

// firstLine finds the first line in which two texts differ.
func firstLine(was, now []byte) (place, a, b string, differ bool) {
	if bytes.Equal(was, now) {
		return "", "", "", false
	}
	old, fresh := strings.Split(string(was), "\n"), strings.Split(string(now), "\n")
	i := 0
	for i < min(len(old), len(fresh)) && old[i] == fresh[i] {
		i++
	}
	line := func(list []string) string {
		if i >= len(list) {
			return ""
		}
		return fmt.Sprintf("%.120q", list[i])
	}
	return msg.English.Say("quote.line", msg.Count("n", i+1)), line(old), line(fresh), true
}

// Compare lists every difference between two quotes in the order of the paper.
func Compare(was, now *Quote) []Difference {
	c := &comparison{}
	c.edition(was.Edition, now.Edition)
	c.text("spec", was.SpecDigest, now.SpecDigest)
	c.text("hull", was.Hull, now.Hull)
	c.yard(was.Yard, now.Yard)
	c.keyed("use", values(was.Use), values(now.Use))
	c.keyed("specification", contents(was.Contents), contents(now.Contents))
	c.keyed("figures", values(was.Figures), values(now.Figures))
	c.price(was.Price, now.Price)
	c.keyed("clashes", texts(was.Clashes), texts(now.Clashes))
	c.keyed("terms", texts(was.Terms), texts(now.Terms))
	c.keyed("cautions", texts(was.Cautions), texts(now.Cautions))
	c.conditions(&was.Conditions, &now.Conditions)
	c.rest(was, now)
	return c.out
}

// rest names a difference that none of the others has named: nothing that a quote holds is passed over. The digest
// follows from all of it.
func (c *comparison) rest(was, now *Quote) {
	if len(c.out) > 0 {
		return
	}
	a, b := *was, *now
	a.Digest, b.Digest = "", ""
	a.Signature, b.Signature = "", "" // of the file, not of the boat: a fresh answer has none
	if place, old, fresh, differ := firstLine(a.Encode(), b.Encode()); differ {
		c.text(place, old, fresh)
	}
}

type comparison struct{ out []Difference }

func (c *comparison) text(place, was, now string) {
	if was != now {
		c.out = append(c.out, Difference{place, was, now})
	}
}

func (c *comparison) edition(was, now pack.Edition) {
	if was != now {
		c.text("edition", fmt.Sprintf("%s of %s (%s)", was.Name, was.Date, was.Digest),
			fmt.Sprintf("%s of %s (%s)", now.Name, now.Date, now.Digest))
	}
}

func (c *comparison) yard(was, now pack.YardInfo) {
	if !reflect.DeepEqual(was, now) {
		c.text("yard", fmt.Sprint(was), fmt.Sprint(now))
	}
}

// entry is a line of a list with what identifies it.
type entry struct{ key, text string }

// numbered tells entries of the same key apart.
func numbered(list []entry) []entry {
	seen := map[string]int{}
	for i, e := range list {
		if seen[e.key]++; seen[e.key] > 1 {
			list[i].key = fmt.Sprintf("%s (%d)", e.key, seen[e.key])
		}
	}
	return list
}

// keyed compares two lists entry by entry; what is only in one is said to be nothing in the other.
func (c *comparison) keyed(place string, was, now []entry) {
	was, now = numbered(was), numbered(now)
	find := func(list []entry, key string) string {
		for _, e := range list {
			if e.key == key {
				return e.text
			}
		}
		return ""
	}
	for _, e := range was {
		c.text(place+"."+e.key, e.text, find(now, e.key))
	}
	for _, e := range now {
		if find(was, e.key) == "" {
			c.text(place+"."+e.key, "", e.text)
		}
	}
	if a, b := order(was, now), order(now, was); a != b {
		c.text(place+", order", a, b)
	}
}

// order lists the keys of a list that another has too.
func order(list, other []entry) string {
	var keys []string
	for _, e := range list {
		if slices.ContainsFunc(other, func(o entry) bool { return o.key == e.key }) {
			keys = append(keys, e.key)
		}
	}
	return strings.Join(keys, ", ")
}

func (c *comparison) price(was, now PricePart) {
	c.text("price.currency", was.Currency.Code, now.Currency.Code)
	c.text("price.region", was.RegionID+" "+was.Region, now.RegionID+" "+now.Region)
	tax := func(p *PricePart) string {
		return strings.Join([]string{p.TaxName, p.TaxRate.Percent(), string(p.TaxMode), p.Condition}, " ")
	}
	c.text("price.tax", tax(&was), tax(&now))
	c.keyed("price", lineEntries(was.Lines, was.Currency), lineEntries(now.Lines, now.Currency))
	c.keyed("discount", lineEntries(was.Discounts, was.Currency), lineEntries(now.Discounts, now.Currency))
	for _, t := range []struct {
		name     string
		was, now money.Amount
	}{{"goods", was.Goods, now.Goods}, {"net", was.Net, now.Net}, {"tax_amount", was.Tax, now.Tax},
		{"total", was.Total, now.Total}, {"payable", was.Payable, now.Payable}} {
		c.text("price."+t.name, digits(t.was, was.Currency), digits(t.now, now.Currency))
	}
	c.keyed("trade-in", tradeInEntries(&was), tradeInEntries(&now))
	c.keyed("stages", stageEntries(&was), stageEntries(&now))
}

// digits writes an amount with the digits of its currency, and with more where somebody gave it more.
func digits(a money.Amount, c money.Currency) string {
	if _, whole := a.Whole(-int32(c.Digits)); !whole {
		return a.String()
	}
	return a.Fixed(c.Digits)
}

func values(list []engine.Value) (out []entry) {
	for _, v := range list {
		out = append(out, entry{v.ID, v.Title + ": " + v.Message().String()})
	}
	return out
}

func contents(sections []SectionPart) (out []entry) {
	for _, sec := range sections {
		for _, s := range sec.Slots {
			text := sec.Title + ", " + s.Title + ":"
			for _, o := range s.Options {
				text += fmt.Sprintf(" %d × %s (%s).", o.Count, o.Title, o.ID)
				if o.Note != "" {
					text += " " + o.Note
				}
			}
			if s.Standard {
				text += " " + msg.English.Say("quote.as-standard")
			}
			out = append(out, entry{s.ID, text})
		}
	}
	return out
}

func texts(list []string) (out []entry) {
	for i, t := range list {
		out = append(out, entry{fmt.Sprint(i + 1), t})
	}
	return out
}

func lineEntries(list []LinePart, currency money.Currency) (out []entry) {
	for i, l := range list {
		key := l.Key
		if key == "" {
			key = fmt.Sprint(i + 1)
		}
		out = append(out, entry{key, l.Title + " " + l.Detail + " " + digits(l.Amount, currency)})
	}
	return out
}

func tradeInEntries(p *PricePart) []entry {
	if p.TradeIn == nil {
		return nil
	}
	return lineEntries([]LinePart{*p.TradeIn}, p.Currency)
}

func stageEntries(p *PricePart) (out []entry) {
	for _, s := range p.Stages {
		text := s.Share.Percent() + " " + digits(s.Amount, p.Currency)
		if !s.TradeIn.IsZero() {
			text = msg.English.Say("quote.after-trade-in", msg.Text("stage", text),
				msg.Text("amount", digits(s.TradeIn, p.Currency)))
		}
		out = append(out, entry{s.Title, text})
	}
	return out
}

package quote

import (
	"fmt"
	"slices"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/visible"
)

// Compare lists every difference between two quotes in the order of the paper. Nothing that a quote holds is passed
// over: what no part of the comparison names is named as a line of the file.
func Compare(was, now *Quote) []Difference {
	c := &comparison{}
	// only for want of the language are two quotes compared in different ones
	if was.Language != now.Language {
		c.message(placed("language"), plain(was.Language), msg.New("quote.not-spoken"))
	}
	c.edition(was.Edition, now.Edition)
	c.text(placed("spec"), was.SpecDigest, now.SpecDigest)
	c.text(placed("hull"), was.Hull, now.Hull)
	c.yard(&was.Yard, &now.Yard)
	c.message(placed("dealer"), was.Dealer.said(), now.Dealer.said())
	c.keyed("use", values(was.Use), values(now.Use))
	c.keyed("specification", contents(was.Contents), contents(now.Contents))
	c.part = PartFigures
	c.keyed("figures", values(was.Figures), values(now.Figures))
	c.part = PartPrice
	c.price(&was.Price, &now.Price)
	c.part = ""
	c.texts("clashes", was.Clashes, now.Clashes)
	c.texts("terms", was.Terms, now.Terms)
	c.texts("cautions", was.Cautions, now.Cautions)
	c.conditions(&was.Conditions, &now.Conditions)
	c.rest(was, now)
	return c.out
}

// placed is the name of a part of the quotation, by a code of this package.
func placed(part string) msg.Message { return msg.New("quote.part", msg.Choice("part", part)) }

// within is an entry of a part.
func within(part string, entry msg.Message) msg.Message {
	return msg.New("quote.within", msg.Words("part", placed(part)), msg.Words("entry", entry))
}

// comparison gathers differences.
type comparison struct {
	out  []Difference
	part string // of what is compared
}

// add adds a difference to the part that is compared.
func (c *comparison) add(place, was, now msg.Message) {
	c.out = append(c.out, Difference{Place: place, Was: was, Now: now, Part: c.part})
}

// message adds a difference where a reader would see one. The texts are compared in one language for all: two messages
// that read the same would puzzle whoever is shown both.
func (c *comparison) message(place, was, now msg.Message) {
	if was.String() != now.String() {
		c.add(place, was, now)
	}
}

// text adds a difference of two texts of the quotation.
func (c *comparison) text(place msg.Message, was, now string) {
	if was != now {
		c.add(place, plain(was), plain(now))
	}
}

// plain is a text of the quotation, empty where there is none.
func plain(text string) msg.Message {
	if text == "" {
		return msg.Message{}
	}
	return msg.Plain(visible.Show(text)) // a damage may be what cannot be seen
}

// rest names a difference that none of the others has named. The digest follows from all of it.
func (c *comparison) rest(was, now *Quote) {
	if len(c.out) > 0 {
		return
	}
	a, b := *was, *now
	a.Digest, b.Digest = "", ""
	a.Signature, b.Signature = "", "" // of the file, not of the boat: a fresh answer has none
	if d, differ := firstLine(a.Encode(), b.Encode()); differ {
		c.out = append(c.out, d)
	}
}

// edition shows the whole digests: two editions of one name and day are told apart by nothing else.
func (c *comparison) edition(was, now pack.Edition) {
	of := func(e *pack.Edition) msg.Message {
		return msg.New("quote.edition", msg.Text("name", e.Name), msg.Date("date", e.Date), msg.Text("digest",
			e.Digest))
	}
	if was != now {
		c.add(placed("edition"), of(&was), of(&now))
	}
}

// yard compares what the paper says of the yard, each by itself: a new bank must catch the eye of who pays.
func (c *comparison) yard(was, now *pack.YardInfo) {
	entries := func(y *pack.YardInfo) (out []entry) {
		for _, f := range []struct{ key, text string }{{"name", y.Name}, {"note", y.Note}, {"email", y.Email},
			{"phone", y.Phone}, {"page", y.Page}, {"register", y.Register}, {"tax-number", y.TaxNumber}, {"bank",
				y.Bank.Name},
			{"iban", y.Bank.IBAN}, {"bic", y.Bank.BIC}} {
			if f.text != "" {
				out = append(out, entry{f.key, placed(f.key), plain(f.text)})
			}
		}
		if len(y.Address) > 0 {
			out = append(out, entry{"address", placed("address"), msg.New("quote.list",
				msg.Texts("parts", msg.Commas, y.Address))})
		}
		return out
	}
	c.keyed("yard", entries(was), entries(now))
}

// said is somebody with his address in one line; empty for nobody.
func (p *Party) said() msg.Message {
	if p == nil {
		return msg.Message{}
	}
	parts := slices.Concat([]string{p.Name}, p.Address, []string{p.Email, p.Phone})
	return msg.New("quote.list", msg.Texts("parts", msg.Commas,
		slices.DeleteFunc(parts, func(s string) bool { return s == "" })))
}

// entry is a line of a list with what identifies it, what a reader calls it, and what it says.
type entry struct {
	key        string
	name, text msg.Message
}

// numbered tells entries of the same key apart, such as two discounts on the whole price, and says so where they have
// the same name too.
func numbered(list []entry) []entry {
	keys, names := map[string]int{}, map[string]int{}
	for i, e := range list {
		name := e.name.String()
		keys[e.key]++
		names[name]++
		if n := keys[e.key]; n > 1 {
			list[i].key = fmt.Sprintf("%s\x00%d", e.key, n) // no key of a book holds a null
		}
		if n := names[name]; n > 1 {
			list[i].name = msg.New("quote.again", msg.Words("name", e.name), msg.Count("n", n))
		}
	}
	return list
}

// keyed compares two lists entry by entry; what is only in one is said to be nothing in the other. A name that changed
// stands before the text, or the change would not be seen.
func (c *comparison) keyed(part string, was, now []entry) {
	was, now = numbered(was), numbered(now)
	// what was, in its order, then what is new
	for _, e := range was {
		other, ok := find(now, e.key)
		if ok && other.name.String() != e.name.String() {
			c.message(within(part, e.name), e.whole(), other.whole())
			continue
		}
		c.message(within(part, e.name), e.text, other.text)
	}
	for _, e := range now {
		if _, ok := find(was, e.key); !ok {
			c.message(within(part, e.name), msg.Message{}, e.text)
		}
	}
	if a, b := order(was, now), order(now, was); !slices.Equal(keys(a), keys(b)) {
		c.add(msg.New("quote.order", msg.Words("part", placed(part))), row(a), row(b))
	}
}

// whole is an entry with its name.
func (e *entry) whole() msg.Message {
	return msg.New("quote.entry", msg.Words("name", e.name), msg.Words("text", e.text))
}

// find looks a key up. Lists are short, and the order in which they stand is needed anyway.
func find(list []entry, key string) (entry, bool) {
	if i := slices.IndexFunc(list, func(e entry) bool { return e.key == key }); i >= 0 {
		return list[i], true
	}
	return entry{}, false
}

// order are the entries of a list that another has too.
func order(list, other []entry) (both []entry) {
	for _, e := range list {
		if _, ok := find(other, e.key); ok {
			both = append(both, e)
		}
	}
	return both
}

// keys are what two orders are compared by.
func keys(list []entry) (out []string) {
	for _, e := range list {
		out = append(out, e.key)
	}
	return out
}

// row is the names of entries one after the other.
func row(list []entry) msg.Message {
	var names []msg.Message
	for _, e := range list {
		names = append(names, e.name)
	}
	return msg.New("quote.list", msg.List("parts", msg.Commas, names...))
}

// texts compares sentences of equal rank by their place in the list; they have no names.
func (c *comparison) texts(part string, was, now []string) {
	entries := func(list []string) (out []entry) {
		for i, t := range list {
			n := msg.New("quote.nth", msg.Count("n", i+1))
			out = append(out, entry{n.String(), n, plain(t)})
		}
		return out
	}
	c.keyed(part, entries(was), entries(now))
}

// conditions are what a lawyer would compare first, and a customer last.
func (c *comparison) conditions(was, now *Conditions) {
	c.keyed("dimensions", values(was.Dimensions), values(now.Dimensions))
	c.texts("every-boat-has", was.Includes, now.Includes)
	c.keyed("standard-build", contents(was.Standard), contents(now.Standard))
	c.texts("delivery", was.Delivery, now.Delivery)
	c.texts("exclusions", was.Exclusions, now.Exclusions)
	c.texts("warranty", was.Warranty, now.Warranty)
	c.text(placed("acceptance"), was.Acceptance, now.Acceptance)
}

// price compares what is charged, line by line and then sum by sum, so that a sum which was changed by hand stands out
// from one that follows from its lines.
func (c *comparison) price(was, now *PricePart) {
	c.text(placed("currency"), was.Currency.Code, now.Currency.Code)
	// the identifier decides the tax, and the title what a reader sees of it
	region := func(p *PricePart) msg.Message {
		return msg.New("quote.region", msg.Text("region", p.Region), msg.Text("id", p.RegionID))
	}
	c.message(placed("region"), region(was), region(now))
	tax := func(p *PricePart) msg.Message {
		return msg.Sentences(msg.New("quote.tax", msg.Text("tax", p.TaxName), msg.Share("rate", p.TaxRate),
			msg.Choice("mode", string(p.TaxMode))), plain(p.Condition))
	}
	c.message(placed("tax"), tax(was), tax(now))
	c.keyed("price", lineEntries(was, was.Lines), lineEntries(now, now.Lines))
	c.keyed("discounts", lineEntries(was, was.Discounts), lineEntries(now, now.Discounts))
	for _, sum := range []struct {
		name     string
		was, now money.Amount
	}{{"goods", was.Goods, now.Goods}, {"net", was.Net, now.Net}, {"tax-amount", was.Tax, now.Tax},
		{"total", was.Total, now.Total}, {"payable", was.Payable, now.Payable}} {
		c.message(placed(sum.name), msg.New("quote.amount", amount(sum.was, was)),
			msg.New("quote.amount", amount(sum.now, now)))
	}
	c.keyed("trade-in", tradeInEntries(was), tradeInEntries(now))
	c.keyed("stages", stageEntries(was), stageEntries(now))
	c.message(placed("converted"), was.ConvertedNote(), now.ConvertedNote())
}

// ConvertedNote says what is to pay in the currency of where the boat goes, and that it is for reading alone; empty
// where that is the currency of the price.
func (p *PricePart) ConvertedNote() msg.Message {
	if p.Converted == nil {
		return msg.Message{}
	}
	c := price.Converted{Amount: p.Converted.Payable, Currency: p.Converted.Currency, Rate: p.Converted.Rate,
		Date: p.Converted.Date}
	return c.Message(p.Currency, p.RegionID)
}

// amount is one of a price with the digits of its currency, and with more where a file that was changed by hand has
// more: rounded it would read as if nothing had been changed.
func amount(a money.Amount, p *PricePart) msg.Arg {
	if _, whole := a.Whole(-int32(p.Currency.Digits)); !whole {
		return msg.Text("amount", a.String())
	}
	return msg.Money("amount", a, p.Currency, p.RegionID)
}

// values are figures or fields by their identifiers, which stay when a title of the book changes.
func values(list []engine.Value) (out []entry) {
	for _, v := range list {
		out = append(out, entry{v.ID, msg.Plain(v.Title), v.Message()})
	}
	return out
}

// contents are the slots of a specification with all that stands at each.
func contents(sections []SectionPart) (out []entry) {
	for _, sec := range sections {
		for _, s := range sec.Slots {
			var parts []msg.Message
			for _, o := range s.Options {
				parts = append(parts, msg.New("quote.option", msg.Count("n", o.Count), msg.Text("title", o.Title),
					msg.Text("id", o.ID)), plain(o.Note))
				if o.Brought {
					parts = append(parts, msg.New("quote.brought"))
				}
			}
			if s.Standard {
				parts = append(parts, msg.New("quote.as-standard"))
			}
			name := msg.New("quote.slot", msg.Text("section", sec.Title), msg.Text("slot", s.Title))
			out = append(out, entry{s.ID, name, msg.Sentences(parts...)})
		}
	}
	return out
}

// lineEntries are lines by their key. An old line without a key is known by its place.
func lineEntries(p *PricePart, list []LinePart) (out []entry) {
	for _, l := range list {
		sum := msg.New("quote.amount", amount(l.Amount, p))
		if l.Detail != "" {
			sum = msg.New("quote.entry", msg.Words("name", msg.Plain(l.Detail)), msg.Words("text", sum))
		}
		out = append(out, entry{l.Key, plain(l.Title), sum})
	}
	return out
}

// tradeInEntries is the trade-in as a line, if there is one.
func tradeInEntries(p *PricePart) []entry {
	if p.TradeIn == nil {
		return nil
	}
	return lineEntries(p, []LinePart{*p.TradeIn})
}

// stageEntries know a stage by its title, since it has nothing else: one that is renamed is another.
func stageEntries(p *PricePart) (out []entry) {
	for _, s := range p.Stages {
		text := msg.New("quote.stage", msg.Share("share", s.Share), amount(s.Amount, p))
		if !s.TradeIn.IsZero() {
			text = msg.New("quote.after-trade-in", msg.Words("stage", text), amount(s.TradeIn, p))
		}
		out = append(out, entry{s.Title, plain(s.Title), text})
	}
	return out
}

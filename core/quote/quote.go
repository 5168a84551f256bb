// Package quote is the document that a customer gets: a boat's price and specification frozen with the spec, the
// edition and the conditions behind it, as canonical JSON with its digest. It reads a document back strictly, compares
// it with what an engine answers today, and names every difference. It computes no price itself: that is the work of
// core/engine.
package quote

import (
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/spec"
)

// Format is the version of the encoding of a quote.
const Format = 1

// Kind marks a file as a quote.
const Kind = "quote of a launch"

// Quote is an answer frozen for a customer, or a draft where it has no number. Amounts are decimal text with the
// currency's digits. There is no cost, hour or margin in it but what the spec's own extra items and trade-in say, and
// who approved it; [Quote.ForCustomer] leaves these out.
type Quote struct {
	Format   int    `json:"format"`   // [Format]: readers of another version refuse the file
	Kind     string `json:"kind"`     // [Kind]
	Language string `json:"language"` // of its words, the tag of BCP 47; it is opened again in the same
	Details
	Yard    pack.YardInfo `json:"yard"`             // who sells
	Dealer  *Party        `json:"dealer,omitempty"` // through whom; his identifier in the book stands in the spec
	Edition pack.Edition  `json:"edition"`          // of the price book that was answered from
	Spec    spec.Spec     `json:"spec"`             // what was wished, from which an answer can be made again
	// SpecDigest is that of the spec that a customer may have, so that it gives away nothing of the rest. SHA-256 in
	// hexadecimal.
	SpecDigest string          `json:"spec_digest"`
	Hull       string          `json:"hull"` // its title
	Use        []engine.Value  `json:"use"`  // what the boat is meant for; figures follow from it
	Contents   []SectionPart   `json:"specification"`
	Figures    []engine.Value  `json:"figures"`         // those that the book marks as quoted
	Solar      *look.SolarPart `json:"solar,omitempty"` // of a boat with panels
	Price      PricePart       `json:"price"`
	Clashes    []string        `json:"clashes,omitempty"` // of a draft
	Terms      []string        `json:"terms,omitempty"`
	Cautions   []string        `json:"cautions,omitempty"`
	Conditions
	// Digest is the SHA-256 of the file as it is without it, in hexadecimal; "" in a draft. It finds damage and
	// carelessness: whoever changes a file on purpose can write another.
	Digest string `json:"digest,omitempty"`
	// Signature is the yard's over all of the above, a compact JWS with its payload left out; "" before it is
	// confirmed. This package neither signs nor verifies: see core/seal, and [Verdict].
	Signature string `json:"signature,omitempty"`

	text []byte // as it was read
}

// SectionPart is a section of the specification with its slots that hold something.
type SectionPart struct {
	Title string     `json:"title"`
	Slots []SlotPart `json:"slots"` // in the order of the book
}

// SlotPart is what a slot holds. Standard says that it is as in the standard build.
type SlotPart struct {
	ID       string       `json:"id"`
	Title    string       `json:"title"`
	Standard bool         `json:"standard,omitempty"`
	Options  []OptionPart `json:"options"`
}

// OptionPart is an option with its count.
type OptionPart struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Note  string `json:"note,omitempty"` // of the book, for a buyer
	Count int    `json:"count"`          // pieces, at least one
	// the customer brings it, or something that belongs to it
	Brought bool `json:"brought,omitempty"`
}

// PricePart is the price as the customer sees it. Every amount is in Currency and rounded to its minor unit, and is
// exact decimal text in the file. Lines and totals have tax where TaxMode is inclusive.
type PricePart struct {
	Currency  money.Currency `json:"currency,omitzero"`   // its code of ISO 4217
	Region    string         `json:"region,omitempty"`    // where the boat goes: its title
	RegionID  string         `json:"region_id,omitempty"` // begins with the code of a country
	TaxName   string         `json:"tax_name,omitempty"`  // such as VAT
	TaxRate   money.Rate     `json:"tax_rate,omitzero"`   // a share of the net price: 0.19 is 19 %
	TaxMode   pack.TaxMode   `json:"tax_mode,omitempty"`
	Condition string         `json:"condition,omitempty"` // under which the region is taxed so
	Lines     []LinePart     `json:"lines"`
	Discounts []LinePart     `json:"discounts,omitempty"`
	Goods     money.Amount   `json:"goods"` // the sum of the lines, before discounts
	Net       money.Amount   `json:"net"`   // without tax
	Tax       money.Amount   `json:"tax"`
	Total     money.Amount   `json:"total"` // with tax
	// TradeIn is below zero; Detail is the rule by which it is set against the total.
	TradeIn *LinePart    `json:"trade_in,omitempty"`
	Payable money.Amount `json:"payable"` // the total less the trade-in
	Stages  []StagePart  `json:"stages,omitempty"`
	// what is to pay in the currency of where the boat goes; nil for none
	Converted *ConvertedPart `json:"converted,omitempty"`
}

// ConvertedPart is what is to pay in another currency, for reading alone: the price is that of the quotation.
type ConvertedPart struct {
	Currency money.Currency `json:"currency"` // its code of ISO 4217
	Rate     money.Rate     `json:"rate"`     // what one unit of the price's currency is worth
	Date     string         `json:"date"`     // of the rate, of ISO 8601
	Payable  money.Amount   `json:"payable"`
}

// LinePart is a line of the price, or a discount (an amount below zero).
type LinePart struct {
	Key     string       `json:"key,omitempty"` // slot or extra item, as in the spec
	Title   string       `json:"title"`
	Detail  string       `json:"detail,omitempty"`
	Amount  money.Amount `json:"amount"`
	Section string       `json:"section,omitempty"` // of the specification, under which the line stands
	Carried money.Amount `json:"carried,omitzero"`  // the sum of this and all lines before it
}

// StagePart is one payment.
type StagePart struct {
	Title   string       `json:"title"`
	Share   money.Rate   `json:"share"`             // of the total
	TradeIn money.Amount `json:"trade_in,omitzero"` // what of it the trade-in has paid, below zero
	Amount  money.Amount `json:"amount"`            // what is left to pay
}

// Draft puts an answer into the form of a quote without number and date. It may clash; then it says how.
func Draft(e *engine.Engine, a *engine.Answer) *Quote { return DraftIn(e, a, "") }

// DraftIn is [Draft] with figures and use stated in a reader's units; "" for those that are usual where the boat goes
// and in the language of the paper.
func DraftIn(e *engine.Engine, a *engine.Answer, units measure.System) *Quote {
	units = e.Units(a, units)
	q := &Quote{
		Format: Format, Kind: Kind, Language: e.Language().Tag(), Yard: e.Pack.Yard, Edition: e.Pack.Edition,
		Spec:       a.Spec,
		SpecDigest: a.Spec.Public().Digest(),
		Hull:       e.Pack.Hulls[a.Hull].Title, Use: asked(e.UseValues(a.Build, units)),
		Contents: contentsPart(e, a.Build, a.Standard),
		Figures:  quotedFigures(e, a.Build, units), Solar: look.Solar(e, a.Build),
		Price: pricePart(e, a), Terms: e.Pack.Terms, Cautions: e.Pack.Cautions,
		Conditions: conditions(e, a, units),
	}
	if d := a.Dealer; d != nil {
		q.Dealer = &Party{Name: d.Firm, Address: d.Address, Email: d.Email, Phone: d.Phone}
	}
	// in words, since the rule that is broken may be gone when the draft is read again
	for _, c := range a.Build.Clashes {
		q.Clashes = append(q.Clashes, e.Text(engine.Because(c)))
	}
	return q
}

// contentsPart is a boat section by section. A section of which it has nothing is left out, and so is an empty slot: a
// customer asks for what he gets.
func contentsPart(e *engine.Engine, b, standard *fit.Build) []SectionPart {
	var out []SectionPart
	for i, sec := range e.Pack.Sections {
		part := SectionPart{Title: sec.Title}
		for s, def := range e.Pack.Slots {
			if def.Section == i && b.State.Slots[s] > 0 {
				part.Slots = append(part.Slots, slotPart(e, b, standard, s))
			}
		}
		if len(part.Slots) > 0 {
			out = append(out, part)
		}
	}
	return out
}

// slotPart says what stands at a slot, and whether all of it, with its counts, is as in the standard build.
func slotPart(e *engine.Engine, b, standard *fit.Build, s int) SlotPart {
	def := &e.Pack.Slots[s]
	part := SlotPart{ID: def.ID, Title: def.Title, Standard: true}
	for o := def.First; o < def.End; o++ {
		n := b.State.Counts[o]
		part.Standard = part.Standard && n == standard.State.Counts[o]
		if n > 0 {
			opt := &e.Pack.Options[o]
			part.Options = append(part.Options, OptionPart{opt.ID, opt.Title, opt.Note, n, opt.Brought})
		}
	}
	return part
}

// pricePart is the price in a shape that can be read back. What it has in words is the book's or was typed; nothing in
// it tells what the boat costs the yard.
func pricePart(e *engine.Engine, a *engine.Answer) PricePart {
	s := a.Price
	p := PricePart{Currency: s.Currency, Goods: s.Goods, Net: s.Net, Tax: s.Tax, Total: s.Total, Payable: s.Payable}
	if r := s.Region; r != nil {
		p.Region, p.RegionID, p.TaxName, p.TaxMode, p.Condition = r.Title, r.ID, r.TaxName, r.TaxMode, r.Condition
		// a rate that is not charged would be read as one that is
		if r.TaxMode != pack.Zero {
			p.TaxRate = r.TaxRate
		}
	}
	sum := money.Amount{} // on each line, so that a table that goes on over the page can be added up there
	line := func(l LinePart) LinePart {
		sum = sum.Add(l.Amount)
		l.Carried = sum
		return l
	}
	for _, l := range s.Lines {
		p.Lines = append(p.Lines, line(LinePart{Key: l.Key, Title: e.Text(l.Title), Detail: e.Text(l.Detail),
			Amount: l.Shown, Section: sectionOf(e, l.Key)}))
	}
	// below zero, so that the column adds up as it stands
	for _, d := range s.Discounts {
		p.Discounts = append(p.Discounts, line(LinePart{Key: d.On, Title: d.Title, Amount: d.Amount.Neg()}))
	}
	if t := s.TradeIn; t != nil {
		p.TradeIn = &LinePart{Title: t.Title, Detail: e.Text(price.TradeInRule()), Amount: t.Allowance.Neg()}
	}
	for _, st := range s.Stages {
		p.Stages = append(p.Stages, StagePart{st.Title, st.Share, st.TradeIn.Neg(), st.Amount})
	}
	if c := s.Converted; c != nil {
		p.Converted = &ConvertedPart{c.Currency, c.Rate, c.Date, c.Amount}
	}
	return p
}

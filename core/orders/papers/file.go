package papers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/orders"
	"ribband/core/paper"
	"ribband/core/quote"
)

// box is the place of a value that nobody has measured yet, to be filled in by hand.
const box = "________"

// BoatFile is the file of a boat as one paper: its number, who has it, what it is, what its makers noted and measured
// beside what was predicted, its pictures by their digests, what its declaration has to say, what its plates say, and
// how it leaves the yard. Nothing of costs and hours is in it.
//
// It declares nothing: whoever builds a boat answers for it, and signs. The contents of declarations are in own words.
// Source: Directive 2013/53/EU, article 15 and annex IV; Recreational Craft Regulations 2017 (S.I. 2017/737), from
// memory; 33 CFR 181.5 to 181.29 and part 183.
func BoatFile(l *msg.Language, f *orders.BoatFile) *doc.Doc {
	b := &boatFile{writer: in(l), f: f}
	b.source = &paper.Source{Language: b.Language, Quote: f.Quote, Yard: f.Yard}
	q := f.Quote
	title := b.Say("office.boat-file", msg.Text("hull", q.Hull), msg.Text("number", b.number()))
	blocks := []doc.Block{letterhead(&q.Yard), doc.Heading(title), b.particulars(), b.warranty(), b.history(),
		b.source.Specification(q.Contents), b.numbers(), b.trial(), b.values(), b.photographs(), b.declaration()}
	blocks = append(blocks, b.despatch())
	blocks = append(blocks, b.source.BoatPapers(f.Yard)...)
	cautions := append([]string{b.Say("office.file-caution")}, q.Cautions...)
	blocks = append(blocks, notes(b.Say("paper.cautions"), cautions),
		section("", "acceptance", doc.Signatures{b.Say("paper.yard-signs", msg.Text("yard", q.Yard.Name))}),
		law(&q.Yard))
	return &doc.Doc{Title: title, Foot: title, Head: b.listed(q.Hull, f.Order.Number), Dense: true, Blocks: blocks,
		Data: b.data()}
}

// boatFile builds the paper.
type boatFile struct {
	writer
	f      *orders.BoatFile
	source *paper.Source
}

// number is what the boat is called: its hull number, or the order as long as it has none.
func (b *boatFile) number() string {
	// an order has a number from its first day, a hull from the day on which somebody stamps it
	if b.f.Number.Full != "" {
		return b.f.Number.Full
	}
	return b.f.Order.Number
}

// party is somebody in a line.
func (w writer) party(p *quote.Party) string {
	return w.listed(append(append([]string{p.Name}, p.Address...), p.Email, p.Phone)...)
}

// particulars are whose boat it is, and by which orders and quotations it was built.
func (b *boatFile) particulars() doc.Terms {
	o := b.f.Order
	// left out until it is so: an empty line would be filled in before the day
	handed := ""
	if known := o.Known(); !known.HandedOver.IsZero() {
		handed = b.Date(known.HandedOver.String())
	}
	// what is missing of the number stands where the number would, so that nobody stamps a plate without it
	number := b.f.Number.Full
	if number == "" {
		number = b.Text(msg.Sentences(b.f.Number.Missing...))
	}
	return particulars([2]string{b.Say("office.hull-number"), number}, [2]string{b.Say("paper.boat"), b.f.Quote.Hull},
		[2]string{b.Say("office.order"), b.listed(o.Number, b.Date(o.Accepted.String()))},
		[2]string{b.Say("office.owner"), b.party(b.f.Owner())}, [2]string{b.Say("office.handed-over"), handed},
		[2]string{b.Say("paper.destination"), b.f.Quote.Price.Region})
}

// warranty is until when who answers for what: by days where they were entered, and in the words of the quotation.
func (b *boatFile) warranty() doc.Section {
	// the words of the quotation hold; days are what somebody has worked out from them
	known, terms := b.f.Order.Known(), doc.Terms{}
	for _, w := range known.Warranty {
		terms.List = append(terms.List, doc.Term{Name: w.Title, Values: []string{b.Say("office.until",
			msg.Date("day", w.Until.String()))}})
	}
	list := b.f.Quote.Warranty
	if !known.HandedOver.IsZero() && len(list) > 0 {
		list = append([]string{b.Say("office.warranty-from", msg.Date("day", known.HandedOver.String()))}, list...)
	}
	return section(b.Say("paper.warranty"), "notes", terms, doc.List(list))
}

// history are the quotation and its changes, which say together what was built.
func (b *boatFile) history() doc.Section {
	// with their digests, by which each paper is found to be the one
	var list []string
	o := b.f.Order
	for i, q := range o.Quotes() {
		day := o.Accepted
		if i > 0 {
			day = o.Changes[i-1].Accepted
		}
		// the first day is that of the order, the others are those of its changes
		list = append(list, b.Say("office.accepted-on", msg.Text("quotation", b.Say("paper.quotation",
			msg.Text("number", q.Number), msg.Count("revision", q.Revision))), msg.Date("day", day.String()),
			msg.Text("digest", q.Digest)))
	}
	return notes(b.Say("office.history"), list)
}

// numbers are what was noted in words: serial numbers, batches.
func (b *boatFile) numbers() doc.Section {
	// with the operation: the resin of the hull is another batch than that of the deck
	t := doc.Table{Columns: []doc.Column{{Title: b.Say("office.what")}, {Title: b.Say("paper.operation")},
		{Title: b.Say("office.noted")}}}
	t.Groups = doc.Rows(b.f.Numbers, func(v orders.FiledValue) doc.Row {
		return row(v.Title, doc.Text(v.Operation), doc.Text(boxed(v.Value)))
	})
	return section(b.Say("office.numbers"), "", t)
}

// boxed is a value, or the place for it.
func boxed(text string) string {
	if text == "" {
		return box
	}
	return text
}

// trial is the current of the battery over speed, as predicted and as measured.
func (b *boatFile) trial() doc.Section {
	// a place for each speed that the boat should reach, so that the paper can go along to the tank
	t := doc.Table{Columns: columns(b.Say("office.speed-kn"), b.Say("office.predicted-a"), b.Say("office.measured-a"),
		b.Say("office.deviation"))}
	t.Groups = doc.Rows(b.f.Runs, func(r orders.FiledRun) doc.Row {
		predicted, measured := doc.Cell{}, doc.Text(box)
		if r.Predicted > 0 {
			predicted = doc.Number(r.Predicted, 1)
		}
		if r.Measured > 0 {
			measured = doc.Number(r.Measured, 1)
		}
		return row(b.Number(r.SpeedKn, 1), predicted, measured, doc.Text(b.deviation(r.Deviation())))
	})
	s := section(b.Say("office.trial"), "", t)
	s.Note = b.Say("office.trial-note")
	return s
}

// deviation says how a value stands to what it should be, in words: a number alone would leave it to the reader whether
// it is good.
func (b *boatFile) deviation(d orders.Deviation) string {
	const close = 2 // per cent, which is what instruments and reading leave open; common practice, no source
	if !d.Measured {
		return ""
	}
	// the bound first, which decides; then how far the computation was off
	var list []string
	switch {
	case d.TooLow:
		list = append(list, b.Say("office.too-low"))
	case d.TooHigh:
		list = append(list, b.Say("office.too-high"))
	}
	switch {
	case !d.Compared && len(list) == 0:
		list = append(list, b.Say("office.good"))
	case d.Compared && d.Percent >= -close && d.Percent <= close:
		list = append(list, b.Say("office.as-predicted"))
	case d.Compared && d.Percent > 0:
		list = append(list, b.Say("office.more", msg.Count("percent", d.Percent)))
	case d.Compared:
		list = append(list, b.Say("office.less", msg.Count("percent", -d.Percent)))
	}
	return b.listed(list...)
}

// values are what the shops measured, shop by shop in the order of the work, each beside what it should be.
func (b *boatFile) values() doc.Section {
	t := doc.Table{Columns: []doc.Column{{Title: b.Say("office.what")}, {Title: b.Say("office.predicted"), Right: true},
		{Title: b.Say("office.bounds"), Right: true}, {Title: b.Say("office.measured"), Right: true},
		{Title: b.Say("office.deviation")}}}
	for _, shop := range b.f.Shops {
		g := doc.Group{Title: shop.Title}
		for i := range shop.Values {
			v := &shop.Values[i]
			// with each value, since a table of one unit is rare in a boat
			unit := doc.Unit(b.Language, v.Unit)
			if v.Unit == "each" { // a count needs no unit
				unit = ""
			}
			// a place to fill in is the same for all, and its unit stands behind it
			between := " "
			if v.Unit == "deg" && v.Value != "" { // as in print: 8°
				between = ""
			}
			measured := strings.TrimSpace(boxed(b.Decimal(v.Value)) + between + unit)
			// the title first, since several operations measure the same thing
			r := row(v.Title, doc.Text(v.Predicted), doc.Text(b.bounds(v, unit)), doc.Text(measured),
				doc.Text(b.deviation(v.Deviation())))
			r.Detail = v.Operation
			g.Rows = append(g.Rows, r)
		}
		t.Groups = append(t.Groups, g)
	}
	s := section(b.Say("office.values"), "", t)
	s.Note = b.Say("office.values-note")
	return s
}

// bounds are between which a value is good.
func (b *boatFile) bounds(v *orders.FiledValue, unit string) string {
	// as the book has them: a bound is not rounded
	exact := func(x float64) string { return b.Decimal(strconv.FormatFloat(x, 'f', -1, 64)) }
	// one, both or none: what is counted often has no bound
	var list []string
	if v.Least != nil {
		list = append(list, strings.TrimSpace(b.Say("office.at-least", msg.Text("value", exact(*v.Least)),
			msg.Text("unit", unit))))
	}
	if v.Most != nil {
		list = append(list, strings.TrimSpace(b.Say("office.at-most", msg.Text("value", exact(*v.Most)),
			msg.Text("unit", unit))))
	}
	return b.listed(list...)
}

// photographs are the pictures by name, with the digest that tells whether one is still the same.
func (b *boatFile) photographs() doc.Section {
	// by name and digest: the picture itself is a file beside the paper
	t := doc.Table{Columns: []doc.Column{{Title: b.Say("office.picture")}, {Title: b.Say("office.file")},
		{Title: b.Say("office.state")}}}
	t.Groups = doc.Rows(b.f.Photos, func(p orders.FiledPhoto) doc.Row {
		r := row(p.Title, doc.Text(p.File), doc.Text(b.Say("office.photo", msg.Choice("state", string(p.State)))))
		r.Detail = "SHA-256 " + p.SHA256
		return r
	})
	return section(b.Say("office.photographs"), "", t)
}

// declaration is what a declaration of conformity has to say, filled in as far as the yard's book and the boat say it.
// What only the builder can say has an empty place.
func (b *boatFile) declaration() doc.Section {
	q, limits := b.f.Quote, b.f.Limits
	// in own words and of the law of the place alone: a list of all three would be signed as a whole
	var list []string
	maker := msg.Text("maker", b.listed(append([]string{q.Yard.Name}, q.Yard.Address...)...))
	switch limits {
	case "eu", "gb":
		// the two have the same order of contents; law, standards and bodies bear other names
		what := msg.Choice("law", limits)
		list = []string{
			b.Say("office.declares-number", msg.Text("number", boxed(b.f.Number.Full)), msg.Text("hull", q.Hull)),
			b.Say("office.declares-maker", maker),
			b.Say("office.declares-sole"),
			b.Say("office.declares-object", msg.Text("object", b.object())),
			b.Say("office.declares-law", what), b.Say("office.declares-category"),
			b.Say("office.declares-standards", what), b.Say("office.declares-body", what),
			b.Say("office.declares-engine"), b.Say("office.declares-signatory"),
		}
	case quote.LimitsUS:
		list = []string{
			b.Say("office.us-label", maker),
			b.Say("office.us-number", msg.Text("number", boxed(b.f.Number.Full))),
			b.Say("office.us-date"), b.Say("office.us-parts"),
			b.Say("office.us-keep"),
		}
	default:
		list = []string{b.Say("office.declares-elsewhere")}
	}
	s := section(b.Say("office.declaration", msg.Choice("law", limits)), "", doc.List(list))
	s.Note = b.Say("office.declaration-note")
	return s
}

// object describes the boat so that it can be told from others: model, dimensions and what it weighs.
func (b *boatFile) object() string {
	// as many as tell two boats of one model apart, and no more: it is a declaration and no prospectus
	list := []string{b.f.Quote.Hull}
	for _, v := range slices.Concat(b.f.Quote.Dimensions, b.f.Quote.Figures) {
		if v.Number != nil && len(list) < 8 {
			list = append(list, fmt.Sprintf("%s %s", b.Inside(v.Title), b.Text(v.Message())))
		}
	}
	return b.listed(list...)
}

// despatch is what a driver and a crane want to know: sizes, weights, where it is lifted. The limits of roads and
// containers follow, with film and cautions.
func (b *boatFile) despatch() doc.Section {
	// the customer's dimensions and the yard's figures, each as its own paper has it
	t := &b.f.Yard.Transport
	var terms doc.Terms
	add := func(name, value string) {
		if value != "" {
			terms.List = append(terms.List, doc.Term{Name: name, Values: []string{value}})
		}
	}
	for _, v := range b.f.Quote.Dimensions {
		add(v.Title, b.Text(v.Message()))
	}
	// heights as it is shipped and as it floats, for bridges on both ways
	for _, v := range b.f.Yard.Figures {
		if despatched(&v) {
			add(v.Title, b.Text(v.Message()))
		}
	}
	// either is wrapped, over the sheer for the road or whole for the sea: the yard takes one of them
	if t.CoverM2 > 0 {
		add(b.Say("office.film-cover"), b.Quantity(t.CoverM2, "m2", 1))
		add(b.Say("office.film-whole"), b.Quantity(t.WholeM2, "m2", 1))
	}
	add(b.Say("office.lifting"), b.Say("office.lifting-points"))
	return section(b.Say("office.despatch"), "values", terms)
}

// despatched says whether a figure is one of those that a carrier asks for: heights, and what is lifted and towed.
func despatched(v *engine.Value) bool {
	return slices.Contains([]string{"mass_kg", "transport_height_m", "trailer_kg", "trailer_gross_kg",
		"air_draft_m", "air_draft_down_m"}, v.ID)
}

// data are all values of the file for a program.
func (b *boatFile) data() *doc.Table {
	t := &doc.Table{Groups: []doc.Group{{}}}
	for _, name := range []string{"kind", "operation", "title", "value", "unit", "predicted", "detail"} {
		t.Columns = append(t.Columns, doc.Column{Title: name})
	}
	// kinds and columns are codes, in no language
	add := func(kind string, cells ...doc.Cell) {
		t.Groups[0].Rows = append(t.Groups[0].Rows, row(kind, cells...))
	}
	// values as they were noted, without units in them: the unit has a column
	none := doc.Cell{}
	add("hull-number", none, none, doc.Text(b.f.Number.Full))
	for _, v := range b.f.Numbers {
		add("noted", doc.Text(v.Operation), doc.Text(v.Title), doc.Text(v.Value))
	}
	for _, r := range b.f.Runs {
		add("run", none, doc.Text("current"), doc.Some(r.Measured), doc.Text("A"), doc.Some(r.Predicted),
			doc.Text(strconv.FormatFloat(r.SpeedKn, 'f', -1, 64)+" kn"))
	}
	for _, shop := range b.f.Shops {
		for _, v := range shop.Values {
			add("value", doc.Text(v.Operation), doc.Text(v.Title), doc.Text(v.Value), doc.Text(v.Unit),
				doc.Text(v.Predicted))
		}
	}
	for _, p := range b.f.Photos {
		add("photograph", none, doc.Text(p.Title), doc.Text(p.File), none, none, doc.Text(p.SHA256))
	}
	return t
}

// Register is the yard's register of hull numbers.
func Register(l *msg.Language, yard string, list []orders.Registered) *doc.Doc {
	// by serial number, which is how a new one is found
	w := in(l)
	t := doc.Table{Style: "listing", Columns: []doc.Column{{Title: w.Say("office.serial")},
		{Title: w.Say("office.hull-number")}, {Title: w.Say("office.order")}, {Title: w.Say("paper.boat")},
		{Title: w.Say("office.owner")}}}
	t.Groups = doc.Rows(list, func(r orders.Registered) doc.Row {
		return row(r.Serial, doc.Text(r.Number), doc.Text(r.Order), doc.Text(r.Hull), doc.Text(r.Customer))
	})
	title := w.Say("office.register", msg.Text("yard", yard))
	return &doc.Doc{Title: title, Data: &t, Blocks: []doc.Block{doc.Heading(title), section("", "", t)}}
}

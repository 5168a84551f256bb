// Package synthetic makes large books out of one: the same hulls with many times as many sections, slots, options and
// rules, to see how the work of the engine grows with a book. Whatever it makes is invented, and the book says so; no
// boat of it should be built.
//
// Every copy is as the book that it was made of: its formulas read the options and slots of the copy, so that each
// option has as many neighbours as before. All copies share the hulls, the use and the figures. A copy adds to the mass
// alone, and every mass, price, quantity and hour of an option is divided by the number of copies, so that the boat
// floats as it did. Rules whose condition names no option or slot ask something of the boat as a whole, for its use
// say; there is no second boat, and they are not copied.
//
// The package runs natively only.
package synthetic

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"

	"ribband/core/book"
	"ribband/core/money"
)

// Most is the largest number of times: the numbers behind identifiers have four digits at most, within their length.
const Most = 1000

// mass is the figure to which copies add, bank the part of it that is batteries.
const (
	mass = "mass_kg"
	bank = "bank_kg"
)

// Grow makes a book of so many times the options of another, which it leaves alone; once gives the same options and
// rules. The seed varies what copies weigh and cost by a tenth: the same book, number and seed give the same book. The
// error says that the number, or a name in the book, cannot be used.
func Grow(b *book.Book, times int, seed uint64) (*book.Book, error) {
	if times < 1 || times > Most {
		return nil, fmt.Errorf("growing a book: %d times; want 1 to %d", times, Most)
	}
	// the copy shares what is not changed, and the first book stays as it is
	out := *b
	// stands on page and papers, so that nobody takes such a boat for an offer
	out.Yard.Note.Value = fmt.Sprintf("An invented book: %d times the options of another. Nothing in it is an offer.",
		times)
	out.Edition.Name.Value = fmt.Sprintf("invented, %d times", times)
	out.Sections, out.Slots, out.Cuts, out.Rules = nil, nil, nil, nil
	pieces := map[string]bool{}
	out.Materials = slices.Clone(b.Materials)
	for i := range out.Materials {
		if m := &out.Materials[i]; b.Counted(m.Unit.Value) {
			pieces[m.ID.Value] = true
			// a tenth of a cleat is none that anybody fits: cleats cost a tenth
			m.Cost.Value = shared(m.Cost.Value, 1/float64(times))
		}
	}
	// copies follow one another, so that the first has the indices that it had in the first book
	for k := range times {
		c := &copying{number: k, times: times, seed: seed, pieces: pieces}
		if err := c.name(b); err != nil {
			return nil, fmt.Errorf("growing a book: %w", err)
		}
		for _, s := range b.Sections {
			s.ID = c.text(s.ID)
			out.Sections = append(out.Sections, s)
		}
		for i := range b.Slots {
			out.Slots = append(out.Slots, c.slot(&b.Slots[i]))
		}
		for i := range b.Cuts {
			out.Cuts = append(out.Cuts, c.cut(&b.Cuts[i]))
		}
		for _, r := range b.Rules {
			// a rule over the boat as a whole would be the same rule a hundred times
			if own := c.names.among(r.When.Value) || r.When.Empty() && c.names.among(r.Need.Value); k == 0 || own {
				r.ID, r.When, r.Need = c.suffixed(r.ID), c.formula(r.When), c.formula(r.Need)
				out.Rules = append(out.Rules, r)
			}
		}
	}
	return &out, nil
}

// copying is the making of one copy; number 0 keeps its names, and carries all that it did.
type copying struct {
	number, times int
	seed          uint64
	names         names
	pieces        map[string]bool // materials that are taken whole
}

// name gathers what is renamed, and refuses a book in which an option has the name of something that is not. Formulas
// name options and slots in quotes, and in the same way regions, hulls and choices: one word for two things could not
// be renamed in one of them alone.
func (c *copying) name(b *book.Book) error {
	c.names = names{}
	for _, s := range b.Sections {
		c.names[s.ID.Value] = c.suffixed(s.ID).Value
	}
	for i := range b.Cuts {
		c.names[b.Cuts[i].ID.Value] = c.suffixed(b.Cuts[i].ID).Value
	}
	formulas := names{} // what formulas may name
	for _, s := range b.Slots {
		formulas[s.ID.Value] = c.suffixed(s.ID).Value
		for _, o := range s.Options {
			formulas[o.ID.Value] = c.suffixed(o.ID).Value
		}
	}
	for _, id := range kept(b) {
		if _, taken := formulas[id.Value]; taken {
			return fmt.Errorf("%s: %q is also the name of an option or slot, so that formulas cannot be renamed; "+
				"rename one of them", id.At, id.Value)
		}
	}
	for old, renamed := range c.names {
		if _, taken := formulas[old]; !taken {
			formulas[old] = renamed
		}
	}
	// sections and cuts are renamed where they are named outside of formulas
	c.names = formulas
	return nil
}

// kept are the names that formulas may hold and that all copies share. An option of such a name could not be told from
// them in quotes.
func kept(b *book.Book) (list []book.Text) {
	for _, h := range b.Hulls {
		list = append(list, h.ID)
	}
	for _, r := range b.Regions {
		list = append(list, r.ID)
	}
	for _, u := range b.Use {
		for _, x := range u.Choices.List {
			list = append(list, x.ID)
		}
	}
	return list
}

// suffixed is an identifier of this copy: the first keeps its own.
func (c *copying) suffixed(t book.Text) book.Text {
	if c.number > 0 {
		t.Value += "-" + strconv.Itoa(c.number+1)
	}
	return t
}

// slot is a slot of this copy with its options; its cardinality and its discount stay.
func (c *copying) slot(s *book.Slot) book.Slot {
	out := *s
	out.ID, out.Section, out.When, out.Place = c.text(s.ID), c.text(s.Section), c.formula(s.When), c.place(s.Place)
	out.Title.Value = c.title(s.Title)
	out.Standard.All = c.counts(s.Standard.All)
	out.Standard.ByHull = slices.Clone(s.Standard.ByHull)
	for i := range out.Standard.ByHull {
		out.Standard.ByHull[i].Value = c.counts(s.Standard.ByHull[i].Value)
	}
	out.Options = make([]book.Option, len(s.Options))
	for i := range s.Options {
		out.Options[i] = c.option(&s.Options[i])
	}
	return out
}

// title tells copies apart. Two options of one title would be a warning of the book, and one line on a paper.
func (c *copying) title(t book.Text) string {
	if c.number == 0 {
		return t.Value
	}
	return fmt.Sprintf("%s (%d)", t.Value, c.number+1)
}

// counts are a standard build by the names of this copy.
func (c *copying) counts(list []book.Count) []book.Count {
	out := slices.Clone(list)
	for i := range out {
		out[i].Option = c.text(out[i].Option)
	}
	return out
}

// option is an option of this copy, with its share of mass, price, hours and quantities.
func (c *copying) option(o *book.Option) book.Option {
	out, share := *o, c.share(o.ID.Value)
	out.ID, out.Place = c.text(o.ID), c.place(o.Place)
	c.points(&out)
	out.Title.Value = c.title(o.Title)
	out.Requires, out.Excludes = c.links(o.Requires), c.links(o.Excludes)
	out.Carries = nil
	for _, y := range o.Carries {
		y.Value = c.formula(y.Value)
		if y.Key.Value == mass {
			y.Value = scaled(y.Value, c.weight(o, share))
		}
		// other totals, such as watts and litres, would grow with the copies, and rules over them would refuse every
		// boat
		if y.Key.Value == mass || c.number == 0 {
			out.Carries = append(out.Carries, y)
		}
	}
	if c.number > 0 {
		// one of it is drawn, and the foam of a cushion stands among its materials
		out.Drawn, out.Colour, out.Surface, out.Cushion = book.Text{}, book.Text{}, book.Text{}, nil
	}
	out.Price.Terms = slices.Clone(o.Price.Terms)
	for i := range out.Price.Terms {
		t := &out.Price.Terms[i]
		t.Amount.Value, t.Per = shared(t.Amount.Value, share), c.formula(t.Per)
	}
	out.Operations = slices.Clone(o.Operations)
	for i := range out.Operations {
		// of what is subcontracted a copy has its share, too
		w := &out.Operations[i]
		if amount := scaled(c.formula(w.Amount()), share); w.Hours.Empty() {
			w.Quantity = amount
		} else {
			w.Hours = amount
		}
	}
	out.Materials = c.materials(o.Materials, share)
	return out
}

// weight is the part of its mass that an option of a copy has. Batteries are heavy once: the first of them carry all
// that a bank does.
func (c *copying) weight(o *book.Option, share float64) float64 {
	if !slices.ContainsFunc(o.Carries, func(y book.Pair[book.Formula]) bool { return y.Key.Value == bank }) {
		return share
	}
	if c.number == 0 {
		return 1
	}
	return 0
}

// share is the part that an option of a copy has of what it weighed and cost.
func (c *copying) share(option string) float64 {
	share := 1 / float64(c.times)
	if c.number == 0 {
		return share
	}
	// a hash and no random source: one share depends on no other, in whatever order options are made
	h := fnv.New64a()
	fmt.Fprint(h, c.seed, " ", c.number, " ", option)
	return share * (0.9 + 0.2*float64(h.Sum64()%1001)/1000)
}

// shared is a share of a list price, to the cent, as an owner would write it.
func shared(a money.Amount, share float64) money.Amount {
	cent, err := money.NewRounding(money.HalfEven, money.Exact(1, -2))
	if err != nil { // a cent is a step
		panic(fmt.Sprintf("growing a book: %v", err))
	}
	return cent.Round(a.Share(money.MustRate(strconv.FormatFloat(share, 'f', 6, 64))))
}

// links are the links of an option by the names of this copy.
func (c *copying) links(list []book.Link) []book.Link {
	out := slices.Clone(list)
	for i := range out {
		out[i].AnyOf = c.texts(out[i].AnyOf)
	}
	return out
}

// texts are identifiers by the names of this copy.
func (c *copying) texts(list []book.Text) []book.Text {
	out := slices.Clone(list)
	for i := range out {
		out[i] = c.text(out[i])
	}
	return out
}

// place is a place whose formulas read this copy.
func (c *copying) place(p *book.Place) *book.Place {
	if p == nil {
		return nil
	}
	return &book.Place{X: c.formula(p.X), Y: c.formula(p.Y), Z: c.formula(p.Z), Outside: p.Outside}
}

// points are those of an option: only the first copy has them, so that a boat is as high and as deep as before.
func (c *copying) points(o *book.Option) {
	if c.number > 0 {
		o.Heights, o.Depths, o.Openings, o.Extent = nil, nil, nil, nil
	}
}

// materials are those of an option. What a circuit takes is taken by the option that had it: there is one loom.
// Quantities are shared as lengths and areas are: two parts of half the length take the wood of one.
func (c *copying) materials(list []book.Quantity, share float64) (out []book.Quantity) {
	for _, q := range list {
		if what, _ := q.OfCircuit(); what != "" && c.number > 0 {
			continue
		}
		q.Cut, q.Quantity = c.text(q.Cut), c.formula(q.Quantity)
		// pieces are whole, and cost less instead
		if !c.pieces[q.Material.Value] {
			q.Quantity = scaled(q.Quantity, share)
		}
		if q.Foam != nil {
			// an area is shared and a thickness is not: a sheet of a tenth of a millimetre would be beyond reason
			q.Foam = &book.Foam{AreaM2: scaled(c.formula(q.Foam.AreaM2), share),
				ThicknessMm: c.formula(q.Foam.ThicknessMm)}
		}
		if x := q.Timber; x != nil {
			q.Timber = &book.Timber{ThicknessMm: c.formula(x.ThicknessMm), WidthMm: c.formula(x.WidthMm),
				LengthM: scaled(c.formula(x.LengthM), share), Count: c.formula(x.Count)}
		}
		if x := q.Tube; x != nil {
			q.Tube = &book.Tube{Hoops: c.formula(x.Hoops), WidthM: scaled(c.formula(x.WidthM), share),
				HeightM:   scaled(c.formula(x.HeightM), share),
				StraightM: scaled(c.formula(x.StraightM), share), CrownM: scaled(c.formula(x.CrownM), share),
				RadiusM: scaled(c.formula(x.RadiusM), share)}
		}
		if x := q.Coat; x != nil {
			q.Coat = &book.Coat{AreaM2: scaled(c.formula(x.AreaM2), share), Coats: c.formula(x.Coats),
				CoverM2L: c.formula(x.CoverM2L)}
		}
		if x := q.Gelcoat; x != nil {
			q.Gelcoat = &book.Gelcoat{AreaM2: scaled(c.formula(x.AreaM2), share), WetMm: c.formula(x.WetMm)}
		}
		out = append(out, q)
	}
	return out
}

// cut is a layout with pieces for the options of the copy. Its sizes stay: smaller pieces would be none that anybody
// cuts.
func (c *copying) cut(x *book.Cut) book.Cut {
	out := *x
	out.ID = c.text(x.ID)
	out.Stocks = slices.Clone(x.Stocks)
	for i := range out.Stocks {
		out.Stocks[i].Options = c.texts(out.Stocks[i].Options)
	}
	out.Pieces = slices.Clone(x.Pieces)
	for i := range out.Pieces {
		p := &out.Pieces[i]
		p.WidthMm, p.LengthMm, p.Count = c.formula(p.WidthMm), c.formula(p.LengthMm), c.formula(p.Count)
	}
	return out
}

package publish

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"ribband/core/book"
	"ribband/core/drawing"
	"ribband/core/formula"
	"ribband/core/look"
	"ribband/core/pack"
	"ribband/core/suggest"
)

// hulls gives each hull in two parts: what a desk shows and computes, and what its base boat costs.
func (c *compiler) hulls() {
	for i, h := range c.book.Hulls {
		fields := c.book.Dimensions(&c.book.Hulls[i])
		c.pack.Hulls = append(c.pack.Hulls, pack.Hull{ID: h.ID.Value, Title: h.Title.Value, Note: h.Note.Value,
			Looks:    c.looks(h.About, h.Pictures),
			Includes: texts(h.Includes), Fields: fields,
			Carries: c.carries(h.Carries), Standard: c.standard(i), Place: c.placement(h.Place),
			Seats:  c.seats(h.Seats),
			Points: c.points(h.Heights, h.Depths, h.Openings), Offsets: c.offsets(h.ID), Trial: c.trial(h.ID),
			Submerged: h.Submerged.Value})
		// the two lists have one order: a hull and its costs have the same index
		c.pack.Costs.Hulls = append(c.pack.Costs.Hulls,
			c.item(h.At, "", h.Price, h.Margin, h.Markup, h.Materials, h.Operations))
	}
}

// placement lowers where a mass is; nil where the book does not say.
func (c *compiler) placement(p *book.Place) *pack.Place {
	if p == nil {
		return nil
	}
	at := c.at(p.X, p.Y, p.Z)
	at.Outside = p.Outside
	return &at
}

// at lowers a place, m; the aft end, the centre line and the base line are its zero.
func (c *compiler) at(x, y, z book.Formula) pack.Place {
	return pack.Place{X: c.lower(x, formula.Number), Y: c.lower(y, formula.Number), Z: c.lower(z, formula.Number)}
}

// seats lowers where persons sit; nil where the book does not say, and then nothing of their weight is computed.
func (c *compiler) seats(s *book.Seats) *pack.Seats {
	if s == nil {
		return nil
	}
	return &pack.Seats{Place: c.at(s.X, s.Y, s.Z), Side: c.lower(s.SideM, formula.Number)}
}

// extent lowers the size of an option, m; nil where the book does not say.
func (c *compiler) extent(x *book.Extent) *pack.Extent {
	if x == nil {
		return nil
	}
	return &pack.Extent{Length: c.lower(x.LengthM, formula.Number), Width: c.lower(x.WidthM, formula.Number),
		Height: c.lower(x.HeightM, formula.Number)}
}

// points lowers the high and low points and the openings of a hull or an option.
func (c *compiler) points(heights []book.Height, depths []book.Depth, openings []book.Opening) (p pack.Points) {
	for _, h := range heights {
		// without states it stands in all of them, as a fixed top does
		point := pack.Point{Title: h.Title.Value, Place: c.at(h.X, h.Y, h.Z), States: pack.States}
		if len(h.States) > 0 {
			point.States = nil
			for _, s := range h.States {
				point.States = append(point.States, pack.State(s.Value))
			}
		}
		p.Heights = append(p.Heights, point)
	}
	for _, d := range depths {
		p.Depths = append(p.Depths, pack.Point{Title: d.Title.Value, Place: c.at(d.X, d.Y, d.Z),
			Immersed: c.lower(d.ImmersedM, formula.Number)})
	}
	for _, o := range openings {
		p.Openings = append(p.Openings, pack.Point{Title: o.Title.Value, Place: c.at(o.X, o.Y, o.Z)})
	}
	return p
}

// offsets are the table of a hull; none where the book has none.
func (c *compiler) offsets(hull book.Text) []pack.Station {
	var out []pack.Station
	for i := range c.book.Offsets {
		if c.book.Offsets[i].Hull.Value == hull.Value {
			for _, s := range c.book.Offsets[i].Table().Stations {
				out = append(out, pack.Station{X: s.X, Z: s.Z, Y: s.Y})
			}
		}
	}
	return out
}

// trial is that of a hull; nil where the book has none.
func (c *compiler) trial(hull book.Text) *pack.Trial {
	for i := range c.book.Trials {
		if c.book.Trials[i].Hull.Value != hull.Value {
			continue
		}
		t := c.book.Trials[i].Table()
		out := &pack.Trial{DisplacementKg: t.DisplacementKg}
		for _, p := range t.Points {
			out.SpeedKn, out.PowerW = append(out.SpeedKn, p.SpeedKn), append(out.PowerW, p.PowerW)
		}
		return out
	}
	return nil
}

// carries lowers what an item adds to the totals.
func (c *compiler) carries(list book.Pairs[book.Formula]) []pack.Contribution {
	var out []pack.Contribution
	for _, p := range list {
		amount := c.lower(p.Value, formula.Number)
		if figure, ok := c.ids["figure"][p.Key.Value]; ok {
			out = append(out, pack.Contribution{Figure: figure, Amount: amount})
		}
	}
	return out
}

// standard is the standard build of a hull, slot by slot, of options that are made for it. The pack lists counts, so
// that a slot filled with three fenders is one entry.
func (c *compiler) standard(hull int) []pack.Count {
	out := []pack.Count{}
	id := c.book.Hulls[hull].ID.Value
	for _, s := range c.book.Slots {
		// what is not made for the hull is left out where a boat is filled
		for _, n := range s.StandardOf(id) {
			out = append(out, pack.Count{Option: c.ids["option"][n.Option.Value], Count: int(n.Count.Value)})
		}
	}
	return out
}

// slots lowers the slots with their options, in build order. A slot holds its options from First up to End, so that the
// options of all slots lie side by side.
func (c *compiler) slots() {
	for i := range c.book.Slots {
		s := &c.book.Slots[i]
		slot := pack.Slot{ID: s.ID.Value, Section: c.ids["section"][s.Section.Value], Title: s.Title.Value,
			Note:     s.Note.Value,
			Multiple: s.Choose.Value == "multiple", Least: int(s.Least.Value), Most: int(s.Most.Value),
			Hulls: c.hullList(s.Hulls),
			When:  c.lower(s.When, formula.Truth), Place: c.placement(s.Place), Because: s.Because.Value,
			NoDiscount: s.Discount != nil && !*s.Discount,
			First:      len(c.pack.Options), End: len(c.pack.Options) + len(s.Options), Machinery: s.Machinery}
		// one is the usual slot: what says nothing must be filled
		if !slot.Multiple {
			slot.Most = 1
			if s.Choose.Value != "at most one" {
				slot.Least = 1
			}
		}
		c.pack.Slots = append(c.pack.Slots, slot)
		for _, o := range s.Options {
			c.option(i, o)
		}
	}
}

// option lowers an option in two parts, as hulls does.
func (c *compiler) option(slot int, o book.Option) {
	most := 1
	// the usual option is there once
	if o.Most.Given() {
		most = int(o.Most.Value)
	}
	// that a customer brings something of it anybody may know; what that is stands in the costs
	c.pack.Options = append(c.pack.Options, pack.Option{ID: o.ID.Value, Slot: slot, Title: o.Title.Value,
		Note: o.Note.Value, Looks: c.looks(o.About, o.Pictures), Drawn: c.drawn(o), Colour: o.Colour.Value,
		Surface: c.surface(o), Cushion: c.cushion(o.Cushion), Hulls: c.hullList(o.Hulls), Most: most,
		Carries: c.carries(o.Carries), Place: c.placement(o.Place),
		Extent: c.extent(o.Extent), Points: c.points(o.Heights, o.Depths, o.Openings),
		Submerged: c.submerged(slot, o), Sale: c.sale(&o),
		Brought: slices.ContainsFunc(o.Materials, func(q book.Quantity) bool { return q.ByCustomer() })})
	if o.Stock.Given() {
		c.pack.Work.Few = append(c.pack.Work.Few, pack.Few{Option: len(c.pack.Options) - 1, Count: int(o.Stock.Value),
			Shown: o.StockShown})
	}
	// by the same index, too
	c.pack.Costs.Options = append(c.pack.Costs.Options,
		c.item(o.At, o.ID.Value, o.Price, o.Margin, o.Markup, o.Materials, o.Operations))
	c.pack.Costs.Options[len(c.pack.Costs.Options)-1].Lowers = o.Lowers()
}

// sale is when an option is sold; nil for always.
func (c *compiler) sale(o *book.Option) *pack.Sale {
	if o.SoldFrom.Value == "" && o.SoldUntil.Value == "" {
		return nil
	}
	// on the day of the edition: a page has no clock that would be the yard's
	later, ended := c.book.Sold(o)
	s := &pack.Sale{From: o.SoldFrom.Value, Until: o.SoldUntil.Value, Off: later || ended, Instead: -1}
	if i, ok := c.ids["option"][o.Instead.Value]; ok {
		s.Instead = i
	}
	return s
}

// dayBefore is the day before one; "" for none.
func dayBefore(day string) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return ""
	}
	return t.AddDate(0, 0, -1).Format(time.DateOnly)
}

// submerged is what an option counts as under water: its own word, or the slot's. Flotation counts it by what it is
// made of, under 33 CFR 183.
func (c *compiler) submerged(slot int, o book.Option) string {
	if o.Submerged.Value != "" {
		return o.Submerged.Value
	}
	return c.book.Slots[slot].Submerged.Value
}

// colour is the form of a colour in the book.
var colour = regexp.MustCompile(`^#[0-9a-f]{6}$`)

// drawn checks what an option is on the drawing, and its colour there. The drawing knows a few words, each of which it
// draws in its own way.
func (c *compiler) drawn(o book.Option) string {
	word, known := look.Find(o.Drawn.Value)
	given := o.Colour.Value != ""
	switch {
	case o.Drawn.Value != "" && !known:
		var words []string
		for _, w := range look.Words() {
			words = append(words, w.Word)
		}
		c.error(o.Drawn.At, suggest.Nearest(o.Drawn.Value, words, "the words are "+strings.Join(words, ", ")),
			"%q is nothing that is drawn", o.Drawn)
	case given && !colour.MatchString(o.Colour.Value):
		c.error(o.Colour.At, `write "#1b3a5c" in quotes`, "%q is no colour", o.Colour)
	case given && !word.Colour && o.Surface.Value == "":
		c.error(o.Colour.At, "say what has this colour with drawn: or surface:, or leave the colour out",
			"the colour of %s is shown nowhere", o.ID)
	case !given && word.Colour:
		c.error(o.Drawn.At, `add its colour: "#1b3a5c"`, "%s is drawn as %s, and its colour is missing", o.ID, o.Drawn)
	case word.Placed && o.Extent == nil:
		c.error(o.Drawn.At, "add extent: {length_m: 0.6, width_m: 0.5, height_m: 0.3}",
			"%s is drawn as %s, and how large it is is missing", o.ID, o.Drawn)
	}
	return o.Drawn.Value
}

// surface checks of what an option's swatch is.
func (c *compiler) surface(o book.Option) string {
	// The swatch would be grey without a word of this list, and nobody would see why.
	var words []string
	for _, s := range drawing.Surfaces() {
		words = append(words, string(s))
	}
	switch word := o.Surface.Value; {
	case word == "":
	case !slices.Contains(words, word):
		c.error(o.Surface.At, suggest.Nearest(word, words, "the surfaces are "+strings.Join(words, ", ")),
			"%q is no surface", o.Surface)
	// No usual colour stands in: a swatch that shows another one than the yard delivers is worse than none.
	case o.Colour.Value == "":
		c.error(o.Surface.At, `add its colour: "#1b3a5c"`, "%s has a surface, and no colour", o.ID)
	}
	return o.Surface.Value
}

// cushion are the layers of one as everybody may see them: how thick, how dense and of what kind, and not the material,
// by which the yard buys. The foam itself is taken with the other materials.
func (c *compiler) cushion(b *book.Cushion) *pack.Cushion {
	if b == nil {
		return nil
	}
	out := &pack.Cushion{Board: b.Base.Value == "board"}
	for _, l := range b.Layers {
		m, ok := c.ids["material"][l.Material.Value]
		if !ok || c.book.Materials[m].Foam == nil {
			continue // reported by the check of the book
		}
		foam := c.book.Materials[m].Foam
		out.Layers = append(out.Layers, pack.FoamLayer{MM: l.ThicknessMm.Value, KgM3: foam.KgM3.Value,
			Kind: foam.Kind.Value})
	}
	return out
}

// hullList are the indices of hulls that are named; none stands for all of them.
func (c *compiler) hullList(list []book.Text) []int {
	var out []int
	for _, h := range list {
		out = append(out, c.ids["hull"][h.Value])
	}
	return out
}

package publish

import (
	"cmp"
	"slices"
	"strconv"

	"ribband/core/book"
	"ribband/core/formula"
	"ribband/core/pack"
)

// wires lists the yard's cables, thinnest first.
func (c *compiler) wires() {
	for _, w := range c.book.Wires {
		c.pack.Trade.Wires = append(c.pack.Trade.Wires, pack.Cable{MM2: w.MM2.Value, Material: c.ids["material"][w.Material.Value]})
	}
	slices.SortFunc(c.pack.Trade.Wires, func(a, b pack.Cable) int { return cmp.Compare(a.MM2, b.MM2) })
}

// materials lowers what an item takes of one entry: several cables of which a boat takes one, else one material. Option is empty for a base boat.
func (c *compiler) materials(q *book.Quantity, option string) []pack.Need {
	switch {
	case q.Wire.Value != "":
		return c.wire(q)
	case q.Cut.Value != "":
		return []pack.Need{c.cutNeed(q, option)}
	}
	for _, m := range q.Measures() {
		return []pack.Need{c.measured(q, m)}
	}
	return []pack.Need{c.need("material", q.Material, q.Quantity)}
}

// measured composes an amount of its parts. Each is lowered where it stands, so that what is wrong with it is reported there.
func (c *compiler) measured(q *book.Quantity, m book.Measure) pack.Need {
	form, ok := pack.FormOf(m.Form)
	if !ok || !slices.Equal(form.Parts, m.Keys) {
		panic("core/publish: the forms of the book and of the pack differ in " + m.Form)
	}
	need := pack.Need{Index: c.ids["material"][q.Material.Value], Takeoff: &pack.Takeoff{Form: m.Form}}
	before := len(c.problems)
	var texts []string
	for i, f := range m.Parts {
		part, text := c.lower(f, formula.Number), f.Value
		if f.Empty() {
			part, text = formula.Constant(*form.Default[i]), strconv.FormatFloat(*form.Default[i], 'g', -1, 64)
		}
		need.Takeoff.Parts, texts = append(need.Takeoff.Parts, part), append(texts, text)
	}
	need.At = c.place(q.At, form.Text(texts))
	if len(c.problems) > before {
		return need
	}
	var err error
	if need.Amount, err = form.Compose(need.Takeoff.Parts); err != nil { // its parts are numbers
		c.problem(q.At, "state a quantity", "the %s of %s: %v", m.Form, q.Material, err)
	}
	return need
}

func (c *compiler) cutNeed(q *book.Quantity, option string) pack.Need {
	cut := c.ids["cut"][q.Cut.Value]
	stock := slices.IndexFunc(c.book.Cuts[cut].Stocks, func(s book.CutStock) bool {
		return slices.ContainsFunc(s.Options, func(o book.Text) bool { return o.Value == option })
	})
	m := c.ids["material"][q.Material.Value]
	return pack.Need{Index: m, Cut: &pack.CutNeed{Cut: cut, Stock: stock, Metres: c.book.Materials[m].Unit.Value == "m"}, At: c.place(q.Cut.At, "cut: "+q.Cut.Value)}
}

// wire makes a need of every cable, for the sizes down to the next thinner one.
func (c *compiler) wire(q *book.Quantity) (list []pack.Need) {
	at, thinner := c.place(q.Wire.At, "wire: "+q.Wire.Value), 0.0
	for i, w := range c.pack.Trade.Wires {
		list = append(list, pack.Need{Index: w.Material, At: at,
			Wire: &pack.WireNeed{Circuit: c.ids["circuit"][q.Wire.Value], Above: thinner, UpTo: w.MM2, Thickest: i == len(c.pack.Trade.Wires)-1}})
		thinner = w.MM2
	}
	return list
}

// withoutTakeoffs are items without the parts that their amounts were composed of, and without the operations that take their materials.
func withoutTakeoffs(items []pack.Item) []pack.Item {
	items = slices.Clone(items)
	for i := range items {
		items[i].Materials = slices.Clone(items[i].Materials)
		for j := range items[i].Materials {
			items[i].Materials[j].Takeoff, items[i].Materials[j].Taker = nil, 0
		}
	}
	return items
}

// withoutNames are cuts with what costs follow from, and not what is cut.
func withoutNames(cuts []pack.Cut) []pack.Cut {
	cuts = slices.Clone(cuts)
	for i := range cuts {
		c := &cuts[i]
		c.Title, c.Stocks, c.Pieces = "", slices.Clone(c.Stocks), slices.Clone(c.Pieces)
		for j := range c.Stocks {
			c.Stocks[j].Title = ""
		}
		for j := range c.Pieces {
			c.Pieces[j].Name = ""
		}
	}
	return cuts
}

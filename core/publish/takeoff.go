package publish

import (
	"cmp"
	"slices"
	"strconv"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/takeoff"
)

// stock lists the yard's cables, fuses and switches: their sizes are public, since a boat whose motor no cable carries
// must clash for the buyer, too; their materials stand in the costs. Of fuses of one size the weakest comes first: it
// is taken where it does.
func (c *compiler) stock() {
	// both lists have one order: what is chosen by size is bought by the same index
	s, kept := &c.pack.Stock, &c.pack.Costs.Kept
	material := func(t book.Text) int {
		// a fuse without a holder
		if t.Value == "" {
			return -1
		}
		return c.ids["material"][t.Value]
	}
	for _, w := range sorted(c.book.Wires, func(a, b book.Wire) int { return cmp.Compare(a.MM2.Value, b.MM2.Value) }) {
		s.Sections, kept.Cables = append(s.Sections, w.MM2.Value), append(kept.Cables, material(w.Material))
	}
	for _, f := range sorted(c.book.Fuses, func(a, b book.FuseSize) int {
		return cmp.Or(cmp.Compare(a.A.Value, b.A.Value), cmp.Compare(a.KA.Value, b.KA.Value),
			cmp.Compare(a.V.Value, b.V.Value))
	}) {
		s.Fuses = append(s.Fuses, pack.FuseSize{Amps: f.A.Value, Volts: f.V.Value, KiloAmps: f.KA.Value})
		kept.Fuses, kept.Holders = append(kept.Fuses, material(f.Material)), append(kept.Holders, material(f.Holder))
	}
	for _, x := range sorted(c.book.Switches, func(a, b book.Switch) int { return cmp.Compare(a.A.Value, b.A.Value) }) {
		s.Switches, kept.Switches = append(s.Switches, x.A.Value), append(kept.Switches, material(x.Material))
	}
}

// sorted is a list in an order, whatever order the book has; equal entries stay as they stand.
func sorted[T any](list []T, by func(a, b T) int) []T {
	list = slices.Clone(list)
	slices.SortStableFunc(list, by)
	return list
}

// materials lowers what an item takes of one entry: a fuse with its holder, else one material. Option is empty for a
// base boat. One entry may become two lines, since a fuse and its holder are bought apart.
func (c *compiler) materials(q *book.Quantity, option string) []pack.BOMLine {
	if what, circuit := q.OfCircuit(); what != "" {
		return c.ofCircuit(what, circuit)
	}
	if q.Cut.Value != "" {
		return []pack.BOMLine{c.cutNeed(q, option)}
	}
	for _, m := range q.Measures() {
		return []pack.BOMLine{c.measured(q, m)}
	}
	return []pack.BOMLine{c.need("material", q.Material, q.Quantity)}
}

// measured composes an amount of its parts. Each is lowered where it stands, so that what is wrong with it is reported
// there.
func (c *compiler) measured(q *book.Quantity, m book.Measure) pack.BOMLine {
	// the book names the forms and their keys, the pack their formulas: a test holds the two together
	form, ok := takeoff.FormOf(m.Form)
	if !ok || !slices.Equal(form.Parts, m.Keys) {
		panic("core/publish: the forms of the book and of the pack differ in " + m.Form)
	}
	measured := &pack.Takeoff{Form: m.Form}
	// if a part is wrong the whole cannot be composed, and only the part is to be reported
	before := len(c.diagnostics)
	var texts []string
	for i, f := range m.Parts {
		// what is not given takes the form's default; a part that has none is required by its type
		part, text := c.lower(f, formula.Number), f.Value
		if f.Empty() && form.Default[i] == nil {
			return pack.BOMLine{At: c.place(q.At, "")} // reported where the book was read
		}
		if f.Empty() {
			part, text = formula.Constant(*form.Default[i]), strconv.FormatFloat(*form.Default[i], 'g', -1, 64)
		}
		measured.Parts, texts = append(measured.Parts, part), append(texts, text)
	}
	// the yard's sheet shows the numbers put into the form, as if the owner had written it out
	need := pack.BOMLine{Index: c.ids["material"][q.Material.Value], At: c.place(q.At, form.Text(texts))}
	c.pack.Work.Sources[need.At].Takeoff = measured
	if len(c.diagnostics) > before {
		return need
	}
	var err error
	if need.Amount, err = form.Compose(measured.Parts); err != nil { // its parts are numbers
		c.error(q.At, "state a quantity", "the %s of %s: %v", m.Form, q.Material, err)
	}
	return need
}

// cutNeed is what a layout takes of its stock. A base boat has no option by which a stock is chosen: its stock is none,
// and the check of the book has reported it.
func (c *compiler) cutNeed(q *book.Quantity, option string) pack.BOMLine {
	cut, ok := c.ids["cut"][q.Cut.Value]
	m, known := c.ids["material"][q.Material.Value]
	if !ok || !known {
		return pack.BOMLine{At: c.place(q.Cut.At, "")} // reported by the check of the book
	}
	stock := slices.IndexFunc(c.book.Cuts[cut].Stocks, func(s book.CutStock) bool {
		return slices.ContainsFunc(s.Options, func(o book.Text) bool { return o.Value == option })
	})
	return pack.BOMLine{Index: m, Cut: &pack.CutAmount{Cut: cut, Stock: stock,
		Metres: c.book.Materials[m].Unit.Value == "m"}, At: c.place(q.Cut.At, "cut: "+q.Cut.Value)}
}

// ofCircuit is what an entry takes of a circuit: its size, and so its material, is known only on the boat. Where the
// yard keeps any holder, a fuse takes one, too, if its size has one.
func (c *compiler) ofCircuit(what string, circuit book.Text) []pack.BOMLine {
	need := func(p pack.Part) pack.BOMLine {
		return pack.BOMLine{Index: -1, At: c.place(circuit.At, what+": "+circuit.Value),
			Circuit: &pack.CircuitAmount{Circuit: c.ids["circuit"][circuit.Value], Part: p}}
	}
	// the words of the book and of the pack are the same
	list := []pack.BOMLine{need(pack.Part(what))}
	if what == string(pack.Fuse) && slices.ContainsFunc(c.pack.Costs.Kept.Holders, func(m int) bool { return m >= 0 }) {
		list = append(list, need(pack.Holder))
	}
	return list
}

// circuits lowers the circuits, in the order of the book.
func (c *compiler) circuits() {
	// what the book leaves out stays empty or zero: package wiring has the defaults, one for all desks
	for i := range c.book.Circuits {
		w := &c.book.Circuits[i]
		rating := 105 // of the usual boat cable
		// the hottest that the conductor may get without harm to its insulation, which sizes it
		if w.Insulation.Given() {
			rating = int(w.Insulation.Value)
		}
		circuit := pack.Circuit{ID: w.ID.Value, Title: w.Title.Value, Function: w.Function.Value,
			Amps: c.lower(w.Amps, formula.Number), Volts: c.lower(w.Volts, formula.Number),
			Peak: c.lower(w.PeakV, formula.Number), Length: c.lower(w.LengthM, formula.Number),
			When: c.lower(w.When, formula.Truth), Count: c.lower(w.Count, formula.Number),
			Fault:   c.lower(w.FaultA, formula.Number),
			Bundled: int(w.Bundled.Value), Parallel: int(w.Parallel.Value), Critical: w.Critical,
			EngineSpace: w.EngineSpace, Insulation: rating}
		// the others say what is in the boat, and what it costs, and no figure of a buyer follows from them
		if figures.ReadsCircuit(&circuit) { // which a buyer's figures follow from
			c.pack.Public.Circuits = append(c.pack.Public.Circuits, circuit)
		} else {
			c.pack.Costs.Circuits = append(c.pack.Costs.Circuits, pack.OtherCircuit{Place: i, Circuit: circuit})
		}
		c.pack.Work.Runs = append(c.pack.Work.Runs, pack.Run{From: w.From.Value, To: w.To.Value,
			At: pack.CircuitAt{Circuit: c.place(w.At, ""), Amps: c.place(w.Amps.At, w.Amps.Value),
				Volts: c.place(w.Volts.At, w.Volts.Value), Length: c.place(w.LengthM.At, w.LengthM.Value)}})
	}
	c.pack.Assemble()
}

package pack

import (
	"slices"

	"ribband/core/formula"
)

// hulls checks that each has a number for every field that formulas may read, and a standard build of options that are
// there.
func (c *checker) hulls() {
	for _, h := range c.pack.Hulls {
		if len(h.Fields) != len(c.pack.HullFields) {
			c.fail("hull %s has %d fields, want %d", h.ID, len(h.Fields), len(c.pack.HullFields))
		}
		for _, v := range h.Fields {
			if !formula.Finite(v) {
				c.fail("hull %s has a field that is not finite", h.ID)
			}
		}
		c.looks(h.ID, &h.Looks)
		c.carries(h.ID, h.Carries)
		c.place(h.ID, h.Place)
		if h.Seats != nil {
			c.place(h.ID, &h.Seats.Place)
			c.program("seats of "+h.ID, h.Seats.Side, formula.Number, true)
		}
		c.points(h.ID, &h.Points)
		c.lines(&h)
		for _, s := range h.Standard {
			c.index("standard of hull "+h.ID, s.Option, len(c.pack.Options))
			if s.Count < 1 {
				c.fail("hull %s has %d of a standard option", h.ID, s.Count)
			}
		}
	}
}

// place checks where a mass is; y may be empty: amidships.
func (c *checker) place(id string, p *Place) {
	if p != nil {
		c.program("x of "+id, p.X, formula.Number, false)
		c.program("y of "+id, p.Y, formula.Number, true)
		c.program("z of "+id, p.Z, formula.Number, false)
	}
}

// points checks heights, depths and openings, of which only depths have an immersion.
func (c *checker) points(id string, p *Points) {
	for _, x := range p.All() {
		c.place(x.Title+" of "+id, &x.Place)
		c.program("immersion of "+id, x.Immersed, formula.Number, true)
		for _, s := range x.States {
			if !slices.Contains(States, s) {
				c.fail("%s of %s stands in the unknown state %q", x.Title, id, s)
			}
		}
	}
}

// lines checks the tables of a hull. Whether they are of a boat is judged by package figures, which computes with them.
func (c *checker) lines(h *Hull) {
	for _, s := range h.Offsets {
		if len(s.Y) != len(s.Z) {
			c.fail("offsets of hull %s: %d half-breadths at %d heights", h.ID, len(s.Y), len(s.Z))
		}
	}
	if t := h.Trial; t != nil && len(t.SpeedKn) != len(t.PowerW) {
		c.fail("trial of hull %s: as many speeds as powers are wanted", h.ID)
	}
	if l := h.Layup; l != nil {
		for _, v := range []float64{l.ShellKg, l.DeckKg, l.BottomMm, l.KeelMm} {
			if !formula.Finite(v) || v < 0 {
				c.fail("the lay-up of hull %s holds %v", h.ID, v)
			}
		}
	}
}

// carries checks that only totals are added to: a figure with a formula, or one that is computed, would hold two
// numbers.
func (c *checker) carries(id string, carries []Contribution) {
	for _, y := range carries {
		c.index("figure of "+id, y.Figure, len(c.pack.Figures))
		c.program("what "+id+" carries", y.Amount, formula.Number, false)
		if c.err == nil && (!c.pack.Figures[y.Figure].Formula.Empty() || c.pack.Figures[y.Figure].Computed != "") {
			c.fail("%s carries to figure %s, which is no total", id, c.pack.Figures[y.Figure].ID)
		}
	}
}

// slots checks that the options are divided among them without a gap, in the order of both lists: the engine finds the
// options of a slot, and the slot of an option, by that alone.
func (c *checker) slots() {
	next := 0
	for i, s := range c.pack.Slots {
		c.index("section of slot "+s.ID, s.Section, len(c.pack.Sections))
		c.program("slot "+s.ID, s.When, formula.Truth, true)
		if s.First != next || s.End < s.First || s.End > len(c.pack.Options) {
			c.fail("slot %s has options %d to %d", s.ID, s.First, s.End)
			return
		}
		if s.Least < 0 || s.Most < 0 || !s.Multiple && s.Most != 1 || !s.Multiple && s.Least > 1 {
			c.fail("slot %s takes %d to %d", s.ID, s.Least, s.Most)
		}
		c.hullList(s.ID, s.Hulls)
		c.place(s.ID, s.Place)
		for j := s.First; j < s.End; j++ {
			o := c.pack.Options[j]
			if o.Slot != i || o.Most < 1 || o.Most > 1000 || !s.Multiple && o.Most != 1 {
				c.fail("option %s is not one of slot %s, or may be there %d times", o.ID, s.ID, o.Most)
			}
			c.looks(o.ID, &o.Looks)
			c.hullList(o.ID, o.Hulls)
			c.carries(o.ID, o.Carries)
			c.place(o.ID, o.Place)
			c.points(o.ID, &o.Points)
			if x := o.Extent; x != nil {
				c.program("length of "+o.ID, x.Length, formula.Number, false)
				c.program("width of "+o.ID, x.Width, formula.Number, false)
				c.program("height of "+o.ID, x.Height, formula.Number, false)
			}
		}
		next = s.End
	}
	if next != len(c.pack.Options) {
		c.fail("options without a slot")
	}
}

// hullList checks those that something is made for; none named means all.
func (c *checker) hullList(id string, hulls []int) {
	for _, h := range hulls {
		c.index("hull of "+id, h, len(c.pack.Hulls))
	}
}

// rules checks both halves; one without a condition always holds its need.
func (c *checker) rules() {
	for _, r := range c.pack.Rules {
		c.program("rule "+r.ID, r.When, formula.Truth, true)
		c.program("rule "+r.ID, r.Need, formula.Truth, false)
	}
}

// circuits checks the formulas. What a circuit is for, and of what its wires are made, is judged by package figures,
// which sizes it.
func (c *checker) circuits() {
	for i := range c.pack.Circuits {
		w := &c.pack.Circuits[i]
		c.program("the current of circuit "+w.ID, w.Amps, formula.Number, false)
		c.program("the voltage of circuit "+w.ID, w.Volts, formula.Number, false)
		c.program("the highest voltage of circuit "+w.ID, w.Peak, formula.Number, true)
		c.program("the length of circuit "+w.ID, w.Length, formula.Number, false)
		c.program("circuit "+w.ID, w.When, formula.Truth, true)
		c.program("the count of circuit "+w.ID, w.Count, formula.Number, true)
		c.program("the fault current of circuit "+w.ID, w.Fault, formula.Number, true)
	}
}

// stock checks the sizes of what the yard keeps: in ascending order, since the first that is large enough is taken.
func (c *checker) stock(s *Stock) {
	ordered := func(what, unit string, list []float64) {
		last := 0.0
		for _, v := range list {
			if !(v > last) || !formula.Finite(v) {
				c.fail("a %s of %v %s stands behind one of %v %s", what, v, unit, last, unit)
			}
			last = v
		}
	}
	ordered("cable", "mm2", s.Sections)
	ordered("battery switch", "A", s.Switches)
	last := 0.0
	for _, f := range s.Fuses {
		if !(f.Amps > 0 && f.Amps >= last) || !formula.Finite(f.Amps) {
			c.fail("a fuse of %v A stands behind one of %v A", f.Amps, last)
		}
		last = f.Amps
		for _, v := range []float64{f.Volts, f.KiloAmps} {
			if !(v > 0) || !formula.Finite(v) {
				c.fail("a fuse of %v A is for %v V and %v kA", f.Amps, f.Volts, f.KiloAmps)
			}
		}
	}
}

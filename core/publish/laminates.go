package publish

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/formula/source"
	"ribband/core/laminate"
	"ribband/core/pack"
	"ribband/core/suggest"
	"ribband/core/takeoff"
)

// laminates lowers the lay-ups, makes materials of the base boats of them, and sums them by hull.
func (c *compiler) laminates() {
	// every lay-up is looked at before any is summed: a sum of some would be another boat
	sound := true
	for i := range c.book.Laminates {
		sound = c.laminate(&c.book.Laminates[i]) && sound
	}
	if !sound {
		return
	}
	for h := range c.pack.Hulls {
		// summed once, since nothing that a buyer chooses changes the shell
		layup, err := takeoff.NewLayup(c.pack, h)
		if err != nil {
			c.error(c.book.Laminates[0].At, "see the laminate named", "hull %s: %v", c.pack.Hulls[h].ID, err)
		}
		if err == nil && layup == nil {
			c.withoutLayup(h)
		}
		// a hull of timber has none, and takes no glass
		glass := pack.Glass{}
		if layup != nil {
			c.pack.Hulls[h].Layup, glass = c.publicLayup(&layup.Layup), layup.Glass
		}
		c.pack.Costs.Glass = append(c.pack.Costs.Glass, glass)
	}
	// where no hull has any, no figure of them stands
	if len(c.book.Laminates) == 0 {
		c.pack.Costs.Glass = nil
	}
}

// publicLayup is what the book shows of a lay-up: the owner decides it by the figures that the book has. The thickness
// of a bottom tells a competitor much, and a book that has no figure of it does not give it away.
func (c *compiler) publicLayup(l *pack.Layup) *pack.Layup {
	out := &pack.Layup{}
	for _, f := range c.book.Figures {
		switch figures.ID(f.Computed.Value) {
		case figures.LaminateShell:
			out.ShellKg = l.ShellKg
		case figures.LaminateDeck:
			out.DeckKg = l.DeckKg
		case figures.LaminateBottom:
			out.BottomMm = l.BottomMm
		case figures.LaminateKeel:
			out.KeelMm = l.KeelMm
		}
	}
	if *out == (pack.Layup{}) {
		return nil
	}
	return out
}

// withoutLayup reports the first figure of the laminates that a hull without any cannot have. One is enough: the remedy
// is the same for all.
func (c *compiler) withoutLayup(hull int) {
	for i, f := range c.book.Figures {
		if strings.HasPrefix(f.Computed.Value, "laminate.") && c.pack.Has(i, hull) {
			c.error(f.Computed.At, "add laminates: that lie on it, or name with hulls: those that have some",
				"the figure %s follows from laminates, and the hull %s has none", f.ID, c.book.Hulls[hull].ID)
			return
		}
	}
}

// laminate lowers one lay-up and checks its area on each hull that it lies on. It says whether the lay-up is sound.
func (c *compiler) laminate(l *book.Laminate) bool {
	out := pack.Laminate{ID: l.ID.Value, Title: l.Title.Value, Part: l.Part.Value, Hulls: c.hullList(l.Hulls),
		Process: l.Process.Value, At: c.place(l.AreaM2.At, l.AreaM2.Value)}
	for _, y := range l.Plies {
		out.Plies = append(out.Plies, pack.Ply{Cloth: y.Cloth.Value, GM2: y.GM2.Value, Count: times(y)})
	}
	// a formula that is wrong has no area to check
	before := len(c.diagnostics)
	out.AreaM2 = c.lower(l.AreaM2, formula.Number)
	if len(c.diagnostics) > before {
		return false
	}
	// plies become materials of the base boat before anything is chosen, so that nothing chosen can count
	if !pack.HullAlone(out.AreaM2) {
		c.error(l.AreaM2.At, "use fields of the hull, such as hull.shell_m2",
			"the area of the laminate %s reads more than the hull", l.ID)
		return false
	}
	sound := true
	for h := range c.pack.Hulls {
		if !out.On(h) {
			continue
		}
		// a square millimetre more than nothing is as wrong as a field of glass; 1000 m² is ten times the largest
		// launch's
		if m2 := out.AreaM2.Number()(&formula.State{HullID: h, Hull: c.pack.Hulls[h].Fields}); !(m2 > 0 && m2 <= 1000) {
			c.error(l.AreaM2.At, "make it an area above zero, at most 1000 m2, or name in hulls: those that have it",
				"the area of the laminate %s on %s is %g m2", l.ID, c.pack.Hulls[h].ID, m2)
			sound = false
		}
	}
	// also an unsound one, so that indices are those of the book
	c.pack.Work.Laminates = append(c.pack.Work.Laminates, out)
	return sound && c.buildIn(l, &out)
}

// times is how many layers a ply stands for: 1 where the book does not say.
func times(y book.Ply) int {
	if !y.Count.Given() {
		return 1
	}
	return int(y.Count.Value)
}

// buildIn adds the cloths and the resin of a laminate to the base boats that it lies on: each an amount for a square
// metre times the area.
func (c *compiler) buildIn(l *book.Laminate, out *pack.Laminate) bool {
	type need struct {
		material book.Text
		perM2    float64
	}
	var needs []need
	add := func(material book.Text, perM2 float64) {
		if material.Value == "" {
			return
		}
		// two plies of one cloth are one line of the base boat: a material with its operation stands once on a sheet
		for i := range needs {
			if needs[i].material.Value == material.Value {
				needs[i].perM2 += perM2
				return
			}
		}
		needs = append(needs, need{material, perM2})
	}
	var plies []laminate.Ply
	for _, y := range l.Plies {
		add(y.Material, float64(times(y)))
		// validated with the book
		kind, _ := laminate.Value(laminate.Cloths, y.Cloth.Value)
		for range times(y) {
			plies = append(plies, laminate.Ply{Name: y.Cloth.Value, Kind: kind, Weight: y.GM2.Value})
		}
	}
	method, _ := laminate.Value(laminate.Processes, l.Process.Value)
	stack, err := laminate.Stack(l.Title.Value, plies, method)
	if err != nil {
		c.error(l.At, "see the ply named", "the laminate %s: %v", l.ID, err)
		return false
	}
	// a milligram for a square metre: the text of the formula stays readable, and is the same on every machine
	add(l.Resin, math.Round(stack.Resin*1e6)/1e6)
	for _, n := range needs {
		// as text, so that an owner finds on the yard's sheet what the amount was computed from
		text := fmt.Sprintf("%s * (%s)", strconv.FormatFloat(n.perM2, 'f', -1, 64), l.AreaM2.Value)
		amount, err := source.Lower(text, c.scope, formula.Number)
		if err != nil { // the area alone was lowered before
			c.error(l.AreaM2.At, err.Advice, "in %q: %s", suggest.Clip(text, 80), err.Message)
			return false
		}
		for h := range c.pack.Hulls {
			// a laminate that names hulls lies on these alone
			if out.On(h) {
				need := pack.BOMLine{Index: c.ids["material"][n.material.Value], Amount: amount,
					At: c.place(l.AreaM2.At, text)}
				c.pack.Work.Sources[need.At].Taker = c.taker(l.Operation, c.book.Hulls[h].Operations)
				item := &c.pack.Costs.Hulls[h]
				item.Materials = append(item.Materials, need)
			}
		}
	}
	return true
}

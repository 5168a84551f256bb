package pack

import (
	"slices"
	"strings"

	"ribband/core/formula"
)

// work checks what the yard alone reads. Its lists are as long as those of the costs that they go along with.
func (c *checker) work(w *Work) {
	k := c.pack.Costs
	for _, list := range []struct {
		what      string
		got, want int
	}{{"shops", len(w.Shops), len(k.Shops)}, {"operations", len(w.Operations), len(k.Operations)},
		{"materials", len(w.Supplies), len(k.Materials)}, {"cuts", len(w.Cuts), len(k.Cuts)},
		{"circuits", len(w.Runs), len(c.pack.Circuits)}, {"slots", len(w.Slots), len(c.pack.Slots)}} {
		if list.got != list.want {
			c.fail("the work has %d %s, want %d", list.got, list.what, list.want)
			return
		}
	}
	c.working(w)
	if c.err == nil { // every index leads to an operation
		c.circle(w.Operations)
	}
	for i, cut := range w.Cuts {
		if len(cut.Stocks) != len(k.Cuts[i].Stocks) || len(cut.Pieces) != len(k.Cuts[i].Pieces) {
			c.fail("cut %s has names of %d stocks and %d pieces", k.Cuts[i].ID, len(cut.Stocks), len(cut.Pieces))
			return
		}
		c.shapes(k.Cuts[i].ID, k.Cuts[i].Pieces, cut.Shapes)
	}
	for i, r := range w.Runs {
		for _, at := range []int{r.At.Circuit, r.At.Amps, r.At.Volts, r.At.Length} {
			c.index("source of circuit "+c.pack.Circuits[i].ID, at, len(w.Sources))
		}
	}
	for _, at := range []int{w.RatesAt.OnLabour, w.RatesAt.OnMaterials, w.RatesAt.Contingency} {
		c.index("source", at, len(w.Sources))
	}
	for _, s := range w.Sources {
		c.index("operation", s.Taker, len(k.Operations)+1)
		if s.Takeoff != nil {
			for _, p := range s.Takeoff.Parts {
				c.program("a part of a quantity", p, formula.Number, false)
			}
		}
	}
	for _, f := range w.Few {
		c.left(f.Option, f.Count)
	}
	for _, p := range w.Plates {
		c.index("option of the plate "+p.Title, p.Option, len(c.pack.Options))
		if !(p.Along >= 0 && p.Along <= 1 && p.InboardMm >= 0 && p.InboardMm < 1e5) || p.Holes < 1 {
			c.fail("the plate %s lies at %v of the length, %v mm inboard, with %d holes", p.Title, p.Along, p.InboardMm,
				p.Holes)
		}
	}
	for _, b := range w.Blocks {
		c.index("option of the block "+b.Title, b.Option, len(c.pack.Options))
		if !(b.From >= 0 && b.From < b.To && b.To <= 1 && b.BreadthMm > 0 && b.Share > 0 && b.Share <= 1) {
			c.fail("the block %s lies from %v to %v of the length, %v mm broad, and is %v of the foam", b.Title, b.From,
				b.To, b.BreadthMm, b.Share)
		}
	}
	c.laminates(w)
}

// showPlanning checks the planning of a desk that has no work.
func (c *checker) showPlanning(t *ShowPlanning) {
	k := c.pack.Costs
	for _, list := range []struct {
		what      string
		got, want int
	}{{"shops", len(t.Shops), len(k.Shops)}, {"operations", len(t.Operations), len(k.Operations)},
		{"hulls", len(t.Arrivals.Hulls), len(k.Hulls)}, {"options", len(t.Arrivals.Options), len(k.Options)}} {
		if list.got != list.want {
			c.fail("the planning has %d %s, want %d", list.got, list.what, list.want)
			return
		}
	}
	if c.planning(&t.Planning); c.err == nil {
		c.circle(t.Operations)
	}
	for _, list := range slices.Concat(t.Arrivals.Hulls, t.Arrivals.Options) {
		for _, a := range list {
			c.index("operation of an arrival", a.Operation, len(k.Operations))
			c.index("material of an arrival", a.Material, len(k.Materials))
			c.hours("an arrival", 24*float64(a.Days))
		}
	}
}

// circle refuses operations that wait for each other, for which package works could find no order. The checker of books
// refuses them at their place in the book; here it is a pack that was damaged, or not made by publish.
//
// What waits for nothing that is left is taken away, until nothing more is. Where something is left, each of it waits
// for another of it, so that a walk from any of it back over what it waits for comes into a circle.
// Source: topological order, A. B. Kahn, Communications of the ACM 5 (1962), 558-562.
func (c *checker) circle(list []OperationWork) {
	gone := make([]bool, len(list))
	left := func(a Predecessor) bool { return !gone[a.Operation] }
	for changed := true; changed; {
		changed = false
		for i := range list {
			if !gone[i] && !slices.ContainsFunc(list[i].After, left) {
				gone[i], changed = true, true
			}
		}
	}
	at := slices.Index(gone, false)
	if at < 0 {
		return
	}
	var walk []int
	for !slices.Contains(walk, at) {
		walk = append(walk, at)
		at = list[at].After[slices.IndexFunc(list[at].After, left)].Operation
	}
	var names []string // without the way into the circle
	for _, i := range append(walk[slices.Index(walk, at):], at) {
		names = append(names, c.pack.Costs.Operations[i].ID)
	}
	c.fail("operations wait for each other in a circle, %s; publish the book again", strings.Join(names, " after "))
}

// laminates checks areas, which follow from the hull alone: a hull is laid up before anybody has chosen an option.
// Cloths and processes are judged by package takeoff, which makes the schedule.
func (c *checker) laminates(w *Work) {
	for _, l := range w.Laminates {
		c.hullList("laminate "+l.ID, l.Hulls)
		c.index("source", l.At, len(w.Sources))
		c.program("the area of laminate "+l.ID, l.AreaM2, formula.Number, false)
		if c.err == nil && !HullAlone(l.AreaM2) {
			c.fail("the area of laminate %s reads more than the hull", l.ID)
		}
	}
}

// shapes checks that there are lines for the panels of a cut: as many, or none of any piece.
func (c *checker) shapes(id string, pieces []CutPiece, shapes [][][]CutShape) {
	for i, p := range pieces {
		sound := len(shapes) == len(pieces) && len(shapes[i]) == len(p.Panels)
		for k := 0; sound && k < len(p.Panels); k++ {
			sound = len(shapes[i][k]) == len(p.Panels[k])
		}
		if !sound && len(shapes) > 0 {
			c.fail("the lines of cut %s are not those of its pieces", id)
		}
	}
}

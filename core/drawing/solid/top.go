package solid

import (
	"math"

	"ribband/core/drawing"
)

// roofSteps are those across half of a roof.
const roofSteps = 4

// The edge of a cloth hangs so far below the roof, m, and a canopy's valance as far again below that: as in the
// profile.
const (
	clothEdge = 0.06
	valance   = 0.15
)

// top adds what stands over the cockpit, its frame and what closes its sides.
func (b *builder) top() {
	switch b.Top.Kind {
	case drawing.FoldingHood:
		b.cloth(0)
		b.bows()
	case drawing.Canopy:
		b.cloth(valance)
		b.stanchions()
	case drawing.HardTop, drawing.SolarTop:
		b.slab()
		b.stanchions()
	default:
		return
	}
	b.panes()
}

// along are places from the aft to the fore end of the top.
func (b *builder) along() []float64 {
	// The arch is shallow: a still needs few steps of it.
	n := 6
	if b.fine {
		n = 14
	}
	out := make([]float64, n+1)
	for i := range out {
		out[i] = lerp(b.Top.Aft, b.Top.Fore, float64(i)/float64(n))
	}
	return out
}

// crossed is the height of the roof at x and a distance from its middle, as a share of its half-breadth: it falls
// towards the edges, by less than the cloth hangs there, so that it is seen in the profile as it stands there.
func (b *builder) crossed(x, share float64) float64 {
	return b.Roof(x) - float64(0.05*share*share)
}

// cloth adds a sheet of cloth over its frame, with its edge and a valance hanging from it all round.
func (b *builder) cloth(hang float64) {
	colour := b.Cloth.Or(drawing.ClothNavy)
	// As broad as in the plan.
	half, part := b.RoofHalf(), b.part(Top, colour, 0)
	var rows [][]Vec
	hem := func(x float64) float64 { return b.Roof(x) - clothEdge - hang }
	for _, x := range b.along() {
		// A thin body and not a sheet: it is seen from below, too, and what is closed has an outside on both sides.
		var outside, inside []Vec
		for k := -roofSteps; k <= roofSteps; k++ {
			share := float64(k) / roofSteps
			outside = append(outside, Vec{x, half * share, b.crossed(x, share)})
			inside = append(inside, Vec{x, (half - 0.012) * share, b.crossed(x, share) - 0.012})
		}
		outside = append([]Vec{{x, -half, hem(x)}}, append(outside, Vec{x, half, hem(x)})...)
		inside = append([]Vec{{x, 0.012 - half, hem(x)}}, append(inside, Vec{x, half - 0.012, hem(x)})...)
		for i := len(inside) - 1; i >= 0; i-- {
			outside = append(outside, inside[i])
		}
		rows = append(rows, outside)
	}
	b.closed(part, rows, capped)
	// Across both ends, where the edge of the roof is curved and the hem is straight.
	for _, x := range []float64{b.Top.Aft, b.Top.Fore} {
		b.hanging(part, x, half, hem(x))
	}
	b.edging(half, hem)
	// In a still they would be one dark line with the edge of the frame below.
	if b.fine { // seams over the bows
		for _, s := range []float64{0.36, 0.68} {
			x := lerp(b.Top.Aft, b.Top.Fore, s)
			var line []Place
			for k := range roofSteps + 1 {
				share := float64(k) / roofSteps
				line = append(line, round(Vec{x, half * share, b.crossed(x, share) + 0.003}))
			}
			line = append(line, round(Vec{x, half + 0.003, hem(x)}))
			b.m.Lines = append(b.m.Lines, Line{part, line})
		}
	}
}

// hanging is the cloth that hangs across an end of the top.
func (b *builder) hanging(part int, x, half, hem float64) {
	var rows [][]Vec
	for k := -roofSteps; k <= roofSteps; k++ {
		share := float64(k) / roofSteps
		// A little below the roof, so that the two do not lie in one plane.
		y, z := half*share, b.crossed(x, share)-0.004
		rows = append(rows, []Vec{{x - 0.006, y, z}, {x - 0.006, y, hem}, {x + 0.006, y, hem}, {x + 0.006, y, z}})
	}
	b.closed(part, rows, capped)
}

// edging is the piping along the hem.
func (b *builder) edging(half float64, hem func(float64) float64) {
	if b.Edging == "" {
		return
	}
	// A tube of the breadth that the profile draws.
	var side []Vec
	for _, x := range b.along() {
		side = append(side, Vec{x, half + 0.004, hem(x)})
	}
	b.tube(Edging, string(b.Edging), 0, side, 0.013, true)
	for _, x := range []float64{b.Top.Aft, b.Top.Fore} {
		b.tube(Edging, string(b.Edging), 0, []Vec{{x, -half, hem(x)}, {x, half, hem(x)}}, 0.013, false)
	}
}

// slab adds a moulded roof, its corners rounded as in the plan, and solar panels on it.
func (b *builder) slab() {
	half, radius := b.RoofHalf(), 0.15
	t := b.Top
	var rows [][]Vec
	add := func(x float64) {
		// Round corners in the plan: a quarter of a circle at each.
		in := max(0, radius-min(x-t.Aft, t.Fore-x))
		y := half - radius + math.Sqrt(max(0, float64(radius*radius)-float64(in*in)))
		var upper, lower []Vec
		for k := -roofSteps; k <= roofSteps; k++ {
			share := float64(k) / roofSteps
			upper = append(upper, Vec{x, y * share, b.crossed(x, y*share/half)})
			lower = append(lower, Vec{x, (y - 0.02) * share, b.crossed(x, y*share/half) - b.Thickness()})
		}
		for i := len(lower) - 1; i >= 0; i-- {
			upper = append(upper, lower[i])
		}
		rows = append(rows, upper)
	}
	places := b.along()
	// More sections at the ends, where it is round; between them it is straight from the plan.
	add(t.Aft)
	for _, d := range []float64{0.03, 0.08} {
		add(t.Aft + d)
	}
	for _, x := range places[1 : len(places)-1] {
		if x-t.Aft >= radius && t.Fore-x >= radius {
			add(x)
		}
	}
	for _, d := range []float64{0.08, 0.03} {
		add(t.Fore - d)
	}
	add(t.Fore)
	b.closed(b.part(Top, t.Colour.Or(drawing.HullWhite), 0), rows, capped)
	if t.Kind != drawing.SolarTop {
		return
	}
	panel := b.part(Top, "#27374a", 0)
	for _, ends := range b.Panels() {
		var rows [][]Vec
		for _, x := range ends {
			// two beside each other, with a gangway between
			// They lie on the slope, their upper side at the height that the book gives for the whole top.
			low, high := 0.03, half-0.1
			z := func(y float64) float64 { return b.crossed(x, y/half) }
			rows = append(rows, []Vec{{x, low, z(low) + 0.01}, {x, low, b.Roof(x) + drawing.PanelHeight - 0.002},
				{x, high, z(high) + drawing.PanelHeight - 0.002}, {x, high, z(high) + 0.01}})
		}
		b.closed(panel, rows, capped|mirror)
	}
}

// foot is where a leg stands at x, on the starboard side: on the edge of the opening, or on deck beyond it.
func (b *builder) foot(x float64) Vec {
	y := breadth(b.Opening(0.005), x)
	if x > b.Cockpit.Fore-0.5 || x < b.Cockpit.Aft+0.25 { // where the opening turns in, a leg does not follow it
		y = min(b.HalfAt(x)-0.07, b.head(x).Y)
	}
	return Vec{x, max(0.05, y), b.Footing(x)}
}

// head is where a leg meets the roof.
func (b *builder) head(x float64) Vec {
	return Vec{x, b.RoofHalf() - 0.06, b.Soffit(x) - 0.04}
}

// legs are the places of head and foot of each leg, from aft: the foremost leans to the fore end of the cockpit.
func (b *builder) legs() (list [][2]Vec) {
	places := b.Legs()
	for i, x := range places {
		// Upright but for the foremost, as in the profile.
		foot := x
		if i == len(places)-1 {
			foot = b.ForeFoot()
		}
		list = append(list, [2]Vec{b.foot(foot), b.head(x)})
	}
	return list
}

// stanchions are the legs of a fixed frame, and the tube along the roof that they carry.
func (b *builder) stanchions() {
	// A tube along the heads holds them apart.
	legs := b.legs()
	var heads []Vec
	for _, l := range legs {
		b.tube(Top, string(drawing.Metal), 0, l[:], tubeRadius, true)
		heads = append(heads, l[1])
	}
	b.tube(Top, string(drawing.Metal), 0, heads, tubeRadius, true)
}

// bows fan out from a hinge on each side, as they fold, and carry the cloth across.
func (b *builder) bows() {
	t := b.Top
	// Halfway along, where the hood folds about.
	root := b.foot((t.Aft + t.Fore) / 2)
	// As in the profile, but for the ends, where a bow lies inside the hem.
	for _, s := range []float64{0.02, 0.36, 0.68, 0.98} {
		x := lerp(t.Aft, t.Fore, s)
		bow := []Vec{root, b.head(x)}
		for _, share := range []float64{0.6, 0} {
			bow = append(bow, Vec{x, b.RoofHalf() * share, b.crossed(x, share) - 0.03})
		}
		// Down to port: one bent tube, as it is made.
		for i := len(bow) - 2; i >= 0; i-- {
			bow = append(bow, bow[i].port())
		}
		b.tube(Top, string(drawing.Metal), 0, bow, tubeRadius, false)
	}
}

// panes close the sides under the top: a clear sheet between two legs, across at the front and, all round, at the back.
// As in the profile a front alone has a return to either side.
func (b *builder) panes() {
	if b.Enclosure == drawing.NoEnclosure {
		return
	}
	// The colour of clear sheet against the water; a book gives none.
	part := b.part(Enclosure, "#c9dde2", Clear)
	legs := b.legs()
	last := len(legs) - 1
	front := min(0.45, (b.Legs()[last]-b.Legs()[last-1])/2)
	// Where the front ends at the side: as far along the foot as along the head.
	share := 1 - front/max(0.1, legs[last][1].X-legs[last-1][1].X)
	post := [2]Vec{legs[last-1][0].towards(legs[last][0], share), legs[last-1][1].towards(legs[last][1], share)}
	pane := func(a, c [2]Vec, both bool) {
		b.patch(part, [][]Vec{{a[0], a[1]}, {c[0], c[1]}}, image(both))
	}
	if b.Enclosure != drawing.SideEnclosure {
		pane(post, legs[last], true)
		middle := [2]Vec{{legs[last][0].X, 0, legs[last][0].Z}, {legs[last][1].X, 0, legs[last][1].Z}}
		// In halves, which meet in the middle: clear sheet comes in widths that do not reach across.
		pane(legs[last], middle, true)
	}
	if b.Enclosure == drawing.FrontEnclosure {
		return
	}
	for i := range last {
		to := legs[i+1]
		if i == last-1 && b.Enclosure == drawing.FullEnclosure {
			to = post
		}
		pane(legs[i], to, true)
	}
	if b.Enclosure == drawing.FullEnclosure {
		pane([2]Vec{legs[0][0].port(), legs[0][1].port()}, legs[0], false)
	}
}

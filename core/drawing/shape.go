package drawing

import "math"

// Shape is where things stand on a boat beyond what its table says: the opening of the cockpit, the top and its frame.
// All views and the solid take it from here, so that a leg stands in one place in each of them. Lengths are in m, in
// the axes of the offsets.
type Shape struct {
	of *Boat
	l  *lines
}

// Point is a point of the starboard side seen from above, m: forward from the origin and out from the centre line.
type Point struct{ X, Y float64 }

// NewShape checks a boat as the views do, and how it floats; nil for a boat of which that is not known. The error
// names what cannot be drawn.
func NewShape(b *Boat, d *Drafts) (*Shape, error) {
	k := &check{kind: "solid"}
	l := b.newLines(k)
	l.checkDrafts(k, d)
	if k.err != nil {
		return nil, k.err
	}
	return &Shape{b, l}, nil
}

// Ends are the places of the first and the last station.
func (s *Shape) Ends() (aft, fore float64) { return s.l.aft, s.l.fore }

// SheerAt is the height of the sheer, HalfAt its half-breadth, BottomAt the height at which the body begins above a
// skeg, and KeelAt that of the lowest point.
func (s *Shape) SheerAt(x float64) float64  { return s.l.sheerAt.Predict(x) }
func (s *Shape) HalfAt(x float64) float64   { return s.l.halfAt.Predict(x) }
func (s *Shape) BottomAt(x float64) float64 { return s.l.bottomAt.Predict(x) }
func (s *Shape) KeelAt(x float64) float64   { return s.l.keelAt.Predict(x) }

// BodyBottom is the height at a station at which the body leaves its skeg.
func (s *Shape) BodyBottom(station int) float64 { return s.l.bottom[station] }

// Skeg gives the stations between which there is a skeg.
func (s *Shape) Skeg() (from, to int, ok bool) { return s.l.skeg() }

// Widest is the largest half-breadth of all heights.
func (s *Shape) Widest() float64 { return s.l.widest }

// Level is the height of the water above the base line.
func (s *Shape) Level(d *Drafts, x float64) float64 { return s.l.level(d, x) }

// SeatAt is the height of the seats at x: what the book says, or where that is 0 a usual depth below the sheer.
func (s *Shape) SeatAt(x, said float64) float64 {
	if said > 0 {
		return said
	}
	return s.l.sheerAt.Predict(x) - 0.28
}

// Crown is the height of the top. The book gives it above the gunwale halfway along the top.
func (s *Shape) Crown() float64 {
	t := &s.of.Top
	return s.l.sheerAt.Predict((t.Aft+t.Fore)/2) + t.Height
}

// Soffit is the height of the underside of the roof at x: where tubes and panes end.
func (s *Shape) Soffit(x float64) float64 { return s.Roof(x) - s.Thickness() }

// Thickness of the roof: a moulded one with its foam core, or cloth over tubes. Common practice, no source.
func (s *Shape) Thickness() float64 {
	if s.of.Top.Kind == HardTop || s.of.Top.Kind == SolarTop {
		return 0.06
	}
	return 0.02
}

// Roof is the height of the top at x on the centre line: a shallow arch, its crown in the middle.
//
// Formula: z = crown − drop·s², s from −1 at the aft edge to 1 at the fore edge. The drops are common practice,
// no source. Under solar panels the roof lies lower, since the height of the top is that of its highest part.
func (s *Shape) Roof(x float64) float64 {
	t := &s.of.Top
	drop := map[TopKind]float64{FoldingHood: 0.14, Canopy: 0.08, HardTop: 0.05, SolarTop: 0.05}[t.Kind]
	along := 2*(x-t.Aft)/(t.Fore-t.Aft) - 1
	crown := s.Crown()
	if t.Kind == SolarTop {
		crown -= PanelHeight
	}
	return crown - float64(drop*along*along)
}

// PanelHeight is the height of solar panels above the roof, m.
const PanelHeight = 0.04

// RoofHalf is half the breadth of the roof: out to the middle of the side decks.
func (s *Shape) RoofHalf() float64 {
	return s.l.halfAt.Predict((s.of.Top.Aft+s.of.Top.Fore)/2) - SideDeck/2
}

// Panels are the ends of the solar panels along the roof, as many of about 0.75 m as there is room for.
func (s *Shape) Panels() [][2]float64 {
	t := &s.of.Top
	n := max(1, int((t.Fore-t.Aft-0.3)/0.75))
	w := (t.Fore - t.Aft - 0.3) / float64(n)
	list := make([][2]float64, n)
	for i := range list {
		a := t.Aft + 0.15 + float64(float64(i)*w) + 0.03
		list[i] = [2]float64{a, a + w - 0.06}
	}
	return list
}

// Footing is the height at which the legs of the top stand at x: in sockets on the coaming, or on the deck beyond it.
func (s *Shape) Footing(x float64) float64 {
	z := s.l.sheerAt.Predict(x)
	if x > s.of.Cockpit.Aft+0.2 && x < s.of.Cockpit.Fore-0.1 {
		z += CoamingHeight * 0.6
	}
	return z
}

// Legs are the places of the stanchions: at most 1.5 m apart, the ends a little inside the roof. A longer span of tube
// would shake; common practice, no source.
func (s *Shape) Legs() []float64 {
	aft, fore := s.of.Top.Aft+0.12, s.of.Top.Fore-0.12
	n := max(1, int(math.Ceil((fore-aft)/1.5)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = aft + (fore-aft)*float64(i)/float64(n)
	}
	return out
}

// ForeFoot is where the foremost leg or the front window stands: at the fore end of the cockpit, but raked by no more
// than 0.35 m.
func (s *Shape) ForeFoot() float64 {
	return min(max(s.of.Cockpit.Fore, s.of.Top.Fore-0.12), s.of.Top.Fore+0.35)
}

// Opening is the starboard side of the cockpit from aft forward, grown or shrunk by some metres: along the sheer at its
// sides, rounded at its ends, the fore end more than the aft end. Grown and shrunk it gives both edges of the coaming,
// and what stands inside.
func (s *Shape) Opening(grow float64) []Point {
	aft, fore := s.of.Cockpit.Aft-grow, s.of.Cockpit.Fore+grow
	half := func(x float64) float64 {
		return max(0.05, s.l.halfAt.Predict(min(max(x, s.l.aft), s.l.fore))-SideDeck+grow)
	}
	var side []Point
	end := func(from, radius float64) { // a quarter of a curve between circle and square
		const n = 8
		for i := range n + 1 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
			sin, cos = math.Pow(max(0, sin), 0.7), math.Pow(max(0, cos), 0.7)
			x := from + float64(radius*(1-cos))
			side = append(side, Point{x, half(x) * sin})
		}
	}
	end(aft, min(0.3, (fore-aft)/4))
	k := len(side)
	radius := min(0.75, (fore-aft)/3)
	end(fore, -radius)
	bow := side[k:]
	out := append([]Point{}, side[:k]...)
	from, to := aft+min(0.3, (fore-aft)/4), fore-radius
	for i := 1; i < 12; i++ {
		x := from + (to-from)*float64(i)/12
		out = append(out, Point{x, half(x)})
	}
	for i := len(bow) - 1; i >= 0; i-- {
		out = append(out, bow[i])
	}
	return out
}

package solid

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"

	"ribband/core/drawing"
	"ribband/core/hull"
)

// body is the hull above its skeg as curves along the boat: each station in so many steps of its girth, each step
// faired from station to station.
type body struct{ y, z []interp.FritschButland }

// girthSteps are fine enough that cutting the corners between points of the table loses less than a thousandth of a
// section.
const girthSteps = 28

// newBody fairs the hull. Between stations no curve bulges beyond the table (Fritsch and Butland, 1984).
func (b *builder) newBody() (body, error) {
	n := len(b.Offsets.Stations)
	x := make([]float64, n)
	y, z := make([][]float64, girthSteps+1), make([][]float64, girthSteps+1)
	for i, st := range b.Offsets.Stations {
		x[i] = st.X
		var points []Vec
		for k := range st.Z {
			// Without its skeg: the corner between the two would be rounded where a station has one and the next has
			// none.
			if st.Z[k] >= b.BodyBottom(i) {
				points = append(points, Vec{st.X, st.Y[k], st.Z[k]})
			}
		}
		// Each step of all stations makes a curve along the boat; that the first and the last do, keeps keel and sheer.
		for k, p := range spread(points, girthSteps) {
			y[k], z[k] = append(y[k], p.Y), append(z[k], p.Z)
		}
	}
	s := body{make([]interp.FritschButland, girthSteps+1), make([]interp.FritschButland, girthSteps+1)}
	for k := range s.y {
		if err := s.y[k].Fit(x, y[k]); err != nil {
			return s, fmt.Errorf("making the solid: the offsets: %w", err)
		}
		if err := s.z[k].Fit(x, z[k]); err != nil {
			return s, fmt.Errorf("making the solid: the offsets: %w", err)
		}
	}
	return s, nil
}

// section is the starboard side of the body at x, from its bottom to the sheer.
func (s *body) section(x float64) []Vec {
	out := make([]Vec, len(s.y))
	for k := range out {
		out[k] = Vec{x, s.y[k].Predict(x), s.z[k].Predict(x)}
	}
	return out
}

// spread divides a line through points into n equal steps of its length.
func spread(points []Vec, n int) []Vec {
	// By the length of the line and not by height: a flat bottom has as many steps as an upright side.
	at := make([]float64, len(points))
	for i := 1; i < len(points); i++ {
		at[i] = at[i-1] + points[i].minus(points[i-1]).length()
	}
	total := at[len(at)-1]
	out := make([]Vec, n+1)
	k := 0
	for i := range out {
		s := total * float64(i) / float64(n)
		for k < len(at)-2 && at[k+1] < s {
			k++
		}
		step := at[min(k+1, len(at)-1)] - at[k]
		// Two points of a table may coincide, and all do at a stem head that is a point.
		if step <= 0 {
			out[i] = points[k]
			continue
		}
		out[i] = points[k].towards(points[min(k+1, len(points)-1)], min(1, (s-at[k])/step))
	}
	out[n] = points[len(points)-1] // exactly: the next band begins there
	return out
}

// cut is the part of a section between two heights, which may lie beyond its ends: then nothing is left but the end,
// twice.
func cut(section []Vec, low, high float64) []Vec {
	last := len(section) - 1
	// Both within the section, and the upper one not below the lower: what is left of a band that has run out.
	low = min(max(low, section[0].Z), section[last].Z)
	high = min(max(high, low), section[last].Z)
	out := []Vec{at(section, low)}
	for _, p := range section {
		if p.Z > low && p.Z < high {
			out = append(out, p)
		}
	}
	return append(out, at(section, high))
}

// at is the place of a section at a height, straight between its points; beyond its ends the end.
func at(section []Vec, z float64) Vec {
	if z <= section[0].Z {
		return section[0]
	}
	for i := 1; i < len(section); i++ {
		if a, b := section[i-1], section[i]; z <= b.Z {
			if b.Z == a.Z {
				return b
			}
			return a.towards(b, (z-a.Z)/(b.Z-a.Z))
		}
	}
	return section[len(section)-1]
}

// band is a stretch of the side from some height to the next band.
type band struct {
	part int
	rows int // steps of the grid
	from func(x float64) float64
}

// The stripe: its edges below the sheer, m. Its middle is 85 mm below it, and it is 60 mm broad, as in the profile.
const (
	stripeLow  = 0.115
	stripeHigh = 0.055
)

// bands are those of the side from the bottom up; the skeg is of the first one's colour.
func (b *builder) bands() []band {
	side := b.part(Hull, b.Hull.Or(drawing.HullWhite), 0)
	// The bottom and the topsides have as many steps each; the bands between them are narrow and straight.
	rows := 4
	if b.fine {
		rows = 7
	}
	lowest := func(float64) float64 { return math.Inf(-1) }
	list := []band{{side, rows, lowest}}
	switch {
	case b.BootTop != nil:
		from, to := b.BootTop.From, b.BootTop.To
		// A boot top lies parallel to the base line, whatever the trim, as it is painted in the mould.
		list = []band{{b.part(Bottom, b.Bottom.Or(drawing.BottomGrey), 0), rows, lowest},
			{b.part(BootTop, b.BootTop.Colour.Or(drawing.HullWhite), 0), 1, func(float64) float64 { return from }},
			{side, rows, func(float64) float64 { return to }}}
	case b.Drafts != nil:
		// The row at the water is there without paint, too: a still picture has the wet side in another tone.
		below := side
		if b.Bottom != "" {
			below = b.part(Bottom, string(b.Bottom), 0)
		}
		list = []band{{below, rows, lowest}, {side, rows, b.water}}
	}
	if b.Stripe != "" {
		list = append(list,
			band{b.part(Stripe, string(b.Stripe), 0), 1, func(x float64) float64 { return b.SheerAt(x) - stripeLow }},
			band{side, 1, func(x float64) float64 { return b.SheerAt(x) - stripeHigh }})
	}
	// where the water stands in the stripe, that begins there
	for i := 1; i < len(list); i++ {
		from, below := list[i].from, list[i-1].from
		list[i].from = func(x float64) float64 { return max(from(x), below(x)) }
	}
	return list
}

// water is its height above the base line at x.
func (b *builder) water(x float64) float64 { return b.Level(b.Drafts, x) }

// shell adds the skin of the hull, and inside of it decks, the sides of the cockpit and its sole. All of it together is
// closed: nothing runs between deck and side.
func (b *builder) shell() (err error) {
	if b.body, err = b.newBody(); err != nil {
		return err
	}
	bands := b.bands()
	b.frames = b.placeFrames(bands)
	// Computed once: every band is cut out of them.
	sections := make([][]Vec, len(b.frames))
	for i, x := range b.frames {
		sections[i] = b.section(x)
	}
	var transom, stem []Vec // starboard edges from the keel up
	for k, s := range bands {
		// A band is a grid along the whole boat, also where it has run out: there its rows are points, and have no
		// faces.
		var rows [][]Vec
		for i, x := range b.frames {
			high := math.Inf(1)
			if k+1 < len(bands) {
				high = bands[k+1].from(x)
			}
			row := spread(cut(sections[i], s.from(x), high), s.rows)
			slices.Reverse(row) // downwards, so that its faces look outward
			rows = append(rows, row)
		}
		b.patch(s.part, rows, mirror)
		if k == len(bands)-1 {
			for i := range rows {
				b.sheer = append(b.sheer, rows[i][0])
			}
		}
		transom, stem = join(transom, rows[0]), join(stem, rows[len(rows)-1])
	}
	// Below the lowest band comes the skeg, and where there is none a keel as broad as the table says.
	keel := b.skeg(bands[0].part, sections)
	transom, stem = append([]Vec{keel[0]}, transom...), append([]Vec{keel[len(keel)-1]}, stem...)
	side := bands[len(bands)-1].part
	b.end(side, transom, 1)
	b.end(side, stem, -1)
	b.deck()
	b.waterline(sections)
	return nil
}

// join puts a row, which runs down, on top of the ones before.
func join(below, row []Vec) []Vec {
	up := slices.Clone(row)
	slices.Reverse(up)
	if len(below) > 0 {
		up = up[1:]
	}
	return append(below, up...)
}

// placeFrames chooses where the boat is cut: at the stations, between them, where a band runs out at the stem or the
// transom, and along the rounded ends of the cockpit.
func (b *builder) placeFrames(bands []band) []float64 {
	var list []float64
	stations := b.Offsets.Stations
	for i, st := range stations {
		if b.fine && i > 0 {
			list = append(list, (stations[i-1].X+st.X)/2)
		}
		list = append(list, st.X)
	}
	// The sides of the opening follow the sheer and need no frames of their own; its ends are round.
	opening := b.opening
	for i, p := range opening {
		if rounded := i < 9 || i >= len(opening)-9; rounded && (b.fine || i%2 == 0) {
			list = append(list, p.X)
		}
	}
	for _, s := range bands[1:] {
		for i := 1; i < len(stations); i++ {
			if x, ok := runsOut(s.from, b.BottomAt, stations[i-1].X, stations[i].X); ok {
				list = append(list, x)
			}
		}
	}
	slices.Sort(list)
	// those nearer than a centimetre to the one before are left out, but never a station
	out := list[:1]
	for _, x := range list[1:] {
		switch station := slices.ContainsFunc(stations, func(s hull.Station) bool { return s.X == x }); {
		case x-out[len(out)-1] >= 0.01:
			out = append(out, x)
		case station && x != out[len(out)-1]:
			if len(out) > 1 {
				out[len(out)-1] = x
			} else {
				out = append(out, x)
			}
		}
	}
	return out
}

// runsOut is where two heights along the boat cross, if they do between two places.
func runsOut(f, g func(float64) float64, from, to float64) (float64, bool) {
	// Halving, since neither is more than a curve that can be asked.
	above := func(x float64) bool { return f(x) > g(x) }
	if above(from) == above(to) {
		return 0, false
	}
	for range 20 { // to a millionth of the distance between two stations
		if middle := (from + to) / 2; above(middle) == above(from) {
			from = middle
		} else {
			to = middle
		}
	}
	return (from + to) / 2, true
}

// skeg adds what hangs below the body: its sides, upright at the post, and the face below it, which runs along the
// whole keel. It gives the starboard edge of that.
func (b *builder) skeg(part int, sections [][]Vec) []Vec {
	from, to, ok := b.Skeg()
	stations := b.Offsets.Stations
	var sides, below [][]Vec
	var edge []Vec
	add := func(keel, bottom Vec) {
		sides = append(sides, []Vec{bottom, keel})
		below = append(below, []Vec{keel, keel.port()})
		edge = append(edge, keel)
	}
	// From aft, where the hull usually has none.
	for i, x := range b.frames {
		bottom := sections[i][0]
		keel := bottom
		if ok && x >= stations[from].X && x <= stations[min(to+1, len(stations)-1)].X {
			// Two rows at one place. Interpolated from the station before it, the post would slope over a whole
			// station.
			if x == stations[from].X && from > 0 {
				add(bottom, bottom) // the post stands upright
			}
			keel.Z = min(b.KeelAt(x), bottom.Z)
		}
		add(keel, bottom)
	}
	b.patch(part, sides, mirror)
	b.patch(part, below, 0)
	return edge
}

// end closes the hull at the transom, or the stem: facing is 1 where it looks aft. The edge runs up from the keel to
// starboard. The uppermost row meets the deck, which has more corners there.
func (b *builder) end(part int, edge []Vec, facing float64) {
	// The edge may be no more than a point at a stem, whose rows then have no faces.
	n := len(edge) - 1
	// From side to side, a row for each height: the ends are flat, and need no more.
	var rows [][]Vec
	for _, p := range edge[:n] {
		rows = append(rows, []Vec{{p.X, -facing * p.Y, p.Z}, {p.X, facing * p.Y, p.Z}})
	}
	b.patch(part, rows, 0)
	// The lower row has two places alone, each as often as the upper one has corners on its side.
	lower, upper := make([]Vec, 2*deckSteps+1), make([]Vec, 2*deckSteps+1)
	for i := range upper {
		y := facing * float64(i-deckSteps) / deckSteps
		upper[i] = Vec{edge[n].X, edge[n].Y * y, edge[n].Z}
		lower[i] = Vec{edge[n-1].X, edge[n-1].Y * facing, edge[n-1].Z}
		if i <= deckSteps/2 {
			lower[i].Y = -lower[i].Y
		}
	}
	b.patch(part, [][]Vec{lower, upper}, 0)
}

// waterline is drawn along the side where the water meets it.
func (b *builder) waterline(sections [][]Vec) {
	if b.Drafts == nil {
		return
	}
	for i, x := range b.frames {
		if z := b.water(x); z >= sections[i][0].Z {
			p := at(sections[i], z)
			p.Y += 0.003 // before the side, not in it
			b.m.Waterline = append(b.m.Waterline, round(p))
		}
	}
}

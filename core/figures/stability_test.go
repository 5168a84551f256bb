package figures_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/hull"
	"ribband/core/pack"
)

// lowered reads a formula over no options as the pack has it.
func lowered(t *testing.T, text string) formula.Program {
	t.Helper()
	p, err := formula.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// load puts together the mass table, the persons as they are changed; the boat has its growth.
func load(t *testing.T, st *formula.State, people func(*hull.Load)) hull.Load {
	t.Helper()
	items := compiled(t, demo).MassTable(st)
	var l hull.Load
	for i, it := range items {
		if part := (hull.Load{Mass: it.Mass, LCG: it.X, TCG: it.Y, VCG: it.Z}); i < len(items)-1 {
			part.Mass *= 1 + figures.GrowthShare
			l = l.And(part)
		} else if people(&part); part.Mass > 0 {
			l = l.And(part)
		}
	}
	return l
}

// A seated person's centre is above the seat, and the head above that: the mass table says so, and the open boat is as
// high as the highest of stem and heads.
func TestPersonsSitOnTheSeats(t *testing.T) {
	f := compiled(t, demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		items := compiled(t, demo).MassTable(st)
		seat := demo.Value(demo.Hulls[h].Seats.Z)
		if got, want := items[len(items)-1].Z, seat.Of(st)+0.25; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: the persons' centre is at %v, want %v", demo.Hulls[h].ID, got, want)
		}
	}
}

// The draught is that of the deepest point of the hull, or of a leg that reaches deeper; the height that of the highest
// point in each state, and the height with the top folded is there only where a top folds.
func TestDeepestAndHighest(t *testing.T) {
	f := compiled(t, demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		clearOf(t, st, "top")
		clearOf(t, st, "navigation-lights")
		f.Fill(st)
		boat, err := figures.NewHull(&demo.Hulls[h])
		if err != nil {
			t.Fatal(err)
		}
		rest, err := boat.Float(load(t, st, func(*hull.Load) {}), hull.FreshWater)
		if err != nil {
			t.Fatal(err)
		}
		deep, high := 0.0, 0.0
		for _, s := range demo.Hulls[h].Offsets {
			for k := range s.Z {
				deep = max(deep, -rest.Above(s.X, 0, s.Z[k]))
				high = max(high, rest.Above(s.X, 0, s.Z[k]))
			}
		}
		seats := demo.Hulls[h].Seats
		x, z := demo.Value(seats.X), demo.Value(seats.Z)
		head := rest.Above(x.Of(st), 0, z.Of(st)+0.90)
		if got := figure(t, st, "draft_m"); math.Abs(got-deep) > 0.001 {
			t.Errorf("%s: draught %v, want %v", demo.Hulls[h].ID, got, deep)
		}
		if got := figure(t, st, "air_draft_m"); got < max(high, head)-1e-9 || figure(t, st, "air_draft_down_m") != 0 {
			t.Errorf("%s: height %v, folded %v; the stem is at %v, the heads at %v", demo.Hulls[h].ID, got,
				figure(t, st, "air_draft_down_m"), high, head)
		}
		for _, top := range []string{"top-folding", "top-canopy"} {
			clearOf(t, st, "top")
			take(t, st, top)
			f.Fill(st)
			up, down := figure(t, st, "air_draft_m"), figure(t, st, "air_draft_down_m")
			if up < figure(t, st, "top_height_m") || (down > 0) != (top == "top-folding") || down >= up {
				t.Errorf("%s, %s: height %v up, %v folded", demo.Hulls[h].ID, top, up, down)
			}
		}
		bare := figure(t, st, "draft_m")
		if h > 0 {
			clearOf(t, st, "drive")
			take(t, st, "drive-leg")
			f.Fill(st)
			if got := figure(t, st, "draft_m"); got < bare+0.05 {
				t.Errorf("%s: draught %v with a leg below the keel, %v without", demo.Hulls[h].ID, got, bare)
			}
		}
	}
}

// take puts an option into its slot, clearOf empties a slot.
func take(t *testing.T, st *formula.State, id string) {
	t.Helper()
	i := slices.IndexFunc(demo.Options, func(o pack.Option) bool { return o.ID == id })
	if i < 0 {
		t.Fatalf("the demo book has no option %s", id)
	}
	st.Counts[i]++
	st.Slots[demo.Options[i].Slot]++
}

func clearOf(t *testing.T, st *formula.State, slot string) {
	t.Helper()
	i := slices.IndexFunc(demo.Slots, func(s pack.Slot) bool { return s.ID == slot })
	if i < 0 {
		t.Fatalf("the demo book has no slot %s", slot)
	}
	clear(st.Counts[demo.Slots[i].First:demo.Slots[i].End])
	st.Slots[i] = 0
}

// Everybody on one side, and one person on the gunwale: the heel and freeboard are those of package hull for a load
// that is put together here.
func TestOffsetLoads(t *testing.T) {
	f := compiled(t, demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		boat, err := figures.NewHull(&demo.Hulls[h])
		if err != nil {
			t.Fatal(err)
		}
		side := demo.Value(demo.Hulls[h].Seats.Side)
		offset, err := boat.Float(load(t, st, func(p *hull.Load) { p.TCG += side.Of(st) * 75 / 80 }), hull.FreshWater)
		if err != nil {
			t.Fatal(err)
		}
		near := func(what string, got, want, within float64) {
			t.Helper()
			if !(math.Abs(got-want) <= within) {
				t.Errorf("%s: %s %v, want %v", demo.Hulls[h].ID, what, got, want)
			}
		}
		near("heel on one side", figure(t, st, "offset_heel_deg"), offset.Heel*180/math.Pi, 1e-9)
		near("freeboard then", figure(t, st, "offset_freeboard_m"), offset.Freeboard.Height, 1e-9)

		setUse(t, st, "persons", 1)
		f.Fill(st)
		var x float64
		light := load(t, st, func(p *hull.Load) { x, p.Mass = p.LCG, 0 })
		at := gunwale(demo.Hulls[h].Offsets, x)
		boarded, err := boat.Float(light.And(hull.Load{Mass: 80, LCG: x, TCG: at.y, VCG: at.z + 1}), hull.FreshWater)
		if err != nil {
			t.Fatal(err)
		}
		near("heel when boarding", figure(t, st, "boarding_heel_deg"), boarded.Heel*180/math.Pi, 1e-9)
		near("freeboard then", figure(t, st, "boarding_freeboard_m"), boarded.Freeboard.Height, 1e-9)
	}
}

type corner struct{ y, z float64 }

func gunwale(list []pack.Station, x float64) corner {
	i := slices.IndexFunc(list, func(s pack.Station) bool { return s.X >= x })
	a, b := list[i-1], list[i]
	r := (x - a.X) / (b.X - a.X)
	last := func(v []float64) float64 { return v[len(v)-1] }
	return corner{last(a.Y) + r*(last(b.Y)-last(a.Y)), last(a.Z) + r*(last(b.Z)-last(a.Z))}
}

// An opening low on one side floods before the deck edge does, at the heel to that side, and lowers every freeboard. At
// the flooding angle the point is at the water.
func TestOpenings(t *testing.T) {
	p := *demo
	p.Hulls = slices.Clone(demo.Hulls)
	for h := range p.Hulls {
		z := fmt.Sprintf("n%g", vent(h))
		p.Hulls[h].Openings = []pack.Point{{Title: "Vent",
			Place: pack.Place{X: lowered(t, "n2"), Y: lowered(t, "n-0.7"), Z: lowered(t, z)}}}
	}
	with, without := compiled(t, &p), compiled(t, demo)
	for h := range p.Hulls {
		a, b := standard(t, without, h), standard(t, with, h)
		for _, id := range []string{"offset_freeboard_m", "boarding_freeboard_m", "flooding_height_m", "flooding_deg"} {
			less := figure(t, b, id) < figure(t, a, id)
			if leans := id[:5] != "flood"; !leans && !less || figure(t, b, id) > figure(t, a, id) {
				t.Errorf("%s: %s is %v with the vent and %v without", p.Hulls[h].ID, id, figure(t, b, id),
					figure(t, a, id))
			}
		}
		boat, err := figures.NewHull(&p.Hulls[h])
		if err != nil {
			t.Fatal(err)
		}
		heel := -figure(t, b, "flooding_deg") * math.Pi / 180
		l, err := boat.RightingLevers(load(t, b, func(*hull.Load) {}), hull.FreshWater, []float64{heel})
		if err != nil {
			t.Fatal(err)
		}
		sin, cos := math.Sincos(heel)
		middle := (boat.Aft() + boat.Fore()) / 2
		if w := vent(h)*cos + 0.7*sin - l[0].Draft + (2-middle)*math.Tan(l[0].Trim); math.Abs(w) > 1e-4 {
			t.Errorf("%s: at %.2f° the vent is %.5f m above the water", p.Hulls[h].ID, heel*180/math.Pi, w)
		}
	}
}

// vent is 0.2 to 0.26 m below the deck edge amidships.
func vent(h int) float64 { return []float64{0.52, 0.60, 0.66, 0.72}[h] }

// What the standard asks of boats of known length, by its formulas.
//
// Source: ISO 12217-1, from memory: 10 + (24 - 4)³/600 = 23.33°; 0.07·√4 = 0.14 m, 0.11·√4 = 0.22 m; no outside example
// is at hand.
func TestLimitsOfOffsetLoad(t *testing.T) {
	f := compiled(t, demo)
	st := standard(t, f, 0) // 4.6 m
	for id, want := range map[string]float64{"offset_heel_limit_deg": 10 + 19.4*19.4*19.4/600,
		"offset_freeboard_limit_d_m": 0.15013, "offset_freeboard_limit_c_m": 0.23592} {
		if got := figure(t, st, id); math.Abs(got-want) > 1e-4 {
			t.Errorf("%s is %v, want %v", id, got, want)
		}
	}
	light := figure(t, st, "flooding_height_limit_d_m")
	setUse(t, st, "persons", 5)
	f.Fill(st)
	if got := figure(t, st, "flooding_height_limit_d_m"); !(got > light) {
		t.Errorf("a heavier boat must stand no higher: %v m after %v", got, light)
	}
}

// A boat whose persons would lay its side under has no freeboard left, and heels at least to where it floods; its other
// figures are known.
func TestTooManyOnOneSide(t *testing.T) {
	p := *demo
	p.Hulls = slices.Clone(demo.Hulls)
	for h := range p.Hulls {
		seats := *p.Hulls[h].Seats
		seats.Side = lowered(t, "n2.5")
		p.Hulls[h].Seats = &seats
	}
	f := compiled(t, &p)
	for h := range p.Hulls {
		st := standard(t, f, h)
		if len(st.Faults) > 0 || figure(t, st, "offset_freeboard_m") != 0 ||
			figure(t, st, "offset_heel_deg") != figure(t, st, "flooding_deg") || figure(t, st, "freeboard_m") <= 0 {
			t.Errorf("%s: heel %v, flooding %v, freeboard %v, faults %q", p.Hulls[h].ID,
				figure(t, st, "offset_heel_deg"), figure(t, st, "flooding_deg"), figure(t, st, "offset_freeboard_m"),
				st.Faults)
		}
	}
}

// A book that asks for these checks says how far off its persons may sit.
func TestSeatsNeedASide(t *testing.T) {
	p := *demo
	p.Hulls = slices.Clone(demo.Hulls)
	seats := *p.Hulls[1].Seats
	seats.Side = formula.Program{}
	p.Hulls[1].Seats = &seats
	const want = "computing the figures stability.*: the hull rush-54 does not say how far from the centre line a " +
		"person sits on one side: add seats: with side_m"
	if _, err := figures.Compile(&p); err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// The bounds of the height on the road hold for what they bound, and are as narrow as the book allows where nothing is
// free.
func TestRoadHeightIsBounded(t *testing.T) {
	f := compiled(t, demo)
	at := slices.IndexFunc(demo.Figures, func(f pack.Figure) bool { return f.ID == "road_height_m" })
	needed := f.Needed(formula.Reads{Figures: []int{at}})
	top := slices.IndexFunc(demo.Slots, func(s pack.Slot) bool { return s.ID == "top" })
	for h := range demo.Hulls {
		st := standard(t, f, h)
		var box formula.Box
		free := make([]bool, len(demo.Slots))
		f.Bounds(st, free, needed, &box)
		if b := box.Figures[at]; b.Lo != st.Figures[at] || b.Hi != st.Figures[at] {
			t.Errorf("%s: %v for a boat of %v", demo.Hulls[h].ID, b, st.Figures[at])
		}
		free[top] = true
		f.Bounds(st, free, needed, &box)
		for o := demo.Slots[top].First; o < demo.Slots[top].End; o++ {
			clear(st.Counts[demo.Slots[top].First:demo.Slots[top].End])
			st.Counts[o], st.Slots[top] = 1, 1
			f.Fill(st)
			if v := st.Figures[at]; !(v >= box.Figures[at].Lo && v <= box.Figures[at].Hi) &&
				(len(demo.Options[o].Hulls) == 0 || slices.Contains(demo.Options[o].Hulls, h)) {
				t.Errorf("%s with %s: %v is not within %v", demo.Hulls[h].ID, demo.Options[o].ID, v, box.Figures[at])
			}
		}
	}
}

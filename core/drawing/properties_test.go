package drawing_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/cutting"
	"ribband/core/drawing"
	"ribband/core/hull"
	"ribband/core/msg"
	"ribband/core/wiring"
)

// fairHull is a random hull that a builder would call fair.
func fairHull(t *rapid.T) hull.Offsets {
	length := rapid.Float64Range(3, 9).Draw(t, "length")
	beam := length * rapid.Float64Range(0.28, 0.42).Draw(t, "beam")
	depth := length * rapid.Float64Range(0.12, 0.2).Draw(t, "depth")
	n, m := rapid.IntRange(5, 31).Draw(t, "stations"), rapid.IntRange(3, 12).Draw(t, "points")
	full := rapid.Float64Range(0.3, 1).Draw(t, "fullness")
	from := rapid.Float64Range(-2, 2).Draw(t, "aft end")
	var o hull.Offsets
	for i := range n {
		s := float64(i) / float64(n-1)
		half := beam/2*(1-math.Pow(math.Abs(s-0.45)/0.56, 2.4)) + 0.01
		keel := depth * (0.35*math.Pow(1-s, 3) + 0.75*math.Pow(s, 6))
		sheer := depth * (1 + 0.25*(s-0.4)*(s-0.4)*4)
		st := hull.Station{X: from + s*length}
		for j := range m {
			u := float64(j) / float64(m-1)
			st.Z = append(st.Z, keel+u*(sheer-keel))
			st.Y = append(st.Y, 0.01+(half-0.01)*math.Pow(u, full))
		}
		o.Stations = append(o.Stations, st)
	}
	return o
}

func format(t *rapid.T) drawing.Format {
	return drawing.Format{Width: rapid.Float64Range(320, 1400).Draw(t, "width")}
}

func TestFairBoatsAreDrawn(t *testing.T) {
	tops := []drawing.TopKind{drawing.NoTop, drawing.FoldingHood, drawing.Canopy, drawing.HardTop, drawing.SolarTop}
	rapid.Check(t, func(t *rapid.T) {
		o := fairHull(t)
		n := len(o.Stations)
		aft, l := o.Stations[0].X, o.Stations[n-1].X-o.Stations[0].X
		at := func(s float64) float64 { return aft + s*l }
		draft := o.Stations[n/2].Z[0] + rapid.Float64Range(0.2, 0.6).Draw(t,
			"draft")*(o.Stations[n/2].Z[len(o.Stations[n/2].Z)-1]-o.Stations[n/2].Z[0])
		trim := rapid.Float64Range(-0.1, 0.1).Draw(t, "trim")
		drafts := &drawing.Drafts{Aft: draft + trim, Fore: draft - trim}
		c := drawing.Cockpit{Aft: at(0.15), Fore: at(rapid.Float64Range(0.5, 0.75).Draw(t, "cockpit"))}
		top := drawing.Top{Kind: rapid.SampledFrom(tops).Draw(t, "top"), Aft: at(0.16), Fore: at(0.7),
			Height: rapid.Float64Range(0.6, 1.6).Draw(t, "height")}
		if top.Kind == drawing.FoldingHood {
			top.Folded = 1.5 * l * 0.2 // above the sheer of every fair hull
			top.Height = 3
		}
		wheel := drawing.Wheel{X: at(0.55), Y: 0.1}
		box := drawing.Area{Aft: at(0.3), Fore: at(0.4), Port: -0.1, Starboard: 0.1}
		boat := drawing.Boat{Offsets: o, Cockpit: c, Top: top,
			Paint: drawing.Paint{LaidDeck: "#c29a6b", PlankedSole: true},
			Fittings: []drawing.Fitting{drawing.Dash{X: at(0.6)}, drawing.Tiller{}, wheel, drawing.Thruster{},
				drawing.Table{Area: box}, drawing.Motor{Area: box}, drawing.Bank{Area: box}},
			Drive: drawing.Drive{Kind: rapid.SampledFrom([]drawing.DriveKind{drawing.NoDrive, drawing.Shaft,
				drawing.Leg, drawing.Pod}).Draw(t, "drive"), X: at(0.25)}}
		if top.Kind != drawing.NoTop {
			boat.Enclosure = rapid.SampledFrom([]drawing.Enclosure{drawing.NoEnclosure, drawing.FrontEnclosure,
				drawing.SideEnclosure, drawing.FullEnclosure}).Draw(t, "enclosure")
		}
		f := format(t)
		for _, d := range []drawer{
			drawing.Profile{Boat: boat, Drafts: drafts, Persons: []float64{at(0.2), at(0.5)}, Folded: 0.5},
			drawing.Sections{Boat: boat, Drafts: drafts},
			drawing.Plan{Boat: boat, Seats: drawing.Benches(c, l*0.14, &wheel)}} {
			svg, err := d.SVG(f)
			if err != nil {
				t.Fatal(err)
			}
			sound(t, svg)
		}
	})
}

func TestPlotsAreDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 60).Draw(t, "points")
		r, g, speed, heel := drawing.RangeCurve{},
			drawing.RightingLevers{GM: rapid.Float64Range(-1, 3).Draw(t, "GM"),
				Flooding: rapid.Float64Range(0, 90).Draw(t, "flooding")}, 0.0, -20.0
		for range n {
			speed += rapid.Float64Range(0.01, 1).Draw(t, "step")
			heel += rapid.Float64Range(0.1, 3).Draw(t, "heel")
			r.Points = append(r.Points, drawing.RangePoint{SpeedKn: speed,
				RangeNm:   rapid.Float64Range(0, 500).Draw(t, "range"),
				ReserveNm: rapid.Float64Range(0, 100).Draw(t, "reserve")})
			g.Points = append(g.Points, drawing.RightingLever{HeelDeg: heel,
				GZ: rapid.Float64Range(-1, 1).Draw(t, "lever")})
		}
		f := format(t)
		for _, d := range []drawer{r, g} {
			svg, err := d.SVG(f)
			if err != nil {
				t.Fatal(err)
			}
			sound(t, svg)
		}
	})
}

func TestLayoutsAreDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := cutting.Stock{Width: rapid.Float64Range(300, 3000).Draw(t, "width")}
		if rapid.Bool().Draw(t, "sheets") {
			stock.Length, stock.Kerf = rapid.Float64Range(1000, 4000).Draw(t, "length"), 3
		}
		var pieces []cutting.Piece
		for i := range rapid.IntRange(1, 12).Draw(t, "pieces") {
			pieces = append(pieces, cutting.Piece{Name: fmt.Sprintf("piece %d", i),
				Width: rapid.Float64Range(1, 300).Draw(t, "w"), Length: rapid.Float64Range(1, 1000).Draw(t, "l"),
				Turn: rapid.Bool().Draw(t, "turn")})
		}
		l, err := cutting.Lay(pieces, stock)
		if err != nil {
			t.Fatal(err)
		}
		svg, err := drawing.CutLayout{Layout: l}.SVG(format(t))
		if err != nil {
			t.Fatal(err)
		}
		sound(t, svg)
	})
}

// FuzzNames puts any text where people give names.
func FuzzNames(f *testing.F) {
	for _, s := range []string{"", `<script>alert("1")</script>`, "]]>", "&amp; & ' \"", "\x00\x1b\ufffe", "\xff\xfe",
		strings.Repeat("W", 300), "ボート 春", "a\nb\tc", "-->", "\u202e"} {
		f.Add(s)
	}
	o := demo(f)
	f.Fuzz(func(t *testing.T, s string) {
		m := drawing.Masses{Name: s, Groups: []drawing.MassGroup{{Name: s, Kg: 1}, {Name: "x", Kg: 2}},
			Notes: []string{s}}
		c := layout(t, []cutting.Piece{{Name: s, Width: 400, Length: 900}}, cutting.Stock{Width: 1000})
		c.Material, c.Notes = s, []string{s}
		p := planReed(o)
		p.Name, p.Fittings = s, []drawing.Fitting{drawing.Table{Area: drawing.Area{Name: s, Aft: 2, Fore: 3}}}
		l := loom(t)
		l.Bank, l.Name = s, s
		l.Loom.Wires[0].Circuit, l.Loom.Wires[0].Colour = s, wiring.Colour(s)
		l.Loom.Wires[0].Ends[1].Place = msg.Plain(s)
		pr := sedge(o)
		pr.Name, pr.Notes = s, []string{s}
		for _, d := range []drawer{m, c, p, l, pr} {
			svg, err := d.SVG(drawing.Format{Width: 340})
			if err != nil {
				t.Fatal(err)
			}
			names := map[string]bool{}
			for _, e := range sound(t, svg) {
				names[e.name] = true
			}
			for n := range names {
				if !strings.Contains(" svg title desc path line rect ellipse text g clipPath ", " "+n+" ") {
					t.Errorf("an element <%s> came from the name %q", n, s)
				}
			}
		}
	})
}

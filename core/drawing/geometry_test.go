package drawing_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/cutting"
	"ribband/core/drawing"
	"ribband/core/hull"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, tolerance)
	}
}

// barError is what the rounding of the scale bar comes to over a hull, m.
const barError = 0.001

// scaleOf reads the scale bar: its length in units over the metres that are written below it.
func scaleOf(t *testing.T, all []*element, length float64) float64 {
	t.Helper()
	width := 0.0
	for _, e := range all {
		if e.name == "rect" && e.attrs["height"] == "5" {
			width += number(t, e, "width")
		}
	}
	return width / length
}

func draw(t *testing.T, d drawer) []*element {
	t.Helper()
	svg, err := d.SVG(drawing.Format{Width: 900})
	if err != nil {
		t.Fatal(err)
	}
	return sound(t, svg)
}

// clipOf finds the outline that a clip path holds.
func clipOf(t *testing.T, all []*element, id string) [][2]float64 {
	t.Helper()
	for i, e := range all {
		if e.name == "clipPath" && e.attrs["id"] == id {
			return points(t, all[i+1].attrs["d"])
		}
	}
	t.Fatalf("no clip path %q", id)
	return nil
}

func TestProfileIsToScale(t *testing.T) {
	p := sedge(demo(t))
	all := draw(t, p)
	scale := scaleOf(t, all, 0.5)
	first, last := p.Offsets.Stations[0], p.Offsets.Stations[len(p.Offsets.Stations)-1]
	outline := clipOf(t, all, "profile-hull")
	aft := outline[0]         // the sheer aft
	fore := outline[3*(21-1)] // the sheer fore, after twenty curves
	sheer := func(s hull.Station) float64 { return s.Z[len(s.Z)-1] }
	near(t, "length along the sheer", math.Hypot(fore[0]-aft[0], fore[1]-aft[1]),
		math.Hypot(last.X-first.X, sheer(last)-sheer(first))*scale, barError*scale)

	waterline := math.NaN()
	for _, e := range all {
		if e.name == "line" && strings.Contains(e.attrs["stroke"], "--water") {
			waterline = number(t, e, "y1")
			near(t, "the water is level", number(t, e, "y2"), waterline, 0)
		}
	}
	cos := math.Cos(math.Atan((p.Drafts.Aft - p.Drafts.Fore) / (last.X - first.X)))
	near(t, "freeboard aft", waterline-aft[1], (sheer(first)-p.Drafts.Aft)*cos*scale, 0.05)
	near(t, "freeboard fore", waterline-fore[1], (sheer(last)-p.Drafts.Fore)*cos*scale, 0.05)
}

func TestPlanIsToScale(t *testing.T) {
	p := planSedge(demo(t))
	all := draw(t, p)
	scale := scaleOf(t, all, 0.5)
	for _, e := range all {
		if e.name == "path" {
			pts := points(t, e.attrs["d"]) // the deck: starboard from aft forward, port back
			near(t, "length", pts[3*20][0]-pts[0][0], 4.6*scale, barError*scale)
			near(t, "breadth of the transom", pts[0][1]-pts[len(pts)-1][1], 2*0.685*scale, 0.05)
			break
		}
	}
	for _, e := range all {
		if e.name == "rect" && e.attrs["stroke-dasharray"] != "" {
			near(t, "length of the motor", number(t, e, "width"), 0.35*scale, 0.05)
			break
		}
	}
}

func TestSectionsAreToScale(t *testing.T) {
	o := demo(t)["sedge-46"]
	all := draw(t, drawing.Sections{Boat: drawing.Boat{Offsets: o}, Drafts: &drawing.Drafts{Aft: 0.36, Fore: 0.33}})
	scale := scaleOf(t, all, 0.2)
	aft, fore := 0.0, 0.0 // the widest of either half; the middle is at 2.3 m
	for _, s := range o.Stations {
		if y := s.Y[len(s.Y)-1]; s.X < 2.3 {
			aft = max(aft, y)
		} else {
			fore = max(fore, y)
		}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, e := range all {
		if e.name == "path" && e.attrs["stroke-dasharray"] == "" {
			pts := points(t, e.attrs["d"])
			low, high = min(low, pts[len(pts)-1][0]), max(high, pts[len(pts)-1][0])
		}
	}
	near(t, "breadth", high-low, (aft+fore)*scale, barError*scale)
}

func TestRangeIsPlottedRight(t *testing.T) {
	all := draw(t, rangeCurve())
	var dot *element
	ticks := map[string]*element{}
	for _, e := range all {
		if e.name == "ellipse" && dot == nil {
			dot = e
		}
		if e.name == "text" {
			ticks[e.text] = e
		}
	}
	x := func(s string) float64 { return number(t, ticks[s], "x") }
	near(t, "speed of the use", number(t, dot, "cx"), x("4.5"), 0.05)
	y := func(s string) float64 { return number(t, ticks[s], "y") - 4 }
	want := rangeCurve().Use.RangeNm
	near(t, "range of the use", (number(t, dot, "cy")-y("20"))/(y("40")-y("20")), (want-20)/20, 0.001)
}

func TestMassesAreInProportion(t *testing.T) {
	all := draw(t, masses())
	i := 0
	var scale float64
	for _, e := range all {
		if e.name == "rect" {
			w := number(t, e, "width")
			if i == 0 {
				scale = w / masses().Groups[0].Kg
			}
			near(t, masses().Groups[i].Name, w, masses().Groups[i].Kg*scale, 0.02)
			i++
		}
	}
	if i != len(masses().Groups) {
		t.Errorf("%d bars for %d groups", i, len(masses().Groups))
	}
}

// The area of the pieces drawn is the share of the stock drawn that is not wasted.
func TestWasteIsWhatIsDrawn(t *testing.T) {
	for _, c := range []drawing.CutLayout{layout(t, clothPieces, cutting.Stock{Width: 1370}),
		layout(t, panePieces, cutting.Stock{Width: 1220, Length: 2440, Kerf: 4})} {
		stock, pieces := 0.0, 0.0
		for _, e := range draw(t, c) {
			if e.name != "rect" {
				continue
			}
			area := number(t, e, "width") * number(t, e, "height")
			if strings.Contains(e.attrs["fill"], "--rule") {
				stock += area
			} else {
				pieces += area
			}
		}
		near(t, "waste", 1-pieces/stock, c.Layout.Waste, 0.001)
	}
}

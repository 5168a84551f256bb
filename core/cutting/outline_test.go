package cutting

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func shape(t interface{ Fatalf(string, ...any) }, points ...Point) *Shape {
	s, err := NewShape(points)
	if err != nil {
		t.Fatalf("%v: %+v", err, points)
	}
	return s
}

func wantNear(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v ± %v", what, got, want, tolerance)
	}
}

// Areas and perimeters by hand: the shoelace formula over the points of a pentagon (worked by the determinants of its
// edges), and what the arcs of a circle, a stadium and a rounded square enclose.
// Source: elementary geometry; the pentagon is worked by hand.
func TestAreaAndPerimeter(t *testing.T) {
	const r = 250.0
	for _, c := range []struct {
		name            string
		points          []Point
		area, perimeter float64
	}{
		// twice the area: (3×11 - 5×4) + (5×8 - 12×11) + (12×5 - 9×8) + (9×6 - 5×5) + (5×4 - 3×6) = -60
		{"pentagon", []Point{{X: 3, Y: 4}, {X: 5, Y: 11}, {X: 12, Y: 8}, {X: 9, Y: 5}, {X: 5, Y: 6}}, 30,
			math.Sqrt(53) + math.Sqrt(58) + math.Sqrt(18) + math.Sqrt(17) + math.Sqrt(8)},
		{"circle of four corners", rounded(Rectangle(2*r, 2*r, 0), r), math.Pi * r * r, 2 * math.Pi * r},
		{"circle of three arcs", triangleOfArcs(r), math.Pi * r * r, 2 * math.Pi * r},
		{"stadium", []Point{{}, {X: 800, Rise: r}, {X: 800, Y: 2 * r}, {Y: 2 * r, Rise: r}},
			800*2*r + math.Pi*r*r, 1600 + 2*math.Pi*r},
		{"rounded square", rounded(Rectangle(1000, 1000, 0), 100), 1e6 - (4-math.Pi)*1e4, 3200 + 200*math.Pi},
		{"hollowed square", []Point{{Rise: -100}, {X: 200}, {X: 200, Y: 300}, {Y: 300}},
			200*300 - math.Pi*1e4/2, 2*300 + 200 + math.Pi*100},
		{"clockwise", []Point{{}, {Y: 400}, {X: 300}}, 60000, 1200},
	} {
		s := shape(t, c.points...)
		wantNear(t, c.name+": area", s.Finished.Area(), c.area, 1e-6*c.area)
		wantNear(t, c.name+": perimeter", s.Finished.Perimeter(), c.perimeter, 1e-9*c.perimeter)
		// an arc drawn as chords has less than its area by no more than the tolerance times its length
		wantNear(t, c.name+": area of chords", s.Finished.Polygon(0.01).Area(), c.area, 0.01*c.perimeter)
	}
}

func rounded(points []Point, r float64) []Point {
	for i := range points {
		points[i].Radius = r
	}
	return points
}

// triangleOfArcs is a circle by an equilateral triangle inscribed in it, whose sides rise by half the radius.
func triangleOfArcs(r float64) (list []Point) {
	for k := range 3 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 3)
		list = append(list, Point{X: r * cos, Y: r * sin, Rise: r / 2})
	}
	return list
}

// The box of a contour holds its arcs, wherever they pass the axes of their circle.
func TestBoxHoldsArcs(t *testing.T) {
	left, low, right, high := shape(t, triangleOfArcs(250)...).Cut.Box()
	for _, side := range []struct{ got, want float64 }{{left, 0}, {low, 0}, {right, 500}, {high, 500}} {
		wantNear(t, "a side of the box", side.got, side.want, 1e-9)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := anyShape(t).Cut
		left, low, right, high := c.Box()
		a, b, d, e := c.Polygon(0.001).Box()
		for _, side := range [][2]float64{{left, a}, {low, b}, {right, d}, {high, e}} {
			if math.Abs(side[0]-side[1]) > 0.001+1e-6 {
				t.Fatalf("the box is %v, that of its chords %v", []float64{left, low, right, high},
					[]float64{a, b, d, e})
			}
		}
	})
}

// A parallel of a convex figure at a distance d encloses A + P×d + πd²; with mitred corners, A + P×d + d²×Σtan(t/2)
// over the exterior angles t.
// Source: J. Steiner, Über parallele Flächen (1840), in the plane; the second is the first with each sector of a circle
// replaced by the two right triangles of its corner.
func TestAllowancesOfConvexPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// a convex polygon inscribed in an ellipse, its corners rounded as far as its shortest edge allows
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		wide, high := rapid.Float64Range(200, 900).Draw(t, "wide"), rapid.Float64Range(200, 900).Draw(t, "high")
		d, r := rapid.Float64Range(1, 60).Draw(t, "allowance"), rapid.Float64Range(0.5, 20).Draw(t, "radius")
		var points []Point
		for k := range n {
			sin, cos := math.Sincos(2*math.Pi*float64(k)/float64(n) + 0.1)
			points = append(points, Point{X: wide * cos, Y: high * sin, Allowance: d})
		}
		sharp := shape(t, points...)
		tangents, limited := 0.0, false
		for i := range sharp.Finished {
			_, _, sin, cos := sharp.Finished.turn(i)
			angle := math.Atan2(sin, cos)
			tangents += math.Tan(angle / 2)
			limited = limited || 1/math.Cos(angle/2) > 2
		}
		a, p := sharp.Finished.Area(), sharp.Finished.Perimeter()
		if want := a + p*d + d*d*tangents; !limited && math.Abs(sharp.Cut.Area()-want) > 1e-6*want {
			t.Fatalf("mitred: %v, want %v", sharp.Cut.Area(), want)
		}
		round, err := NewShape(rounded(points, r))
		if err != nil {
			if strings.Contains(err.Error(), "does not fit an edge") {
				return
			}
			t.Fatal(err)
		}
		a, p = round.Finished.Area(), round.Finished.Perimeter()
		if want := a + p*d + math.Pi*d*d; math.Abs(round.Cut.Area()-want) > 1e-6*want {
			t.Fatalf("rounded: %v, want %v", round.Cut.Area(), want)
		}
		if got, want := round.Cut.Perimeter(), p+2*math.Pi*d; math.Abs(got-want) > 1e-6*want {
			t.Fatalf("the perimeter is %v, want %v", got, want)
		}
	})
}

// Sharp corners are joined by an arc, for which Steiner's formula holds as it stands: a needle of 3, 4 and 5 turned
// into one of 20°.
func TestAllowanceOfASharpCorner(t *testing.T) {
	const d = 30.0
	half := math.Tan(10 * math.Pi / 180)
	s := shape(t, Point{Allowance: d}, Point{X: 1000, Y: 1000 * half, Allowance: d},
		Point{X: 1000, Y: -1000 * half, Allowance: d})
	a, p := s.Finished.Area(), s.Finished.Perimeter()
	// the sharp corner turns by 160°, the other two by 100° each
	square := math.Tan(50 * math.Pi / 180)
	wantNear(t, "area", s.Cut.Area(), a+p*d+d*d*(80*math.Pi/180+2*square), 1e-6*a)
}

// Allowances by edge: what a rectangle grows by is what each side adds, whatever the others have.
func TestAllowanceByEdge(t *testing.T) {
	list := Rectangle(600, 900, 0)
	for i, d := range []float64{10, 20, 30, 40} {
		list[i].Allowance = d
	}
	s := shape(t, list...)
	width, length := s.Size()
	if width != 600+20+40 || length != 900+10+30 || math.Abs(s.Cut.Area()-width*length) > 1e-6 {
		t.Errorf("it is cut as %v × %v mm with %v mm²", width, length, s.Cut.Area())
	}
	// inner corners, too: an L of 600 × 600 less 300 × 300 in its corner, 20 all round, is 640 × 640 less 300 × 300
	ell := []Point{{}, {X: 600}, {X: 600, Y: 300}, {X: 300, Y: 300}, {X: 300, Y: 600}, {Y: 600}}
	for i := range ell {
		ell[i].Allowance = 20
	}
	wantNear(t, "the L", shape(t, ell...).Cut.Area(), 640*640-300*300, 1e-6)
	// a hem that ends in the middle of an edge makes a step there
	step := []Point{{Allowance: 40}, {X: 300}, {X: 600}, {X: 600, Y: 200}, {Y: 200}}
	wantNear(t, "the step", shape(t, step...).Cut.Area(), 600*200+300*40, 1e-6)
}

// Half of an outline and its image are the whole: twice the area, and the edges of both sides alike.
func TestMirrored(t *testing.T) {
	half := []Point{{Allowance: 30}, {X: 400, Allowance: 15, Rise: 50}, {X: 300, Y: 900, Allowance: 30}, {Y: 950}}
	closed := shape(t, half...).Finished.Area()
	s := shape(t, Mirrored(half)...)
	wantNear(t, "the area", s.Finished.Area(), 2*closed, 1e-6*closed)
	for _, v := range s.Cut {
		found := false
		for _, w := range s.Cut {
			width, _ := s.Size()
			found = found || math.Abs(v.X+w.X-width) < 1e-6 && math.Abs(v.Y-w.Y) < 1e-6
		}
		if !found {
			t.Errorf("%+v has no image", v)
		}
	}
}

// Notches stand between the finished line and the cut, and on an edge without allowance in the piece.
func TestNotches(t *testing.T) {
	s := shape(t, Point{Allowance: 25}, Point{X: 300, Allowance: 25, Notch: true}, Point{X: 600},
		Point{X: 600, Y: 400, Notch: true}, Point{X: 600, Y: 800, Allowance: 25}, Point{Y: 800})
	if len(s.Notches) != 4 {
		t.Fatalf("%d ends of notches", len(s.Notches))
	}
	a, b := s.Notches[:2], s.Notches[2:]
	if a[0].X != 300 || a[0].Y != 25 || a[1].X != 300 || a[1].Y != 0 {
		t.Errorf("the first runs from %v to %v", a[0], a[1])
	}
	if b[0].X != 600 || b[1].X != 595 || b[0].Y != 425 || b[1].Y != 425 {
		t.Errorf("the second runs from %v to %v", b[0], b[1])
	}
}

// What is wrong with an outline is said at its point, with a remedy.
func TestOutlineFaults(t *testing.T) {
	square := func(change func(list []Point)) []Point {
		list := Rectangle(400, 300, 0)
		change(list)
		return list
	}
	for name, c := range map[string]struct {
		points []Point
		at     int
		want   string
	}{
		"two corners":        {[]Point{{}, {X: 300}}, 0, "the outline has 2 corners; give at least three corners"},
		"three that are two": {[]Point{{}, {X: 300}, {X: 300.001}}, 0, "the outline has 2 corners"},
		"a bow tie": {[]Point{{}, {X: 400, Y: 300}, {X: 400}, {Y: 300}}, 2,
			"the outline crosses itself or turns back on the edge that begins here; list the corners in their order"},
		"there and back":  {[]Point{{}, {X: 400}, {X: 200}, {Y: 300}}, 1, "turns back"},
		"arcs that cross": {square(func(l []Point) { l[0].Rise, l[2].Rise = -190, -190 }), 2, "crosses itself"},
		"too round": {square(func(l []Point) { l[1].Radius = 301 }), 1,
			"a radius of 301.0 mm does not fit an edge of 300.0 mm; give at most 300.0 mm"},
		"round together": {square(func(l []Point) { l[1].Radius, l[2].Radius = 200, 200 }), 1,
			"a radius of 200.0 mm does not fit an edge of 300.0 mm; give at most 150.0 mm"},
		"round beside an arc": {square(func(l []Point) { l[1].Radius, l[1].Rise = 20, 20 }), 1, "beside an arc"},
		"round with a notch":  {square(func(l []Point) { l[1].Radius, l[1].Notch = 20, true }), 1, "has a notch"},
		"rises too far": {square(func(l []Point) { l[1].Rise = 151 }), 1,
			"an arc rises by 151.0 mm over an edge of 300.0 mm; let it rise by at most half the edge"},
		"wider than the piece": {square(func(l []Point) { l[2].Allowance = 301 }), 2,
			"an allowance of 301.0 mm is wider than the piece, 300.0 mm; give a narrower one"},
		"hollow": {square(func(l []Point) { l[0].Rise, l[0].Allowance = -200, 200 }), 0, "does not fit into a hollow"},
		"a slot": {[]Point{{}, {X: 400}, {X: 400, Y: 300}, {X: 220, Y: 300, Allowance: 15},
			{X: 220, Y: 100, Allowance: 15},
			{X: 200, Y: 100, Allowance: 15}, {X: 200, Y: 300}, {Y: 300}}, 4, "run into each other; give a narrower"},
		"an arc in an inner corner": {[]Point{{}, {X: 600}, {X: 600, Y: 300, Allowance: 20},
			{X: 300, Y: 300, Rise: 50, Allowance: 20}, {X: 300, Y: 600}, {Y: 600}}, 3,
			"an arc with an allowance meets"},
		"no number":       {square(func(l []Point) { l[3].X = math.NaN() }), 3, "guard its formulas"},
		"below nothing":   {square(func(l []Point) { l[3].Allowance = -1 }), 3, "0 or more"},
		"a radius in the": {square(func(l []Point) { l[3].Radius = math.Inf(1) }), 3, "below 1 km"},
	} {
		s, err := NewShape(c.points)
		var f *Fault
		if !errors.As(err, &f) || f.Point != c.at || !strings.Contains(err.Error(), c.want) || s != nil {
			t.Errorf("%s: %v, %+v; want %q at %d", name, err, f, c.want, c.at)
		}
	}
}

// anyShape is a piece of the kinds that are cut: rectangles and half outlines with rounded corners, arcs, allowances by
// edge and notches.
func anyShape(t *rapid.T) *Shape {
	mm := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, what) }
	wide, long := mm("width", 200, 1200), mm("length", 200, 2500)
	points := Rectangle(wide, long, 0)
	if rapid.Bool().Draw(t, "mirrored") {
		points = Mirrored([]Point{{}, {X: wide / 2}, {X: mm("taper", 0.3, 1) * wide / 2, Y: long / 2},
			{X: mm("end", 50, wide/2), Y: long}, {Y: long}})
	}
	for i := range points {
		points[i].Allowance = rapid.SampledFrom([]float64{0, 15, 40}).Draw(t, "allowance")
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			points[i].Radius = mm("radius", 0, 45)
		case 1:
			points[i].Rise = mm("rise", -20, 60)
		case 2:
			points[i].Notch = true
		}
	}
	s, err := NewShape(points)
	if err != nil {
		var f *Fault
		if !errors.As(err, &f) || f.Advice == "" || f.Point < 0 || f.Point >= len(points) {
			t.Fatalf("%v", err)
		}
		t.Skip(err)
	}
	return s
}

// The cut line of any piece encloses its finished line, begins at 0, 0, runs anticlockwise and is nowhere nearer than
// its allowances ask.
func TestCutLinesEncloseFinishedLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		left, low, _, _ := s.Cut.Box()
		if math.Abs(left)+math.Abs(low) > 1e-9 || s.Finished.Area() <= 0 || s.Cut.Area() < s.Finished.Area()-1e-6 {
			t.Fatalf("it begins at %v, %v; areas %v within %v", left, low, s.Finished.Area(), s.Cut.Area())
		}
		if again, err := s.Cut.shape(); err == nil && math.Abs(again.Finished.Area()-s.Cut.Area()) > 1e-6 {
			t.Fatal("the cut is another piece")
		}
		cut := s.Cut.Polygon(0.001)
		for _, v := range s.Finished.Polygon(1) {
			if !within(cut, v, 0.01) {
				t.Fatalf("%+v lies outside of its cut", v)
			}
		}
	})
}

// Panels cover a piece: they add up to its finished area, and are no wider than the stock.
func TestPanelsOfAShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShape(t)
		w, l := s.Size()
		stock := Stock{Width: rapid.Float64Range(160, 1600).Draw(t, "stock")}
		seam := rapid.Float64Range(0, 40).Draw(t, "seam")
		panels, shapes, err := panelled(s, Piece{Name: "roof", Width: w, Length: l}, stock, seam)
		if err != nil {
			if !strings.Contains(err.Error(), "; ") {
				t.Fatal(err)
			}
			t.Skip(err)
		}
		area := 0.0
		for i, p := range shapes {
			area += p.Finished.Area()
			if pw, _ := p.Size(); pw > stock.Width+1e-3 {
				t.Fatalf("panel %d is %v mm wide on a stock of %v", i+1, pw, stock.Width)
			}
			if len(panels) > 1 && len(p.Notches) < 6 {
				t.Fatalf("panel %d has %d notches", i+1, len(p.Notches))
			}
		}
		if math.Abs(area-s.Finished.Area()) > 1e-6*area {
			t.Fatalf("%d panels have %v mm² of %v", len(panels), area, s.Finished.Area())
		}
	})
}

// By hand: a trapezium of 1000 and 600 mm, 800 mm long, in two panels with a seam of 30 mm, 20 mm of hem around it.
func TestPanelsByHand(t *testing.T) {
	half := []Point{{Allowance: 20}, {X: 500, Allowance: 20}, {X: 300, Y: 800, Allowance: 20}, {Y: 800}}
	s := shape(t, Mirrored(half)...)
	w, l := s.Size()
	panels, shapes, err := panelled(s, Piece{Name: "roof", Width: w, Length: l}, Stock{Width: 700}, 30)
	if err != nil || len(panels) != 2 {
		t.Fatal(len(panels), err)
	}
	for i, p := range panels {
		wantNear(t, fmt.Sprintf("panel %d", i+1), shapes[i].Finished.Area(), 320000, 1e-6)
		wantNear(t, "its width", p.Width, w/2+15, 1e-6)
		wantNear(t, "its length", p.Length, 840, 1e-6)
	}
	// A U upside down falls into two parts below its bar.
	u := shape(t, Point{}, Point{X: 200}, Point{X: 200, Y: 400}, Point{X: 400, Y: 400}, Point{X: 400}, Point{X: 600},
		Point{X: 600, Y: 600}, Point{Y: 600})
	lying := Shape{Cut: u.Cut.turned(), Finished: u.Finished.turned().moved(600, 0)}
	_, _, err = panelled(&lying, Piece{Name: "u", Width: 600, Length: 600}, Stock{Width: 350}, 0)
	wantError(t, err, `dividing "u" into panels: a seam would cut the outline into more than two parts; turn it`)
}

// within says whether a vertex lies in a polygon or so near its edge, by the winding of the polygon about it: none of
// the code that made either.
func within(p Contour, v Vertex, near float64) bool {
	winding := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		ax, ay, bx, by := a.X-v.X, a.Y-v.Y, b.X-v.X, b.Y-v.Y
		winding += math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		along := min(1, max(0, -(ax*(b.X-a.X)+ay*(b.Y-a.Y))/(length*length)))
		if math.Hypot(ax+along*(b.X-a.X), ay+along*(b.Y-a.Y)) <= near {
			return true
		}
	}
	return math.Abs(winding) > math.Pi
}

// panelled is a piece divided with its shape.
func panelled(s *Shape, p Piece, stock Stock, seam float64) (panels []Piece, shapes []*Shape, err error) {
	if panels, err = Panels(p, stock, seam); err == nil {
		shapes, err = s.Panels(panels, stock, seam)
	}
	return panels, shapes, err
}

// Pieces of any shape lie on any stock without overlapping, on it, and as they were, turned or not. Whether two overlap
// is decided by code of its own: an edge of one that runs through one of the other, or a corner of one within the
// other.
func TestShapesNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := Stock{Width: rapid.Float64Range(1300, 2000).Draw(t, "width"),
			Kerf: rapid.Float64Range(0, 5).Draw(t, "kerf")}
		if rapid.Bool().Draw(t, "sheets") {
			stock.Length = 2800
		}
		var pieces []Piece
		for range rapid.IntRange(1, 8).Draw(t, "pieces") {
			s := anyShape(t)
			w, l := s.Size()
			pieces = append(pieces, Piece{Name: "drawn", Width: w, Length: l, Area: s.Cut.Area(), Lines: s.Lines(),
				Turn: rapid.Bool().Draw(t, "turn")})
		}
		l, err := Lay(pieces, stock)
		if err != nil {
			if !strings.Contains(err.Error(), "does not fit") {
				t.Fatal(err)
			}
			t.Skip(err)
		}
		end := l.Used
		if l.Sheets > 0 {
			end = stock.Length
		}
		var lines []Contour
		for i := range l.Placed {
			p := &l.Placed[i]
			lies := p.Lie(p.Lines.Cut)
			lines = append(lines, lies.Polygon(0.05))
			left, low, right, high := lines[i].Bounds()
			if left < -0.002 || low < -0.002 || right > stock.Width+0.002 || high > end+0.002 {
				t.Fatalf("piece %d reaches from %v, %v to %v, %v", i, left, low, right, high)
			}
			if math.Abs(lies.Area()-p.Area) > 10 { // its corners are rounded to the micrometre
				t.Fatalf("piece %d has %v mm² where it lies, %v before", i, lies.Area(), p.Area)
			}
			for j := range i {
				if l.Placed[j].Sheet == p.Sheet && overlap(lines[i], lines[j]) {
					t.Fatalf("pieces %d and %d overlap", i, j)
				}
			}
		}
	})
}

// overlap says whether two polygons have more in common than their edges. The first is drawn in by a hundredth of a
// millimetre about its middle, since pieces without kerf between them touch to the micrometre.
func overlap(a, b Contour) bool {
	left, low, right, high := a.Bounds()
	x, y := (left+right)/2, (low+high)/2
	drawn := make(Contour, len(a))
	for i, v := range a {
		v.X, v.Y = x+(v.X-x)*(1-0.02/(right-left)), y+(v.Y-y)*(1-0.02/(high-low))
		drawn[i] = v
	}
	a = drawn
	for i, p := range a {
		q := a[(i+1)%len(a)]
		for j, u := range b {
			v := b[(j+1)%len(b)]
			// p + s(q-p) = u + r(v-u), by Cramer's rule
			d := (q.X-p.X)*(v.Y-u.Y) - (q.Y-p.Y)*(v.X-u.X)
			s := ((u.X-p.X)*(v.Y-u.Y) - (u.Y-p.Y)*(v.X-u.X)) / d
			r := ((u.X-p.X)*(q.Y-p.Y) - (u.Y-p.Y)*(q.X-p.X)) / d
			if s > 0 && s < 1 && r > 0 && r < 1 {
				return true
			}
		}
	}
	// without a crossing one lies in the other whole, or not at all
	return within(a, b[0], 0) || within(b, a[0], 0)
}

// The check finds pieces that overlap: across, one within the other, by a corner; and lets those be that touch.
func TestOverlapIsFound(t *testing.T) {
	oblong := func(left, low, right, high float64) Contour {
		return Contour{{X: left, Y: low}, {X: right, Y: low}, {X: right, Y: high}, {X: left, Y: high}}
	}
	a := oblong(0, 0, 100, 100)
	for name, c := range map[string]struct {
		b    Contour
		want bool
	}{
		"across": {oblong(-10, 40, 110, 60), true}, "within": {oblong(40, 40, 60, 60), true},
		"around": {oblong(-10, -10, 110, 110), true}, "a corner": {oblong(99, 99, 200, 200), true},
		"touching": {oblong(100, 0, 200, 100), false}, "beside": {oblong(150, 0, 200, 100), false},
		"in a hollow": {Contour{{X: 110, Y: -10}, {X: 130, Y: -10}, {X: 130, Y: 130}, {X: -10, Y: 130},
			{X: -10, Y: 110},
			{X: 110, Y: 110}}, false},
	} {
		if overlap(a, c.b) != c.want {
			t.Errorf("%s: %v", name, !c.want)
		}
	}
}

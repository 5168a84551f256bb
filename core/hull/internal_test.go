package hull

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// someSection draws a section whose heights rise or stay, with flats, vertical sides and corners.
func someSection(t *rapid.T) section {
	n := rapid.IntRange(3, 9).Draw(t, "points")
	z := rapid.Float64Range(-0.5, 0.5).Draw(t, "keel")
	var st Station
	for range n {
		st.Z = append(st.Z, z)
		st.Y = append(st.Y, rapid.OneOf(rapid.Just(0.0), rapid.Just(0.7), rapid.Float64Range(0, 1.2)).Draw(t, "y"))
		z += rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.01, 0.4)).Draw(t, "rise")
	}
	return newSection(st)
}

// brute cuts the closed polygon by its half-plane in the plainest way and measures what is left.
func brute(s section, v, heel float64) cut {
	var kept []point // s and w
	sin, cos := math.Sincos(heel)
	turned := func(p point) point { return point{p.y*cos + p.z*sin, p.z*cos - p.y*sin} }
	for i := range s.loop {
		a, b := turned(s.loop[i]), turned(s.loop[(i+1)%len(s.loop)])
		if a.z <= v {
			kept = append(kept, a)
		}
		if (a.z <= v) != (b.z <= v) {
			kept = append(kept, point{a.y + (b.y-a.y)*(v-a.z)/(b.z-a.z), v})
		}
	}
	var k cut
	for i := range kept {
		a, b := kept[i], kept[(i+1)%len(kept)]
		x := a.y*b.z - b.y*a.z
		k.area += x / 2
		k.ms += x * (a.y + b.y) / 6
		k.mw += x * (a.z + b.z) / 6
	}
	return k
}

func close9(t *rapid.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) < 1e-9) {
		t.Fatalf("%s: %.12g, want %.12g", what, got, want)
	}
}

func TestCutsAgainstPolygons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := someSection(t)
		v := rapid.Float64Range(-2, 4).Draw(t, "v")
		heel := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "heel")
		got, want := s.cut(v, heeledBy(heel)), brute(s, v, heel)
		close9(t, "area", got.area, want.area)
		close9(t, "moment across", got.ms, want.ms)
		close9(t, "moment up", got.mw, want.mw)
		if got.girth < -1e-9 || got.girth > s.girth[len(s.girth)-1]+1e-9 {
			t.Fatalf("girth %v of %v", got.girth, s.girth[len(s.girth)-1])
		}
	})
}

// The tables of an upright section give what cutting its polygon gives.
func TestTablesAgainstCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := someSection(t)
		v := rapid.Float64Range(-2, 4).Draw(t, "v")
		got, want := s.level(v), s.heeled(v, 1, 0)
		close9(t, "area", got.area, want.area)
		close9(t, "moment across", got.ms, want.ms)
		close9(t, "moment up", got.mw, want.mw)
		close9(t, "chord", got.b, want.b)
		close9(t, "chord's first moment", got.b1, want.b1)
		close9(t, "chord's second moment", got.b2, want.b2)
		close9(t, "girth", got.girth, want.girth)
	})
}

// The chord and its moments are the derivatives of the area and its moments by height.
func TestChordsAreDerivatives(t *testing.T) {
	s := newSection(Station{Z: []float64{0, 0, 0.2, 0.5, 0.9}, Y: []float64{0.02, 0.3, 0.5, 0.8, 0.85}})
	const d = 1e-6
	for _, heel := range []float64{0, 0.1, -0.4, 0.8} {
		p := heeledBy(heel)
		for _, v := range []float64{0.05, 0.21, 0.4, 0.6} {
			k, a, b := s.cut(v, p), s.cut(v-d, p), s.cut(v+d, p)
			for what, pair := range map[string][2]float64{
				"chord": {k.b, (b.area - a.area) / (2 * d)}, "first moment": {k.b1, (b.ms - a.ms) / (2 * d)},
				"height": {v * k.b, (b.mw - a.mw) / (2 * d)},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-6 {
					t.Errorf("heel %v, height %v: %s is %v, the derivative %v", heel, v, what, pair[0], pair[1])
				}
			}
		}
	}
}

func smallHull(t testing.TB) *Hull {
	t.Helper()
	var o Offsets
	for i := range 11 {
		b := 1 - math.Pow(float64(i)/5-1, 2)/1.2
		o.Stations = append(o.Stations, Station{float64(i) / 2, []float64{0, 0.1, 0.3, 0.8},
			[]float64{0.05, b * 0.5, b * 0.8, b * 0.9}})
	}
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// The Jacobian is that of finite differences, at an attitude that is in no way special.
func TestJacobian(t *testing.T) {
	h := smallHull(t)
	q, err := h.question(Load{1500, 2.2, 0.07, 0.4}, 1000)
	if err != nil {
		t.Fatal(err)
	}
	f := func(x [3]float64) [3]float64 {
		a := h.moved(x[0], x[1], x[2], heeledBy(x[2]))
		f1, f2 := a.errors2(q)
		return [3]float64{f1, f2, a.error3(q)}
	}
	at := [3]float64{0.35, 0.03, 0.21}
	j := h.moved(at[0], at[1], at[2], heeledBy(at[2])).jacobian(q)
	const d = 1e-6
	for c := range 3 {
		low, high := at, at
		low[c] -= d
		high[c] += d
		fl, fh := f(low), f(high)
		for r := range 3 {
			if want := (fh[r] - fl[r]) / (2 * d); math.Abs(j[r][c]-want) > 1e-6 {
				t.Errorf("row %d, column %d: %v, by differences %v", r, c, j[r][c], want)
			}
		}
	}
}

// The bracketed searches, which take over where Newton fails, find the same equilibrium.
func TestBracketsAgainstNewton(t *testing.T) {
	h := smallHull(t)
	rapid.Check(t, func(t *rapid.T) {
		tcg := rapid.SampledFrom([]float64{-0.15, -0.01, 0.02, 0.1}).Draw(t, "TCG")
		load := Load{rapid.Float64Range(300, 2500).Draw(t, "mass"), rapid.Float64Range(2.1, 2.9).Draw(t, "LCG"), tcg,
			0.3}
		q, err := h.question(load, 1000)
		if err != nil {
			t.Fatal(err)
		}
		a, ok := h.balance(q, level, h.start(q))
		b, okb := h.bracketTrim(q, level, 0)
		if !ok || !okb {
			t.Fatal(ok, okb)
		}
		close9(t, "draft", a.draft, b.draft)
		close9(t, "slope", a.slope, b.slope)
		over, ok := h.heelOver(q, a)
		by, okb := h.bracketHeel(q, a)
		if !ok || !okb {
			t.Fatal(ok, okb)
		}
		if math.Abs(over.heel-by.heel) > 1e-8 || math.Abs(over.draft-by.draft) > 1e-8 ||
			math.Abs(over.slope-by.slope) > 1e-8 {
			t.Fatalf("Newton finds %v, %v, %v, brackets %v, %v, %v", over.draft, over.slope, over.heel, by.draft,
				by.slope, by.heel)
		}
	})
}

func TestSolve3(t *testing.T) {
	x, ok := solve3([3][3]float64{{0, 2, 1}, {1, 1, 0}, {3, 0, 1}}, [3]float64{7, 3, 6})
	if want := [3]float64{1, 2, 3}; !ok || math.Abs(x[0]-want[0])+math.Abs(x[1]-want[1])+
		math.Abs(x[2]-want[2]) > 1e-12 {
		t.Errorf("%v, %v, want %v", x, ok, want)
	}
	if x, ok := solve3([3][3]float64{{1, 1, 1}, {2, 2, 2}, {0, 0, 1}}, [3]float64{1, 2, 3}); ok {
		t.Errorf("a system without one solution gives %v", x)
	}
}

func TestWeights(t *testing.T) {
	for _, c := range []struct {
		name string
		x, w []float64
	}{
		{"Simpson's", []float64{0, 1, 2, 3, 4}, []float64{1. / 3, 4. / 3, 2. / 3, 4. / 3, 1. / 3}},
		{"trapezoids where Simpson's has one below zero", []float64{0, 1, 4, 5, 6}, []float64{0.5, 2, 2, 1, 0.5}},
	} {
		for i, w := range weights(c.x) {
			if math.Abs(w-c.w[i]) > 1e-12 {
				t.Errorf("%s: weight %d is %v, want %v", c.name, i, w, c.w[i])
			}
		}
	}
}

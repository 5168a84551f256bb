package hull_test

import (
	"math"
	"testing"

	"ribband/core/hull"
)

// A box in closed form: V = L·B·T, KB = T/2, BMt = B²/(12·T), BMl = L²/(12·T), wetted girth B + 2·T.
func TestBox(t *testing.T) {
	const l, b, draft = 6.0, 2.0, 0.4
	y := at(t, build(t, box(l, b, 1)), draft, 0, 0)
	near(t, "volume", y.Volume, l*b*draft, 1e-12)
	near(t, "LCB", y.LCB, l/2, 1e-12)
	near(t, "TCB", y.TCB, 0, 1e-12)
	near(t, "KB", y.KB, draft/2, 1e-12)
	near(t, "waterplane", y.WaterplaneArea, l*b, 1e-12)
	near(t, "LCF", y.LCF, l/2, 1e-12)
	near(t, "BMt", y.BMt, hull.BoxBM(b, draft), 1e-12)
	near(t, "BMl", y.BMl, l*l/(12*draft), 1e-12) // Simpson's rule is exact for x²
	near(t, "wetted surface", y.WettedSurface, l*(b+2*draft), 1e-12)
	near(t, "waterline", y.WaterlineLength, l, 1e-12)
	near(t, "beam", y.WaterlineBeam, b, 1e-12)
	near(t, "Cb", y.Block, 1, 1e-12)
	near(t, "Cwp", y.Plane, 1, 1e-12)
	near(t, "Cp", y.Prismatic, 1, 1e-12)
	near(t, "kg/cm", y.TPC(hull.SaltWater), l*b*10.25, 1e-9)
	near(t, "moment to trim", y.MCTC(1000, l), l*b*draft*1000*l*l/(12*draft)/(100*l), 1e-9)
}

// A heeled wall-sided box with neither bilge nor deck edge at the water, in closed form: with the draft T on the centre
// line V = L·B·T; the centre of buoyancy moves by y = B²·tan φ/(12·T) and rises by B²·tan² φ/(24·T).
func TestHeeledBox(t *testing.T) {
	const l, b, draft = 6.0, 2.0, 0.4
	h := build(t, box(l, b, 1))
	for _, d := range []float64{-20, -7, 0.001, 3, 15, 21} {
		tan := math.Tan(degrees(d))
		y := at(t, h, draft*math.Cos(degrees(d)), 0, degrees(d))
		near(t, "volume", y.Volume, l*b*draft, 1e-12)
		near(t, "TCB", y.TCB, b*b*tan/(12*draft), 1e-12)
		near(t, "KB", y.KB, draft/2+b*b*tan*tan/(24*draft), 1e-12)
		near(t, "waterplane", y.WaterplaneArea, l*b/math.Cos(degrees(d)), 1e-12)
		near(t, "BMt", y.BMt, hull.BoxBM(b, draft)/math.Pow(math.Cos(degrees(d)), 3), 1e-12)
	}
}

// A trimmed box in closed form: V = L·B·T at midlength; LCB moves aft by L²·tan θ/(12·T) and KB rises by L²·tan²
// θ/(24·T).
func TestTrimmedBox(t *testing.T) {
	const l, b, draft = 6.0, 2.0, 0.4
	h := build(t, box(l, b, 1))
	for _, d := range []float64{-6, -1, 2, 7} {
		tan := math.Tan(degrees(d))
		y := at(t, h, draft, degrees(d), 0)
		near(t, "volume", y.Volume, l*b*draft, 1e-12)
		near(t, "LCB", y.LCB, l/2-l*l*tan/(12*draft), 1e-12)
		near(t, "KB", y.KB, draft/2+l*l*tan*tan/(24*draft), 1e-12)
		near(t, "waterplane", y.WaterplaneArea, l*b/math.Cos(degrees(d)), 1e-12)
		near(t, "BMl", y.BMl, l*l/(12*draft)/math.Pow(math.Cos(degrees(d)), 3), 1e-12)
		near(t, "waterline", y.WaterlineLength, l/math.Cos(degrees(d)), 1e-12)
	}
}

// A wedge in closed form: at the draft T the breadth is b = B·T/D; V = L·b·T/2, KB = 2/3·T, BMt = L·b³/12/V = b²/(6·T).
func TestWedge(t *testing.T) {
	const l, beam, depth = 5.0, 1.8, 0.9
	h := build(t, wedge(l, beam, depth))
	for _, draft := range []float64{0.1, 0.45, 0.6, 0.89} {
		b := beam * draft / depth
		y := at(t, h, draft, 0, 0)
		near(t, "volume", y.Volume, l*b*draft/2, 1e-12)
		near(t, "KB", y.KB, draft*2/3, 1e-12)
		near(t, "BMt", y.BMt, b*b/(6*draft), 1e-12)
		near(t, "Cb", y.Block, 0.5, 1e-12)
		near(t, "wetted surface", y.WettedSurface, 2*l*math.Hypot(draft, b/2), 1e-12)
		near(t, "KB by Morrish", hull.MorrishKB(draft, y.Block, y.Plane), y.KB, 1e-12)
	}
}

// A wedge lying along the boat: draft from zero at the bow to D aft. Its section areas are straight over x, for which
// the integral is exact: V = L·B·T/2, LCB at L/3 from the deep end.
func TestLongWedge(t *testing.T) {
	const l, b, d = 6.0, 1.5, 0.6
	o := stations(11, l, func(s float64) (z, y []float64) {
		return []float64{d * s, d * s, d * 1.2, d * 1.5}, []float64{0, b / 2, b / 2, b / 2}
	})
	y := at(t, build(t, o), d, 0, 0)
	near(t, "volume", y.Volume, l*b*d/2, 1e-12)
	near(t, "LCB", y.LCB, l/3, 1e-12)
	near(t, "KB", y.KB, d*2/3, 1e-12)
	near(t, "BMt", y.BMt, b*b*b*l/12/(l*b*d/2), 1e-12)
}

// wigleyForms are the closed forms of Wigley's hull. With ξ = 2x/L and ζ from the waterline (0) to the keel (1):
//
//	V   = 2·B/2·∫(1-ξ²)dx·∫(1-ζ²)Tdζ = B·(2/3·L)·(2/3·T)           = 4/9·L·B·T
//	A_W = B·∫(1-ξ²)dx                                             = 2/3·L·B
//	KB  = T - T·∫ζ(1-ζ²)dζ/∫(1-ζ²)dζ = T - T·(1/4)/(2/3)          = 5/8·T
//	I_T = 2/3·(B/2)³·∫(1-ξ²)³dx = B³/12·L/2·32/35                 = 4/105·L·B³,  BMt = 3·B²/(35·T)
//	I_L = B·∫x²(1-ξ²)dx = B·(L/2)³·(2/3-2/5)                      = L³·B/30,     BMl = 3·L²/(40·T)
type wigleyForms struct{ volume, plane, kb, bmt, bml float64 }

func closedWigley(l, b, t float64) wigleyForms {
	return wigleyForms{4.0 / 9 * l * b * t, 2.0 / 3 * l * b, 5.0 / 8 * t, 3 * b * b / (35 * t), 3 * l * l / (40 * t)}
}

func wigleyErrors(t *testing.T, n, m int) wigleyForms {
	const l, b, draft = 6.5, 0.65, 0.40625
	want, y := closedWigley(l, b, draft), at(t, build(t, wigley(n, m, l, b, draft)), draft, 0, 0)
	e := func(got, want float64) float64 { return math.Abs(got/want - 1) }
	return wigleyForms{e(y.Volume, want.volume), e(y.WaterplaneArea, want.plane), e(y.KB, want.kb), e(y.BMt, want.bmt),
		e(y.BMl, want.bml)}
}

func TestWigley(t *testing.T) {
	e := wigleyErrors(t, 41, 81)
	for _, c := range []struct {
		what        string
		got, atMost float64
	}{
		{"volume", e.volume, 1e-4}, {"waterplane", e.plane, 1e-12}, {"KB", e.kb, 1e-4}, {"BMt", e.bmt, 1e-4},
		{"BMl", e.bml, 2e-4},
	} {
		if !(c.got <= c.atMost) {
			t.Errorf("%s is out by a share of %.2g, want at most %.2g", c.what, c.got, c.atMost)
		}
	}
}

// Halving the height between points quarters the error of the volume; halving the space of the stations cuts the error
// of BMl, Simpson's rule over a fourth power, to a sixteenth.
func TestWigleyConverges(t *testing.T) {
	coarse, fine := wigleyErrors(t, 11, 6), wigleyErrors(t, 11, 11)
	if r := coarse.volume / fine.volume; !(r > 3.5 && r < 4.5) {
		t.Errorf("finer sections cut the error of the volume by %.3g, want about 4", r)
	}
	if !(fine.kb < coarse.kb/3) {
		t.Errorf("finer sections: KB was out by %.3g and is by %.3g", coarse.kb, fine.kb)
	}
	// Against the same points, so that only the stations count.
	limit := at(t, build(t, wigley(641, 6, 6.5, 0.65, 0.40625)), 0.40625, 0, 0)
	out := func(n int) float64 {
		return math.Abs(at(t, build(t, wigley(n, 6, 6.5, 0.65, 0.40625)), 0.40625, 0, 0).BMl - limit.BMl)
	}
	if r := out(11) / out(21); !(r > 14 && r < 18) {
		t.Errorf("closer stations cut the error of BMl by %.3g, want about 16", r)
	}
}

// The estimates of a normal form come near the closed forms of Wigley's hull: KB to 3 %, waterplane inertia to 8 %.
func TestEstimatesAgainstWigley(t *testing.T) {
	const l, b, draft = 6.5, 0.65, 0.40625
	want := closedWigley(l, b, draft)
	share(t, "KB by Morrish", hull.MorrishKB(draft, 4.0/9, 2.0/3), want.kb, 0.03)
	share(t, "waterplane inertia", hull.WaterplaneInertia(l, b, 2.0/3), want.bmt*want.volume, 0.08)
}

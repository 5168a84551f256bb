package hull_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"ribband/core/hull"
)

// judge is a second solver of a load at rest, which shares nothing with the package: it clips each section's polygon by
// the water plane, adds up along the length by Simpson's 1-4-2-4-1 for equal spaces, and finds draft, trim and heel by
// nested bisection. The first heel from upright at which the lever rises through zero is the equilibrium.
//
// Source: Archimedes' principle; Sutherland and Hodgman, Reentrant Polygon Clipping (1974), for a half-plane; Simpson's
// rule.
type judge struct {
	x      []float64
	loops  [][][2]float64 // y, z
	volume float64        // to displace
	g      [3]float64
	trims  bool
}

func newJudge(o hull.Offsets, l hull.Load, trims bool) *judge {
	j := &judge{volume: l.Mass / 1000, g: [3]float64{l.LCG, l.TCG, l.VCG}, trims: trims}
	for _, s := range o.Stations {
		j.x = append(j.x, s.X)
		var loop [][2]float64
		for k := range s.Z {
			loop = append(loop, [2]float64{s.Y[k], s.Z[k]})
		}
		for k := len(s.Z) - 1; k >= 0; k-- {
			loop = append(loop, [2]float64{-s.Y[k], s.Z[k]})
		}
		j.loops = append(j.loops, loop)
	}
	return j
}

// below is the volume under the plane through height d above the base line at midlength that rises forward by -slope
// and is heeled, with its centre.
func (j *judge) below(d, slope, heel float64) (v float64, b [3]float64) {
	middle := (j.x[0] + j.x[len(j.x)-1]) / 2
	n := len(j.x) - 1
	step := (j.x[n] - j.x[0]) / float64(n)
	for i, loop := range j.loops {
		level := d - slope*(j.x[i]-middle)
		area, my, mz := clipped(loop,
			func(p [2]float64) float64 { return p[1]*math.Cos(heel) - p[0]*math.Sin(heel) - level })
		w := step / 3
		switch {
		case i == 0 || i == n:
		case i%2 == 1:
			w *= 4
		default:
			w *= 2
		}
		v, b[0], b[1], b[2] = v+w*area, b[0]+w*area*j.x[i], b[1]+w*my, b[2]+w*mz
	}
	for k := range b {
		b[k] /= max(v, 1e-12)
	}
	return v, b
}

// clipped is the area of a polygon where f is not above zero, with its moments, by the shoelace formula.
func clipped(loop [][2]float64, f func([2]float64) float64) (area, my, mz float64) {
	var in [][2]float64
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		fp, fq := f(p), f(q)
		if fp <= 0 {
			in = append(in, p)
		}
		if fp < 0 && fq > 0 || fp > 0 && fq < 0 {
			r := fp / (fp - fq)
			in = append(in, [2]float64{p[0] + r*(q[0]-p[0]), p[1] + r*(q[1]-p[1])})
		}
	}
	for i, p := range in {
		q := in[(i+1)%len(in)]
		c := p[0]*q[1] - q[0]*p[1]
		area, my, mz = area+c/2, my+c*(p[0]+q[0])/6, mz+c*(p[1]+q[1])/6
	}
	return area, my, mz
}

func bisect(low, high float64, rises func(float64) float64) float64 {
	for range 32 {
		if m := (low + high) / 2; rises(m) < 0 {
			low = m
		} else {
			high = m
		}
	}
	return (low + high) / 2
}

// draft is where the volume is displaced.
func (j *judge) draft(slope, heel float64) float64 {
	return bisect(-0.5, 1.5, func(d float64) float64 { v, _ := j.below(d, slope, heel); return v - j.volume })
}

// lever is GZ at a heel with free trim, and the lowest sheer there.
func (j *judge) lever(heel float64) (gz, freeboard float64) {
	slope := 0.0
	if j.trims {
		// buoyancy moves aft as the stern goes deeper: the moment falls
		slope = bisect(-0.08, 0.08, func(s float64) float64 {
			_, b := j.below(j.draft(s, heel), s, heel)
			_, up := j.turned(b, heel)
			return -(b[0] - j.g[0] - s*up)
		})
	}
	d := j.draft(slope, heel)
	_, b := j.below(d, slope, heel)
	across, _ := j.turned(b, heel)
	freeboard = math.Inf(1)
	middle := (j.x[0] + j.x[len(j.x)-1]) / 2
	for i, loop := range j.loops {
		for _, p := range loop[len(loop)/2-1 : len(loop)/2+1] { // the sheer points
			w := p[1]*math.Cos(heel) - p[0]*math.Sin(heel) - d + slope*(j.x[i]-middle)
			freeboard = min(freeboard, w*math.Cos(math.Atan(slope)))
		}
	}
	return across, freeboard
}

// turned is from the centre of gravity to that of buoyancy, along the heeled waterline and square to it.
func (j *judge) turned(b [3]float64, heel float64) (across, up float64) {
	y, z := b[1]-j.g[1], b[2]-j.g[2]
	return y*math.Cos(heel) + z*math.Sin(heel), z*math.Cos(heel) - y*math.Sin(heel)
}

// rest is the first heel to starboard at which the lever rises through zero, up to 75°.
func (j *judge) rest(step float64) (heel, freeboard float64, ok bool) {
	for h := step; h <= degrees(75); h += step {
		if gz, _ := j.lever(h); gz >= 0 {
			heel = bisect(h-step, h, func(x float64) float64 { gz, _ := j.lever(x); return gz })
			_, freeboard = j.lever(heel)
			return heel, freeboard, true
		}
	}
	return 0, 0, false
}

// judged holds what the package says of a load against the judge.
func judged(t *testing.T, what string, o hull.Offsets, l hull.Load, trims bool, step float64) {
	t.Helper()
	f, err := build(t, o).Float(l, hull.FreshWater)
	if errors.Is(err, hull.ErrUnstable) && f == (hull.Floating{}) && l.TCG != 0 {
		if heel, free, ok := newJudge(o, l, trims).rest(step); ok && free > 0 {
			t.Errorf("%s: %v; want a heel of %.3f° with %.3f m of freeboard", what, err, heel*180/math.Pi, free)
		}
		return
	}
	heel, free, ok := newJudge(o, l, trims).rest(step)
	switch {
	case err != nil && !errors.Is(err, hull.ErrTooHeavy):
		t.Errorf("%s: %v", what, err)
	case err != nil && ok && free > 1e-6:
		t.Errorf("%s: %v; want a heel of %.3f° with %.3f m of freeboard", what, err, heel*180/math.Pi, free)
	case err == nil && (!ok || math.Abs(f.Heel-heel) > 1e-6 || math.Abs(f.Freeboard.Height-free) > 1e-6):
		t.Errorf("%s: heel %.5f° with %.5f m of freeboard, want %.5f° with %.5f m (%v)", what, f.Heel*180/math.Pi,
			f.Freeboard.Height, heel*180/math.Pi, free, ok)
	}
}

// A box with a small metacentric height and its load off the centre line rests where (GM + ½·BM·tan² φ)·tan φ = TCG,
// long before its deck is at the water. 10 × 2 × 1.5 m with 10 t draws 0.5 m: BM = 2²/(12·0.5).
//
// Source: the wall-sided formula, Barrass & Derrett, p. 130.
func TestFirstHeelOfABox(t *testing.T) {
	h := build(t, box(10, 2, 1.5))
	bm := 4 / (12 * 0.5)
	f := float(t, h, hull.Load{Mass: 10000, LCG: 5, TCG: 0.02, VCG: 0.25 + bm - 0.010}, hull.FreshWater)
	near(t, "heel", f.Heel*180/math.Pi, 20.1, 0.05)
	near(t, "freeboard", f.Freeboard.Height, 0.595, 0.0005)
	tan := math.Tan(f.Heel)
	near(t, "balance", (0.010+bm*tan*tan/2)*tan, 0.02, 1e-9)
}

// Boxes over a grid of GM and TCG, in closed form while neither bilge nor deck edge is at the water, and all of them
// against the second solver.
func TestBoxesAgainstClosedFormAndJudge(t *testing.T) {
	closed := 0
	for _, beam := range []float64{1.5, 2, 3} {
		for _, draft := range []float64{0.3, 0.5, 0.8} {
			o := box(10, beam, 1.5)
			h := build(t, o)
			bm := beam * beam / (12 * draft)
			for _, gm := range []float64{0.001, 0.01, 0.05, 0.2} {
				for _, tcg := range []float64{0.001, 0.005, 0.02, 0.05, 0.1} {
					l := hull.Load{Mass: 10 * beam * draft * 1000, LCG: 5, TCG: tcg, VCG: draft/2 + bm - gm}
					tan := bisect(0, 10, func(x float64) float64 { return (gm+bm*x*x/2)*x - tcg })
					what := fmt.Sprintf("beam %v, draft %v, GM %v, TCG %v", beam, draft, gm, tcg)
					if edge := min(draft, 1.5-draft) / (beam / 2); tan < edge {
						f, err := h.Float(l, hull.FreshWater)
						if err != nil || math.Abs(math.Tan(f.Heel)-tan) > 1e-8 {
							t.Errorf("%s: heel %v, want %v (%v)", what, f.Heel, math.Atan(tan), err)
						}
						closed++
					} else {
						judged(t, what, o, l, false, degrees(1))
					}
				}
			}
		}
	}
	if closed < 60 {
		t.Errorf("only %d boxes rest before bilge and deck edge", closed)
	}
}

// Wedges against the second solver: the sides flare, so that the lever bends upward.
func TestWedgesAgainstJudge(t *testing.T) {
	for _, beam := range []float64{1.6, 2.4} {
		o := wedge(6, beam, 1)
		for _, draft := range []float64{0.35, 0.6} {
			b := beam * draft
			km := draft*2/3 + b*b/(6*draft)
			for _, gm := range []float64{0.004, 0.05, 0.2} {
				for _, tcg := range []float64{0.002, 0.02, 0.08} {
					l := hull.Load{Mass: 6 * b * draft / 2 * 1000, LCG: 3, TCG: tcg, VCG: km - gm}
					judged(t, fmt.Sprintf("beam %v, draft %v, GM %v, TCG %v", beam, draft, gm, tcg), o, l, false,
						degrees(1))
				}
			}
		}
	}
}

// The demo hulls, free to trim, against the second solver: with usual and with small GM, near upright and far over.
func TestDemoHullsAgainstJudge(t *testing.T) {
	for _, id := range []string{"sedge-46", "osier-76"} {
		o := demo(t)[id]
		h := build(t, o)
		y := at(t, h, 0.33*h.Length()/4.6, 0, 0)
		for _, gm := range []float64{0.02, 0.4} {
			for _, tcg := range []float64{0.02, 0.12} {
				l := hull.Load{Mass: y.Volume * 1000, LCG: y.LCB - 0.05, TCG: tcg, VCG: y.KB + y.BMt - gm}
				judged(t, fmt.Sprintf("%s, GM %v, TCG %v", id, gm, tcg), o, l, true, degrees(4))
			}
		}
	}
}

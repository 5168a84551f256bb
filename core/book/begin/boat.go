package begin

import (
	"fmt"
	"math"
	"strings"

	"ribband/core/hull"
)

// The boat of a first book: a plain displacement launch of our own invention, scaled to what was given. None of it is
// anybody's boat; an owner puts in his own lines, masses and trial.

// stations of the table, at equal spaces.
const stations = 13

// lines are the offsets of a launch, m: a firm bilge, a fine entry, a transom that just touches the water.
//
// Formula: over the share t of the length, half-breadth of the sheer b = B/2 (1 - 0.26 ((0.42-t)/0.42)²) aft of 0.42,
// B/2 (1 - ((t-0.42)/0.58)^2.2)^0.9 forward; height of the sheer s = D (1 + c (2t-1)²), c = 0.06 aft and 0.22 forward;
// of the bottom k = 0.34 D ((0.35-t)/0.35)^1.6 aft of 0.35, 0.7 s ((t-0.6)/0.4)³ forward of 0.6, else 0; over the
// share u of the height between them half-breadth b (1 - (1-u)^3)^0.62. Our own invention, no source.
func lines(length, beam, depth float64) hull.Offsets {
	const keel = 0.02 // half of its breadth, m
	var o hull.Offsets
	for i := range stations {
		t := float64(i) / (stations - 1)
		aft, fore := max(0, (0.42-t)/0.42), max(0, (t-0.42)/0.58)
		b := beam / 2 * (1 - float64(0.26*aft*aft)) * math.Pow(max(0, 1-math.Pow(fore, 2.2)), 0.9)
		rise := 0.06
		if t > 0.5 {
			rise = 0.22
		}
		sheer := depth * (1 + float64(rise*(2*t-1)*(2*t-1)))
		bottom := float64(0.34*depth*math.Pow(max(0, (0.35-t)/0.35), 1.6)) +
			float64(0.7*sheer*math.Pow(max(0, (t-0.6)/0.4), 3))
		s := hull.Station{X: rounded(t * length)}
		for _, u := range []float64{0, 0.06, 0.14, 0.24, 0.36, 0.5, 0.66, 0.83, 1} {
			s.Z = append(s.Z, rounded(bottom+float64(u*(float64(sheer)-bottom))))
			s.Y = append(s.Y, rounded(max(keel, b*math.Pow(1-math.Pow(1-u, 3), 0.62))))
		}
		o.Stations = append(o.Stations, s)
	}
	return o
}

// rounded is a length to the millimetre.
func rounded(x float64) float64 { return math.Round(x*1000) / 1000 }

// row is a station as the book writes it.
func row(s hull.Station) string {
	list := func(x []float64) string {
		var b strings.Builder
		for i, n := range x {
			if i > 0 {
				b.WriteString(", ")
			}
			fmt.Fprintf(&b, "%.3f", n)
		}
		return b.String()
	}
	return fmt.Sprintf("{x: %.3f, z: [%s], y: [%s]}", s.X, list(s.Z), list(s.Y))
}

// baseMass is that of the boat before options, kg: 42 kg for a cubic metre of length, beam and depth, as light launches
// in glass have. Common practice, no source.
func baseMass(a *Answers) float64 { return math.Round(42 * a.Length * a.Beam * a.Depth) }

// person is what somebody weighs with things, kg.
const person = 80

// draught is how deep the boat floats on an even keel with a mass, m, in fresh water, with what follows from it.
func draught(h *hull.Hull, mass, depth float64) (draft float64, y hull.Hydrostatics, err error) {
	low, high := 0.0, depth
	for range 40 { // halved to a millionth of a millimetre
		draft = (low + high) / 2
		if y, err = h.Upright(draft, 0); err != nil {
			return 0, y, err
		}
		if 1000*y.Volume < mass {
			low = draft
		} else {
			high = draft
		}
	}
	return draft, y, nil
}

// carried is how many persons the boat is built for: as many as have a seat, leave a good freeboard over the heaviest
// options, and heel it little enough from one side under a hard top. A first estimate by GM: the book computes it, and
// the finished boat is tried, and its plate decides.
func carried(a *Answers, h *hull.Hull, options, roof float64) (int, error) {
	const growth, few = 1.03, 2
	deck := a.Depth + float64(0.9*(1+float64(0.04*a.Length))) // middle of the roof
	for n := min(int(a.Length*a.Beam/2.4), 12); n > few; n-- {
		boat, people := float64(growth*(float64(baseMass(a))+options+roof)), float64(person*n)
		draft, y, err := draught(h, boat+people, a.Depth)
		if err != nil {
			return 0, err
		}
		high := float64(growth*(float64(0.5*a.Depth*(float64(baseMass(a))+options))+float64(deck*roof))) +
			float64(people*(float64(0.22*a.Depth)+0.65))
		gm := y.KB + y.BMt - high/(boat+people)
		heel := math.Atan(people * 0.25 * a.Beam / ((boat + people) * max(0.01, gm)))
		// 10° + (24 m - L)³/600, as ISO 12217-1 and -3 have it, from memory; four fifths of it here
		limit := 10 + float64(math.Pow(24-a.Length, 3)/600)
		if a.Depth-draft >= 0.36 && gm >= 0.5 && heel*180/math.Pi <= 0.8*limit {
			return n, nil
		}
	}
	return few, nil
}

// power is what the motor's controller takes at a speed, kW.
//
// Formula: D^(2/3) v³/C (1 + 0.75 (Fn/0.4)^7) + 0.018 with the displacement D in t, the speed v in kn and
// Fn = v/√(g L) on the waterline; C = 62 + 8.45 L, as the trials of the demo book were made. Our own invention.
func power(speed, mass, waterline float64) float64 {
	froude := speed * 0.5144 / math.Sqrt(9.81*waterline)
	hump := 1 + float64(0.75*math.Pow(froude/0.4, 7))
	return float64(math.Pow(mass/1000, 2.0/3)*speed*speed*speed/(62+float64(8.45*waterline))*hump) + 0.018
}

// point is one of a trial.
type point struct{ speed, watts float64 }

// trial goes in half knots to beyond what a motor gives.
func trial(mass, waterline, motorKW float64) (list []point) {
	for v := 2.0; ; v += 0.5 {
		kw := power(v, mass, waterline)
		list = append(list, point{v, 5 * math.Round(200*kw)})
		if kw > 1.5*motorKW && len(list) >= 6 {
			return list
		}
	}
}

// underWay are mass and waterline of the boat as a motor is chosen for it: with a bank and half of its persons.
func underWay(a *Answers) (mass, waterline float64) {
	return float64(1.35*baseMass(a)) + 200, 0.9 * a.Length
}

// cruising is a knot and a half below hull speed (Fn 0.4 on the waterline), to the half knot.
func cruising(a *Answers) float64 {
	_, waterline := underWay(a)
	return math.Floor(2*(0.4*math.Sqrt(9.81*waterline)/0.5144-1.25)) / 2
}

// leastMotor is what cruising speed takes with a quarter in hand, at the shaft of a drive of 85 %, to the half kW.
func leastMotor(a *Answers) float64 {
	mass, waterline := underWay(a)
	return max(1, math.Ceil(2*1.25*0.85*power(float64(cruising(a))+0.5, mass, waterline))/2)
}

// suggestedMotor has twice as much and more in hand, for wind and current.
func suggestedMotor(a *Answers) float64 { return min(12, math.Ceil(5*leastMotor(a))/2) }

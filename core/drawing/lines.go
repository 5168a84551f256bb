package drawing

import (
	"math"

	"gonum.org/v1/gonum/interp"

	"ribband/core/hull"
)

// Drafts is how the boat floats: the height of the water above the base line at the first and the last station, m. It
// is not the draught to the deepest point, which hangs lower by the skeg.
type Drafts struct{ Aft, Fore float64 }

// lines are the lines of a hull that the drawings need, in its own axes, m.
type lines struct {
	o                   hull.Offsets
	aft, fore           float64
	x                   []float64
	keel, bottom, sheer []float64 // heights; bottom is that of the body above a skeg or deadwood
	half                []float64 // half-breadths of the sheer
	low, high, widest   float64
	sheerAt, halfAt     interp.FritschButland
	bottomAt, keelAt    interp.FritschButland
}

// newLines takes the lines of a hull from its table. Between the stations keel, bottom and sheer are interpolated
// without bulges (Fritsch and Butland, 1984), so that no fitting stands above or below what the table says. A hull of
// less than 1 m or more than 100 m is likely in other units.
func newLines(k *check, o hull.Offsets) *lines {
	if faults := o.Validate(); len(faults) > 0 {
		k.fail("the offsets: %v", faults[0])
		return nil
	}
	n := len(o.Stations)
	l := &lines{o: o, aft: o.Stations[0].X, fore: o.Stations[n-1].X, low: math.Inf(1), high: math.Inf(-1)}
	for _, s := range o.Stations {
		last := len(s.Z) - 1
		l.x = append(l.x, s.X)
		l.keel, l.sheer, l.half = append(l.keel, s.Z[0]), append(l.sheer, s.Z[last]), append(l.half, s.Y[last])
		l.low, l.high = min(l.low, s.Z[0]), max(l.high, s.Z[last])
		for _, y := range s.Y {
			l.widest = max(l.widest, y)
		}
	}
	for _, s := range o.Stations {
		l.bottom = append(l.bottom, bodyBottom(s, l.widest))
	}
	k.within("length of the hull", l.length(), 1, 100, "m")
	k.within("half-breadth of the hull", l.widest, 0.05, l.length(), "m")
	k.within("depth of the hull", l.high-l.low, 0.05, l.length(), "m")
	for _, v := range []struct {
		at *interp.FritschButland
		z  []float64
	}{{&l.sheerAt, l.sheer}, {&l.halfAt, l.half}, {&l.bottomAt, l.bottom}, {&l.keelAt, l.keel}} {
		if err := v.at.Fit(l.x, v.z); err != nil {
			k.fail("the offsets: %v", err)
		}
	}
	return l
}

// bodyBottom is where a section leaves the side of its skeg: the last point as narrow as the keel, unless all are. A
// keel broader than 15 % of the widest half-breadth is a flat bottom and no skeg.
func bodyBottom(s hull.Station, widest float64) float64 {
	i := 0
	for i < len(s.Y)-1 && s.Y[i+1] <= s.Y[0]+1e-6 {
		i++
	}
	if i == len(s.Y)-1 || s.Y[0] > 0.15*widest {
		return s.Z[0]
	}
	return s.Z[i]
}

// length of the hull, m, from the first station to the last.
func (l *lines) length() float64 { return l.fore - l.aft }

// middle of the length, about which the boat is turned by its trim, m.
func (l *lines) middle() float64 { return float64((l.aft + l.fore) / 2) }

// skeg gives the stations between which the keel hangs more than 5 mm below the body; ok is false where it does
// nowhere.
func (l *lines) skeg() (from, to int, ok bool) {
	from = -1
	for i := range l.x {
		if l.bottom[i]-l.keel[i] > 0.005 {
			if from < 0 {
				from = i
			}
			to = i
		}
	}
	return from, to, from >= 0
}

// level is the height of the water above the base line at x, m: the plane of the water is straight between the ends.
func (l *lines) level(d *Drafts, x float64) float64 {
	return d.Aft + float64((d.Fore-d.Aft)*(x-l.aft)/l.length())
}

// checkDrafts asks for draughts at which the boat floats and stands about upright: the water between keel and sheer
// halfway along, and a trim of no more than a quarter of the length.
func (l *lines) checkDrafts(k *check, d *Drafts) {
	if d == nil || l == nil {
		return
	}
	k.within("draught halfway along", (d.Aft+d.Fore)/2, l.low, l.high, "m above the base line")
	k.within("trim", (d.Aft-d.Fore)/l.length(), -0.25, 0.25, "m for each metre of length")
}

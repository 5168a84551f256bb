package hull

import (
	"fmt"
	"math"
)

// Hydrostatics are the figures of the hull below one water plane. A hull clear of the water, or with less
// than a thousand-millionth of its volume in it, has zeros.
type Hydrostatics struct {
	Draft, Trim, Heel float64 // m, rad, rad: see the package's axes

	Volume         float64 // m³
	LCB, TCB, KB   float64 // centre of buoyancy: x, y and z, m
	WaterplaneArea float64 // m², in the plane of the water
	// centre of flotation: x, and the distance along the waterline to starboard of the point nearest the base line, m
	LCF, TCF      float64
	BMt, BMl      float64 // metacentric radii about the axes through the centre of flotation, m
	WettedSurface float64 // m²

	WaterlineAft, WaterlineFore float64 // x of the ends of the waterline, m
	WaterlineLength             float64 // between them, m
	WaterlineBeam               float64 // greatest breadth in the waterline, at a station, m
	Depth                       float64 // of the lowest point of a station below the water, m
	Block, Plane, Prismatic     float64 // coefficients Cb, Cwp, Cp
}

// steepest is the largest trim for which hydrostatics are given; sliver is the share of the hull's volume that counts
// as none.
const (
	steepest = math.Pi / 3
	sliver   = 1e-9
)

// Upright gives the hydrostatics at a draft at midlength and a trim, without heel. See [Hull.At].
func (h *Hull) Upright(draft, trim float64) (Hydrostatics, error) { return h.At(draft, trim, 0) }

// At gives the hydrostatics at a draft at midlength (m), a trim and a heel (rad).
//
// Volume V = ∫A dx; LCB, TCB, KB its centre; waterplane area A_W; BMt = I_T/V and BMl = I_L/V with the second moments
// of the waterplane (m⁴) about the axes through its centre; wetted surface = ∫girth dx, without transom and without the
// factor for the slope of the shell along the length; Cb = V/(LWL·BWL·T), Cwp = A_W/(LWL·BWL), Cp = V/(LWL·A_max), with
// T the depth of the lowest point and A_max the largest section below the water.
//
// Valid: any heel; a trim below 60°; still water; as exact as the stations are close: the ends of the waterline lie on
// the straight line between two stations.
// Source: Barrass & Derrett, Ship Stability for Masters and Mates, ch. 9 to 12 (definitions, Simpson's rule).
func (h *Hull) At(draft, trim, heel float64) (Hydrostatics, error) {
	if !usable(draft) || !(math.Abs(trim) < steepest) || !(math.Abs(heel) <= math.Pi) {
		return Hydrostatics{}, fmt.Errorf("computing hydrostatics at draught %v m, trim %v, heel %v: give a draught "+
			"in metres, a trim below 60° and a heel up to 180°, in radians",
			draft, trim, heel)
	}
	slope, p := math.Tan(trim), heeledBy(heel)
	y := Hydrostatics{Draft: draft, Trim: trim, Heel: heel}
	y.fill(h, h.sums(draft, slope, p), p)
	y.extent(h, slope, p)
	return y, nil
}

// fill sets what follows from the sums. A sliver that is mere rounding counts as none.
func (y *Hydrostatics) fill(h *Hull, t sums, p plane) {
	if !(t.v > sliver*h.volume) {
		return
	}
	cos := math.Cos(y.Trim)
	y.Volume, y.WettedSurface = t.v, t.girth
	y.LCB = h.middle + t.ma/t.v
	y.TCB, y.KB = p.back(t.ms/t.v, t.mw/t.v)
	if !(t.a0 > 0) {
		return
	}
	y.WaterplaneArea = t.a0 / cos
	y.LCF, y.TCF = h.middle+t.a1/t.a0, t.s1/t.a0
	y.BMt, y.BMl = t.radii(cos)
}

// radii are BMt and BMl at the trim with the given cosine: along the length the plane is longer by 1/cos than its
// projection.
func (t sums) radii(cos float64) (transverse, longitudinal float64) {
	if !(t.a0 > 0) || !(t.v > 0) {
		return 0, 0
	}
	return (t.s2 - t.s1*t.s1/t.a0) / cos / t.v, (t.a2 - t.a1*t.a1/t.a0) / (cos * cos * cos) / t.v
}

// extent sets the waterline's ends, breadth and depth, and the coefficients.
func (y *Hydrostatics) extent(h *Hull, slope float64, p plane) {
	if y.Volume == 0 {
		return
	}
	ends, largest := waterline{aft: math.Inf(1), fore: math.Inf(-1)}, 0.0
	for i := range h.sections {
		s := &h.sections[i]
		v := y.Draft - float64(slope*s.along)
		k := s.cut(v, p)
		largest, y.WaterlineBeam = max(largest, k.area), max(y.WaterlineBeam, k.b)
		ends.station(s.along, v-s.lowest(p))
	}
	cos := math.Cos(y.Trim)
	y.Depth = ends.deepest * cos
	y.WaterlineAft, y.WaterlineFore = h.middle+ends.aft, h.middle+ends.fore
	y.WaterlineLength = (ends.fore - ends.aft) / cos
	y.Prismatic = ratio(y.Volume, y.WaterlineLength*largest)
	y.Plane = ratio(y.WaterplaneArea, y.WaterlineLength*y.WaterlineBeam)
	y.Block = ratio(y.Volume, y.WaterlineLength*y.WaterlineBeam*y.Depth)
}

// waterline gathers where the hull enters and leaves the water, station by station.
type waterline struct {
	aft, fore, deepest float64
	along, depth       float64 // of the station before
	started            bool
}

func (w *waterline) station(along, depth float64) {
	w.deepest = max(w.deepest, depth)
	if w.started && (depth > 0) != (w.depth > 0) {
		x := along + (w.along-along)*depth/(depth-w.depth)
		w.aft, w.fore = min(w.aft, x), max(w.fore, x)
	}
	if depth > 0 {
		w.aft, w.fore = min(w.aft, along), max(w.fore, along)
	}
	w.along, w.depth, w.started = along, depth, true
}

func ratio(part, whole float64) float64 {
	if !(whole > 0) {
		return 0
	}
	return part / whole
}

// Displacement is V·ρ, kg, in water of the given density, kg/m³.
func (y Hydrostatics) Displacement(density float64) float64 { return y.Volume * density }

// TPC is the mass that sinks the hull 1 cm, kg/cm. See [TPC].
func (y Hydrostatics) TPC(density float64) float64 { return TPC(y.WaterplaneArea, density) }

// PoundsPerInch is the mass that sinks the hull 1 in, lb/in. See [PoundsPerInch].
func (y Hydrostatics) PoundsPerInch(density float64) float64 {
	return PoundsPerInch(y.WaterplaneArea, density)
}

// MCTC is the moment that changes trim by 1 cm over length, kg·m/cm, with BMl in place of GMl. See
// [MCTC]; [Floating.MCTC] has the true GMl.
//
// Valid: where BMl is large against BG, as in all usual hulls.
// Source: Barrass & Derrett.
func (y Hydrostatics) MCTC(density, length float64) float64 {
	return MCTC(y.Displacement(density), y.BMl, length)
}

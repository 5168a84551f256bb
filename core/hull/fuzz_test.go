package hull_test

import (
	"encoding/binary"
	"math"
	"testing"

	"ribband/core/hull"
)

// table reads a table of offsets from bytes: the number of points, then numbers of 8 bytes, or of 1 byte in
// centimetres.
func table(data []byte) hull.Offsets {
	if len(data) < 2 {
		return hull.Offsets{}
	}
	points, wide := int(data[0]%12), data[1]%2 == 1
	data = data[2:]
	next := func() (float64, bool) {
		if wide && len(data) >= 8 {
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v, true
		}
		if wide || len(data) < 1 {
			return 0, false
		}
		v := float64(data[0]) / 100
		data = data[1:]
		return v, true
	}
	var o hull.Offsets
	for len(o.Stations) < 40 {
		x, ok := next()
		if !ok {
			return o
		}
		s := hull.Station{X: x}
		for range points {
			z, _ := next()
			y, _ := next()
			s.Z, s.Y = append(s.Z, z), append(s.Y, y)
		}
		o.Stations = append(o.Stations, s)
	}
	return o
}

// FuzzHull makes hulls of any table and floats any load: nothing panics, and a number that is none comes only as an
// error.
func FuzzHull(f *testing.F) {
	f.Add([]byte{}, 900.0, 2.0, 0.0, 0.4, 0.3, 0.0, 0.0)
	good := []byte{3, 0}
	for i := range byte(6) {
		good = append(good, i*40, 0, 5, 20, 60, 80, 90)
	}
	f.Add(good, 500.0, 1.0, 0.05, 0.3, 0.3, 0.02, 0.3)
	f.Add(good, 900.0, 0.8, -0.3, 2.0, 9.0, -0.5, 3.1)
	f.Fuzz(func(t *testing.T, data []byte, mass, lcg, tcg, vcg, draft, trim, heel float64) {
		h, err := hull.New(table(data))
		if err != nil {
			return
		}
		y, _ := h.At(draft, trim, heel)
		load := hull.Load{Mass: mass, LCG: lcg, TCG: tcg, VCG: vcg}
		fl, _ := h.Float(load, hull.FreshWater)
		numbers := []float64{y.Volume, y.LCB, y.TCB, y.KB, y.WaterplaneArea, y.LCF, y.TCF, y.BMt, y.BMl,
			y.WettedSurface,
			y.WaterlineLength, y.WaterlineBeam, y.Depth, y.Block, y.Plane, y.Prismatic,
			fl.Draft, fl.Trim, fl.Heel, fl.GMt, fl.GMl, fl.Drafts.Aft, fl.Drafts.Fore, fl.Freeboard.Height,
			fl.MCTC(), fl.LCF}
		e, _ := h.Extents(draft, draft+trim)
		numbers = append(numbers, e.Length, e.Beam, e.Depth, e.Gunwale, e.Shell, e.Bottom, e.Waterline, e.Waterplane)
		if e.Bottom > e.Shell*(1+1e-9) {
			t.Errorf("%v m² of bottom on %v m² of shell", e.Bottom, e.Shell)
		}
		levers, _ := h.RightingLevers(load, hull.FreshWater, []float64{0, heel})
		for _, l := range levers {
			numbers = append(numbers, l.GZ, l.Draft, l.Trim, l.Freeboard)
		}
		for i, v := range numbers {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("number %d is %v", i, v)
			}
		}
	})
}

package bank_test

import (
	"encoding/binary"
	"math"
	"testing"

	"ribband/core/bank"
)

// FuzzTrial reads bytes as pairs of speed and power: a table either has faults that say where and what to do, or a
// curve that gives a number everywhere in it and never falls.
func FuzzTrial(f *testing.F) {
	f.Add(encode(trial().Points), 900.0)
	f.Add(encode([]bank.Point{{SpeedKn: 0.1, PowerW: 1}, {SpeedKn: 0.2, PowerW: 1e6 - 2},
		{SpeedKn: 0.21, PowerW: 1e6 - 1}, {SpeedKn: 60, PowerW: 1e6}}), 50.0)
	f.Add(encode([]bank.Point{{SpeedKn: math.NaN(), PowerW: math.Inf(1)}, {SpeedKn: -1, PowerW: -1}}), math.NaN())
	f.Fuzz(func(t *testing.T, data []byte, displacement float64) {
		table := bank.Trial{DisplacementKg: displacement}
		for ; len(data) >= 16 && len(table.Points) < 64; data = data[16:] {
			table.Points = append(table.Points, bank.Point{
				SpeedKn: math.Float64frombits(binary.LittleEndian.Uint64(data)),
				PowerW:  math.Float64frombits(binary.LittleEndian.Uint64(data[8:])),
			})
		}
		faults := table.Validate()
		curve, err := table.Curve()
		if (len(faults) == 0) != (err == nil) {
			t.Fatalf("faults %v, error %v", faults, err)
		}
		for _, fault := range faults {
			if fault.Where == "" || fault.Problem == "" || fault.Remedy == "" {
				t.Fatalf("%+v", fault)
			}
		}
		if err != nil {
			return
		}
		from, to := curve.Range()
		least, most := table.Points[0].PowerW, table.Points[len(table.Points)-1].PowerW
		last := least * (1 - 1e-9)
		for i := range 101 {
			w, err := curve.PowerW(math.Min(from+(to-from)*float64(i)/100, to))
			if err != nil || !(w >= last-1e-6 && w <= most*(1+1e-9)) {
				t.Fatalf("%v W after %v W, %v", w, last, err)
			}
			last = w
		}
	})
}

func encode(points []bank.Point) []byte {
	var data []byte
	for _, p := range points {
		data = binary.LittleEndian.AppendUint64(data, math.Float64bits(p.SpeedKn))
		data = binary.LittleEndian.AppendUint64(data, math.Float64bits(p.PowerW))
	}
	return data
}

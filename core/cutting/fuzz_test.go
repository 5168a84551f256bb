package cutting

import (
	"encoding/binary"
	"math"
	"testing"
)

// FuzzLay takes any bytes as the numbers of a stock and its pieces: a layout is sound, or there is an error; nothing
// panics.
func FuzzLay(f *testing.F) {
	add := func(numbers ...float64) {
		var b []byte
		for _, n := range numbers {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(n))
		}
		f.Add(b)
	}
	add()
	add(1520, 0, 2)
	add(1520, 0, 2, 900, 2600, 900, -2600, 300, 1700)
	add(1370, 2790, 0, 1000, 500, 1370, 2790)
	add(math.NaN(), 0, 0, 1, 1)
	add(1000, 0, 0, math.Inf(1), 1)
	add(1000, 0, 0, 5e-324, 1e308)
	add(0.3, 0, 0, 0.1, 1, 0.1, 1, 0.1, 1)
	f.Fuzz(func(t *testing.T, b []byte) {
		numbers := make([]float64, len(b)/8)
		for i := range numbers {
			numbers[i] = math.Float64frombits(binary.LittleEndian.Uint64(b[8*i:]))
		}
		if len(numbers) < 3 {
			return
		}
		stock := Stock{numbers[0], numbers[1], numbers[2]}
		var pieces []Piece
		for rest := numbers[3:]; len(rest) >= 2 && len(pieces) < 60; rest = rest[2:] {
			turn := math.Signbit(rest[1]) // a sign stands for leave to turn
			pieces = append(pieces, Piece{Name: "fuzzed", Width: rest[0], Length: math.Abs(rest[1]), Turn: turn})
		}
		l, err := Lay(pieces, stock)
		if err != nil || len(pieces) == 0 {
			return
		}
		sound(t, l, pieces)
	})
}

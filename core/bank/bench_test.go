package bank_test

import (
	"testing"

	"ribband/core/bank"
)

// BenchmarkFiguresRange is what one spec asks: a setup, its range at the speed of use, and its top speed.
func BenchmarkFiguresRange(b *testing.B) {
	s := launch()
	b.ReportAllocs()
	for b.Loop() {
		boat, err := bank.New(s)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := boat.At(4.5); err != nil {
			b.Fatal(err)
		}
		if _, _, err := boat.TopSpeed(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAt(b *testing.B) {
	boat := ready(b, launch())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := boat.At(4.5); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSpeedForRange(b *testing.B) {
	boat := ready(b, launch())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := boat.SpeedForRange(50); err != nil {
			b.Fatal(err)
		}
	}
}

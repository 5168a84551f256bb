package fit_test

import (
	"testing"

	"ribband/core/fit"
)

// Every option of the demo book is judged against the standard build of each hull: what happens after each click.
func BenchmarkVerdicts(b *testing.B) {
	d := demo()
	for h, hull := range d.pack.Hulls {
		b.Run(hull.ID, func(b *testing.B) {
			boat := d.fit.Complete(h, d.use(), d.fit.NewChoices(), fit.DefaultTries)
			b.ReportAllocs()
			for b.Loop() {
				d.fit.Verdicts(boat)
			}
		})
	}
}

func BenchmarkComplete(b *testing.B) {
	d := demo()
	for h, hull := range d.pack.Hulls {
		b.Run(hull.ID, func(b *testing.B) {
			choices, use := d.fit.NewChoices(), d.use()
			b.ReportAllocs()
			for b.Loop() {
				d.fit.Complete(h, use, choices, fit.DefaultTries)
			}
		})
	}
}

package fit_test

import (
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/pack"
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

// A top that is taller than the lowest bridge of the use: whatever else is chosen, there is no boat, and every verdict
// searches for one in vain.
func BenchmarkVerdictsInVain(b *testing.B) {
	d := demo()
	h := slices.IndexFunc(d.pack.Hulls, func(h pack.Hull) bool { return h.ID == "reed-65" })
	bridge := slices.IndexFunc(d.pack.Use, func(u pack.UseField) bool { return u.ID == "bridge_m" })
	top := slices.IndexFunc(d.pack.Options, func(o pack.Option) bool { return o.ID == "top-canopy" })
	use, c := d.use(), d.fit.NewChoices()
	use[bridge] = 1.6
	c.Counts[top], c.Settled[d.pack.Options[top].Slot] = 1, true
	boat := d.fit.Complete(h, use, c, fit.DefaultTries)
	if len(boat.Clashes) == 0 {
		b.Fatal("the top passes under the bridge")
	}
	b.ReportAllocs()
	for b.Loop() {
		d.fit.Verdicts(boat)
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

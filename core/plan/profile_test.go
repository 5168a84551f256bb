package plan

import (
	"testing"

	"pgregory.net/rapid"
)

// A profile against one number for each quarter-hour.
func TestProfileCounts(t *testing.T) {
	const end = 60
	rapid.Check(t, func(t *rapid.T) {
		units := rapid.IntRange(0, 5).Draw(t, "units")
		p := newProfile(units)
		var free [end]int
		for k := range free {
			free[k] = units
		}
		for range rapid.IntRange(0, 12).Draw(t, "changes") {
			from := rapid.IntRange(-3, end-1).Draw(t, "from")
			until, by := rapid.IntRange(from, end-1).Draw(t, "until"), rapid.IntRange(-2, 2).Draw(t, "by")
			p.add(Time(from), Time(until), by)
			for k := max(0, from); k < until; k++ {
				free[k] += by
			}
		}
		for k := 1; k < len(p.at); k++ {
			if p.at[k] <= p.at[k-1] || p.free[k] == p.free[k-1] {
				t.Fatalf("segment %d is no step of its own: %v %v", k, p.at, p.free)
			}
		}
		from, length, need := rapid.IntRange(0, end-1).Draw(t, "at"), rapid.IntRange(1, 9).Draw(t, "long"),
			rapid.IntRange(0, 5).Draw(t, "need")
		at := func(k int) int { return free[min(k, end-1)] } // the last holds for ever
		fits := func(k int) bool {
			for j := k; j < k+length; j++ {
				if at(j) < need {
					return false
				}
			}
			return true
		}
		want, last := Never, Time(0)
		for k := from; k <= end; k++ {
			if fits(k) {
				want = Time(k)
				break
			}
		}
		if got := p.fit(Time(from), Time(length), need); got != want {
			t.Fatalf("%d are free for %d from %d on at %d, want %d", need, length, from, got, want)
		}
		for k := from; k < from+length; k++ {
			if at(k) < need {
				last = Time(k)
			}
		}
		until, blocked := p.blocked(Time(from), Time(from+length), need)
		if blocked != !fits(from) || blocked && (until <= last || until < Never && at(int(until-1)) >= need) {
			t.Fatalf("from %d for %d: blocked %v until %d, last at %d", from, length, blocked, until, last)
		}
	})
}

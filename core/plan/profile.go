package plan

import (
	"slices"
	"sort"
)

// profile is how much of something is free over time: a step function. A segment holds from its moment until that of
// the next one, the last for ever. Neighbours differ.
type profile struct {
	at   []Time
	free []int
}

// newProfile is so much from the load's begin on.
func newProfile(units int) profile { return profile{[]Time{0}, []int{units}} }

// copyFrom makes it the same as another, in the memory that it has.
func (p *profile) copyFrom(q *profile) {
	p.at, p.free = append(p.at[:0], q.at...), append(p.free[:0], q.free...)
}

// segment is the index of that in which a moment lies.
func (p *profile) segment(t Time) int {
	return max(0, sort.Search(len(p.at), func(k int) bool { return p.at[k] > t })-1)
}

// fit is the earliest moment from t on at which so much is free for so long; [Never] where there is none.
func (p *profile) fit(t, length Time, units int) Time {
	for k := p.segment(t); ; k++ {
		last := k+1 == len(p.at)
		switch {
		case p.free[k] >= units && (last || p.at[k+1] >= t+length):
			return t
		case last:
			return Never
		case p.free[k] < units:
			t = p.at[k+1]
		}
	}
}

// blocked is the end of the last segment between two moments in which less is free, and whether there is one.
func (p *profile) blocked(from, until Time, units int) (Time, bool) {
	end, found := Time(0), false
	for k := p.segment(from); k < len(p.at) && (p.at[k] < until || k == 0); k++ {
		if p.free[k] >= units {
			continue
		}
		end, found = Never, true
		if k+1 < len(p.at) {
			end = p.at[k+1]
		}
	}
	return end, found
}

// add changes what is free between two moments.
func (p *profile) add(from, until Time, units int) {
	from = max(from, 0)
	if until <= from {
		return
	}
	first := p.split(from)
	last := len(p.at)
	if until < Never {
		last = p.split(until)
	}
	for k := first; k < last; k++ {
		p.free[k] += units
	}
	// only at the two ends may neighbours have become alike
	p.join(last)
	p.join(first)
}

// split has a segment begin at a moment, and gives its index.
func (p *profile) split(t Time) int {
	k := p.segment(t)
	if p.at[k] == t {
		return k
	}
	// a few hundred segments are moved in less time than a tree would take to find one
	p.at = slices.Insert(p.at, k+1, t)
	p.free = slices.Insert(p.free, k+1, p.free[k])
	return k + 1
}

// join makes one of a segment and the one before it where they are alike.
func (p *profile) join(k int) {
	if k > 0 && k < len(p.at) && p.free[k] == p.free[k-1] {
		p.at = slices.Delete(p.at, k, k+1)
		p.free = slices.Delete(p.free, k, k+1)
	}
}

package formula

import (
	"math"
	"slices"
)

// Index says which of a list of programs read what. Where a state changes, only the programs that read something of the
// change can give another result: those of [Index.Affected]. All others give what they gave, bit for bit.
type Index struct {
	options, slots, hull, use, figures [][]int // by what is read: the programs, in order
	hullID                             []int
}

// NewIndex makes the index of a list of programs, or of groups of them, from what each reads. The reads must lie within
// the space. It is made once for a book, and asked at every change of a boat.
func NewIndex(list []Reads, sp Space) *Index {
	x := &Index{options: make([][]int, sp.Options), slots: make([][]int, sp.Slots), hull: make([][]int, sp.Hull),
		use: make([][]int, sp.Use), figures: make([][]int, sp.Figures)}
	// in the order of the programs, so that each list of readers is sorted
	for i, r := range list {
		for _, k := range x.kinds(r) {
			for _, j := range k.read {
				k.readers[j] = append(k.readers[j], i)
			}
		}
		if r.HullID {
			x.hullID = append(x.hullID, i)
		}
	}
	return x
}

// kind pairs what is read of one kind with who reads it.
type kind struct {
	read    []int
	readers [][]int
}

// kinds pairs what a program reads with the lists of its readers.
func (x *Index) kinds(r Reads) [5]kind {
	return [...]kind{{r.Options, x.options}, {r.Slots, x.slots}, {r.Hull, x.hull}, {r.Use, x.use},
		{r.Figures, x.figures}}
}

// Option gives the programs that read an option, in order. The list must not be changed.
func (x *Index) Option(i int) []int { return x.options[i] }

// Slot is [Index.Option] of a slot.
func (x *Index) Slot(i int) []int { return x.slots[i] }

// Figure is [Index.Option] of a figure.
func (x *Index) Figure(i int) []int { return x.figures[i] }

// Affected appends the programs that read anything of what has changed: in order, each once.
func (x *Index) Affected(changed Reads, to []int) []int {
	first := len(to)
	for _, k := range x.kinds(changed) {
		for _, j := range k.read {
			to = append(to, k.readers[j]...)
		}
	}
	if changed.HullID {
		to = append(to, x.hullID...)
	}
	slices.Sort(to[first:])
	return to[:first+len(slices.Compact(to[first:]))]
}

// Changed lists in what two states of one space differ, for [Index.Affected].
func Changed(a, b *State) Reads {
	same := func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) }
	equal := func(x, y int) bool { return x == y }
	return Reads{
		Options: differing(a.Counts, b.Counts, equal), Slots: differing(a.Slots, b.Slots, equal),
		Hull: differing(a.Hull, b.Hull, same), HullID: a.HullID != b.HullID,
		Use: differing(a.Use, b.Use, same), Figures: differing(a.Figures, b.Figures, same),
	}
}

func differing[V any](a, b []V, same func(x, y V) bool) (at []int) {
	for i := range a {
		if !same(a[i], b[i]) {
			at = append(at, i)
		}
	}
	return at
}

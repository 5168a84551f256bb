package fit

import "math/bits"

// bitset is a set of small numbers, by pages. A page knows which of its words have members, so that a set of few is
// gone through quickly, however large its numbers. A plain list of words would be gone through whole at every step of a
// search, though a step of a large book marks a handful; a map allocates, and has no order.
type bitset []page

type page struct {
	some  uint64 // which of the words are not zero
	words [64]uint64
}

const perPage = 64 * 64

func newBitset(n int) bitset { return make(bitset, (n+perPage-1)/perPage) }

func (s bitset) add(i int) {
	p, w := &s[i/perPage], i/64%64
	p.words[w] |= 1 << (i % 64)
	p.some |= 1 << w
}

func (s bitset) drop(i int) {
	p, w := &s[i/perPage], i/64%64
	if p.words[w] &^= 1 << (i % 64); p.words[w] == 0 {
		p.some &^= 1 << w
	}
}

func (s bitset) has(i int) bool { return s[i/perPage].words[i/64%64]>>(i%64)&1 != 0 }

func (s bitset) empty() bool {
	for i := range s {
		if s[i].some != 0 {
			return false
		}
	}
	return true
}

// meets says that two sets have a member in common.
func (s bitset) meets(t bitset) bool {
	for i := range s {
		for some := s[i].some & t[i].some; some != 0; some &= some - 1 {
			if w := bits.TrailingZeros64(some); s[i].words[w]&t[i].words[w] != 0 {
				return true
			}
		}
	}
	return false
}

// addBoth adds what two sets have both.
func (s bitset) addBoth(a, b bitset) {
	for i := range s {
		for some := a[i].some & b[i].some; some != 0; some &= some - 1 {
			w := bits.TrailingZeros64(some)
			if both := a[i].words[w] & b[i].words[w]; both != 0 {
				s[i].words[w] |= both
				s[i].some |= 1 << w
			}
		}
	}
}

// each visits the members in order. It sees those that a visit adds behind itself. Settling relies on that: what one
// slot opens behind it is filled in the same sweep.
func (s bitset) each(visit func(i int)) {
	for i := range s {
		p := &s[i]
		eachBit(&p.some, func(w int) {
			eachBit(&p.words[w], func(bit int) { visit(i*perPage + w*64 + bit) })
		})
	}
}

// eachBit visits the bits of a word upwards. It reads the word again after each visit, which may have added to it or
// dropped from it.
func eachBit(word *uint64, visit func(i int)) {
	for done := uint64(0); ; {
		left := *word &^ done
		if left == 0 {
			return
		}
		i := bits.TrailingZeros64(left)
		done |= 2<<i - 1
		visit(i)
	}
}

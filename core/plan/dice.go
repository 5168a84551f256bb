package plan

import "math/bits"

// dice are numbers as if thrown, the same on every machine.
//
// Source: SplitMix64, G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014.
type dice uint64

// golden is the step from one throw to the next.
const golden = 0x9e3779b97f4a7c15

func (d *dice) next() uint64 {
	*d += golden
	return mixed(uint64(*d))
}

// mixed scatters a number over all that there are.
func mixed(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below is a number from 0 to n-1; the bias of n over 2^64 is of no account here.
func (d *dice) below(n int) int {
	hi, _ := bits.Mul64(d.next(), uint64(n))
	return int(hi)
}

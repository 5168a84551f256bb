// Package sha256 stands in the engine for crypto/sha256, which brings the checked module of all of Go's cryptography
// along. The engine hashes to tell documents and editions apart, a few kB at a time.
//
// Source: FIPS 180-4, 5.1.1, 5.3.3 and 6.2; a test compares it with crypto/sha256.
package sha256

import (
	"encoding/binary"
	"math/bits"
)

// Size is that of a digest, bytes.
const Size = 32

// The first 32 bits of the fractions of the square roots of the first eight primes, and of the cube roots of the first
// 64.
var (
	begin = [8]uint32{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19}
	roots = [64]uint32{
		0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
		0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
		0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
		0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
		0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
		0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
		0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
		0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
	}
)

const block = 64

// Sum256 gives the digest of a text.
func Sum256(text []byte) (sum [Size]byte) {
	// the text, a bit, zeros, and the number of its bits fill whole blocks
	padded := append(make([]byte, 0, len(text)+2*block), text...)
	padded = append(padded, 0x80)
	for len(padded)%block != block-8 {
		padded = append(padded, 0)
	}
	padded = binary.BigEndian.AppendUint64(padded, uint64(len(text))*8)
	// whole in memory: what is hashed here is a document of a few kB
	h := begin
	for ; len(padded) > 0; padded = padded[block:] {
		compress(&h, padded)
	}
	for i, v := range h {
		binary.BigEndian.PutUint32(sum[4*i:], v)
	}
	return sum
}

// compress takes a block into the state.
func compress(h *[8]uint32, text []byte) {
	var w [64]uint32
	for i := range 16 {
		w[i] = binary.BigEndian.Uint32(text[4*i:])
	}
	right := func(v uint32, n int) uint32 { return bits.RotateLeft32(v, -n) }
	for i := 16; i < 64; i++ {
		a, b := w[i-15], w[i-2]
		w[i] = w[i-16] + w[i-7] + (right(a, 7) ^ right(a, 18) ^ a>>3) + (right(b, 17) ^ right(b, 19) ^ b>>10)
	}
	s := *h
	for i := range 64 {
		a, b, c, e, f, g := s[0], s[1], s[2], s[4], s[5], s[6]
		t1 := s[7] + (right(e, 6) ^ right(e, 11) ^ right(e, 25)) + (e&f ^ ^e&g) + roots[i] + w[i]
		t2 := (right(a, 2) ^ right(a, 13) ^ right(a, 22)) + (a&b ^ a&c ^ b&c)
		copy(s[1:], s[:7])
		s[0], s[4] = t1+t2, s[4]+t1
	}
	for i := range h {
		h[i] += s[i]
	}
}

package wire

import "math"

// The model foretells each bit from what came before in a few ways, each a table of probabilities by the hash of a
// context, and mixes them by weights that it learns. Writer and reader have the same model at every bit, so that the
// writer needs fewer bits the better it foretells. All is done in numbers of 32 bits, which JavaScript has too.

const (
	contexts  = 4            // tables of probabilities
	inputs    = contexts + 1 // and the foretelling of the whole
	tableBits = 21           // of entries in a table, of 2 bytes
	sets      = 4096         // of weights
	even      = 1 << 15      // a probability of a half, of 65 536; of an entry that has seen nothing, too
	rateLimit = 7            // how many bits an entry remembers
	weight    = 20_000       // that all inputs begin with, of 65 536
	learning  = 7            // how fast weights follow
	golden    = 0x9e3779b1   // 2³² divided by the golden ratio: it spreads what is multiplied by it
	nodeStep  = 0x2f0b4c47   // another odd number, for the nodes below a context
)

// Why not a compressor that there is: LZMA knows repetitions and few statistics. With operands in streams of their own
// it takes a fifth more for the whole engine. The price is the reader's time, which goes by bits and is hidden while
// bytes come on a slow line, and 20 MB of its memory, which are given back when the engine is read.

// knots are 4096/(1+exp(-x/256)) for every 128th x from -2048 on, rounded: JavaScript and Go could differ in the last
// bit of an exponential, and a bit that differs would spoil all that follows.
//
// Source: Mahoney, Data Compression Explained, 4.3.2 (the logistic function, by straight lines between knots).
var knots = [33]int32{1, 2, 4, 6, 10, 17, 27, 45, 74, 120, 194, 311, 488, 747, 1102, 1546, 2048, 2550, 2994, 3349, 3608,
	3785, 3902, 3976, 4022, 4051, 4069, 4079, 4086, 4090, 4092, 4094, 4095}

// squashed is the logistic function of x-2048 for x from 0 on, and stretched its inverse.
var squashed, stretched = func() (sq, st [4096]int32) {
	for i := range sq {
		k, w := i>>7, int32(i&127)
		sq[i] = min(4095, max(1, (knots[k]*(128-w)+knots[k+1]*w+64)>>7))
	}
	from := int32(0)
	for x := range sq {
		for ; from <= sq[x]; from++ {
			st[from] = int32(x) - 2048
		}
	}
	for ; from < 4096; from++ {
		st[from] = 2047
	}
	return sq, st
}()

// model is its state between two bits.
type model struct {
	tables [contexts][]uint16 // the probability of a one, 13 bits, and the number of bits seen, 3 bits
	w      []int32            // weights, inputs of each set
	out    *coder
	hashes [contexts]uint32 // of the contexts of what is written
	bases  [contexts]uint32 // of these with the bits before
	trusts [256]int32       // how often a foretelling of the whole was right, by its kind and how often it was before
}

func newModel() *model {
	m := &model{w: make([]int32, sets*inputs), out: newCoder()}
	for i := range m.tables {
		m.tables[i] = make([]uint16, 1<<tableBits)
		for k := range m.tables[i] {
			m.tables[i][k] = even
		}
	}
	for i := range m.w {
		m.w[i] = weight
	}
	for i := range m.trusts {
		m.trusts[i] = even
	}
	return m
}

// rates are how far an entry goes towards the next bit, of 65 536, by how many it has seen: 1/(n+1.5), the mean of what
// was seen with a half before. What is long ago counts less: code is alike where it is near.
var rates = func() (of [rateLimit + 1]int32) {
	for n := range of {
		of[n] = int32(1 << 17 / (2*n + 3))
	}
	return of
}()

// mix makes a hash of a hash and a number.
func mix(h, v uint32) uint32 {
	// the shift brings what the product has in its high bits down to where the next number is taken in
	h = (h ^ v) * golden
	return h ^ h>>15
}

// below goes on to the bits after a prefix of the same number. The bits of one step, four at most, lie within 16
// entries of each table: one line of the processor's memory, and so one wait for it.
func (m *model) below(prefix uint32) {
	for i, h := range m.hashes {
		m.bases[i] = mix(h, prefix) * golden >> (32 - tableBits)
	}
}

// number writes some bits, four at a time or what is left over first.
func (m *model) number(v, bits, set int, prefix uint32) {
	// what is left over comes first, so that all other steps have four bits and their nodes the same places
	for bits > 0 {
		n := (bits-1)%4 + 1
		bits -= n
		m.below(prefix)
		node := m.bits(v>>bits&(1<<n-1), n, set)
		prefix, set = mix(prefix, uint32(node)), set+16
	}
}

// bits writes some, from the highest on, and gives them with a one before.
func (m *model) bits(v, n, set int) int {
	node := 1
	for n--; n >= 0; n-- {
		y := v >> n & 1
		m.bit(y, node, set+node, -1)
		node = node<<1 | y
	}
	return node
}

// bit writes a bit at a node below the contexts. The set is that of the weights. Trust is which of the foretellings of
// the whole says one, or -1 for none.
func (m *model) bit(y, node, set, trust int) {
	var at [contexts]*uint16
	var s [inputs]int32
	w := m.w[set*inputs : set*inputs+inputs]
	sum := int32(0)
	// entries that collide are not told apart: with 2²¹ in a table few do, and a check would cost a byte and a branch
	for i := range at {
		at[i] = &m.tables[i][m.bases[i]^uint32(node)]
		s[i] = stretched[*at[i]>>4]
		sum += w[i] * s[i] >> 8
	}
	if trust >= 0 {
		s[contexts] = stretched[m.trusts[trust]>>4]
		sum += w[contexts] * s[contexts] >> 8
	}
	p := squashed[min(2047, max(-2048, sum>>8))+2048]
	m.out.write(y, uint32(p))
	// each weight follows the fault in proportion to what its input said: the gradient of the coding cost
	fault := (int32(y)<<12 - p) * learning
	for i, e := range at {
		w[i] += (s[i]*fault + 0x2000) >> 14
		// the first bits move an entry far, later ones less and less: the mean of what was seen, up to the limit
		v, n := int32(*e>>3), *e&7
		v += ((int32(-y)&0x1fff-v)*rates[n] + 0x8000) >> 16
		*e = uint16(v)<<3 | min(n+1, rateLimit)
	}
	// how far a foretelling can be trusted is learned beside its weight
	if trust >= 0 {
		w[contexts] += (s[contexts]*fault + 0x2000) >> 14
		m.trusts[trust] += (int32(-y)&0xffff - m.trusts[trust]) >> 6
	}
}

// coder writes bits of known probability: a range coder as in LZMA, with 12 bits of probability of a one.
type coder struct {
	low    uint64
	size   uint32 // of the range
	cache  byte
	queued int // bytes that wait for a carry
	text   []byte
}

func newCoder() *coder { return &coder{size: math.MaxUint32, queued: 1} }

func (c *coder) write(y int, p uint32) {
	// p is between 1 and 4095, so that neither part of the range is ever empty
	bound := c.size >> 12 * p
	if y != 0 {
		c.size = bound
	} else {
		c.low += uint64(bound)
		c.size -= bound
	}
	for c.size < 1<<24 {
		c.size <<= 8
		c.shift()
	}
}

// shift moves a byte out; those that a carry could still change wait.
func (c *coder) shift() {
	// a run of 0xff could be carried through: how many there are is counted until it is known
	if c.low < 0xff000000 || c.low > math.MaxUint32 {
		carry := byte(c.low >> 32)
		for ; c.queued > 0; c.queued-- {
			c.text = append(c.text, c.cache+carry)
			c.cache = 0xff
		}
		c.cache = byte(c.low >> 24)
	}
	c.queued++
	c.low = c.low & 0x00ffffff << 8
}

// end writes what is left, and gives all.
func (c *coder) end() []byte {
	for range 5 {
		c.shift()
	}
	return c.text
}

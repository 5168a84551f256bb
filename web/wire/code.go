package wire

import (
	"bytes"
	"errors"
)

// The classes of what is written beside symbols, which have contexts and weights of their own.
const (
	classSymbol = iota
	classIndex
	classLabel
	classCount
	classTable
	classCall
	classOffset
	classConstant
	classPlace
	classByte
	classes
)

// Which sets of weights are whose: a symbol's two steps of four bits, whether its foretelling is right, and those of
// the classes, each with the steps of a number, and with whether a guess is right.
const (
	flagOfSymbol = 256
	firstSet     = 1024
	setsOfClass  = 128
	stepSet      = 12
	flagSet      = 112
	// of how often a foretelling was right: behind a few symbols, by the length of a match, and by class
	matchTrust = 8
	firstTrust = 48
)

const (
	matchLeast = 6  // symbols, by which a place is found
	matchMost  = 31 // that are counted
	matchBits  = 18 // of the table of places by the symbols before
	shortBits  = 18 // of the table of symbols by the four before
	guessBits  = 16 // of the tables of values, for each class
	mostRight  = 15 // that a guess counts
	mostBytes  = 10 // of a LEB128 of 64 bits
	// a function takes no more than this, so that a reader that has as much need not wait for more
	mostOfFunction = 1 << 16
)

// guessed are the classes of which the value is foretold whole, in one bit where that is right, and by how many
// guesses: many offsets, constants and calls are what stood last behind the second of their contexts, and some of the
// others behind the first. It saves bytes, and the reader's time, which goes by bits.
var guessed = [classes]int{
	classLabel: 1, classCount: 1, classCall: 2, classOffset: 2, classConstant: 2,
}

// coding writes functions by the model.
type coding struct {
	*model
	recent  [6]uint32 // the symbols before, the last first
	history []int32   // all symbols
	places  []int32   // where the same symbols stood before, by their hash
	match   int       // where the longest match goes on
	length  int       // of it; 0 for none
	shorts  []guess   // of symbols, by the hash of the four before
	guesses []guess   // of values, by class and the hash of a context
	last    [classes]uint32
	before  [classes]uint32 // last
	depth   int             // of blocks
}

// guess is what stood last behind a context, and how often in a row.
type guess struct {
	value int32
	right uint8
}

// learn takes in what stands there now. What was right often is given up at the second fault.
func (g *guess) learn(v int32) {
	switch {
	case g.value == v:
		g.right = min(g.right+1, mostRight)
	case g.right > 3:
		g.right = 1
	default:
		g.value, g.right = v, 0
	}
}

// Each class has contexts of its own, found by trying on the engine: the symbol and which of its operands it is, the
// symbols before, and the last values of the class. An offset of memory is told by the offset before, since a record is
// read field by field; a function that is called by the one called before; a variable by the instruction alone.

// codeOf writes the functions of a module, with what a reader has to know first.
func codeOf(list []body) (head, text []byte, err error) {
	// Two passes: the alphabet has to be known before the first symbol is written, and it is the best for all functions
	// together.
	a, words, err := spell(list)
	if err != nil {
		return nil, nil, err
	}
	symbols := a.pairUp(words)
	c := coding{model: newModel(), places: make([]int32, 1<<matchBits), shorts: make([]guess, 1<<shortBits),
		guesses: make([]guess, 2*classes<<guessBits)}
	for i, f := range list {
		from := len(c.out.text)
		// a group is how many and of which type: the reader counts on a byte for each
		if len(f.locals) != 1+2*int(f.locals[0]) {
			return nil, nil, errors.New("a function has more variables of one type than are written in one byte")
		}
		c.locals(f.locals)
		c.depth = 1
		left := words[i]
		for _, s := range symbols[i] {
			c.symbol(s)
			place := uint32(0)
			left = c.operands(a.list, int(s), &place, left)
		}
		// the reader knows the end of a function by its depth alone, and has no length to compare with
		if c.depth != 0 || len(left) > 0 {
			return nil, nil, errors.New("a function does not end with its last block")
		}
		// 64 bytes are more than the coder holds back, and the decoder reads ahead
		if len(c.out.text)-from > mostOfFunction-64 {
			return nil, nil, errors.New("a function is too long")
		}
	}
	return append(a.encode(), appendUint(nil, len(list))...), c.out.end(), nil
}

// encode writes an alphabet: of each symbol its kind, what it stands for, and how accesses are aligned.
func (a *alphabet) encode() []byte {
	b := appendUint(nil, len(a.list))
	for _, s := range a.list {
		// 0 is an instruction with its operand, 1 one whose operand follows in the text, 2 a pair
		switch {
		case s.pair():
			b = appendUint(appendUint(append(b, 2), s.first), s.second)
		case s.open || operands[s.op] == noOperand || operands[s.op] == memoryIndex:
			b = append(b, 1, s.op)
		case operands[s.op] == constant:
			b = appendInt(append(b, 0, s.op), s.value)
		default:
			b = appendUint(append(b, 0, s.op), int(s.value))
		}
	}
	return append(b, a.align[opLoad:opLastStore+1]...)
}

// locals writes the variables that a function declares: how many groups, and of each a number and a type.
func (c *coding) locals(text []byte) {
	// behind the first ten bytes the place tells nothing more
	before, first := uint32(0), uint32(0)
	for i, x := range text {
		place := uint32(min(i, 9))
		c.byte(x, [contexts]uint32{place, mix(place, before), mix(before, first), c.last[classByte]})
		before, first = uint32(x), uint32(text[0])
	}
	c.last[classByte] = uint32(text[0])
}

// symbol writes one, by the symbols before it and where the longest match tells.
func (c *coding) symbol(s int32) {
	h := mix(mix(1, c.recent[0]), c.recent[1])
	c.hashes[0], c.hashes[1] = mix(0, c.recent[0]), h
	h = mix(h, c.recent[2])
	c.hashes[2] = h
	h = mix(h, c.recent[3])
	// without the one between: where one thing is exchanged for another, the rest goes on as before
	c.hashes[3] = mix(mix(3, c.recent[0]), c.recent[2])
	c.find(mix(mix(h, c.recent[4]), c.recent[5]) >> (32 - matchBits))
	g := &c.shorts[h>>(32-shortBits)]
	told, trust := g.value, min(int(g.right), matchTrust-1)
	if c.length > 0 {
		told, trust = c.history[c.match], matchTrust+c.length
	}
	// One bit says whether the foretelling is right, as it is of nine symbols in ten; else two steps of four bits
	// follow. What was foretold need not be taken out of what can follow: the model learns that it is never there.
	c.below(uint32(told) | 0x100)
	c.bit(truth(told == s), 1, flagOfSymbol+trust, trust)
	if told != s {
		c.below(0)
		high := c.bits(int(s>>4), 4, 0)
		c.below(uint32(high))
		c.bits(int(s&15), 4, high<<4)
	}
	g.learn(s)
	if c.length > 0 {
		c.match++
		c.length = min(c.length+1, matchMost)
		if s != told {
			c.length = 0
		}
	}
	c.history = append(c.history, s)
	copy(c.recent[1:], c.recent[:])
	c.recent[0] = uint32(s)
}

// find looks where the same symbols stood before, by their hash. A hash may name a place with other symbols before it,
// so that they are compared. Of several places the last one counts, which is near in the text and so likely of the same
// package.
func (c *coding) find(h uint32) {
	n := len(c.history)
	if at := int(c.places[h]); c.length == 0 && at > 0 {
		for c.length < matchMost && c.length < at && c.history[at-1-c.length] == c.history[n-1-c.length] {
			c.length++
		}
		c.match = at
		if c.length < matchLeast {
			c.length = 0
		}
	}
	c.places[h] = int32(n)
}

// operands writes the values of a symbol that is written, of the instructions that are left.
func (c *coding) operands(of []symbol, s int, place *uint32, left []word) []word {
	// a pair may hold pairs; the instructions come in their order all the same
	if pair := of[s]; pair.pair() {
		return c.operands(of, pair.second, place, c.operands(of, pair.first, place, left))
	}
	in := left[0].in
	if of[s].open {
		c.operand(in, *place)
		*place++
	}
	switch in.op {
	case opBlock, opLoop, opIf:
		c.depth++
	case end:
		c.depth--
	}
	return left[1:]
}

// operand writes what stands behind an instruction, of which there are so many before it in the symbol.
func (c *coding) operand(in instruction, place uint32) {
	op, depth := uint32(in.op), uint32(c.depth)
	site := mix(c.recent[0], place)
	near := mix(site, c.recent[1])
	far := mix(mix(near, c.recent[2]), c.recent[3])
	// site tells the symbol and which of its operands this is, near and far what stood before it
	switch operands[in.op] {
	case index:
		c.leb(classIndex, appendUint(nil, int(in.value)), uint32(in.value),
			[contexts]uint32{site, near, far, mix(mix(op, c.last[classIndex]), c.before[classIndex])})
	case label:
		// a label counts blocks outwards; what stays the same from one branch to the next is the block, so that depths
		// are foretold by the depth of the last target
		last := c.last[classLabel]
		c.leb(classLabel, appendUint(nil, int(in.value)), depth-uint32(in.value),
			[contexts]uint32{depth, mix(depth, near), last - depth, mix(depth, op)})
	case labels:
		c.table(in.table, site, depth)
	case function:
		last := c.last[classCall]
		c.leb(classCall, appendUint(nil, int(in.value)), uint32(in.value),
			[contexts]uint32{near, far, last, mix(last, c.before[classCall])})
	case indirect:
		c.leb(classCount, appendUint(nil, int(in.value)), uint32(in.value), [contexts]uint32{site, near, 0, op})
	case access:
		last := c.last[classOffset]
		c.leb(classOffset, appendUint(nil, int(in.value)), uint32(in.value),
			[contexts]uint32{site, far, mix(site, last), mix(mix(op, last), c.before[classOffset])})
	// a constant of a class by its 32 low bits: the reader's numbers have no more
	case constant:
		c.leb(classConstant, appendInt(nil, in.value), uint32(in.value),
			[contexts]uint32{site, near, far, mix(mix(op, c.last[classConstant]), c.last[classOffset])})
	case blockType, prefixed:
		c.byte(byte(in.value), [contexts]uint32{site, near, far, op})
	case fixed4, fixed8:
		// floating numbers repeat whole: a byte is told by its place and the one before
		before := uint32(0)
		for i, x := range in.text[1:] {
			c.byte(x, [contexts]uint32{mix(op, uint32(i)), mix(mix(op, uint32(i)), before), site, before})
			before = uint32(x)
		}
	}
	// written behind the constant that it is for the machine: see place
	if in.op == anyPlace {
		c.leb(classPlace, appendInt(nil, in.value), uint32(in.value),
			[contexts]uint32{site, mix(site, c.last[classPlace]), near, far})
	}
}

// table writes labels by how each differs from the one before.
func (c *coding) table(list []int, site, depth uint32) {
	c.leb(classCount, appendUint(nil, len(list)-1), uint32(len(list)-1), [contexts]uint32{site, depth, 1, 1})
	last := 0
	// a switch over consecutive cases has labels that grow by one, or stay where cases share their code
	c.last[classTable], c.before[classTable] = 0, 0
	for i, v := range list {
		where := uint32(1) // within
		if i == 0 {
			where = 0
		} else if i == len(list)-1 {
			where = 2
		}
		d, was := uint32(v-last), c.last[classTable]
		h := [contexts]uint32{where, mix(was, where), mix(mix(was, c.before[classTable]), where),
			mix(uint32(last), where)}
		// the next label is most often the same or one more: two bits for these
		c.hashes = h
		step := min(d, 3)
		c.number(int(step), 2, firstSet+classTable*setsOfClass+stepSet, 0)
		if step == 3 {
			c.leb(classTable, appendInt(nil, int64(v-last)), d, h)
		} else {
			c.before[classTable], c.last[classTable] = was, d
		}
		last = v
	}
}

// leb writes the bytes of a LEB128: how many, and from the last on seven bits of each. The value is what later ones of
// its class are told by.
func (c *coding) leb(class int, text []byte, value uint32, h [contexts]uint32) {
	for i := range h {
		c.hashes[i] = mix(h[i], uint32(class))
	}
	set := firstSet + class*setsOfClass
	told, first := false, int32(0)
	for k := range guessed[class] {
		g := &c.guesses[(k*classes+class)<<guessBits|int(c.hashes[1-k]>>(32-guessBits))]
		// what the first said and was not is not asked again
		if !told && (k == 0 || g.value != first) {
			first = g.value
			// a constant of 64 bits is told apart from one with the same low half
			told = g.value == int32(value) &&
				(class != classConstant || bytes.Equal(text, appendInt(nil, int64(g.value))))
			c.below(uint32(g.value) | 1<<31 ^ uint32(k)<<30)
			c.bit(truth(told), 1, set+flagSet+int(g.right), firstTrust+class*(mostRight+1)+int(g.right))
		}
		g.learn(int32(value))
	}
	if told {
		c.before[class], c.last[class] = c.last[class], value
		return
	}
	// The length first, by whether there is one more byte. Then the top byte, which decides most and is foretold best;
	// those below have what stands above as their prefix.
	c.below(0)
	for n, more := 1, 1; more > 0 && n < mostBytes; n++ {
		more = min(1, len(text)-n)
		// each at a node of its own, as if they were the bits of one step
		c.bit(more, n, set+n, -1)
	}
	prefix := uint32(len(text))
	for i := len(text) - 1; i >= 0; i-- {
		v := int(text[i] & 0x7f)
		c.number(v, 7, set+16+32*min(len(text)-1-i, 2), prefix)
		prefix = mix(prefix, uint32(v))
	}
	c.before[class], c.last[class] = c.last[class], value
}

// truth is a bit.
func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (c *coding) byte(x byte, h [contexts]uint32) {
	for i := range h {
		c.hashes[i] = mix(h[i], classByte)
	}
	c.number(int(x), 8, firstSet+classByte*setsOfClass, 0)
}

package wire

import (
	"errors"
	"fmt"
	"slices"
)

// Functions are written as symbols: an instruction whose operand is written behind it, one whose operand belongs to the
// symbol, or two symbols that often stand together. Go writes many instructions in the same few orders, so that a
// symbol stands for three of them on average.

// Symbols of no instruction: the counter of the place in a function that Go writes at each call, one more than the last
// or another. It is a constant: 4096 and the number of the function, times 65 536, and the place.
//
// Source: cmd/link/internal/wasm/asm.go: funcValueOffset and PC_B.
const (
	nextPlace = 0x16 // numbers of no instruction
	anyPlace  = 0x17

	firstFunction = 0x1000
)

// symbol is what one stands for: an instruction, open where its operand follows, or two symbols.
type symbol struct {
	op            byte
	open          bool
	value         int64 // of an instruction that is not open
	first, second int   // symbols; 0 and 0 for an instruction
}

// pair says whether it stands for two others.
func (s symbol) pair() bool { return s.first != 0 || s.second != 0 }

// word is an instruction as it is written, with the value that follows where its symbol is open.
type word struct {
	symbol int
	in     instruction
}

const (
	symbolBits = 8
	mostFixed  = 24 // symbols with their operand
	separator  = -1 // between functions
)

// There are as many as a byte tells. More of them would make functions shorter, but each would be seen less often and
// tell less of the next. An instruction with its operand is worth a symbol where it is very common, as local.get 0 is;
// with 90 such symbols there is less room for pairs, and the engine takes 15 kB more.

// alphabet are the symbols of a module.
type alphabet struct {
	list  []symbol
	align [256]byte // that each access has
}

// key is an instruction with its operand.
type key struct {
	op    byte
	value int64
}

// isOpen says whether a value has to be written behind an instruction.
func isOpen(op byte) bool {
	switch operands[op] {
	case noOperand, memoryIndex:
		return op == anyPlace
	}
	return true
}

// mayBeFixed says whether an instruction is worth a symbol with its operand. Others have operands that are seldom the
// same twice, or, as the counter of a place, mean another thing each time.
func mayBeFixed(op byte) bool {
	switch operands[op] {
	case index, constant, blockType:
		return true
	}
	return false
}

// place gives an instruction that writes the counter as one of the two symbols for it.
func place(in instruction, function int, last *int64) instruction {
	if in.op != opI64 || in.value>>16 != int64(firstFunction+function) {
		return in
	}
	// the places in a function mostly count up by one, in the order in which they stand
	d := in.value&0xffff - *last
	*last += d
	if in.op, in.value = anyPlace, d; d == 1 {
		in.op = nextPlace
	}
	return in
}

// spell makes an alphabet for functions, and the symbols of each of them.
func spell(list []body) (a alphabet, words [][]word, err error) {
	// what an access to memory is aligned by follows from its instruction in what Go writes: it goes with the alphabet
	counts := map[key]int{}
	used, aligned := [256]bool{}, [256]bool{}
	for i, f := range list {
		var of []word
		last := int64(0)
		r := reader{b: f.code}
		for r.at < len(f.code) {
			in := r.next()
			if r.err != nil {
				return a, nil, r.err
			}
			if in.op == nextPlace || in.op == anyPlace {
				return a, nil, fmt.Errorf("an instruction has the number %#x, which stands for another thing", in.op)
			}
			if operands[in.op] == access {
				if aligned[in.op] && a.align[in.op] != in.align {
					return a, nil, errors.New("an access to memory is aligned otherwise than others of its kind")
				}
				a.align[in.op], aligned[in.op] = in.align, true
			}
			in = place(in, i, &last)
			used[in.op] = true
			if mayBeFixed(in.op) {
				counts[key{in.op, in.value}]++
			}
			of = append(of, word{in: in})
		}
		words = append(words, of)
	}
	// the instructions by their numbers, then the fixed ones by how often they stand there, then pairs: the same module
	// gives the same alphabet
	open := [256]int{}
	for op := range 256 {
		if used[op] {
			open[op] = len(a.list)
			a.list = append(a.list, symbol{op: byte(op), open: isOpen(byte(op))})
		}
	}
	keys := make([]key, 0, len(counts))
	for k := range counts {
		keys = append(keys, k)
	}
	// equal counts are ordered by what they count, or the order would be that of a map
	slices.SortFunc(keys, func(x, y key) int {
		if c := counts[y] - counts[x]; c != 0 {
			return c
		}
		if c := int(x.op) - int(y.op); c != 0 {
			return c
		}
		return int(x.value - y.value)
	})
	fixed := map[key]int{}
	for _, k := range keys[:min(mostFixed, len(keys))] {
		fixed[k] = len(a.list)
		a.list = append(a.list, symbol{op: k.op, value: k.value})
	}
	for _, of := range words {
		for i := range of {
			in := &of[i].in
			if s, ok := fixed[key{in.op, in.value}]; ok && mayBeFixed(in.op) {
				of[i].symbol = s
			} else {
				of[i].symbol = open[in.op]
			}
		}
	}
	return a, words, nil
}

// pairUp adds the most frequent pairs of symbols to an alphabet until it is full, and gives the functions in them.
func (a *alphabet) pairUp(words [][]word) [][]int32 {
	var text []int32
	for _, of := range words {
		for _, w := range of {
			text = append(text, int32(w.symbol))
		}
		text = append(text, separator)
	}
	const most = 1 << symbolBits
	// Byte pair encoding (P. Gage, A New Algorithm for Data Compression, 1994): the pair that stands there most often
	// becomes a symbol, and so on. Pairs do not cross from one function to the next.
	counts := make([]int32, most*most)
	for len(a.list) < most {
		clear(counts)
		best := int32(0)
		for i := 0; i+1 < len(text); i++ {
			x, y := text[i], text[i+1]
			if x < 0 || y < 0 {
				continue
			}
			n := &counts[int(x)*most+int(y)]
			*n++
			if *n > best {
				best = *n
			}
			// counted is what the loop below would replace, from the left
			if x == y && i+2 < len(text) && text[i+2] == x {
				i++ // of three alike only two make a pair
			}
		}
		if best < 2 {
			break
		}
		// the first of equal counts, so that a writer gives the same bytes each time
		found := slices.Index(counts, best)
		x, y := int32(found/most), int32(found%most)
		pair, n := int32(len(a.list)), 0
		for i := 0; i < len(text); i++ {
			if text[i] == x && i+1 < len(text) && text[i+1] == y {
				text[n] = pair
				i++
			} else {
				text[n] = text[i]
			}
			n++
		}
		text = text[:n]
		a.list = append(a.list, symbol{first: int(x), second: int(y)})
	}
	var out [][]int32
	for len(text) > 0 {
		// the separators have done their work: who reads knows the end of a function by its last block
		n := slices.Index(text, separator)
		out = append(out, text[:n])
		text = text[n+1:]
	}
	return out
}

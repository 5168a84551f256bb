package wire

import (
	"fmt"
	"slices"
)

// Numbers of instructions that are looked at. Source: WebAssembly Core Specification, 5.4.
const (
	opBlock        = 0x02
	opLoop         = 0x03
	opIf           = 0x04
	opBr           = 0x0c
	opBrIf         = 0x0d
	opBrTable      = 0x0e
	opCall         = 0x10
	opCallIndirect = 0x11
	opLocalGet     = 0x20
	opGlobalSet    = 0x24
	opLoad         = 0x28 // the first of memory
	opStore        = 0x36 // the first that writes
	opLastStore    = 0x3e
	opMemorySize   = 0x3f
	opMemoryGrow   = 0x40
	opI32          = 0x41
	opI64          = 0x42
	opF32          = 0x43
	opF64          = 0x44
	opPrefix       = 0xfc
	subCopy        = 10
	subFill        = 11
)

// operand is what stands behind an instruction.
type operand byte

const (
	noOperand   operand = iota
	blockType           // one byte
	index               // of a local or global variable
	label               // how many blocks outwards
	labels              // a table of them
	function            // that is called
	indirect            // type and table of a call
	access              // alignment and offset of memory
	constant            // a signed number
	fixed4              // four bytes of a floating number
	fixed8              // eight
	memoryIndex         // one byte, zero
	prefixed            // the second byte of an instruction of two, with memories behind
)

// An instruction that Go does not write, of vectors or exceptions say, would be taken for one without operands. What
// follows would then be read wrongly, and a function not end with its last block: codeOf refuses such a module.
// operands are those of all instructions that Go writes; the others have none.
var operands = func() (of [256]operand) {
	for op := opBlock; op <= opIf; op++ {
		of[op] = blockType
	}
	of[opBr], of[opBrIf], of[opBrTable] = label, label, labels
	of[opCall], of[opCallIndirect] = function, indirect
	for op := opLocalGet; op <= opGlobalSet; op++ {
		of[op] = index
	}
	for op := opLoad; op <= opLastStore; op++ {
		of[op] = access
	}
	of[opMemorySize], of[opMemoryGrow] = memoryIndex, memoryIndex
	of[opI32], of[opI64], of[opF32], of[opF64] = constant, constant, fixed4, fixed8
	of[opPrefix] = prefixed
	return of
}()

// instruction is one, with what stands behind it.
type instruction struct {
	op, align byte
	value     int64 // of its operand
	text      []byte
	table     []int // of labels; the last is the default
}

// next reads an instruction.
func (r *reader) next() (in instruction) {
	// the text is what stands in the file: a number may have been written longer than it need be
	from := r.at
	in.op = r.byte()
	switch operands[in.op] {
	case blockType:
		in.value = int64(r.byte())
	case index, label, function:
		in.value = int64(r.uint())
	case labels:
		for n := r.uint() + 1; n > 0 && r.err == nil; n-- {
			in.table = append(in.table, r.uint())
		}
	case indirect:
		in.value = int64(r.uint())
		if r.uint() != 0 {
			r.err = fmt.Errorf("a call goes through a table that Go does not make")
		}
	case access:
		in.align = r.byte()
		in.value = int64(r.uint())
	case constant:
		in.value = r.int()
	case fixed4:
		r.bytes(4)
	case fixed8:
		r.bytes(8)
	case memoryIndex:
		r.byte()
	case prefixed:
		in.value = int64(r.byte())
		switch in.value {
		// memory.copy names two memories and memory.fill one; the conversions beside them name none
		case subCopy:
			r.bytes(2)
		case subFill:
			r.byte()
		}
	}
	if r.err == nil {
		in.text = r.b[from:r.at]
	}
	return in
}

// body is one function: the variables that it declares, as they stand in the file, and its instructions.
type body struct {
	locals, code []byte
}

// bodies are the functions of a code section.
func bodies(section []byte) (list []body, err error) {
	r := reader{b: section}
	for n := r.uint(); n > 0 && r.err == nil; n-- {
		f := reader{b: r.bytes(r.uint())}
		// groups of variables of one type; of them the code keeps no other count
		for groups := f.uint(); groups > 0 && f.err == nil; groups-- {
			f.uint()
			f.byte()
		}
		if f.err != nil {
			return nil, f.err
		}
		list = append(list, body{f.b[:f.at], f.b[f.at:]})
	}
	return list, r.err
}

// shortCalls writes the numbers of functions that are called without the zeros that the linker leaves for them.
func shortCalls(section []byte) ([]byte, error) {
	list, err := bodies(section)
	if err != nil {
		return nil, err
	}
	out := appendUint(nil, len(list))
	for _, f := range list {
		r, text := reader{b: f.code}, slices.Clone(f.locals)
		for r.at < len(f.code) {
			in := r.next()
			if r.err != nil {
				return nil, r.err
			}
			// the linker leaves room for any number, five bytes, since it writes the code before it numbers functions
			if in.op == opCall {
				in.text = appendUint([]byte{opCall}, int(in.value))
			}
			text = append(text, in.text...)
		}
		out = append(appendUint(out, len(text)), text...)
	}
	return out, nil
}

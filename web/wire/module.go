package wire

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
)

// The sections of a module that are looked into, by their number.
const (
	custom      = 0
	elemSection = 9
	codeSection = 10
	dataSection = 11
)

var header = []byte("\x00asm\x01\x00\x00\x00")

// section is one of a module's, as it stands in the file.
type section struct {
	kind byte
	body []byte
}

// Go writes the sections in their order and each once; all but the four that are named here go through unread. The
// start of a module, its imports and exports are a few kB.

// segment is a stretch of memory that a module begins with.
type segment struct {
	at   int
	text []byte
}

// errShort is a file that ends too early. Where it is met the file is damaged, or of a form that is not known.
var errShort = errors.New("it ends within a value")

// reader reads the values of the binary format one after the other. After a fault it gives zeros; who reads asks for
// the fault at the end.
type reader struct {
	b   []byte
	at  int
	err error
}

func (r *reader) byte() byte {
	if r.at >= len(r.b) {
		r.err, r.at = errShort, len(r.b)+1
		return 0
	}
	r.at++
	return r.b[r.at-1]
}

// bytes gives the next n of them.
func (r *reader) bytes(n int) []byte {
	if n < 0 || r.at > len(r.b) || n > len(r.b)-r.at {
		r.err, r.at = errShort, len(r.b)+1
		return nil
	}
	r.at += n
	return r.b[r.at-n : r.at]
}

// uint reads an unsigned LEB128.
func (r *reader) uint() int {
	// up to 63 bits: lengths and numbers in a module have 32, and what is longer is damaged
	v := 0
	for shift := 0; shift < 63; shift += 7 {
		x := r.byte()
		v |= int(x&0x7f) << shift
		if x < 0x80 {
			return v
		}
	}
	r.err = errors.New("a number is too long")
	return 0
}

// int reads a signed LEB128.
func (r *reader) int() int64 {
	// the sign is in the last byte's second highest bit, and fills what is above it
	v := int64(0)
	for shift := 0; shift < 70; shift += 7 {
		x := r.byte()
		v |= int64(x&0x7f) << shift
		if x < 0x80 {
			// the last of ten bytes has one bit of value, and its sign is in place
			if shift < 57 && x&0x40 != 0 {
				v |= -1 << (shift + 7)
			}
			return v
		}
	}
	r.err = errors.New("a number is too long")
	return 0
}

func appendUint(b []byte, v int) []byte {
	for ; v > 0x7f; v >>= 7 {
		b = append(b, byte(v)|0x80)
	}
	return append(b, byte(v))
}

func appendInt(b []byte, v int64) []byte {
	for {
		x := byte(v) & 0x7f
		v >>= 7
		if v == 0 && x&0x40 == 0 || v == -1 && x&0x40 != 0 {
			return append(b, x)
		}
		b = append(b, x|0x80)
	}
}

// sections takes a module apart.
func sections(file []byte) (list []section, err error) {
	if !bytes.HasPrefix(file, header) {
		return nil, errors.New("it is no WebAssembly module of version 1")
	}
	r := reader{b: file, at: len(header)}
	for r.at < len(file) && r.err == nil {
		kind := r.byte()
		list = append(list, section{kind, r.bytes(r.uint())})
	}
	return list, r.err
}

// join puts a module together.
func join(list []section) []byte {
	file := slices.Clone(header)
	for _, s := range list {
		file = appendUint(append(file, s.kind), len(s.body))
		file = append(file, s.body...)
	}
	return file
}

// i32Const and end are the only instructions that say where a segment lies, as Go writes them.
const (
	i32Const = 0x41
	end      = 0x0b
)

// segments are those of a data section.
func segments(body []byte) (list []segment, err error) {
	r := reader{b: body}
	for n := r.uint(); n > 0 && r.err == nil; n-- {
		// passive segments, and those of other memories, have other flags; Go writes none
		if flags, op := r.byte(), r.byte(); flags != 0 || op != i32Const {
			return nil, errors.New("a data segment is not placed by a constant")
		}
		at := int(r.int())
		if r.byte() != end || at < 0 {
			return nil, errors.New("a data segment is not placed by a constant")
		}
		list = append(list, segment{at, r.bytes(r.uint())})
	}
	return list, r.err
}

func dataBody(list []segment) []byte {
	b := appendUint(nil, len(list))
	for _, s := range list {
		b = append(appendInt(append(b, 0, i32Const), int64(s.at)), end)
		b = append(appendUint(b, len(s.text)), s.text...)
	}
	return b
}

// memory is what a module begins with, from address 0 up to the end of its last segment.
func memory(list []segment) ([]byte, error) {
	// a damaged address must not ask for more memory than there is
	const most = 1 << 28
	top := 0
	for _, s := range list {
		top = max(top, s.at+len(s.text))
	}
	if top > most {
		return nil, fmt.Errorf("its data goes up to %d", top)
	}
	// segments of Go do not overlap; where they did, the later one would stand, as in the machine
	m := make([]byte, top)
	for _, s := range list {
		copy(m[s.at:], s.text)
	}
	return m, nil
}

// gap is the number of zeros that are worth a segment of their own: memory is zero by itself.
const gap = 256

// segmented cuts memory into few segments, at long stretches of zeros.
func segmented(m []byte) (list []segment) {
	// The linker writes a segment for each short stretch without zeros, 100 000 of them, each with a head that says
	// where and how long. Zeros between two stretches cost less, since they are packed.
	zeros := make([]byte, gap)
	for at := 0; at < len(m); {
		if m[at] == 0 {
			at++
			continue
		}
		n := bytes.Index(m[at:], zeros)
		if n < 0 {
			n = len(bytes.TrimRight(m[at:], "\x00"))
		}
		list = append(list, segment{at, m[at : at+n]})
		at += n
	}
	return list
}

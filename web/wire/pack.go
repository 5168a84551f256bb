package wire

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/kjk/lzma"
)

// packedHead begins what Pack writes; its last byte is the version of the form.
var packedHead = []byte("rwp\x01")

// Pack writes a slim module for the line: some lengths and the alphabet; the functions by the model; then, as one
// stream of LZMA, the other sections. The functions come first, since they take longest to read, so that a reader
// reads them as they arrive. It takes some seconds.
func Pack(slim []byte) ([]byte, error) {
	packed, err := packedOf(slim)
	if err != nil {
		return nil, fmt.Errorf("packing the engine for the line: %w", err)
	}
	return packed, nil
}

func packedOf(slim []byte) ([]byte, error) {
	// Refused is what the reader could not put together again to the bit: other sections behind the data, or numbers
	// that are longer than they need be. Slim writes none of it.
	all, err := sections(slim)
	if err != nil {
		return nil, err
	}
	n := len(all)
	if n < 2 || all[n-2].kind != codeSection || all[n-1].kind != dataSection {
		return nil, errors.New("its last sections are not those of code and data")
	}
	// the sections before, each with its kind; the table of functions has one of no section
	rest := appendUint(nil, n-2)
	for _, s := range all[:n-2] {
		// a table of another shape goes as it stands
		if elem, ok := encodeElem(s.body); ok && s.kind == elemSection {
			s = section{orderedElem, elem}
		}
		rest = append(appendUint(append(rest, s.kind), len(s.body)), s.body...)
	}
	data, err := encodeData(all[n-1].body)
	if err != nil {
		return nil, err
	}
	rest = append(rest, data...)
	list, err := bodies(all[n-2].body)
	if err != nil {
		return nil, err
	}
	head, code, err := codeOf(list)
	if err != nil {
		return nil, err
	}
	// at the highest level it takes some seconds, and gives what xz gives
	var b bytes.Buffer
	w := lzma.NewWriterSizeLevel(&b, int64(len(rest)), 9)
	_, err = w.Write(rest)
	if err = errors.Join(err, w.Close()); err != nil {
		return nil, err
	}
	// all that a reader has to make room for stands in front: the module, its code, the packed code, the rest
	out := appendUint(bytes.Clone(packedHead), len(slim))
	out = appendUint(appendUint(appendUint(out, len(all[n-2].body)), len(code)), len(rest))
	out = append(append(out, head...), code...)
	return append(out, b.Bytes()...), nil
}

// orderedElem is the kind of a table of functions in their order.
const orderedElem = 0x80 | elemSection

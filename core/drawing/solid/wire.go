package solid

import (
	"encoding/binary"
	"strconv"
)

// wireVersion is that of the form below; web/page/mesh.ts reads no other.
const wireVersion = 1

// Encode writes a mesh for the page: numbers as varints, signed ones zigzag, as package binary writes them.
//
//	version; ends and draughts, mm; 1 where it floats, else 0
//	parts:   their number; of each its colour as red, green, blue, and its finish: four bytes
//	patches: their number; of each part, rows, columns, shape, then the places
//	lines:   their number; of each part, number of places, then the places
//	the waterline: number of places, then the places
//
// A place of a patch is what it differs from a guess: the corner that makes a parallelogram with its three neighbours
// before it, where there are three, else the neighbour. A place of a line differs from the one before.
func (m *Mesh) Encode() []byte {
	// No count of bytes before it: the page has the whole text, and a short one is found at its end.
	b := []byte{wireVersion}
	// Most differences are below 64 mm, and so are one byte.
	signed := func(v int32) { b = binary.AppendVarint(b, int64(v)) }
	count := func(n int) { b = binary.AppendUvarint(b, uint64(n)) }
	place := func(p, guess Place) {
		for i := range p {
			signed(p[i] - guess[i])
		}
	}
	for _, v := range []int32{m.Aft, m.Fore, m.DraftAft, m.DraftFore} {
		signed(v)
	}
	if m.Afloat {
		b = append(b, 1)
	} else {
		b = append(b, 0)
	}
	// Names and slots are not here: the page has them in the list of parts, in the language of the reader.
	count(len(m.Parts))
	for _, p := range m.Parts {
		v, _ := strconv.ParseUint(p.Colour[1:], 16, 32) // package drawing has checked it
		b = append(b, byte(v>>16), byte(v>>8), byte(v), byte(p.Finish))
	}
	count(len(m.Patches))
	for i := range m.Patches {
		p := &m.Patches[i]
		for _, n := range []int{p.Part, p.Rows, p.Cols, int(p.shape)} {
			count(n)
		}
		for k := range p.At {
			place(p.At[k], p.guess(k))
		}
	}
	line := func(at []Place) {
		count(len(at))
		var before Place
		for _, p := range at {
			place(p, before)
			before = p
		}
	}
	count(len(m.Lines))
	for _, l := range m.Lines {
		count(l.Part)
		line(l.At)
	}
	line(m.Waterline)
	return b
}

// guess is what the place k is likely to be, from those before it.
func (p *Patch) guess(k int) Place {
	row, col := k/p.Cols, k%p.Cols
	switch {
	case row > 0 && col > 0:
		a, b, c := p.At[k-1], p.At[k-p.Cols], p.At[k-p.Cols-1]
		return Place{a[0] + b[0] - c[0], a[1] + b[1] - c[1], a[2] + b[2] - c[2]}
	case row > 0:
		return p.At[k-p.Cols]
	case col > 0:
		return p.At[k-1]
	}
	return Place{}
}

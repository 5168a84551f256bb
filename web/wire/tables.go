package wire

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// KnownGo is the series of Go whose tables this package knows.
const KnownGo = "go1.26"

// Known says whether a version of Go, as "go env GOVERSION" names it, is of that series. Patches of a series leave the
// tables of the runtime as they are.
func Known(version string) bool {
	return version == KnownGo || strings.HasPrefix(version, KnownGo+".")
}

// Slim gives a module that does what the one given does, but for the traces of a panic, which name no function: without
// custom sections, with what only traces read emptied, calls written shortly, and data in few segments. The module has
// to come from the linker of a known Go, by version, without its symbol table (-ldflags="-s -w").
func Slim(file []byte, version string) ([]byte, error) {
	slim, err := slimmed(file, version)
	if err != nil {
		return nil, fmt.Errorf("making the engine small: %w", err)
	}
	return slim, nil
}

func slimmed(file []byte, version string) ([]byte, error) {
	if !Known(version) {
		return nil, fmt.Errorf("it comes from %s, and only the tables of %s are known", version, KnownGo)
	}
	all, err := sections(file)
	if err != nil {
		return nil, err
	}
	// custom sections hold names and producers, which nothing that runs reads
	kept := all[:0]
	for _, s := range all {
		switch s.kind {
		case custom:
			continue
		case codeSection:
			s.body, err = shortCalls(s.body)
		case dataSection:
			s.body, err = slimData(s.body)
		}
		if err != nil {
			return nil, err
		}
		kept = append(kept, s)
	}
	return join(kept), nil
}

func slimData(body []byte) ([]byte, error) {
	list, err := segments(body)
	if err != nil {
		return nil, err
	}
	m, t, err := tablesIn(list)
	if err != nil {
		return nil, err
	}
	if err := t.empty(); err != nil {
		return nil, err
	}
	return dataBody(segmented(m)), nil
}

// tablesIn puts the segments into memory and finds the tables there.
func tablesIn(list []segment) (m []byte, t tables, err error) {
	if m, err = memory(list); err != nil {
		return nil, t, err
	}
	t, err = findTables(m)
	return m, t, err
}

// tables are those by which the runtime knows its functions, in memory.
//
// Source: runtime/symtab.go, pcHeader and moduledata; internal/abi/symtab.go.
type tables struct {
	m []byte
	// addresses: of the header, and of names, units, files, tables by counter, and records of functions
	at, names, units, files, pcs, funcs int
	count                               int // of functions
	// what the records of functions refer to by their last columns, and where that ends
	data, dataEnd int
	finder        int // finds a function by its counter: regular, but for the functions of the linker
	rodata        int
}

// marker begins the header: its version, two zeros, instructions of one byte, pointers of eight.
var marker = []byte("\xf1\xff\xff\xff\x00\x00\x01\x08")

const headerSize = 72

func findTables(m []byte) (t tables, err error) {
	strange := errors.New("the tables of its functions are not where they are expected")
	t.m, t.at = m, bytes.Index(m, marker)
	if t.at < 0 || t.at+headerSize > len(m) || bytes.Contains(m[t.at+1:], marker) {
		return t, strange
	}
	t.count = t.word(t.at + 8)
	t.names, t.units, t.files = t.at+t.word(t.at+32), t.at+t.word(t.at+40), t.at+t.word(t.at+48)
	t.pcs, t.funcs = t.at+t.word(t.at+56), t.at+t.word(t.at+64)
	// moduledata begins with the address of the header, and the names behind it
	var first [16]byte
	binary.LittleEndian.PutUint64(first[:], uint64(t.at))
	binary.LittleEndian.PutUint64(first[8:], uint64(t.names))
	// two addresses in a row that are right are not met by chance; a second such place is refused
	module := bytes.Index(m, first[:])
	// 44 words of it are looked at; each has to be what its neighbours say, or this is another Go
	const fields = 44
	if module < 0 || module+8*fields > len(m) || bytes.Contains(m[module+1:], first[:]) {
		return t, strange
	}
	field := func(i int) int { return t.word(module + 8*i) }
	// by their place in moduledata: units, files, tables by counter, records, each a slice of three words
	if field(4) != t.units || field(7) != t.files || field(10) != t.pcs || field(13) != t.funcs ||
		field(16) != t.funcs || field(17) != t.count+1 {
		return t, strange
	}
	t.finder, t.rodata, t.data, t.dataEnd = field(19), field(39), field(40), field(19)
	// what is emptied lies between two of these, and nothing else does
	inOrder := []int{t.at, t.names, t.units, t.files, t.pcs, t.funcs, t.funcs + 8*t.count, t.data, t.dataEnd, len(m)}
	if !slices.IsSorted(inOrder) || t.count == 0 {
		return t, strange
	}
	return t, nil
}

// word reads an unsigned number of 64 bits; beyond what fits it gives a number that no place has.
func (t *tables) word(at int) int {
	return int(binary.LittleEndian.Uint64(t.m[at:]) & (1<<40 - 1))
}

func (t *tables) half(at int) uint32       { return binary.LittleEndian.Uint32(t.m[at:]) }
func (t *tables) setHalf(at int, v uint32) { binary.LittleEndian.PutUint32(t.m[at:], v) }

// Where the fields of a function's record lie. Behind the fields come the tables by counter (PCDATA) and the data
// (FUNCDATA), as many as it says.
//
// Source: runtime/runtime2.go, _func.
const (
	fieldName     = 4
	fieldSP       = 16
	fieldFile     = 20
	fieldLine     = 24
	fieldTables   = 28 // how many
	fieldUnit     = 32
	fieldFrom     = 36 // the line on which it begins
	fieldData     = 43 // how many, one byte
	fieldsOfFunc  = 44
	none          = 0xffffffff
	mostPerRecord = 32
)

// What only traces and preemption by signals read, which there is none of under js/wasm, of tables by counter and of
// data. Stack maps, stack objects, deferred calls and the bounds of panics stay.
//
// Source: internal/abi/funcdata.go.
var (
	tracedTables = [mostPerRecord]bool{0: true, 2: true, 3: true} // unsafe points, inlined calls, living arguments
	tracedData   = [mostPerRecord]bool{3: true, 5: true, 6: true} // inlined calls, arguments, living arguments
)

// stackObjects is the kind of data that refers to other places.
const stackObjects = 2

// record is where the record of a function lies, with how many tables and data it has.
func (t *tables) record(i int) (at, tables, data int, err error) {
	at = t.funcs + int(t.half(t.funcs+8*i+4))
	if at+fieldsOfFunc > t.data {
		return 0, 0, 0, errors.New("the record of a function lies outside of the table")
	}
	tables, data = int(t.half(at+fieldTables)), int(t.m[at+fieldData])
	if tables > mostPerRecord || data > mostPerRecord || at+fieldsOfFunc+4*(tables+data) > t.data {
		return 0, 0, 0, errors.New("the record of a function is longer than any is")
	}
	return at, tables, data, nil
}

// empty puts zeros in the place of what only traces read: names, files, lines, what was inlined. Tables by counter are
// written anew in the order of their first use, so that the numbers that refer to them grow evenly.
func (t *tables) empty() error {
	// offset 0 stands for no table, so that none begins there
	fresh := pcTables{old: t.m[t.pcs:t.funcs], place: map[uint32]uint32{0: 0}, text: []byte{0}}
	used, unused := map[uint32]bool{}, map[uint32]bool{}
	for i := range t.count {
		at, tables, data, err := t.record(i)
		if err != nil {
			return err
		}
		for _, field := range []int{fieldName, fieldFile, fieldLine, fieldUnit, fieldFrom} {
			t.setHalf(at+field, 0)
		}
		list := []int{at + fieldSP}
		for k := range tables {
			if place := at + fieldsOfFunc + 4*k; tracedTables[k] {
				t.setHalf(place, 0)
			} else {
				list = append(list, place)
			}
		}
		// the numbers of units and lines are gone; what is left tells how deep the stack is, and which map holds
		for _, place := range list {
			t.setHalf(place, fresh.keep(t.half(place)))
		}
		for k := range data {
			place := at + fieldsOfFunc + 4*(tables+k)
			// stack maps are read by every collection of garbage, and the bounds of panics by those that are caught
			switch v := t.half(place); {
			case v == none:
			case tracedData[k]:
				unused[v] = true
				t.setHalf(place, none)
			default:
				used[v] = true
				if k == stackObjects {
					if err := t.checkObjects(t.data + int(v)); err != nil {
						return err
					}
				}
			}
		}
	}
	if fresh.err != nil {
		return fresh.err
	}
	clear(fresh.old)
	copy(fresh.old, fresh.text)
	clear(t.m[t.names:t.pcs])
	t.emptyData(used, unused)
	return nil
}

// emptyData clears the data that nothing refers to any more. Data of one content is kept once, so that the same place
// may be used in one way and unused in another. Each goes up to the begin of the next.
func (t *tables) emptyData(used, unused map[uint32]bool) {
	var starts []int
	for _, of := range []map[uint32]bool{used, unused} {
		for v := range of {
			starts = append(starts, int(v))
		}
	}
	// one that is read and one that is not may be the same data: then it stays
	slices.Sort(starts)
	starts = append(slices.Compact(starts), t.dataEnd-t.data)
	for i, from := range starts[:len(starts)-1] {
		// up to the next that anything refers to, so that nothing is guessed of its length
		if !used[uint32(from)] {
			clear(t.m[t.data+from : min(t.data+starts[i+1], t.dataEnd)])
		}
	}
}

// checkObjects refuses a table of stack objects whose masks lie in what is emptied.
//
// Source: runtime/stkframe.go, stackObjectRecord: offset, size, bytes with pointers, place of the mask; 16 bytes.
func (t *tables) checkObjects(at int) error {
	if at+8 > t.dataEnd || t.word(at) > (t.dataEnd-at)/16 {
		return errors.New("a table of stack objects lies outside of the data of functions")
	}
	for i := range t.word(at) {
		mask := t.rodata + int(t.half(at+8+16*i+12))
		if mask >= t.data && mask < t.dataEnd || mask >= t.names && mask < t.data {
			return errors.New("a stack object refers to the tables of functions")
		}
	}
	return nil
}

// pcTables are tables by counter, written anew as they are asked for.
type pcTables struct {
	old   []byte
	place map[uint32]uint32 // the new place of each old one
	text  []byte
	err   error
}

// keep gives the new place of a table: pairs of numbers, the first of a difference in value, up to one of zero that is
// not the first.
func (p *pcTables) keep(old uint32) uint32 {
	if place, known := p.place[old]; known {
		return place
	}
	r := reader{b: p.old, at: int(old)}
	// a table may begin with a difference of zero, which ends any later pair
	for first := true; r.err == nil; first = false {
		if r.uint() == 0 && !first {
			break
		}
		r.uint()
	}
	if r.err != nil || len(p.text)+r.at-int(old) > len(p.old) {
		p.err = errors.New("a table by counter has no end")
		return 0
	}
	place := uint32(len(p.text))
	p.place[old], p.text = place, append(p.text, p.old[old:r.at]...)
	return place
}

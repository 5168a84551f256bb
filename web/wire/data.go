package wire

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
)

// Memory is written as its bytes, but for the records of functions and the table that finds them by their counter: of
// these the fields of one kind stand together, so that they change evenly.

const (
	ownTables   = 5  // columns of tables by counter; what comes behind shares the last
	ownData     = 10 // and of data
	columnCount = fieldsOfFunc/4 + ownTables + ownData + 1
	placeColumn = columnCount - 1 // of the places of records
)

// column is which one holds a word of a record: a field, a table or data by its number.
func tableColumn(k int) int { return fieldsOfFunc/4 + min(k, ownTables-1) }
func dataColumn(k int) int  { return fieldsOfFunc/4 + ownTables + min(k, ownData-1) }

// As the records stand, a field is followed by another that has nothing to do with it; by columns each is like the one
// before, and most grow by a little. LZMA knows repetitions and nothing of numbers: it packs columns of differences far
// better than records.

// takeRecords moves the records of functions out of memory into columns.
func (t *tables) takeRecords() (columns [columnCount][]uint32, err error) {
	take := func(column, at int) {
		columns[column] = append(columns[column], t.half(at))
		t.setHalf(at, 0)
	}
	for i := range t.count {
		at, tables, data, err := t.record(i)
		if err != nil {
			return columns, err
		}
		// what is taken leaves zeros, which cost next to nothing where they lie
		take(placeColumn, t.funcs+8*i+4)
		for k := range fieldsOfFunc / 4 {
			take(k, at+4*k)
		}
		for k := range tables {
			take(tableColumn(k), at+fieldsOfFunc+4*k)
		}
		for k := range data {
			take(dataColumn(k), at+fieldsOfFunc+4*(tables+k))
		}
	}
	return columns, nil
}

// Buckets of the finder: the number of a function, and sixteen bytes to be added. A function of the linker's numbering
// has 16 of them, all alike; those of the first functions, which are not of Go, may differ.
const (
	bucketSize    = 20
	bucketsOfFunc = 16
	firstRegular  = 3 * bucketsOfFunc
)

// takeFinder empties the buckets that follow from their number, and says up to which.
func (t *tables) takeFinder() (upTo int) {
	var zeros [bucketSize - 4]byte
	upTo = firstRegular
	for at := t.finder + bucketSize*upTo; at+bucketSize <= len(t.m); at += bucketSize {
		// the first bucket that is otherwise ends what follows from its number; the reader fills in up to there
		if t.half(at) != uint32(upTo/bucketsOfFunc) || !bytes.Equal(t.m[at+4:at+bucketSize], zeros[:]) {
			break
		}
		t.setHalf(at, 0)
		upTo++
	}
	return upTo
}

// The ways in which a column is written: its words, or the bytes of one weight together, of the words or of how each
// differs from the one before.
const (
	asWords = iota
	asPlanes
	asDifferences
)

// columnText writes a column in the way that packs best.
func columnText(words []uint32) (way byte, best []byte) {
	// Deflate stands for LZMA here: it is quick, and near enough to tell the better way.
	least := -1
	for try := byte(asWords); try <= asDifferences; try++ {
		text, last := make([]byte, 4*len(words)), uint32(0)
		for i, v := range words {
			if try == asDifferences {
				// signs go to the lowest bit, so that small differences have zeros above whichever way they go
				d := int32(v - last)
				last, v = v, uint32(d<<1^d>>31)
			}
			for k := range 4 {
				if try == asWords {
					text[4*i+k] = byte(v >> (8 * k))
				} else {
					text[k*len(words)+i] = byte(v >> (8 * k))
				}
			}
		}
		var b bytes.Buffer
		w, _ := flate.NewWriter(&b, flate.BestCompression) // the level is valid
		_, _ = w.Write(text)                               // a buffer never fails
		_ = w.Close()
		if least < 0 || b.Len() < least {
			least, way, best = b.Len(), try, text
		}
	}
	return way, best
}

// encodeData writes a data section: where the segments lie, the columns, and the bytes of the segments.
func encodeData(section []byte) ([]byte, error) {
	list, err := segments(section)
	if err != nil {
		return nil, err
	}
	// found anew in what Slim gave: the places are those of the linker, but contents have changed
	m, t, err := tablesIn(list)
	if err != nil {
		return nil, err
	}
	// from here on m is what is left when the tables are taken out, and no more what the module begins with
	columns, err := t.takeRecords()
	if err != nil {
		return nil, err
	}
	regular := t.takeFinder()
	b := appendUint(nil, len(list))
	for _, s := range list {
		b = appendUint(appendUint(b, s.at), len(s.text))
	}
	for _, v := range []int{t.funcs, t.count, t.finder, regular} {
		b = appendUint(b, v)
	}
	// all heads stand before all columns, so that the reader knows the lengths, and like lies beside like
	var texts [][]byte
	for _, c := range columns {
		way, text := columnText(c)
		b = appendUint(append(b, way), len(c))
		texts = append(texts, text)
	}
	b = append(b, bytes.Join(texts, nil)...)
	for _, s := range list {
		b = append(b, m[s.at:s.at+len(s.text)]...)
	}
	return b, nil
}

// encodeElem writes the table of functions, which are called by their number in it: all of them, in order.
func encodeElem(body []byte) ([]byte, bool) {
	r := reader{b: body}
	r.uint()
	flags, op, _, last := r.byte(), r.byte(), r.int(), r.byte()
	n := r.uint()
	from := r.at
	first := r.uint()
	// the linker puts all functions of Go into the table in their order: two numbers say it
	for i := 1; i < n; i++ {
		if r.uint() != first+i {
			return nil, false
		}
	}
	// a table of another shape is not wrong: it is written as it stands
	if r.err != nil || r.at != len(body) || flags != 0 || op != i32Const || last != end {
		return nil, false
	}
	b := append(appendUint(nil, from), body[:from]...)
	return binary.AppendUvarint(binary.AppendUvarint(b, uint64(first)), uint64(n)), true
}

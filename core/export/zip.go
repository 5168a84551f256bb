package export

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
)

// archive is a ZIP file of what is put into it as it is, in one order and of one day, so that the same content has the
// same bytes. Nothing is packed: a boat's workbook is a few hundred kilobytes, and the packer of archive/zip would add
// more to the page's engine than it saves on any file.
//
// Source: PKWARE APPNOTE 6.3.3: 4.3.7 (local header), 4.3.12 (central directory), 4.3.16 (its end).
type archive struct {
	files, directory bytes.Buffer
	count            uint16
}

// firstDay is 1 January 1980, the first that the format knows.
const firstDay = 1<<5 | 1

// add puts a file in. Names are ASCII with slashes.
func (a *archive) add(name string, content []byte) {
	at := uint32(a.files.Len())
	// version 2.0, no flags, stored, midnight of the first day, checksum, both sizes, length of the name
	common := []any{uint16(20), uint16(0), uint16(0), uint16(0), uint16(firstDay), crc32.ChecksumIEEE(content),
		uint32(len(content)), uint32(len(content)), uint16(len(name))}
	put(&a.files, uint32(0x04034b50))
	put(&a.files, common...)
	put(&a.files, uint16(0), []byte(name), content)

	put(&a.directory, uint32(0x02014b50), uint16(20))
	put(&a.directory, common...)
	// no extra field, no comment, first disk, no attributes, place of the local header
	put(&a.directory, uint16(0), uint16(0), uint16(0), uint16(0), uint32(0), at, []byte(name))
	a.count++
}

// bytes is the whole file; nothing can be added to it afterwards.
func (a *archive) bytes() []byte {
	var end bytes.Buffer
	put(&end, uint32(0x06054b50), uint32(0), a.count, a.count, uint32(a.directory.Len()), uint32(a.files.Len()),
		uint16(0))
	return append(append(a.files.Bytes(), a.directory.Bytes()...), end.Bytes()...)
}

// put writes numbers of two and four bytes, the least byte first, and texts. What encoding/binary has for any value
// would be 30 kB of the engine.
func put(to *bytes.Buffer, values ...any) {
	for _, v := range values {
		switch v := v.(type) {
		case uint16:
			to.Write(binary.LittleEndian.AppendUint16(nil, v))
		case uint32:
			to.Write(binary.LittleEndian.AppendUint32(nil, v))
		case []byte:
			to.Write(v)
		}
	}
}

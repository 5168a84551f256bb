package photo

import (
	"bytes"
	"encoding/binary"
	"image"
)

// A camera that is held upright writes its pixels lying, and into the file how they are turned.

// upright is the orientation of a file that says nothing of it.
const upright = 1

// orientation is the one of a JPEG file, from 1 to 8: tag 274 of the first directory in the segment APP1 (Exif 2.3,
// CIPA DC-008-2012, 4.5.4 and 4.6.4; the directory as in TIFF 6.0, section 2; from memory). A file that is not as it
// says is taken as upright: the pixels are there all the same.
func orientation(text []byte) int {
	// segments up to the scan: a marker and, high byte first, the length of what follows with these two bytes
	for at := 2; at+4 <= len(text) && text[at] == 0xff && text[at+1] != 0xda; {
		size := int(binary.BigEndian.Uint16(text[at+2:]))
		if size < 2 || at+2+size > len(text) {
			return upright
		}
		segment := text[at+4 : at+2+size]
		if tiff, ok := bytes.CutPrefix(segment, []byte("Exif\x00\x00")); ok && text[at+1] == 0xe1 {
			return tagged(tiff)
		}
		at += 2 + size
	}
	return upright
}

// tagged looks for the orientation in the first directory of a TIFF structure.
func tagged(tiff []byte) int {
	if len(tiff) < 8 {
		return upright
	}
	var order binary.ByteOrder = binary.BigEndian
	if tiff[0] == 'I' {
		order = binary.LittleEndian
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return upright
	}
	// entries of twelve bytes: tag, type, count, value
	entries := tiff[at+2:]
	for n := order.Uint16(tiff[at:]); n > 0 && len(entries) >= 12; n, entries = n-1, entries[12:] {
		if order.Uint16(entries) == 274 {
			if v := int(order.Uint16(entries[8:])); v >= 1 && v <= 8 {
				return v
			}
			return upright
		}
	}
	return upright
}

// turned is a picture as it is to be seen, by its orientation.
func turned(from *image.RGBA, orientation int) *image.RGBA {
	if orientation == upright {
		return from
	}
	w, h := from.Rect.Dx(), from.Rect.Dy()
	// from 5 on lines are columns
	width, height := w, h
	if orientation >= 5 {
		width, height = h, w
	}
	// each pixel of the upright picture is taken from where it lies
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			// where the pixel is in the file: the first line is the top, the right, the bottom, the left
			i, j := x, y
			switch orientation {
			case 2:
				i = w - 1 - x
			case 3:
				i, j = w-1-x, h-1-y
			case 4:
				j = h - 1 - y
			case 5:
				i, j = y, x
			case 6:
				i, j = y, h-1-x
			case 7:
				i, j = w-1-y, h-1-x
			case 8:
				i, j = w-1-y, x
			}
			copy(out.Pix[y*out.Stride+4*x:][:4], from.Pix[j*from.Stride+4*i:][:4])
		}
	}
	return out
}

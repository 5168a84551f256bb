// Package photo makes the pictures of a page of the files beside a book: small, turned upright, and encoded anew, so
// that nothing of the file but what is seen in it goes on a host: no place where it was taken, no name, no camera.
//
// The same file gives the same bytes on every processor: all is done in whole numbers. Colours are taken as sRGB; a
// profile in the file is not read. The decoders and the encoder are those of Go (image/jpeg, image/png).
package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
)

// Bounds of what is read. A camera of today takes 12 million pixels; a picture of more is refused before its pixels
// are looked at, since a file of few bytes may hold any number of them.
const (
	MostBytes  = 8 << 20
	MostPixels = 25_000_000
)

// sides are the longest sides of what is made, in pixels: for a dense screen and for a plain one.
var sides = []int{960, 480}

// quality is that of JPEG, of 100: no difference is seen at arm's length. Common practice, no source.
const quality = 80

// File is a picture as JPEG.
type File struct {
	Width, Height int // in pixels
	Bytes         []byte
}

// Error says what is wrong with a file, and what helps.
type Error struct{ Message, Advice string }

func (e *Error) Error() string { return e.Message + "; " + e.Advice }

const smaller = "save it smaller: 2000 pixels across are plenty"

// TooLarge is the error for a file of so many bytes; nil where it may be read.
func TooLarge(size int64) *Error {
	if size <= MostBytes {
		return nil
	}
	return &Error{fmt.Sprintf("it has %d bytes; at most %d", size, MostBytes), smaller}
}

// Make gives the pictures of a JPEG or PNG file, the largest first: at most 960 pixels long, and one of 480 where that
// is smaller. What is clear is white. Every error is an [Error].
func Make(text []byte) ([]File, error) {
	// before the pixels: a file that is too large costs nothing
	if err := TooLarge(int64(len(text))); err != nil {
		return nil, err
	}
	config, decode, err := formatOf(text)
	if err != nil {
		return nil, err
	}
	if w, h := config.Width, config.Height; w < 1 || h < 1 || w > MostPixels || h > MostPixels/w {
		return nil, &Error{fmt.Sprintf("it has %d × %d pixels; at most %d million", w, h, MostPixels/1_000_000),
			smaller}
	}
	decoded, err := decode()
	if err != nil {
		return nil, &Error{fmt.Sprintf("it is damaged: %v", err), "save it again"}
	}
	// turned once it is small
	picture := turned(scaled(onWhite(decoded), sides[0]), orientation(text))
	// the smaller one is made of the larger, which is quick, and no eye finds the difference
	var files []File
	for _, side := range sides {
		if len(files) > 0 && max(files[0].Width, files[0].Height) <= side {
			continue
		}
		picture = scaled(picture, side)
		var b bytes.Buffer
		if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: quality}); err != nil {
			return nil, &Error{err.Error(), "save it again"} // a buffer takes all, and the sizes are in bounds
		}
		files = append(files, File{picture.Rect.Dx(), picture.Rect.Dy(), b.Bytes()})
	}
	return files, nil
}

// formatOf tells a file by its first bytes, not by its name, and reads its size.
func formatOf(text []byte) (image.Config, func() (image.Image, error), error) {
	// the signatures of ITU-T T.81, B.1.1.3, and of PNG, third edition, 5.2
	config, readConfig, read := image.Config{}, jpeg.DecodeConfig, jpeg.Decode
	var err error
	switch {
	case bytes.HasPrefix(text, []byte("\xff\xd8\xff")):
	case bytes.HasPrefix(text, []byte("\x89PNG\r\n\x1a\n")):
		readConfig, read = png.DecodeConfig, png.Decode
	default:
		err = errors.New("no known signature")
	}
	if err == nil {
		config, err = readConfig(bytes.NewReader(text))
	}
	if err != nil {
		return config, nil, &Error{"it is no picture in JPEG or PNG", "save it as one of them"}
	}
	return config, func() (image.Image, error) { return read(bytes.NewReader(text)) }, nil
}

// onWhite is a picture of three colours from its corner on.
func onWhite(from image.Image) *image.RGBA {
	// a picture may begin anywhere
	b := from.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	// what hides all that is below needs nothing below
	op := draw.Src
	if o, ok := from.(interface{ Opaque() bool }); !ok || !o.Opaque() {
		op = draw.Over
		draw.Draw(out, out.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	}
	draw.Draw(out, out.Rect, from, b.Min, op)
	return out
}

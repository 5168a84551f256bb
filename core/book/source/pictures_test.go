package source_test

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ribband/core/book"
	"ribband/core/book/source"
)

// grey is a PNG of a size.
func grey(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A picture is made when its file has changed, and kept while it has not; two options may show one.
func TestPicturesAreKeptBetweenSaves(t *testing.T) {
	day := time.Date(2027, 1, 15, 8, 0, 0, 0, time.UTC)
	folder := fstest.MapFS{"book.yaml": {Data: []byte("slots:\n  - id: top\n    options:\n" +
		"      - {id: a, title: A, pictures: [{file: top.png, title: One}]}\n" +
		"      - {id: b, title: B, pictures: [{file: top.png, title: Other}]}\n")},
		"top.png": {Data: grey(t, 300, 200), ModTime: day}}
	var files source.Cache
	read := func() []*book.Picture {
		b, _, err := files.Read(folder)
		if err != nil {
			t.Fatal(err)
		}
		return b.Pictures()
	}
	first := read()
	if len(first) != 2 || len(first[0].Shown()) != 1 || &first[0].Shown()[0] != &first[1].Shown()[0] {
		t.Fatalf("%d pictures, the first in %d sizes", len(first), len(first[0].Shown()))
	}
	if again := read(); &again[0].Shown()[0] != &first[0].Shown()[0] {
		t.Error("a file that has not changed was made again")
	}
	folder["top.png"] = &fstest.MapFile{Data: grey(t, 900, 600), ModTime: day.Add(time.Second)}
	if saved := read(); len(saved[0].Shown()) != 2 || saved[0].Shown()[0].Width != 900 {
		t.Errorf("a file that was saved is shown as it was: %d sizes", len(saved[0].Shown()))
	}
}

// A file that says it is huge is refused, with its place, and takes no room.
func TestHugePictureIsRefused(t *testing.T) {
	bomb := grey(t, 1, 1)
	copy(bomb[16:], "\x00\x00\xea\x60\x00\x00\xea\x60") // width and height of IHDR: 60000
	copy(bomb[29:], "\xa5\xb9\x2a\x9e")                 // its checksum
	folder := fstest.MapFS{"book.yaml": {Data: []byte("hulls:\n  - {id: a, pictures: [{file: a.png, title: A}]}\n")},
		"a.png": {Data: bomb}}
	_, found, err := source.Read(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range found {
		if strings.Contains(d.Message, "a.png") {
			if d.Line != 2 || !strings.Contains(d.Message, "60000 × 60000 pixels; at most 25 million") {
				t.Error(d)
			}
			return
		}
	}
	t.Error("it is taken")
}

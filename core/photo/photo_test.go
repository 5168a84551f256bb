package photo_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"ribband/core/photo"
)

// planks is a picture of no camera: stripes across a slope of colour.
func planks(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{uint8(255 * x / w), uint8(255 * y / h), uint8((x*y/7 + 31*(x/20)) % 256), 255}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// asJPEG is a picture with segments of a camera before its pixels: each a marker, and what is in it.
func asJPEG(t testing.TB, m image.Image, segments ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	text := b.Bytes()
	out := append([]byte(nil), text[:2]...)
	for _, s := range segments {
		out = append(out, 0xff, s[0])
		out = binary.BigEndian.AppendUint16(out, uint16(len(s)-1+2))
		out = append(out, s[1:]...)
	}
	return append(out, text[2:]...)
}

// exif is a segment APP1 with an orientation and something that nobody is to read, in either order of bytes.
func exif(order binary.AppendByteOrder, orientation uint16, secret string) string {
	b := []byte("\xe1Exif\x00\x00")
	if order == binary.AppendByteOrder(binary.LittleEndian) {
		b = append(b, "II"...)
	} else {
		b = append(b, "MM"...)
	}
	b = order.AppendUint32(order.AppendUint16(b, 42), 8)
	b = order.AppendUint16(b, 2) // entries
	// make of the camera (271), of 40 characters behind the directory; orientation (274), a short in place
	b = order.AppendUint32(order.AppendUint32(order.AppendUint16(order.AppendUint16(b, 271), 2), 40), 38)
	b = order.AppendUint32(order.AppendUint16(order.AppendUint16(b, 274), 3), 1)
	b = order.AppendUint16(order.AppendUint16(b, orientation), 0)
	b = order.AppendUint32(b, 0)
	return string(b) + fmt.Sprintf("%-40s", secret)
}

const secret = "N 52.3676 E 4.9041 mk00000001x"

// Whatever a file says beside its pixels stays where it is.
func TestNothingButThePictureIsMade(t *testing.T) {
	text := asPNG(t, planks(700, 300))
	chunk := append([]byte("tEXtComment\x00"), secret...)
	planted := append([]byte(nil), text[:33]...) // signature and IHDR
	planted = binary.BigEndian.AppendUint32(planted, uint32(len(chunk)-4))
	planted = append(planted, chunk...)
	planted = binary.BigEndian.AppendUint32(planted, crc32.ChecksumIEEE(chunk))
	planted = append(planted, text[33:]...)
	icc := "\xe2ICC_PROFILE\x00\x01\x01" + secret
	for name, file := range map[string][]byte{
		"JPEG": append(asJPEG(t, planks(700, 300), exif(binary.BigEndian, 1, secret), "\xfe"+secret, icc), secret...),
		"PNG":  planted,
	} {
		if !bytes.Contains(file, []byte(secret)) {
			t.Fatalf("%s: nothing was planted", name)
		}
		files, err := photo.Make(file)
		if err != nil || len(files) != 2 {
			t.Fatalf("%s: %d files, %v", name, len(files), err)
		}
		for _, f := range files {
			if bytes.Contains(f.Bytes, []byte("mk00000001x")) || bytes.Contains(f.Bytes, []byte("Exif")) ||
				bytes.Contains(f.Bytes, []byte("\xff\xe1")) || bytes.Contains(f.Bytes, []byte("\xff\xfe")) {
				t.Errorf("%s: what stood in the file beside its pixels is on the page", name)
			}
			c, err := jpeg.DecodeConfig(bytes.NewReader(f.Bytes))
			if err != nil || c.Width != f.Width || c.Height != f.Height {
				t.Errorf("%s: %d × %d are made, %d × %d said, %v", name, c.Width, c.Height, f.Width, f.Height, err)
			}
		}
	}
}

// Where the first line and the first column of the pixels are seen, by orientation: Exif 2.3 (CIPA DC-008-2012), 4.6.4,
// from memory.
var seen = []string{1: "top left", 2: "top right", 3: "bottom right", 4: "bottom left", 5: "left top", 6: "right top",
	7: "right bottom", 8: "left bottom"}

// A picture comes out as it is to be seen, however the camera was held.
func TestOrientation(t *testing.T) {
	corners := map[string]color.RGBA{"top left": {200, 30, 30, 255}, "top right": {30, 200, 30, 255},
		"bottom left": {30, 30, 200, 255}, "bottom right": {220, 220, 220, 255}}
	opposite := map[string]string{"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
	for o := 1; o <= 8; o++ {
		line, column, _ := strings.Cut(seen[o], " ")
		stored := image.NewRGBA(image.Rect(0, 0, 192, 96))
		for y := range 96 {
			for x := range 192 {
				atLine, atColumn := line, column
				if y >= 48 {
					atLine = opposite[line]
				}
				if x >= 96 {
					atColumn = opposite[column]
				}
				c, ok := corners[atLine+" "+atColumn]
				if !ok {
					c = corners[atColumn+" "+atLine]
				}
				stored.SetRGBA(x, y, c)
			}
		}
		for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
			files, err := photo.Make(asJPEG(t, stored, exif(order, uint16(o), "")))
			if err != nil {
				t.Fatal(err)
			}
			m, err := jpeg.Decode(bytes.NewReader(files[0].Bytes))
			if err != nil {
				t.Fatal(err)
			}
			w, h := m.Bounds().Dx(), m.Bounds().Dy()
			if wide := line == "top" || line == "bottom"; wide != (w == 192 && h == 96) {
				t.Errorf("orientation %d: %d × %d", o, w, h)
			}
			for corner, want := range corners {
				x, y := w/8, h/8
				if strings.HasSuffix(corner, "right") {
					x = w - w/8
				}
				if strings.HasPrefix(corner, "bottom") {
					y = h - h/8
				}
				r, g, b, _ := m.At(x, y).RGBA()
				for i, d := range []int{int(r>>8) - int(want.R), int(g>>8) - int(want.G), int(b>>8) - int(want.B)} {
					if d < -12 || d > 12 {
						t.Errorf("orientation %d: %s is %d off in colour %d", o, corner, d, i)
					}
				}
			}
		}
	}
}

// Sizes, and that nothing is made larger than it is.
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		w, h int
		want string
	}{{2000, 1000, "960×480 480×240"}, {1000, 2000, "480×960 240×480"}, {700, 300, "700×300 480×206"},
		{480, 10, "480×10"}, {1, 1, "1×1"}, {5000, 1, "960×1 480×1"}} {
		files, err := photo.Make(asPNG(t, planks(c.w, c.h)))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range files {
			got = append(got, fmt.Sprintf("%d×%d", f.Width, f.Height))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%d × %d gives %v, want %s", c.w, c.h, got, c.want)
		}
	}
}

// What is clear is white: a page that is dark by night shows it all the same.
func TestClearIsWhite(t *testing.T) {
	files, err := photo.Make(asPNG(t, image.NewNRGBA(image.Rect(0, 0, 32, 32))))
	if err != nil {
		t.Fatal(err)
	}
	m, err := jpeg.Decode(bytes.NewReader(files[0].Bytes))
	if err != nil {
		t.Fatal(err)
	}
	if r, g, b, _ := m.At(16, 16).RGBA(); min(r, g, b) < 0xfb00 {
		t.Errorf("it is %x %x %x", r, g, b)
	}
}

// The same bytes on every processor. They are those of the encoder of Go 1.26 and may be others with another release:
// then all pictures get other names, and nothing else happens.
func TestSameBytesEverywhere(t *testing.T) {
	files, err := photo.Make(asJPEG(t, planks(1500, 1100), exif(binary.BigEndian, 6, "")))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"f565af22432f6be47194fc99280310379629d19b5b39c6a1a51524e4349681a4",
		"6fd61b3379ea426b505fe7687d3731981cfcf09e7bb4c67f3fc765aa25bf2de4"} {
		if got := hex.EncodeToString(sum(files[i].Bytes)); got != want {
			t.Errorf("picture %d has the digest %s, want %s", i, got, want)
		}
	}
}

func sum(b []byte) []byte { s := sha256.Sum256(b); return s[:] }

// A file of a hundred bytes may say that it has billions of pixels: it is refused before room is made for them.
func TestRefused(t *testing.T) {
	bomb := []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR")
	bomb = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(bomb, 60_000), 60_000)
	bomb = append(bomb, 8, 6, 0, 0, 0)
	bomb = binary.BigEndian.AppendUint32(bomb, crc32.ChecksumIEEE(bomb[12:]))
	whole := asJPEG(t, planks(300, 200))
	for name, c := range map[string]struct {
		text []byte
		want string
	}{
		"a bomb":      {bomb, "60000 × 60000 pixels; at most 25 million"},
		"a large one": {make([]byte, photo.MostBytes+1), "8388609 bytes; at most 8388608"},
		"a text":      {[]byte("a dash of teak"), "no picture in JPEG or PNG"},
		"half of one": {whole[:len(whole)/2], "it is damaged: "},
		"nothing":     {nil, "no picture in JPEG or PNG"},
	} {
		files, err := photo.Make(c.text)
		var wrong *photo.Error
		if len(files) > 0 || !errors.As(err, &wrong) || !strings.Contains(wrong.Message, c.want) || wrong.Advice == "" {
			t.Errorf("%s: %d files, %v", name, len(files), err)
		}
	}
}

func FuzzMake(f *testing.F) {
	f.Add(asPNG(f, planks(40, 30)))
	f.Add(asJPEG(f, planks(40, 30), exif(binary.LittleEndian, 6, secret)))
	f.Fuzz(func(t *testing.T, text []byte) {
		files, err := photo.Make(text)
		if (err == nil) != (len(files) > 0) {
			t.Fatalf("%d files, %v", len(files), err)
		}
		for _, p := range files {
			c, err := jpeg.DecodeConfig(bytes.NewReader(p.Bytes))
			if err != nil || c.Width != p.Width || c.Height != p.Height || max(p.Width, p.Height) > 960 {
				t.Fatalf("%d × %d made, %d × %d said, %v", c.Width, c.Height, p.Width, p.Height, err)
			}
		}
	})
}

func ExampleMake() {
	var file bytes.Buffer
	_ = png.Encode(&file, image.NewGray(image.Rect(0, 0, 2400, 1600)))
	files, err := photo.Make(file.Bytes())
	for _, f := range files {
		fmt.Printf("%d × %d\n", f.Width, f.Height)
	}
	fmt.Println(err)
	_, err = photo.Make([]byte("a dash of teak"))
	fmt.Println(err)
	// Output:
	// 960 × 640
	// 480 × 320
	// <nil>
	// it is no picture in JPEG or PNG; save it as one of them
}

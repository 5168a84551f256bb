package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ribband/core/pack"
)

// picturesOf is the list of pictures that a page names; "" where it names none.
func picturesOf(t *testing.T, s site, page string) string {
	t.Helper()
	m := regexp.MustCompile(`data-pictures="([^"]+)"`).FindSubmatch(s[page])
	if m == nil {
		return ""
	}
	if s[string(m[1])] == nil {
		t.Fatalf("%s names %s, which is not there", page, m[1])
	}
	return string(m[1])
}

// photograph is a JPEG that a camera took upright, with a place and its own name in APP1.
func photograph(t *testing.T, secret string) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 1200, 700))
	for i := range m.Pix {
		m.Pix[i] = uint8(i / 4096)
	}
	m.SetRGBA(0, 0, color.RGBA{255, 0, 0, 255})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	// one entry: orientation (274), a short, 6: the right is the top
	app1 := "Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00" +
		"\x00\x00\x00\x00" + secret
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(app1)+2))...)
	return append(append(out, app1...), b.Bytes()[2:]...)
}

// A picture is published turned upright, small, and with nothing of its file but what is seen: neither what the camera
// wrote nor the name that the yard gave it. Desks that work without a network have the list of all, sealed or not, and
// what is in it a buyer may see.
func TestPicturesOfABook(t *testing.T) {
	siteOf(t) // or skip
	const secret = "N 52.3676 E 4.9041 mk00000001x"
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../testdata/books/small")); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "from-quokka.jpg"), string(photograph(t, secret)))
	edit(t, filepath.Join(dir, "boat.yaml"), `(?m)^        title: Fixed top$`, "        title: Fixed top\n"+
		"        about: [It stands all summer.]\n        pictures: [{file: from-quokka.jpg, title: The fixed top}]")
	packs, _, found, err := readBook(dir)
	if err != nil || len(found) > 0 {
		t.Fatal(err, found)
	}
	p, err := demoProgram()
	if err != nil {
		t.Fatal(err)
	}
	s, err := p.site(packs, pack.Desks, testPhrases)
	if err != nil {
		t.Fatal(err)
	}
	if got := search(t, s, []string{"mk00000001x", "quokka", "Exif\x00"}); len(got) > 0 {
		t.Errorf("the site holds %q", got)
	}
	buyers, err := packs[pack.Buyer].Encode()
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	if err := json.Unmarshal(s[picturesOf(t, s, "show.html")], &list); err != nil || len(list) != 2 {
		t.Fatal(list, err)
	}
	for _, file := range list {
		name := strings.TrimPrefix(file, "assets/")
		if !bytes.Contains(buyers, []byte(`"`+name+`"`)) {
			t.Errorf("%s is not on the buyer's page", file)
		}
		if want := "picture-" + digest(s[file])[:12] + ".jpg"; name != want {
			t.Errorf("%s holds what %s would", name, want)
		}
		if c, err := jpeg.DecodeConfig(bytes.NewReader(s[file])); err != nil || c.Width*12 != c.Height*7 {
			t.Errorf("%s is %d × %d, %v", file, c.Width, c.Height, err)
		}
		if bytes.Contains(s["sw.js"], []byte(name)) {
			t.Errorf("every visitor loads the name of %s", file)
		}
	}
	if picturesOf(t, s, "yard.html") != picturesOf(t, s, "show.html") || picturesOf(t, s, "index.html") != "" {
		t.Error("a page keeps other pictures than it should")
	}
	// the first page has no picture in it: what is folded comes when it is unfolded
	if bytes.Contains(s["index.html"], []byte("picture-")) {
		t.Error("the buyer's page names a picture before a slot was unfolded")
	}
	// a phrase that is changed leaves the list where it is
	if _, err := s.reseal(pack.Show, testPhrases[pack.Show], testPhrases[pack.Show]+" again"); err != nil {
		t.Fatal(err)
	}
	if m := picturesOf(t, s, "show.html"); !bytes.Contains(s["sw.js"], []byte(m)) {
		t.Error("with another phrase the pictures are no longer kept")
	}
}

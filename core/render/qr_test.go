package render_test

import (
	"image"
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	zxing "github.com/makiuchi-d/gozxing/qrcode"

	"ribband/core/doc"
	"ribband/core/msg"
	"ribband/core/render"
)

// painted is the QR code of a page as a camera would see it, eight pixels to the module.
func painted(t *testing.T, page string) image.Image {
	t.Helper()
	box := regexp.MustCompile(`<svg[^>]* viewBox="0 0 (\d+) `).FindStringSubmatch(page)
	path := regexp.MustCompile(`<path fill="#000" d="([^"]*)"`).FindStringSubmatch(page)
	if box == nil || path == nil {
		t.Fatalf("no code on the page: %.300q", page)
	}
	const scale = 8
	size, _ := strconv.Atoi(box[1])
	picture := image.NewGray(image.Rect(0, 0, size*scale, size*scale))
	for i := range picture.Pix {
		picture.Pix[i] = 255
	}
	for _, run := range regexp.MustCompile(`M(\d+),(\d+)h(\d+)v1h-(\d+)z`).FindAllStringSubmatch(path[1], -1) {
		x, _ := strconv.Atoi(run[1])
		y, _ := strconv.Atoi(run[2])
		n, _ := strconv.Atoi(run[3])
		for py := y * scale; py < (y+1)*scale; py++ {
			for px := x * scale; px < (x+n)*scale; px++ {
				picture.SetGray(px, py, color.Gray{})
			}
		}
	}
	return picture
}

// A reader of another hand (the ZXing library's port to Go) reads the address from the picture, short or as long as the
// largest code holds; what is longer has a link alone.
func TestQRCodeIsReadByAnotherReader(t *testing.T) {
	for _, fragment := range []int{10, 80, 300, 700, 1500, 2900} {
		address := "https://yard.example/#1/reed-65/" + strings.Repeat("a=b*2/", 1000)[:fragment]
		text, err := render.HTML(&doc.Doc{Blocks: []doc.Block{doc.Link{Address: address, Code: `<"a">`}}}, msg.English)
		if err != nil {
			t.Fatal(err)
		}
		bitmap, err := gozxing.NewBinaryBitmapFromImage(painted(t, string(text)))
		if err != nil {
			t.Fatal(err)
		}
		read, err := zxing.NewQRCodeReader().Decode(bitmap,
			map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true})
		if err != nil {
			t.Errorf("%d characters: %v", len(address), err)
		} else if read.GetText() != address {
			t.Errorf("%d characters are read as %q", len(address), read.GetText())
		}
	}
	// a code without an address is its text alone, which nobody can follow
	page, err := render.HTML(&doc.Doc{Blocks: []doc.Block{doc.Section{Title: "A", Blocks: []doc.Block{
		doc.Code{Text: "2027-003/lay-up-hull", Title: "QR code"}}}}}, msg.English)
	if err != nil || !strings.Contains(string(page), "<p>2027-003/lay-up-hull</p>") ||
		strings.Contains(string(page), "href") {
		t.Errorf("a code of a text: %v, %s", err, page)
	}
	text, err := render.HTML(&doc.Doc{Blocks: []doc.Block{doc.Link{Address: "https://yard.example/" +
		strings.Repeat("x", 3000)}}}, msg.English)
	if err != nil || strings.Contains(string(text), "<svg") || !strings.Contains(string(text), `href="https://yard`) {
		t.Errorf("an address too long for a code: %v", err)
	}
}

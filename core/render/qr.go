package render

import (
	"fmt"
	escape "html"
	"strings"

	"rsc.io/qr"
)

// module is the width of one square of a QR code on paper, mm. A telephone reads 0.25 mm from a hand's breadth away;
// 0.4 mm leaves room for a poor printer. Common practice, no source.
const module = 0.4

// quiet is how many modules of white stand around a code, without which a camera takes the text beside it for a part.
//
// Source: ISO/IEC 18004, 6.3.8, quiet zone of four modules; from memory.
const quiet = 4

// qrCode is a text as a QR code, an SVG picture with a title for who does not see it. A quarter of its modules may be
// soiled (level Q) where that fits on 100 modules; a longer text has less to spare. "" for what no code can hold, which
// are 2953 bytes.
//
// Source: ISO/IEC 18004 (levels of error correction); the encoding is that of rsc.io/qr.
func qrCode(text, title string) string {
	const most = 100 // modules across: 40 mm
	code, err := qr.Encode(text, qr.Q)
	for _, level := range []qr.Level{qr.M, qr.L} {
		if err != nil || code.Size > most {
			// the last and least level is taken whatever its size
			code, err = qr.Encode(text, level)
		}
	}
	if err != nil {
		return ""
	}
	// one path of horizontal runs: a picture of thousands of squares would show hairlines between them
	var path strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&path, "M%d,%dh%dv1h-%dz", from+quiet, y+quiet, x-from, x-from)
			}
		}
	}
	size := code.Size + 2*quiet
	return fmt.Sprintf(`<svg width="%.1[1]fmm" height="%.1[1]fmm" viewBox="0 0 %[2]d %[2]d" `+
		`role="img" shape-rendering="crispEdges"><title>%[3]s</title><path fill="#fff" d="M0 0h%[2]dv%[2]dH0z"/>`+
		`<path fill="#000" d="%[4]s"/></svg>`, float64(size)*module, size, escape.EscapeString(title), path.String())
}

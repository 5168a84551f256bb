package cutfiles

import (
	"bytes"
	"encoding/xml"
	"fmt"
)

// SVG writes a table at its own size, for a plotter or a browser's print at 1:1. What is a layer in DXF is a class.
//
// Source: SVG 1.1, 7.10 (units) and 10.9 (anchors of text).
func (t *Table) SVG() []byte {
	var b bytes.Buffer
	length, width := t.size()
	fmt.Fprintf(&b, svgHead, decimal(length), decimal(width))
	for _, m := range t.marks() {
		if m.text == "" {
			// layers are classes, since groups would have to be opened and closed in between
			path := m.line.Path(1, decimal, func(x, y float64) (float64, float64) { return x, width - y })
			if !m.closed { // a mark: there and back on straight lines
				path = "M"
				for _, v := range m.line {
					path += decimal(v.X) + " " + decimal(width-v.Y) + " "
				}
			}
			fmt.Fprintf(&b, "<path class=\"%s\" d=\"%s\"/>\n", m.layer, path)
			continue
		}
		at, turn := m.line[0], 0
		if m.upward {
			turn = -90
		}
		// capitals are 0.7 of the size of a font high (common practice, no source), and stand about the middle
		fmt.Fprintf(&b, `<text class="TEXT" font-size="%s" transform="translate(%s %s) rotate(%d)">`,
			decimal(m.height/0.7), decimal(at.X), decimal(width-at.Y), turn)
		_ = xml.EscapeText(&b, []byte(m.text)) // a buffer takes all
		b.WriteString("</text>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// svgHead opens a drawing in mm.
const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" width="%[1]smm" height="%[2]smm" viewBox="0 0 %[1]s %[2]s">
<style>path{fill:none;stroke-width:.5}.CUT{stroke:red}.MARK{stroke:blue}` +
	`text{font-family:sans-serif;text-anchor:middle;dominant-baseline:central}</style>
`

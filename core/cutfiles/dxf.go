package cutfiles

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// DXF writes a table as ASCII DXF of release 12, which knows no unit: a comment says that it is in mm. Lines are
// polylines whose arcs are bulges, the tangent of a quarter of their angle. Characters beyond ASCII stand as \U+xxxx.
//
// Source: the DXF reference of release 12 (AC1009), from memory: header variables, tables LTYPE and LAYER, entities
// POLYLINE, VERTEX and TEXT.
func (t *Table) DXF() []byte {
	var b bytes.Buffer
	length, width := t.size()
	fmt.Fprintf(&b, dxfHead, decimal(length), decimal(width))
	for _, m := range t.marks() {
		if m.text != "" {
			at, turn := m.line[0], 0
			if m.upward {
				turn = 90
			}
			// in the middle of the second point, both ways; the first is for readers that know no other
			fmt.Fprintf(&b, "0\nTEXT\n8\nTEXT\n10\n%[1]s\n20\n%[2]s\n11\n%[1]s\n21\n%[2]s\n40\n%[3]s\n50\n%[4]d\n"+
				"72\n1\n73\n2\n1\n%[5]s\n", decimal(at.X), decimal(at.Y), decimal(m.height), turn, dxfText(m.text))
			continue
		}
		// closed by a flag: the first corner is not written twice
		closed := 0
		if m.closed {
			closed = 1
		}
		fmt.Fprintf(&b, "0\nPOLYLINE\n8\n%s\n66\n1\n10\n0\n20\n0\n30\n0\n70\n%d\n", m.layer, closed)
		for _, v := range m.line {
			// the bulge with seven places, as the pack has it
			fmt.Fprintf(&b, "0\nVERTEX\n8\n%s\n10\n%s\n20\n%s\n42\n%s\n", m.layer, decimal(v.X), decimal(v.Y),
				strconv.FormatFloat(v.Bulge, 'f', -1, 64))
		}
		fmt.Fprintf(&b, "0\nSEQEND\n8\n%s\n", m.layer)
	}
	b.WriteString("0\nENDSEC\n0\nEOF\n")
	return b.Bytes()
}

// dxfText is a text on a line of its own. What is no letter of ASCII, and what would end the line, is escaped; a
// quotation mark, which the escape would double, is an apostrophe.
func dxfText(text string) string {
	text = strconv.QuoteToASCII(strings.ReplaceAll(text, `"`, "'"))
	return strings.ReplaceAll(text[1:len(text)-1], `\u`, `\U+`)
}

// dxfHead is what stands before what is drawn: the size of the stock as extents and limits, one type of line, and the
// layers in red, blue and black on white. A code and its value are a line each.
const dxfHead = "999\nmm\n0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n" +
	"9\n$EXTMIN\n10\n0\n20\n0\n9\n$EXTMAX\n10\n%[1]s\n20\n%[2]s\n" +
	"9\n$LIMMIN\n10\n0\n20\n0\n9\n$LIMMAX\n10\n%[1]s\n20\n%[2]s\n0\nENDSEC\n" +
	// a type of line has to be there before a layer names it
	"0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLTYPE\n70\n1\n" +
	"0\nLTYPE\n2\nCONTINUOUS\n70\n64\n3\nSolid line\n72\n65\n73\n0\n40\n0\n0\nENDTAB\n" +
	"0\nTABLE\n2\nLAYER\n70\n3\n" +
	"0\nLAYER\n2\nCUT\n70\n64\n62\n1\n6\nCONTINUOUS\n" +
	"0\nLAYER\n2\nMARK\n70\n64\n62\n5\n6\nCONTINUOUS\n" +
	"0\nLAYER\n2\nTEXT\n70\n64\n62\n7\n6\nCONTINUOUS\n" +
	"0\nENDTAB\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"

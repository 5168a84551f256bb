// Package cutfiles writes what a cutting table reads of a boat: each roll and each sheet of its cut layouts as a
// drawing exchange file, and as a picture at its own size. It lays nothing and makes no outline: that is done by
// packages cutting and publish. Only the command line writes such files; the engine in the page does not carry them.
//
// Source: DXF of release 12 and SVG 1.1, as named at their writers.
package cutfiles

import (
	"errors"
	"strconv"

	"ribband/core/cutting"
	"ribband/core/msg"
	"ribband/core/msg/office"
	"ribband/core/sheet"
)

// File has a name of ASCII, with its ending.
type File struct {
	Name    string
	Content []byte
}

// Files are those of the layouts of a boat, in the order of its sheet, so that whoever has both finds each beside its
// table. A layout that could not be made has none; the sheet says why. What is written on the pieces is in the words of
// a language. There is an error where the boat has nothing to be cut.
func Files(l *msg.Language, cuts []sheet.CutPart, boat string) (files []File, err error) {
	for i := range cuts {
		c := &cuts[i]
		layout := c.Layout()
		if layout == nil {
			continue
		}
		text := labels(l, layout.Placed, boat)
		for n := range max(1, layout.Sheets) {
			t, name := Table{Layout: layout, Sheet: n, Labels: text}, c.ID
			// one sheet alone needs no number
			if layout.Sheets > 1 {
				name += "-" + strconv.Itoa(n+1)
			}
			files = append(files, File{name + ".dxf", t.DXF()}, File{name + ".svg", t.SVG()})
		}
	}
	if len(files) == 0 {
		return nil, errors.New("the boat has nothing that is cut from rolls or sheets; the build sheet says why " +
			"where a layout could not be made")
	}
	return files, nil
}

// labels are what is written on each piece: its name, then the boat and which of those alike it is. Two boats of one
// hull may lie on the table in one week.
func labels(l *msg.Language, placed []cutting.Placed, boat string) (text [][]string) {
	of, nth := map[string]int{}, map[string]int{}
	for _, p := range placed {
		of[p.Name]++
	}
	for _, p := range placed {
		nth[p.Name]++
		text = append(text, []string{p.Name, office.Words(l).Say("office.cut-label", msg.Text("boat", boat),
			msg.Count("n", nth[p.Name]), msg.Count("of", of[p.Name]))})
	}
	return text
}

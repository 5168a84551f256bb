package paper

import (
	"strconv"

	"ribband/core/export"
	"ribband/core/msg"
	"ribband/core/sheet"
)

// CutFiles are what a cutting table reads of the layouts of a boat: of each roll and each sheet a drawing exchange
// file, and the same as a picture at its own size. A layout that could not be made has none; the sheet says why. There
// is an error where the boat has nothing to be cut.
func (s *Source) CutFiles(cuts []sheet.CutPart, boat string) (files []export.File, err error) {
	// two boats of one hull may lie on the table in one week
	if s.Quote != nil && s.Quote.Number != "" {
		boat = s.Quote.Number + ", " + boat
	}
	// in the order of the sheet, so that whoever unpacks them finds each beside its table
	for i := range cuts {
		c := &cuts[i]
		layout := c.Layout()
		if layout == nil {
			continue
		}
		labels := c.Labels(s.Language, boat)
		for n := range max(1, layout.Sheets) {
			t, name := export.Table{Layout: layout, Sheet: n, Labels: labels}, c.ID
			// one sheet alone needs no number
			if layout.Sheets > 1 {
				name += "-" + strconv.Itoa(n+1)
			}
			files = append(files, export.File{Name: name + ".dxf", Content: t.DXF()},
				export.File{Name: name + ".svg", Content: t.SVG()})
		}
	}
	if len(files) == 0 {
		return nil, msg.Fault("paper.nothing-cut")
	}
	return files, nil
}

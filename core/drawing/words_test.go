package drawing_test

import (
	"regexp"
	"strings"
	"testing"

	"ribband/core/cutting"
	"ribband/core/drawing"
	"ribband/core/engine/enginetest"
	"ribband/core/msg"
)

func mark(s string) string {
	if s == "" {
		return ""
	}
	return "⟪" + s + "⟫"
}

func markAll(list []string) (marked []string) {
	for _, s := range list {
		marked = append(marked, mark(s))
	}
	return marked
}

// inMarks is a drawing of which all that the caller names stands in marks.
func inMarks(t *testing.T, d drawer) drawer {
	switch d := d.(type) {
	case drawing.Profile:
		d.Name, d.Notes = mark(d.Name), markAll(d.Notes)
		return d
	case drawing.Plan:
		d.Name = mark(d.Name)
		for i, f := range d.Fittings {
			if table, ok := f.(drawing.Table); ok {
				table.Name = mark(table.Name)
				d.Fittings[i] = table
			}
		}
		return d
	case drawing.Sections:
		d.Name, d.Notes = mark(d.Name), markAll(d.Notes)
		return d
	case drawing.RangeCurve:
		d.Name, d.Assumptions = mark(d.Name), markAll(d.Assumptions)
		return d
	case drawing.RightingLevers:
		d.Name, d.Assumptions = mark(d.Name), markAll(d.Assumptions)
		return d
	case drawing.SolarYield:
		d.Name, d.Assumptions = mark(d.Name), markAll(d.Assumptions)
		return d
	case drawing.TradeOff:
		d.Price, d.Figure, d.Caption = mark(d.Price), mark(d.Figure), markAll(d.Caption)
		for i := range d.Boats {
			d.Boats[i].Name = mark(d.Boats[i].Name)
		}
		return d
	case drawing.Masses:
		d.Name, d.Notes = mark(d.Name), markAll(d.Notes)
		for i := range d.Groups {
			d.Groups[i].Name = mark(d.Groups[i].Name)
		}
		return d
	case drawing.CutLayout:
		d.Material, d.Notes = mark(d.Material), markAll(d.Notes)
		for i := range d.Layout.Placed {
			d.Layout.Placed[i].Name = mark(d.Layout.Placed[i].Name)
		}
		return d
	case drawing.Drilling:
		d.Name = mark(d.Name)
		for i := range d.Plates {
			d.Plates[i].Words = mark(d.Plates[i].Words)
		}
		return d
	case drawing.Hoop:
		d.Name, d.Notes = mark(d.Name), markAll(d.Notes)
		return d
	case drawing.Flotation:
		d.Name = mark(d.Name)
		for i := range d.Blocks {
			d.Blocks[i].Words = mark(d.Blocks[i].Words)
		}
		return d
	case drawing.Zones:
		d.Name, d.Notes = mark(d.Name), markAll(d.Notes)
		for i := range d.Zones {
			d.Zones[i].Laminate = mark(d.Zones[i].Laminate)
		}
		return d
	case drawing.LoomBoard:
		sheet := inMarks(t, drawing.LoomSheet{Loom: d.Loom}).(drawing.LoomSheet)
		d.Name, d.Loom, d.Notes = mark(d.Name), sheet.Loom, markAll(d.Notes)
		return d
	case drawing.LoomSheet:
		d.Name, d.Bank, d.Notes = mark(d.Name), mark(d.Bank), markAll(d.Notes)
		for i := range d.Loom.Wires {
			w := &d.Loom.Wires[i]
			w.Circuit = mark(w.Circuit)
			for end := range w.Ends {
				w.Ends[end].Place = msg.Plain(mark(w.Ends[end].Place.String()))
			}
		}
		return d
	}
	t.Fatalf("%T has no marks; add it", d)
	return nil
}

// No word of a drawing stands in the code: each is a message, or comes from whoever asks for the drawing. The narrow
// drawings have words that the wide ones have not, and those without a name have others.
func TestWordsOfDrawingsAreMessages(t *testing.T) {
	all := cases(t)
	all["loom-of-nothing"] = drawing.LoomSheet{Loom: loom(t).Loom}
	all["cuts-unnamed"] = layout(t, []cutting.Piece{{Width: 400, Length: 900}}, cutting.Stock{Width: 1000})
	for _, kind := range []drawing.TopKind{drawing.FoldingHood, drawing.Canopy, drawing.HardTop, drawing.SolarTop} {
		for _, e := range []drawing.Enclosure{drawing.FrontEnclosure, drawing.SideEnclosure, drawing.FullEnclosure} {
			p := reed(demo(t))
			p.Top.Kind, p.Enclosure, p.BaseLine = kind, e, true
			all["profile-"+string(kind)+string(e)] = p
		}
	}
	l := enginetest.Marked(t)
	for name, d := range all {
		d = inMarks(t, d)
		for _, w := range widths {
			svg, err := d.SVG(drawing.Format{Width: w, Language: l})
			if err != nil {
				t.Fatal(err)
			}
			if found := enginetest.Unmarked(enginetest.Perceived(svg)); len(found) > 0 {
				t.Errorf("%s, %v wide: %s", name, w, strings.Join(found, "\n"))
			}
			if strings.Contains(svg, "[drawing.") {
				t.Errorf("%s: a message without a text", name)
			}
		}
	}
}

var pointed = regexp.MustCompile(`[0-9]\.[0-9]`)

// Numbers are written as the language writes them, whatever words it has; places on paper are not.
func TestNumbersOfDrawingsFollowTheLanguage(t *testing.T) {
	german, err := msg.Read("de.json", []byte(`{"language.tag": "de", "language.name": "Deutsch",
		"language.months": "Januar Februar März April Mai Juni Juli August September Oktober November Dezember"}`))
	if err != nil {
		t.Fatal(err)
	}
	ours := regexp.MustCompile(`⟪[^⟫]*⟫`)
	for name, d := range cases(t) {
		svg, err := inMarks(t, d).SVG(drawing.Format{Width: 900, Language: german})
		if err != nil {
			t.Fatal(err)
		}
		text := ours.ReplaceAllString(strings.ReplaceAll(enginetest.Perceived(svg), "\n", " "), "")
		if m := pointed.FindStringIndex(text); m != nil {
			t.Errorf("%s: a decimal point in %q", name, text[max(0, m[0]-40):min(len(text), m[1]+20)])
		}
		if !strings.HasPrefix(name, "cuts-sheets") && !regexp.MustCompile(`[0-9],[0-9]`).MatchString(text) {
			t.Errorf("%s: no decimal comma", name)
		}
	}
}

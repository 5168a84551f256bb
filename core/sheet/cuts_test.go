package sheet_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"ribband/core/cutting"
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
	"ribband/core/takeoff"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v ± %v", what, got, want, tolerance)
	}
}

// caseE8 is what testdata/materials.json expects of mat 300, 450 and 450 with roving 600: glass, resin and total in
// kg/m², mm, psi, density.
// Source: formulas of ISO 12215-5 Annex C.
func caseE8(t *testing.T) []float64 {
	text, err := os.ReadFile("../../testdata/materials.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID       string
			Expected []float64
		}
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		if c.ID == "E8" && len(c.Expected) == 6 {
			return c.Expected
		}
	}
	t.Fatal("there is no case E8")
	return nil
}

// The shell of the two small hulls has the plies of the case: the book gives what the case gives.
func TestShellOfTheBookIsCaseE8(t *testing.T) {
	want := caseE8(t)
	e := enginetest.Demo()[pack.Yard]
	for _, hull := range []string{"sedge-46", "rush-54"} {
		l := sheet.Laminates(e, enginetest.Answer(t, e, spec.Spec{Format: spec.Format, Hull: hull}).Build)
		r := l.Rows[0]
		if strings.Join(r.Plies, ", ") != "csm 300, csm 450, roving 600, csm 450" {
			t.Fatalf("the shell is %v", r.Plies)
		}
		near(t, "glass", r.GlassKg, want[0]*r.AreaM2, 0.01)
		near(t, "resin", r.ResinKg, want[1]*r.AreaM2, 0.01)
		near(t, "mass", r.TotalKg, want[2]*r.AreaM2, 0.01)
		near(t, "thickness", r.ThicknessMm, want[3], 0.001)
		near(t, "psi", r.GlassShare, want[4], 0.001)
	}
}

// Resin is glass × (1 - psi)/psi in every row and on the whole; what the base boat takes of glass and resin is what the
// schedule says; a bottom is at most 12.7 mm thick (common practice, no source).
func TestScheduleIsWhatTheBaseBoatTakes(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for h := range e.Pack.Hulls {
		b := enginetest.Answer(t, e, spec.Spec{Format: spec.Format, Hull: e.Pack.Hulls[h].ID}).Build
		l := sheet.Laminates(e, b)
		glass, resin := 0.0, 0.0
		s, err := takeoff.Schedule(e.Pack, h)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range s.Rows {
			psi := r.Laminate.Psi
			near(t, r.Part.Name+": resin", r.Resin, r.Glass*(1-psi)/psi, 1e-9)
			glass += r.Glass
			resin += r.Resin
		}
		near(t, "glass", l.GlassKg, glass, 0.001)
		near(t, "resin", l.ResinKg, resin, 0.001)
		if l.BottomMm < 5 || l.KeelMm <= l.BottomMm || l.KeelMm > 12.7 {
			t.Errorf("%s: the bottom is %v mm, along the keel %v mm", e.Pack.Hulls[h].ID, l.BottomMm, l.KeelMm)
		}
		layup := e.Pack.Costs.Glass[h]
		near(t, "figure of glass", layup.GlassKg, glass, 1e-9)
		near(t, "figure of resin", layup.ResinKg, resin, 1e-9)
		bought := map[string]float64{}
		for _, n := range e.Pack.Costs.Hulls[h].Materials {
			if src := e.Pack.Work.Sources[n.At]; src.File == "laminates.yaml" {
				bought[e.Pack.Costs.Materials[n.Index].ID] += n.Amount.Number()(b.State)
			}
		}
		near(t, "resin of the base boat", bought["resin-iso"]+bought["resin-ortho"], resin, 0.001)
		near(t, "glass of the base boat", 0.3*bought["glass-csm-300"]+0.45*bought["glass-csm-450"]+
			0.6*bought["glass-wr-600"]+0.8*bought["glass-wr-800"], glass, 1e-6)
	}
}

// cutOptions are the options that the demo book has cut layouts of.
func cutOptions(p *pack.Pack) (list []int) {
	for _, c := range p.Costs.Cuts {
		for _, s := range c.Stocks {
			list = append(list, s.Options...)
		}
	}
	return list
}

// Whatever cloth or pane is taken, with whatever top and enclosure, a layout holds every piece of the boat, each within
// the stock and apart, and its waste is what is no piece.
func TestLayoutsLoseNoPiece(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	p := e.Pack
	index := map[string]int{}
	for i, o := range p.Options {
		index[o.ID] = i
	}
	laid := 0
	for h := range p.Hulls {
		b := enginetest.Answer(t, e, spec.Spec{Format: spec.Format, Hull: p.Hulls[h].ID}).Build
		for _, top := range []string{"top-folding", "top-canopy"} {
			for _, enclosure := range []string{"", "enclosure-front", "enclosure-sides", "enclosure-full-flexible"} {
				for _, option := range cutOptions(p) {
					state := *b.State
					state.Counts = make([]int, len(p.Options))
					state.Slots = make([]int, len(p.Slots))
					for _, o := range []int{index[top], option} {
						state.Counts[o], state.Slots[p.Options[o].Slot] = 1, 1
					}
					if o, ok := index[enclosure]; ok {
						state.Counts[o], state.Slots[p.Options[o].Slot] = 1, 1
					}
					build := *b
					build.State = &state
					for _, c := range sheet.Cuts(e, &build) {
						laid++
						checkCut(t, p, &state, c)
					}
				}
			}
		}
	}
	if laid < 300 {
		t.Errorf("only %d layouts", laid)
	}
}

func checkCut(t *testing.T, p *pack.Pack, st *formula.State, c sheet.CutPart) {
	t.Helper()
	if !c.Fault.Empty() {
		t.Fatalf("%s: %s", c.Title, c.Fault)
	}
	wanted, area := 0.0, 0.0
	for k, cut := range p.Costs.Cuts {
		if cut.ID != c.ID {
			continue
		}
		stock := slices.Index(p.Work.Cuts[k].Stocks, c.Stock)
		for _, piece := range cut.Pieces {
			count := 1.0
			if !piece.Count.Empty() {
				count = piece.Count.Number()(st)
			}
			if piece.Panels != nil {
				for _, panel := range piece.Panels[st.HullID*len(cut.Stocks)+stock] {
					wanted += count * panel.AreaMm2 / 1e6
				}
			} else {
				twice := 2 * piece.AllowanceMm.Number()(st)
				wanted += count * (piece.WidthMm.Number()(st) + twice) * (piece.LengthMm.Number()(st) + twice) / 1e6
			}
		}
	}
	layout := cutting.Layout{Stock: cutting.Stock{Width: c.WidthMm, Length: c.LengthMm}, Sheets: c.Sheets,
		Used: c.UsedMm}
	var pieces []cutting.Piece
	for i, x := range c.Pieces {
		width, length := x.WidthMm, x.LengthMm
		if x.Turned {
			width, length = length, width
		}
		pieces = append(pieces, cutting.Piece{Name: x.Name, Width: width, Length: length, Turn: x.Turned})
		layout.Placed = append(layout.Placed, cutting.Placed{Piece: i, Name: x.Name, Sheet: x.Sheet - 1, X: x.XMm,
			Y: x.YMm, Width: x.WidthMm, Length: x.LengthMm, Turned: x.Turned})
		if area += x.AreaM2; x.AreaM2 > x.WidthMm*x.LengthMm/1e6+0.001 {
			t.Errorf("%s: %s has %v m² in %v × %v mm", c.Title, x.Name, x.AreaM2, x.WidthMm, x.LengthMm)
		}
	}
	if err := layout.Check(pieces); err != nil {
		t.Fatalf("%s: %v", c.Title, err)
	}
	if area < wanted-0.01 || area > wanted*1.05 { // seams of rectangles take a little more
		t.Errorf("%s on %s: pieces of %v m² lie there, want %v", c.Title, c.Stock, area, wanted)
	}
	near(t, "area", c.PiecesM2, area, 0.01)
	near(t, "waste", c.Waste, 1-c.PiecesM2/c.UsedM2, 0.002)
}

// A piece that cannot be laid is said on the sheet with its place in the book; the rest of the sheet stands.
func TestCutThatCannotBeLaid(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	a := enginetest.Answer(t, e, spec.Spec{Format: spec.Format, Hull: "reed-65"})
	for _, c := range []struct{ width, count, want string }{
		{"n0", "n1", "the width is 0 mm"},
		{"n0 n0 /", "n1", "guard its formulas"},
		{"n100", "n0.5", "whole number"},
		{"n100", "n-1", "whole number"},
		{"n999999", "n1", "panels"},
	} {
		damaged, costs := *e.Pack, *e.Pack.Costs
		costs.Cuts = slices.Clone(costs.Cuts)
		costs.Cuts[0].Pieces = []pack.CutPiece{{WidthMm: lowered(t, c.width), LengthMm: lowered(t, "n2000"),
			Count: lowered(t, c.count), At: costs.Cuts[0].Pieces[0].At}}
		damaged.Costs = &costs
		broken, err := engine.Compile(&damaged)
		if err != nil {
			t.Fatal(err)
		}
		y := sheet.ForYard(broken, a, quote.Details{})
		pictures, err := sheet.CutPictures(broken, a.Build, drawing.Format{})
		if len(y.Cuts) != 2 || !strings.Contains(y.Cuts[0].Fault.String(), c.want) ||
			!strings.HasPrefix(y.Cuts[0].Fault.String(), "shelter/cuts.yaml:") {
			t.Errorf("width %s, count %s: %+v, want %q", c.width, c.count, y.Cuts, c.want)
		}
		if err != nil || len(pictures) != 1 { // of the upholstery
			t.Errorf("%d pictures, %v", len(pictures), err)
		}
		if _, err := broken.Answer(a.Spec); err == nil ||
			!strings.Contains(err.Error(), "computing the quantity at shelter/options.yaml:") ||
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("width %s, count %s: the cost fails with %v", c.width, c.count, err)
		}
	}
}

// The cut layouts are among the yard's pictures; the other desks have neither them nor the schedule.
func TestShopIsTheYardsAlone(t *testing.T) {
	for desk, e := range enginetest.Demo() {
		a := enginetest.Answer(t, e, spec.Spec{Format: spec.Format, Hull: "reed-65"})
		pictures, err := sheet.Pictures(e, a.Build)
		if err != nil {
			t.Fatal(err)
		}
		drawn := 0
		for _, p := range pictures {
			if strings.HasPrefix(p.ID, "cut-") && strings.Contains(p.SVG, "<svg") && strings.Contains(p.SVG, "waste") {
				drawn++
			}
		}
		if yard := desk == pack.Yard; (drawn > 0) != yard || (sheet.Laminates(e, a.Build) != nil) != yard {
			t.Errorf("%s: %d cut layouts, schedule %v", desk, drawn, sheet.Laminates(e, a.Build))
		}
	}
}

func lowered(t *testing.T, text string) formula.Program {
	t.Helper()
	p, err := formula.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

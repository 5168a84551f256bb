package publish_test

import (
	"math"
	"testing"

	"ribband/core/cutting"
	"ribband/core/pack"
)

// What the outlines of the demo book enclose is what its hulls say: foam, thread and hours go by these areas, and the
// cloth must not be for another seat. Covers and tops are above the areas of their openings by what they lap over. The
// areas are those of the finished lines, worked out here by the shoelace formula over chords.
func TestOutlinesEncloseWhatTheHullHas(t *testing.T) {
	packs, _ := demo()
	yard := packs[pack.Yard]
	for h := range yard.Hulls {
		hull := &yard.Hulls[h]
		field := func(name string) float64 {
			for i, f := range yard.HullFields {
				if f.ID == name {
					return hull.Fields[i]
				}
			}
			t.Fatal(name)
			return 0
		}
		area := finishedAreas(yard, h)
		for _, c := range []struct {
			what                        string
			area, want, short, generous float64
		}{
			{"seats", area["Side seat, starboard"] + area["Side seat, port"] + area["Aft seat"], field("seat_m2"), 0.05,
				0},
			{"backrests", 2 * area["Face of a backrest"], field("back_m2"), 0.03, 0},
			{"carpet", area["Carpet of the sole"], field("sole_m2"), 0.05, -0.02},
			{"roof", area["Roof"], field("top_m2"), 0, 0.06},
			{"front panes", 2 * area["Front pane"], field("end_window_m2"), 0.12, 0},
			{"side panes", 6 * area["Side pane"], field("side_window_m2"), 0.02, 0},
			{"aft panes", 2 * area["Aft pane"], field("aft_window_m2"), 0.12, 0},
		} {
			if over := c.area/c.want - 1; math.IsNaN(over) || over < -c.short || over > c.generous {
				t.Errorf("%s: the %s have %.2f m², the hull says %.2f", hull.ID, c.what, c.area, c.want)
			}
		}
		// port is the image of starboard, and not its copy
		if d := area["Side seat, starboard"] - area["Side seat, port"]; math.Abs(d) > 1e-6 {
			t.Errorf("%s: one side seat is %v m² larger", hull.ID, d)
		}
	}
}

// finishedAreas are the areas of the finished pieces of a hull at their first stock, by name, all panels together, m².
func finishedAreas(yard *pack.Pack, h int) map[string]float64 {
	areas := map[string]float64{}
	for i, cut := range yard.Costs.Cuts {
		if cut.ID == "panes-rigid" {
			continue // they have the names of the flexible ones
		}
		for j, piece := range cut.Pieces {
			if piece.Panels == nil {
				continue
			}
			for _, of := range yard.Work.Cuts[i].Shapes[j][h*len(cut.Stocks)] {
				line := of.Finished
				if line == nil {
					line = of.Cut
				}
				p := cutting.Placed{}
				polygon := p.Lie(line).Polygon(0.01)
				for k, v := range polygon {
					w := polygon[(k+1)%len(polygon)]
					areas[yard.Work.Cuts[i].Pieces[j]] += (v.X*w.Y - w.X*v.Y) / 2e6
				}
			}
		}
	}
	return areas
}

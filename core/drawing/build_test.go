package drawing_test

import (
	"strings"
	"testing"

	"ribband/core/drawing"
)

// What a supplier does has a lane of its own without hours: of how busy he is nobody knows. Who hears the page is told
// its weeks all the same.
func TestBuildWithOutsideWork(t *testing.T) {
	in := drawing.Build{Name: "Build", Weeks: []string{"W10", "W11", "W12", "W13"},
		Lanes: []drawing.BuildLane{{Title: "Frame shop", Loads: []drawing.BuildLoad{{Open: 40, Boat: 12}, {Open: 40},
			{Open: 40}, {Open: 40}}}, {Title: "Outside work"}},
		Tasks: []drawing.BuildTask{{From: 0.1, To: 0.4, Title: "Weld the frame"},
			{Lane: 1, From: 0.5, To: 2.2, Chain: true, Title: "Coat the frame"}}}
	draw := func(in drawing.Build) (string, error) {
		return in.SVG(drawing.Format{Width: 520, ID: "b"})
	}
	svg, err := draw(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Coat the frame", "Outside work W10 to W12", "Frame shop W10 to W10"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing has no %q", want)
		}
	}
	in.Lanes[1].Loads = make([]drawing.BuildLoad, 2)
	if _, err := draw(in); err == nil || !strings.Contains(err.Error(), "shop 2 has the load of 2 weeks, not of 4") {
		t.Errorf("loads of half of the weeks: %v", err)
	}
}

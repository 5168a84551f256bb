package drawing_test

import (
	"fmt"
	"testing"

	"ribband/core/drawing"
	"ribband/core/measure"
)

func TestDrawingsAreSound(t *testing.T) {
	for name, d := range cases(t) {
		for _, w := range []float64{320, 340, 390, 520, 720, 900, 1400} {
			for _, system := range []measure.System{measure.Sea, measure.USCustomary} {
				t.Run(fmt.Sprintf("%s at %v, %s", name, w, system), func(t *testing.T) {
					svg, err := d.SVG(drawing.Format{Width: w, System: system})
					if err != nil {
						t.Fatal(err)
					}
					apart(t, sound(t, svg))
					if again, _ := d.SVG(drawing.Format{Width: w, System: system}); again != svg {
						t.Error("drawn again, it differs")
					}
				})
			}
		}
	}
}

func TestIDsStandAlone(t *testing.T) {
	both := "<div>"
	for name, d := range cases(t) {
		for _, id := range []string{"a-" + name, "b-" + name} {
			svg, err := d.SVG(drawing.Format{ID: id})
			if err != nil {
				t.Fatal(err)
			}
			both += svg
		}
	}
	ids := map[string]bool{}
	for _, e := range parse(t, both+"</div>") {
		if id := e.attrs["id"]; id != "" {
			if ids[id] {
				t.Errorf("id %q is there twice on a page of all drawings", id)
			}
			ids[id] = true
		}
	}
}

func TestFormat(t *testing.T) {
	for _, f := range []drawing.Format{{Width: 319}, {Width: 2001}, {Width: -1}, {ID: "1st"}, {ID: `a"b`}, {ID: "a b"},
		{ID: "ä"}} {
		if _, err := masses().SVG(f); err == nil {
			t.Errorf("format %+v is taken", f)
		}
	}
}

package look_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
)

// No word of a picture stands in the code, on whatever boat: each comes from the files of languages or from the book.
func TestPicturesSpeakTheLanguageOfTheEngine(t *testing.T) {
	e := enginetest.InMarks(t, enginetest.Demo()[pack.Yard])
	drawn := map[string]int{}
	for name, s := range enginetest.DemoSpecs(t) {
		b := enginetest.Answer(t, e, s).Build
		for _, small := range []bool{false, true} {
			list, err := look.Drawn(e, b, measure.Sea, small, look.Profile, look.YardProfile, look.Plan,
				look.SectionsPicture,
				look.LeversPicture, look.MassesPicture, look.RangePicture, look.SolarPicture)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range list {
				if p.SVG != "" {
					drawn[p.ID]++
				}
				for _, found := range enginetest.Unmarked(enginetest.Perceived(p.SVG) + "\n" + p.Title) {
					t.Errorf("%s, %s: %s", name, p.ID, found)
				}
			}
		}
	}
	for _, id := range strings.Fields("profile plan sections levers masses range solar") {
		if drawn[id] == 0 {
			t.Errorf("no demo boat has the picture %s", id)
		}
	}
}
